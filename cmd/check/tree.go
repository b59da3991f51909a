package main

import (
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
)

// file is a text of the checkout.
type file struct {
	path string // relative to the root, with slashes
	text []byte
}

// folder returns the file's folder, "." for the top.
func (f file) folder() string { return path.Dir(f.path) }

// isGo tells whether the file is Go source, tests included.
func (f file) isGo() bool { return strings.HasSuffix(f.path, ".go") }

// isTest tells whether the file is a Go test.
func (f file) isTest() bool { return strings.HasSuffix(f.path, "_test.go") }

// isGenerated tells whether a program wrote the file, by the line that Go agreed on for this.
func (f file) isGenerated() bool {
	return regexp.MustCompile(`(?m)^// Code generated .* DO NOT EDIT\.$`).Match(f.text)
}

// readTree returns the files whose name ends in one of the suffixes, in the order of their paths. Like the go command
// it passes over folders that start with a dot or an underscore and over testdata, and over what npm brought.
func readTree(root string, suffixes ...string) ([]file, error) {
	var files []file
	err := filepath.WalkDir(root, func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() {
			if name != root && foreign(entry.Name()) {
				return filepath.SkipDir
			}
			return nil
		}
		if !hasSuffix(name, suffixes) {
			return nil
		}
		text, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		relative, err := filepath.Rel(root, name)
		files = append(files, file{path: filepath.ToSlash(relative), text: text})
		return err
	})
	return files, err
}

// foreign tells whether a folder of that name holds nothing that is written by hand here.
func foreign(name string) bool {
	return strings.HasPrefix(name, ".") || strings.HasPrefix(name, "_") ||
		name == "testdata" || name == "node_modules" || name == "vendor"
}

// hasSuffix tells whether the name ends in one of the suffixes.
func hasSuffix(name string, suffixes []string) bool {
	for _, suffix := range suffixes {
		if strings.HasSuffix(name, suffix) {
			return true
		}
	}
	return false
}
