package forecast

import (
	"math"
	"time"
)

// Now is where the day stands. Since is how long ago the hook under way got its green, 0 when nobody is on the track:
// the first item then begins with its own call.
type Now struct {
	Since time.Duration
}

// Item is what is still to come, in order. Which fields are set says what it is:
//
//	Item{Kind: 2, Hooks: 1}               a hook
//	Item{Kind: 2, Hooks: 3, Give: 2}      a pull-off of about three, give or take two
//	Item{Pause: 20 * time.Minute}         a break, or a change of class or of the setting
//	Item{NotBefore: 2 * time.Hour}        a class that begins at a fixed time, as long from now
//
// An item may have several of them: the fixed time is waited for first, then the pause, then the hooks.
type Item struct {
	Kind      int
	Hooks     float64 // how many are expected; 1 for a hook in the order, less for one that may not be made
	Give      float64 // standard deviation of that
	Pause     time.Duration
	PauseGive time.Duration // standard deviation of the pause
	NotBefore time.Duration
}

// Window is when an item is done, from now: in a tenth of all days before Early, in a half before Middle, in nine tenths
// before Late. Start is when it begins, in the same way.
type Window struct {
	Start, End Span
}

// Span is a window of one moment.
type Span struct {
	Early, Middle, Late time.Duration
}

// Plan is the forecast of a day: a window for each item. With it goes what [Plan.Past] needs.
type Plan struct {
	Windows []Window
	ends    [][numbers]branch
}

// numbers is how many breakdowns are told apart: none to four, and more.
const numbers = 6

// branch is what is expected where so many breakdowns come: how likely that is, and the mean and variance of the time.
type branch struct {
	weight, mean, variance float64
}

// course is how far the forecast has come. pace is that of the last hook and unsure how unsure it and the slope are;
// withPace and withSlope are the covariances of the time so far with them. kind and hooks are of the last hook.
type course struct {
	branches            [numbers]branch
	pace                float64
	unsure              spread
	withPace, withSlope float64
	kind                int
	hooks               float64
}

// Ahead is how many hooks far a slope is followed: no track dries for good (common practice, no published source).
const Ahead = 60

// Plan forecasts what is to come. It takes time in proportion to the items.
func (d *Day) Plan(now Now, items []Item) Plan {
	c := course{pace: d.pace, unsure: d.unsure, kind: d.kind}
	c.branches[0].weight = 1
	plan := Plan{Windows: make([]Window, len(items)), ends: make([][numbers]branch, len(items))}
	underWay := now.Since > 0
	var last Span
	for i, item := range items {
		c.wait(item.NotBefore.Seconds())
		for b := range c.branches {
			c.branches[b].mean += item.Pause.Seconds()
			c.branches[b].variance += item.PauseGive.Seconds() * item.PauseGive.Seconds()
		}
		plan.Windows[i].Start = last
		if item.NotBefore > 0 || item.Pause > 0 || item.PauseGive > 0 {
			plan.Windows[i].Start = spanOf(c.branches).notBefore(last)
		}
		if item.Hooks > 0 {
			if underWay {
				d.remaining(&c, item, now.Since.Seconds())
			} else {
				d.hook(&c, item)
			}
			underWay = false
		}
		plan.ends[i] = c.branches
		last = plan.Windows[i].Start
		if item.Hooks > 0 {
			last = spanOf(c.branches).notBefore(last)
		}
		plan.Windows[i].End = last
	}
	return plan
}

// notBefore moves a span to another where it would come before it: nothing is done before what comes first, and a
// lognormal that was fitted anew may be a second ahead.
func (s Span) notBefore(o Span) Span {
	return Span{max(s.Early, o.Early), max(s.Middle, o.Middle), max(s.Late, o.Late)}
}

// Past is the probability that an item ends later than a time from now, such as the curfew.
func (p Plan) Past(item int, limit time.Duration) float64 {
	m, _ := mixtureOf(p.ends[item])
	return 1 - m.below(limit.Seconds())
}

// Cut is the first item that more likely than not ends later than a time from now: what would have to be cut to keep a
// curfew. It is -1 when all of them are in time.
func (p Plan) Cut(limit time.Duration) int {
	for i := range p.ends {
		if p.Past(i, limit) > 0.5 {
			return i
		}
	}
	return -1
}

// hook goes on over the hooks of an item. Where their number is not known, the time of one times its spread is added.
func (d *Day) hook(c *course, item Item) {
	n := item.Hooks
	// All of them at the pace of the one in their middle.
	middle := min((n+1)/2, n)
	d.moves(c, middle)
	if item.Kind != c.kind {
		c.unsure.pace += d.prior.Kind * d.prior.Kind
		c.kind = item.Kind
	}
	mean, _ := lognormal{d.base(item.Kind) + c.pace, c.unsure.pace + d.differ}.moments()
	pace := mean * mean * math.Expm1(c.unsure.pace)                     // what any two of the hooks share
	own := mean * mean * math.Exp(c.unsure.pace) * math.Expm1(d.differ) // what each has of its own
	sum := n * mean
	grown := n*own + n*n*pace + item.Give*item.Give*mean*mean
	covariance := c.takes(sum)
	for b := range c.branches {
		c.branches[b].mean += sum
		c.branches[b].variance += grown + 2*covariance
	}
	d.moves(c, n-middle)
	d.breakdowns(c, n)
}

// moves lets the pace move over so many hooks, which may be a part of one.
func (d *Day) moves(c *course, hooks float64) {
	followed := max(min(hooks, Ahead-c.hooks), 0)
	c.pace += followed * d.slope
	c.withPace += followed * c.withSlope
	c.unsure.moves(hooks, followed, d.prior.Drift)
}

// takes counts a time in that is expected to be so long, and returns its covariance with the time before it: to first
// order a time moves with the logarithm of the pace as its mean does.
func (c *course) takes(mean float64) (covariance float64) {
	covariance = mean * c.withPace
	c.withPace += mean * c.unsure.pace
	c.withSlope += mean * c.unsure.both
	return covariance
}

// remaining goes on over the hook that is under way. How long it has been says how likely something has broken.
func (d *Day) remaining(c *course, item Item, since float64) {
	d.moves(c, 1)
	ordinary := lognormal{d.base(item.Kind) + c.pace, c.unsure.pace + d.differ}
	mean, variance, likely := ordinary.after(since)
	longer, spread, rare := d.broken(ordinary.mu, ordinary.s2).after(since)
	rate := d.rate()
	broken := rate * rare / (rate*rare + (1-rate)*likely)
	if math.IsNaN(broken) {
		broken = 1
	}
	c.branches[0] = branch{1 - broken, c.branches[0].mean + mean, c.branches[0].variance + variance}
	c.branches[1] = branch{broken, c.branches[0].mean - mean + longer, c.branches[0].variance - variance + spread}
	c.kind = item.Kind
	c.takes(mean)
	if item.Hooks > 1 {
		item.Hooks--
		d.hook(c, item)
	}
}

// breakdowns lets something break at n hooks: part of each branch goes over to the next, later by a repair. Every
// breakdown makes another likelier, because how often they come is not known (Pólya's urn).
func (d *Day) breakdowns(c *course, n float64) {
	repair, spread := d.repair().moments()
	for b := numbers - 2; b >= 0; b-- {
		from, to := &c.branches[b], &c.branches[b+1]
		rate := (d.breaks + float64(b)) / (d.hooks + c.hooks)
		moved := from.weight * -math.Expm1(-rate*n)
		if moved <= 0 {
			continue
		}
		*to = mixed(*to, branch{moved, from.mean + repair, from.variance + spread})
		from.weight -= moved
	}
	c.hooks += n
}

// mixed is one branch for two, with the mean and variance of both together.
func mixed(a, b branch) branch {
	weight := a.weight + b.weight
	mean := (a.weight*a.mean + b.weight*b.mean) / weight
	square := (a.weight*(a.variance+a.mean*a.mean) + b.weight*(b.variance+b.mean*b.mean)) / weight
	return branch{weight, mean, math.Max(square-mean*mean, 0)}
}

// wait lets nothing begin before a time. The mean and variance are those of the later of a normal time and a constant;
// what was late enough keeps what it shares with the pace and the slope, and the rest has lost it.
func (c *course) wait(until float64) {
	if until <= 0 {
		return
	}
	kept := 0.0
	for b := range c.branches {
		br := &c.branches[b]
		s := math.Sqrt(br.variance)
		if s < 1e-9 {
			if br.mean > until {
				kept += br.weight
			}
			br.mean = math.Max(br.mean, until)
			continue
		}
		a := (br.mean - until) / s
		later, density := phi(a), s*normal(a, 1)
		mean := br.mean*later + until*(1-later) + density
		square := (br.mean*br.mean+br.variance)*later + until*until*(1-later) + (br.mean+until)*density
		kept += br.weight * later
		br.mean, br.variance = mean, math.Max(square-mean*mean, 0)
	}
	c.withPace *= kept
	c.withSlope *= kept
}

// mixture is what windows are read off: a lognormal for each branch, or a moment where nothing is uncertain, with its
// weight.
type mixture [numbers]struct {
	weight, at float64
	mu, steep  float64 // of the logarithm: its mean, and 1/√2 of the inverse of its standard deviation
}

// mixtureOf fits the branches. One that is so unlikely that it moves no window is left out.
func mixtureOf(branches [numbers]branch) (m mixture, high float64) {
	for i, b := range branches {
		if b.weight < unlikely {
			continue
		}
		m[i].weight, m[i].at = b.weight, b.mean
		if b.variance >= 1e-9 && b.mean > 0 {
			shape := fitted(b.mean, b.variance)
			m[i].mu, m[i].steep = shape.mu, 1/math.Sqrt(2*shape.s2)
		}
		high = math.Max(high, b.mean+6*math.Sqrt(b.variance))
	}
	return m, high
}

// below is the probability of a time below t.
func (m *mixture) below(t float64) (p float64) {
	log := math.Log(max(t, math.SmallestNonzeroFloat64))
	for i := range m {
		switch b := &m[i]; {
		case b.weight == 0:
		case b.steep > 0:
			p += b.weight * math.Erfc((b.mu-log)*b.steep) / 2
		case b.at <= t:
			p += b.weight
		}
	}
	return p
}

// spanOf reads the three quantiles off the branches.
func spanOf(branches [numbers]branch) Span {
	m, high := mixtureOf(branches)
	return Span{Early: m.quantile(high, 0.1), Middle: m.quantile(high, 0.5), Late: m.quantile(high, 0.9)}
}

// halvings brings a window of some hours to a second; unlikely is the weight of a branch that moves no window.
const (
	halvings = 16
	unlikely = 1e-4
)

// quantile halves, from a time that is late enough, until it has the one before which it happens with probability p.
func (m *mixture) quantile(high, p float64) time.Duration {
	low := 0.0
	for range halvings {
		if middle := (low + high) / 2; m.below(middle) < p {
			low = middle
		} else {
			high = middle
		}
	}
	return time.Duration(high * float64(time.Second)).Round(time.Second)
}
