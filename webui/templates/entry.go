package templates

// Entry is the page of one entry of a class.
type Entry struct {
	Frame
	Puller    Puller
	Class     Link
	State     string   // of the class
	Scratched string   // why it was scratched; "" where it was not
	Stands    string   // "281.36, place 3"; what a preview says
	Words     []string // where it is in the order, what it stands with, the pull-off: a sentence each
	Hooks     []EntryHook
	Points    string  // once the result is official; "" where the rules give none
	Remind    *Remind // nil where phones are not reminded
	Links     []Link
}

// Remind is the offer to tell the phone that looks at the page when its hook is near.
type Remind struct {
	Key string // by which push services know the server, base64url
}

// EntryHook is what an entry did in one round.
type EntryHook struct {
	Outcome
	Round string // "Round 1"
	Order string // "place 3 of 14 in the order"
}

// PullerPage is everything that one name pulled at the events of a server.
type PullerPage struct {
	Frame
	Name    string
	Home    string
	Entries []PulledLine // the newest first
}

// VehiclePage is everything that was pulled with one vehicle at the events of a server.
type VehiclePage struct {
	Frame
	Name    string
	Home    string
	Entries []PulledLine // the newest first
}

// PulledLine is one class that a puller or a vehicle is entered in.
type PulledLine struct {
	Outcome
	Event  Link
	Class  Link
	Date   string
	Number string
	With   string // the vehicle on the page of a puller, the puller on that of a vehicle
	Place  string // "Place 3, not official"
}

// title names the entry in one line: "41 Maud Farrow".
func (p Entry) title() string { return join(" ", p.Puller.Number, p.Puller.Name) }

// tells is the entry in one line, for a preview in a chat: "8,200 lb Field Stock · 281.36, place 3".
func (p Entry) tells() string {
	return join(" · ", p.Class.Text, p.State, p.Stands)
}
