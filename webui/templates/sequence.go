package templates

// Names of the fields of the order of classes. Those about a class end with its address, those about a session with its
// id; see [SequenceClass] and [SequenceSession].
const (
	FieldRest     = "rest"     // minutes between two classes of one person or vehicle
	FieldPerHook  = "hook"     // minutes a hook
	FieldSlab     = "slab"     // minutes a slab
	FieldNewGear  = "gear"     // minutes for another gear
	FieldNewHole  = "hole"     // minutes for another start hole
	FieldUnknown  = "unknown"  // minutes for a change of the box that is not known
	FieldDragging = "track"    // minutes for the track
	FieldClasses  = "classes"  // ids of all classes, in the order that is to be used
	FieldUp       = "up"       // address of the class that goes one up
	FieldDown     = "down"     // address of the class that goes one down
	FieldMoves    = "moves"    // address, session and track of each class that moves
	PrefixAt      = "at-"      // place of a class in its session, see [SequenceClass.At]
	PrefixPin     = "pin-"     // a class that keeps its place
	PrefixStarts  = "starts-"  // fixed start of a class
	PrefixSession = "session-" // session of a class, see [SequenceClass.Within]
	PrefixTrack   = "track-"   // track of a class
	PrefixCurfew  = "curfew-"  // of a session
	PrefixBreaks  = "breaks-"  // of a session
)

// Sequence is the page on which the desk puts the classes of an event in order. What is asked for stands in the address,
// and nothing is stored but by Use and UseTyped.
type Sequence struct {
	Frame
	Notice   string
	Form     Form // gets the page again with everything that was typed
	Sessions []SequenceSession
	// InSessions and OnTracks are what a class can be moved to; none where there is nothing to choose.
	InSessions, OnTracks []Option
	// Sums compare the order in use, the one typed and the proposal, the best last.
	Sums     []SequenceSum
	Sentence string // how far from the best the proposal can be
	Clashes  []string
	Proposal []SequenceSession
	Use      *Form // FieldClasses; nil where the proposal is what is in use
	Hours    bool  // both forms store other curfews, breaks or fixed starts too
	UseTyped *Form // the same for the order as typed
}

// SequenceSession is a session with its classes in order.
type SequenceSession struct {
	ID      string
	Name    string
	Starts  string
	Classes []SequenceClass
}

// SequenceClass is a class in its place.
type SequenceClass struct {
	Slug   string
	Name   string
	Place  string
	In     string   // id of its session
	Track  string   // "" where the event has one
	Detail string   // "14 entries, about 80 min"
	Time   string   // "18:40"
	Before string   // "11 min before it: 4 slabs in, gear 3 to 4; track"
	Moves  string   // "One up: 6 min more. One down: 2 min less."
	Shares []string // "Tom Okafor also in Farm stock"
	Begun  bool     // keeps its place
	Pinned bool
	First  bool // of its session
	Last   bool
}

// At is the name of the field of the place. It has the place that is shown: "at-2-farm-stock".
func (c SequenceClass) At() string { return PrefixAt + c.Place + "-" + c.Slug }

// Within is the name of the field of the session. It has the session in which the page shows the class.
func (c SequenceClass) Within() string { return PrefixSession + c.In + "-" + c.Slug }

// SequenceSum is what an order costs, in minutes.
type SequenceSum struct {
	Name                           string
	Box, Track, Wait, Late, Beyond string
	Total                          string
}

// hasMoves tells whether anything can be put in order.
func (p Sequence) hasMoves() bool { return len(p.Sessions) > 0 }
