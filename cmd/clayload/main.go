// Clayload measures Clayline against the peers that its goals name, both in the same run on the same machine: the public
// class page against plain net/http and nginx sending the same bytes, a stored distance against pgbench's plain transaction of
// four statements, and a change told to waiting phones against the same bytes over bare connections. It prints ratios, medians over alternating rounds with their spread; times of one machine say nothing
// about another.
//
//	go run ./cmd/clayload page
//	go run ./cmd/clayload store
//	go run ./cmd/clayload stream
//
// It talks to nothing but servers that it starts itself on this machine, and stops by itself.
package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"time"

	"github.com/alecthomas/kong"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx); err != nil {
		fmt.Fprintln(os.Stderr, "clayload:", err)
		os.Exit(1)
	}
}

// commands is the command line.
type commands struct {
	Page   pageCommand   `cmd:"" help:"The public class page against plain net/http and nginx with the same bytes."`
	Store  storeCommand  `cmd:"" help:"A stored distance against pgbench's plain transaction of four statements."`
	Stream streamCommand `cmd:"" help:"A change told to waiting phones against the same bytes over bare connections."`
	Teller tellerCommand `cmd:"" hidden:"" help:"The peer of stream, which starts it."`
}

// run does what the command line asks for, until it is done or ctx ends. Kong prints a wrong call and ends the program.
func run(ctx context.Context) error {
	command := kong.Parse(&commands{}, kong.Name("clayload"), kong.BindTo(ctx, (*context.Context)(nil)))
	return command.Run()
}

// clock is this program's clock. Differences of two of its times are monotonic, so that a clock that is set meanwhile
// does not matter.
func clock() time.Time { return time.Now() }
