package doc

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

const strictSet = `{"name": "our-60m", "unit": "m", "line": 60, "cap": true, "rounds": 1,
	"test_puller": {"options": ["keep", "last"], "after_dq": true}, "pull_off": {"absent": "withdrawn"}}`

// A name that differs from a field's in its case, or stands twice, would be read as something that nobody wrote.
func TestNamesAreReadAsTheyAreWritten(t *testing.T) {
	t.Parallel()
	_, err := ParseRuleSet([]byte(strictSet))
	require.NoError(t, err)
	for name, c := range map[string]struct{ old, changed, field, message, fix string }{
		"a capital letter":              {`"cap"`, `"Cap"`, "cap", "there is no field Cap", "write cap"},
		"all capitals":                  {`"unit"`, `"UNIT"`, "unit", "there is no field UNIT", "write unit"},
		"a long s":                      {`"absent"`, `"ab` + "\u017f" + `ent"`, "pull_off.absent", "there is no field ab\u017fent", "write absent"},
		"within a group":                {`"after_dq"`, `"after_DQ"`, "test_puller.after_dq", "there is no field after_DQ", "write after_dq"},
		"twice":                         {`"cap": true`, `"cap": true, "cap": false`, "cap", "the name cap stands twice", "write it once"},
		"twice, equal":                  {`"rounds": 1`, `"rounds": 1, "rounds": 1`, "rounds", "the name rounds stands twice", "write it once"},
		"twice, one escaped":            {`"cap": true`, `"cap": true, "c\u0061p": false`, "cap", "the name cap stands twice", "write it once"},
		"twice, by case":                {`"cap": true`, `"cap": true, "Cap": false`, "cap", "there is no field Cap", "write cap"},
		"twice in a group":              {`"absent": "withdrawn"`, `"absent": "withdrawn", "absent": "last_of_pull_off"`, "pull_off.absent", "the name absent stands twice", "write it once"},
		"a group twice":                 {`"pull_off": {`, `"pull_off": {}, "pull_off": {`, "pull_off", "the name pull_off stands twice", "write it once"},
		"an option twice":               {`"last"]`, `"last", "last"]`, "test_puller.options", "the option last stands twice", "write each option once"},
		"keep twice":                    {`"last"]`, `"keep"]`, "test_puller.options", "the option keep stands twice", "write each option once"},
		"a place twice":                 {`"last"]`, `"3", "3"]`, "test_puller.options", "the option 3 stands twice", "write each option once"},
		"a title that cannot be seen":   {`"name": "our-60m"`, `"name": "our-60m", "title": "Ours\u202e"`, "title", "the text holds a character that cannot be seen", "type it again, in one line, instead of pasting it"},
		"what no field is like, by far": {`"cap"`, `"capp"`, "", `the rule set cannot be read: unknown field "capp"`, "compare it with docs/rules.md"},
	} {
		document := strings.Replace(strictSet, c.old, c.changed, 1)
		require.NotEqual(t, strictSet, document, name)
		_, err := ParseRuleSet([]byte(document))
		refused, ok := errors.AsType[*domain.Error](err)
		require.True(t, ok, "%s: %v", name, err)
		require.Equal(t, []string{c.field, c.message, c.fix}, []string{refused.Field, refused.Message, refused.Fix}, name)
		if c.field == "" {
			continue
		}
		faults := RuleFaults([]byte(document))
		require.NotEmpty(t, faults, name)
		require.Equal(t, []string{c.field, c.message}, []string{faults[0].Field, faults[0].Message}, name)
		if name != "a long s" { // which no small letter has
			require.Positive(t, faults[0].Line, "%s: it has a place in the file", name)
		}
	}
}

// Whatever the names of a document are, it is read only where each of them is a field's own, and once.
func TestNoOtherNameIsRead(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom([]string{"cap", "Cap", "CAP", "cAp", "ca\u0440", "line", "LINE", "title", "Title", "r\u00f6unds"}).Draw(t, "name")
		document := strings.Replace(strictSet, "{", `{"`+name+`": "x", `, 1)
		_, err := ParseRuleSet([]byte(document))
		require.Equal(t, name == "title", err == nil, "%q", name)
	})
}
