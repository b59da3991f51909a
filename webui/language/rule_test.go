package language_test

import (
	"go/ast"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/domain/doc"
	"clayline/webui/language"
)

// What a class page says of the rules is in the catalogue of every language: each sentence that can be made of any rule set.
func TestEveryRuleIsSaidInEveryLanguage(t *testing.T) {
	t.Parallel()
	sentences := readSource(t, "../../domain/doc").rules()
	require.Contains(t, sentences, "The line does not move.")
	require.Contains(t, sentences, "A disqualified entry gets nothing.")
	require.Contains(t, sentences, "A puller in mechanical trouble may drop up to 7 places.")
	require.Greater(t, len(sentences), 150)
	for _, l := range language.Others() {
		var unknown []string
		for _, s := range sentences {
			if said, left := l.Text(s); slices.ContainsFunc(left, worded) || taken(l, s, said) {
				unknown = append(unknown, s)
			}
		}
		require.Empty(t, strings.Join(unknown, "\n"), "put them into webui/language/%s", l.Tag())
	}
}

// The ready-made rule sets are the ones that most classes are pulled under.
func TestReadyMadeRuleSetsAreSaidInEveryLanguage(t *testing.T) {
	t.Parallel()
	for _, name := range doc.ReadyMade() {
		set, err := doc.ReadyMadeRuleSet(name)
		require.NoError(t, err)
		for _, l := range language.Others() {
			for _, s := range append(doc.DescribeRuleSet(set), set.Title) {
				_, unknown := l.Text(s)
				require.Empty(t, unknown, "%s: %s", name, s)
			}
		}
	}
}

// rules are the sentences that the package makes of rule sets, as the description of one says them.
func (s *source) rules() (list []string) {
	for _, r := range s.told {
		for _, in := range s.reached(r.in, []ast.Expr{r.subject}, r.subject.Pos(), 0) {
			ast.Inspect(r.says, func(n ast.Node) bool {
				f, ok := n.(*ast.FuncLit)
				if !ok {
					return true
				}
				for _, says := range joined([]string{" "}, s.returned(f.Body, 0, in, 0)) {
					for _, subject := range s.wordings(r.subject, in, 0) {
						list = append(list, sentence(subject+says))
					}
				}
				return false
			})
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}
