package templates

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// track is a 300 ft track with a lane of these stops.
func track(stops ...Stop) Strip {
	return Strip{ID: "strip", Name: "Test", Unit: "ft", Line: 300000, Restart: 75000, Step: 50000, Max: 325000,
		Lanes: []Lane{{Name: "Round 1", Stops: stops}}}
}

// narrow is the strip as the phone draws it.
func narrow(s Strip) stripView { return s.view(stripWidths()[0]) }

// wide is the strip as a wide page draws it.
func wide(s Strip) stripView { return s.view(stripWidths()[1]) }

// position reads a percentage back.
func position(t *testing.T, percent string) float64 {
	t.Helper()
	p, err := strconv.ParseFloat(strings.TrimSuffix(percent, "%"), 64)
	require.NoError(t, err)
	return p
}

// box is a label as it lies on the page at a width in pixels.
type box struct{ left, right, top, bottom float64 }

// boxes are the labels of a lane at a width in pixels.
func boxes(t *testing.T, l laneView, pixels float64) []box {
	t.Helper()
	var out []box
	for _, b := range l.Labels {
		left := position(t, b.X)/100*pixels + float64(b.Left)
		out = append(out, box{left, left + float64(b.Width), float64(b.Y), float64(b.Y + stripLabel)})
	}
	return out
}

func TestStopsLieWhereTheyWereMeasured(t *testing.T) {
	t.Parallel()
	for _, v := range track(Stop{Label: "41", Text: "150", At: 150000}).views() {
		line := position(t, v.Line.X)
		require.InDelta(t, line/2, position(t, v.Lanes[0].Stems[0].X), 0.02, v.Variant)
		require.InDelta(t, line/4, position(t, v.Restart.X), 0.02, v.Variant)
		require.Equal(t, v.Line.X, v.Track, v.Variant)
	}
}

func TestFullPullsStandPastTheLine(t *testing.T) {
	t.Parallel()
	v := narrow(track(Stop{Label: "23", Kind: StopFull}, Stop{Label: "19", Kind: StopFull}))
	labels := v.Lanes[0].Labels
	require.Len(t, labels, 2)
	for _, l := range labels {
		require.Equal(t, v.Line.X, l.X)
		require.Equal(t, stripPastLine, l.Left)
		require.Equal(t, "full", l.Kind)
	}
	require.Equal(t, "23", labels[0].Text, "the first full pull lies lowest")
	require.Greater(t, labels[0].Y, labels[1].Y)
}

func TestTooManyFullPullsAreCounted(t *testing.T) {
	t.Parallel()
	var stops []Stop
	for i := range 12 {
		stops = append(stops, Stop{Label: strconv.Itoa(i), Kind: StopFull})
	}
	labels := narrow(track(stops...)).Lanes[0].Labels
	require.Len(t, labels, stripRows*stripColumns)
	require.Equal(t, "+5", labels[len(labels)-1].Text)
}

func TestTheLeaderCarriesTheFlag(t *testing.T) {
	t.Parallel()
	cases := []struct {
		name string
		at   int
		back bool
	}{
		{"in the open", 150000, false},
		{"just short of the line", 299000, true},
		{"past the line", 308000, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			lane := wide(track(Stop{Label: "1", At: c.at, Kind: StopLeads})).Lanes[0]
			require.Len(t, lane.Flags, 1)
			require.Equal(t, c.back, lane.Flags[0].Back)
			require.Equal(t, "leads", lane.Labels[0].Kind)
		})
	}
}

func TestALaneWithoutRoomKeepsItsTicks(t *testing.T) {
	t.Parallel()
	var stops []Stop
	for i := range 10 {
		stops = append(stops, Stop{Label: strconv.Itoa(100 + i), At: 200000 + i})
	}
	lane := narrow(track(stops...)).Lanes[0]
	require.Len(t, lane.Labels, stripRows, "one label a row")
	require.Len(t, lane.Stems, 10, "and a tick for every stop")
	require.Equal(t, "109", lane.Labels[0].Text, "the farthest first")
}

func TestACrowdedLaneNamesTheBest(t *testing.T) {
	t.Parallel()
	var stops []Stop
	for i := range stripCrowded + 1 {
		stops = append(stops, Stop{Label: strconv.Itoa(i), At: 10000 * i})
	}
	stops[0].Kind = StopLeads
	lane := wide(track(stops...)).Lanes[0]
	require.Len(t, lane.Labels, stripBest)
	require.Equal(t, "0", lane.Labels[0].Text, "the leader, though it is the shortest here")
}

func TestAFloatingFinishHasNoLine(t *testing.T) {
	t.Parallel()
	s := Strip{ID: "s", Unit: "m", Max: 100000, Lanes: []Lane{{Stops: []Stop{{Label: "2", Text: "131.07", At: 131070, Kind: StopLeads}}}}}
	for _, v := range s.views() {
		require.Nil(t, v.Line)
		require.Nil(t, v.Restart)
		require.Less(t, position(t, v.Lanes[0].Stems[0].X), 100.0, "the strip grows to hold the stop")
		require.Equal(t, "100.00%", v.Track)
	}
}

func TestMarksKeepApart(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		in   Strip
		want []string
	}{
		{"feet", track(), []string{"0", "50", "100", "150", "200", "250", "300"}},
		{"metres", Strip{Max: 100000}, []string{"0", "20", "40", "60", "80", "100"}},
		{"model scale", Strip{Max: 16000, Step: 1000}, []string{"0", "5", "10", "15"}},
		{"nothing said", Strip{}, []string{"0", "1"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			var got []string
			for _, m := range narrow(c.in).Marks {
				got = append(got, m.Text)
			}
			require.Equal(t, c.want, got)
		})
	}
}

// Whatever the stops and whatever the width from the least on: no label covers
// another, none leaves the strip by more than the page's margin, and every
// label stands on its own side of the full-pull line and touches its stem.
func TestLabelsNeverCollide(t *testing.T) {
	t.Parallel()
	for seed := range uint64(300) {
		s := track(randomStops(rand.New(rand.NewPCG(seed, 1)))...)
		for i, w := range stripWidths() {
			for _, pixels := range []int{w.pixels, w.pixels + 37, w.pixels*2 - 1} {
				name := fmt.Sprintf("seed %d, %s, %d px", seed, w.name, pixels)
				checkLane(t, name, s.views()[i], float64(pixels))
			}
		}
	}
}

// randomStops are stops as a class may have them, many of them close.
func randomStops(r *rand.Rand) []Stop {
	var stops []Stop
	for range r.IntN(24) {
		s := Stop{Label: strconv.Itoa(r.IntN(1200)), At: 180000 + r.IntN(140000)}
		if r.IntN(6) == 0 {
			s.Kind = StopFull
		}
		stops = append(stops, s)
	}
	return stops
}

// checkLane checks the only lane of a view at a width in pixels.
func checkLane(t *testing.T, name string, v stripView, pixels float64) {
	t.Helper()
	lane := v.Lanes[0]
	all := boxes(t, lane, pixels)
	line := position(t, v.Line.X) / 100 * pixels
	for i, a := range all {
		require.GreaterOrEqual(t, a.left, -1.0, name)
		require.LessOrEqual(t, a.right, pixels+2, name)
		require.GreaterOrEqual(t, a.top, float64(lane.Top), name)
		require.LessOrEqual(t, a.bottom, float64(lane.Base), name)
		stop := position(t, lane.Labels[i].X) / 100 * pixels
		if lane.Labels[i].Kind != "full" {
			require.LessOrEqual(t, a.left, stop, name)
			require.GreaterOrEqual(t, a.right, stop, name)
			require.False(t, stop < line-1 && a.right > line+1, "%s: %s reaches over the line", name, lane.Labels[i].Text)
		}
		for _, b := range all[i+1:] {
			apart := a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top
			require.True(t, apart, "%s: %v covers %v", name, a, b)
		}
	}
}

func TestTheSameStripTwice(t *testing.T) {
	t.Parallel()
	s := track(randomStops(rand.New(rand.NewPCG(7, 7)))...)
	var a, b bytes.Buffer
	require.NoError(t, s.Draw().Render(t.Context(), &a))
	require.NoError(t, s.Draw().Render(t.Context(), &b))
	require.Equal(t, a.String(), b.String())
}

func TestTheHeightIsBounded(t *testing.T) {
	t.Parallel()
	var stops []Stop
	for i := range 200 {
		stops = append(stops, Stop{Label: strconv.Itoa(i), At: 1500 * i})
	}
	most := stripTop + stripLanePad + stripFoot + stripRows*stripRow + stripAxis
	for _, v := range track(stops...).views() {
		require.LessOrEqual(t, v.Height, most)
	}
}

func ExampleStrip_Tell() {
	s := Strip{Unit: "ft", Line: 300000, Restart: 75000, Lanes: []Lane{
		{Name: "Round 1", Stops: []Stop{
			{Label: "41", Text: "281.36", At: 281360},
			{Label: "23", Kind: StopFull},
			{Label: "38", Text: "296.41", At: 296410},
			{Label: "19", Kind: StopFull},
		}},
		{Name: "Pull-off", Stops: []Stop{{Label: "19", Text: "312.44", At: 312440, Kind: StopLeads}}},
	}}
	fmt.Println(s.Tell())
	// Output:
	// Full pull at 300 ft. Restart line at 75 ft. Round 1 · 23: full pull · 19: full pull · 38: 296.41 ft · 41: 281.36 ft. Pull-off · 19 leads with 312.44 ft.
}
