package doc_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain/doc"
)

// commentLine is a line with nothing but a comment.
var commentLine = regexp.MustCompile(`(?m)^ *//.*\n`)

// Without its comments the document is the set, whatever the set is.
func TestTheCommentedSetIsTheSet(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		rules := ruleSets().Draw(t, "rules")
		document, err := doc.CommentRuleSet(rules)
		require.NoError(t, err)
		again, err := doc.ParseRuleSet(commentLine.ReplaceAll(document, nil))
		require.NoError(t, err, "%s", document)
		require.Equal(t, rules, again, "%s", document)
	})
}

// Every field stands there with a comment above it, or in a comment when it is left out.
func TestEveryFieldHasItsComment(t *testing.T) {
	t.Parallel()
	rules := set(t, "capped-300ft")
	rules.Points, rules.Purse = completeSet(t).Points, completeSet(t).Purse
	rules.PullOff.Added, rules.PullOff.SecondAttempt, rules.DropPlaces = true, true, 2
	document, err := doc.CommentRuleSet(rules)
	require.NoError(t, err)
	lines := strings.Split(string(document), "\n")
	for _, path := range pathsOf(ruleSetSchema(t).document, "") {
		name := path[strings.LastIndexByte(path, '.')+1:]
		found := false
		for i, line := range lines {
			if strings.HasPrefix(strings.TrimSpace(line), `"`+name+`":`) {
				found = true
				assert.Contains(t, lines[i-1], "// ", path)
			}
		}
		assert.True(t, found, path)
	}
	short, err := doc.ParseRuleSet([]byte(`{"name": "x", "unit": "m", "line": 60, "cap": false, "rounds": 1}`))
	require.NoError(t, err)
	document, err = doc.CommentRuleSet(short)
	require.NoError(t, err)
	for _, line := range []string{`  // Left out: "restart". `, `  // Left out: "test_puller". `, `  // Left out: "pull_off". `, `  // Left out: "title". `,
		`  // Left out: "rehook_drop", which means 0. `, `  // Left out: "drop_places", which means 0. `} {
		assert.Contains(t, string(document), line)
	}
}
