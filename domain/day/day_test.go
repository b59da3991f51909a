package day_test

import (
	"encoding/binary"
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/day"
	"clayline/domain/doc"
)

// six is when the evening begins, and noon when the next day does.
var (
	six  = time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC)
	noon = time.Date(2026, 9, 20, 12, 0, 0, 0, time.UTC)
)

// The parts of every event of these tests.
var (
	evening, sunday = uuid.UUID{1}, uuid.UUID{2}
	lower, upper    = uuid.UUID{3}, uuid.UUID{4}
)

// event is an event of two sessions and two tracks, with a curfew in the evening where one is given.
func event(curfew time.Time) domain.Event {
	return domain.Event{
		ID: uuid.UUID{9}, Zone: "UTC", Tracks: []domain.Track{{ID: lower, Name: "Lower"}, {ID: upper, Name: "Upper"}},
		Sessions: []domain.Session{{ID: sunday, Name: "Sunday", Starts: noon}, {ID: evening, Name: "Evening", Starts: six, Curfew: curfew}},
	}
}

// course is a class and its clock.
type course struct {
	t     testing.TB
	class domain.Class
	ids   uint64
	now   time.Time
}

// planned is a class of the evening on the lower track with so many entries, without a test hook.
func planned(t testing.TB, name string, entries int) *course {
	t.Helper()
	rules, err := doc.ReadyMadeRuleSet("capped-300ft")
	require.NoError(t, err)
	rules.Test = domain.TestRule{}
	c := &course{t: t, now: six.Add(-5 * time.Hour)}
	c.do(domain.PlanClass{Class: c.id(), Session: evening, Track: lower, Name: name, Rules: rules, Sled: domain.Sled{Name: "Plumb Bob", Gears: 4, StartHoles: 3}})
	for i := range entries {
		c.do(domain.AddEntry{Entry: c.id(), Number: fmt.Sprint(i + 1)})
	}
	return c
}

// id is a new id of the class.
func (c *course) id() uuid.UUID {
	c.ids++
	id := uuid.NewSHA1(uuid.Nil, []byte(c.class.Slug))
	binary.BigEndian.PutUint64(id[8:], c.ids)
	return id
}

// do does an action at the time that it is.
func (c *course) do(a domain.Action) {
	c.t.Helper()
	after, err := domain.Decide(c.class, a, c.now)
	require.NoError(c.t, err, "%T", a)
	c.class = after
}

// begins draws, freezes and calls the first, all at one time.
func (c *course) begins(at time.Time) *course {
	c.t.Helper()
	c.now = at
	if c.class.Current() == nil {
		c.do(domain.DrawClass{Round: c.id(), Seed: "dice 4 2 6"})
	}
	c.frozen()
	c.do(domain.Call{Hook: c.id()})
	return c
}

// frozen writes the setting of the round and freezes it.
func (c *course) frozen() {
	c.t.Helper()
	box, err := domain.ParseWeight("21600 lb")
	require.NoError(c.t, err)
	trip, err := domain.ParseDistance("198 ft", 0)
	require.NoError(c.t, err)
	r := c.class.Current().ID
	c.do(domain.DraftSetting{Round: r, Setting: domain.Setting{Box: box, Slabs: domain.Slabs{Left: 6, Right: 6}, Gear: 3, StartHole: 2, Trip: trip}})
	c.do(domain.FreezeSetting{Round: r, Revision: 1})
}

// pulls stores results, each so long after the one before.
func (c *course) pulls(cycle time.Duration, results ...string) *course {
	c.t.Helper()
	for _, written := range results {
		c.now = c.now.Add(cycle)
		result, err := domain.ParseResult(written, domain.Foot)
		require.NoError(c.t, err)
		c.do(domain.Record{Hook: c.class.OnTrack().ID, Result: result, Next: c.id()})
	}
	return c
}

// same repeats a result.
func same(n int, result string) []string { return slices.Repeat([]string{result}, n) }

// of is the day of the classes on the lower track.
func of(e domain.Event, paces []day.Pace, classes ...*course) day.Track {
	list := make([]domain.Class, len(classes))
	for i, c := range classes {
		list[i] = c.class
	}
	return day.Of(e, list, paces).Tracks[0]
}

// Before the first call the windows are the plan: nothing is behind, and each class begins when those before it are over.
func TestBeforeTheFirstCall(t *testing.T) {
	t.Parallel()
	field, modified, street := planned(t, "Field Stock", 12), planned(t, "Modified", 6), planned(t, "Street", 0)
	told := of(event(time.Time{}), nil, field, modified, street)
	assert.Equal(t, six, told.AsOf)
	assert.False(t, told.Begun)
	behind, known := told.Behind()
	assert.True(t, known)
	assert.Zero(t, behind)
	assert.Equal(t, []day.State{day.ToCome, day.ToCome, day.Empty}, []day.State{told.Classes[0].State, told.Classes[1].State, told.Classes[2].State})
	assert.Equal(t, six, told.Classes[0].Planned.Start)
	assert.Equal(t, told.Classes[1].Planned.Start, told.Classes[1].Starts.Middle)
	assert.InDelta(t, 64+2*5+day.Change.Minutes(), told.Classes[1].Planned.Start.Sub(six).Minutes(), 14, "twelve hooks of five minutes, a pull-off of about two, and the change")
	assert.Greater(t, told.Classes[0].PullOff, 1.0)
	assert.True(t, told.Classes[2].Ends.IsZero(), "of a class that nobody is entered in nothing is said")
	assert.Equal(t, "Not begun yet; Field Stock is planned for 18:00.", told.Sentence(time.UTC))
}

// A slow day is behind, and says so of the class that is next.
func TestADayThatIsBehind(t *testing.T) {
	t.Parallel()
	field := planned(t, "Field Stock", 12).begins(six.Add(5*time.Minute)).pulls(8*time.Minute, same(8, "250")...)
	told := of(event(time.Time{}), nil, planned(t, "Modified", 6), field)
	require.Equal(t, "Field Stock", told.Classes[0].Name, "what is being pulled comes first, whatever the programme says")
	assert.Equal(t, day.Running, told.Classes[0].State)
	assert.Equal(t, six.Add(69*time.Minute), told.AsOf)
	assert.Equal(t, six.Add(5*time.Minute), told.Classes[0].Pulled.Start)
	assert.True(t, told.Classes[0].Starts.IsZero(), "its beginning is known")
	behind, _ := told.Behind()
	assert.Greater(t, behind, 10*time.Minute)
	assert.Regexp(t, `^\d\d minutes behind; Modified about \d\d:\d[05] to \d\d:\d[05]\.$`, told.Sentence(time.UTC))
	alone := of(event(time.Time{}), nil, field)
	assert.Regexp(t, `behind; Field Stock over about`, alone.Sentence(time.UTC))
	quick := of(event(time.Time{}), nil, planned(t, "Field Stock", 12).begins(six).pulls(2*time.Minute, same(8, "250")...))
	assert.Regexp(t, `^\d\d minutes ahead of plan;`, quick.Sentence(time.UTC))
	assert.Equal(t, "Nothing more is to be pulled.", of(event(time.Time{}), nil, planned(t, "Street", 0)).Sentence(time.UTC))
}

// Once a class is over it is told when it was pulled, and nothing of it is foretold; the next waits for the change.
func TestWhatIsOverIsNotForetold(t *testing.T) {
	t.Parallel()
	field := planned(t, "Field Stock", 5).begins(six).pulls(5*time.Minute, "250", "260", "270", "280", "FP")
	modified := planned(t, "Modified", 6)
	told := of(event(time.Time{}), nil, field, modified)
	assert.Equal(t, day.Times{Start: six, End: six.Add(25 * time.Minute)}, told.Classes[0].Pulled)
	assert.True(t, told.Classes[0].Ends.IsZero())
	assert.InDelta(t, day.Change.Minutes(), told.Classes[1].Starts.Middle.Sub(told.AsOf).Minutes(), 1)
	modified.now = six.Add(30 * time.Minute)
	modified.do(domain.DrawClass{Round: modified.id(), Seed: "dice 4 2 6"})
	modified.frozen()
	told = of(event(time.Time{}), nil, field, modified)
	assert.Equal(t, six.Add(30*time.Minute), told.Classes[1].Starts.Middle, "its setting is frozen: the change is made")
}

// A session begins no sooner than its start, however early the one before is over.
func TestASessionHasAFixedStart(t *testing.T) {
	t.Parallel()
	open := planned(t, "Open", 4)
	open.class.Session = sunday
	told := of(event(time.Time{}), nil, open, planned(t, "Field Stock", 5))
	require.Equal(t, []string{"Field Stock", "Open"}, []string{told.Classes[0].Name, told.Classes[1].Name}, "sessions come in the order of time")
	assert.Equal(t, day.Window{Early: noon, Middle: noon, Late: noon}, truncated(told.Classes[1].Starts))
	assert.Equal(t, noon, told.Classes[1].Planned.Start)
}

// truncated is a window to the minute.
func truncated(w day.Window) day.Window {
	return day.Window{Early: w.Early.Truncate(time.Minute), Middle: w.Middle.Truncate(time.Minute), Late: w.Late.Truncate(time.Minute)}
}

// Tracks run beside each other, each with a day of its own.
func TestEachTrackHasADayOfItsOwn(t *testing.T) {
	t.Parallel()
	field, other := planned(t, "Field Stock", 5), planned(t, "Modified", 5)
	other.class.Track = upper
	d := day.Of(event(time.Time{}), []domain.Class{field.class, other.class}, nil)
	require.Len(t, d.Tracks, 2)
	assert.Equal(t, d.Tracks[0].Classes[0].Ends, d.Tracks[1].Classes[0].Ends)
	assert.Empty(t, day.Of(event(time.Time{}), nil, nil).Tracks)
}

// The curfew: how likely the programme runs past it, and the class that would have to be cut.
func TestTheCurfewOfTheEvening(t *testing.T) {
	t.Parallel()
	classes := []*course{planned(t, "Field Stock", 12), planned(t, "Modified", 12), planned(t, "Open", 12)}
	open := planned(t, "Sunday Open", 9)
	open.class.Session = sunday
	last := 2.0
	for _, c := range []struct {
		hours float64
		cut   int
	}{{0.7, 0}, {2.2, 1}, {3.4, 2}, {6, -1}} {
		at := six.Add(time.Duration(c.hours * float64(time.Hour)))
		told := of(event(at), nil, append(classes, open)...)
		require.Len(t, told.Curfews, 1)
		curfew := told.Curfews[0]
		assert.Equal(t, c.cut, curfew.Cut, "curfew after %.1f hours", c.hours)
		assert.LessOrEqual(t, curfew.Past, last)
		assert.Equal(t, curfew.Past > 0.5, curfew.Cut >= 0)
		says := told.CurfewSentence(curfew, time.UTC)
		assert.Contains(t, says, "Curfew "+at.Format("15:04")+": in ")
		if c.cut >= 0 {
			assert.Contains(t, says, told.Classes[c.cut].Name+" would have to be cut to keep it")
		} else {
			assert.NotContains(t, says, "cut")
		}
		last = curfew.Past
	}
}

// A pull-off that is due has as many hooks as come back for it; one that may be has what is to be expected.
func TestThePullOffThatIsExpected(t *testing.T) {
	t.Parallel()
	due := planned(t, "Field Stock", 5).begins(six).pulls(5*time.Minute, "FP", "FP", "FP", "280", "FP")
	require.Equal(t, domain.PullOffDue, due.class.Phase())
	told := of(event(time.Time{}), nil, due)
	assert.InDelta(t, 4*5+day.Set.Minutes(), told.Classes[0].Ends.Middle.Sub(told.AsOf).Minutes(), 6)
	assert.Zero(t, told.Classes[0].PullOff)
	for _, c := range []struct {
		name        string
		results     []string
		least, most float64
	}{
		{"none so far, four to come", same(8, "250"), 0.1, 0.8},
		{"three so far, four to come", append(same(3, "FP"), same(5, "250")...), 3, 4.2},
		{"one full pull, and nobody to come", append(same(11, "250"), "FP"), -1, 0},
	} {
		class := planned(t, "Field Stock", 12).begins(six).pulls(5*time.Minute, c.results...)
		got := of(event(time.Time{}), nil, class).Classes[0].PullOff
		assert.True(t, got > c.least && got <= c.most, "%s: %f", c.name, got)
	}
	pulling := planned(t, "Field Stock", 3).begins(six).pulls(5*time.Minute, "FP", "FP", "250")
	name, _ := pulling.class.RoundDue()
	pulling.do(domain.OpenRound{Round: pulling.id(), Name: name})
	assert.InDelta(t, 2*5+day.Set.Minutes(), of(event(time.Time{}), nil, pulling).Classes[0].Ends.Middle.Sub(pulling.now).Minutes(), 4, "two hooks, once the sled is set")
}

// What earlier days say of a class of the same name is used before what they say of others, and both before the usual.
func TestTheCycleKnownBeforehand(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		paces []day.Pace
		cycle time.Duration
		from  day.Known
		words string
	}{
		{"no earlier day", nil, 5 * time.Minute, day.ByPractice, "5 min a hook, the usual"},
		{"too few hooks", []day.Pace{{Slug: "field-stock", Median: 4 * time.Minute, Cycles: 7}}, 5 * time.Minute, day.ByPractice, "5 min a hook, the usual"},
		{"the class before", []day.Pace{{Slug: "open", Median: 7 * time.Minute, Cycles: 90}, {Slug: "field-stock", Median: 260 * time.Second, Cycles: 9}}, 260 * time.Second, day.ByClass, "4.3 min a hook, as this class took before"},
		{"others before", []day.Pace{{Slug: "open", Median: 7 * time.Minute, Cycles: 9}, {Slug: "mini", Median: 3 * time.Minute, Cycles: 20}, {Slug: "farm", Median: 4 * time.Minute, Cycles: 20}}, 4 * time.Minute, day.ByOthers, "4 min a hook, as others took before"},
	} {
		told := of(event(time.Time{}), c.paces, planned(t, "Field Stock", 6)).Classes[0]
		assert.Equal(t, c.cycle, told.Cycle, c.name)
		assert.Equal(t, c.from, told.Known, c.name)
		assert.Equal(t, c.words, told.Words(), c.name)
	}
}

// Wherever a day stands, its windows are in order, lie after the moment from which they count, and are the same each time.
func TestTheWindowsOfADayAreInOrder(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		var classes []domain.Class
		at := six
		for i := range rapid.IntRange(1, 4).Draw(r, "classes") {
			n := rapid.IntRange(0, 6).Draw(r, "entries")
			c := planned(t, fmt.Sprintf("Class %d", i), n)
			if rapid.Bool().Draw(r, "Sunday") {
				c.class.Session = sunday
			}
			if n > 0 && rapid.Bool().Draw(r, "begun") {
				c.begins(at).pulls(time.Duration(rapid.IntRange(1, 30).Draw(r, "minutes"))*time.Minute,
					rapid.SliceOfN(rapid.SampledFrom([]string{"FP", "250", "DQ out of bounds", "absent"}), 0, n).Draw(r, "results")...)
				at = c.now.Add(time.Minute)
			}
			classes = append(classes, c.class)
		}
		e := event(six.Add(time.Duration(rapid.IntRange(1, 300).Draw(r, "curfew")) * time.Minute))
		told := day.Of(e, classes, nil)
		require.Equal(t, told, day.Of(e, classes, nil))
		for _, c := range told.Tracks[0].Classes {
			for _, w := range []day.Window{c.Starts, c.Ends} {
				if !w.IsZero() {
					require.False(t, w.Early.Before(told.Tracks[0].AsOf) || w.Middle.Before(w.Early) || w.Late.Before(w.Middle), c)
				}
			}
			require.Equal(t, c.State == day.ToCome, !c.Starts.IsZero(), c)
		}
		for _, c := range told.Tracks[0].Curfews {
			require.True(t, c.Past >= 0 && c.Past <= 1)
		}
		require.NotEmpty(t, told.Tracks[0].Sentence(time.UTC))
	})
}

// fitted is by how many minutes a middle may move beside the break: the lognormals are fitted anew.
const fitted = 1.0

// A break is taken with the change of class that comes at its time or later, and moves everything behind it, in the plan as
// in what is expected; the class before it ends when it did. One after the last class moves nothing.
func TestABreakBeginsWithTheNextChangeOfClass(t *testing.T) {
	t.Parallel()
	list := []*course{planned(t, "Field Stock", 12), planned(t, "Modified", 6), planned(t, "Street", 6)}
	without := of(event(time.Time{}), nil, list...)
	change := without.Classes[1].Starts.Middle // about 19:24
	for _, c := range []struct {
		what  string
		from  time.Time
		moved []bool
	}{
		{"during the first class", six.Add(time.Hour), []bool{false, true, true}},
		{"during the second", change.Add(5 * time.Minute), []bool{false, false, true}},
		{"after the last", six.Add(8 * time.Hour), []bool{false, false, false}},
	} {
		e := event(time.Time{})
		e.Sessions[1].Breaks = []domain.Pause{{From: c.from, Minutes: 40}}
		with := of(e, nil, list...)
		for i, moved := range c.moved {
			by := time.Duration(0)
			if moved {
				by = 40 * time.Minute
			}
			assert.InDelta(t, by.Minutes(), with.Classes[i].Starts.Middle.Sub(without.Classes[i].Starts.Middle).Minutes(), fitted, "%s, class %d", c.what, i)
			assert.InDelta(t, by.Minutes(), with.Classes[i].Planned.Start.Sub(without.Classes[i].Planned.Start).Minutes(), fitted, "%s, class %d", c.what, i)
		}
		assert.InDelta(t, 0, with.Classes[0].Ends.Late.Sub(without.Classes[0].Ends.Late).Minutes(), fitted)
	}
}

// A break is behind once a class was called after its time, or the sled is set for the next one when it is over; until then
// it is still to come, however late it is.
func TestABreakThatIsBehindMovesNothing(t *testing.T) {
	t.Parallel()
	e, plain := event(time.Time{}), event(time.Time{})
	e.Sessions[1].Breaks = []domain.Pause{{From: six.Add(30 * time.Minute), Minutes: 40}}
	first := planned(t, "Field Stock", 3).begins(six).pulls(15*time.Minute, "250", "251", "252")
	moved := func(list ...*course) float64 {
		last := len(list) - 1
		return of(e, nil, list...).Classes[last].Ends.Middle.Sub(of(plain, nil, list...).Classes[last].Ends.Middle).Minutes()
	}
	assert.InDelta(t, 40, moved(first, planned(t, "Modified", 6)), fitted, "it is 18:45, and nothing was called since the break's time")
	set := planned(t, "Modified", 6)
	set.now = six.Add(60 * time.Minute)
	set.do(domain.DrawClass{Round: set.id(), Seed: "dice 4 2 6"})
	set.frozen()
	assert.InDelta(t, 40, moved(first, set), fitted, "the sled is set while the break goes on")
	late := planned(t, "Modified", 6)
	late.now = six.Add(75 * time.Minute)
	late.do(domain.DrawClass{Round: late.id(), Seed: "dice 4 2 6"})
	late.frozen()
	assert.InDelta(t, 0, moved(first, late), fitted, "it is over, and the sled is set")
	assert.InDelta(t, 0, moved(first, planned(t, "Modified", 6).begins(six.Add(75*time.Minute)), planned(t, "Street", 6)), fitted, "the next class was called")
}

// A class waits for its fixed start, in the plan as in what is expected; one that it is late for moves nothing. A break while
// it is waited for costs nothing beside.
func TestAFixedStartIsWaitedFor(t *testing.T) {
	t.Parallel()
	first, second := planned(t, "Field Stock", 4), planned(t, "Modified", 6)
	second.do(domain.FixStart{Starts: six.Add(3 * time.Hour)})
	e := event(time.Time{})
	for _, breaks := range [][]domain.Pause{nil, {{From: six.Add(2 * time.Hour), Minutes: 30}}} {
		e.Sessions[1].Breaks = breaks
		told := of(e, nil, first, second)
		assert.Equal(t, six.Add(3*time.Hour), told.Classes[1].Planned.Start, breaks)
		assert.Equal(t, six.Add(3*time.Hour), told.Classes[1].Starts.Early, breaks)
		assert.InDelta(t, 0, told.Classes[1].Starts.Middle.Sub(six.Add(3*time.Hour)).Minutes(), fitted, breaks)
	}
	free, late := planned(t, "Modified", 6), planned(t, "Modified", 6)
	late.do(domain.FixStart{Starts: six})
	assert.Equal(t, of(event(time.Time{}), nil, first, free).Classes[1].Ends, of(event(time.Time{}), nil, first, late).Classes[1].Ends)
}
