// Command sillwright checks door thresholds and bottom seals. See the README.
package main

import (
	"context"
	"os"
	"os/signal"

	"sillwright/cmd/internal/cli"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(cli.Run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
