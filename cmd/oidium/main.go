package main

import (
	"context"
	"os"
	"os/signal"
	_ "time/tzdata" // zones where the machine has none

	"oidium/internal/command"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(command.Run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
