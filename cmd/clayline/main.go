// Clayline runs a truck and tractor pull: the draw, the hook order, the sled setting, every measured distance, the
// pull-offs and the results. This command is the program; it wires the rooms together and knows nothing else.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/alecthomas/kong"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	status := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(status)
}

// Exit statuses: the work was done, the work went wrong, the call cannot be understood.
const (
	statusDone  = 0
	statusWrong = 1
	statusCall  = 2
)

// streams are where a command reads and writes.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// commands is the command line.
type commands struct {
	Serve serveCommand `cmd:"" help:"Serve events from a database, by default the program's own private PostgreSQL."`
	Demo  demoCommand  `cmd:"" help:"Serve an invented two-day event to try everything on."`
	Score scoreCommand `cmd:"" help:"Rank a class that was pulled on paper, without any server."`
}

// run runs one command and returns the exit status.
func run(ctx context.Context, args []string, in io.Reader, out, errs io.Writer) int {
	helped := false
	parser, err := kong.New(&commands{},
		kong.Name("clayline"),
		kong.Description("Event results and hook scheduling for truck and tractor pulls."),
		kong.Writers(out, errs),
		kong.Exit(func(int) { helped = true }),
		kong.BindTo(ctx, (*context.Context)(nil)),
		kong.Bind(streams{in: in, out: out, err: errs}),
	)
	if err != nil {
		return report(errs, err, statusCall)
	}
	command, err := parser.Parse(args)
	switch {
	case helped:
		return statusDone
	case err != nil:
		return report(errs, fmt.Errorf("%w\nTry clayline --help", err), statusCall)
	}
	err = command.Run()
	if _, wrongCall := errors.AsType[*callError](err); wrongCall {
		return report(errs, err, statusCall)
	}
	return report(errs, err, statusWrong)
}

// report says what went wrong, if anything did, and returns the exit status.
func report(errs io.Writer, err error, status int) int {
	if err == nil {
		return statusDone
	}
	fmt.Fprintln(errs, "clayline:", err)
	return status
}

// callError marks a call that names something which is not there.
type callError struct{ cause error }

func (e *callError) Error() string { return e.cause.Error() }

func (e *callError) Unwrap() error { return e.cause }
