package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
)

// toolsFile pins the linter and the generator. A file of its own keeps what they need out of the go.mod that says what
// the program is made of.
const toolsFile = "cmd/check/tools.mod"

// step is one thing that is checked. A step changes no file: whoever runs the check finds the tree as it was.
type step struct {
	name  string
	about string // what it makes sure of, for the heading
	needs []need
	do    func(ctx context.Context, b bench) error
}

// bench is where the steps work: the checkout, what the environment gets on top, where to print, how to run a command.
// A test gives one with a runner that starts nothing.
type bench struct {
	root string
	env  []string
	out  io.Writer
	run  runner
}

// goes runs the go command in the checkout.
func (b bench) goes(ctx context.Context, args ...string) error {
	return b.run(ctx, command{args: append([]string{"go"}, args...), folder: b.root, env: b.env})
}

// steps lists the steps in the order they run, the quick answers first. Tests come last because they take by far the
// longest.
func steps(quick bool) []step {
	all := []step{
		{name: "format", about: "files are as gofmt writes them", do: format},
		{name: "modules", about: "go.mod is tidy and the modules are as published", do: modules},
		{name: "vet", about: "go vet finds nothing", do: vet},
		{name: "generated", about: "generated files are fresh", do: generated},
	}
	if quick {
		return append(all, step{name: "tests", about: "all tests", needs: testNeeds(), do: quickTests})
	}
	return append(all,
		step{name: "lint", about: "the linter finds nothing", do: lint},
		step{name: "lighthouse", about: "a phone loads the public pages as it should", needs: []need{database(), browser(), node(), auditor()}, do: lighthouse},
		step{name: "tests", about: "all tests, with the race detector", needs: append(testNeeds(), compiler()), do: tests},
	)
}

// testNeeds are what the tests need, with or without the race detector.
func testNeeds() []need { return []need{database(), browser(), client(), java(), node(), validator()} }

// modules checks that go.mod and go.sum say what the program needs, and that what was downloaded is what was published.
func modules(ctx context.Context, b bench) error {
	if err := b.goes(ctx, "mod", "tidy", "-diff"); err != nil {
		return err
	}
	return b.goes(ctx, "mod", "verify")
}

// vet runs the vet of Go itself over all packages.
func vet(ctx context.Context, b bench) error { return b.goes(ctx, "vet", "./...") }

// lint runs the linter at the version that [toolsFile] pins: another version finds other things.
func lint(ctx context.Context, b bench) error {
	return b.goes(ctx, "tool", "-modfile="+toolsFile, "golangci-lint", "run")
}

// testTime bounds the tests of one package, on a machine that has other things to do too.
const testTime = "-timeout=30m"

// tests runs all tests anew with the race detector. A result from the cache would say nothing about a test that fails
// at times.
func tests(ctx context.Context, b bench) error {
	return b.goes(ctx, "test", "-race", "-count=1", testTime, "./...")
}

// quickTests runs all tests, and takes results of packages that have not changed from the cache.
func quickTests(ctx context.Context, b bench) error { return b.goes(ctx, "test", testTime, "./...") }

// names lists the steps' names. They are what -only takes.
func names(all []step) []string {
	list := make([]string, len(all))
	for i, s := range all {
		list[i] = s.name
	}
	return list
}

// choose returns the one step of that name, and all of them for "". A name that is none is refused with those there are
// in this run, which a quick one has fewer of.
func choose(all []step, only string) ([]step, error) {
	if only == "" {
		return all, nil
	}
	i := slices.IndexFunc(all, func(s step) bool { return s.name == only })
	if i < 0 {
		return nil, fmt.Errorf("there is no step %q in this run; choose one of %s", only, strings.Join(names(all), ", "))
	}
	return all[i : i+1], nil
}

// outcome is how a step ended. A nil err says that it passed.
type outcome struct {
	name string
	err  error
	took time.Duration
}

// runSteps runs all the steps, also after one that failed, so that one run shows everything there is to mend. It stops
// early only when ctx is done. It prints a summary and returns an error that names the steps that failed.
func runSteps(ctx context.Context, b bench, chosen []step) error {
	var outcomes []outcome
	for _, s := range chosen {
		fmt.Fprintf(b.out, "\n== %s: %s\n", s.name, s.about)
		start := time.Now()
		err := s.do(ctx, b)
		took := time.Since(start)
		if ctx.Err() != nil {
			return fmt.Errorf("stopped in step %s: %w", s.name, ctx.Err())
		}
		if err != nil {
			fmt.Fprintln(b.out, err)
		}
		fmt.Fprintf(b.out, "-- %s %s after %s\n", s.name, word(err), seconds(took))
		outcomes = append(outcomes, outcome{name: s.name, err: err, took: took})
	}
	return summarize(b.out, outcomes)
}

// summarize prints the closing table. It returns the names of those that failed as an error, nil for none:
//
//	format     passed      0.3 s
//	lint       FAILED     35.2 s
//	total      1 of 2     35.5 s
func summarize(out io.Writer, outcomes []outcome) error {
	var total time.Duration
	var failed []string
	fmt.Fprintf(out, "\n== summary\n")
	for _, o := range outcomes {
		fmt.Fprintf(out, "%-10s %-7s %9s\n", o.name, word(o.err), seconds(o.took))
		total += o.took
		if o.err != nil {
			failed = append(failed, o.name)
		}
	}
	fmt.Fprintf(out, "%-10s %-7s %9s\n", "total", fmt.Sprintf("%d of %d", len(outcomes)-len(failed), len(outcomes)), seconds(total))
	if len(failed) > 0 {
		return fmt.Errorf("failed: %s; mend what is printed above under each heading", strings.Join(failed, ", "))
	}
	return nil
}

// word is how a step's end reads.
func word(err error) string {
	if err != nil {
		return "FAILED"
	}
	return "passed"
}

// seconds writes a duration to the tenth of a second.
func seconds(d time.Duration) string { return fmt.Sprintf("%.1f s", d.Seconds()) }
