package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"time"
)

// patience is how long an interrupted command may take to end before it is killed.
const patience = 10 * time.Second

// command is a program with its arguments, the folder it runs in ("" is the current one) and what it gets on top of the
// environment.
type command struct {
	args   []string
	folder string
	env    []string
	quiet  bool // what it prints is of no interest
}

// String returns the command as one would type it.
func (c command) String() string { return strings.Join(c.args, " ") }

// runner runs a command to its end and returns why it failed.
type runner func(ctx context.Context, c command) error

// system returns the runner that starts real processes, without standard input, and passes their output on while it
// comes. A context that ends interrupts the process first, so that go test can end what it started.
func system(out, errOut io.Writer) runner {
	return func(ctx context.Context, c command) error {
		process := exec.CommandContext(ctx, c.args[0], c.args[1:]...)
		process.Dir = c.folder
		process.Env = append(os.Environ(), c.env...)
		process.Cancel = func() error { return process.Process.Signal(os.Interrupt) }
		process.WaitDelay = patience
		if !c.quiet {
			process.Stdout, process.Stderr = out, errOut
		}
		if err := process.Run(); err != nil {
			return fmt.Errorf("%s: %w", c, err)
		}
		return nil
	}
}
