package doc_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/doc"
)

func TestTheReadyMadeSetsAreWhatTheManualSays(t *testing.T) {
	t.Parallel()
	feet := func(s string) domain.Distance { return length(t, s, domain.Foot) }
	metres := func(s string) domain.Distance { return length(t, s, domain.Metre) }
	test := domain.TestRule{Options: []domain.Option{domain.ToLast}, Until: "before unhooking", AfterDQ: true}
	pullOff := domain.PullOffRule{Absent: domain.LastOfPullOff}
	added := domain.PullOffRule{Absent: domain.LastOfPullOff, Added: true}
	for name, want := range map[string]domain.RuleSet{
		"capped-300ft":     {Line: feet("300"), Capped: true, Rounds: 1, Count: domain.BestOf, PullOff: pullOff, RestartLine: feet("75"), Test: test},
		"capped-100m":      {Line: metres("100"), Capped: true, Rounds: 1, Count: domain.BestOf, PullOff: pullOff, RestartLine: metres("20")},
		"floating-ft":      {Line: feet("300"), Rounds: 1, Count: domain.BestOf, RestartLine: feet("75"), Test: test},
		"floating-m":       {Line: metres("100"), Rounds: 1, Count: domain.BestOf, RestartLine: metres("20")},
		"best-of-two-100m": {Line: metres("100"), Capped: true, Rounds: 2, Count: domain.BestOf, PullOff: pullOff, RestartLine: metres("20")},
		"sum-of-two-100m":  {Line: metres("100"), Capped: true, Rounds: 2, Count: domain.SumOf, PullOff: added, RestartLine: metres("20")},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			rules := set(t, name)
			want.Name, want.Title, want.RehookDrop, want.Reset = name, rules.Title, 4, domain.Restart
			assert.Equal(t, want, rules)
			assert.NotEmpty(t, rules.Title)
			document, err := doc.WriteRuleSet(rules)
			require.NoError(t, err)
			again, err := doc.ParseRuleSet(document)
			require.NoError(t, err)
			assert.Equal(t, rules, again)
		})
	}
	assert.Len(t, doc.ReadyMade(), 6)
	assert.Contains(t, doc.ReadyMade(), doc.DefaultRuleSet)
	_, err := doc.ReadyMadeRuleSet("capped-300")
	require.ErrorContains(t, err, `there is no ready-made rule set "capped-300"; choose one of best-of-two-100m, capped-100m`)
	assert.Equal(t, domain.NotFound, domain.KindOf(err))
}

func length(t require.TestingT, s string, unit domain.Unit) domain.Distance {
	d, err := domain.ParseDistance(s, unit)
	require.NoError(t, err)
	return d
}

// The least that a file must say is name, unit, line, cap and rounds; the rest has defaults.
func TestTheDefaultsOfARuleSetFile(t *testing.T) {
	t.Parallel()
	rules, err := doc.ParseRuleSet([]byte(`{"name": "ours", "unit": "m", "line": 60, "cap": true, "rounds": 1}`))
	require.NoError(t, err)
	assert.Equal(t, domain.RuleSet{Name: "ours", Line: length(t, "60", domain.Metre), Capped: true, Rounds: 1, Count: domain.BestOf,
		PullOff: domain.PullOffRule{Absent: domain.LastOfPullOff}, Reset: domain.Restart}, rules)
	rules, err = doc.ParseRuleSet([]byte(`{"name": "ours", "unit": "in", "line": 3600.0, "cap": false, "rounds": 1}`))
	require.NoError(t, err)
	assert.Equal(t, `300' 0.0"`, rules.Line.String())
	assert.Zero(t, rules.PullOff)
}

func TestABrokenRuleSetFileNamesTheField(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ document, field, says string }{
		{``, "", "cannot be read"},
		{`{`, "", "cannot be read"},
		{`{"name": "x",}`, "", "is not JSON"},
		{`[]`, "", "cannot be read"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1} {}`, "", "more than one rule set"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "lime": 3}`, "", `unknown field "lime"`},
		{`{"name": "x", "unit": "yd", "line": 60, "cap": true, "rounds": 1}`, "unit", "write ft, in or m"},
		{`{"name": "x", "line": 60, "cap": true, "rounds": 1}`, "unit", "write ft, in or m"},
		{`{"unit": "m", "line": 60, "cap": true, "rounds": 1}`, "name", "no name"},
		{`{"name": "x", "unit": "m", "cap": true, "rounds": 1}`, "line", "write figures such as 300"},
		{`{"name": "x", "unit": "m", "line": -60, "cap": true, "rounds": 1}`, "line", `"-60" is not a distance`},
		{`{"name": "x", "unit": "m", "line": 1e2, "cap": true, "rounds": 1}`, "line", `"1e2" is not a distance`},
		{`{"name": "x", "unit": "m", "line": "far", "cap": true, "rounds": 1}`, "", "cannot be read"},
		{`{"name": "x", "unit": "m", "line": 0, "cap": true, "rounds": 1}`, "line", "no full-pull line"},
		{`{"name": "x", "unit": "m", "line": 60, "rounds": 1}`, "cap", "write true or false"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": "yes", "rounds": 1}`, "cap", "a string cannot stand here"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true}`, "rounds", "one to nine"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1.5}`, "rounds", "a number 1.5 cannot stand here"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "counts": "mean"}`, "counts", `"mean" is not known; write best or sum`},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "reset": "maybe"}`, "reset", "write keep or restart"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "restart": 60}`, "restart", "at or beyond the full-pull line"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "restart": 0}`, "restart", "lies at the start"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "restart": 1.2345}`, "restart", "is not a distance"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "rehook_drop": -1}`, "rehook_drop", "cannot be negative"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "test_puller": {"options": ["first"]}}`, "test_puller.options", "write keep, last, now or a place"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "pull_off": {"absent": "gone"}}`, "pull_off.absent", "write last_of_pull_off or withdrawn"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "pull_off": {"measured": "no"}}`, "pull_off.measured", "write past_line or to_line"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "pull_off": {"sudden_death": true}}`, "", "unknown field"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": false, "rounds": 1, "pull_off": {}}`, "pull_off", "a floating set has no pull-off"},
	} {
		t.Run(row.document, func(t *testing.T) {
			t.Parallel()
			_, err := doc.ParseRuleSet([]byte(row.document))
			var refusal *domain.Error
			require.ErrorAs(t, err, &refusal)
			assert.Equal(t, domain.Invalid, refusal.Kind)
			assert.Equal(t, row.field, refusal.Field)
			assert.Contains(t, refusal.Error(), row.says)
			assert.NotEmpty(t, refusal.Fix)
		})
	}
}

// What the puller may choose always includes keeping; the file may say it or not.
func TestKeepNeedNotBeWritten(t *testing.T) {
	t.Parallel()
	const document = `{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "test_puller": {"options": [%s], "until": "u", "after_dq": true}}`
	with, err := doc.ParseRuleSet([]byte(strings.Replace(document, "%s", `"keep", "3", "last", "now"`, 1)))
	require.NoError(t, err)
	without, err := doc.ParseRuleSet([]byte(strings.Replace(document, "%s", `"3", "last", "now"`, 1)))
	require.NoError(t, err)
	assert.Equal(t, []domain.Option{3, domain.ToLast, domain.AtOnce}, with.Test.Options)
	assert.Equal(t, with, without)
	none, err := doc.ParseRuleSet([]byte(strings.Replace(document, "%s", `"keep"`, 1)))
	require.NoError(t, err)
	assert.Zero(t, none.Test, "keep alone is no choice")
}

// ruleSets draws any rule set that holds.
func ruleSets() *rapid.Generator[domain.RuleSet] {
	return rapid.Custom(func(t *rapid.T) domain.RuleSet {
		unit := rapid.SampledFrom([]domain.Unit{domain.Foot, domain.Inch, domain.Metre}).Draw(t, "unit")
		r := domain.RuleSet{
			Name: "ours", Title: rapid.SampledFrom([]string{"", "ours & <theirs>"}).Draw(t, "title"),
			Line:   length(t, rapid.StringMatching(`[1-9][0-9]{1,2}(\.[0-9]{1,3})?`).Draw(t, "line"), unit),
			Capped: rapid.Bool().Draw(t, "cap"), Rounds: rapid.IntRange(1, 9).Draw(t, "rounds"),
			Count:      rapid.SampledFrom([]domain.Count{domain.BestOf, domain.SumOf}).Draw(t, "counts"),
			RehookDrop: rapid.IntRange(0, 9).Draw(t, "rehook drop"), DropPlaces: rapid.IntRange(0, 9).Draw(t, "drop"),
			Reset: rapid.SampledFrom([]domain.ResetEffect{domain.Restart, domain.KeepHooks}).Draw(t, "reset"),
		}
		if rapid.Bool().Draw(t, "restart") {
			r.RestartLine = length(t, rapid.StringMatching(`[1-9](\.[0-9]{1,3})?`).Draw(t, "restart line"), unit)
		}
		if options := rapid.SliceOfNDistinct(rapid.SampledFrom([]domain.Option{domain.ToLast, domain.AtOnce, 2, 3, 6}), 0, 3, rapid.ID).Draw(t, "options"); len(options) > 0 {
			r.Test = domain.TestRule{Options: options, Until: rapid.SampledFrom([]string{"", "before unhooking"}).Draw(t, "until"), AfterDQ: rapid.Bool().Draw(t, "after DQ")}
		}
		if r.Capped {
			r.PullOff = domain.PullOffRule{Capped: rapid.Bool().Draw(t, "pull-off capped"), Added: rapid.Bool().Draw(t, "added"),
				SecondAttempt: rapid.Bool().Draw(t, "second"), Absent: rapid.SampledFrom([]domain.AbsentFinalist{domain.LastOfPullOff, domain.Withdrawn}).Draw(t, "absent")}
		}
		r.Points, r.Purse = pointsRules().Draw(t, "points"), purseRules().Draw(t, "purse")
		require.NoError(t, r.Check())
		return r
	})
}

func TestRuleSetsRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		rules := ruleSets().Draw(t, "rules")
		document, err := doc.WriteRuleSet(rules)
		require.NoError(t, err)
		again, err := doc.ParseRuleSet(document)
		require.NoError(t, err, "%s", document)
		require.Equal(t, rules, again, "%s", document)
	})
}

func FuzzReadRuleSet(f *testing.F) {
	for _, name := range doc.ReadyMade() {
		rules, err := doc.ReadyMadeRuleSet(name)
		require.NoError(f, err)
		document, err := doc.WriteRuleSet(rules)
		require.NoError(f, err)
		f.Add(document)
	}
	f.Add([]byte(`{"name": "x", "unit": "in", "line": "3600.0", "cap": false, "rounds": 9, "test_puller": {"options": ["keep"]}}`))
	f.Add([]byte(`{}`))
	f.Fuzz(func(t *testing.T, document []byte) {
		rules, err := doc.ParseRuleSet(document)
		if err != nil {
			require.Equal(t, domain.Invalid, domain.KindOf(err), "%v", err)
			return
		}
		written, err := doc.WriteRuleSet(rules)
		require.NoError(t, err)
		again, err := doc.ParseRuleSet(written)
		require.NoError(t, err, "%s", written)
		require.Equal(t, rules, again)
	})
}
