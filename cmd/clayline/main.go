// Clayline runs a truck and tractor pull: the draw, the hook order, the sled setting, every measured distance,
// the pull-offs and the results. This command is the program; it wires the rooms together and knows nothing
// else.
//
//	clayline serve                         the program's own PostgreSQL, in its data folder
//	clayline serve --database-url URL      a PostgreSQL that is there already
//	clayline demo                          an invented event, to try everything on
//	clayline score --rules NAME SHEET.csv  rank a class pulled on paper; no server, no database
//	clayline score --season SEASON.json    add many classes up to a season
//	clayline sled JOB.json                 estimate what a sled's setting does; no server, no database
//	clayline programme FILE.json           put the classes of a day in order; no server, no database
//	clayline draw verify PROOF.json        draw a published order again
//	clayline gallery                       every page in every state, to look at
//
// What is wrong with a call, and what to do about it, is said on standard error in one sentence.
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

// main hands over everything that belongs to the process; [run] can be called by a test.
func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	status := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(status)
}

// Exit statuses: the work was done, the work went wrong, the call cannot be understood. Scripts tell by them
// whether a sheet or the way it was called has to be mended.
const (
	statusDone  = 0
	statusWrong = 1
	statusCall  = 2
)

// streams are where a command reads and writes. Results go to out; warnings, errors and the log go to err, so
// that a result can be piped on.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// commands is the command line. Each field is a command with its flags; its Run is bound to the context and the
// streams.
type commands struct {
	Serve     serveCommand     `cmd:"" help:"Serve events from a database, by default the program's own private PostgreSQL."`
	Demo      demoCommand      `cmd:"" help:"Serve an invented two-day event to try everything on."`
	Score     scoreCommand     `cmd:"" help:"Rank a class that was pulled on paper, without any server."`
	Rules     rulesCommand     `cmd:"" help:"List, show, check and compare rule sets."`
	Sled      sledCommand      `cmd:"" help:"Estimate what a sled's setting does, for its operator."`
	Programme programmeCommand `cmd:"" help:"Put the classes of a programme in an order that costs little time, without any server."`
	Draw      drawCommand      `cmd:"" help:"Draw the order of a class, or prove a draw, without any server."`
	Gallery   galleryCommand   `cmd:"" help:"Serve every page in every state with made-up data, to look at."`
}

// run runs one command and returns the exit status. It ends when the command does, or soon after ctx. Asking
// for help is no error.
func run(ctx context.Context, args []string, in io.Reader, out, errs io.Writer) int {
	// The parser would end the process after printing its help; run must return.
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

// report says what went wrong, if anything did, and returns the exit status: the given one for an error, else
// done.
func report(errs io.Writer, err error, status int) int {
	if err == nil {
		return statusDone
	}
	fmt.Fprintln(errs, "clayline:", err)
	return status
}

// callError marks a call that names something which is not there, such as a file or a rule set: the call has to
// be changed, not the sheet.
type callError struct{ cause error }

// Error returns the cause's words.
func (e *callError) Error() string { return e.cause.Error() }

// Unwrap returns the cause.
func (e *callError) Unwrap() error { return e.cause }
