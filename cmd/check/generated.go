package main

import (
	"context"
	"errors"
	"fmt"
	"strings"
)

// The two ends of a page's name: what is written by hand and what templ makes of it.
const (
	pageSuffix = ".templ"
	codeSuffix = "_templ.go"
)

// moduleFolder holds the program that is compiled for the browser. It knows itself what it is made of.
const moduleFolder = "./cmd/boothmodule"

// generated checks that each page's Go code is what templ makes of it now, that no code outlived its page, and that what the
// booth loads into the browser is not older than what it is made of. It changes no file.
func generated(ctx context.Context, b bench) error {
	files, err := readTree(b.root, pageSuffix, codeSuffix)
	if err != nil {
		return err
	}
	if orphans := orphans(files); len(orphans) > 0 {
		return fmt.Errorf("these were generated from pages that no longer exist; delete them: %s", strings.Join(orphans, ", "))
	}
	if len(files) == 0 {
		return nil
	}
	// Without -keep-orphaned-files templ would delete files even when it only checks.
	err = b.goes(ctx, "tool", "-modfile="+toolsFile, "templ", "generate", "-check", "-keep-orphaned-files")
	if err != nil {
		err = errors.Join(err, errors.New("generate anew, at the top of the tree because the pages' paths go into the code, with: go tool -modfile="+toolsFile+" templ generate"))
	}
	return errors.Join(err, b.goes(ctx, "run", moduleFolder, "-check"))
}

// orphans lists the generated files without the page they were made from. Go would go on compiling them, and nobody
// would find where the page is written: event_templ.go without event.templ.
func orphans(files []file) []string {
	pages := map[string]bool{}
	for _, f := range files {
		if page, ok := strings.CutSuffix(f.path, pageSuffix); ok {
			pages[page] = true
		}
	}
	var list []string
	for _, f := range files {
		if page, ok := strings.CutSuffix(f.path, codeSuffix); ok && !pages[page] {
			list = append(list, f.path)
		}
	}
	return list
}
