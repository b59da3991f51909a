package main

import (
	"bytes"
	"context"
	"fmt"
	goformat "go/format"
)

// format checks that every Go file is as gofmt writes it. It uses gofmt's own package, since the program may not be on
// PATH. Generated files are left to their generator: the step "generated" sees to it that they are what it writes. A
// file that cannot be parsed is wrong as well, and its error is printed beside its name.
func format(_ context.Context, b bench) error {
	files, err := readTree(b.root, ".go")
	if err != nil {
		return err
	}
	wrong := 0
	for _, f := range files {
		if f.isGenerated() {
			continue
		}
		formatted, err := goformat.Source(f.text)
		if err == nil && bytes.Equal(formatted, f.text) {
			continue
		}
		wrong++
		if err != nil {
			fmt.Fprintf(b.out, "%s: %v\n", f.path, err)
			continue
		}
		fmt.Fprintln(b.out, f.path)
	}
	if wrong > 0 {
		return fmt.Errorf("%d of %d files are not as gofmt writes them; run gofmt -w on those above", wrong, len(files))
	}
	return nil
}
