package domain_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// table reads a table as it is written in a test: the rounds "1 P1 P2", then a row an entry, "A: FP, 312.44", with
// "-" where the entry did not hook.
func table(t require.TestingT, rules domain.RuleSet, rounds string, rows ...string) domain.Table {
	ranked := domain.Table{Rules: rules, Complete: true}
	for _, name := range strings.Fields(rounds) {
		ranked.Rounds = append(ranked.Rounds, round(t, name))
	}
	for _, written := range rows {
		number, results, _ := strings.Cut(written, ":")
		row := domain.Row{Number: number}
		for i, cell := range strings.Split(results, ",") {
			r, err := rules.Settle(ranked.Rounds[i], resultIn(t, strings.TrimSpace(cell), rules.Unit()))
			require.NoError(t, err, written)
			row.Results = append(row.Results, r)
		}
		ranked.Rows = append(ranked.Rows, row)
	}
	return ranked
}

// standing prints a standing as a result sheet does: "1 A", "3= C" for a shared place, "- E" for none.
func standing(ranked domain.Table) []string {
	var lines []string
	for _, p := range domain.Rank(ranked) {
		place := "-"
		if p.Place > 0 {
			place = fmt.Sprint(p.Place)
		}
		if p.Shared {
			place += "="
		}
		lines = append(lines, place+" "+ranked.Rows[p.Row].Number)
	}
	return lines
}

func withdrawn(r *domain.RuleSet) { r.PullOff.Absent = domain.Withdrawn }

func toLine(r *domain.RuleSet) { r.PullOff.Capped = true }

func rounds(n int) func(*domain.RuleSet) { return func(r *domain.RuleSet) { r.Rounds = n } }

// The sentences of the rules of scoring, one row each.
func TestStandingReadsLikeTheRuleBook(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		rule   string
		rules  domain.RuleSet
		rounds string
		rows   []string
		want   []string
	}{
		{"the longest distance wins", set(t, "capped-300ft"), "1",
			[]string{"A: 281.36", "B: 290.1", "C: 75"}, []string{"1 B", "2 A", "3 C"}},
		{"digits may differ: 276.2 is 276.200", set(t, "capped-300ft"), "1",
			[]string{"A: 276.2", "B: 276.200", "C: 276.201"}, []string{"1 C", "2= A", "2= B"}},
		{"a thousandth decides", set(t, "floating-ft"), "1",
			[]string{"A: 304.210", "B: 304.211"}, []string{"1 B", "2 A"}},
		{"equal entries share: 1, 2, 3, 3, 5", set(t, "capped-300ft"), "1",
			[]string{"A: 290", "B: 280", "C: 270", "D: 270", "E: 260"}, []string{"1 A", "2 B", "3= C", "3= D", "5 E"}},
		{"nothing else breaks a tie; the equal are listed by number", set(t, "capped-300ft"), "1",
			[]string{"12: 270", "7b: 270", "7: 270", "100: 270", "B9: 270"}, []string{"1= 7", "1= 7b", "1= 12", "1= 100", "1= B9"}},
		{"0 is a distance and has a place", set(t, "capped-300ft"), "1",
			[]string{"A: 0", "B: 0.5", "C: DQ"}, []string{"1 B", "2 A", "- C"}},
		{"only DQ, absent, void or rehook in all class rounds: no place, never last", set(t, "capped-300ft"), "1",
			[]string{"A: DQ", "B: absent", "C: void", "D: rehook", "E: 3", "F: -"},
			[]string{"1 E", "- A", "- B", "- C", "- D", "- F"}},
		{"nobody has a distance: nobody has a place", set(t, "capped-300ft"), "1",
			[]string{"A: DQ", "B: absent"}, []string{"- A", "- B"}},

		{"capped: at or past the line is a full pull, and all full pulls are equal", set(t, "capped-300ft"), "1",
			[]string{"A: 300", "B: FP 340.9", "C: FP", "D: 299.999"}, []string{"1= A", "1= B", "1= C", "4 D"}},
		{"floating: the figure counts", set(t, "floating-ft"), "1",
			[]string{"A: FP 312.44", "B: 312.45", "C: 355.041"}, []string{"1 C", "2 B", "3 A"}},
		{"floating: FP with a figure is the figure", set(t, "floating-m"), "1",
			[]string{"A: FP 104.10", "B: 104.1"}, []string{"1= A", "1= B"}},
		{"exactly one full puller wins without a pull-off", set(t, "capped-300ft"), "1",
			[]string{"A: 299.9", "B: FP"}, []string{"1 B", "2 A"}},

		{"pull-off distance first, then the others by class distance, even when theirs is longer", set(t, "capped-100m"), "1 P1",
			[]string{"A: 99.99, -", "B: FP, 20.11", "C: FP, 27.38"}, []string{"1 C", "2 B", "3 A"}},
		{"past the line in the pull-off the figure counts", set(t, "capped-100m"), "1 P1",
			[]string{"A: FP, 124.96", "B: FP, FP 112.90", "C: FP, 99.99"}, []string{"1 A", "2 B", "3 C"}},
		{"in a pull-off distances, then DQ, then absent or no line", set(t, "capped-300ft"), "1 P1",
			[]string{"A: FP, absent", "B: FP, DQ", "C: FP, 0", "D: FP, 12", "E: FP, -", "F: 299, -"},
			[]string{"1 D", "2 C", "3 B", "4= A", "4= E", "6 F"}},
		{"a hook that does not count in the pull-off is no hook", set(t, "capped-300ft"), "1 P1",
			[]string{"A: FP, void", "B: FP, 3", "C: FP, rehook", "D: FP, absent"}, []string{"1 B", "2= A", "2= C", "2= D"}},
		{"two disqualified finalists share", set(t, "capped-300ft"), "1 P1",
			[]string{"A: FP, DQ", "B: FP, DQ", "C: FP, 3"}, []string{"1 C", "2= A", "2= B"}},
		{"whoever was qualified stays before whoever was not, who can gain nothing in a pull-off", set(t, "capped-300ft"), "1 P1",
			[]string{"A: 299, 340", "B: FP, 3"}, []string{"1 B", "2 A"}},
		{"full pulls that no pull-off was held for share", set(t, "capped-300ft"), "1",
			[]string{"A: FP", "B: FP", "C: 250"}, []string{"1= A", "1= B", "3 C"}},

		{"capped pull-off: a second one decides among the tied only", set(t, "capped-100m", toLine), "1 P1 P2",
			[]string{"A: FP, FP, 50.6", "B: FP, FP, 49.9", "C: FP, 80.0, -"}, []string{"1 A", "2 B", "3 C"}},
		{"three pull-offs", set(t, "capped-100m", toLine), "1 P1 P2 P3",
			[]string{"A: FP, FP, FP, 3", "B: FP, FP, FP, 4", "C: FP, FP, 99, -", "D: FP, absent, -, -"},
			[]string{"1 B", "2 A", "3 C", "4 D"}},
		{"absent from the second pull-off: last of it, before whoever was not in it", set(t, "capped-100m", toLine), "1 P1 P2",
			[]string{"A: FP, FP, 50.6", "B: FP, FP, absent", "C: FP, 99.9, -"}, []string{"1 A", "2 B", "3 C"}},
		{"rounds in any order: P1 is compared before P2", set(t, "capped-100m", toLine), "P2 1 P1",
			[]string{"A: 3, FP, FP", "B: 4, FP, FP", "C: 99, FP, 98"}, []string{"1 B", "2 A", "3 C"}},

		{"best of two takes the best", set(t, "best-of-two-100m"), "1 2",
			[]string{"A: 83.91, 70", "B: 20, 83.92", "C: DQ, 83.91", "D: 83.91, -", "E: absent, absent"},
			[]string{"1 B", "2= A", "2= C", "2= D", "- E"}},
		{"best of two: one full pull is a full pull", set(t, "best-of-two-100m"), "1 2 P1",
			[]string{"A: FP, -, 60", "B: 40, FP, 61", "C: 99.99, 99.99, -"}, []string{"1 B", "2 A", "3 C"}},
		{"sum of two adds; missing, DQ and absent add 0", set(t, "sum-of-two-100m"), "1 2",
			[]string{"A: 90, 50", "B: 70, 70.01", "C: 95, DQ", "D: 95, absent", "E: 95, -", "F: DQ, DQ"},
			[]string{"1 B", "2 A", "3= C", "3= D", "3= E", "- F"}},
		{"sum of two: each pull is capped at the line", set(t, "sum-of-two-100m"), "1 2",
			[]string{"A: FP 124.96, 80", "B: 100, 80", "C: FP, 80.01"}, []string{"1 C", "2= A", "2= B"}},
		{"sum of two: only two full pulls are a full sum", set(t, "sum-of-two-100m"), "1 2 P1",
			[]string{"A: FP, FP, 85.02", "B: FP, 99.99, -", "C: FP, FP, 90.59"}, []string{"1 C", "2 A", "3 B"}},
		{"sum of three", set(t, "sum-of-two-100m", rounds(3)), "1 2 3",
			[]string{"A: 50, 50, 50", "B: FP, 50, 0", "C: 50, 51, 49.01"}, []string{"1 C", "2= A", "2= B"}},
		{"best of two, floating", set(t, "floating-ft", rounds(2)), "1 2",
			[]string{"A: 320, 355.041", "B: FP 353.069, 10"}, []string{"1 A", "2 B"}},

		{"an absent finalist is last of the pull-off", set(t, "capped-100m"), "1 P1",
			[]string{"A: FP, 30", "B: FP, absent", "C: 99, -"}, []string{"1 A", "2 B", "3 C"}},
		{"or withdrawn: the others move up", set(t, "capped-100m", withdrawn), "1 P1",
			[]string{"A: FP, 30", "B: FP, absent", "C: 99, -"}, []string{"1 A", "2 C", "- B"}},
		{"withdrawn without a line as well", set(t, "capped-100m", withdrawn), "1 P1",
			[]string{"A: FP, 30", "B: FP, -", "C: 99, -"}, []string{"1 A", "2 C", "- B"}},
		{"a disqualified finalist came, and is not withdrawn", set(t, "capped-100m", withdrawn), "1 P1",
			[]string{"A: FP, 30", "B: FP, DQ", "C: 99, -"}, []string{"1 A", "2 B", "3 C"}},
		{"all finalists absent: none has a place", set(t, "capped-100m", withdrawn), "1 P1",
			[]string{"A: FP, absent", "B: FP, absent", "C: 99, -"}, []string{"1 C", "- A", "- B"}},
		{"one full puller needs no pull-off and is not withdrawn", set(t, "capped-100m", withdrawn), "1 P1",
			[]string{"A: FP, absent", "B: 99, -"}, []string{"1 A", "2 B"}},
		{"a pull-off in which nothing counted was not held: nobody is withdrawn", set(t, "capped-100m", withdrawn), "1 P1",
			[]string{"A: FP, void", "B: FP, -", "C: 99, -"}, []string{"1= A", "1= B", "3 C"}},
		{"no pull-off was held: nobody is withdrawn", set(t, "capped-100m", withdrawn), "1",
			[]string{"A: FP", "B: FP"}, []string{"1= A", "1= B"}},
	} {
		t.Run(row.rule, func(t *testing.T) {
			t.Parallel()
			ranked := table(t, row.rules, row.rounds, row.rows...)
			assert.Equal(t, row.want, standing(ranked))
			shuffled := ranked
			shuffled.Rows = slices.Clone(ranked.Rows)
			rand.New(rand.NewPCG(1, 2)).Shuffle(len(shuffled.Rows), func(i, j int) {
				shuffled.Rows[i], shuffled.Rows[j] = shuffled.Rows[j], shuffled.Rows[i]
			})
			assert.Equal(t, row.want, standing(shuffled), "the order of the rows does not matter")
		})
	}
}

// While a pull-off is under way a finalist who has not hooked yet is not withdrawn; marked absent, it is.
func TestAFinalistStillToHookIsNotWithdrawn(t *testing.T) {
	t.Parallel()
	ranked := table(t, set(t, "capped-100m", withdrawn), "1 P1", "A: FP, 30", "B: FP, -", "C: FP, absent", "D: 99, -")
	ranked.Complete = false
	assert.Equal(t, []string{"1 A", "2 B", "3 D", "- C"}, standing(ranked))
	placings := domain.Rank(ranked)
	assert.True(t, placings[3].Withdrawn)
	assert.False(t, placings[1].Withdrawn)
}

func TestTotalsArePrintedAsTheRulesCountThem(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		rule, want string
		full       bool
		ranked     domain.Table
	}{
		{"one round", "281.36 ft", false, table(t, set(t, "capped-300ft"), "1", "A: 281.36")},
		{"a full pull is the line", "300 ft", true, table(t, set(t, "capped-300ft"), "1", "A: FP")},
		{"also when it was measured further", "300 ft", true, table(t, set(t, "capped-300ft"), "1", "A: FP 312.44")},
		{"the pull-off is not added", "300 ft", true, table(t, set(t, "capped-300ft"), "1 P1", "A: FP, 312.44", "B: FP, 3")},
		{"the better of two, with its own digits", "83.910 m", false, table(t, set(t, "best-of-two-100m"), "1 2", "A: 83.9, 83.910")},
		{"a sum keeps the most digits", "188.64 m", false, table(t, set(t, "sum-of-two-100m"), "1 2", "A: FP, 88.64")},
		{"a sum is capped pull by pull", "188.64 m", false, table(t, set(t, "sum-of-two-100m"), "1 2", "A: FP 124.96, 88.64")},
		{"what does not count adds nothing", "88.64 m", false, table(t, set(t, "sum-of-two-100m"), "1 2", "A: DQ, 88.64")},
		{"the third pull is added where the rules say so", "290.59 m", true,
			table(t, set(t, "sum-of-two-100m"), "1 2 P1", "A: FP, FP, 90.59", "B: FP, FP, 85.02")},
		{"floating is never full", "355.041 ft", false, table(t, set(t, "floating-ft"), "1", "A: FP 355.041")},
		{"no place, no figure", "", false, table(t, set(t, "capped-300ft"), "1", "A: DQ")},
	} {
		t.Run(row.rule, func(t *testing.T) {
			t.Parallel()
			best := domain.Rank(row.ranked)[0]
			assert.Equal(t, row.want, best.Total.String())
			assert.Equal(t, row.full, best.FullPull)
		})
	}
}

// Rank caps for itself: a table need not have been settled.
func TestAFigurePastTheLineIsCappedInAClassRound(t *testing.T) {
	t.Parallel()
	ranked := table(t, set(t, "sum-of-two-100m"), "1 2", "A: 90, 50", "B: 30, 100")
	ranked.Rows[1].Results[1] = resultIn(t, "124.96", domain.Metre)
	assert.Equal(t, []string{"1 A", "2 B"}, standing(ranked))
	assert.Equal(t, "130 m", domain.Rank(ranked)[1].Total.String())
}

func TestAnEmptyTableHasAnEmptyStanding(t *testing.T) {
	t.Parallel()
	assert.Empty(t, domain.Rank(domain.Table{Rules: set(t, "capped-300ft")}))
}

func TestNumbersAreListedAsPeopleReadThem(t *testing.T) {
	t.Parallel()
	inOrder := []string{"1", "7", "7b", "07", "12", "100", "99999999999999999999", "99999999999999999999a", "A1", "B", "b"}
	slices.SortFunc(inOrder, strings.Compare)
	slices.SortStableFunc(inOrder, domain.CompareNumbers)
	assert.Equal(t, []string{"1", "07", "7", "7b", "12", "100", "99999999999999999999", "99999999999999999999a", "A1", "B", "b"}, inOrder)
	assert.Zero(t, domain.CompareNumbers("7b", "7b"))
}
