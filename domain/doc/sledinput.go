package doc

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"clayline/domain/sled"
)

// readSled reads a sled with its gears and holes.
func readSled(f fields) sledOf {
	f.only("wheelbase_ft", "frame_weight_lb", "frame_cg_ft", "pan_weight_lb", "box_empty_lb", "box_start_ft", "box_top_ft", "holes_ft",
		"drive", "advance", "pushdown")
	s := sledOf{
		sled: sled.Sled{
			Wheelbase:   f.number("wheelbase_ft", positive) * sled.Foot,
			FrameWeight: f.number("frame_weight_lb", amount) * sled.PoundForce,
			FrameCG:     f.number("frame_cg_ft", anywhere) * sled.Foot,
			PanWeight:   f.number("pan_weight_lb", amount) * sled.PoundForce,
		},
		boxEmpty: f.numberOr("box_empty_lb", amount, 0) * sled.PoundForce,
		start:    f.numberOr("box_start_ft", anywhere, 0),
		top:      f.number("box_top_ft", anywhere),
		holes:    []float64{0},
	}
	s.sled.BoxTop = s.top * sled.Foot
	if f.has("holes_ft") {
		s.holes = f.numbers("holes_ft", maxHoles, amount)
	}
	if s.start > s.top {
		f.refuse("box_start_ft", "lies past box_top_ft", "measure both from the axle, forward")
	}
	s.advance = readAdvance(f)
	if f.has("pushdown") {
		p := f.group("pushdown")
		p.only("delay_ft", "ramp_ft", "share")
		s.sled.PushDown = sled.PushDown{
			Delay: p.number("delay_ft", amount) * sled.Foot,
			Ramp:  p.number("ramp_ft", amount) * sled.Foot,
			Share: p.number("share", fraction),
		}
	}
	return s
}

// readAdvance reads how far the box moves in each gear: measured, or from the driveline.
func readAdvance(f fields) map[string]float64 {
	switch {
	case f.has("advance") && f.has("drive"):
		f.refuse("advance", "cannot stand beside drive", "keep one of them; what was measured is better")
		return nil
	case f.has("advance"):
		return readGears(f, "advance", func(advance float64) float64 { return advance })
	case f.has("drive"):
		d := f.group("drive")
		return readGears(d, "gears", readDrive(d).Advance)
	default:
		f.refuse("drive", "is missing", "write it, or advance with the box's measured advance in each gear")
		return nil
	}
}

// readGears reads a number a gear.
func readGears(f fields, name string, advance func(float64) float64) map[string]float64 {
	g := f.group(name)
	if f.has(name) && len(g.members) == 0 || len(g.members) > maxHoles {
		f.refuse(name, "has no gear, or too many", `write a number a gear, such as {"1": 0.08}`)
	}
	gears := map[string]float64{}
	for _, gear := range slices.Sorted(maps.Keys(g.members)) {
		if gear == "" || len(gear) > 100 {
			f.refuse(name, "has a gear without a name, or with one too long", "call it 1 or low")
			return nil
		}
		gears[gear] = advance(g.number(gear, positive))
	}
	return gears
}

// readDrive reads the driveline.
func readDrive(f fields) sled.Driveline {
	f.only("tire_circumference_ft", "tire_revs_per_mile", "wheel_slip", "axle_ratio", "transfer_ratio", "sprocket_teeth", "chain", "chain_pitch_in",
		"chain_to_box", "gears")
	pitch := f.chainPitch("chain_pitch_in")
	if !f.has("chain") {
		pitch = f.number("chain_pitch_in", positive) * sled.Inch
	}
	d := sled.Driveline{
		Slip:          f.numberOr("wheel_slip", span{0, 0.99}, 0),
		AxleRatio:     f.number("axle_ratio", positive),
		TransferRatio: f.numberOr("transfer_ratio", positive, 1),
		Teeth:         float64(f.whole("sprocket_teeth", span{1, 1000})),
		Pitch:         pitch,
		ChainToBox:    f.numberOr("chain_to_box", positive, 1),
	}
	switch {
	case !f.has("sprocket_teeth"):
		f.refuse("sprocket_teeth", "is missing", "count the teeth")
	case f.has("tire_circumference_ft") && f.has("tire_revs_per_mile"):
		f.refuse("tire_revs_per_mile", "cannot stand beside tire_circumference_ft", "keep one of them")
	case f.has("tire_revs_per_mile"):
		d.Circumference = sled.Mile / max(f.number("tire_revs_per_mile", positive), positive.least)
	default:
		d.Circumference = f.number("tire_circumference_ft", positive) * sled.Foot
	}
	return d
}

// chainPitch returns the pitch of the chain that is named by its number, in metres; 0 where it is not. A number that is
// not known, and one beside a pitch of that name, is refused.
func (f fields) chainPitch(beside string) float64 {
	if !f.has("chain") {
		return 0
	}
	if f.has(beside) {
		f.refuse("chain", "cannot stand beside "+beside, "keep one of them")
	}
	number := f.whole("chain", amount)
	pitch, known := sled.ChainPitch(number)
	if !known {
		f.refuse("chain", fmt.Sprintf("is no roller chain that is known here: %d", number),
			"write "+strings.Trim(strings.ReplaceAll(fmt.Sprint(sled.Chains()), " ", ", "), "[]")+", or the pitch as "+beside)
	}
	return pitch
}

// readGround reads friction. A calibration is about to find it, and needs only what is known of digging.
func readGround(f fields, name string, calibrated bool) sled.Ground {
	if calibrated && !f.has(name) {
		return sled.Ground{}
	}
	g := f.group(name)
	g.only("mu_up", "mu_down", "c_rr", "dig_lb", "dig_ramp_ft")
	if !calibrated && !g.has("mu_up") {
		g.refuse("mu_up", "is missing", "write "+amount.String())
	}
	up := g.numberOr("mu_up", amount, 0)
	return sled.Ground{
		MuUp:    up,
		MuDown:  g.numberOr("mu_down", amount, up),
		CRR:     g.numberOr("c_rr", amount, 0),
		Dig:     g.numberOr("dig_lb", amount, 0) * sled.PoundForce,
		DigRamp: g.numberOr("dig_ramp_ft", amount, 0) * sled.Foot,
	}
}

// readLine reads where a full pull ends, in feet.
func readLine(f fields, name string) float64 {
	if !f.has(name) {
		return 300
	}
	t := f.group(name)
	t.only("full_pull_ft")
	return t.numberOr("full_pull_ft", positive, 300)
}

// setting reads a setup for the sled and makes its curve.
func (s sledOf) setting(f fields, ground sled.Ground, lineFt float64, more ...string) setting {
	f.only(append([]string{"slabs_lb", "gear", "hole", "trip_box_ft", "trip_ft"}, more...)...)
	slabs := f.number("slabs_lb", amount) * sled.PoundForce
	gear := f.text("gear", "1")
	advance, known := s.advance[gear]
	if !known {
		f.refuse("gear", fmt.Sprintf("%q is no gear of the sled", gear), "write "+strings.Join(s.gears(), " or "))
	}
	hole := f.whole("hole", amount)
	if hole >= len(s.holes) {
		f.refuse("hole", fmt.Sprintf("%d is no hole of the sled", hole), "write the hole's number in holes_ft, counted from 0")
	}
	made := setting{chosen: fmt.Sprintf("gear %s, hole %d, %s lb of slabs", gear, hole, whole(slabs/sled.PoundForce)), ground: ground, advance: advance, lineFt: lineFt, line: lineFt * sled.Foot}
	if len(more) > 0 {
		made.label = f.text("label", "")
	}
	setup := sled.Setup{BoxWeight: s.boxEmpty + slabs, Advance: advance, Trip: readTrip(f)}
	if *f.err != nil {
		return made
	}
	start, ok := s.startAt(hole)
	if !ok {
		f.refuse("hole", fmt.Sprintf("%d would start the box past box_top_ft", hole), "write a hole further back")
		return made
	}
	setup.BoxStart = start
	made.on = func(ground sled.Ground) *sled.Curve { return sled.NewCurve(s.sled, ground, setup) }
	made.curve = made.on(ground)
	return made
}

// startAt returns where the box starts in a hole, in metres, and whether that is at its stop or behind it. The foremost
// hole may be the stop itself, where a sum of decimal fractions must not decide.
func (s sledOf) startAt(hole int) (start float64, ok bool) {
	ft := s.start + s.holes[hole]
	return min(ft, s.top) * sled.Foot, ft <= s.top+1e-9*max(s.top, -s.top, 1)
}

// readTrip reads what drops the pan.
func readTrip(f fields) sled.Trip {
	switch {
	case f.has("trip_box_ft") && f.has("trip_ft"):
		f.refuse("trip_ft", "cannot stand beside trip_box_ft", "keep one of them")
		return sled.Trip{}
	case f.has("trip_box_ft"):
		return sled.TripAtBox(f.number("trip_box_ft", anywhere) * sled.Foot)
	case f.has("trip_ft"):
		return sled.TripAtTravel(f.number("trip_ft", amount) * sled.Foot)
	default:
		return sled.Trip{}
	}
}

// gears lists the gears, short names first, then by name: 1, 2, 10, low.
func (s sledOf) gears() []string {
	return slices.SortedFunc(maps.Keys(s.advance), func(a, b string) int {
		if len(a) != len(b) {
			return len(a) - len(b)
		}
		return strings.Compare(a, b)
	})
}
