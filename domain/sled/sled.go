package sled

import "math"

// Sled is what does not change from class to class. Lengths are in metres, weights in newtons. No weight is negative,
// and the wheelbase is more than 0; positions may lie behind the axle.
type Sled struct {
	Wheelbase   float64 // from the axle to the line where the frame rests on the pan
	FrameWeight float64 // without box and pan
	FrameCG     float64 // where the frame's weight acts
	PanWeight   float64 // straight to the ground, with any weights on the pan
	BoxTop      float64 // the box's forward stop
	PushDown    PushDown
}

// PushDown presses the frame on the pan after the box has reached its stop, until the axle has lost Share of its load.
// A Share of 0 is a sled without.
type PushDown struct {
	Delay, Ramp float64 // m of travel: until it begins, and until it is complete
	Share       float64 // from 0 to 1
}

// Ground is the track under the sled on one evening. No number is negative.
type Ground struct {
	MuUp, MuDown float64 // friction of the pan before the drop and after it
	CRR          float64 // rolling resistance of the wheels, as a share of their load
	Dig          float64 // N, what digging adds after the drop
	DigRamp      float64 // m of travel until digging is complete; 0: at once
}

// Setup is what the operator chooses for a class.
type Setup struct {
	BoxWeight float64 // N, with its slabs
	BoxStart  float64 // m, where the box starts: the start hole; not past the stop
	Advance   float64 // metres of box for a metre of travel, see [Driveline.Advance]; not negative
	Trip      Trip
}

// Trip is what drops the pan. The zero value never does.
type Trip struct {
	kind tripKind
	at   float64 // m: position of the box, or travel
}

// tripKind tells apart how a trip is set.
type tripKind uint8

const (
	neverTrips tripKind = iota
	tripsAtBox
	tripsAtTravel
)

// TripAtBox is a trip that the box strikes at that position, in metres. It is struck at once when the box starts in
// front of it, and never when it stands past the stop.
func TripAtBox(position float64) Trip { return Trip{tripsAtBox, position} }

// TripAtTravel is a trip after that distance from the start line, in metres.
func TripAtTravel(travel float64) Trip { return Trip{tripsAtTravel, travel} }

// travel returns where the trip drops the pan, in metres from the start line; +Inf if never.
func (t Trip) travel(s Setup, top float64) float64 {
	switch {
	case t.kind == tripsAtTravel:
		return t.at
	case t.kind == tripsAtBox && t.at <= top:
		return s.travelTo(t.at)
	default:
		return math.Inf(1)
	}
}

// travelTo returns how far the sled travels until the box stands at that position, in metres: 0 if it starts there or in
// front of it, +Inf if it does not move.
func (s Setup) travelTo(position float64) float64 {
	if position <= s.BoxStart {
		return 0
	}
	return (position - s.BoxStart) / s.Advance // a box that does not move divides by 0, which is +Inf
}
