// Command sillwright checks door thresholds and bottom seals. See the README.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"sillwright/cmd/internal/cli"
	"sillwright/cmd/internal/confined"
)

// room is how much memory is taken before what is no longer needed is looked for more often, and spare how much, in per cent
// of what is in use, is taken within it before it is looked for at all. GOMEMLIMIT and GOGC set others.
const (
	room  = 110 << 20
	spare = 200
)

func main() {
	if len(os.Args) == 2 && os.Args[1] == confined.Argument {
		confined.Serve()
	}
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(room)
	}
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(spare)
	}
	// A signal ends the run at the next document, with nothing left behind; a second one ends it at once.
	ends := []os.Signal{syscall.SIGTERM}
	for _, s := range []os.Signal{os.Interrupt, syscall.SIGHUP} {
		if !signal.Ignored(s) { // as nohup and a shell's background jobs want it
			ends = append(ends, s)
		}
	}
	ctx, stop := signal.NotifyContext(context.Background(), ends...)
	context.AfterFunc(ctx, stop)
	signal.Ignore(syscall.SIGPIPE) // a reader that goes away is an error of writing, after which the run still cleans up
	os.Exit(cli.Run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
