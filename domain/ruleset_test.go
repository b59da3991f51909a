package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

// set returns a ready-made rule set, changed by the given functions.
func set(t require.TestingT, name string, changes ...func(*domain.RuleSet)) domain.RuleSet {
	rules, err := doc.ReadyMadeRuleSet(name)
	require.NoError(t, err)
	for _, change := range changes {
		change(&rules)
	}
	require.NoError(t, rules.Check())
	return rules
}

func TestARuleSetThatContradictsItselfIsRefused(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		what   string
		change func(*domain.RuleSet)
		field  string
		says   string
	}{
		{"no name", func(r *domain.RuleSet) { r.Name = "" }, "name", "no name"},
		{"no line", func(r *domain.RuleSet) { r.Line = domain.Distance{} }, "line", "no full-pull line"},
		{"line at 0", func(r *domain.RuleSet) { r.Line = distance(t, "0", domain.Foot) }, "line", "no full-pull line"},
		{"no rounds", func(r *domain.RuleSet) { r.Rounds = 0 }, "rounds", "one to nine"},
		{"ten rounds", func(r *domain.RuleSet) { r.Rounds = 10 }, "rounds", "one to nine"},
		{"no count", func(r *domain.RuleSet) { r.Count = 0 }, "counts", "best or sum"},
		{"no reset", func(r *domain.RuleSet) { r.Reset = 0 }, "reset", "restart, keep, previous or never"},
		{"negative drop", func(r *domain.RuleSet) { r.DropPlaces = -1 }, "drop_places", "cannot be negative"},
		{"negative cooling drop", func(r *domain.RuleSet) { r.RehookDrop = -1 }, "rehook_drop", "cannot be negative"},
		{"restart line in metres", func(r *domain.RuleSet) { r.RestartLine = distance(t, "20 m", 0) }, "restart", "different units"},
		{"restart line at the line", func(r *domain.RuleSet) { r.RestartLine = r.Line }, "restart", "at or beyond"},
		{"floating with a pull-off", func(r *domain.RuleSet) { r.Capped = false }, "pull_off", "no pull-off"},
		{"silent about absent finalists", func(r *domain.RuleSet) { r.PullOff.Absent = 0 }, "pull_off.absent", "absent finalist"},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			rules := set(t, "capped-300ft")
			row.change(&rules)
			var refusal *domain.Error
			require.ErrorAs(t, rules.Check(), &refusal)
			assert.Equal(t, domain.Invalid, refusal.Kind)
			assert.Equal(t, row.field, refusal.Field)
			assert.Contains(t, refusal.Error(), row.says)
			assert.NotEmpty(t, refusal.Fix, "an error says what to do")
		})
	}
}

func TestARestartLineInInchesFitsATrackInFeet(t *testing.T) {
	t.Parallel()
	set(t, "capped-300ft", func(r *domain.RuleSet) { r.RestartLine = distance(t, `75' 0"`, 0) })
}

// Settle is where a typed figure meets the rules: "anything at or past the line is a full pull" in a capped round.
func TestResultsSettleUnderTheRules(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		rules, round, written, settles, says string
	}{
		{"capped-300ft", "1", "281.36", "281.36", ""},
		{"capped-300ft", "1", "299.999", "299.999", ""},
		{"capped-300ft", "1", "300", "FP 300", ""},
		{"capped-300ft", "1", "300.000", "FP 300.000", ""},
		{"capped-300ft", "1", "312.44", "FP 312.44", ""},
		{"capped-300ft", "1", `300' 0"`, `FP 300' 0"`, ""},
		{"capped-300ft", "1", "FP", "FP", ""},
		{"capped-300ft", "1", "FP 312.44", "FP 312.44", ""},
		{"capped-300ft", "1", "FP 299.99", "", "lies below the full-pull line"},
		{"capped-300ft", "1", "83.91 m", "", "is not in the unit of this class"},
		{"capped-300ft", "1", "FP 91.44 m", "", "is not in the unit of this class"},
		{"capped-300ft", "P1", "281.36", "281.36", ""},
		{"capped-300ft", "P1", "312.44", "312.44", ""}, // measured past the line: the figure counts
		{"capped-300ft", "P1", "FP 312.44", "FP 312.44", ""},
		{"capped-300ft", "P1", "FP", "", "FP without a figure says nothing here"},
		{"capped-300ft", "P1", "FP 20.11", "", "lies below the full-pull line"},
		{"capped-100m", "1", "100", "FP 100", ""},
		{"capped-100m", "1", "99.99", "99.99", ""},
		{"capped-100m", "1", "287 ft", "", "is not in the unit of this class"},
		{"floating-ft", "1", "355.041", "355.041", ""},
		{"floating-ft", "1", "FP 355.041", "FP 355.041", ""},
		{"floating-ft", "1", "FP", "", "FP without a figure says nothing here"},
		{"floating-ft", "1", "FP 299", "", "lies below the full-pull line"},
		{"floating-ft", "1", "DQ", "DQ", ""},
		{"floating-ft", "1", "0", "0", ""},
	} {
		t.Run(row.rules+" "+row.round+" "+row.written, func(t *testing.T) {
			t.Parallel()
			rules := set(t, row.rules)
			settled, err := rules.Settle(round(t, row.round), resultIn(t, row.written, rules.Unit()))
			if row.says != "" {
				require.ErrorContains(t, err, row.says)
				assert.Equal(t, domain.Invalid, domain.KindOf(err))
				return
			}
			require.NoError(t, err)
			assert.Equal(t, row.settles, settled.String())
		})
	}
}

func TestACappedPullOffEndsAtTheLineToo(t *testing.T) {
	t.Parallel()
	rules := set(t, "capped-100m", func(r *domain.RuleSet) { r.PullOff.Capped = true })
	for written, settles := range map[string]string{"104.10": "FP 104.10", "FP": "FP", "99.99": "99.99"} {
		settled, err := rules.Settle(round(t, "P1"), resultIn(t, written, domain.Metre))
		require.NoError(t, err)
		assert.Equal(t, settles, settled.String())
	}
}

func TestOptionsAreWordsOrPlaces(t *testing.T) {
	t.Parallel()
	for word, option := range map[string]domain.Option{
		"keep": domain.Keep, "last": domain.ToLast, "now": domain.AtOnce, "2": 2, "3": 3, "6": 6, "127": 127,
	} {
		read, err := domain.ParseOption(word)
		require.NoError(t, err)
		assert.Equal(t, option, read)
		assert.Equal(t, word, option.String())
		var unmarshalled domain.Option
		require.NoError(t, unmarshalled.UnmarshalText([]byte(word)))
		assert.Equal(t, option, unmarshalled)
	}
	for _, word := range []string{"", "0", "1", "-1", "128", "third", "Keep"} {
		_, err := domain.ParseOption(word)
		require.ErrorContains(t, err, "write keep, last, now, original or a place such as 3", "%q", word)
	}
	option := domain.ToLast
	require.NoError(t, option.UnmarshalText(nil))
	assert.Zero(t, option, "no word is no choice")
	assert.Empty(t, option.String())
}
