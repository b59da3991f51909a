package domain_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// length reads a length in metres.
func length(t require.TestingT, s string) domain.Distance { return distance(t, s, domain.Metre) }

// anyRules draws everything in a metric rule set that decides something, so that what is drawn holds together.
func anyRules(t *rapid.T, r *domain.RuleSet) {
	r.Reset = rapid.SampledFrom([]domain.ResetEffect{domain.Restart, domain.KeepHooks, domain.PreviousAgain, domain.NoReset}).Draw(t, "reset")
	r.Stopped = rapid.SampledFrom([]domain.StoppedEffect{domain.CompleteRounds, domain.NothingStands, domain.AsPulled}).Draw(t, "stopped")
	r.Entries.VehicleTwice = rapid.SampledFrom([]domain.VehicleTwice{domain.OncePerClass, domain.PlacesTwice, domain.PlacesOnce}).Draw(t, "vehicle twice")
	r.Ties = rapid.SampledFrom([]domain.TieRule{{}, {}, {Ties: domain.PulledAgain}, {Ties: domain.PulledAgain, Places: 2}}).Draw(t, "ties")
	if r.Rounds > 1 && r.Count == domain.BestOf && rapid.Bool().Draw(t, "next best") {
		r.Ties = domain.TieRule{Ties: domain.NextBest}
	}
	if rapid.Bool().Draw(t, "attempts") {
		r.Restarts = domain.RestartRule{Attempts: rapid.IntRange(2, 4).Draw(t, "how many"), Throttle: rapid.Bool().Draw(t, "throttle"),
			Options: []domain.Option{domain.AtOnce, 3, domain.ToLast}, Kinds: []domain.KindLine{{Kind: "truck", Line: length(t, "30")}}}
	}
	if rapid.Bool().Draw(t, "test puller") {
		r.Test = domain.TestRule{Who: domain.ChosenPuller, Options: []domain.Option{domain.ToOriginal}, Must: rapid.Bool().Draw(t, "must"), LostPartFree: true}
	}
	r.Call.DropOnce = rapid.Bool().Draw(t, "drop once")
	r.Order.ClosedAtStart = rapid.Bool().Draw(t, "closed at start")
	if rapid.Bool().Draw(t, "minimum") {
		r.Measure.Minimum = length(t, "0.03")
	}
	if rapid.Bool().Draw(t, "reasons") {
		r.Reasons.Of = map[domain.Cause]domain.Consequence{domain.CauseOutOfBounds: domain.LastPlace, domain.CauseLostPart: domain.MeasuredThere,
			domain.CauseSpeed: domain.AttemptLost}
	}
	if r.Capped {
		r.Moving = domain.LineRule{Choices: []domain.Distance{length(t, "110")}, After: rapid.IntRange(1, 3).Draw(t, "line by")}
		anyPullOff(t, &r.PullOff)
	}
}

// anyPullOff draws who comes back for a pull-off and what it is worth.
func anyPullOff(t *rapid.T, p *domain.PullOffRule) {
	switch rapid.IntRange(0, 3).Draw(t, "who comes back") {
	case 0:
		p.FillTo = rapid.IntRange(2, 4).Draw(t, "fill to")
	case 1:
		p.Who, p.Top = domain.TopPlaces, rapid.IntRange(2, 3).Draw(t, "top")
	case 2:
		p.Who = domain.Nobody
	}
	p.Capped = rapid.Bool().Draw(t, "pull-off to the line")
	p.Reversed = rapid.Bool().Draw(t, "reversed")
	p.SecondAttempt = rapid.Bool().Draw(t, "restart in the pull-off")
	p.Absent = rapid.SampledFrom([]domain.AbsentFinalist{domain.LastOfPullOff, domain.Withdrawn}).Draw(t, "absent")
	p.DisqualifiedOut = rapid.Bool().Draw(t, "disqualified out")
	if rapid.Bool().Draw(t, "line of its own") {
		p.Line = length(t, "115")
	}
}

// Under whatever rules: ranking a table does not panic, lists everybody once, gives the places 1, 2, 3, 3, 5, and says
// the same of the same results when the entries bear other numbers and vehicles other names.
func TestRankingUnderAnyRules(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		rules := set(t, rapid.SampledFrom([]string{"capped-100m", "best-of-two-100m", "sum-of-two-100m", "floating-m"}).Draw(t, "set"),
			func(r *domain.RuleSet) { anyRules(t, r) })
		ranked := anyTable(t, rules)
		placings := domain.Rank(ranked)
		rows := make(map[int]bool)
		for i, p := range placings {
			rows[p.Row] = true
			require.False(t, p.Again && p.Place > 0, "an entry whose vehicle is placed has a place")
			if i > 0 && p.Place > 0 {
				require.True(t, p.Place == placings[i-1].Place || p.Place == i+1, "place %d on line %d", p.Place, i+1)
			}
		}
		require.Len(t, rows, len(ranked.Rows))

		renamed := ranked
		renamed.Rows = slices.Clone(ranked.Rows)
		for i := range renamed.Rows {
			renamed.Rows[i].Number = "N" + fmt.Sprint(len(renamed.Rows)-i)
			renamed.Rows[i].Vehicle += " again"
		}
		if rules.Entries.VehicleTwice == domain.PlacesOnce {
			// Which of a vehicle's equal entries bears its place is told by their numbers.
			require.Equal(t, byVehicle(ranked, placings), byVehicle(ranked, domain.Rank(renamed)))
			return
		}
		require.Equal(t, byRow(placings), byRow(domain.Rank(renamed)))
	})
}

// anyTable draws a class under the rules, with up to two pull-offs.
func anyTable(t *rapid.T, rules domain.RuleSet) domain.Table {
	ranked := domain.Table{Rules: rules, Complete: rapid.Bool().Draw(t, "complete")}
	for n := 1; n <= rules.Rounds; n++ {
		ranked.Rounds = append(ranked.Rounds, domain.RoundName{Number: n})
	}
	for n := range rapid.IntRange(0, 2).Draw(t, "pull-offs") {
		ranked.Rounds = append(ranked.Rounds, domain.RoundName{PullOff: true, Number: n + 1})
	}
	for i := range rapid.IntRange(1, 8).Draw(t, "entries") {
		row := domain.Row{Number: fmt.Sprint(i + 1), Vehicle: rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "vehicle")}
		for _, name := range ranked.Rounds {
			written := rapid.SampledFrom([]string{"-", "DQ out of bounds", "DQ at 61 lost part", "absent", "0", "0.01", "50", "50.00", "99", "FP 104", "FP 112", "FP 120"}).Draw(t, "hook")
			settled, err := rules.Settle(name, resultIn(t, written, domain.Metre))
			if err == nil {
				row.Results = append(row.Results, settled)
			} else {
				row.Results = append(row.Results, domain.Result{})
			}
		}
		ranked.Rows = append(ranked.Rows, row)
	}
	return ranked
}

// byVehicle is the place of each vehicle.
func byVehicle(ranked domain.Table, placings []domain.Placing) map[string]int {
	places := make(map[string]int)
	for _, p := range placings {
		vehicle := ranked.Rows[p.Row].Vehicle
		places[vehicle] = max(places[vehicle], p.Place)
	}
	return places
}

// byRow lists placings by row, so that what ties are listed by makes no difference.
func byRow(placings []domain.Placing) []domain.Placing {
	sorted := slices.Clone(placings)
	slices.SortFunc(sorted, func(a, b domain.Placing) int { return a.Row - b.Row })
	return sorted
}
