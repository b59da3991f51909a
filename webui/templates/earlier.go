package templates

// Names of the fields of the search for earlier classes.
const (
	FieldSameClass = "class"
	FieldSameTrack = "track"
	FieldSameSled  = "sled"
	FieldSearch    = "search" // tells a search from the page's first look
)

// Earlier is the page that finds settings of earlier classes to begin from. It changes nothing: a setting is filled into
// the desk's form, as a draft.
type Earlier struct {
	Frame
	Class  string
	Action string // address of the page itself
	Same   []Tick // what has to be the same
	Days   []EarlierDay
	// Bound says how many classes are shown at most: "The newest 20 are shown."
	Bound string
	// Quiet is set when nothing was found.
	Quiet *Quiet
	// Why says why nothing can be filled in now; empty where it can.
	Why  string
	Back Link
}

// Tick is one box to tick.
type Tick struct {
	Name string
	Text string // "this sled, Plumb Bob"
	On   bool
}

// EarlierDay is one earlier class.
type EarlierDay struct {
	Date     string // "19 September 2026"
	Event    string
	Class    Link
	Where    string // "Track 1 · Plumb Bob"
	Settings []EarlierSetting
}

// EarlierSetting is one frozen setting of an earlier class and how its hooks went.
type EarlierSetting struct {
	Setting
	Round string   // "Round 1"
	Went  []string // "8 hooks", "2 full pulls", …
	Use   string   // address that fills it into the form; empty where it cannot be used now
}
