package doc_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/doc"
)

// completeSet is the complete file of the manual, which has every field.
func completeSet(t testing.TB) domain.RuleSet {
	rules, err := doc.ParseRuleSet([]byte(fenced(manual(t, "rules.md"), "json")[0]))
	require.NoError(t, err)
	return rules
}

// awards draws what an entry may get.
func awards() *rapid.Generator[domain.Award] {
	return rapid.OneOf(rapid.SampledFrom([]domain.Award{domain.AwardPlace, domain.AwardNothing, domain.AwardAddOns, domain.AwardShowUp,
		domain.AwardHook, domain.AwardLastPlace, domain.AwardLowest}), rapid.Map(rapid.IntRange(0, 9999), domain.ExactAward))
}

// pointsRules draws what a rule set says of points; one in four says nothing.
func pointsRules() *rapid.Generator[domain.PointsRule] {
	return rapid.Custom(func(t *rapid.T) domain.PointsRule {
		if rapid.IntRange(0, 3).Draw(t, "no points") == 0 {
			return domain.PointsRule{}
		}
		number, award := rapid.IntRange(0, 9999), awards()
		p := domain.PointsRule{
			To:   rapid.SampledFrom([]domain.Owner{domain.ToVehicle, domain.ToDriver}).Draw(t, "to"),
			Step: number.Draw(t, "step"), ShowUp: number.Draw(t, "show-up"), Hook: number.Draw(t, "hook"), Registration: number.Draw(t, "registration"),
			HookMoved: rapid.Bool().Draw(t, "moved"), Outside: award.Draw(t, "outside"), DQ: award.Draw(t, "dq"), PullOffDQ: award.Draw(t, "pull-off dq"),
			Broke: award.Draw(t, "broke"), BrokeBefore: award.Draw(t, "broke before"), NotHooked: award.Draw(t, "not hooked"), Late: award.Draw(t, "late"),
			Ties:    rapid.SampledFrom([]domain.TiePoints{domain.TieAverage, domain.TieFull, domain.TieLowest}).Draw(t, "ties"),
			Guests:  rapid.SampledFrom([]domain.GuestPlaces{domain.ClosedUp, domain.ActualPlaces}).Draw(t, "guests"),
			Stopped: award.Draw(t, "stopped"), NotRun: award.Draw(t, "not run"), Minimum: number.Draw(t, "minimum"), Below: award.Draw(t, "below"),
		}
		if places := rapid.SliceOfN(number, 0, 4).Draw(t, "places"); len(places) > 0 {
			slices.Sort(places)
			slices.Reverse(places)
			p.Places, p.Floor = places, rapid.IntRange(0, places[len(places)-1]).Draw(t, "floor")
		}
		for _, cause := range rapid.SliceOfNDistinct(rapid.SampledFrom(domain.Causes()), 0, 3, rapid.ID[domain.Cause]).Draw(t, "causes") {
			p.DQCauses = append(p.DQCauses, domain.CauseAward{Cause: cause, Award: award.Draw(t, "cause")})
		}
		return p
	})
}

// purseRules draws what a rule set says of prize money; one in four says nothing.
func purseRules() *rapid.Generator[domain.PurseRule] {
	return rapid.Custom(func(t *rapid.T) domain.PurseRule {
		if rapid.IntRange(0, 3).Draw(t, "no purse") == 0 {
			return domain.PurseRule{}
		}
		amount := rapid.Custom(func(t *rapid.T) domain.Money {
			return domain.Money(rapid.Int64Range(0, 1_000_000_000).Draw(t, "cents"))
		})
		p := domain.PurseRule{
			Guests: rapid.SampledFrom([]domain.GuestMoney{domain.GuestsPaid, domain.GuestsPassed, domain.GuestsForfeit}).Draw(t, "guests"),
			Share:  rapid.IntRange(0, 100).Draw(t, "share"), OfEach: amount.Draw(t, "of each"), Added: amount.Draw(t, "added"),
			AddedMembers: rapid.Bool().Draw(t, "members"), Minimum: rapid.IntRange(0, 9999).Draw(t, "minimum"), Reduced: rapid.IntRange(0, 100).Draw(t, "reduced"),
			Stopped: rapid.SampledFrom([]domain.StoppedPurse{domain.PurseByPlace, domain.PurseEqual, domain.PurseKept}).Draw(t, "stopped"),
		}
		if prizes := rapid.SliceOfN(amount, 0, 4).Draw(t, "prizes"); len(prizes) > 0 {
			p.Prizes = prizes
		}
		if split := rapid.SliceOfN(rapid.IntRange(1, 25), 0, 4).Draw(t, "split"); len(split) > 0 {
			p.Split = split
		}
		return p
	})
}

// What the book leaves out has the default of the manual.
func TestTheDefaultsOfPointsAndPurse(t *testing.T) {
	t.Parallel()
	rules, err := doc.ParseRuleSet([]byte(`{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "points": {}, "purse": {}}`))
	require.NoError(t, err)
	assert.Equal(t, domain.PointsRule{To: domain.ToVehicle, Outside: domain.AwardPlace, DQ: domain.AwardAddOns, PullOffDQ: domain.AwardPlace,
		Broke: domain.AwardPlace, BrokeBefore: domain.AwardAddOns, NotHooked: domain.AwardAddOns, Late: domain.AwardPlace, Ties: domain.TieAverage,
		Guests: domain.ClosedUp, Stopped: domain.AwardNothing, NotRun: domain.AwardNothing, Below: domain.AwardShowUp}, rules.Points)
	assert.Equal(t, domain.PurseRule{Guests: domain.GuestsPaid, Stopped: domain.PurseByPlace}, rules.Purse)
}

// What contradicts is refused at its field, and a group of the file does not hide the next fault.
func TestPointsAndPurseThatContradictNameTheField(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ group, field, says string }{
		{`"points": {"places": [9, 10]}`, "points.places", "place 2 gives more than place 1"},
		{`"points": {"places": [10], "floor": 11}`, "points.floor", "the places after the list would give 11, more than the last in it"},
		{`"points": {"dq_causes": ["speed: 1", "speed: 2"]}`, "points.dq_causes", `"speed" stands twice`},
		{`"points": {"dq_causes": ["rain: 1"]}`, "points.dq_causes", "the causes are out of bounds, sled out of bounds"},
		{`"points": {"dq": "half"}`, "points.dq", "write place, nothing, add_ons, show_up, hook, last_place, lowest or a number such as 25"},
		{`"purse": {"split": [60, 50]}`, "purse.split", "the parts make 110 percent of the pool"},
		{`"purse": {"prizes": [150.555]}`, "purse.prizes", `"150.555" is not an amount of money`},
		{`"purse": {"added": 1e3}`, "purse.added", `"1e3" is not an amount of money`},
	} {
		t.Run(row.group, func(t *testing.T) {
			t.Parallel()
			document := `{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, ` + row.group + `}`
			_, err := doc.ParseRuleSet([]byte(document))
			var refusal *domain.Error
			require.ErrorAs(t, err, &refusal)
			assert.Equal(t, row.field, refusal.Field)
			assert.Contains(t, refusal.Error(), row.says)
			faults := doc.RuleFaults([]byte(document))
			require.Len(t, faults, 1)
			assert.Equal(t, row.field, faults[0].Field)
		})
	}
}

// The words of awards stand in the manual, and no other award than those that the reader takes.
func TestTheManualNamesEveryAward(t *testing.T) {
	t.Parallel()
	page := strings.Join(strings.Fields(manual(t, "rules.md")), " ")
	for _, word := range []string{"place", "nothing", "add_ons", "show_up", "hook", "last_place", "lowest"} {
		_, err := domain.ParseAward(word)
		require.NoError(t, err)
		assert.Contains(t, page, "| `\""+word+"\"` |")
	}
	for _, cause := range domain.Causes() {
		assert.True(t, strings.Contains(page, string(cause)), cause)
	}
}
