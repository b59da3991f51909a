package domain_test

import (
	"cmp"
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// ruleSets draws rule sets of every kind: capped and floating, one to three rounds, best and sum, pull-offs past the
// line and to it. Absent finalists are last of the pull-off; see the table tests for those who are withdrawn.
func ruleSets() *rapid.Generator[domain.RuleSet] {
	return rapid.Custom(func(t *rapid.T) domain.RuleSet {
		return set(t, rapid.SampledFrom(kinds).Draw(t, "set"), func(r *domain.RuleSet) {
			r.Rounds = rapid.IntRange(1, 3).Draw(t, "rounds")
			r.Count = rapid.SampledFrom([]domain.Count{domain.BestOf, domain.SumOf}).Draw(t, "count")
			r.PullOff.Capped = r.Capped && rapid.Bool().Draw(t, "pull-off to the line")
		})
	})
}

// kinds are ready-made sets of each kind.
var kinds = []string{"capped-300ft", "capped-100m", "floating-ft", "floating-m"}

// results draws a result that the rules settle in the round: few figures, so that equal ones are common.
func results(rules domain.RuleSet, name domain.RoundName) *rapid.Generator[domain.Result] {
	return rapid.Custom(func(t *rapid.T) domain.Result {
		written := rapid.SampledFrom([]string{
			"-", "DQ", "absent", "void", "rehook", "0", "50", "50.00", "99.9", "99.99", "299.5", "FP", "FP 300.0", "FP 320", "301", "355.041",
		}).Draw(t, "result")
		settled, err := rules.Settle(name, resultIn(t, written, rules.Unit()))
		if err != nil {
			return domain.Result{}
		}
		return settled
	})
}

// tables draws a class of up to nine entries with all its rounds and up to two pull-offs.
func tables() *rapid.Generator[domain.Table] {
	return rapid.Custom(func(t *rapid.T) domain.Table {
		ranked := domain.Table{Rules: ruleSets().Draw(t, "rules"), Complete: rapid.Bool().Draw(t, "complete")}
		for n := 1; n <= ranked.Rules.Rounds; n++ {
			ranked.Rounds = append(ranked.Rounds, domain.RoundName{Number: n})
		}
		pullOffs := rapid.IntRange(0, 2).Draw(t, "pull-offs")
		for n := 1; n <= pullOffs; n++ {
			ranked.Rounds = append(ranked.Rounds, domain.RoundName{PullOff: true, Number: n})
		}
		for i := range rapid.IntRange(1, 9).Draw(t, "entries") {
			row := domain.Row{Number: fmt.Sprint(100 - i)}
			for _, name := range ranked.Rounds {
				row.Results = append(row.Results, results(ranked.Rules, name).Draw(t, "hook"))
			}
			ranked.Rows = append(ranked.Rows, row)
		}
		return ranked
	})
}

// places maps numbers to places; whoever has no place comes after everybody.
func places(ranked domain.Table) map[string]int {
	places := make(map[string]int, len(ranked.Rows))
	for _, p := range domain.Rank(ranked) {
		places[ranked.Rows[p.Row].Number] = cmp.Or(p.Place, len(ranked.Rows)+1)
	}
	return places
}

// Everybody is listed once; a place is one more than the number of entries before it; who has none is last.
func TestPlacesAreCompetitionRanking(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		ranked := tables().Draw(t, "table")
		placings := domain.Rank(ranked)
		listed := make(map[int]bool)
		with := make(map[int]int) // how many have a place
		for i, p := range placings {
			require.False(t, listed[p.Row], "listed twice")
			listed[p.Row] = true
			with[p.Place]++
			if i > 0 {
				before := placings[i-1].Place
				require.False(t, before == 0 && p.Place > 0, "a place after none")
				require.True(t, p.Place == 0 || p.Place == before || p.Place == i+1, "place %d on line %d after %d", p.Place, i+1, before)
			} else {
				require.LessOrEqual(t, p.Place, 1)
			}
		}
		require.Len(t, listed, len(ranked.Rows))
		for _, p := range placings {
			require.Equal(t, p.Place > 0 && with[p.Place] > 1, p.Shared)
			require.Equal(t, p.Place > 0, hasPlace(ranked, ranked.Rows[p.Row]), "a place is owed to a distance in a class round")
			require.Equal(t, p.Place > 0, !p.Total.IsZero())
		}
	})
}

// hasPlace says from the rule's words whether an entry has a place: a distance or a full pull in a class round.
func hasPlace(ranked domain.Table, row domain.Row) bool {
	for i, r := range row.Results {
		if !ranked.Rounds[i].PullOff && (r.Outcome == domain.Measured || r.Outcome == domain.FullPull) {
			return true
		}
	}
	return false
}

// A standing is a total preorder of the entries: how two of them compare does not depend on who else is there.
func TestTwoEntriesCompareTheSameInEveryCompany(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		ranked := tables().Filter(func(t domain.Table) bool { return len(t.Rows) > 1 }).Draw(t, "table")
		all := places(ranked)
		out := rapid.IntRange(0, len(ranked.Rows)-1).Draw(t, "left out")
		fewer := ranked
		fewer.Rows = slices.Delete(slices.Clone(ranked.Rows), out, out+1)
		some := places(fewer)
		for _, a := range fewer.Rows {
			for _, b := range fewer.Rows {
				require.Equal(t, sign(all[a.Number]-all[b.Number]), sign(some[a.Number]-some[b.Number]), "%s against %s", a.Number, b.Number)
			}
		}
	})
}

func sign(n int) int { return cmp.Compare(n, 0) }

// The order in which entries are written down changes nothing.
func TestPermutingEntriesChangesNothing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		ranked := tables().Draw(t, "table")
		permuted := ranked
		permuted.Rows = rapid.Permutation(ranked.Rows).Draw(t, "permuted")
		before, after := domain.Rank(ranked), domain.Rank(permuted)
		for i := range before {
			require.Equal(t, ranked.Rows[before[i].Row].Number, permuted.Rows[after[i].Row].Number)
			before[i].Row, after[i].Row = 0, 0
		}
		require.Equal(t, before, after)
	})
}

// worth orders results of a round from the rules' words alone: reached distance, then (in pull-offs) a
// disqualification, then everything else.
func worth(rules domain.RuleSet, name domain.RoundName, r domain.Result) int64 {
	capped := rules.Capped && (!name.PullOff || rules.PullOff.Capped)
	switch {
	case r.Outcome == domain.FullPull && (capped || r.Distance.IsZero()):
		return rules.Line.Milli()
	case r.Outcome == domain.FullPull || r.Outcome == domain.Measured:
		return r.Distance.Milli()
	case r.Outcome == domain.Disqualified && name.PullOff:
		return -1
	default:
		return -2
	}
}

// A worse hook never lifts its own entry, and never puts another one back.
func TestAWorseHookNeverLifts(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		ranked := tables().Draw(t, "table")
		before := places(ranked)
		entry := rapid.IntRange(0, len(ranked.Rows)-1).Draw(t, "entry")
		at := rapid.IntRange(0, len(ranked.Rounds)-1).Draw(t, "round")
		name, was := ranked.Rounds[at], ranked.Rows[entry].Results[at]
		worse := results(ranked.Rules, name).Draw(t, "worse")
		if worth(ranked.Rules, name, worse) > worth(ranked.Rules, name, was) {
			t.Skip("not worse")
		}
		ranked.Rows[entry].Results[at] = worse
		after := places(ranked)
		for i, row := range ranked.Rows {
			if i == entry {
				require.GreaterOrEqual(t, after[row.Number], before[row.Number], "%s instead of %s in round %s lifted it", worse, was, name)
			} else {
				require.LessOrEqual(t, after[row.Number], before[row.Number], "%s of %s put %s back", worse, ranked.Rows[entry].Number, row.Number)
			}
		}
	})
}
