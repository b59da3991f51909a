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

// commented lists the fields of a commented document, those of its groups behind the group's name: true for one that is
// written below its comment, false for one that a comment says is left out.
func commented(t *testing.T, document []byte) map[string]bool {
	fields := make(map[string]bool)
	group, lines := "", strings.Split(string(document), "\n")
	field, left := regexp.MustCompile(`^( +)"([a-z_]+)": (\{?)`), regexp.MustCompile(`^( +)// Left out: "([a-z_]+)"`)
	path := func(found []string) string {
		if len(found[1]) > 2 {
			return group + "." + found[2]
		}
		return found[2]
	}
	for i, line := range lines {
		if found := left.FindStringSubmatch(line); found != nil {
			fields[path(found)] = false
		}
		if found := field.FindStringSubmatch(line); found != nil {
			fields[path(found)] = true
			assert.Contains(t, lines[i-1], "// ", line)
			if found[3] != "" {
				group = found[2]
			}
		}
	}
	return fields
}

// Every field stands there with a comment above it, or in a comment when it is left out. The two files of the manual have
// every field between them; what is written in them as its default is left out again.
func TestEveryFieldHasItsComment(t *testing.T) {
	t.Parallel()
	written := make(map[string]bool)
	paths := pathsOf(ruleSetSchema(t).document, "")
	for _, block := range fenced(manual(t, "rules.md"), "json")[:2] {
		rules, err := doc.ParseRuleSet([]byte(block))
		require.NoError(t, err)
		document, err := doc.CommentRuleSet(rules)
		require.NoError(t, err)
		fields := commented(t, document)
		for _, path := range paths {
			group, _, nested := strings.Cut(path, ".")
			is, told := fields[path]
			assert.True(t, told || nested && !fields[group], path)
			written[path] = written[path] || is
		}
	}
	var never []string
	for _, path := range paths {
		if !written[path] {
			never = append(never, path)
		}
	}
	assert.Equal(t, []string{"pull_off.added", "pull_off.second_attempt", "reasons.conduct", "reasons.not_ready", "reasons.overweight", "reasons.red_flag", "reasons.speed",
		"test_puller.after_dq", "test_puller.before_distance", "test_puller.must", "test_puller.no_restart", "test_puller.silence"}, never, "the file says these as they are meant anyway")
	short, err := doc.ParseRuleSet([]byte(`{"name": "x", "unit": "m", "line": 60, "cap": false, "rounds": 1}`))
	require.NoError(t, err)
	document, err := doc.CommentRuleSet(short)
	require.NoError(t, err)
	for _, line := range []string{`  // Left out: "restart". `, `  // Left out: "moving_line". `, `  // Left out: "speed". `, `  // Left out: "pull_off". `, `  // Left out: "title". `,
		`  // Left out: "rehook_drop", which means 0. `, `  // Left out: "drop_places", which means 0. `} {
		assert.Contains(t, string(document), line)
	}
}
