package language_test

import (
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/stretchr/testify/require"
)

// refusedAt is a refusal as the source makes it: where, and each wording of its message and of its fix.
type refusedAt struct {
	at              string
	messages, fixes []string
}

// source is a package as it is written. Its types are known as far as they are its own: what it imports is not read.
type source struct {
	set       *token.FileSet
	info      *types.Info
	functions map[types.Object]function // by the function, or by the variable that holds it
	calls     map[types.Object][]call
	assigned  map[types.Object][]value // what a variable may be
	following map[types.Object]bool    // variables whose values are being followed
	made      []making
	told      []telling // sentences about rules
	grepped   int       // refusals that a plain search for the words finds
}

// function is one that was declared, or one that a variable holds.
type function struct {
	kind *ast.FuncType
	body *ast.BlockStmt
}

// call is a call of a function of the package, from within another; in is nil outside of one.
type call struct {
	args []ast.Expr
	in   types.Object
}

// value is an expression, or one of the results of one.
type value struct {
	is     ast.Expr
	result int // which result of a call; -1 for the expression itself
}

// making is where a refusal is made: the expressions for its message and its fix, nil where it has none there.
type making struct {
	at           token.Pos
	message, fix ast.Expr
	in           types.Object
}

// telling is where a sentence about a rule is made: its subject, and the function that says what is so.
type telling struct {
	subject, says ast.Expr
	in            types.Object
}

// unread refuses to read what a package imports: the refusals of a package are written in it.
type unread struct{}

func (unread) Import(string) (*types.Package, error) { return nil, errors.New("not read") }

// readSource reads the files of a folder that are no tests; only those named where some are.
func readSource(t require.TestingT, folder string, only ...string) *source {
	s := &source{
		set: token.NewFileSet(), functions: map[types.Object]function{}, calls: map[types.Object][]call{}, assigned: map[types.Object][]value{}, following: map[types.Object]bool{},
		info: &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Defs: map[*ast.Ident]types.Object{}, Uses: map[*ast.Ident]types.Object{}, Selections: map[*ast.SelectorExpr]*types.Selection{}},
	}
	paths, err := filepath.Glob(filepath.Join(folder, "*.go"))
	require.NoError(t, err)
	var files []*ast.File
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") || len(only) > 0 && !slices.Contains(only, filepath.Base(path)) {
			continue
		}
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		file, err := parser.ParseFile(s.set, path, text, parser.SkipObjectResolution)
		require.NoError(t, err)
		files = append(files, file)
		s.grepped += len(grepped.FindAll(text, -1))
	}
	config := types.Config{Importer: unread{}, Error: func(error) {}}
	_, _ = config.Check(folder, s.set, files, s.info) // it misses what is imported, and says the rest all the same
	for _, file := range files {
		s.look(file, nil)
	}
	return s
}

// grepped finds the words that make refusals, in lines that do not declare them.
var grepped = regexp.MustCompile(`(?m)^\t.*\b(?:invalid|contradiction|wrongState|notFound|treeError|ruleError)\(|^\t.*(?:&|&domain\.)Error\{[^}]`)

// look notes what a piece of the source, which stands in a function, holds.
func (s *source) look(piece ast.Node, in types.Object) {
	ast.Inspect(piece, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncDecl:
			if n.Body != nil {
				s.within(s.info.Defs[n.Name], n.Type, n.Body)
			}
			return false
		case *ast.AssignStmt:
			return s.assignment(n, in)
		case *ast.ValueSpec:
			s.assign(idents(n.Names), n.Values)
		case *ast.CallExpr:
			if of := s.callee(n); of != nil {
				s.calls[of] = append(s.calls[of], call{n.Args, in})
			}
		case *ast.CompositeLit:
			s.literal(n, in)
		}
		return true
	})
}

// within notes a function and what it holds.
func (s *source) within(of types.Object, kind *ast.FuncType, body *ast.BlockStmt) {
	s.functions[of] = function{kind, body}
	s.look(body, of)
}

// assignment notes what a statement assigns; a function that a variable holds is one as if it were declared.
func (s *source) assignment(n *ast.AssignStmt, in types.Object) bool {
	if f, ok := n.Rhs[0].(*ast.FuncLit); ok && len(n.Lhs) == 1 {
		if held := s.object(n.Lhs[0]); held != nil {
			s.within(held, f.Type, f.Body)
			return false
		}
	}
	s.assign(n.Lhs, n.Rhs)
	for i, left := range n.Lhs {
		if field, ok := left.(*ast.SelectorExpr); ok && len(n.Lhs) == len(n.Rhs) {
			switch field.Sel.Name {
			case "Message":
				s.made = append(s.made, making{at: n.Pos(), message: n.Rhs[i], in: in})
			case "Fix":
				s.made = append(s.made, making{at: n.Pos(), fix: n.Rhs[i], in: in})
			}
		}
	}
	return true
}

// assign notes what variables may be.
func (s *source) assign(left, right []ast.Expr) {
	for i, l := range left {
		of := s.object(l)
		switch {
		case of == nil:
		case len(left) == len(right):
			s.assigned[of] = append(s.assigned[of], value{right[i], -1})
		case len(right) == 1:
			s.assigned[of] = append(s.assigned[of], value{right[0], i})
		}
	}
}

// literal notes a composite literal that has a message and a fix; in the order of its fields where it does not name them.
func (s *source) literal(n *ast.CompositeLit, in types.Object) {
	m, told := making{at: n.Pos(), in: in}, telling{in: in}
	for i, e := range n.Elts {
		name := s.field(n, i)
		if pair, ok := e.(*ast.KeyValueExpr); ok {
			if key, ok := pair.Key.(*ast.Ident); ok {
				name, e = key.Name, pair.Value
			}
		}
		switch name {
		case "Message", "message":
			m.message = e
		case "Fix", "fix":
			m.fix = e
		case "subject":
			told.subject = e
		case "says":
			told.says = e
		case "Expected": // of files that are given at a terminal, which no page shows
			return
		}
	}
	if m.message != nil {
		s.made = append(s.made, m)
	}
	if told.subject != nil {
		s.told = append(s.told, told)
	}
}

// field is the name of a field of a struct of the package, "" where n is none.
func (s *source) field(n *ast.CompositeLit, i int) string {
	of := s.info.Types[n].Type
	if of == nil {
		return ""
	}
	if p, ok := of.Underlying().(*types.Pointer); ok {
		of = p.Elem()
	}
	if shape, ok := of.Underlying().(*types.Struct); ok && i < shape.NumFields() {
		return shape.Field(i).Name()
	}
	return ""
}

// callee is the function of the package, or the variable that holds it, that is called; nil for one of another.
func (s *source) callee(n *ast.CallExpr) types.Object {
	switch f := ast.Unparen(n.Fun).(type) {
	case *ast.Ident:
		return s.object(f)
	case *ast.SelectorExpr:
		if chosen := s.info.Selections[f]; chosen != nil {
			return chosen.Obj()
		}
	}
	return nil
}

// object is what a name names, nil for what is no name.
func (s *source) object(e ast.Expr) types.Object {
	name, ok := e.(*ast.Ident)
	if !ok {
		return nil
	}
	if of := s.info.Defs[name]; of != nil {
		return of
	}
	return s.info.Uses[name]
}

func idents(names []*ast.Ident) []ast.Expr {
	list := make([]ast.Expr, len(names))
	for i, n := range names {
		list[i] = n
	}
	return list
}
