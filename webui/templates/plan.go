package templates

// Names of the fields that the planning forms send.
const (
	FieldGears    = "gears"    // how many box gears the sled has
	FieldHoles    = "holes"    // how many start holes the sled has
	FieldName     = "name"     // of the event or class
	FieldPlace    = "place"    // of the event
	FieldRules    = "rules"    // name of a rule set
	FieldSession  = "session"  // id of a session
	FieldSessions = "sessions" // one a line: start and name
	FieldSled     = "sled"     // name of the sled, or its id
	FieldTrack    = "track"    // id of a track
	FieldTracks   = "tracks"   // one a line
	FieldZone     = "zone"     // time zone of the place
)

// Plan is the page on which the desk of a server plans another event.
type Plan struct {
	Frame
	Events []Link // the desks of the events there are
	Passes Link   // the list of passes for every event
	More   []Link // what else is of the whole server: its seasons
	// Form sends FieldName, FieldPlace, FieldZone, FieldTracks, FieldSled, FieldGears,
	// FieldHoles, FieldSessions.
	Form Form
}

// PlanClass is the page on which the desk of an event plans another class.
type PlanClass struct {
	Frame
	Form     Form     // FieldName, FieldRules, FieldKind, FieldSession, FieldTrack, FieldSled
	Kinds    []Option // kinds of vehicles that some rule set has a restart line for
	Rules    []Option // rule sets
	Sessions []Option
	Tracks   []Option
	Sleds    []Option
}
