package templates

// Names of the fields that the estimate asks for, beside FieldBox, FieldGear, FieldTrip and FieldPan.
const (
	FieldFrom      = "round"       // the round to start from
	FieldStartHole = "start_hole"  // start hole
	FieldMuUp      = "mu_up"       // friction before the drop
	FieldMuDown    = "mu_down"     // friction after it
	FieldRolling   = "c_rr"        // rolling resistance
	FieldDig       = "dig_lb"      // what digging adds
	FieldDigRamp   = "dig_ramp_ft" // until it is complete
	FieldDrift     = "drift"       // by how many percent the track may be off
	FieldSpeeds    = "speeds"      // speeds at the line, by number
)

// Estimate is the what-if of a class for the sled operator and the officials. It is never on a public page, writes
// nothing, and shows its cautions above everything else.
type Estimate struct {
	Frame
	Class    string
	Sentence string // "Round 1 · Setting 1 · 9 hooks"
	Cautions []string
	Quiet    *Quiet // set when nothing can be computed: what is lacking
	// Form asks for the other setting, the ground and what else is known. It is sent by GET: its fields are FieldFrom to
	// FieldSpeeds, FieldBox, FieldGear, FieldTrip and FieldPan.
	Form   *Form
	Rounds []Option
	Weight string // unit of weights: "lb"
	Length string // unit of the trip point: "ft"
	Speed  string // unit of speeds: "mph"
	Gears  int
	Holes  int
	Ground bool  // the ground's fields are open: somebody changed one
	Fits   []Fit // what vehicles that hooked twice tell of the ground
	Notes  []string
	Advice []string // warnings and advice, a sentence each

	Other  bool   // there is another setting beside the round's
	Words  string // the other setting in words: "23,400 lb, gear 4, hole 2, trip 176 ft"
	Facts  []EstimateFact
	Curves Drawn // picture of the curves
	Points []EstimatePoint
	Counts string // "Full pulls under the other setting: at least 0, about 1, at most 3 of 9."
	Track  Drawn  // picture of the track; empty without another setting
	Rows   []EstimateLine
	// EndDrag: the rules limit the speed, and a second estimate stands beside each row.
	EndDrag bool
	Table   []EstimateChoice
	Pulls   string // what is counted: "Full pulls", "Past 300 ft"
	// Draft leads to the desk's form with the other setting filled in; DraftWords say what else has to happen where it is
	// not to be had.
	Draft      *Link
	DraftWords string
}

// Drawn is one picture as SVG in two layouts, of which a page shows the one that it has room for.
type Drawn struct {
	Wide, Phone string
	Signs       string   // what the signs of the picture mean, beside the one for a phone
	Cautions    []string // likewise; the wide one has them in it
}

// Fit is a figure of the ground that fits the class's own hooks.
type Fit struct {
	Text string // "2 vehicles stopped under two settings: …"
	Use  Link
}

// EstimateFact is one figure of both settings.
type EstimateFact struct {
	Label string
	Now   string
	Other string // empty where there is no other setting
}

// EstimatePoint is both curves at one distance, in the units of the class. The others are empty where there is no other setting.
type EstimatePoint struct {
	Travel                               string // how far the sled has come
	Drag, DragTo, Pan, PanTo, Box, BoxTo string
}

// EstimateLine is one hook under both settings.
type EstimateLine struct {
	Puller
	Says     string // "281 → 257 to 286"
	Strength string // "about 7,100 lb"
	EndDrag  string // "239 ft"
}

// EstimateChoice is one gear from one start hole.
type EstimateChoice struct {
	Gear, Hole, Trip, TopOut, Mean, Pulls string
	Here                                  bool // the setting that is looked at
	Look                                  Link
}

// which names the setting whose weights the table has.
func (p Estimate) which() string {
	if p.Other {
		return "other"
	}
	return "round’s"
}

// units names the units in words.
func (p Estimate) units() string {
	if p.Length == "m" {
		return "metres and kilograms"
	}
	return "feet and pounds"
}
