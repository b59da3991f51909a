package templates

// Pits is the page for whoever waits in the pits of an event: every entry with its hook, to be found by number or
// name.
type Pits struct {
	Frame
	Action string // address that the question is sent to, and under which all entries are
	// Asked says that the page answers a question and shows what was found, and not all entries.
	Asked   bool
	Query   string // what was asked, as it was typed
	Found   string // "2 entries found"; shown with what was asked
	Classes []PitsClass
}

// PitsClass is one class with those of its entries that the page shows.
type PitsClass struct {
	ID     string // anchor, unique on the page
	Name   string
	Href   string
	Where  string   // "Evening session · Track 1"
	State  string   // "hooking: puller 9 of 14"
	Likely string   // "Likely begins about 19:38–20:04"; empty once it has begun, and where nothing is foretold
	Bring  []string // what the rules ask for before a pull-off, in sentences
	Rows   []PitsRow
}

// PitsRow is the hook of one entry.
type PitsRow struct {
	Puller
	Outcome
	ID   string // anchor, unique on the page: "n7"
	Href string // the page of the entry
	// Hook says where in the order the entry is: "puller 9 of 14 · 3 hooks ahead".
	Hook    string
	So      string // what the entry stands with: "place 3", "so far 281.36, place 3"
	PullOff string // "in the pull-off", "not in the pull-off"; empty while that is open
}
