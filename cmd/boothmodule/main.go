//go:build !js

// Boothmodule is what the booth and the cab load into the browser to go on when the server cannot be reached: the domain's
// own decisions and the server's own pages, compiled to WebAssembly. Nothing is ranked, read or refused by a second
// implementation.
//
//	go run ./cmd/boothmodule -write       compiles it anew to webui/static/booth.wasm.gz
//	go run ./cmd/boothmodule -check       fails where it is older than what it is made of
//	go run ./cmd/boothmodule < QUESTION   answers one question of the page here, to look at it; -language de in German
//
// A question and its answer are JSON; see [question] and [reply].
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"

	"clayline/domain/doc"
	"clayline/webui/language"
)

func main() {
	if err := run(context.Background(), os.Args[1:], os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "boothmodule:", err)
		os.Exit(1)
	}
}

// run does what the arguments ask for, at the top of the tree; without any it answers the question that is read.
func run(ctx context.Context, args []string, in io.Reader, out io.Writer) error {
	flags := flag.NewFlagSet("boothmodule", flag.ContinueOnError)
	writes := flags.Bool("write", false, "compile the module anew")
	tag := flags.String("language", "en", "answer in this language")
	checks := flags.Bool("check", false, "fail where the module is older than what it is made of")
	if err := flags.Parse(args); err != nil {
		return err
	}
	root, err := os.Getwd()
	switch {
	case err != nil:
		return err
	case *writes:
		return write(ctx, root, out)
	case *checks:
		return check(ctx, root)
	}
	asked, err := io.ReadAll(in)
	if err != nil {
		return err
	}
	l, known := language.Find(*tag)
	switch {
	case known:
		ctx = language.With(ctx, l)
	case *tag != l.Tag():
		return fmt.Errorf("there is no language %q", *tag)
	}
	// This machine has a table of time zones.
	_, err = fmt.Fprintf(out, "%s\n", answer(ctx, asked, func(*doc.ClassCopy) {}))
	return err
}
