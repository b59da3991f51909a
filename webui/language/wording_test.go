package language_test

import (
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// madeUp stands where a refusal has something that only the running program knows, a name or a measure, and number where
// that is a number.
const madeUp, number = "Xyz", "7"

// deepest bounds how far an expression is followed, and most into how many wordings.
const deepest, most = 12, 400

// given are the expressions that stand for the parameters of a function in one call of it.
type given map[types.Object]argument

// argument is an expression with what stands for the parameters in it.
type argument struct {
	is ast.Expr
	in given
}

// refusals are those that the package makes, in each wording that can be read from the source.
func (s *source) refusals() (list []refusedAt) {
	for _, m := range s.made {
		for at, in := range s.reached(m.in, []ast.Expr{m.message, m.fix}, m.at, 0) {
			r := refusedAt{at: s.set.Position(at).String()}
			if m.message != nil {
				r.messages = s.wordings(m.message, in, 0)
			}
			if m.fix != nil {
				r.fixes = s.wordings(m.fix, in, 0)
			}
			list = append(list, r)
		}
	}
	return list
}

// reached goes through the calls by which a function comes to make a refusal: where its words are written, and what its
// parameters stand for then. A function whose words are its own is reached once.
func (s *source) reached(of types.Object, words []ast.Expr, at token.Pos, depth int) func(func(token.Pos, given) bool) {
	return func(yield func(token.Pos, given) bool) {
		calls := s.calls[of]
		if of == nil || depth > deepest || len(calls) == 0 || !s.mentions(of, words) {
			yield(at, nil)
			return
		}
		for _, c := range calls {
			for from, in := range s.reached(c.in, c.args, c.args[0].Pos(), depth+1) {
				if !yield(from, s.bind(of, c.args, in)) {
					return
				}
			}
		}
	}
}

// bind gives the parameters of a function what stands for them.
func (s *source) bind(of types.Object, args []ast.Expr, in given) given {
	bound := given{}
	for i, p := range s.params(of) {
		if i < len(args) {
			bound[p] = argument{args[i], in}
		}
	}
	return bound
}

// params are the parameters of a function, in their order.
func (s *source) params(of types.Object) (list []types.Object) {
	f := s.functions[of]
	if f.kind == nil {
		return nil
	}
	for _, field := range f.kind.Params.List {
		for _, name := range field.Names {
			list = append(list, s.info.Defs[name])
		}
	}
	return list
}

// mentions reports whether expressions are made of parameters of the function that they stand in.
func (s *source) mentions(of types.Object, words []ast.Expr) bool {
	params, found := s.params(of), false
	for _, w := range words {
		if w == nil {
			continue
		}
		ast.Inspect(w, func(n ast.Node) bool {
			if name, ok := n.(*ast.Ident); ok && slices.Contains(params, s.info.Uses[name]) {
				found = true
			}
			return !found
		})
	}
	return found
}

// wordings are the texts that an expression may be.
func (s *source) wordings(e ast.Expr, in given, depth int) []string {
	if known := s.info.Types[e].Value; known != nil && known.Kind() == constant.String {
		return []string{constant.StringVal(known)}
	}
	if depth > deepest {
		return s.hole(e)
	}
	switch e := ast.Unparen(e).(type) {
	case *ast.BasicLit: // one whose type nothing was to be known of
		if text, err := strconv.Unquote(e.Value); err == nil && e.Kind == token.STRING {
			return []string{text}
		}
		return s.hole(e)
	case *ast.BinaryExpr:
		return joined(s.wordings(e.X, in, depth+1), s.wordings(e.Y, in, depth+1))
	case *ast.CallExpr:
		return s.called(e, 0, in, depth)
	case *ast.Ident:
		return s.named(e, in, depth)
	case *ast.IndexExpr:
		return s.listed(e, in, depth)
	default:
		return s.hole(e)
	}
}

// named are the texts that a parameter or a variable may be.
func (s *source) named(e *ast.Ident, in given, depth int) (list []string) {
	of := s.object(e)
	if a, ok := in[of]; ok {
		return s.wordings(a.is, a.in, depth+1)
	}
	// What a variable is made of may be its own former value, which another assignment tells.
	if s.following[of] {
		return s.hole(e)
	}
	s.following[of] = true
	defer delete(s.following, of)
	for _, v := range s.assigned[of] {
		c, isCall := v.is.(*ast.CallExpr)
		switch {
		case v.result < 0:
			list = append(list, s.wordings(v.is, in, depth+1)...)
		case isCall:
			list = append(list, s.called(c, v.result, in, depth)...)
		}
	}
	if list = distinct(list); len(list) == 0 {
		return s.hole(e)
	}
	return list
}

// listed are the texts that stand in a list or a map which is looked up.
func (s *source) listed(e *ast.IndexExpr, in given, depth int) (list []string) {
	held := []value{{e.X, -1}}
	if of := s.object(e.X); of != nil {
		held = s.assigned[of]
	}
	for _, v := range held {
		all, ok := v.is.(*ast.CompositeLit)
		if !ok {
			continue
		}
		for _, one := range all.Elts {
			if pair, ok := one.(*ast.KeyValueExpr); ok {
				one = pair.Value
			}
			list = append(list, s.wordings(one, in, depth+1)...)
		}
	}
	if list = distinct(list); len(list) == 0 {
		return s.hole(e)
	}
	return list
}

// called are the texts that a call may give as its i-th result.
func (s *source) called(c *ast.CallExpr, i int, in given, depth int) (list []string) {
	name, ok := c.Fun.(*ast.SelectorExpr)
	if ok && (name.Sel.Name == "Sprintf" || name.Sel.Name == "Errorf") {
		return s.formatted(c.Args, in, depth)
	}
	if ok && name.Sel.Name == "New" && len(c.Args) == 1 {
		return s.wordings(c.Args[0], in, depth+1)
	}
	// A value of the domain is written in figures and units, which are no words; others are told in words.
	if ok && name.Sel.Name == "String" {
		defer func() {
			if !slices.ContainsFunc(list, words.MatchString) {
				list = s.hole(c)
			}
		}()
	}
	of := s.callee(c)
	f, ok := s.functions[of]
	if !ok {
		return s.hole(c)
	}
	if list = s.returned(f.body, i, s.bind(of, c.Args, in), depth); len(list) == 0 {
		return s.hole(c)
	}
	return list
}

// returned are the texts that a function may return as its i-th result.
func (s *source) returned(body *ast.BlockStmt, i int, in given, depth int) (list []string) {
	ast.Inspect(body, func(n ast.Node) bool {
		if r, ok := n.(*ast.ReturnStmt); ok && i < len(r.Results) {
			list = append(list, s.wordings(r.Results[i], in, depth+1)...)
		}
		_, inner := n.(*ast.FuncLit)
		return !inner
	})
	return distinct(list)
}

// words tell what is told in words from figures and units.
var words = regexp.MustCompile(`\pL{4,} `)

// verb is what fmt.Sprintf puts a value for.
var verb = regexp.MustCompile(`%[-+ #0]*[\d.]*[a-zA-Z%]`)

// formatted are the texts that fmt.Sprintf may give.
func (s *source) formatted(args []ast.Expr, in given, depth int) []string {
	list := []string{""}
	for _, format := range s.wordings(args[0], in, depth+1) {
		at, next := 0, 1
		for _, m := range verb.FindAllStringIndex(format, -1) {
			list = joined(list, []string{format[at:m[0]]})
			at = m[1]
			switch kind := format[m[1]-1]; {
			case kind == '%':
				list = joined(list, []string{"%"})
				continue
			case kind == 'd':
				list = joined(list, []string{number})
			case kind == 'q':
				list = joined(list, []string{`"` + madeUp + `"`})
			case next < len(args):
				list = joined(list, s.wordings(args[next], in, depth+1))
			}
			next++
		}
		list = joined(list, []string{format[at:]})
	}
	return list
}

// hole is what stands for an expression that only the running program knows.
func (s *source) hole(e ast.Expr) []string {
	if of, ok := s.info.Types[e].Type.(*types.Basic); ok && of.Info()&types.IsInteger != 0 {
		return []string{number}
	}
	if c, ok := e.(*ast.CallExpr); ok {
		if name, ok := c.Fun.(*ast.SelectorExpr); ok && name.Sel.Name == "Itoa" {
			return []string{number}
		}
	}
	return []string{madeUp}
}

// joined are the texts of which one stands in front of one of the others.
func joined(front, behind []string) (list []string) {
	for _, f := range front {
		for _, b := range behind {
			if len(list) < most {
				list = append(list, f+b)
			}
		}
	}
	return list
}

func distinct(list []string) []string {
	set := map[string]bool{}
	for _, s := range list {
		if strings.TrimSpace(s) != "" {
			set[s] = true
		}
	}
	return slices.Sorted(maps.Keys(set))
}
