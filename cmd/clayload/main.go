// Clayload measures Clayline against the peers that its goals name, both in the same run on the same machine: the public
// class page against plain net/http sending the same bytes, and a stored distance against pgbench's plain transaction of
// four statements. It prints ratios, medians over alternating rounds with their spread; times of one machine say nothing
// about another.
//
//	go run ./cmd/clayload page
//	go run ./cmd/clayload store
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
	Page  pageCommand  `cmd:"" help:"The public class page against plain net/http with the same bytes."`
	Store storeCommand `cmd:"" help:"A stored distance against pgbench's plain transaction of four statements."`
}

// run does what the command line asks for, until it is done or ctx ends. Kong prints a wrong call and ends the program.
func run(ctx context.Context) error {
	command := kong.Parse(&commands{}, kong.Name("clayload"), kong.BindTo(ctx, (*context.Context)(nil)))
	return command.Run()
}

// clock is this program's clock. Differences of two of its times are monotonic, so that a clock that is set meanwhile
// does not matter.
func clock() time.Time { return time.Now() }
