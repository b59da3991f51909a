// Package forecast says when hooks will be made: for every hook to come a window, from what a hook usually takes and
// from what this day has shown. Numbers go in and numbers come out; it knows no class and no clock, and draws nothing
// by chance, so that the same day gives the same windows.
//
// # The model
//
// A cycle is the time from one green to the next. An ordinary one is lognormal: its logarithm is that of the usual
// cycle of its kind, plus the pace of the day, plus what differs from hook to hook. The pace is learned hook by hook, and
// moves: by chance, and by a slope, since a track dries and a crew gets quicker. The slope is learned too, slowly, and
// followed [Ahead] hooks far. Now and then something breaks, the sled or the light, and a cycle takes many minutes more;
// how often, is learned as well.
//
// From now on the mean and the variance of the time are carried from hook to hook, once for each number of breakdowns
// until then. The pace is the same for all hooks to come, so that what is wrong about it adds up: their covariance is
// carried along. A window is read off the mixture: as many lognormals as numbers of breakdowns, each with the weight
// of its number. docs/forecast.md has the figures, and how often the windows held on simulated days.
//
// # An example
//
// Three hooks are left, and the usual cycle is 4 minutes. After a day on which they took 6, the windows are later:
//
//	f := forecast.New(forecast.Usual())
//	for range 20 {
//		f.Saw(0, 6*time.Minute)
//	}
//	f.Plan(forecast.Now{}, []forecast.Item{{Hooks: 1}, {Hooks: 1}, {Hooks: 1}})
//
// The windows are estimates; the call in the pits counts.
package forecast

import (
	"math"
	"time"
)

// Prior is what is known before the day has shown anything. All of it is common practice with no published source:
// round figures, of which the day soon leaves little but the sizes of the spreads.
type Prior struct {
	// Cycle is the usual time from green to green of each kind of class, by the index that Saw and Item name.
	Cycle []time.Duration
	// Pace is how much a day differs from it, Kind how much one kind of class differs from another on the same day,
	// Drift how much the pace moves from hook to hook by chance, Slope how much it moves each hook the same way, and Spread
	// how much hooks differ: standard deviations of the logarithm, so that 0.2 is about a fifth.
	Pace, Kind, Drift, Slope, Spread float64
	// Slows is the slope that is expected beforehand: days slow down more often than they quicken.
	Slows float64
	// Spreads is how many hooks the prior spread is worth against those seen.
	Spreads float64
	// Breaks is how many breakdowns there are in PerHooks hooks; both together say how soon the day is believed.
	Breaks, PerHooks float64
	// Repair is what a breakdown usually costs beside the cycle, and Repairs its spread as above.
	Repair  time.Duration
	Repairs float64
}

// Usual is the prior for one kind of class: five minutes a hook, give or take a fifth from day to day.
func Usual() Prior {
	return Prior{
		Cycle: []time.Duration{5 * time.Minute}, Pace: 0.22, Kind: 0.12, Drift: 0.01, Slope: 0.0045, Slows: 0.0027, Spread: 0.3, Spreads: 10,
		Breaks: 0.75, PerHooks: 50, Repair: 11 * time.Minute, Repairs: 0.7,
	}
}

// Day is what has been learned. It is not to be used by two at once.
type Day struct {
	prior  Prior
	kind   int     // of the last hook seen
	seen   int     // hooks
	pace   float64 // of the kind of the last hook, as a logarithm
	slope  float64 // how much it moves with each hook
	unsure spread  // about both
	differ float64 // variance of an ordinary cycle
	weight float64 // how many hooks the spread is worth
	breaks float64 // breakdowns and hooks, with the prior's
	hooks  float64
}

// New begins a day. A prior without a cycle gets that of [Usual].
func New(p Prior) *Day {
	if len(p.Cycle) == 0 {
		p.Cycle = Usual().Cycle
	}
	return &Day{
		prior: p, slope: p.Slows, unsure: spread{pace: p.Pace * p.Pace, slope: p.Slope * p.Slope}, differ: p.Spread * p.Spread, weight: p.Spreads, breaks: p.Breaks, hooks: p.PerHooks,
	}
}

// base is the logarithm of the median of an ordinary cycle of a kind, in seconds, before the day's pace. A kind that is
// not known is the first.
func (d *Day) base(kind int) float64 {
	if kind < 0 || kind >= len(d.prior.Cycle) {
		kind = 0
	}
	return math.Log(d.prior.Cycle[kind].Seconds())
}

// Saw tells of a hook that was made: its kind and the time from its green to the next. Breaks of the programme, and
// times between classes, are not to be told. What is not above zero is passed over.
//
// How far a cycle is believed depends on how ordinary it looks: one that is much too long counts as a breakdown, by
// the odds of the two, and moves the pace the less.
func (d *Day) Saw(kind int, cycle time.Duration) {
	if cycle <= 0 {
		return
	}
	d.pace += d.slope
	d.unsure.moves(1, 1, d.prior.Drift)
	if kind != d.kind {
		d.unsure.pace += d.prior.Kind * d.prior.Kind
	}
	y := math.Log(cycle.Seconds())
	off := y - d.base(kind) - d.pace
	total := d.unsure.pace + d.differ
	broken := d.broken(d.base(kind)+d.pace, total)
	ordinary := (1 - d.rate()) * normal(off, total)
	odds := d.rate() * normal(y-broken.mu, broken.s2)
	trust := 1.0
	if ordinary+odds > 0 {
		trust = ordinary / (ordinary + odds)
	} else if off > 0 {
		trust = 0 // longer than anything that was thought of
	}
	d.breaks += 1 - trust
	d.hooks++
	// The spread, as the mean of squared surprises; then a Kalman step of a local linear trend, weakened by the doubt.
	d.differ = (d.differ*d.weight + trust*off*off*d.differ/total) / (d.weight + trust*d.differ/total)
	d.weight += trust * d.differ / total
	d.pace += trust * d.unsure.pace / total * off
	d.slope += trust * d.unsure.both / total * off
	d.unsure.learns(trust / total)
	d.kind = kind
	d.seen++
}

// spread is how unsure the pace and its slope are: their variances, and their covariance.
type spread struct{ pace, both, slope float64 }

// moves lets so many hooks go by, of which the slope is followed for some, with a drift of the pace at each.
func (s *spread) moves(hooks, followed, drift float64) {
	s.pace += 2*followed*s.both + followed*followed*s.slope + hooks*drift*drift
	s.both += followed * s.slope
}

// learns makes it smaller by what a hook has shown; trust is how far the hook is believed, over the variance of what was
// expected of it.
func (s *spread) learns(trust float64) {
	pace, both := s.pace, s.both
	s.pace -= trust * pace * pace
	s.both -= trust * pace * both
	s.slope -= trust * both * both
}

// rate is how likely a breakdown is at a hook.
func (d *Day) rate() float64 { return d.breaks / d.hooks }

// lognormal is the distribution of a time by the mean and variance of its logarithm.
type lognormal struct{ mu, s2 float64 }

// moments returns the mean and variance of a time.
func (l lognormal) moments() (mean, variance float64) {
	mean = math.Exp(l.mu + l.s2/2)
	return mean, mean * mean * math.Expm1(l.s2)
}

// fitted is the lognormal with a mean and a variance.
func fitted(mean, variance float64) lognormal {
	s2 := math.Log1p(variance / (mean * mean))
	return lognormal{math.Log(mean) - s2/2, s2}
}

// after returns the mean and variance of how much longer a time takes that has taken so long already, and how likely
// that was.
func (l lognormal) after(elapsed float64) (mean, variance, likely float64) {
	mean, variance = l.moments()
	if elapsed <= 0 {
		return mean, variance, 1
	}
	s := math.Sqrt(l.s2)
	at := (l.mu - math.Log(elapsed)) / s
	likely = phi(at)
	if likely < 1e-12 {
		return elapsed / 10, elapsed * elapsed / 100, likely // beyond all that was thought of: it takes its time
	}
	first := mean * phi(at+s) / likely
	second := (variance + mean*mean) * phi(at+2*s) / likely
	return math.Max(first-elapsed, 1), math.Max(second-first*first, 1), likely
}

// broken is the time of a cycle with a breakdown, given the logarithm and variance of an ordinary one.
func (d *Day) broken(mu, s2 float64) lognormal {
	mean, variance := lognormal{mu, s2}.moments()
	repair, spread := d.repair().moments()
	return fitted(mean+repair, variance+spread)
}

// repair is what a breakdown takes beside the cycle.
func (d *Day) repair() lognormal {
	return lognormal{math.Log(d.prior.Repair.Seconds()), d.prior.Repairs * d.prior.Repairs}
}

// phi is the normal distribution function, and normal the density of a normal with mean 0.
func phi(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }

func normal(x, variance float64) float64 {
	return math.Exp(-x*x/(2*variance)) / math.Sqrt(2*math.Pi*variance)
}
