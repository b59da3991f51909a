package sled_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain/sled"
)

const (
	ft = sled.Foot
	lb = sled.PoundForce
)

// demo is an invented sled; no real one has these numbers. docs/sled.md prints its tables.
var (
	demo = sled.Sled{Wheelbase: 25 * ft, FrameWeight: 17_000 * lb, FrameCG: 7.5 * ft, PanWeight: 3_000 * lb, BoxTop: 24 * ft,
		PushDown: sled.PushDown{Ramp: 20 * ft, Share: 1}}
	demoGround = sled.Ground{MuUp: 0.3, MuDown: 0.4, CRR: 0.05, Dig: 1_200 * lb, DigRamp: 15 * ft}
	demoDrive  = sled.Driveline{Circumference: 10.5 * ft, AxleRatio: 4.1, TransferRatio: 0.2, Teeth: 11, Pitch: 1.75 * sled.Inch, ChainToBox: 1}
	demoGears  = []float64{0.64, 0.72, 0.80, 0.92, 1.04}
)

// demoSetup is the demo's class in a gear from 1 to 5.
func demoSetup(gear int) sled.Setup {
	return sled.Setup{BoxWeight: 16_000 * lb, Advance: demoDrive.Advance(demoGears[gear-1]), Trip: sled.TripAtBox(20 * ft)}
}

// demoCurve is the demo in a gear.
func demoCurve(gear int) *sled.Curve { return sled.NewCurve(demo, demoGround, demoSetup(gear)) }

// near compares to a relative difference.
func near(t require.TestingT, want, got, difference float64, what ...any) {
	assert.InDelta(t, want, got, difference*max(math.Abs(want), math.Abs(got), 1e-9), what...)
}

// NIST SP 811, App. B.8 and B.9 (digits read second-hand): foot, pound and g_n are exact. US Navy manual 1004_6, App. B
// (read): 1 in = 25.4 mm, 1 lbf = 4.44822 N, 1 lb = 0.453592 kg.
func TestUnitsAreThoseOfTheStandard(t *testing.T) {
	t.Parallel()
	near(t, 4.4482216152605, sled.PoundForce, 1e-15)
	near(t, 4.44822, sled.PoundForce, 1e-6)
	near(t, 0.453592, sled.Pound, 1e-6)
	near(t, 0.0254, sled.Inch, 1e-15)
	near(t, 0.44704, sled.MilePerHour, 1e-15)
	near(t, 1.3558179483314004, sled.FootPound, 1e-15)
}

// Table "ANSI B29.1 roller chain standard sizes" (encyclopedia copy at liquisearch.com, read), and the rule of the pitch
// chart at sprocket-chain.net (read): the digits before the last are eighths of an inch. The parts catalogue at
// partmatch.io (read) gives #140 as 44.45 mm. One turn of a sprocket advances the chain by teeth times pitch.
func TestASprocketTurnAdvancesTheChainByItsTeeth(t *testing.T) {
	t.Parallel()
	for number, inches := range map[int]float64{
		40: 0.5, 50: 0.625, 60: 0.75, 80: 1, 100: 1.25, 120: 1.5, 140: 1.75, 160: 2, 180: 2.25, 200: 2.5, 240: 3,
	} {
		pitch, known := sled.ChainPitch(number)
		require.True(t, known, number)
		near(t, inches*0.0254, pitch, 1e-15, number)
		// A wheel of one metre that turns the sprocket once.
		d := sled.Driveline{Circumference: 1, AxleRatio: 1, TransferRatio: 1, Teeth: 11, Pitch: pitch, ChainToBox: 1}
		near(t, 11*inches*0.0254, d.Advance(1), 1e-14, number)
	}
	near(t, 0.04445, 14./8*sled.Inch, 1e-15)
	assert.Len(t, sled.Chains(), 11)
	for _, number := range []int{0, 7, 41, 130, 145, 1400, -140} {
		_, known := sled.ChainPitch(number)
		assert.False(t, known, "%d: a pitch is not guessed", number)
	}
}

// Nebraska test figures quoted at tractorbynet.com (second-hand): 2,437 lb at 5.09 mph is 33.06 drawbar hp, 2,121 lb at
// 5.38 mph 30.45; 1 hp is 550 ft-lb a second. Force, speed and power agree to what rounding of the figures allows.
func TestDrawbarPowerAgrees(t *testing.T) {
	t.Parallel()
	const horsepower = 550 * sled.FootPound
	assert.InDelta(t, 33.06, 2437*lb*5.09*sled.MilePerHour/horsepower, 0.03)
	assert.InDelta(t, 30.45, 2121*lb*5.38*sled.MilePerHour/horsepower, 0.03)
	near(t, 375, horsepower/lb/sled.MilePerHour, 1e-12)
}

// Civil Engineering Formulas, p. 52, "Beam supported both ends, two unequal concentrated loads" (read):
// R = [W(L-a) + W1 b]/L and R1 = [W a + W1(L-b)]/L, a from the left support and b from the right one.
func TestTheFrameIsABeamWithTwoLoads(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Float64Range(5, 15).Draw(t, "L")
		w, w1 := rapid.Float64Range(0, 1e5).Draw(t, "W"), rapid.Float64Range(0, 1e5).Draw(t, "W1")
		a, x := rapid.Float64Range(0, length).Draw(t, "a"), rapid.Float64Range(0, length).Draw(t, "box")
		b := length - x
		s := sled.Sled{Wheelbase: length, FrameWeight: w, FrameCG: a, BoxTop: x}
		pan, axle := sled.NewCurve(s, sled.Ground{}, sled.Setup{BoxWeight: w1, BoxStart: x, Advance: 0.1}).Loads(0)
		assert.InDelta(t, (w*(length-a)+w1*b)/length, axle, 1e-6)
		assert.InDelta(t, (w*a+w1*(length-b))/length, pan, 1e-6)
	})
}

// Physics exercise at jiskha.com/questions/454089 (numbers read, worked with g = 9.8): a truck of 9,155 kg whose centre
// of gravity is 0.63 m ahead of the rear wheels and 2.3 m behind the front ones.
func TestTheTruckExerciseComesOut(t *testing.T) {
	t.Parallel()
	s := sled.Sled{Wheelbase: 0.63 + 2.3, FrameWeight: 9155 * 9.8, FrameCG: 0.63}
	front, rear := sled.NewCurve(s, sled.Ground{}, sled.Setup{Advance: 0.1}).Loads(0)
	assert.InDelta(t, 19_291, front, 0.5)
	assert.InDelta(t, 70_428, rear, 0.5)
}

// truck tire 290/60R22.5 (read): 37 in in diameter, 569 and 575 turns a mile: 9.28 and 9.18 ft, less than the diameter
// gives by the share that the comment of Circumference states.
func TestATireRollsLessThanItsDiameterGives(t *testing.T) {
	t.Parallel()
	for turns, want := range map[float64]struct{ feet, share float64 }{569: {9.28, 0.958}, 575: {9.18, 0.948}} {
		rolls := sled.Mile / turns
		assert.InDelta(t, want.feet, rolls/ft, 0.005)
		assert.InDelta(t, want.share, rolls/(37*sled.Inch*math.Pi), 0.001)
	}
}

func TestTheDemoTablesComeOut(t *testing.T) {
	t.Parallel()
	for gear, want := range map[int]struct {
		advance, trip, mean float64
		top                 [5]float64
	}{
		1: {0.080178, 249.45, 6295.7, [5]float64{299.33, 293.10, 286.86, 280.63, 274.39}},
		2: {0.090200, 221.73, 7188.4, [5]float64{266.08, 260.53, 254.99, 249.45, 243.90}},
		3: {0.100222, 199.56, 8011.9, [5]float64{239.47, 234.48, 229.49, 224.50, 219.51}},
		4: {0.115256, 173.53, 8978.7, [5]float64{208.23, 203.89, 199.56, 195.22, 190.88}},
		5: {0.130289, 153.51, 9722.3, [5]float64{184.21, 180.37, 176.53, 172.69, 168.86}},
	} {
		c := demoCurve(gear)
		assert.InDelta(t, want.advance, demoSetup(gear).Advance, 5e-7, gear)
		assert.InDelta(t, want.trip, c.Trip()/ft, 0.005, gear)
		assert.InDelta(t, want.mean, c.Mean(300*ft)/lb, 0.06, gear)
		for hole, top := range want.top {
			setup := demoSetup(gear)
			setup.BoxStart = float64(hole) / 2 * ft
			assert.InDelta(t, top, sled.NewCurve(demo, demoGround, setup).TopOut()/ft, 0.0051, "gear %d, hole %d", gear, hole)
		}
	}
	for gear, points := range map[int][][5]float64{ // travel, box, pan, drag, mean
		1: {{0, 0, 8100, 3825, 3825}, {200, 16, 18363, 6391, 5108}, {250, 20, 20928, 9169, 5433}, {275, 22, 22211, 10774, 5868}, {300, 24, 23877, 11357, 6296}},
		3: {{50, 5, 11307, 4627, 4226}, {175, 17.5, 19325, 6631, 5228}, {200, 20, 20928, 9160, 5433}, {250, 24, 30064, 13522, 6534}, {275, 24, 36000, 15600, 7322}},
		5: {{150, 19.5, 20608, 6952, 5388}, {175, 22.8, 22692, 10942, 6013}, {200, 24, 33363, 14677, 6793}, {225, 24, 36000, 15600, 7763}},
	} {
		c := demoCurve(gear)
		for _, p := range points {
			d := p[0] * ft
			pan, _ := c.Loads(d)
			got := [5]float64{p[0], c.Box(d) / ft, pan / lb, c.Drag(d) / lb, c.Mean(d) / lb}
			assert.InDelta(t, p[1], got[1], 0.051, "gear %d at %v ft: box", gear, p[0])
			assert.InDeltaSlice(t, p[2:], got[2:], 0.51, "gear %d at %v ft", gear, p[0])
		}
	}
}

// The demo at 240 ft, gear 3 to 4, with the ranges of the uncertainty section of docs/sled.md.
func TestTheDemoWhatIfComesOut(t *testing.T) {
	t.Parallel()
	for drift, want := range map[float64][3]float64{
		0.03: {201, 208.9, 216}, 0.05: {196, 208.9, 220}, 0.08: {189, 208.9, 225}, 0.10: {184, 208.9, 229},
	} {
		row := change(drift).Row(sled.Run{Distance: 240 * ft})
		assert.InDelta(t, want[0], row.Low.Distance/ft, 0.51, drift)
		assert.InDelta(t, want[1], row.Predicted.Distance/ft, 0.051, drift)
		assert.InDelta(t, want[2], row.High.Distance/ft, 0.51, drift)
	}
	elasticity, ok := demoCurve(3).Elasticity(150 * ft)
	require.True(t, ok)
	assert.InDelta(t, 4.2, elasticity, 0.05, "short pulls predict badly")
	least, most := math.Inf(1), 0.0
	for gear := range demoGears {
		elasticity, _ := demoCurve(gear + 1).Elasticity(300 * ft)
		least, most = min(least, elasticity), max(most, elasticity)
	}
	assert.InDelta(t, 0.86, least, 0.01)
	assert.InDelta(t, 1.65, most, 0.01)
}

// change is the demo, from gear 3 to gear 4.
func change(drift float64) sled.Change {
	return sled.Change{From: demoCurve(3), To: demoCurve(4), FromLine: 300 * ft, ToLine: 300 * ft, Drift: drift}
}

func TestWithoutFrictionAStopSaysNothing(t *testing.T) {
	t.Parallel()
	still := sled.NewCurve(demo, sled.Ground{}, demoSetup(3))
	assert.True(t, still.Flat())
	assert.True(t, still.Monotone())
	assert.Zero(t, still.Work(300*ft))
	row := sled.Change{From: still, To: still, FromLine: 300 * ft, ToLine: 300 * ft}.Row(sled.Run{Distance: 200 * ft})
	assert.Equal(t, sled.Indeterminate, row.Predicted.Status)
	assert.Equal(t, sled.Indeterminate, row.ByEndDrag.Status)
	assert.True(t, math.IsNaN(row.Margin))
	assert.Equal(t, sled.Prediction{Status: sled.Full, Distance: 300 * ft, Uncapped: math.Inf(1)}, still.Predict(1, 300*ft), "any pull goes on for ever")
}

func TestFlatDragFromTheStartSaysNothingWhileItLasts(t *testing.T) {
	t.Parallel()
	// Wheels and pan drag alike, so that moving the box changes nothing until the drop.
	g := sled.Ground{MuUp: 0.2, MuDown: 0.4, CRR: 0.2}
	c := sled.NewCurve(demo, g, demoSetup(3))
	assert.False(t, c.Flat())
	assert.Equal(t, sled.Indeterminate, c.Predict(c.Mean(100*ft), 300*ft).Status)
	assert.Equal(t, sled.Prediction{Status: sled.Stops}, c.Predict(c.Mean(0)*0.99, 300*ft), "too weak to start")
	beyond := c.Predict(c.Mean(0)*1.01, 300*ft)
	assert.Greater(t, beyond.Distance, c.Trip(), "the drop stops it")
}

func TestTheForemostHoleIsTheStop(t *testing.T) {
	t.Parallel()
	setup := demoSetup(3)
	setup.BoxStart = demo.BoxTop
	c := sled.NewCurve(demo, demoGround, setup)
	assert.Zero(t, c.TopOut())
	assert.Zero(t, c.Trip(), "the box stands past the trip from the start")
	assert.Zero(t, c.PushDown())
	assert.Equal(t, demo.BoxTop, c.Box(0))
	setup.Trip = sled.Trip{}
	bare := demo
	bare.PushDown = sled.PushDown{}
	assert.True(t, sled.NewCurve(bare, demoGround, setup).Flat(), "nothing moves and nothing drops")
}

func TestABoxThatDoesNotMoveNeverTopsOut(t *testing.T) {
	t.Parallel()
	setup := demoSetup(3)
	setup.Advance = 0
	c := sled.NewCurve(demo, demoGround, setup)
	for what, travel := range map[string]float64{"top-out": c.TopOut(), "trip": c.Trip(), "push-down": c.PushDown()} {
		assert.True(t, math.IsInf(travel, 1), what)
	}
	assert.True(t, c.Flat())
	assert.Zero(t, c.Box(1000*ft))
}

func TestTripsByBoxByTravelAndNever(t *testing.T) {
	t.Parallel()
	for what, row := range map[string]struct {
		trip sled.Trip
		feet float64
	}{
		"by the box":                      {sled.TripAtBox(10 * ft), 100},
		"at the stop itself":              {sled.TripAtBox(24 * ft), 240},
		"past the stop never":             {sled.TripAtBox(24.1 * ft), math.Inf(1)},
		"behind the start: at once":       {sled.TripAtBox(-1 * ft), 0},
		"by travel":                       {sled.TripAtTravel(150 * ft), 150},
		"by travel, at the start line":    {sled.TripAtTravel(0), 0},
		"by travel, after the box's stop": {sled.TripAtTravel(280 * ft), 280},
		"absent: never":                   {sled.Trip{}, math.Inf(1)},
	} {
		setup := sled.Setup{BoxWeight: 1, Advance: 0.1, Trip: row.trip}
		c := sled.NewCurve(demo, demoGround, setup)
		if math.IsInf(row.feet, 1) {
			assert.True(t, math.IsInf(c.Trip(), 1), what)
			continue
		}
		near(t, row.feet*ft, c.Trip(), 1e-12, what)
		before, after := c.Drag(max(0, row.feet*ft-1e-6)), c.Drag(row.feet*ft)
		if row.feet > 0 {
			pan, _ := c.Loads(row.feet * ft)
			assert.InDelta(t, 0.1*pan, after-before, 1, "%s: friction jumps from 0.3 to 0.4", what)
		}
	}
}

func TestDiggingWithoutARampIsAStep(t *testing.T) {
	t.Parallel()
	g := demoGround
	g.MuDown, g.DigRamp = g.MuUp, 0
	c := sled.NewCurve(demo, g, demoSetup(3))
	near(t, 1_200*lb, c.Drag(c.Trip())-c.Drag(c.Trip()-1e-9), 1e-6)
	near(t, c.Mean(c.Trip()-1e-9), c.Mean(c.Trip()), 1e-9, "work does not jump")
}

func TestThePushDownLiftsItsShareAfterItsDelay(t *testing.T) {
	t.Parallel()
	s := demo
	s.PushDown = sled.PushDown{Delay: 10 * ft, Ramp: 0, Share: 0.6}
	c := sled.NewCurve(s, demoGround, demoSetup(3))
	near(t, c.TopOut()+10*ft, c.PushDown(), 1e-12)
	_, before := c.Loads(c.PushDown() - 1e-6)
	_, after := c.Loads(c.PushDown())
	near(t, 0.4*before, after, 1e-9, "without a ramp at once")

	s.PushDown = sled.PushDown{}
	c = sled.NewCurve(s, demoGround, demoSetup(3))
	assert.True(t, math.IsInf(c.PushDown(), 1))
	_, axle := c.Loads(500 * ft)
	near(t, before, axle, 1e-9, "without a push-down the axle keeps its load")
}

func TestSupportsThatWouldLiftAreHeldAtNothing(t *testing.T) {
	t.Parallel()
	s := sled.Sled{Wheelbase: 20 * ft, FrameWeight: 2_000 * lb, FrameCG: 10 * ft, BoxTop: 30 * ft}
	setup := sled.Setup{BoxWeight: 10_000 * lb, BoxStart: -4 * ft, Advance: 0.1}
	c := sled.NewCurve(s, sled.Ground{MuUp: 0.5, MuDown: 0.5, CRR: 0.1}, setup)
	assert.True(t, c.FrontLifts())
	assert.True(t, c.AxleLifts())
	pan, axle := c.Loads(0)
	assert.Zero(t, pan)
	near(t, 12_000*lb, axle, 1e-12)
	pan, axle = c.Loads(c.TopOut())
	near(t, 12_000*lb, pan, 1e-12)
	assert.Zero(t, axle)
	// 2,000 x 10 + 10,000 x = 0 at x = -2 ft, which is 20 ft on; = 12,000 x 20 at x = 22 ft, which is 260 ft on.
	near(t, c.Drag(0), c.Drag(20*ft), 1e-9)
	assert.Less(t, c.Drag(20*ft), c.Drag(21*ft))
	assert.Less(t, c.Drag(259*ft), c.Drag(260*ft))
	near(t, c.Drag(260*ft), c.Drag(300*ft), 1e-9)
	near(t, numericWork(c, 330*ft), c.Work(330*ft), 1e-5)
	for _, quiet := range []*sled.Curve{demoCurve(1), demoCurve(5)} {
		assert.False(t, quiet.FrontLifts() || quiet.AxleLifts(), "a push-down is no warning")
	}
}

func TestWhereMeanDragFallsTheFirstStandstillCounts(t *testing.T) {
	t.Parallel()
	g := sled.Ground{MuUp: 0.6, MuDown: 0.2, CRR: 0.05}
	c := sled.NewCurve(demo, g, demoSetup(3))
	assert.False(t, c.Monotone())
	rises := c.Mean(c.Trip())
	pull := 0.97 * rises
	first := c.Predict(pull, 300*ft)
	assert.Equal(t, sled.Stops, first.Status)
	assert.Less(t, first.Distance, c.Trip())
	near(t, pull, c.Mean(first.Distance), 1e-12)
	near(t, pull, c.Mean(c.Trip()+(secondCrossing(c, pull)-c.Trip())), 1e-6, "the same pull belongs to a stop further on too")
	assert.Greater(t, secondCrossing(c, pull), c.Trip())
	assert.Greater(t, c.Predict(1.01*rises, 300*ft).Uncapped, c.Trip(), "a stronger one gets over it")
}

// secondCrossing walks from the drop until mean drag is down to the pull.
func secondCrossing(c *sled.Curve, pull float64) float64 {
	d := c.Trip()
	for c.Mean(d) > pull {
		d += 1e-4
	}
	return d
}

// A box that moves from the pan's side of heavy wheels to the pan lowers drag, so that a pull equal to the drag at the
// start moves.
func TestAPullEqualToFallingDragMoves(t *testing.T) {
	t.Parallel()
	g := sled.Ground{MuUp: 0.1, MuDown: 0.9, CRR: 0.3}
	c := sled.NewCurve(demo, g, demoSetup(3))
	assert.Less(t, c.Drag(ft), c.Drag(0))
	assert.Greater(t, c.Predict(c.Mean(0), 300*ft).Uncapped, c.Trip())
}

func TestMetricLinesAreLines(t *testing.T) {
	t.Parallel()
	c := demoCurve(3)
	pull := c.Mean(100) * 1.0001
	assert.Equal(t, sled.Full, c.Predict(pull, 100).Status)
	assert.InDelta(t, 100, c.Predict(pull, 100).Distance, 1e-12)
	assert.Equal(t, sled.Full, c.Predict(c.Mean(100), 100).Status, "a stop at the line is at the line")
	assert.Equal(t, sled.Stops, c.Predict(pull, 110).Status)
}
