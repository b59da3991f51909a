package templates

import "strconv"

// Desk is the organiser's page of an event.
type Desk struct {
	Frame
	Name    string
	Classes []DeskLine

	Add        *Form    // adds an entry: FieldClass, FieldNumber, FieldPuller, FieldVehicle, FieldHome
	AddClasses []Option // classes that still take entries

	Issue   *Form    // issues an entry link: FieldRole
	Roles   []Option // roles to issue a link for
	Passes  Link     // the list of passes
	Links   []Link
	Journal []JournalLine // the last lines, newest first
}

// DeskLine is one class on the desk.
type DeskLine struct {
	Name    string
	Href    string // the class's desk page
	Time    string // planned
	State   string // "hooking: puller 9 of 14"
	Awaited string // what has to happen next, and by whom: "Booth: the choice of 41"
}

// JournalLine is one line of the event's journal.
type JournalLine struct {
	Number string
	Time   string
	Class  string // whose line it is, where there are several; "" for one about the event
	What   string // "188.02 ft for 30 (hook 8, round 1)"
	Who    string // "booth"; "" where no pass did it
	Device string // "laptop by the tower"
	Photo  string // address of the photo that it is about; "" for none
}

// DeskClass is the organiser's page of a class.
type DeskClass struct {
	Frame
	Name       string
	Sentence   string // the state, as on the public page
	Awaited    string // what has to happen next, and by whom
	PublicHref string
	Messages   []Message   // a session whose time is past; who is too heavy, and what the rules advise
	Scale      *ScaleState // nil where nothing is weighed
	Links      []Link      // blank sheet, result

	Place    *Form // FieldSession, FieldTrack; nil once a hook was called, and where there is one of each
	Sessions []Option
	Tracks   []Option

	Entries []DeskEntry
	Add     *Form // FieldNumber, FieldPuller, FieldVehicle, FieldHome, FieldSame
	// Again are the entries whose vehicle may hook again with another driver; none where the rules do not let it.
	Again []Option

	Draw   *Form    // FieldSeed, FieldBetween, FieldFixed, FieldReveal; nil once drawn
	Drawn  *Draw    // the draw that stands
	Order  []Puller // in drawn order
	Redraw *Form    // as Draw, and FieldReason; nil once started
	Commit *Form    // FieldPromise, FieldReason; nil once started
	Swap   *Form    // FieldNumber, FieldWith, FieldReason; nil before the draw and once started
	// NotDrawn says why nothing is drawn, so that the text to draw from may be left empty; "" where the order is drawn.
	NotDrawn string
	InLine   []Option // who can change places, by number
	// Promised tells of the commitment that the draw must reveal, "" where none stands.
	Promised string

	Setting DeskSetting

	Start   *Form  // starts the round; sends nothing of its own
	Round   string // the round that Start would start: "Round 1"
	PullOff *DeskPullOff
	Missed  []DeskMissed

	Attendance Attendance
	Trend      *Trend  // nil while no round with enough distances is over
	Points     *Points // nil before the class is decided, and where the rules give none

	Course Course
	Advice []Message // what the rules advise the officials

	Official DeskOfficial
	Photos   Photos // of readings, to look at

	Journal []JournalLine // the last lines, newest first
}

// DeskEntry is one entry on the desk.
type DeskEntry struct {
	Puller
	Scratched string // the reason; empty while it stands
	Scratch   *Form  // FieldReason
}

// DeskSetting is the setting of the current round on the desk: written, then
// frozen in a step of its own, and reset only with a reason.
type DeskSetting struct {
	Round  string // "Round 1"
	Name   string // "Setting 1"; empty when there is none
	State  string // "frozen 18:21 by the first hook", "not frozen yet"
	Lines  []Term // what it says
	Weight string // unit of weights: "lb"
	Length string // unit of the trip point: "ft"
	Depth  string // unit of the blade: "in"
	Speed  string // unit of the limit: "mph"
	Gears  int    // gears of this sled's box, 0 if not known
	Holes  int    // start holes of this sled, 0 if not known
	// Kinds are the weights of slabs that the form asks for, one at least. Known says that the sled's description has
	// them, so that the weight in the box may be left out.
	Kinds []SlabKind
	Known bool
	Box   *Box // what lies in the box by what was typed, else by the newest setting; nil without slabs
	// Filled says that the form was filled from elsewhere and nothing is stored of it yet.
	Filled string
	// Look is where the form may be sent to be looked at, without storing it; Earlier leads to earlier classes.
	Look    string
	Earlier Link

	// Write sends FieldBox, the fields of Kinds, FieldGear, FieldHole,
	// FieldTrip, FieldPan, FieldBlade, FieldPushDown, FieldMeasure, FieldLimit,
	// FieldNote.
	Write  *Form
	Freeze *Form // sends nothing of its own
	Reset  *Form // FieldReason; the new setting is written after it
	// Effect is what a reset does to hooks already made, from the rules: "The 4 hooks
	// made are void and hook again."
	Effect string
}

// boxHint says that the weight in the box may be left out.
func (s DeskSetting) boxHint() string {
	if s.Known {
		return "Left empty, it is what the slabs weigh."
	}
	return ""
}

// DeskPullOff is a pull-off that waits to be started.
type DeskPullOff struct {
	Name    string // "Pull-off", "Second pull-off"
	Pullers []Puller
	Order   string   // "in the order of round 1"
	Form    *Form    // sends nothing of its own; nil while something is missing
	Before  []string // what the rules ask for before it
	Missing string   // "Write the setting of the pull-off first."
}

// DeskMissed is a full puller who was not in an earlier pull-off.
type DeskMissed struct {
	Puller
	Round string // the one that is being pulled: "pull-off 2"
	Form  *Form  // FieldReason
}

// upTo is a hint about whole numbers from one.
func upTo(n int) string {
	if n == 0 {
		return ""
	}
	return "1 to " + strconv.Itoa(n)
}

// countEntries is how many entries stand.
func (p DeskClass) countEntries() string {
	n := 0
	for _, e := range p.Entries {
		if e.Scratched == "" {
			n++
		}
	}
	return strconv.Itoa(n)
}

// allLinks are the places to go from a class's desk, the public page first.
func (p DeskClass) allLinks() []Link {
	if p.PublicHref == "" {
		return p.Links
	}
	return append([]Link{{Text: "The class as everybody sees it", Href: p.PublicHref}}, p.Links...)
}

// parts are the sections of the page.
func (p DeskClass) parts() []Link {
	parts := []Link{{Text: "Entries", Href: "#entries"}, {Text: "Draw", Href: "#draw"}, {Text: "Sled setting", Href: "#setting"}}
	if p.Attendance.Form != nil {
		parts = append(parts, Link{Text: "Who came", Href: "#attendance"})
	}
	if p.Start != nil {
		parts = append(parts, Link{Text: "Start", Href: "#start"})
	}
	if p.PullOff != nil {
		parts = append(parts, Link{Text: p.PullOff.Name, Href: "#pull-off"})
	}
	if !p.Course.none() {
		parts = append(parts, Link{Text: "While it is pulled", Href: "#course"})
	}
	if !p.Official.empty() {
		parts = append(parts, Link{Text: "The result", Href: "#official"})
	}
	if p.Trend != nil {
		parts = append(parts, Link{Text: "Hook order", Href: "#trend"})
	}
	if p.Points != nil {
		parts = append(parts, Link{Text: "Points", Href: "#points"})
	}
	if len(p.Journal) > 0 {
		parts = append(parts, Link{Text: "Journal", Href: "#journal"})
	}
	return parts
}
