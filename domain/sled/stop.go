package sled

import "math"

// Status says what is known of where a vehicle would stop.
type Status uint8

// What can be known.
const (
	Stops         Status = iota + 1 // before the line
	Full                            // at the line or past it
	Indeterminate                   // drag is the same everywhere: any stop is possible
	Unknown                         // the pull has no upper bound
)

// Prediction is where a vehicle would stop. Distances are in metres and mean something for Stops and Full only.
type Prediction struct {
	Status   Status
	Distance float64 // the line for Full
	Uncapped float64 // as if there were no line; +Inf when it never stops
}

// prediction reads a stop against the line. The smallest bit past rounding decides for a full pull, since a vehicle that
// stopped at the line is one.
func prediction(stop, line float64) Prediction {
	if stop >= line*(1-1e-9) {
		return Prediction{Full, line, stop}
	}
	return Prediction{Stops, stop, stop}
}

// Predict returns where a vehicle of that mean pull, in newtons, stops on a track with a line at that distance, in
// metres (equations 8 and 10). The first standstill counts, where mean drag falls again behind it too. A pull below the
// drag at the start moves nothing: the distance is 0.
func (c *Curve) Predict(pull, line float64) Prediction {
	stop, ok := c.firstStop(pull)
	if !ok {
		return Prediction{Status: Indeterminate}
	}
	return prediction(stop, line)
}

// firstStop returns the first travel at which the work against drag has used up pull times travel, +Inf if there is none.
// It is false where drag stays equal to the pull from the start line, which is a standstill everywhere.
//
// What a vehicle has left after d is pull·d - work, a parabola on each piece: it is below 0 only behind a stop.
func (c *Curve) firstStop(pull float64) (stop float64, ok bool) {
	start := &c.pieces[0]
	length := min(start.end, 1e3)
	if even := nearly * start.first; math.Abs(pull-start.first) <= even && math.Abs(start.slope())*length <= even {
		return 0, false
	}
	if pull < start.first || pull == start.first && start.slope() > 0 {
		return 0, true
	}
	for i := range c.pieces[:c.count] {
		p := &c.pieces[i]
		if left := pull*p.start - p.work; left < 0 {
			return p.start, true // rounding hid the stop at the end of the piece before
		}
		if t := p.runsOut(pull); t <= p.end-p.start {
			return p.start + t, true
		}
	}
	return math.Inf(1), true
}

// runsOut returns how far behind the start of the piece what is left runs out, +Inf if it does not: the first root of
// slope/2·t² - (pull-first)·t - left = 0, each written so that nothing cancels.
func (p *piece) runsOut(pull float64) float64 {
	half, gains, left := p.slope()/2, pull-p.first, max(pull*p.start-p.work, 0)
	if p.start == 0 {
		if half <= 0 {
			return math.Inf(1)
		}
		return gains / half
	}
	disc := gains*gains + 4*half*left
	switch {
	case disc < 0 || half <= 0 && gains >= 0:
		return math.Inf(1)
	case gains >= 0:
		return (gains + math.Sqrt(disc)) / (2 * half)
	default:
		return 2 * left / (math.Sqrt(disc) - gains)
	}
}

// reaches returns the first travel at which drag is at least that, in newtons; +Inf if it never is.
func (c *Curve) reaches(drag float64) float64 {
	enough := drag * (1 - nearly)
	for i := range c.pieces[:c.count] {
		p := &c.pieces[i]
		switch {
		case p.first >= enough:
			return p.start
		case p.last >= enough:
			return min(p.start+(drag-p.first)/p.slope(), p.end)
		}
	}
	return math.Inf(1)
}

// PredictByEndDrag returns where drag first reaches what it was at a vehicle's stop, in newtons (equation 14). It is
// meant for classes with a speed limit, in which a vehicle brings little speed to its stop, and says nothing where
// drag stays the same, as after the push-down.
func (c *Curve) PredictByEndDrag(drag, line float64) Prediction {
	if c.Flat() && math.Abs(drag-c.pieces[0].first) <= nearly*drag {
		return Prediction{Status: Indeterminate}
	}
	return prediction(c.reaches(drag), line)
}

// Peak returns where on its way to a travel a vehicle of that constant pull, in newtons, has the most kinetic energy, in
// joules of vehicle and sled together. Energy grows while the pull is above drag, so that it peaks where they cross or
// where drag jumps over the pull.
func (c *Curve) Peak(pull, travel float64) (at, energy float64) {
	consider := func(d float64) {
		if left := pull*d - c.Work(d); d <= travel && left > energy+nearly*pull*d {
			at, energy = d, left
		}
	}
	for i := range c.pieces[:c.count] {
		p := &c.pieces[i]
		consider(p.start)
		if slope := p.slope(); slope > 0 && pull >= p.first && pull <= p.last {
			consider(p.start + (pull-p.first)/slope)
		}
	}
	consider(travel)
	return at, energy
}
