// Command check is the one command before a change is sent:
//
//	go run ./cmd/check
//
// It needs nothing but Go. First it looks for what the tests use beside Go (PostgreSQL's server programs, Chromium, a C
// compiler for the race detector, Java and Node.js for what looks at pages); as root on Debian or Ubuntu it installs what
// is missing, elsewhere it says what to install and stops, so that no test is ever skipped in silence. What it has from npm
// it fetches into the user's cache. Then it runs its steps one after the other, all of
// them even when one fails, and closes with a table of what passed and how long it took.
//
//	go run ./cmd/check -quick        the steps without linter and race detector, cached test results allowed
//	go run ./cmd/check -only lint    one step by its name
//	go run ./cmd/check -yardstick    no step: the measures of the tree, printed
//
// The package imports the standard library alone, because it must build before anything has been downloaded. The linter
// and the generator it calls are pinned in tools.mod beside it.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
)

func main() {
	if err := run(context.Background(), os.Args[1:], os.Stdout, os.Stderr); err != nil {
		fmt.Fprintln(os.Stderr, "check:", err)
		os.Exit(1)
	}
}

// options are what the command line asks for. Without any of them all steps run, as they do before a change is sent.
type options struct {
	quick     bool
	only      string
	yardstick bool
}

// run does what the arguments ask for and returns why it failed. An interrupt or a termination signal ends the running
// step and with it the run.
func run(ctx context.Context, args []string, out, errOut io.Writer) error {
	asked, err := parse(args, errOut)
	if errors.Is(err, flag.ErrHelp) {
		return nil
	}
	if err != nil {
		return err
	}
	root, err := findRoot(".")
	if err != nil {
		return err
	}
	if asked.yardstick {
		return printYardstick(root, out)
	}
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	defer stop()
	return check(ctx, root, asked, thisMachine(out, errOut))
}

// check looks for what the chosen steps need, then runs them. Needs are looked for first, since a test that lacks its
// database after five minutes has cost five minutes.
func check(ctx context.Context, root string, asked options, m machine) error {
	chosen, err := choose(steps(asked.quick), asked.only)
	if err != nil {
		return err
	}
	env, err := m.provide(ctx, needsOf(chosen))
	if err != nil {
		return err
	}
	return runSteps(ctx, bench{root: root, env: env, out: m.out, run: m.run}, chosen)
}

// parse reads the command line; it says on errOut what it did not understand. Words that are no options are refused:
// "check lint" would otherwise run everything. Asking for help gives [flag.ErrHelp].
func parse(args []string, errOut io.Writer) (options, error) {
	var asked options
	flags := flag.NewFlagSet("check", flag.ContinueOnError)
	flags.SetOutput(errOut)
	flags.BoolVar(&asked.quick, "quick", false, "leave out the linter and the race detector, accept cached test results")
	flags.StringVar(&asked.only, "only", "", "run one step: "+strings.Join(names(steps(false)), ", "))
	flags.BoolVar(&asked.yardstick, "yardstick", false, "print the measures of the tree and run no step")
	if err := flags.Parse(args); err != nil {
		return options{}, err
	}
	if flags.NArg() > 0 {
		return options{}, fmt.Errorf("%q is no option; run with -help to see what there is", flags.Arg(0))
	}
	return asked, nil
}

// findRoot returns the nearest folder at or above start that holds a go.mod. So the command can be given anywhere in
// the checkout.
func findRoot(start string) (string, error) {
	folder, err := filepath.Abs(start)
	if err != nil {
		return "", err
	}
	for {
		if _, err := os.Stat(filepath.Join(folder, "go.mod")); err == nil {
			return folder, nil
		}
		parent := filepath.Dir(folder)
		if parent == folder {
			return "", errors.New("there is no go.mod here or above; run this inside the checkout")
		}
		folder = parent
	}
}

// thisMachine is the machine the command runs on.
func thisMachine(out, errOut io.Writer) machine {
	return machine{
		env:   os.Getenv,
		look:  exec.LookPath,
		glob:  filepath.Glob,
		uid:   os.Getuid(),
		cache: os.UserCacheDir,
		run:   system(out, errOut),
		out:   out,
	}
}
