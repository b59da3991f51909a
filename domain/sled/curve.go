package sled

import (
	"math"
	"slices"
)

// nearly is the relative difference below which two numbers are taken for one. It is far above what rounding does to
// these sums and far below anything that can be measured on a track.
const nearly = 1e-12

// Curve is how one sled pulls back on one ground under one setting, at every travel. It is made by [NewCurve], takes no
// memory of its own, and can be used by many at once. At a jump, such as the drop of the pan, values are those just
// after.
type Curve struct {
	sled   Sled
	ground Ground
	setup  Setup

	trip, topOut, pushDown float64 // m of travel, +Inf if never
	pieces                 [8]piece
	count                  int // of pieces, the last of which has no end
}

// piece is a stretch of travel on which drag is a straight line.
type piece struct {
	start, end  float64 // m; end is +Inf for the last
	first, last float64 // N, drag just after start and just before end
	work        float64 // J, done until start
}

// slope returns by how much drag grows in a metre. Nothing changes any more on the last piece.
func (p *piece) slope() float64 {
	if math.IsInf(p.end, 1) {
		return 0
	}
	return (p.last - p.first) / (p.end - p.start)
}

// at returns drag and work at a travel on the piece.
func (p *piece) at(d float64) (drag, work float64) {
	t := d - p.start
	drag = p.first + p.slope()*t
	return drag, p.work + t*(p.first+drag)/2
}

// NewCurve computes the curve. The numbers keep what their types say of them.
func NewCurve(s Sled, g Ground, u Setup) *Curve {
	c := &Curve{sled: s, ground: g, setup: u, topOut: u.travelTo(s.BoxTop), pushDown: math.Inf(1)}
	c.trip = u.Trip.travel(u, s.BoxTop)
	if s.PushDown.Share > 0 {
		c.pushDown = c.topOut + s.PushDown.Delay
	}
	work := 0.0
	breaks := c.breaks()
	c.count = len(breaks)
	for i, start := range breaks {
		end := math.Inf(1)
		if i+1 < len(breaks) {
			end = breaks[i+1]
		}
		// A place inside the piece tells which side of each jump it lies on.
		inside := start + (min(end, start+2)-start)/2
		p := piece{start: start, end: end, work: work, first: c.drag(start, inside)}
		p.last = p.first
		if i+1 < len(breaks) {
			p.last = c.drag(end, inside)
			work += (end - start) * (p.first + p.last) / 2
		}
		c.pieces[i] = p
	}
	return c
}

// breaks returns the places where drag jumps or bends, in order, beginning with the start line: drop, end of the digging
// ramp, top-out, the push-down's two ends, and where a support would lose its load. Places that only rounding tells
// apart are one, so that there are eight at most.
func (c *Curve) breaks() []float64 {
	places := []float64{
		0, c.trip, c.trip + c.ground.DigRamp, c.topOut, c.pushDown, c.pushDown + c.sled.PushDown.Ramp,
		c.liftAt(0), c.liftAt(c.sled.FrameWeight + c.setup.BoxWeight),
	}
	places = slices.DeleteFunc(places, func(d float64) bool { return math.IsInf(d, 1) })
	slices.Sort(places)
	return slices.CompactFunc(places, func(place, before float64) bool { return place-before <= nearly*place })
}

// liftAt returns the travel at which the frame's load on the pan is front, in newtons, while the box moves; 0 where
// there is no such place.
func (c *Curve) liftAt(front float64) float64 {
	position := (front*c.sled.Wheelbase - c.sled.FrameWeight*c.sled.FrameCG) / c.setup.BoxWeight
	if !(position > c.setup.BoxStart && position < c.sled.BoxTop) { // a box without weight has no such place
		return 0
	}
	return c.setup.travelTo(position)
}

// front returns the frame's load on the pan by moments about the axle (equation 2), as if the ground could pull.
func (c *Curve) front(box float64) float64 {
	return (c.sled.FrameWeight*c.sled.FrameCG + c.setup.BoxWeight*box) / c.sled.Wheelbase
}

// loads returns what presses on the ground under pan and axle at a travel (equations 3 and 4). The phase is a travel
// that tells on which side of a jump to look.
func (c *Curve) loads(d, phase float64) (pan, axle float64) {
	carried := c.sled.FrameWeight + c.setup.BoxWeight
	axle = carried - min(max(c.front(c.Box(d)), 0), carried)
	axle *= 1 - c.sled.PushDown.Share*ramp(d, phase, c.pushDown, c.sled.PushDown.Ramp)
	return carried + c.sled.PanWeight - axle, axle
}

// drag returns what opposes travel (equations 5 and 6), with a phase as in loads.
func (c *Curve) drag(d, phase float64) float64 {
	pan, axle := c.loads(d, phase)
	mu := c.ground.MuUp
	if phase >= c.trip {
		mu = c.ground.MuDown
	}
	return mu*pan + c.ground.CRR*axle + c.dig(d, phase)
}

// dig returns the digging part of drag.
func (c *Curve) dig(d, phase float64) float64 {
	return c.ground.Dig * ramp(d, phase, c.trip, c.ground.DigRamp)
}

// ramp rises from 0 to 1 over the length behind the start, or at once when it has no length.
func ramp(d, phase, start, length float64) float64 {
	switch {
	case phase < start:
		return 0
	case length == 0:
		return 1
	default:
		return min(max((d-start)/length, 0), 1)
	}
}

// justAfter returns the phase of a travel: past any jump that stands there.
func justAfter(d float64) float64 { return d + nearly*max(d, 1) }

// piece returns the piece on which a travel lies.
func (c *Curve) piece(d float64) *piece {
	i := c.count - 1
	for i > 0 && c.pieces[i].start > justAfter(d) {
		i--
	}
	return &c.pieces[i]
}

// TopOut returns the travel at which the box reaches its stop, in metres; +Inf if it never does.
func (c *Curve) TopOut() float64 { return c.topOut }

// Trip returns the travel at which the pan drops, in metres; +Inf if it never does.
func (c *Curve) Trip() float64 { return c.trip }

// PushDown returns the travel at which the push-down begins, in metres; +Inf if there is none.
func (c *Curve) PushDown() float64 { return c.pushDown }

// Weight returns the weight of sled and box, in newtons.
func (c *Curve) Weight() float64 { return c.sled.FrameWeight + c.setup.BoxWeight + c.sled.PanWeight }

// Box returns where the box stands at a travel, in metres before the axle.
func (c *Curve) Box(d float64) float64 {
	if d >= c.topOut {
		return c.sled.BoxTop
	}
	return min(c.sled.BoxTop, c.setup.BoxStart+c.setup.Advance*d)
}

// Loads returns what presses on the ground under pan and axle at a travel, in newtons. Their sum is [Curve.Weight].
func (c *Curve) Loads(d float64) (pan, axle float64) { return c.loads(d, justAfter(d)) }

// Drag returns what opposes travel, in newtons.
func (c *Curve) Drag(d float64) float64 {
	drag, _ := c.piece(d).at(d)
	return drag
}

// Work returns the work against drag from the start line, in joules (equation 7).
func (c *Curve) Work(d float64) float64 {
	_, work := c.piece(d).at(d)
	return work
}

// Mean returns the mean drag from the start line, in newtons; on the line itself the drag just behind it.
func (c *Curve) Mean(d float64) float64 {
	if d == 0 {
		return c.pieces[0].first
	}
	return c.Work(d) / d
}

// Elasticity returns by how many percent a stop at that travel moves when the pull, or all friction, is one percent off.
// It is large where drag has hardly risen above its mean, as on short pulls. There is none where drag equals its mean.
func (c *Curve) Elasticity(d float64) (elasticity float64, ok bool) {
	drag, mean := c.Drag(d), c.Mean(d)
	if math.Abs(drag-mean) <= nearly*drag {
		return 0, false
	}
	return mean / (drag - mean), true
}

// Monotone tells whether mean drag never falls (equation 9), so that each pull belongs to one stop. It falls where drag
// is below its mean; on a straight piece that shows at an end.
func (c *Curve) Monotone() bool {
	for i := range c.pieces[:c.count] {
		p := &c.pieces[i]
		falls := p.first*p.start < p.work*(1-1e-9)
		if !math.IsInf(p.end, 1) {
			_, work := p.at(p.end)
			falls = falls || p.last*p.end < work*(1-1e-9)
		}
		if falls {
			return false
		}
	}
	return true
}

// Flat tells whether drag is the same everywhere, so that a stop says nothing about a pull.
func (c *Curve) Flat() bool {
	least, most := c.pieces[0].first, c.pieces[0].first
	for _, p := range c.pieces[:c.count] {
		least, most = min(least, p.first, p.last), max(most, p.first, p.last)
	}
	return most-least <= nearly*most
}

// FrontLifts tells whether the front support would lift from the pan somewhere on the box's way. The ground cannot pull,
// so the curve has no load there instead of less than none.
func (c *Curve) FrontLifts() bool {
	return min(c.front(c.setup.BoxStart), c.front(c.furthest())) < -1e-9*c.Weight()
}

// AxleLifts tells whether the axle would lift somewhere on the box's way, without any push-down.
func (c *Curve) AxleLifts() bool {
	most := max(c.front(c.setup.BoxStart), c.front(c.furthest()))
	return most > c.sled.FrameWeight+c.setup.BoxWeight+1e-9*c.Weight()
}

// furthest returns where the box ends.
func (c *Curve) furthest() float64 {
	if math.IsInf(c.topOut, 1) {
		return c.setup.BoxStart
	}
	return c.sled.BoxTop
}
