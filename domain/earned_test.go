package domain_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// book is a rule for points in which everything is as a file has it that leaves all out.
func book(changes ...func(*domain.PointsRule)) domain.PointsRule {
	p := domain.PointsRule{To: domain.ToVehicle, Places: []int{10}, Step: 1, Outside: domain.AwardPlace, DQ: domain.AwardAddOns, PullOffDQ: domain.AwardPlace,
		Broke: domain.AwardPlace, BrokeBefore: domain.AwardAddOns, NotHooked: domain.AwardAddOns, Late: domain.AwardPlace, Ties: domain.TieAverage,
		Guests: domain.ClosedUp, Stopped: domain.AwardNothing, NotRun: domain.AwardNothing, Below: domain.AwardShowUp}
	for _, change := range changes {
		change(&p)
	}
	return p
}

// earn ranks a class of one floating round, given number by number as "41 281.36", and returns the totals in that order. Guests
// are the rows named.
func earn(t require.TestingT, p domain.PointsRule, results []string, guests ...int) []string {
	standing, _, competitors := payees(t, results, func(i int, c *domain.Competitor) { c.Guest = slices.Contains(guests, i-1) })
	require.NoError(t, p.Check())
	var totals []string
	for _, earned := range p.Earn(standing, competitors, domain.Pulled) {
		totals = append(totals, earned.Total().String())
	}
	return totals
}

func TestTiedPlacesAreAveragedFullOrLowest(t *testing.T) {
	t.Parallel()
	tied := []string{"250", "240", "240", "240", "200", "DQ"}
	ties := func(way domain.TiePoints) func(*domain.PointsRule) {
		return func(p *domain.PointsRule) { p.Ties = way }
	}
	assert.Equal(t, []string{"10", "8", "8", "8", "6", "0"}, earn(t, book(ties(domain.TieAverage)), tied), "SCW 5")
	assert.Equal(t, []string{"10", "9", "9", "9", "6", "0"}, earn(t, book(ties(domain.TieFull)), tied), "common practice, no published source")
	assert.Equal(t, []string{"10", "7", "7", "7", "6", "0"}, earn(t, book(ties(domain.TieLowest)), tied), "common practice, no published source")
	two := book(func(p *domain.PointsRule) { p.Places, p.Step = []int{50, 48, 45}, 3 })
	assert.Equal(t, []string{"47 2/3", "47 2/3", "47 2/3", "42"}, earn(t, two, []string{"250", "250", "250", "200"}))
}

// A guest in a tie: closed up, the members share what is left; in actual places the guest takes up one of them.
func TestAGuestInATie(t *testing.T) {
	t.Parallel()
	tied := []string{"250", "250", "240"}
	assert.Equal(t, []string{"0", "10", "9"}, earn(t, book(), tied, 0))
	actual := book(func(p *domain.PointsRule) { p.Guests = domain.ActualPlaces })
	assert.Equal(t, []string{"0", "9.5", "8"}, earn(t, actual, tied, 0), "NATPA: according to how it actually placed")
}

// Whatever the rules, a better place never earns less, equal places earn the same, guests nothing, and averaged ties
// give out just the points of the places that were taken.
func TestPointsFollowThePlaces(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		results := rapid.SliceOfN(rapid.SampledFrom([]string{"250", "240", "240.0", "0", "12", "DQ", "absent"}), 1, 12).Draw(t, "results")
		guests := rapid.SliceOfDistinct(rapid.IntRange(0, len(results)-1), rapid.ID[int]).Draw(t, "guests")
		p := book(func(p *domain.PointsRule) {
			p.Places, p.Step = []int{rapid.IntRange(20, 50).Draw(t, "first")}, rapid.IntRange(0, 3).Draw(t, "step")
			p.Guests = rapid.SampledFrom([]domain.GuestPlaces{domain.ClosedUp, domain.ActualPlaces}).Draw(t, "behind guests")
		})
		standing, _, competitors := payees(t, results, func(i int, c *domain.Competitor) { c.Guest = slices.Contains(guests, i-1) })
		earned := p.Earn(standing, competitors, domain.Pulled)
		var given domain.Points
		members := 0
		last, lastPlace := domain.WholePoints(9999), 0
		for _, placing := range standing {
			got := earned[placing.Row].Total()
			given += got
			if competitors[placing.Row].Guest || placing.Place == 0 {
				require.Zero(t, got)
				continue
			}
			members++
			require.LessOrEqual(t, got, last)
			if placing.Place == lastPlace {
				require.Equal(t, last, got)
			}
			last, lastPlace = got, placing.Place
		}
		if p.Guests == domain.ClosedUp || len(guests) == 0 {
			var places domain.Points
			for i := range members {
				places += domain.WholePoints(max(0, p.Places[0]-i*p.Step))
			}
			require.Equal(t, places, given)
		}
	})
}

func TestWhatAnEntryDidIsReadFromItsResults(t *testing.T) {
	t.Parallel()
	ranked := domain.Table{Rules: set(t, "capped-300ft"), Rounds: []domain.RoundName{{Number: 1}, {PullOff: true, Number: 1}}}
	for _, row := range []struct {
		results [2]string
		want    domain.Competitor
	}{
		{[2]string{"281.36", "-"}, domain.Competitor{Hooked: true, Moved: true}},
		{[2]string{"0", "-"}, domain.Competitor{Hooked: true}},
		{[2]string{"FP", "12"}, domain.Competitor{Hooked: true, Moved: true, Finalist: true}},
		{[2]string{"FP", "absent"}, domain.Competitor{Hooked: true, Moved: true, Finalist: true}},
		{[2]string{"FP", "DQ speed"}, domain.Competitor{Hooked: true, Moved: true, Finalist: true, PullOffDQ: true}},
		{[2]string{"DQ out of bounds: left rear wheel", "-"}, domain.Competitor{Hooked: true, Disqualified: true, Cause: domain.CauseOutOfBounds}},
		{[2]string{"DQ Not ready", "-"}, domain.Competitor{Disqualified: true, Cause: domain.CauseNotReady}},
		{[2]string{"absent breakage: belt", "-"}, domain.Competitor{Broke: true}},
		{[2]string{"rehook", "-"}, domain.Competitor{Hooked: true}},
		{[2]string{"void", "-"}, domain.Competitor{}},
		{[2]string{"-", "-"}, domain.Competitor{}},
	} {
		results := []domain.Result{resultIn(t, row.results[0], domain.Foot), resultIn(t, row.results[1], domain.Foot)}
		row.want.Present, row.want.Paid = true, true
		assert.Equal(t, row.want, ranked.Competitor(domain.Row{Results: results}), row.results)
	}
}

func TestPointsThatContradictAreRefused(t *testing.T) {
	t.Parallel()
	for field, change := range map[string]func(*domain.PointsRule){
		"points.dq":        func(p *domain.PointsRule) { p.DQ = domain.Award{} },
		"points.below":     func(p *domain.PointsRule) { p.Below = domain.Award{} },
		"points.step":      func(p *domain.PointsRule) { p.Step = -1 },
		"points.minimum":   func(p *domain.PointsRule) { p.Minimum = 10_000 },
		"points.ties":      func(p *domain.PointsRule) { p.Ties = 0 },
		"points.guests":    func(p *domain.PointsRule) { p.Guests = 0 },
		"points.places":    func(p *domain.PointsRule) { p.Places = []int{9, 10} },
		"points.floor":     func(p *domain.PointsRule) { p.Floor = 11 },
		"points.dq_causes": func(p *domain.PointsRule) { p.DQCauses = []domain.CauseAward{{Cause: "speed"}, {Cause: "speed"}} },
	} {
		var refusal *domain.Error
		require.ErrorAs(t, book(change).Check(), &refusal, field)
		assert.Equal(t, field, refusal.Field)
	}
	negative := book(func(p *domain.PointsRule) { p.Places = []int{-1} })
	require.ErrorContains(t, negative.Check(), "outside 0 to 9999")
	require.NoError(t, domain.PointsRule{}.Check(), "no points")
	assert.Equal(t, []domain.Earned{{}, {}}, domain.PointsRule{}.Earn(nil, make([]domain.Competitor, 2), domain.Pulled))
}
