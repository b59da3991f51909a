package sled

import "math"

// Bound says how what a hook shows of a pull is to be read.
type Bound uint8

// How a pull can be read.
const (
	Exact Bound = iota + 1 // about this
	Lower                  // at least this
	Upper                  // at most this
)

// Run is what a vehicle did on a hook. Disqualified ones are left out by whoever asks.
type Run struct {
	Distance float64 // m; the line counts instead for a full pull
	Full     bool
	// Ended tells that something else than drag ended the run: it broke, the driver lifted, or officials stopped it.
	Ended bool
	// LineSpeed is the speed at the line under power, in m/s; 0 if not known. VehicleMass, in kg, goes with it.
	LineSpeed, VehicleMass float64
}

// Pull returns the mean net thrust of a run under this curve on a track with that line, in newtons: the thrust at the
// ground less the vehicle's own resistance, as an average over the run. Vehicle and sled begin and end at rest, so that
// it equals mean drag, whatever they weigh (equation 8). A run that drag did not end shows only the least it can have
// been, unless its speed at the line is known (equations 11 and 12); one that never moved, the most.
func (c *Curve) Pull(r Run, line float64) (pull float64, bound Bound) {
	switch {
	case r.Full && r.LineSpeed > 0:
		mass := r.VehicleMass + c.Weight()/Gravity
		return c.Mean(line) + mass*r.LineSpeed*r.LineSpeed/(2*line), Exact
	case r.Full:
		return c.Mean(line), Lower
	case r.Ended:
		return c.Mean(r.Distance), Lower
	case r.Distance == 0:
		return c.Mean(0), Upper
	default:
		return c.Mean(r.Distance), Exact
	}
}

// Change is a what-if: runs under one curve, predicted under another. Lines are in metres.
type Change struct {
	From, To         *Curve
	FromLine, ToLine float64
	// Drift is by how much the ratio of the track's friction then to now may be off, from 0 to below 1.
	Drift float64
}

// Row is what a change does to one run. Forces are in newtons.
type Row struct {
	Pull      float64
	Bound     Bound
	Predicted Prediction
	// Low and High are for a pull that is less or more by the drift. High is Unknown where the pull is a lower bound; Low
	// is 0 where it is an upper one.
	Low, High Prediction
	// Margin is how far the pull lies above what a full pull takes, as a share of that; NaN where that takes nothing.
	Margin float64
	// EndDrag and ByEndDrag are beside it for an exact pull that was not full, see [Curve.PredictByEndDrag]; ByEndDrag has
	// no Status otherwise.
	EndDrag   float64
	ByEndDrag Prediction
}

// Row predicts one run. Where drag under From is the same everywhere, every stop shows the same pull, and nothing is
// predicted; a known speed at the line shows more than a stop.
func (c Change) Row(r Run) Row {
	pull, bound := c.From.Pull(r, c.FromLine)
	row := Row{Pull: pull, Bound: bound, Margin: math.NaN()}
	if full := c.To.Mean(c.ToLine); full > 0 {
		row.Margin = pull/full - 1
	}
	flat := c.From.Flat() && r.LineSpeed == 0
	predict := func(pull float64) Prediction {
		if flat {
			return Prediction{Status: Indeterminate}
		}
		return c.To.Predict(pull, c.ToLine)
	}
	row.Predicted, row.Low, row.High = predict(pull), predict(pull*(1-c.Drift)), predict(pull*(1+c.Drift))
	switch {
	case bound == Lower:
		row.High = Prediction{Status: Unknown}
	case bound == Upper:
		row.Low = Prediction{Status: Stops}
	case !r.Full && flat:
		row.EndDrag, row.ByEndDrag = c.From.Drag(r.Distance), Prediction{Status: Indeterminate}
	case !r.Full:
		row.EndDrag = c.From.Drag(r.Distance)
		row.ByEndDrag = c.To.PredictByEndDrag(row.EndDrag, c.ToLine)
	}
	return row
}

// Count is how many full pulls there would be: as predicted, and at least and at most for the drift and for what is not
// known.
type Count struct{ Nominal, AtLeast, AtMost int }

// Add counts a row. What is not known to stop may be a full pull.
func (n *Count) Add(r Row) {
	if r.Predicted.Status == Full {
		n.Nominal++
	}
	if r.Low.Status == Full {
		n.AtLeast++
	}
	if r.High.Status != Stops {
		n.AtMost++
	}
}
