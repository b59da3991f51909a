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

// patience is how long an interrupted command may take to end before it is killed. A test run then has the time to end
// its databases.
const patience = 10 * time.Second

// command is a program with its arguments, the folder it runs in ("" is the current one) and what it gets on top of the
// environment.
type command struct {
	args   []string
	folder string
	env    []string
	quiet  bool // what it prints is of no interest
}

// String returns the command as one would type it, without quotes: no argument of ours has a space.
func (c command) String() string { return strings.Join(c.args, " ") }

// runner runs a command to its end and returns why it failed. Tests give one that notes what it was asked and starts
// nothing.
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
