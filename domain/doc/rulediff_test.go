package doc_test

import (
	"maps"
	"reflect"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/doc"
)

// values are the types of the domain that are one value for a rule set, and no group.
var values = []reflect.Type{reflect.TypeFor[domain.Distance](), reflect.TypeFor[domain.TrackShare](), reflect.TypeFor[domain.TrackMark](), reflect.TypeFor[domain.Speed](), reflect.TypeFor[domain.Award](), reflect.TypeFor[domain.Weight]()}

// fieldsOf lists the fields of a rule set, those of its groups behind the group's name.
func fieldsOf(of reflect.Type, path string) []string {
	var fields []string
	for f := range of.Fields() {
		if f.Type.Kind() == reflect.Struct && !slices.Contains(values, f.Type) {
			fields = append(fields, fieldsOf(f.Type, path+f.Name+".")...)
			continue
		}
		fields = append(fields, path+f.Name)
	}
	return fields
}

// pounds reads a weight.
func pounds(t require.TestingT, s string) domain.Weight {
	w, err := domain.ParseWeight(s)
	require.NoError(t, err)
	return w
}

// compared is a set in which every field has a meaning.
func compared(t testing.TB) domain.RuleSet {
	r := set(t, "capped-300ft")
	r.Protest = domain.ProtestRule{Minutes: 10, Fee: "$50", Until: "before trophies", Decides: "the board"}
	r.Weight = domain.WeightRule{Limit: pounds(t, "8500 lb"), Tolerance: pounds(t, "10 lb"), When: domain.WeighBefore, Tries: 2, Over: domain.OverDisqualified, WithDriver: true}
	require.NoError(t, r.Check())
	require.True(t, r.Capped)
	require.NotEmpty(t, r.Test.Options)
	r.Moving = domain.LineRule{Choices: []domain.Distance{length(t, "320", domain.Foot)}, After: 1}
	r.Entries.Least, r.Call.Minutes, r.Speed.Limit = 3, 3, speed(t, "4 mph")
	r.Points, r.Purse = completeSet(t).Points, completeSet(t).Purse
	return r
}

func speed(t require.TestingT, s string) domain.Speed {
	v, err := domain.ParseSpeed(s)
	require.NoError(t, err)
	return v
}

func share(t require.TestingT, s string) domain.TrackShare {
	v, err := domain.ParseTrackShare(s)
	require.NoError(t, err)
	return v
}

// Every field of a rule set, different once, is one sentence. A new field fails here until it has one.
func TestEveryFieldThatDiffersIsExplained(t *testing.T) {
	t.Parallel()
	feet := func(s string) domain.Distance { return length(t, s, domain.Foot) }
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
			"In A an attempt may be repeated when it stops short of 75 ft; in B it is never repeated, wherever it stops."},
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
		"Moving.Choices": {func(r *domain.RuleSet) { r.Moving.Choices = append(r.Moving.Choices, feet("330")) },
			"In A the line may be moved to 320 ft; in B it may be moved to 320 ft or 330 ft."},
		"Moving.After":     {func(r *domain.RuleSet) { r.Moving.After = 3 }, "In A the line is set after 1 hook at the latest; in B it is set after 3 hooks at the latest."},
		"Measure.From":     {func(r *domain.RuleSet) { r.Measure.From = "the pan" }, `In A the point that is measured to is not said; in B it is "the pan".`},
		"Measure.Decimals": {func(r *domain.RuleSet) { r.Measure.Decimals = 2 }, "In A the device has up to three decimals; in B it has 2 decimals."},
		"Measure.Minimum": {func(r *domain.RuleSet) { r.Measure.Minimum = feet("0.5") },
			"In A a pull is one when the sled moves; in B it is one from 0.5 ft on."},
		"Entries.VehicleTwice": {func(r *domain.RuleSet) { r.Entries.VehicleTwice = domain.PlacesOnce },
			"In A a vehicle hooks once in a class; in B it may hook again with another driver, and its better entry alone has a place."},
		"Entries.Least": {func(r *domain.RuleSet) { r.Entries.Least = 5 }, "In A a class needs 3 entries; in B it needs 5 entries."},
		"Entries.Below": {func(r *domain.RuleSet) { r.Entries.Below = "exhibition" },
			`In A a class with fewer entries is left to the officials; in B it is "exhibition".`},
		"Order.By": {func(r *domain.RuleSet) { r.Order.By = domain.AsEntered }, "In A the order is drawn; in B it is that of the entries."},
		"Order.ClosedAtStart": {func(r *domain.RuleSet) { r.Order.ClosedAtStart = true },
			"In A a late entry hooks last; in B it is refused once the class has started."},
		"Call.Minutes": {func(r *domain.RuleSet) { r.Call.Minutes = 2 },
			"In A a puller who was called has 3 minutes to hook; in B such a puller has 2 minutes to hook."},
		"Call.From": {func(r *domain.RuleSet) { r.Call.From = "track ready" },
			`In A the time to hook begins with the call; in B it begins with "track ready".`},
		"Call.NotReady": {func(r *domain.RuleSet) { r.Call.NotReady = domain.DropsBack },
			"In A when a puller is not ready the officials decide; in B then the puller drops back."},
		"Call.DropOnce": {func(r *domain.RuleSet) { r.Call.DropOnce = true }, "In A an entry may drop back again; in B it may drop back once in a class."},
		"Restarts.Share": {func(r *domain.RuleSet) { r.RestartLine, r.Restarts.Share = domain.Distance{}, share(t, "1/3") },
			"In A an attempt may be repeated when it stops short of 75 ft; in B it may be repeated when it stops short of 1/3 of the track."},
		"Restarts.Kinds": {func(r *domain.RuleSet) {
			r.Restarts.Kinds = []domain.KindLine{{Kind: "tractor", Line: feet("50")}, {Kind: "truck", Line: feet("100")}}
		}, "In A the restart line is the same for every kind of vehicle; in B it is another for a tractor (50 ft) and a truck (100 ft)."},
		"Restarts.Attempts": {func(r *domain.RuleSet) { r.Restarts.Attempts = 3 }, "In A an entry has 2 attempts; in B it has 3 attempts."},
		"Restarts.Throttle": {func(r *domain.RuleSet) { r.Restarts.Throttle = true },
			"In A a stop before the line is judged by where the sled is; in B it is judged by the throttle."},
		"Restarts.Options": {func(r *domain.RuleSet) { r.Restarts.Options = []domain.Option{domain.AtOnce, 7} },
			"In A an attempt that is repeated is made at once; in B it is made at once or in place 7 from now."},
		"RehookMinutes": {func(r *domain.RuleSet) { r.RehookMinutes = 5 },
			"In A where fewer are left, such a puller has no time in minutes; in B such a puller has 5 minutes."},
		"ResetWhen.Past": {func(r *domain.RuleSet) { r.ResetWhen.Past = feet("325") },
			"In A a test hook asks for no reset by its distance; in B it asks for a reset when it goes past 325 ft."},
		"ResetWhen.FullPulls": {func(r *domain.RuleSet) { r.ResetWhen.FullPulls = 2 },
			"In A full pulls ask for no reset by their number; in B they ask for a reset when the first 2 hooks are."},
		"Test.Who": {func(r *domain.RuleSet) { r.Test.Who = domain.ChosenPuller },
			"In A the test hook is that of the first in the order; in B it may be that of any entry which the sled operator chooses."},
		"Test.Must": {func(r *domain.RuleSet) { r.Test.Must = true },
			"In A the test puller may keep the result or hook again at the end; in B the test puller has no choice and hooks again at the end."},
		"Test.Silence": {func(r *domain.RuleSet) { r.Test.Silence = domain.ToLast },
			"In A a test puller who says nothing keeps the result; in B one who says nothing hooks again at the end."},
		"Test.BeforeDistance": {func(r *domain.RuleSet) { r.Test.BeforeDistance = true },
			"In A the choice is made with knowledge of the distance; in B it is made before the distance is told."},
		"Test.NoRestart": {func(r *domain.RuleSet) { r.Test.NoRestart = true },
			"In A a stop before the restart line on the test hook may be repeated like any other; in B it is the result."},
		"Test.LostPartFree": {func(r *domain.RuleSet) { r.Test.LostPartFree = true },
			"In A a part lost on the test hook counts like any other; in B it disqualifies nobody."},
		"Reasons.Of": {func(r *domain.RuleSet) {
			r.Reasons.Of = map[domain.Cause]domain.Consequence{domain.CauseBreakage: domain.NoConsequence, domain.CauseOutOfBounds: domain.MeasuredThere}
		}, `In A what goes wrong is a disqualification without a distance, whatever it is; ` +
			`in B it is judged by its cause: "out of bounds" is measured where it happened; "breakage" costs nothing.`},
		"Reasons.SideLinesTo": {func(r *domain.RuleSet) { r.Reasons.SideLinesTo = feet("320") },
			"In A the side lines reach as far as anybody pulls; in B they reach to 320 ft."},
		"Speed.Limit": {func(r *domain.RuleSet) { r.Speed.Limit = speed(t, "6 mph") }, "In A the speed is limited to 4 mph; in B it is limited to 6 mph."},
		"Speed.From": {func(r *domain.RuleSet) { r.Speed.From.Share = share(t, "1/3") },
			"In A the limit holds from the start; in B it holds from 1/3 of the track on."},
		"Speed.Warnings": {func(r *domain.RuleSet) { r.Speed.Warnings = 1 },
			"In A passing the limit costs the hook at once; in B it costs the hook after 1 warning."},
		"Speed.Device": {func(r *domain.RuleSet) { r.Speed.Device = "radar" },
			`In A the speed is read by a device that is not said; in B it is read by "radar".`},
		"Speed.NoOwnDevice": {func(r *domain.RuleSet) { r.Speed.NoOwnDevice = true },
			"In A a speed measuring device of one's own is allowed; in B it is forbidden."},
		"Ready": {func(r *domain.RuleSet) { r.Ready = []string{"hitch height", "neutral light"} },
			"In A the sled's crew looks at the points of its sled before a hook; in B it also looks at hitch height, neutral light before a hook."},
		"Stopped": {func(r *domain.RuleSet) { r.Stopped = domain.NothingStands },
			"In A a class that is stopped keeps the rounds that were pulled to the end; in B it gives nobody anything."},
		"PullOff.Who": {func(r *domain.RuleSet) { r.PullOff.Who = domain.Nobody },
			"In A the pull-off is for full pullers; in B it is not held: full pulls share their place."},
		"PullOff.Top": {func(r *domain.RuleSet) { r.PullOff.Who, r.PullOff.Top = domain.TopPlaces, 3 },
			"In A the pull-off is for full pullers; in B it is for the first 3 of the class."},
		"PullOff.FillTo": {func(r *domain.RuleSet) { r.PullOff.FillTo = 3 },
			"In A with fewer than two full pulls there is no final; in B then the longest distances fill the final up to 3."},
		"PullOff.Line": {func(r *domain.RuleSet) { r.PullOff.Line = feet("330") },
			"In A the line of the pull-off is that of the class; in B it is 330 ft."},
		"PullOff.Reversed": {func(r *domain.RuleSet) { r.PullOff.Reversed = true },
			"In A a pull-off is hooked in class order; in B it is hooked in the reverse of the class order."},
		"PullOff.DisqualifiedOut": {func(r *domain.RuleSet) { r.PullOff.DisqualifiedOut = true },
			"In A a disqualified finalist stays in the places of the pull-off; in B a disqualified finalist has no place."},
		"PullOff.SameDriver": {func(r *domain.RuleSet) { r.PullOff.SameDriver = true },
			"In A the driver of a pull-off may be another; in B the driver must be that of the class."},
		"PullOff.Before": {func(r *domain.RuleSet) { r.PullOff.Before = "weighed again" },
			`In A before a pull-off nothing is asked for; in B before it "weighed again" is asked for.`},
		"Ties.Ties": {func(r *domain.RuleSet) { r.Ties.Ties = domain.PulledAgain },
			"In A a tie stands, and the places are shared; in B it is pulled again for every place."},
		"Ties.Places": {func(r *domain.RuleSet) { r.Ties = domain.TieRule{Ties: domain.PulledAgain, Places: 3} },
			"In A a tie stands, and the places are shared; in B it is pulled again down to place 3."},
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
		"Protest.Minutes": {func(r *domain.RuleSet) { r.Protest.Minutes = 0 },
			`In A a result may be protested for 10 min, in words "before trophies"; in B it may be protested "before trophies", and no minutes are counted.`},
		"Protest.Fee":     {func(r *domain.RuleSet) { r.Protest.Fee = "" }, `In A the fee of a protest is "$50"; in B it is not said.`},
		"Protest.Until":   {func(r *domain.RuleSet) { r.Protest.Until = "" }, `In A a result may be protested for 10 min, in words "before trophies"; in B it may be protested for 10 min.`},
		"Protest.Decides": {func(r *domain.RuleSet) { r.Protest.Decides = "" }, `In A who decides a protest is "the board"; in B it is not said.`},
	}
	maps.Copy(differences, map[string]struct {
		change func(*domain.RuleSet)
		says   string
	}{
		"Weight.Limit": {func(r *domain.RuleSet) { r.Weight.Limit = pounds(t, "9000 lb") },
			"In A the class has a weight limit of 8,500 lb; in B it has a weight limit of 9,000 lb."},
		"Weight.Tolerance":  {func(r *domain.RuleSet) { r.Weight.Tolerance = domain.Weight{} }, "In A a vehicle may be 10 lb over the limit; in B it may not be over the limit at all."},
		"Weight.Least":      {func(r *domain.RuleSet) { r.Weight.Least = pounds(t, "8400 lb") }, "In A a vehicle may be as light as it likes; in B it must weigh at least 8,400 lb."},
		"Weight.When":       {func(r *domain.RuleSet) { r.Weight.When = domain.WeighOnRequest }, "In A a vehicle is weighed before its hook; in B it is weighed on request."},
		"Weight.Tries":      {func(r *domain.RuleSet) { r.Weight.Tries = 0 }, "In A a vehicle has 2 tries at the scale; in B it may be weighed as often as is wanted."},
		"Weight.Over":       {func(r *domain.RuleSet) { r.Weight.Over = domain.OverClassUp }, "In A a vehicle that is too heavy is disqualified; in B it may go up one class."},
		"Weight.WithDriver": {func(r *domain.RuleSet) { r.Weight.WithDriver = false }, "In A the driver is weighed with the vehicle; in B the driver is not weighed with the vehicle."},
	})
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

// Fields that one sentence says together differ alone too.
func TestFieldsThatShareASentenceDifferAlone(t *testing.T) {
	t.Parallel()
	a, b := compared(t), compared(t)
	a.PullOff.Who, a.PullOff.Top, b.PullOff.Who, b.PullOff.Top = domain.TopPlaces, 3, domain.TopPlaces, 5
	a.Ties, b.Ties = domain.TieRule{Ties: domain.PulledAgain}, domain.TieRule{Ties: domain.PulledAgain, Places: 3}
	assert.Equal(t, []string{"In A the pull-off is for the first 3 of the class; in B it is for the first 5 of the class.",
		"In A a tie is pulled again for every place; in B it is pulled again down to place 3."}, doc.DiffRuleSets("A", a, "B", b))
}

func TestATestHookWithoutAChoiceIsExplained(t *testing.T) {
	t.Parallel()
	none := compared(t)
	none.Test = domain.TestRule{}
	assert.Equal(t, []string{"In A the test puller may keep the result or hook again at the end; " +
		"in B the test puller has no choice: the hook counts like any other."}, doc.DiffRuleSets("A", compared(t), "B", none))
}

func TestASetWithoutProtestsIsExplained(t *testing.T) {
	t.Parallel()
	none := compared(t)
	none.Protest = domain.ProtestRule{}
	assert.Equal(t, []string{`In A a result may be protested for 10 min, in words "before trophies"; in B it is not protested.`}, doc.DiffRuleSets("A", compared(t), "B", none))
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
