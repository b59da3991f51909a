package doc_test

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/doc"
)

// fieldsOf lists the fields of a rule set, those of its groups behind the group's name.
func fieldsOf(of reflect.Type, path string) []string {
	var fields []string
	for f := range of.Fields() {
		// A struct that keeps its fields to itself, such as a distance, is one value.
		if f.Type.Kind() == reflect.Struct && f.Type.Field(0).IsExported() {
			fields = append(fields, fieldsOf(f.Type, path+f.Name+".")...)
			continue
		}
		fields = append(fields, path+f.Name)
	}
	return fields
}

// compared is a set in which every field has a meaning.
func compared(t testing.TB) domain.RuleSet {
	r := set(t, "capped-300ft")
	require.True(t, r.Capped)
	require.NotEmpty(t, r.Test.Options)
	r.Points, r.Purse = completeSet(t).Points, completeSet(t).Purse
	return r
}

// Every field of a rule set, different once, is one sentence. A new field fails here until it has one.
func TestEveryFieldThatDiffersIsExplained(t *testing.T) {
	t.Parallel()
	differences := map[string]struct {
		change func(*domain.RuleSet)
		says   string
	}{
		"Name":  {func(r *domain.RuleSet) { r.Name = "ours" }, "One set is called capped-300ft, the other ours."},
		"Title": {func(r *domain.RuleSet) { r.Title = "" }, `In A the title is "300 ft, full pulls return for a pull-off"; in B it is left out.`},
		"Line": {func(r *domain.RuleSet) { r.Line = length(t, "100", domain.Metre) },
			"In A the class is measured in feet, and the full-pull line lies at 300 ft; in B it is measured in metres, and the full-pull line lies at 100 m."},
		"Capped": {func(r *domain.RuleSet) { r.Capped, r.PullOff = false, domain.PullOffRule{} },
			"In A the line caps class pulls: at or past it all are equal, and two or more full pullers come back for a pull-off; " +
				"in B it caps nothing: the figure counts wherever the sled stops, and there is no pull-off."},
		"Rounds": {func(r *domain.RuleSet) { r.Rounds = 2 }, "In A a class has 1 class round; in B it has 2 class rounds."},
		"Count": {func(r *domain.RuleSet) { r.Count = domain.SumOf },
			"In A the class total is the best of the class rounds; in B it is the sum of the class rounds."},
		"PullOff.Capped": {func(r *domain.RuleSet) { r.PullOff.Capped = true },
			"In A a pull-off is measured past the line; in B it ends at the line again, and whoever is still equal pulls once more."},
		"PullOff.Added": {func(r *domain.RuleSet) { r.PullOff.Added = true },
			"In A the distance of a pull-off is not added to the printed total; in B it is added to the printed total."},
		"PullOff.Absent": {func(r *domain.RuleSet) { r.PullOff.Absent = domain.Withdrawn },
			"In A an absent finalist is last of the pull-off; in B an absent finalist counts as withdrawn and has no place."},
		"PullOff.SecondAttempt": {func(r *domain.RuleSet) { r.PullOff.SecondAttempt = true },
			"In A the restart line does not hold in pull-offs; in B it holds in pull-offs too."},
		"RestartLine": {func(r *domain.RuleSet) { r.RestartLine = domain.Distance{} },
			"In A an attempt may be repeated once when it stops short of 75 ft; in B it is never repeated, wherever it stops."},
		"Test.Options": {func(r *domain.RuleSet) { r.Test.Options = []domain.Option{3, domain.AtOnce} },
			"In A the test puller may keep the result or hook again at the end; " +
				"in B the test puller may keep the result or hook again in place 3 from now or at once."},
		"Test.Until": {func(r *domain.RuleSet) { r.Test.Until = "" },
			`In A the choice must be made "before unhooking"; in B it has no deadline in words.`},
		"Test.AfterDQ": {func(r *domain.RuleSet) { r.Test.AfterDQ = false },
			"In A a disqualified test puller still has the choice; in B a disqualified one has lost the choice."},
		"RehookDrop": {func(r *domain.RuleSet) { r.RehookDrop = 0 },
			"In A a puller whose re-hook the sled or an official caused may drop up to 4 places to cool down; in B such a puller hooks again at once."},
		"DropPlaces": {func(r *domain.RuleSet) { r.DropPlaces = 1 },
			"In A a puller in mechanical trouble drops to the last place; in B such a puller may drop 1 place."},
		"Reset": {func(r *domain.RuleSet) { r.Reset = domain.KeepHooks },
			"In A a reset of the sled makes the round start again; in B it leaves earlier hooks of the round as they are."},
		"Points.To": {func(r *domain.RuleSet) { r.Points.To = domain.ToDriver }, "In A a class gives points to the vehicle; in B it gives points to the driver."},
		"Points.Places": {func(r *domain.RuleSet) { r.Points.Places = []int{10, 9} },
			"In A the first places give 30, 27, 24, 21, 18, 15, 12, 9, 6 points; in B they give 10, 9 points."},
		"Points.Step":    {func(r *domain.RuleSet) { r.Points.Step = 1 }, "In A every further place gives 3 less than the one before; in B it gives 1 less than the one before."},
		"Points.Floor":   {func(r *domain.RuleSet) { r.Points.Floor = 0 }, "In A every further place gives at least 3; in B it gives at least 0."},
		"Points.Outside": {func(r *domain.RuleSet) { r.Points.Outside = domain.ExactAward(25) }, "In A an entry outside the pull-off gets what the place gives; in B the same gets exactly 25."},
		"Points.ShowUp":  {func(r *domain.RuleSet) { r.Points.ShowUp = 5 }, "In A coming adds 1; in B it adds 5."},
		"Points.Hook":    {func(r *domain.RuleSet) { r.Points.Hook = 5 }, "In A hooking adds 3; in B it adds 5."},
		"Points.HookMoved": {func(r *domain.RuleSet) { r.Points.HookMoved = false },
			"In A a hook point takes a sled that moved; in B it is earned by any hook."},
		"Points.Registration": {func(r *domain.RuleSet) { r.Points.Registration = 0 }, "In A registering adds 15; in B it adds 0."},
		"Points.DQ":           {func(r *domain.RuleSet) { r.Points.DQ = domain.AwardAddOns }, "In A a disqualified entry gets the show-up points alone; in B the same gets the add-ons alone."},
		"Points.DQCauses": {func(r *domain.RuleSet) { r.Points.DQCauses = nil },
			"In A a disqualification costs more or less for some causes: illegal vehicle: nothing; in B it costs the same for every cause."},
		"Points.PullOffDQ": {func(r *domain.RuleSet) { r.Points.PullOffDQ = domain.AwardHook },
			"In A an entry disqualified in a pull-off gets what the place gives; in B the same gets the hook points alone."},
		"Points.Broke": {func(r *domain.RuleSet) { r.Points.Broke = domain.AwardLowest },
			"In A an entry that breaks without moving the sled gets exactly 3; in B the same gets the fewest points that a place got."},
		"Points.BrokeBefore": {func(r *domain.RuleSet) { r.Points.BrokeBefore = domain.AwardNothing },
			"In A an entry that breaks before it hooks gets the points of the last place; in B the same gets nothing."},
		"Points.NotHooked": {func(r *domain.RuleSet) { r.Points.NotHooked = domain.AwardNothing },
			"In A an entry that does not hook gets the show-up points alone; in B the same gets nothing."},
		"Points.Late":   {func(r *domain.RuleSet) { r.Points.Late = domain.AwardPlace }, "In A a late entry gets nothing; in B the same gets what the place gives."},
		"Points.Ties":   {func(r *domain.RuleSet) { r.Points.Ties = domain.TieFull }, "In A an entry that shares a place gets the average of the places; in B it gets the points of the place in full."},
		"Points.Guests": {func(r *domain.RuleSet) { r.Points.Guests = domain.ActualPlaces }, "In A a place behind a guest moves up; in B it is worth what it was."},
		"Points.Stopped": {func(r *domain.RuleSet) { r.Points.Stopped = domain.ExactAward(6) },
			"In A who was there when a class is stopped gets the add-ons alone; in B the same gets exactly 6."},
		"Points.NotRun": {func(r *domain.RuleSet) { r.Points.NotRun = domain.AwardNothing },
			"In A who was there when a class is not run gets exactly 3; in B the same gets nothing."},
		"Points.Minimum": {func(r *domain.RuleSet) { r.Points.Minimum = 0 },
			"In A a class takes 3 entries to give points as usual; in B it gives points however few come."},
		"Points.Below": {func(r *domain.RuleSet) { r.Points.Below = domain.AwardNothing },
			"In A who comes to a class with too few entries gets the show-up points alone; in B the same gets nothing."},
		"Purse.Guests":       {func(r *domain.RuleSet) { r.Purse.Guests = domain.GuestsPassed }, "In A a class pays guests like everybody else; in B it pays members alone, who move up."},
		"Purse.Prizes":       {func(r *domain.RuleSet) { r.Purse.Prizes = nil }, "In A the fixed prizes are 150.00, 110.00, 90.50; in B they are none."},
		"Purse.Share":        {func(r *domain.RuleSet) { r.Purse.Share = 80 }, "In A the pool takes 50 percent of the fees; in B it takes 80 percent of the fees."},
		"Purse.OfEach":       {func(r *domain.RuleSet) { r.Purse.OfEach = 0 }, "In A the pool takes 10.00 of each fee; in B it takes 0.00 of each fee."},
		"Purse.Added":        {func(r *domain.RuleSet) { r.Purse.Added = 5 }, "In A the promoter adds 500.00; in B the promoter adds 0.05."},
		"Purse.AddedMembers": {func(r *domain.RuleSet) { r.Purse.AddedMembers = false }, "In A added money goes to members; in B it goes to all."},
		"Purse.Split":        {func(r *domain.RuleSet) { r.Purse.Split = nil }, "In A the pool is split in percent 50, 30, 20; in B it goes to the first place."},
		"Purse.Minimum":      {func(r *domain.RuleSet) { r.Purse.Minimum = 0 }, "In A a class pays in full from 5 entries; in B it pays in full however few come."},
		"Purse.Reduced":      {func(r *domain.RuleSet) { r.Purse.Reduced = 0 }, "In A with fewer entries a class pays 50 percent; in B it pays 0 percent."},
		"Purse.Stopped":      {func(r *domain.RuleSet) { r.Purse.Stopped = domain.PurseKept }, "In A a class that is stopped pays all who were there equally; in B it pays nothing."},
	}
	fields := fieldsOf(reflect.TypeFor[domain.RuleSet](), "")
	assert.Len(t, differences, len(fields))
	for _, field := range fields {
		t.Run(field, func(t *testing.T) {
			t.Parallel()
			difference, ok := differences[field]
			require.True(t, ok, "the field has no sentence")
			other := compared(t)
			difference.change(&other)
			assert.Equal(t, []string{difference.says}, doc.DiffRuleSets("A", compared(t), "B", other))
			assert.Len(t, doc.DiffRuleSets("B", other, "A", compared(t)), 1)
		})
	}
}

func TestATestHookWithoutAChoiceIsExplained(t *testing.T) {
	t.Parallel()
	none := compared(t)
	none.Test = domain.TestRule{}
	assert.Equal(t, []string{"In A the test puller may keep the result or hook again at the end; " +
		"in B the test puller has no choice: the hook counts like any other."}, doc.DiffRuleSets("A", compared(t), "B", none))
}

// Two sets have no difference exactly when they are the same.
func TestNothingThatDiffersIsLeftUnsaid(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a, b := ruleSets().Draw(t, "a"), ruleSets().Draw(t, "b")
		require.Empty(t, doc.DiffRuleSets("A", a, "B", a))
		require.Equal(t, reflect.DeepEqual(a, b), len(doc.DiffRuleSets("A", a, "B", b)) == 0)
	})
}
