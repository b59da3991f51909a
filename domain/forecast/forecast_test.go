package forecast_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain/forecast"
)

// hooks are n hooks of the first kind.
func hooks(n int) []forecast.Item {
	items := make([]forecast.Item, n)
	for i := range items {
		items[i].Hooks = 1
	}
	return items
}

// ran is a day on which the hooks took so long, one after the other.
func ran(cycles ...time.Duration) *forecast.Day {
	d := forecast.New(forecast.Usual())
	for _, c := range cycles {
		d.Saw(0, c)
	}
	return d
}

// times repeats a cycle.
func times(n int, cycle time.Duration) []time.Duration {
	list := make([]time.Duration, n)
	for i := range list {
		list[i] = cycle
	}
	return list
}

// width is how wide the window of the last of n hooks is.
func width(d *forecast.Day, now forecast.Now, n int) time.Duration {
	w := d.Plan(now, hooks(n)).Windows[n-1].End
	return w.Late - w.Early
}

func TestBeforeTheFirstHookThePriorIsAllThereIs(t *testing.T) {
	t.Parallel()
	plan := forecast.New(forecast.Prior{}).Plan(forecast.Now{}, nil)
	assert.Empty(t, plan.Windows)
	assert.Equal(t, -1, plan.Cut(time.Hour))
	w := forecast.New(forecast.Usual()).Plan(forecast.Now{}, hooks(12)).Windows
	assert.Equal(t, forecast.Span{}, w[0].Start, "the first begins now")
	assert.InDelta(t, 64, w[11].End.Middle.Minutes(), 4, "twelve at five minutes, and a little for what may break")
	assert.Less(t, w[11].End.Early, 50*time.Minute)
	assert.Greater(t, w[11].End.Late, 80*time.Minute)
}

// A slow day moves the windows, and what was seen makes them narrower.
func TestTheDayIsLearned(t *testing.T) {
	t.Parallel()
	slow := ran(times(20, 7*time.Minute)...)
	assert.InDelta(t, 87, slow.Plan(forecast.Now{}, hooks(12)).Windows[11].End.Middle.Minutes(), 4, "twelve at seven minutes, and the day may get slower still")
	assert.Less(t, width(ran(times(20, 5*time.Minute)...), forecast.Now{}, 12), width(ran(), forecast.Now{}, 12))
	assert.Equal(t, ran().Plan(forecast.Now{}, hooks(3)), ran(0, -time.Minute).Plan(forecast.Now{}, hooks(3)), "what cannot be is passed over")
}

// A track that dries makes each hook a little longer than the one before: that is followed into the hooks to come, so that
// the middle comes nearer to what the slope makes of them than without it. No track dries for good.
func TestADayThatSlowsDownIsFollowed(t *testing.T) {
	t.Parallel()
	const slope, seen = 0.01, 50
	cycle := func(hook int) time.Duration {
		return time.Duration(float64(5*time.Minute) * math.Exp(slope*float64(hook)))
	}
	level := forecast.Usual()
	level.Slope, level.Slows = 0, 0
	with, without := forecast.New(forecast.Usual()), forecast.New(level)
	for i := range seen {
		with.Saw(0, cycle(i))
		without.Saw(0, cycle(i))
	}
	var truth time.Duration
	for i := range 20 {
		truth += cycle(seen + i)
	}
	last := func(d *forecast.Day) forecast.Span { return d.Plan(forecast.Now{}, hooks(20)).Windows[19].End }
	assert.Greater(t, last(with).Middle, last(without).Middle+5*time.Minute)
	assert.Less(t, (last(with).Middle - truth).Abs(), (last(without).Middle - truth).Abs())
	assert.Greater(t, last(with).Late, truth)
	far := with.Plan(forecast.Now{}, hooks(300)).Windows
	assert.InDelta(t, (far[299].End.Middle - far[289].End.Middle).Minutes(), (far[199].End.Middle - far[189].End.Middle).Minutes(), 8)
}

// One breakdown is no slow day: the middle hardly moves. But it may happen again, so that windows widen.
func TestABreakdownIsNoSlowDay(t *testing.T) {
	t.Parallel()
	even := ran(times(20, 5*time.Minute)...)
	broke := ran(append(times(18, 5*time.Minute), 32*time.Minute, 5*time.Minute)...)
	middle := func(d *forecast.Day) float64 {
		return d.Plan(forecast.Now{}, hooks(12)).Windows[11].End.Middle.Minutes()
	}
	assert.InDelta(t, middle(even), middle(broke), 4)
	assert.Greater(t, width(broke, forecast.Now{}, 12), width(even, forecast.Now{}, 12))
	twice := ran(append(times(16, 5*time.Minute), 32*time.Minute, 5*time.Minute, 25*time.Minute, 5*time.Minute)...)
	assert.Greater(t, width(twice, forecast.Now{}, 12), width(broke, forecast.Now{}, 12))
	endless := ran(append(times(18, 5*time.Minute), 100*time.Hour)...)
	assert.Less(t, middle(endless), 100.0, "a night between two days is no pace")
}

// The longer the hook under way takes, the likelier something is broken, and the wider the window of all that follow.
func TestADayThatRunsLateWidensTheWindows(t *testing.T) {
	t.Parallel()
	d := ran(times(20, 5*time.Minute)...)
	last := time.Duration(0)
	for _, since := range []time.Duration{time.Minute, 8 * time.Minute, 15 * time.Minute, 40 * time.Minute} {
		w := width(d, forecast.Now{Since: since}, 6)
		assert.Greater(t, w, last, since)
		last = w
	}
	soon := d.Plan(forecast.Now{Since: 4 * time.Minute}, hooks(1)).Windows[0].End
	assert.Less(t, soon.Middle, 2*time.Minute, "most of it is over")
	gone := d.Plan(forecast.Now{Since: 1000 * time.Hour}, hooks(1)).Windows[0].End
	assert.Greater(t, gone.Late, gone.Early)
}

func TestBreaksAndFixedTimes(t *testing.T) {
	t.Parallel()
	d := ran(times(20, 5*time.Minute)...)
	plain := d.Plan(forecast.Now{}, hooks(4)).Windows
	items := hooks(4)
	items[2].Pause = 30 * time.Minute
	paused := d.Plan(forecast.Now{}, items).Windows
	assert.Equal(t, plain[1], paused[1])
	assert.InDelta(t, 30, (paused[2].Start.Middle - plain[1].End.Middle).Minutes(), 1.5)
	items = hooks(4)
	items[2].NotBefore = 2 * time.Hour
	fixed := d.Plan(forecast.Now{}, items).Windows
	assert.InDelta(t, 120, fixed[2].Start.Early.Minutes(), 2)
	assert.InDelta(t, 120, fixed[2].Start.Middle.Minutes(), 2, "what comes before is over long before")
	items[2].NotBefore = time.Minute
	passed := d.Plan(forecast.Now{}, items).Windows
	assert.InDelta(t, plain[3].End.Middle.Minutes(), passed[3].End.Middle.Minutes(), 0.5, "a time that will have passed holds up nobody")
}

// A pull-off of an unknown number widens what comes after it, and moves it by what is expected.
func TestAPullOffOfAnUnknownNumber(t *testing.T) {
	t.Parallel()
	d := ran(times(20, 5*time.Minute)...)
	three := d.Plan(forecast.Now{}, []forecast.Item{{Hooks: 3}}).Windows[0].End
	about := d.Plan(forecast.Now{}, []forecast.Item{{Hooks: 3, Give: 2}}).Windows[0].End
	assert.InDelta(t, three.Middle.Minutes(), about.Middle.Minutes(), 3)
	assert.Greater(t, about.Late-about.Early, three.Late-three.Early)
}

// The curfew: how likely each class ends after it, and which would have to be cut.
func TestTheCurfew(t *testing.T) {
	t.Parallel()
	d := ran(times(20, 5*time.Minute)...)
	plan := d.Plan(forecast.Now{}, []forecast.Item{{Hooks: 12}, {Hooks: 12, Kind: 1, Pause: 10 * time.Minute}, {Hooks: 12, Kind: 2, Pause: 10 * time.Minute}})
	last := -1.0
	for i := range 3 {
		past := plan.Past(i, 150*time.Minute)
		assert.Greater(t, past, last)
		last = past
	}
	assert.Equal(t, 2, plan.Cut(150*time.Minute))
	assert.Equal(t, 0, plan.Cut(30*time.Minute))
	assert.Equal(t, -1, plan.Cut(6*time.Hour))
	assert.InDelta(t, 0.5, plan.Past(1, plan.Windows[1].End.Middle), 0.02)
	assert.InDelta(t, 0.1, plan.Past(1, plan.Windows[1].End.Late), 0.02)
}

// Whatever was seen and whatever is to come, windows are in order, in themselves and one after the other, and the same
// day gives the same windows.
func TestWindowsAreInOrder(t *testing.T) {
	t.Parallel()
	minutes := rapid.Custom(func(t *rapid.T) time.Duration {
		return time.Duration(rapid.IntRange(0, 90*60).Draw(t, "seconds")) * time.Second
	})
	rapid.Check(t, func(t *rapid.T) {
		d, again := forecast.New(usual()), forecast.New(usual())
		for _, c := range rapid.SliceOfN(minutes, 0, 30).Draw(t, "cycles") {
			kind := rapid.IntRange(-1, 3).Draw(t, "kind")
			d.Saw(kind, c)
			again.Saw(kind, c)
		}
		items := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) forecast.Item {
			return forecast.Item{
				Kind: rapid.IntRange(0, 2).Draw(t, "kind"), Hooks: float64(rapid.IntRange(0, 4).Draw(t, "hooks")), Give: float64(rapid.IntRange(0, 2).Draw(t, "give")),
				Pause: minutes.Draw(t, "pause"), PauseGive: minutes.Draw(t, "give") / 9, NotBefore: minutes.Draw(t, "not before"),
			}
		}), 1, 20).Draw(t, "items")
		now := forecast.Now{Since: minutes.Draw(t, "since")}
		plan := d.Plan(now, items)
		require.Equal(t, plan, again.Plan(now, items))
		before := forecast.Span{}
		for i, w := range plan.Windows {
			for _, s := range []forecast.Span{w.Start, w.End} {
				require.LessOrEqual(t, s.Early, s.Middle)
				require.LessOrEqual(t, s.Middle, s.Late)
				require.GreaterOrEqual(t, s.Early, before.Early)
				require.GreaterOrEqual(t, s.Middle, before.Middle)
				require.GreaterOrEqual(t, s.Late, before.Late)
				require.Less(t, s.Late, 2000*time.Hour)
				before = s
			}
			past := plan.Past(i, time.Hour)
			require.True(t, past >= -1e-3 && past <= 1+1e-3, past)
		}
	})
}

// BenchmarkPlan forecasts two hundred hooks: a day with every window of it.
func BenchmarkPlan(b *testing.B) {
	d, items := ran(times(20, 5*time.Minute)...), hooks(200)
	for b.Loop() {
		d.Plan(forecast.Now{Since: time.Minute}, items)
	}
}
