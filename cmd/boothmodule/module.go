//go:build !js

package main

import (
	"bytes"
	"cmp"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"go/parser"
	"go/printer"
	"go/token"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// Where the module and what belongs to it are, from the top of the tree.
const (
	moduleFile  = "webui/static/booth.wasm.gz"
	sumFile     = "webui/static/booth.wasm.sum"
	glueFile    = "webui/static/vendor/wasm_exec.js"
	licenceFile = "webui/static/vendor/wasm_exec.LICENSE"
)

// renew is the command that compiles the module anew.
const renew = "go run ./cmd/boothmodule -write"

// goList is what is asked of go list about a package.
type goList struct {
	Dir, ImportPath     string
	Standard            bool
	GoFiles, EmbedFiles []string
	Module              *struct {
		Path, Version string
		Main          bool
	}
}

// goes runs the go command for the browser at the top of the tree and returns what it printed.
func goes(ctx context.Context, root string, args ...string) ([]byte, error) {
	process := exec.CommandContext(ctx, "go", args...)
	process.Dir = root
	process.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=-mod=readonly")
	process.Stderr = os.Stderr
	out, err := process.Output()
	if err != nil {
		return nil, fmt.Errorf("go %s: %w", strings.Join(args, " "), err)
	}
	return out, nil
}

// sums lists what the module is made of, one line each with its hash: our own files that are compiled into it, and the
// modules of others with their versions. Comments are not in the hashes, since they change nothing in the module.
//
//	1f0c…  domain/class.go
//	module github.com/google/uuid v1.6.0
func sums(ctx context.Context, root string) (string, error) {
	out, err := goes(ctx, root, "list", "-deps", "-json=Dir,ImportPath,Standard,GoFiles,EmbedFiles,Module", "./cmd/boothmodule")
	if err != nil {
		return "", err
	}
	var lines []string
	for decoder := json.NewDecoder(bytes.NewReader(out)); decoder.More(); {
		var p goList
		if err := decoder.Decode(&p); err != nil {
			return "", fmt.Errorf("reading what go list says: %w", err)
		}
		switch {
		case p.Standard:
		case p.Module == nil || !p.Module.Main:
			lines = append(lines, "module "+p.Module.Path+" "+p.Module.Version)
		default:
			for _, name := range slices.Concat(p.GoFiles, p.EmbedFiles) {
				line, err := sum(root, filepath.Join(p.Dir, name))
				if err != nil {
					return "", err
				}
				lines = append(lines, line)
			}
		}
	}
	slices.SortFunc(lines, func(a, b string) int { return cmp.Compare(last(a), last(b)) })
	return strings.Join(slices.Compact(lines), "\n") + "\n", nil
}

// last returns what stands behind the first gap of a line: the file or the module.
func last(line string) string {
	_, name, _ := strings.Cut(line, " ")
	return strings.TrimSpace(name)
}

// sum returns the line of one file.
func sum(root, path string) (string, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return "", err
	}
	if strings.HasSuffix(path, ".go") {
		if text, err = bare(path, text); err != nil {
			return "", err
		}
	}
	whole, err := filepath.Abs(root)
	if err != nil {
		return "", err
	}
	name, err := filepath.Rel(whole, path)
	return fmt.Sprintf("%x  %s", sha256.Sum256(text), filepath.ToSlash(name)), err
}

// bare returns Go source without its comments and its gaps.
func bare(path string, text []byte) ([]byte, error) {
	files := token.NewFileSet()
	parsed, err := parser.ParseFile(files, path, text, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if err := (&printer.Config{Mode: printer.RawFormat}).Fprint(&out, files, parsed); err != nil {
		return nil, err
	}
	return bytes.ReplaceAll(out.Bytes(), []byte("\n\n"), []byte("\n")), nil
}

// check fails where the module is not made of what is in the tree now, and names some of what differs.
func check(ctx context.Context, root string) error {
	now, err := sums(ctx, root)
	if err != nil {
		return err
	}
	was, err := os.ReadFile(filepath.Join(root, sumFile))
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	if now == string(was) {
		return nil
	}
	return fmt.Errorf("the module of the booth is older than what it is made of (%s); compile it anew with: %s", differing(string(was), now), renew)
}

// differing names what is in only one of two lists, three at most.
func differing(was, now string) string {
	var names []string
	add := func(list, other string) {
		for line := range strings.Lines(list) {
			if name := last(strings.TrimSpace(line)); !strings.Contains(other, line) && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	add(now, was)
	add(was, now)
	if len(names) > 3 {
		return strings.Join(names[:3], ", ") + " and others"
	}
	return strings.Join(names, ", ")
}

// write compiles the module, packs it, and takes the glue of the same Go beside it, with its licence.
func write(ctx context.Context, root string, out io.Writer) error {
	dir, err := os.MkdirTemp("", "boothmodule")
	if err != nil {
		return err
	}
	defer func() { _ = os.RemoveAll(dir) }()
	compiled := filepath.Join(dir, "booth.wasm")
	if _, err := goes(ctx, root, "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-o", compiled, "./cmd/boothmodule"); err != nil {
		return err
	}
	now, err := sums(ctx, root)
	if err != nil {
		return err
	}
	body, err := os.ReadFile(compiled)
	if err != nil {
		return err
	}
	packed, err := pack(body)
	if err != nil {
		return err
	}
	home, err := goes(ctx, root, "env", "GOROOT")
	if err != nil {
		return err
	}
	from := strings.TrimSpace(string(home))
	err = errors.Join(
		os.WriteFile(filepath.Join(root, moduleFile), packed, 0o644),
		os.WriteFile(filepath.Join(root, sumFile), []byte(now), 0o644),
		copyFile(filepath.Join(from, "lib", "wasm", "wasm_exec.js"), filepath.Join(root, glueFile)),
		copyFile(filepath.Join(from, "LICENSE"), filepath.Join(root, licenceFile)),
	)
	if err == nil {
		_, err = fmt.Fprintf(out, "%s: %d kB, %d kB unpacked\n", moduleFile, len(packed)/1000, len(body)/1000)
	}
	return err
}

// pack packs the module with gzip, which every browser unpacks by itself.
func pack(body []byte) ([]byte, error) {
	var packed bytes.Buffer
	writer, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	_, err = writer.Write(body)
	err = errors.Join(err, writer.Close())
	return packed.Bytes(), err
}

// copyFile copies a file.
func copyFile(from, to string) error {
	text, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	return os.WriteFile(to, text, 0o644) // #nosec G703 -- one of two places in our own tree
}
