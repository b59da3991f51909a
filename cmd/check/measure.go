package main

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strings"
)

// place is a number with the place in the tree it was measured at. where is a file, or a file and the name of a
// function.
type place struct {
	size  int
	where string
}

// tally is what was counted over some hand-written Go files. Lines are lines that are not blank. Tests count in
// testLines alone: the other numbers are about the program. Generated files are in none of them.
type tally struct {
	lines        int
	commentLines int // lines with nothing but comment
	testLines    int
	functions    []place // functions' and methods' lengths in lines, from func to the closing brace
	clocks       []string
	inits        []string
	bare         []string // exported names without a comment
	folders      map[string]bool
	documented   map[string]bool // folders with a package comment
}

// share returns the comment lines in percent of the lines, 0 when there are none. An embedded file and a directive are
// program; a comment behind code is part of its line.
func (t *tally) share() float64 { return 100 * ratio(t.commentLines, t.lines) }

// tests returns the test lines for each line of the program. Tests are counted whole, with their comments, and so is
// the program.
func (t *tally) tests() float64 { return ratio(t.testLines, t.lines) }

// meanLength returns the mean length of a function. A long one among many short ones hides in it, so that
// [tally.longest] stands beside it.
func (t *tally) meanLength() float64 {
	sum := 0
	for _, f := range t.functions {
		sum += f.size
	}
	return ratio(sum, len(t.functions))
}

// longest returns the longest function.
func (t *tally) longest() place { return largest(t.functions) }

// undocumented lists the packages without a package comment.
func (t *tally) undocumented() []string {
	var list []string
	for folder := range t.folders {
		if !t.documented[folder] {
			list = append(list, folder)
		}
	}
	slices.Sort(list)
	return list
}

// measure counts over the hand-written ones among the files. A file that is not Go is passed over; one that cannot be
// parsed is the error.
func measure(files []file) (*tally, error) {
	t := &tally{folders: map[string]bool{}, documented: map[string]bool{}}
	for _, f := range files {
		if !f.isGo() || f.isGenerated() {
			continue
		}
		if f.isTest() {
			t.testLines += written(f.text)
			continue
		}
		if err := t.add(f); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// add counts a file of the program.
func (t *tally) add(f file) error {
	positions := token.NewFileSet()
	tree, err := parser.ParseFile(positions, f.path, f.text, parser.ParseComments|parser.SkipObjectResolution)
	if err != nil {
		return err
	}
	t.lines += written(f.text)
	t.commentLines += commented(f.text, positions, tree.Comments)
	t.folders[f.folder()] = true
	if tree.Doc != nil {
		t.documented[f.folder()] = true
	}
	for _, declaration := range tree.Decls {
		t.addDeclaration(f, positions, declaration)
	}
	ast.Inspect(tree, func(n ast.Node) bool {
		if s, ok := n.(*ast.SelectorExpr); ok && isClock(s) {
			t.clocks = append(t.clocks, positions.Position(s.Pos()).String())
		}
		return true
	})
	return nil
}

// addDeclaration counts a function's length and names what is exported without a comment.
func (t *tally) addDeclaration(f file, positions *token.FileSet, declaration ast.Decl) {
	switch d := declaration.(type) {
	case *ast.FuncDecl:
		lines := positions.Position(d.End()).Line - positions.Position(d.Pos()).Line + 1
		t.functions = append(t.functions, place{size: lines, where: f.path + " " + d.Name.Name})
		if d.Recv == nil && d.Name.Name == "init" {
			t.inits = append(t.inits, f.path)
		}
		if d.Doc == nil && d.Name.IsExported() && exportedReceiver(d) {
			t.bare = append(t.bare, f.path+" "+d.Name.Name)
		}
	case *ast.GenDecl:
		for _, name := range bareNames(d) {
			t.bare = append(t.bare, f.path+" "+name)
		}
	}
}

// exportedReceiver tells whether the function has no receiver or one of an exported type. A method of a type that is
// not exported is seen by nobody outside, whatever it is called.
func exportedReceiver(d *ast.FuncDecl) bool {
	if d.Recv == nil {
		return true
	}
	kind := d.Recv.List[0].Type
	for {
		switch k := kind.(type) {
		case *ast.StarExpr:
			kind = k.X
		case *ast.IndexExpr:
			kind = k.X
		case *ast.IndexListExpr:
			kind = k.X
		case *ast.Ident:
			return k.IsExported()
		default:
			return false
		}
	}
}

// bareNames lists the exported names of a declaration that neither they nor their group have a comment for. A comment
// above a group of constants is for all of them.
func bareNames(d *ast.GenDecl) []string {
	var bare []string
	for _, spec := range d.Specs {
		switch s := spec.(type) {
		case *ast.TypeSpec:
			if s.Name.IsExported() && d.Doc == nil && s.Doc == nil {
				bare = append(bare, s.Name.Name)
			}
		case *ast.ValueSpec:
			for _, name := range s.Names {
				if name.IsExported() && d.Doc == nil && s.Doc == nil && s.Comment == nil {
					bare = append(bare, name.Name)
				}
			}
		}
	}
	return bare
}

// isClock tells whether the expression is time.Now, called or passed on. It goes by the names, without types: a package
// that is called time and is not the library's would be found too.
func isClock(s *ast.SelectorExpr) bool {
	of, ok := s.X.(*ast.Ident)
	return ok && of.Name == "time" && s.Sel.Name == "Now"
}

// written counts the lines that are not blank. A line of spaces and tabs is blank.
func written(text []byte) int {
	count := 0
	for line := range bytes.Lines(text) {
		if len(bytes.TrimSpace(line)) > 0 {
			count++
		}
	}
	return count
}

// commented counts the lines with nothing but comment. Blank lines inside a comment and directives to the compiler do
// not count.
func commented(text []byte, positions *token.FileSet, groups []*ast.CommentGroup) int {
	lines := strings.Split(string(text), "\n")
	count := 0
	for _, group := range groups {
		for _, c := range group.List {
			start := positions.Position(c.Pos())
			before := lines[start.Line-1][:start.Column-1]
			if strings.HasPrefix(c.Text, "//go:") || strings.TrimSpace(before) != "" {
				continue
			}
			count += written([]byte(c.Text))
		}
	}
	return count
}

// ratio divides, with 0 for a part of nothing.
func ratio(part, whole int) float64 {
	if whole == 0 {
		return 0
	}
	return float64(part) / float64(whole)
}

// largest returns the largest of the places, the zero place when there is none. Of equal ones the first counts, so that
// the answer does not change from run to run.
func largest(places []place) place {
	var most place
	for _, p := range places {
		if p.size > most.size {
			most = p
		}
	}
	return most
}
