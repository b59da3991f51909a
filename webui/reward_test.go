package webui

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// giving is a decided class of 7, 12, 23 and 41 that gives points and money: 12 is a guest in first place, 23 and 41 tie, 7
// is disqualified.
func giving(t *testing.T) *domain.Class {
	t.Helper()
	c := tell(t, "floating-ft", begun("DQ out of bounds", "keep", "290", "280", "280")...)
	award := domain.AwardPlace
	c.Rules.Points = domain.PointsRule{To: domain.ToVehicle, Places: []int{10}, Step: 1, Hook: 5, Outside: award, DQ: domain.AwardAddOns, PullOffDQ: award, Broke: award,
		BrokeBefore: domain.AwardAddOns, NotHooked: domain.AwardAddOns, Late: award, Ties: domain.TieAverage, Guests: domain.ClosedUp,
		Stopped: domain.AwardNothing, NotRun: domain.AwardNothing, Below: domain.AwardShowUp}
	c.Rules.Purse = domain.PurseRule{Guests: domain.GuestsPaid, Prizes: []domain.Money{15000, 11000, 9000, 8000}, Stopped: domain.PurseByPlace}
	require.NoError(t, c.Rules.Check())
	for i := range c.Entries {
		switch c.Entries[i].Number {
		case "12":
			c.Entries[i].Attendance = domain.Attendance{Guest: true, Fee: 2000, Paid: true}
		case "23":
			c.Entries[i].Fee = 2000
		}
	}
	return c
}

func TestPointsInWords(t *testing.T) {
	t.Parallel()
	c := giving(t)
	points := pointsOf(domain.Event{}, c)
	require.NotNil(t, points)
	var rows []string
	for _, r := range points.Rows {
		rows = append(rows, r.Place+" "+r.Number+" "+r.Total+" ("+r.Why+r.Parts+")")
	}
	assert.Equal(t, []string{
		"1 12 0 (guest)", "2= 23 14.5 (9.5 for the place, 5 for hooking)", "2= 41 14.5 (9.5 for the place, 5 for hooking)", " 7 5 (disqualified5 for hooking)",
	}, rows)
	assert.Equal(t, "14.5", points.Of("41"))
	assert.Empty(t, points.Of("99"))
	assert.Contains(t, points.To, "with the vehicle")
	c.Rules.Points.To = domain.ToDriver
	assert.Contains(t, pointsOf(domain.Event{}, c).To, "the driver's")
	assert.Equal(t, "14.5", classResult(domain.Event{}, c).Rows[1].Points)

	c.Rules.Points = domain.PointsRule{}
	assert.Nil(t, pointsOf(domain.Event{}, c), "rules without points")
	assert.Nil(t, pointsOf(domain.Event{}, tell(t, "floating-ft", begun("290")...)))
}

func TestAPartAloneNeedsNoWords(t *testing.T) {
	t.Parallel()
	ten := domain.WholePoints(10)
	assert.Empty(t, partsWords(domain.Earned{ForPlace: ten}))
	assert.Equal(t, "10 for coming", partsWords(domain.Earned{ForShowUp: ten}))
	assert.Equal(t, "10 for hooking, 10 for having paid", partsWords(domain.Earned{ForHook: ten, ForRegistration: ten}))
}

func TestTheSheetToPayBy(t *testing.T) {
	t.Parallel()
	c := giving(t)
	sheet := purseOf(domain.Event{}, c)
	var rows []string
	for _, r := range sheet.Rows {
		rows = append(rows, r.Place+" "+r.Number+" "+r.Amount+" "+r.Remark+" "+r.Fee)
	}
	assert.Equal(t, []string{"1 12 150.00 guest fee 20.00, paid", "2= 23 100.00  fee 20.00, not paid", "2= 41 100.00  ", " 7   "}, rows)
	var sums []string
	for _, s := range sheet.Terms {
		sums = append(sums, s.Label+" "+s.Value)
	}
	assert.Equal(t, []string{"To pay in all 430.00", "Paid out 350.00", "Stays with the organiser 80.00", "Fees paid 20.00"}, sums)

	c.Rules.Purse = domain.PurseRule{}
	assert.Equal(t, "these rules pay no purse", purseOf(domain.Event{}, c).State)
	open := tell(t, "floating-ft", begun("290")...)
	open.Rules.Purse = giving(t).Rules.Purse
	sheet = purseOf(domain.Event{}, open)
	assert.Equal(t, "nothing is paid before the class is decided", sheet.State)
	for i, r := range sheet.Rows {
		assert.Empty(t, r.Amount)
		assert.Equal(t, i > 0, r.Remark == "not seen", "7 has hooked")
	}
	assert.Equal(t, "paid", feeWords(domain.Competitor{Paid: true}))
}
