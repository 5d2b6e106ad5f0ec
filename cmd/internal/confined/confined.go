// Package confined runs questions that a user has written in a process of their own, with bounds on its time and memory: the Rego library
// can end an evaluation that takes long, and none that takes memory. The process is the program itself, started with Argument.
// It gets no environment and no file but its two pipes; what it evaluates has no function that could reach more.
package confined

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"runtime/debug"
	"runtime/metrics"
	"sync"
	"time"

	"sillwright/policies"
)

// Argument is the only one of a process that is to serve.
const Argument = "--confined"

// Bounds are what one answer may take.
type Bounds struct {
	Time   time.Duration
	Memory uint64 // bytes, of the whole process
}

// Usual are the bounds of a run. A rule takes a millisecond and the process some 60 MB; these are for a slow and busy machine.
var Usual = Bounds{Time: 10 * time.Second, Memory: 512 << 20}

// memoryEnv tells the process its bound of memory.
const memoryEnv = "SILLWRIGHT_CONFINED_MEMORY"

// overMemory is the exit code of a process that took more memory than its bound.
const overMemory = 9

// Serve is the process. It never returns.
func Serve() {
	most := Usual.Memory
	if _, err := fmt.Sscan(os.Getenv(memoryEnv), &most); err != nil {
		most = Usual.Memory
	}
	os.Clearenv()
	confine(most)
	debug.SetMemoryLimit(int64(most / 2))
	go watch(most)
	if err := policies.Confine(os.Stdin, os.Stdout); err != nil {
		os.Exit(1)
	}
	os.Exit(0)
}

// watch ends the process when it takes too much memory, wherever the system itself does not, and when the one that started it has gone.
func watch(most uint64) {
	parent := os.Getppid()
	sample := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
	for {
		metrics.Read(sample)
		if sample[0].Value.Uint64()-sample[1].Value.Uint64() > most {
			os.Exit(overMemory)
		}
		if os.Getppid() != parent {
			os.Exit(0)
		}
		time.Sleep(5 * time.Millisecond)
	}
}

// Start gives what starts the process.
func Start(b Bounds) func() (policies.Confined, error) {
	return func() (policies.Confined, error) {
		self, err := os.Executable()
		if err != nil {
			return nil, err
		}
		p := &process{bounds: b, cmd: exec.Command(self, Argument)}
		p.cmd.Env = []string{fmt.Sprintf("%s=%d", memoryEnv, b.Memory)}
		p.cmd.Dir = os.TempDir()
		if p.in, err = p.cmd.StdinPipe(); err != nil {
			return nil, err
		}
		out, err := p.cmd.StdoutPipe()
		if err != nil {
			return nil, err
		}
		p.out = bufio.NewReader(out)
		return p, p.cmd.Start()
	}
}

type process struct {
	bounds Bounds
	cmd    *exec.Cmd
	in     io.WriteCloser
	out    *bufio.Reader
	once   sync.Once
}

// mostAnswer is more than any answer holds.
const mostAnswer = 4 << 20

// Ask gives the answer to a line, or ends the process.
func (p *process) Ask(line []byte) ([]byte, error) {
	type reply struct {
		line []byte
		err  error
	}
	got := make(chan reply, 1)
	go func() {
		if _, err := p.in.Write(line); err != nil {
			got <- reply{nil, err}
			return
		}
		text, err := p.readLine()
		got <- reply{text, err}
	}()
	late := time.NewTimer(p.bounds.Time)
	defer late.Stop()
	select {
	case r := <-got:
		if r.err == nil {
			return r.line, nil
		}
		p.Close()
		if errors.Is(r.err, errLong) {
			return nil, r.err
		}
		return nil, p.why()
	case <-late.C:
		p.end(0)
		return nil, fmt.Errorf("it took more than %s", p.bounds.Time)
	}
}

var errLong = fmt.Errorf("its answer is longer than %d MB", mostAnswer>>20)

func (p *process) readLine() ([]byte, error) {
	var out []byte
	for {
		part, err := p.out.ReadSlice('\n')
		out = append(out, part...)
		switch {
		case len(out) > mostAnswer:
			return nil, errLong
		case err == nil:
			return out, nil
		case !errors.Is(err, bufio.ErrBufferFull):
			return nil, err
		}
	}
}

// why says in words why the process ended by itself: by its own watch, by the runtime that the system refused memory, or by the system.
func (p *process) why() error {
	state := p.cmd.ProcessState
	if state == nil || state.ExitCode() == 1 {
		return errors.New("its process ended")
	}
	return fmt.Errorf("it took more than %d MB of memory", p.bounds.Memory>>20)
}

// Close ends the process, if it has not ended.
func (p *process) Close() { p.end(2 * time.Second) }

// end lets the process end with its input for a while, and then kills it.
func (p *process) end(grace time.Duration) {
	p.once.Do(func() {
		p.in.Close()
		done := make(chan struct{})
		go func() {
			_ = p.cmd.Wait() // its end is told by its state
			close(done)
		}()
		select {
		case <-done:
		case <-time.After(grace): // it is at work
			_ = p.cmd.Process.Kill() // it may have ended just now
			<-done
		}
	})
}
