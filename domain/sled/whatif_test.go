package sled_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain/sled"
)

func TestARunShowsAPullOrABound(t *testing.T) {
	t.Parallel()
	c, line := demoCurve(3), 300*ft
	full := c.Mean(line)
	const speed, vehicle = 9 * sled.MilePerHour, 9_500 * sled.Pound
	for what, row := range map[string]struct {
		run   sled.Run
		pull  float64
		bound sled.Bound
	}{
		"stopped by the sled":          {sled.Run{Distance: 240 * ft}, c.Mean(240 * ft), sled.Exact},
		"full":                         {sled.Run{Distance: line, Full: true}, full, sled.Lower},
		"full, measured past the line": {sled.Run{Distance: 312 * ft, Full: true}, full, sled.Lower},
		"full with its speed under power": {sled.Run{Distance: line, Full: true, LineSpeed: speed, VehicleMass: vehicle},
			full + (vehicle+36_000*sled.Pound)*speed*speed/(2*line), sled.Exact},
		"past the line without a cap": {sled.Run{Distance: 312 * ft}, c.Mean(312 * ft), sled.Exact},
		"broke, lifted or stopped":    {sled.Run{Distance: 240 * ft, Ended: true}, c.Mean(240 * ft), sled.Lower},
		"lifted past the line":        {sled.Run{Distance: line, Full: true, Ended: true}, full, sled.Lower},
		"never moved":                 {sled.Run{}, c.Mean(0), sled.Upper},
	} {
		pull, bound := c.Pull(row.run, line)
		near(t, row.pull, pull, 1e-12, what)
		assert.Equal(t, row.bound, bound, what)
	}
}

func TestABoundHasNoEndOnItsOpenSide(t *testing.T) {
	t.Parallel()
	c := change(0.08)
	exact := c.Row(sled.Run{Distance: 240 * ft})
	assert.Less(t, exact.Low.Distance, exact.Predicted.Distance)
	assert.Less(t, exact.Predicted.Distance, exact.High.Distance)
	near(t, c.From.Drag(240*ft), exact.EndDrag, 1e-15)
	assert.NotZero(t, exact.ByEndDrag.Status)

	lower := c.Row(sled.Run{Full: true})
	assert.Equal(t, sled.Unknown, lower.High.Status)
	assert.Equal(t, sled.Stops, lower.Low.Status)
	assert.Zero(t, lower.ByEndDrag.Status)
	near(t, c.From.Mean(300*ft)/c.To.Mean(300*ft)-1, lower.Margin, 1e-12)

	upper := c.Row(sled.Run{})
	assert.Equal(t, sled.Prediction{Status: sled.Stops}, upper.Low)
	assert.Equal(t, sled.Prediction{Status: sled.Stops}, upper.Predicted)
	assert.Positive(t, upper.High.Distance)
}

func TestCountsAreARange(t *testing.T) {
	t.Parallel()
	full, stops := sled.Prediction{Status: sled.Full}, sled.Prediction{Status: sled.Stops}
	var n sled.Count
	n.Add(sled.Row{Predicted: full, Low: full, High: full})
	n.Add(sled.Row{Predicted: full, Low: stops, High: full})
	n.Add(sled.Row{Predicted: stops, Low: stops, High: sled.Prediction{Status: sled.Unknown}})
	n.Add(sled.Row{Predicted: stops, Low: stops, High: stops})
	n.Add(sled.Row{Predicted: sled.Prediction{Status: sled.Indeterminate}, Low: sled.Prediction{Status: sled.Indeterminate}, High: sled.Prediction{Status: sled.Indeterminate}})
	assert.Equal(t, sled.Count{Nominal: 2, AtLeast: 1, AtMost: 4}, n)
}

func TestAKnownSpeedSaysMoreThanAFlatStop(t *testing.T) {
	t.Parallel()
	flat := sled.NewCurve(demo, sled.Ground{MuUp: 0.1, MuDown: 0.1, CRR: 0.1}, demoSetup(3))
	require.True(t, flat.Flat())
	c := sled.Change{From: flat, To: demoCurve(3), FromLine: 300 * ft, ToLine: 300 * ft}
	assert.Equal(t, sled.Indeterminate, c.Row(sled.Run{Full: true}).Predicted.Status)
	assert.NotEqual(t, sled.Indeterminate, c.Row(sled.Run{Full: true, LineSpeed: 4, VehicleMass: 4000}).Predicted.Status)
}

func TestEndDragIsReachedOrNever(t *testing.T) {
	t.Parallel()
	c := demoCurve(4)
	assert.Equal(t, sled.Stops, c.PredictByEndDrag(0.9*c.Mean(0), 300*ft).Status)
	assert.Zero(t, c.PredictByEndDrag(0.9*c.Mean(0), 300*ft).Distance)
	near(t, 120*ft, c.PredictByEndDrag(c.Drag(120*ft), 300*ft).Distance, 1e-12)
	between := (c.Drag(c.Trip()) + c.Drag(c.Trip()-1e-6)) / 2
	near(t, c.Trip(), c.PredictByEndDrag(between, 300*ft).Distance, 1e-12, "the jump at the drop")
	assert.Equal(t, sled.Prediction{Status: sled.Full, Distance: 300 * ft, Uncapped: math.Inf(1)}, c.PredictByEndDrag(15_601*lb, 300*ft))
	assert.Equal(t, sled.Stops, c.PredictByEndDrag(15_600*lb, 300*ft).Status)
}

// The worked vehicle of docs/sled.md: 9,500 lb, stopping at 270 ft in gear 3.
func TestTheImpliedPeakIsAtTheDrop(t *testing.T) {
	t.Parallel()
	c := demoCurve(3)
	pull := c.Mean(270 * ft)
	assert.InDelta(t, 7_169, pull/lb, 0.5)
	at, energy := c.Peak(pull, 270*ft)
	near(t, c.Trip(), at, 1e-12)
	assert.InDelta(t, 15.1, math.Sqrt(2*energy/(45_500*sled.Pound))/sled.MilePerHour, 0.05)
	at, energy = c.Peak(c.Mean(0), 0)
	assert.Zero(t, at)
	assert.Zero(t, energy)
}

func TestCalibrationGivesCoefficientsBack(t *testing.T) {
	t.Parallel()
	c := demoCurve(3)
	sample := func(feet ...float64) (list []sled.Sample) {
		for _, f := range feet {
			list = append(list, sled.Sample{Travel: f * ft, Drag: c.Drag(f * ft)})
		}
		return list
	}
	for what, row := range map[string]struct {
		samples []sled.Sample
		mu      float64
	}{
		"before the drop": {sample(10, 60, 120, 180), 0.3},
		"behind it, in the digging ramp, at the stop and under the push-down": {sample(202, 212, 238, 245, 280), 0.4},
		"two are enough": {sample(0, 199), 0.3},
	} {
		fit, err := c.Calibrate(row.samples)
		require.NoError(t, err, what)
		near(t, row.mu, fit.Mu, 1e-10, what)
		near(t, 0.05, fit.CRR, 1e-9, what)
		assert.Less(t, fit.RMS, 1e-6, what)
	}
	noisy := sample(10, 60, 120, 180)
	for i := range noisy {
		noisy[i].Drag += 100 * lb * []float64{1, -1, -1, 1}[i]
	}
	fit, err := c.Calibrate(noisy)
	require.NoError(t, err)
	assert.InDelta(t, 100*lb, fit.RMS, 5*lb, "what is left is said")

	for want, samples := range map[error][]sled.Sample{
		sled.ErrFew: sample(10), sled.ErrMixed: sample(10, 60, 230), sled.ErrSame: sample(270, 280, 290),
	} {
		_, err := c.Calibrate(samples)
		assert.ErrorIs(t, err, want)
	}
}

// BenchmarkWhatIf makes the curves of both settings and predicts a class of 100.
func BenchmarkWhatIf(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		c := change(0.08)
		var n sled.Count
		for i := range 100 {
			n.Add(c.Row(sled.Run{Distance: float64(150+i) * ft, Full: i >= 95}))
		}
		if n.AtMost < 5 {
			b.Fatal(n)
		}
	}
}
