package sled_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain/sled"
)

// on is a curve that still has no ground.
func on(s sled.Sled, setup sled.Setup) func(sled.Ground) *sled.Curve {
	return func(g sled.Ground) *sled.Curve { return sled.NewCurve(s, g, setup) }
}

// An invented sled in one gear, 36,000 lb in all, tripped by the box at 20 ft and then at 14 ft. The two stops of a vehicle
// tell that the dropped pan drags 0.40/0.30 of the raised one.
func TestTwoStopsOfOneVehicleTellTheRatio(t *testing.T) {
	t.Parallel()
	const ft = sled.Foot
	s := sled.Sled{Wheelbase: 25 * ft, FrameWeight: 17000 * lb, FrameCG: 7.5 * ft, PanWeight: 3000 * lb, BoxTop: 24 * ft, PushDown: sled.PushDown{Ramp: 20 * ft, Share: 1}}
	ground := sled.Ground{MuUp: 0.3, MuDown: 0.4, CRR: 0.05, Dig: 1200 * lb, DigRamp: 15 * ft}
	late := on(s, sled.Setup{BoxWeight: 16000 * lb, Advance: 0.100222, Trip: sled.TripAtBox(20 * ft)})
	early := on(s, sled.Setup{BoxWeight: 16000 * lb, Advance: 0.100222, Trip: sled.TripAtBox(14 * ft)})
	after := func(stop float64) sled.Pair {
		next := early(ground).Predict(late(ground).Mean(stop*ft), 300*ft)
		return sled.Pair{First: late, Second: early, FirstStop: stop * ft, SecondStop: next.Distance}
	}
	ratio, left, err := sled.Ratio(ground, []sled.Pair{after(270)})
	require.NoError(t, err)
	near(t, 0.4/0.3, ratio, 1e-6)
	assert.InDelta(t, 0, left, 1e-9)

	ratio, left, err = sled.Ratio(ground, []sled.Pair{after(240), after(255), after(285)})
	require.NoError(t, err)
	near(t, 0.4/0.3, ratio, 1e-6)
	assert.InDelta(t, 0, left, 1e-9)

	off := after(270)
	off.SecondStop -= 6 * ft
	ratio, left, err = sled.Ratio(ground, []sled.Pair{after(250), off})
	require.NoError(t, err)
	assert.NotEqual(t, 0.4/0.3, ratio)
	assert.Greater(t, left, 0.001, "two vehicles that disagree")
}

func TestWhereStopsSayNothingOfTheRatio(t *testing.T) {
	t.Parallel()
	_, _, err := sled.Ratio(sled.Ground{MuUp: 0.3}, nil)
	require.ErrorIs(t, err, sled.ErrNoPair)
	s := sled.Sled{Wheelbase: 8, FrameWeight: 7e4, FrameCG: 2, PanWeight: 1e4, BoxTop: 7}
	slow := on(s, sled.Setup{BoxWeight: 6e4, Advance: 0.08, Trip: sled.TripAtTravel(60)})
	fast := on(s, sled.Setup{BoxWeight: 6e4, Advance: 0.1, Trip: sled.TripAtTravel(60)})
	gear := func(advance float64) func(sled.Ground) *sled.Curve {
		return on(s, sled.Setup{BoxWeight: 6e4, Advance: advance, Trip: sled.TripAtBox(5.5)})
	}
	for what, p := range map[string]sled.Pair{
		"both stop before the drop":                     {First: slow, Second: fast, FirstStop: 50, SecondStop: 40},
		"one setting twice":                             {First: slow, Second: slow, FirstStop: 80, SecondStop: 80},
		"another gear alone":                            {First: gear(0.08), Second: gear(0.1), FirstStop: 80, SecondStop: 64},
		"farther on the harder one than any ratio tell": {First: slow, Second: fast, FirstStop: 20, SecondStop: 90},
	} {
		_, _, err := sled.Ratio(sled.Ground{MuUp: 0.3, CRR: 0.05}, []sled.Pair{p})
		require.ErrorIs(t, err, sled.ErrInsensible, what)
	}
}

// Whatever the sled, the ratio that was there is found, or none is.
func TestTheRatioThatWasThereIsFound(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := draw(t)
		other := r.setup
		other.Advance = r.setup.Advance * between(t, "faster", 1, 1.6)
		r.setup.Trip, other.Trip = sled.TripAtTravel(between(t, "first trip", 10, 100)), sled.TripAtTravel(between(t, "second trip", 10, 100))
		first, second := on(r.sled, r.setup), on(r.sled, other)
		stop := between(t, "stop", 20, 110)
		next := second(r.ground).Predict(first(r.ground).Mean(stop), 1e6)
		if next.Status != sled.Stops || next.Distance == 0 {
			return
		}
		ratio, _, err := sled.Ratio(r.ground, []sled.Pair{{First: first, Second: second, FirstStop: stop, SecondStop: next.Distance}})
		if err == nil {
			assert.InDelta(t, r.ground.MuDown/r.ground.MuUp, ratio, 1e-3)
		}
	})
}
