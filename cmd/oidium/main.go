// Command oidium says each morning where powdery mildew is likely in a garden,
// which leaves to look at, and what to do or to leave.
package main

import (
	"context"
	"os"
	"os/signal"

	"oidium/internal/command"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(command.Run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
