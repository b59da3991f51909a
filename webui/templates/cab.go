package templates

import "slices"

// Cab is the sled operator's page: the setting, readable at arm's length.
// The page has nothing to press while a vehicle pulls.
type Cab struct {
	Frame
	Class   string
	Setting string // "Setting 1"
	Round   string // "Round 1"
	Frozen  string // "18:21"; empty while the setting can still change
	Hook    string // "puller 9 of 14"
	Gauges  []Gauge
	Box     *Box // what lies in the box; nil without slabs
	Earlier Link // settings of earlier classes; empty while a vehicle pulls
	Note    string
	OnTrack Puller
	Next    Puller
	Seen    []Seen    // what the steward of the line-up said of those who are next
	Flags   []Message // what the flagmen decided, and what was noted of the hook on the track
	Choice  *Choice   // the choice that is open, to read
	Advice  []Message // what the rules advise the officials and the operator
	Facts   []Term    // what these rules have about the line and the speed
	Ready   *Ready    // what to look at before the hook of who was called; nil once it has started
	// Differed asks what differed on an earlier hook; nil while a vehicle pulls.
	Differed *Differed
	Speeds   *Speeds // asks what the device read of an earlier hook; nil while a vehicle pulls
	Trend    *Trend  // nil while no round with enough distances is over
	Quiet    *Quiet  // set when there is no setting to show
	Links    []Link  // none while a vehicle is on the track
}

// Gauge is one value of the setting in big letters.
type Gauge struct {
	Label  string // "Box"
	Value  string // "21,600"
	Unit   string // "lb", "of 4"
	Detail string // "12 slabs: 6 left, 6 right"
	Typed  bool   // people typed the value, which is the same in every language
	Minor  bool   // set smaller, below: blade, push-down, device, speed limit
}

// line is the state of the setting in one line.
func (p Cab) line() string {
	frozen := ""
	if p.Frozen != "" {
		frozen = "frozen " + p.Frozen
	}
	return join(" · ", p.Setting, p.Round, frozen, p.Hook)
}

// minors tells whether the setting has lesser values.
func (p Cab) minors() bool {
	return slices.ContainsFunc(p.Gauges, func(g Gauge) bool { return g.Minor })
}
