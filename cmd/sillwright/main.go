// Command sillwright checks door thresholds and bottom seals. See the README.
package main

import (
	"context"
	"os"

	"sillwright/cmd/internal/cli"
)

func main() {
	os.Exit(cli.Run(context.Background(), os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
