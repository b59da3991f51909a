package sled_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"clayline/domain/sled"
)

// random is a sled as one could be built, on a track as one could be, under a setting as one could be chosen: the box
// between the axle and the pan, a pan that drags at least as much as the wheels, and more after the drop.
type random struct {
	sled   sled.Sled
	ground sled.Ground
	setup  sled.Setup
}

// curve returns its curve.
func (r random) curve() *sled.Curve { return sled.NewCurve(r.sled, r.ground, r.setup) }

// draw draws one. Half of the ramps have no length.
func draw(t *rapid.T) random {
	number := func(name string, least, most float64) float64 { return between(t, name, least, most) }
	rampOrStep := func(name string) float64 {
		if rapid.Bool().Draw(t, name+" is a step") {
			return 0
		}
		return number(name, 0.1, 10)
	}
	length := number("wheelbase", 4, 10)
	top := number("stop", 0.5, 1) * length
	r := random{
		sled:   sled.Sled{Wheelbase: length, FrameWeight: number("frame", 1e4, 1e5), FrameCG: number("cg", 0, 1) * length, PanWeight: number("pan", 0, 3e4), BoxTop: top},
		ground: sled.Ground{CRR: number("crr", 0, 0.1), Dig: number("dig", 0, 1e4), DigRamp: rampOrStep("dig ramp")},
		setup:  sled.Setup{BoxWeight: number("box", 1e4, 1e5), BoxStart: number("start", 0, 0.4) * top, Advance: number("advance", 0.05, 0.2)},
	}
	r.ground.MuUp = r.ground.CRR + number("mu up", 0, 0.5)
	r.ground.MuDown = r.ground.MuUp + number("mu down", 0, 0.3)
	if rapid.Bool().Draw(t, "push-down") {
		r.sled.PushDown = sled.PushDown{Delay: rampOrStep("delay"), Ramp: rampOrStep("push-down ramp"), Share: number("share", 0, 1)}
	}
	switch rapid.IntRange(0, 2).Draw(t, "trip") {
	case 1:
		r.setup.Trip = sled.TripAtBox(number("trip box", 0, 1.1) * top)
	case 2:
		r.setup.Trip = sled.TripAtTravel(number("trip", 0, 120))
	}
	return r
}

// between draws a number in a thousand steps, ends included, because nobody measures with more digits.
func between(t *rapid.T, name string, least, most float64) float64 {
	return least + (most-least)*float64(rapid.IntRange(0, 1000).Draw(t, name))/1000
}

// places are distances to look at, past the line too.
var places = []float64{0, 0.5, 3, 11, 29, 47.5, 61, 73.25, 88, 91.44, 100, 130}

// panels are how many pieces a numeric sum has.
const panels = 40_000

// numericWork sums drag over a fine grid of midpoints, as the definition of work has it and nothing in the package does.
func numericWork(c *sled.Curve, travel float64) float64 {
	step, sum := travel/panels, 0.0
	for i := range panels {
		sum += c.Drag((float64(i) + 0.5) * step)
	}
	return sum * step
}

func TestWorkIsTheSumOfDrag(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := draw(t)
		c := r.curve()
		// Half a panel can fall on the wrong side of each of three jumps, and no jump is higher than drag can be.
		jumps := 1.5 * 91.44 / panels * (r.ground.MuDown*c.Weight() + r.ground.Dig)
		assert.InDelta(t, numericWork(c, 91.44), c.Work(91.44), jumps+1e-6*c.Work(91.44))
	})
}

// dragByDefinition computes equations 1 to 6 of docs/sled.md for one place, without any pieces.
func dragByDefinition(r random, d float64) float64 {
	s, g, u := r.sled, r.ground, r.setup
	c := r.curve()
	x := min(s.BoxTop, u.BoxStart+u.Advance*d)
	carried := s.FrameWeight + u.BoxWeight
	n := math.Min(math.Max((s.FrameWeight*s.FrameCG+u.BoxWeight*x)/s.Wheelbase, 0), carried)
	share := func(start, ramp float64) float64 {
		if d < start {
			return 0
		}
		if ramp == 0 {
			return 1
		}
		return math.Min(1, (d-start)/ramp)
	}
	axle := carried - n
	if s.PushDown.Share > 0 {
		axle *= 1 - s.PushDown.Share*share((s.BoxTop-u.BoxStart)/u.Advance+s.PushDown.Delay, s.PushDown.Ramp)
	}
	pan, mu, dig := carried+s.PanWeight-axle, g.MuUp, 0.0
	if d >= c.Trip() {
		mu, dig = g.MuDown, g.Dig*share(c.Trip(), g.DigRamp)
	}
	return mu*pan + g.CRR*axle + dig
}

func TestThePiecesAreTheDefinition(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := draw(t)
		c := r.curve()
		for _, d := range places {
			near(t, dragByDefinition(r, d), c.Drag(d), 1e-9, "%v m", d)
			pan, axle := c.Loads(d)
			near(t, c.Weight(), pan+axle, 1e-12)
			assert.False(t, pan < 0 || axle < 0)
		}
	})
}

func TestTheSameSettingGivesDistancesBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		c := draw(t).curve()
		for _, d := range places {
			elasticity, ok := c.Elasticity(d)
			if !ok || elasticity > 1e4 {
				continue
			}
			stop := c.Predict(c.Mean(d), 300)
			if stop.Status == sled.Indeterminate {
				// Drag was even up to here and jumps just here: each stop on the way has the same mean.
				near(t, c.Drag(0), c.Mean(d), 1e-9, "%v m", d)
				near(t, c.Drag(0), c.Mean(d/2), 1e-9, "%v m", d/2)
				continue
			}
			near(t, d, stop.Uncapped, 1e-12*(100+elasticity), "%v m", d)
		}
	})
}

// Only the ratios of friction matter.
func TestTheScaleOfFrictionCancels(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		from := draw(t)
		to := from
		to.setup.BoxWeight *= between(t, "heavier", 0.7, 1.4)
		to.setup.Advance *= between(t, "faster", 0.7, 1.4)
		scale := between(t, "scale", 0.2, 5)
		scaled := func(r random) *sled.Curve {
			g := r.ground
			r.ground = sled.Ground{MuUp: g.MuUp * scale, MuDown: g.MuDown * scale, CRR: g.CRR * scale, Dig: g.Dig * scale, DigRamp: g.DigRamp}
			return r.curve()
		}
		for _, d := range places {
			want := to.curve().Predict(from.curve().Mean(d), 91.44)
			elasticity, _ := to.curve().Elasticity(want.Uncapped)
			if want.Status == sled.Indeterminate || math.IsInf(want.Uncapped, 1) || elasticity > 1e4 || from.ground.MuDown == 0 {
				continue
			}
			// A stop within the first metre is compared as if it were a metre: rounding has no smaller scale than the track's.
			got := scaled(to).Predict(scaled(from).Mean(d), 91.44).Uncapped
			assert.InDelta(t, want.Uncapped, got, 1e-12*(100+elasticity)*max(want.Uncapped, 1), "%v m", d)
		}
	})
}

// Mean drag hangs on the position of the box alone, until a ramp in metres or the stop: a vehicle stops where the box is.
func TestAnotherGearStopsAtTheSamePositionOfTheBox(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		from := draw(t)
		from.ground.DigRamp = 0
		from.setup.Trip = sled.TripAtBox(between(t, "trip at", 0, 1) * from.sled.BoxTop)
		to := from
		to.setup.Advance *= between(t, "faster", 0.5, 2)
		a, b := from.curve(), to.curve()
		for _, d := range places {
			elasticity, ok := a.Elasticity(d)
			if !ok || elasticity > 1e4 || d >= a.TopOut()*0.999 {
				continue
			}
			near(t, d*from.setup.Advance/to.setup.Advance, b.Predict(a.Mean(d), 300).Uncapped, 1e-12*(100+elasticity), "%v m", d)
		}
	})
}

func TestHarderIsNeverLonger(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		from := draw(t)
		from.setup.Trip = sled.TripAtBox(between(t, "trip at", 0, 1) * from.sled.BoxTop)
		more := between(t, "more", 1.01, 1.5)
		heavier, faster, further, earlier := from, from, from, from
		heavier.setup.BoxWeight *= more
		faster.setup.Advance *= more
		further.setup.BoxStart = min(from.sled.BoxTop, from.setup.BoxStart*more+0.1)
		earlier.setup.Trip = sled.TripAtBox(0)
		a := from.curve()
		assert.True(t, a.Monotone(), "drag never falls, so its mean does not")
		for what, to := range map[string]random{"heavier": heavier, "faster": faster, "further forward": further, "earlier": earlier} {
			for _, d := range places {
				if elasticity, ok := a.Elasticity(d); ok && elasticity < 1e4 {
					stop := to.curve().Predict(a.Mean(d), 300).Uncapped
					assert.LessOrEqual(t, stop, d*(1+1e-7), "%s, from %v m", what, d)
				}
			}
		}
	})
}

// A vehicle of constant pull is driven in small steps of time: where it comes to rest is where the curve says, whatever it
// weighs.
func TestAVehicleInSmallStepsStopsThere(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		c := draw(t).curve()
		pull := c.Mean(0) * between(t, "pull", 1.05, 1.6)
		want := c.Predict(pull, 300).Uncapped
		elasticity, ok := c.Elasticity(want)
		if math.IsInf(want, 1) || want > 300 || !ok || elasticity > 20 || pull < 2e3 {
			return
		}
		mass := between(t, "mass", 1e4, 3e4)
		const step = 1e-3
		d, v := 0.0, 0.0
		for d == 0 || v > 0 {
			v += (pull - c.Drag(d)) / mass * step
			d += v * step
		}
		// Less than a step of time's way is not seen by such a driver, however short the pull.
		assert.InDelta(t, want, d, 2e-3*max(want, 1))
	})
}

func TestThePeakIsTheMost(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		c := draw(t).curve()
		stop := rapid.SampledFrom(places).Draw(t, "stop")
		pull := c.Mean(stop)
		at, energy := c.Peak(pull, stop)
		assert.LessOrEqual(t, at, stop)
		near(t, energy, pull*at-c.Work(at), 1e-9)
		for i := range 1000 {
			d := stop * float64(i) / 1000
			assert.LessOrEqual(t, pull*d-c.Work(d), energy+1e-9*(pull*d+1))
		}
	})
}

// Whatever the friction, a stop is a standstill and nothing before it is one.
func TestTheFirstStandstillCounts(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := draw(t)
		r.ground = sled.Ground{MuUp: between(t, "any mu up", 0, 0.8), MuDown: between(t, "any mu down", 0, 0.8),
			CRR: between(t, "any crr", 0, 0.8), Dig: r.ground.Dig, DigRamp: r.ground.DigRamp}
		c := r.curve()
		pull := c.Mean(0) * between(t, "pull", 0.9, 1.6)
		p := c.Predict(pull, 91.44)
		if p.Status == sled.Indeterminate {
			return
		}
		if pull < c.Mean(0)*(1-1e-9) {
			assert.Zero(t, p.Distance)
			return
		}
		if !math.IsInf(p.Uncapped, 1) && p.Uncapped > 0 {
			near(t, pull, c.Mean(p.Uncapped), 1e-9)
		}
		for i := range 200 {
			if d := min(p.Uncapped, 500) * float64(i) / 200; d > 0 {
				assert.LessOrEqual(t, c.Mean(d), pull*(1+1e-9), "at %v m it would have stopped", d)
			}
		}
	})
}
