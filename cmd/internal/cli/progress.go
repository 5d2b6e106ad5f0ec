package cli

import (
	"fmt"
	"io"
	"os"
	"sync"
	"sync/atomic"
	"time"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
	"golang.org/x/term"
)

// quickly is how long a run takes without a word of how far it is.
const quickly = 2 * time.Second

// progress tells on a terminal how far a long run is. Where there is none, or the report scrolls by on it, it tells nothing.
// What is written to it goes to standard error, and above its line while that is shown.
type progress struct {
	err   io.Writer
	doors atomic.Int64
	held  atomic.Int64
	began time.Time

	mu    sync.Mutex
	later *time.Timer
	all   *mpb.Progress // nil: not shown
	bar   *mpb.Bar
	over  bool
}

// newProgress begins to tell, if the report does not come out on a terminal itself as the run goes on.
func newProgress(s streams, reportScrolls bool) *progress {
	p := &progress{err: s.err, began: time.Now()}
	if f, ok := s.err.(*os.File); ok && !reportScrolls && term.IsTerminal(int(f.Fd())) && os.Getenv("TERM") != "dumb" {
		p.later = time.AfterFunc(quickly, p.show)
	}
	return p
}

func (p *progress) show() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.over {
		return
	}
	p.all = mpb.New(mpb.WithOutput(p.err), mpb.WithRefreshRate(time.Second/4))
	p.bar = p.all.New(0, mpb.NopStyle(), mpb.BarRemoveOnComplete(), mpb.PrependDecorators(decor.Any(func(decor.Statistics) string { return p.line(time.Since(p.began)) })))
}

// Write writes a message, whole lines.
func (p *progress) Write(b []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.all != nil {
		return p.all.Write(b)
	}
	return p.err.Write(b)
}

// stop takes the line away.
func (p *progress) stop() {
	if p.later == nil {
		return
	}
	p.later.Stop()
	p.mu.Lock()
	defer p.mu.Unlock()
	p.over = true
	if p.all != nil {
		p.bar.Abort(true)
		p.all.Wait()
		p.all = nil
	}
}

// line says how far a run is.
func (p *progress) line(since time.Duration) string {
	doors := p.doors.Load()
	rate := float64(doors) / max(since.Seconds(), 1e-9)
	return fmt.Sprintf("doors: %d, %.3g a second; cannot be ordered so far: %d", doors, rate, p.held.Load())
}

// door counts one.
func (p *progress) door(canOrder bool) {
	p.doors.Add(1)
	if !canOrder {
		p.held.Add(1)
	}
}

// scrolls says whether a report is seen on a terminal as it comes.
func scrolls(s streams, output string, waits bool) bool {
	f, ok := s.out.(*os.File)
	return ok && output == "" && !waits && term.IsTerminal(int(f.Fd()))
}
