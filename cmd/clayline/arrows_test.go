package main_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// module is the name that our own imports begin with.
const module = "clayline/"

// source is what a rule sees of a Go file that belongs to the program: no test, and not generated.
type source struct {
	path    string   // from the top of the tree, with slashes
	imports []string // as written
	uses    []string // what it takes from packages: "time.Now", "math/rand/v2.IntN"
	json    bool     // a struct tag names a key of JSON
	written bool     // by hand
}

// folder is where the file is: "domain/desk".
func (s source) folder() string { return path.Dir(s.path) }

// rule is an arrow of the plan in docs/design.md.
type rule struct {
	sentence string
	holds    func(folder string) bool         // where it holds
	broken   func(f source, name string) bool // whether an import, or a use, breaks it
}

// importRules lists the rules about direct imports.
var importRules = []rule{
	{
		"the domain and its engines import the standard library, uuid, gonum and the domain",
		in("domain"),
		func(_ source, name string) bool {
			return !standard(name) && !within(name, "github.com/google/uuid", "gonum.org/v1/gonum", module+"domain")
		},
	},
	{
		"the domain speaks to nobody: no HTTP, no SQL, no operating system",
		in("domain"),
		func(_ source, name string) bool {
			return name == "net" || within(name, "net/http", "net/rpc", "net/smtp", "database/sql", "os", "syscall")
		},
	},
	{
		"the engines need no domain type: of ours they import engines only",
		in("domain/sled", "domain/draw", "domain/forecast", "domain/trend", "domain/sequence"),
		func(_ source, name string) bool {
			return ours(name) && !within(name, module+"domain/sled", module+"domain/draw", module+"domain/forecast", module+"domain/trend", module+"domain/sequence")
		},
	},
	{
		"domain says what is true, whoever asks: it imports neither domain/desk nor domain/doc",
		func(folder string) bool { return folder == "domain" || folder == "domain/day" },
		func(_ source, name string) bool { return within(name, module+"domain/desk", module+"domain/doc") },
	},
	{
		"documents do not know what people do: domain/doc does not import domain/desk",
		in("domain/doc"),
		func(_ source, name string) bool { return within(name, module+"domain/desk") },
	},
	{
		"api and webui import the domain, never each other, the database or a program",
		in("api", "webui"),
		func(f source, name string) bool {
			return ours(name) && !within(name, module+"domain", module+first(f.path))
		},
	},
	{
		"postgres imports the domain and the migrations, never a surface or a program",
		in("postgres"),
		func(_ source, name string) bool {
			return ours(name) && !within(name, module+"domain", module+"migrations", module+"postgres")
		},
	},
	{
		"migrations are embedded files only",
		in("migrations"),
		func(_ source, name string) bool { return name != "embed" && name != "io/fs" },
	},
	{
		"check is built from the standard library alone",
		in("cmd/check"),
		func(_ source, name string) bool { return !standard(name) },
	},
	{
		"only cmd/clayline knows every package: the other programs import at most the domain",
		func(folder string) bool {
			return in("cmd")(folder) && !in("cmd/clayline")(folder) && !in("cmd/boothmodule")(folder)
		},
		func(_ source, name string) bool { return ours(name) && !within(name, module+"domain") },
	},
	{
		"what is compiled for the browser has the pages and the domain, and neither a database nor the interface",
		in("cmd/boothmodule"),
		func(_ source, name string) bool { return ours(name) && !within(name, module+"domain", module+"webui") },
	},
	{
		"Echo appears in api, webui and cmd only",
		notIn("api", "webui", "cmd"),
		func(_ source, name string) bool { return within(name, "github.com/labstack") },
	},
	{
		"pgx and SQL appear in postgres only",
		notIn("postgres"),
		func(_ source, name string) bool { return within(name, "github.com/jackc", "database/sql") },
	},
}

// useRules lists the rules about what is taken from a package.
var useRules = []rule{
	{
		"the domain has no clock: time is an argument",
		in("domain"),
		func(_ source, name string) bool {
			return oneOf(name, "time.Now", "time.Since", "time.Until", "time.Sleep", "time.After", "time.AfterFunc",
				"time.Tick", "time.NewTimer", "time.NewTicker")
		},
	},
	{
		"the domain makes no ids: an id is an argument",
		in("domain"),
		func(_ source, name string) bool {
			id, ok := strings.CutPrefix(name, "github.com/google/uuid.")
			return ok && oneOf(id, "New", "NewString", "NewRandom", "NewUUID", "NewV6", "NewV7", "Must")
		},
	},
	{
		"streams pass nothing that packs, holds back or times out an answer",
		in("api", "webui"),
		func(_ source, name string) bool {
			call, ok := strings.CutPrefix(name, "github.com/labstack/echo/v4/middleware.")
			return ok && (strings.HasPrefix(call, "Gzip") || strings.Contains(call, "Timeout") || strings.HasPrefix(call, "BodyDump")) || name == "net/http.TimeoutHandler"
		},
	},
	{
		"the domain has no global randomness: a seed is an argument",
		in("domain"),
		func(_ source, name string) bool {
			call, ok := strings.CutPrefix(strings.Replace(name, "rand/v2.", "rand.", 1), "math/rand.")
			return strings.HasPrefix(name, "crypto/rand.") || ok && !strings.HasPrefix(call, "New") && !oneOf(call, "Rand", "PCG", "ChaCha8", "Source", "Zipf")
		},
	},
}

// TestArrows holds the whole tree against the rules.
func TestArrows(t *testing.T) {
	tree := readProgram(t, os.DirFS("../.."))
	require.NotEmpty(t, tree, "no Go file was found above cmd/clayline")
	for _, r := range importRules {
		t.Run(r.sentence, func(t *testing.T) { assert.Empty(t, r.against(tree, func(f source) []string { return f.imports })) })
	}
	for _, r := range useRules {
		t.Run(r.sentence, func(t *testing.T) { assert.Empty(t, r.against(tree, func(f source) []string { return f.uses })) })
	}
	t.Run("keys of JSON are named in api, domain/doc and cmd only", func(t *testing.T) {
		assert.Empty(t, jsonOutside(tree))
	})
	t.Run("time.Now is taken once in the program, everything else is told the time", func(t *testing.T) {
		assert.LessOrEqual(t, len(clocks(tree)), 1, "%v", clocks(tree))
	})
}

// TestArrowsBreak proves that each rule fails where it should, and only there, on made-up files.
func TestArrowsBreak(t *testing.T) {
	tried := map[string]bool{}
	for _, c := range []struct {
		rule string // a part of its sentence
		file string
		good string
		bad  string
	}{
		{"the domain and its engines import", "domain/hook.go", "gonum.org/v1/gonum/stat", "github.com/alecthomas/kong"},
		{"the domain and its engines import", "domain/hook.go", "clayline/domain/sled", "clayline/postgres"},
		{"the domain and its engines import", "domain/desk/hook.go", "github.com/google/uuid", "github.com/google/uuidgen"},
		{"the domain speaks to nobody", "domain/desk/hook.go", "net/netip", "net/http"},
		{"the domain speaks to nobody", "domain/doc/class.go", "encoding/json", "os"},
		{"the domain has no global randomness", "domain/draw/draw.go", "math/rand/v2.Rand", "crypto/rand.Read"},
		{"the engines need no domain type", "domain/sled/sled.go", "math", "clayline/domain"},
		{"the engines need no domain type", "domain/forecast/plan.go", "clayline/domain/draw", "clayline/domain/desk"},
		{"domain says what is true", "domain/class.go", "clayline/domain/draw", "clayline/domain/desk"},
		{"domain says what is true", "domain/class.go", "strings", "clayline/domain/doc"},
		{"documents do not know", "domain/doc/class.go", "clayline/domain", "clayline/domain/desk"},
		{"api and webui import the domain", "api/hook.go", "clayline/domain/desk", "clayline/webui"},
		{"api and webui import the domain", "api/hook.go", "clayline/api/contract", "clayline/postgres"},
		{"api and webui import the domain", "webui/hook.go", "clayline/webui/templates", "clayline/api"},
		{"api and webui import the domain", "webui/templates/hook.go", "github.com/a-h/templ", "clayline/migrations"},
		{"postgres imports the domain", "postgres/hook.go", "clayline/migrations", "clayline/webui"},
		{"migrations are embedded", "migrations/migrations.go", "embed", "github.com/pressly/goose/v3"},
		{"check is built from the standard library", "cmd/check/main.go", "os/exec", "github.com/alecthomas/kong"},
		{"only cmd/clayline knows every package", "cmd/clayload/main.go", "clayline/domain/doc", "clayline/postgres"},
		{"what is compiled for the browser", "cmd/boothmodule/answer.go", "clayline/webui", "clayline/api"},
		{"Echo appears", "domain/hook.go", "github.com/jackc/pgx/v5", "github.com/labstack/echo/v4"},
		{"pgx and SQL appear", "webui/hook.go", "github.com/labstack/echo/v4", "github.com/jackc/pgx/v5"},
		{"pgx and SQL appear", "cmd/clayline/main.go", "clayline/postgres", "database/sql"},
		{"streams pass nothing that packs", "api/api.go", "github.com/labstack/echo/v4/middleware.Recover", "github.com/labstack/echo/v4/middleware.ContextTimeout"},
		{"streams pass nothing that packs", "webui/webui.go", "net/http.MaxBytesHandler", "net/http.TimeoutHandler"},
		{"streams pass nothing that packs", "webui/webui.go", "github.com/labstack/echo/v4/middleware.BodyLimit", "github.com/labstack/echo/v4/middleware.GzipWithConfig"},
		{"the domain has no clock", "domain/desk/hook.go", "time.Duration", "time.Now"},
		{"the domain makes no ids", "domain/desk/hook.go", "github.com/google/uuid.UUID", "github.com/google/uuid.NewV7"},
		{"the domain has no global randomness", "domain/draw/draw.go", "math/rand/v2.NewPCG", "math/rand/v2.Shuffle"},
	} {
		r := ruleThatBegins(c.rule)
		tried[r.sentence] = true
		f := source{path: c.file, written: true}
		one := func(name string) []string {
			return r.against([]source{f}, func(source) []string { return []string{name} })
		}
		assert.Empty(t, one(c.good), "%s: %s may have %s", r.sentence, c.file, c.good)
		assert.Equal(t, []string{c.file + ": " + c.bad}, one(c.bad), r.sentence)
	}
	assert.Len(t, tried, len(importRules)+len(useRules), "each rule is tried here")
}

// TestReadSource proves that the rules see what is in a file.
func TestReadSource(t *testing.T) {
	f, err := readSource("domain/hook.go", `package domain

import (
	random "math/rand/v2"
	"time"
)

type hook struct {
	Number int `+"`json:\"number\"`"+`
}

var now = time.Now

func roll() int { return random.IntN(6) }
`)
	require.NoError(t, err)
	assert.Equal(t, []string{"math/rand/v2", "time"}, f.imports)
	assert.Equal(t, []string{"time.Now", "math/rand/v2.IntN"}, f.uses)
	assert.True(t, f.json)
	assert.True(t, f.written)
	assert.Equal(t, []string{"domain/hook.go"}, jsonOutside([]source{f}))

	f, err = readSource("webui/hook_templ.go", "// Code generated by templ - DO NOT EDIT.\n\npackage webui\n")
	require.NoError(t, err)
	assert.False(t, f.written)
}

// TestClocks proves that the tools may have clocks of their own.
func TestClocks(t *testing.T) {
	at := func(path string) source { return source{path: path, uses: []string{"time.Now"}, written: true} }
	assert.Equal(t, []string{"cmd/clayline/main.go", "postgres/hook.go"},
		clocks([]source{at("cmd/check/step.go"), at("cmd/clayline/main.go"), at("cmd/clayload/main.go"), at("postgres/hook.go")}))
}

// against lists "file: name" for what breaks the rule in the tree.
func (r rule) against(tree []source, names func(source) []string) []string {
	var broken []string
	for _, f := range tree {
		if !r.holds(f.folder()) {
			continue
		}
		for _, name := range names(f) {
			if r.broken(f, name) {
				broken = append(broken, f.path+": "+name)
			}
		}
	}
	return broken
}

// ruleThatBegins returns the rule whose sentence begins like this.
func ruleThatBegins(beginning string) rule {
	for _, r := range slices.Concat(importRules, useRules) {
		if strings.HasPrefix(r.sentence, beginning) {
			return r
		}
	}
	panic("there is no rule that begins with " + beginning)
}

// jsonOutside lists the files that name JSON keys where the wire and the documents are not at home.
func jsonOutside(tree []source) []string {
	var list []string
	for _, f := range tree {
		if f.json && notIn("api", "domain/doc", "cmd")(f.folder()) {
			list = append(list, f.path)
		}
	}
	return list
}

// clocks lists, once for each use, the files of the program that take time.Now. What only measures the program, the
// check and the load generator, is not part of it.
func clocks(tree []source) []string {
	var list []string
	for _, f := range tree {
		if !f.written || in("cmd/check", "cmd/clayload")(f.folder()) {
			continue
		}
		for _, use := range f.uses {
			if use == "time.Now" {
				list = append(list, f.path)
			}
		}
	}
	return list
}

// in tells of a folder whether it is one of those or below one.
func in(folders ...string) func(string) bool {
	return func(folder string) bool { return within(folder, folders...) }
}

// notIn returns the opposite of [in].
func notIn(folders ...string) func(string) bool {
	return func(folder string) bool { return !within(folder, folders...) }
}

// within tells whether the path is one of the roots or below one.
func within(name string, roots ...string) bool {
	for _, root := range roots {
		if name == root || strings.HasPrefix(name, root+"/") {
			return true
		}
	}
	return false
}

// oneOf tells whether the name is in the list.
func oneOf(name string, list ...string) bool { return slices.Contains(list, name) }

// first returns the first element of a path.
func first(name string) string {
	element, _, _ := strings.Cut(name, "/")
	return element
}

// ours tells whether the import is a package of this module.
func ours(name string) bool { return strings.HasPrefix(name, module) }

// standard tells whether the import is of the standard library, whose first element is never a domain.
func standard(name string) bool { return !ours(name) && !strings.Contains(first(name), ".") }

// readProgram reads the Go files of the tree that are not tests. It reads files, not packages, so that the rules can be
// held against a tree that does not build yet.
func readProgram(t *testing.T, tree fs.FS) []source {
	t.Helper()
	var program []source
	err := fs.WalkDir(tree, ".", func(name string, entry fs.DirEntry, err error) error {
		switch base := path.Base(name); {
		case err != nil:
			return err
		case entry.IsDir() && (strings.HasPrefix(base, ".") && name != "." || oneOf(base, "testdata", "node_modules", "vendor")):
			return fs.SkipDir
		case entry.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go"):
			return nil
		}
		text, err := fs.ReadFile(tree, name)
		if err != nil {
			return err
		}
		f, err := readSource(name, string(text))
		program = append(program, f)
		return err
	})
	require.NoError(t, err)
	return program
}

// readSource parses the text of the file at that path.
func readSource(name, text string) (source, error) {
	tree, err := parser.ParseFile(token.NewFileSet(), name, text, parser.ParseComments)
	if err != nil {
		return source{}, err
	}
	f := source{path: name, written: !ast.IsGenerated(tree)}
	named := map[string]string{} // the name an import goes by in this file
	for _, spec := range tree.Imports {
		imported, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			return source{}, err
		}
		f.imports = append(f.imports, imported)
		named[nameOf(spec, imported)] = imported
	}
	ast.Inspect(tree, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.Field:
			f.json = f.json || n.Tag != nil && strings.Contains(n.Tag.Value, `json:"`)
		case *ast.SelectorExpr:
			// An identifier with an object is a variable of that name, which hides the import.
			if id, ok := n.X.(*ast.Ident); ok && id.Obj == nil && named[id.Name] != "" {
				f.uses = append(f.uses, named[id.Name]+"."+n.Sel.Name)
			}
		}
		return true
	})
	return f, nil
}

// nameOf returns the name of an import: the one it is given, else its last element that is not a version.
func nameOf(spec *ast.ImportSpec, imported string) string {
	if spec.Name != nil {
		return spec.Name.Name
	}
	base := path.Base(imported)
	if _, err := strconv.Atoi(strings.TrimPrefix(base, "v")); err == nil {
		base = path.Base(path.Dir(imported))
	}
	return base
}
