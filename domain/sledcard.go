package domain

import (
	"cmp"
	"fmt"
	"slices"
)

// SledCard describes a sled: what there is of it and how large. People know more or less of their sled, and every part
// may be missing; a class is pulled with none. The estimate says what it lacks, see [Sled.Missing]. Lengths and weights
// keep the unit in which they were measured.
type SledCard struct {
	// Wheelbase is from the rear axle group to the line where the frame rests on the pan. Positions count forward from
	// the axle.
	Wheelbase   Distance
	Frame       Weight   // the frame without box and pan
	FrameCenter Distance // where the weight of the frame acts
	Pan         Weight   // the pan without weights on it
	Box         Weight   // the box without slabs
	// BoxStart is where the box starts without a hole; BoxBehind that instead, where it starts behind the axle.
	BoxStart, BoxBehind Distance
	BoxStop             Distance   // where the box stops in front
	Holes               []Distance // each start hole, in front of where the box starts without one
	Slabs               SlabRoom
	// Advance is how far the box moves in each gear while the sled moves by one, as it was measured: 0.08. It counts
	// more than the driveline.
	Advance  []float64
	Drive    Driveline
	PushDown PushDown
	Trips    []Distance // where the box can strike the trip
	Devices  []string   // what measures the distance: laser, tape, counter wheel
	// Light tells that the sled has a light, and Red what turns it red; see [Differences.TurnsRed].
	Light bool
	Red   []string
	// Ready is what its crew looks at before each hook, in place of the usual points; see [Class.ReadyList].
	Ready []string
	// Inspection is what is looked at before an event, in place of the usual points; see [Sled.InspectionList].
	Inspection []string
}

// SlabRoom says which slabs there are and how many go where; a number of 0 is not known.
type SlabRoom struct {
	Kinds               []SlabKind
	Left, Middle, Right int    // how many slabs find room on each side and in the middle
	Most                Weight // the most weight in the box
}

// SlabKind is how many slabs there are of one weight.
type SlabKind struct {
	Weight Weight
	Count  int
}

// Driveline is how the wheels drive the box. Ratios are speeds out over in: a 5:1 reduction is 0.2.
type Driveline struct {
	Circumference Distance  // of a tire, rolling under load
	TurnsPerMile  float64   // of a tire, in place of its circumference
	AxleRatio     float64   // driveshaft turns a wheel turn, such as 4.10
	Transfer      float64   // 0: none
	Teeth         int       // of the sprocket
	Chain         int       // the chain's number, such as 140
	ChainPitch    Distance  // its pitch, in place of its number
	Gears         []float64 // a ratio a gear
}

// PushDown is what takes load off the wheels after the box has topped out.
type PushDown struct {
	Given bool
	Delay Distance // from top-out until it begins
	Ramp  Distance // until it is complete
	Share float64  // of the axle load it takes off, 0 to 1
}

// RedSwitches are the switches of a sled that can turn its light red, by the words of a description. All but the kill
// switch do on the sleds that have a light (common practice, no published source).
func RedSwitches() []string {
	return []string{"pan", "push-down", "box-brake", "wheel-brakes", "kill-switch"}
}

// turnRed are the switches that turn the light of this sled red: those of the description, else all but the kill switch.
func (c SledCard) turnRed() []string {
	if len(c.Red) > 0 {
		return c.Red
	}
	return slices.DeleteFunc(RedSwitches(), func(word string) bool { return word == "kill-switch" })
}

// Count is how many slabs there are of all kinds, 0 where that is not known.
func (r SlabRoom) Count() int {
	n := 0
	for _, k := range r.Kinds {
		n += k.Count
	}
	return n
}

// Check says what contradicts in a sled with its description, naming the field as its document does. Whether a sled is
// built well is not asked.
func (s Sled) Check() error {
	if _, err := required("name", "the name of the sled", s.Name); err != nil {
		return err
	}
	card, from := s.Card, s.Card.BoxStart
	switch {
	case s.Gears < 1 || s.Gears > 20:
		return invalid("gears", "a sled has 1 to 20 box gears", "count them")
	case s.StartHoles < 1 || s.StartHoles > 20:
		return invalid("start_holes", "a sled has 1 to 20 start holes", "count them")
	case len(card.Holes) > 0 && len(card.Holes) != s.StartHoles:
		return invalid("holes", fmt.Sprintf("%d holes are placed and %d counted", len(card.Holes), s.StartHoles), "place each, or none")
	case len(card.Advance) > 0 && len(card.Advance) != s.Gears:
		return invalid("advance", fmt.Sprintf("%d gears were measured and %d counted", len(card.Advance), s.Gears), "measure each, or none")
	case len(card.Drive.Gears) > 0 && len(card.Drive.Gears) != s.Gears:
		return invalid("drive.gears", fmt.Sprintf("%d gears have a ratio and %d are counted", len(card.Drive.Gears), s.Gears), "give each, or none")
	case !card.BoxStart.IsZero() && !card.BoxBehind.IsZero():
		return invalid("box_behind", "the box starts in front of the axle and behind it", "keep one of box_start and box_behind")
	case !card.BoxStop.IsZero() && !from.IsZero() && card.BoxStop.Compare(from) <= 0:
		return invalid("box_stop", "the box stops where it starts, or behind that", "measure both from the axle, forward")
	}
	return card.checkWords()
}

// checkWords refuses switches that are not known, devices without a name, and points of a list that say nothing.
func (c SledCard) checkWords() error {
	for i, word := range c.Red {
		if !slices.Contains(RedSwitches(), word) {
			return invalid(fmt.Sprintf("light.red[%d]", i), fmt.Sprintf("%q is no switch that is known here", word), "write pan, push-down, box-brake, wheel-brakes or kill-switch")
		}
	}
	for i, device := range c.Devices {
		field := fmt.Sprintf("devices[%d]", i)
		if _, err := required(field, "the device", device); err != nil {
			return err
		}
	}
	for i, point := range c.Inspection {
		if slices.Contains(c.Inspection[:i], point) {
			return invalid("inspection", fmt.Sprintf("%q stands twice", point), "keep one of them")
		}
	}
	return cmp.Or(checkPoints("ready", c.Ready), checkPoints("inspection", c.Inspection))
}

// Missing lists what the estimate needs and the description lacks, by the names of its fields; nothing when it can be
// computed. The friction of the ground is asked for elsewhere.
func (s Sled) Missing() []string {
	c, d := s.Card, s.Card.Drive
	var list []string
	for _, part := range []struct {
		field string
		known bool
	}{
		{"wheelbase", !c.Wheelbase.IsZero()}, {"frame_weight", !c.Frame.IsZero()}, {"frame_center", !c.FrameCenter.IsZero()},
		{"pan_weight", !c.Pan.IsZero()}, {"box_stop", !c.BoxStop.IsZero()}, {"holes", len(c.Holes) > 0 || s.StartHoles == 1},
	} {
		if !part.known {
			list = append(list, part.field)
		}
	}
	if len(c.Advance) > 0 {
		return list
	}
	if (d.Circumference.IsZero() && d.TurnsPerMile == 0) || d.AxleRatio == 0 || d.Teeth == 0 || d.Chain == 0 && d.ChainPitch.IsZero() || len(d.Gears) == 0 {
		list = append(list, "advance")
	}
	return list
}

// Version counts the descriptions of the sled: 1 is the one it was planned with.
func (s Sled) Version() int { return s.Changes + 1 }

// room refuses slabs for which the sled has no room, or which there are not, as far as the description knows.
func (c SledCard) room(s Setting) error {
	for _, side := range []struct {
		field, where string
		lie, fit     int
	}{
		{"slabs.left", "on the left", s.Slabs.Left, c.Slabs.Left},
		{"slabs.middle", "in the middle", s.Slabs.Middle, c.Slabs.Middle},
		{"slabs.right", "on the right", s.Slabs.Right, c.Slabs.Right},
	} {
		if side.fit > 0 && side.lie > side.fit {
			return invalid(side.field, fmt.Sprintf("this box has room for %d slabs %s", side.fit, side.where), "lay fewer there, or correct the description of the sled and plan the class anew")
		}
	}
	if there := c.Slabs.Count(); there > 0 && s.Slabs.Total() > there {
		return invalid("slabs", fmt.Sprintf("this sled has %d slabs", there), "count them again")
	}
	if !c.Slabs.Most.IsZero() && s.Box.heavier(c.Slabs.Most) {
		return invalid("box", "this box takes "+c.Slabs.Most.String()+" at most", "lay less into it")
	}
	return nil
}
