package doc_test

import (
	"cmp"
	"slices"
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
	third, err := domain.ParseTrackShare("1/3")
	require.NoError(t, err)
	limit, err := domain.ParseSpeed("4 mph")
	require.NoError(t, err)
	test := func(afterDQ bool, until string, options ...domain.Option) domain.TestRule {
		return domain.TestRule{Options: options, Until: until, AfterDQ: afterDQ}
	}
	const unhooking, leaving = "before unhooking", "before leaving the track"
	pullOff := domain.PullOffRule{Absent: domain.LastOfPullOff}
	for name, want := range map[string]domain.RuleSet{
		"capped-300ft": {Line: feet("300"), Capped: true, PullOff: pullOff, RestartLine: feet("75"), Test: test(true, unhooking, domain.ToLast)},
		"capped-300ft-movable": {Line: feet("300"), Moving: domain.LineRule{Choices: []domain.Distance{feet("320")}, After: 1}, Capped: true, PullOff: pullOff,
			Call:        domain.CallRule{Minutes: 3, From: "track ready", NotReady: domain.DropsBack},
			RestartLine: feet("75"), Test: test(false, leaving, 3, domain.ToLast), ResetWhen: domain.ResetRule{Past: feet("325")}, Reasons: domain.ReasonRule{SideLinesTo: feet("320")}},
		"top-three-300ft": {Line: feet("300"), Capped: true, PullOff: domain.PullOffRule{Who: domain.TopPlaces, Top: 3, Absent: domain.LastOfPullOff},
			RestartLine: feet("100"), Test: test(false, unhooking, domain.AtOnce)},
		"floating-ft": {Line: feet("300"), RestartLine: feet("75"), Test: test(true, unhooking, domain.ToLast)},
		"fair-floating-300ft": {Line: feet("300"), RestartLine: feet("75"), Test: test(false, unhooking, domain.ToLast), Entries: domain.EntryRule{VehicleTwice: domain.PlacesOnce},
			Reasons: domain.ReasonRule{Of: map[domain.Cause]domain.Consequence{domain.CauseOutOfBounds: domain.MeasuredThere, domain.CauseBreakage: domain.NoConsequence}}},
		"antique-speed-limited": {Line: feet("300"), Restarts: domain.RestartRule{Share: third}, Call: domain.CallRule{NotReady: domain.ForfeitsTurn},
			Speed: domain.SpeedRule{Limit: limit, From: domain.TrackMark{Share: third}, Device: "radar"}, Ties: domain.TieRule{Ties: domain.PulledAgain}},
		"garden-100ft": {Line: feet("100"), Capped: true, PullOff: domain.PullOffRule{Capped: true, Absent: domain.LastOfPullOff}, RestartLine: feet("35"),
			Call: domain.CallRule{Minutes: 3, From: "the call", NotReady: domain.DropsBack}, Test: test(true, leaving, 4, domain.ToLast), RehookMinutes: 5, Reset: domain.KeepHooks,
			Reasons: domain.ReasonRule{Of: map[domain.Cause]domain.Consequence{domain.CauseOutOfBounds: domain.LastPlace, domain.CauseSledOutOfBounds: domain.NoConsequence, domain.CauseBreakage: domain.LastPlace}}},
		"capped-100m":          {Line: metres("100"), Capped: true, PullOff: pullOff, RestartLine: metres("20")},
		"floating-m":           {Line: metres("100"), RestartLine: metres("20")},
		"best-of-two-100m":     {Line: metres("100"), Capped: true, Rounds: 2, PullOff: pullOff, RestartLine: metres("20")},
		"sum-of-two-100m":      {Line: metres("100"), Capped: true, Rounds: 2, Count: domain.SumOf, PullOff: domain.PullOffRule{Absent: domain.LastOfPullOff, Added: true}, RestartLine: metres("20")},
		"final-topped-up-100m": {Line: metres("100"), Capped: true, Rounds: 2, PullOff: domain.PullOffRule{FillTo: 3, Absent: domain.LastOfPullOff}, RestartLine: metres("20")},
		"dutch-farm-100m": {Line: metres("100"), Capped: true, PullOff: domain.PullOffRule{Absent: domain.LastOfPullOff, SecondAttempt: true}, RestartLine: metres("30"),
			Restarts: domain.RestartRule{Throttle: true, Options: []domain.Option{domain.AtOnce, domain.ToLast}}, Test: test(false, "before the next puller starts", domain.AtOnce),
			Reset: domain.PreviousAgain, Reasons: domain.ReasonRule{Of: map[domain.Cause]domain.Consequence{domain.CauseBreakage: domain.NoConsequence}}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			rules := set(t, name)
			want.Name, want.Title, want.RehookDrop = name, rules.Title, 4
			want.Protest = domain.ProtestRule{Until: "before trophies are handed over"}
			want.Rounds, want.Count, want.Reset = cmp.Or(want.Rounds, 1), cmp.Or(want.Count, domain.BestOf), cmp.Or(want.Reset, domain.Restart)
			assert.Equal(t, want, rules)
			assert.NotEmpty(t, rules.Title)
			document, err := doc.WriteRuleSet(rules)
			require.NoError(t, err)
			again, err := doc.ParseRuleSet(document)
			require.NoError(t, err)
			assert.Equal(t, rules, again)
		})
	}
	assert.Len(t, doc.ReadyMade(), 13)
	assert.True(t, slices.IsSorted(doc.ReadyMade()), "lists in parts go by the name")
	assert.Contains(t, doc.ReadyMade(), doc.DefaultRuleSet)
	_, err = doc.ReadyMadeRuleSet("capped-300")
	require.ErrorContains(t, err, `there is no ready-made rule set "capped-300"; choose one of antique-speed-limited, best-of-two-100m, capped-100m`)
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
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "reset": "maybe"}`, "reset", "write keep or never or previous or restart"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "restart": 60}`, "restart", "at or beyond the full-pull line"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "restart": 0}`, "restart", "lies at the start"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "restart": 1.2345}`, "restart", "is not a distance"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "rehook_drop": -1}`, "rehook_drop", "cannot be negative"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "test_puller": {"options": ["first"]}}`, "test_puller.options", "write keep, last, now, original or a place"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "pull_off": {"absent": "gone"}}`, "pull_off.absent", "write last_of_pull_off or withdrawn"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "pull_off": {"measured": "no"}}`, "pull_off.measured", "write past_line or to_line"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "pull_off": {"sudden_death": true}}`, "", "unknown field"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": false, "rounds": 1, "pull_off": {}}`, "pull_off", "a floating set has no pull-off"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "restart": 20, "restarts": {"options": ["3", "first"]}}`, "restarts.options", `"first" is not an option`},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "restart": 20, "restarts": {"options": [""]}}`, "restarts.options", "an option is empty"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "test_puller": {"silence": "soon"}}`, "test_puller.silence", `"soon" is not an option`},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "restarts": {"kinds": ["truck "]}}`, "restarts.kinds", "is no kind of vehicle with its line"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "restarts": {"kinds": ["truck 20ft"]}}`, "restarts.kinds", `"20ft" has a unit of its own`},
		{`{"name": "x", "unit": "ft", "line": 300, "cap": true, "rounds": 1, "speed": {"limit": "4 mph", "from": "75'"}}`, "speed.from", "has a unit of its own"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "speed": {}}`, "speed.limit", "no limit in it"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "moving_line": {}}`, "moving_line.choices", "nowhere to move it to"},
		{`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "reset_when": {"past": 0}}`, "reset_when.past", "every hook goes past the start"},
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

// What is meant without a field may be written too, and means the same.
func TestWhatIsMeantAnywayMayBeWritten(t *testing.T) {
	t.Parallel()
	parse := func(rest string) domain.RuleSet {
		rules, err := doc.ParseRuleSet([]byte(`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "restart": 20` + rest + `}`))
		require.NoError(t, err)
		return rules
	}
	silent := parse("")
	for _, rest := range []string{
		`, "restarts": {"attempts": 2, "judged_by": "sled", "options": ["now"]}`, `, "reasons": {"fluid": "no_distance"}`, `, "reasons": {}`, `, "measure": {}`,
		`, "test_puller": {"who": "first", "silence": "keep"}`, `, "pull_off": {}`, `, "ties": {"are": "shared", "places": 0}`, `, "call": {"minutes": 0}`, `, "order": {}`,
	} {
		assert.Equal(t, silent, parse(rest), rest)
	}
	assert.Equal(t, parse(`, "test_puller": {"options": ["last"], "must": true}`), parse(`, "test_puller": {"options": ["last"], "must": true, "silence": "last"}`))
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
