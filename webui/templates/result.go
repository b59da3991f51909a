package templates

import "slices"

// Result is the result of a class to print and to pin up.
type Result struct {
	Frame
	Name     string
	When     string // "Saturday 19 September"
	Where    string // "Evening session · Track 1"
	Rules    string
	Winner   string
	Standing Standing
	Points   *Points // nil before the class is decided, and where the rules give none
	Rounds   []Round
	Messages []Message
	Draw     *Draw
	Facts    []Term // as on the class page
	Print    string // "As of 20:15, journal number 486"
	Noted    string // what the mark at a hook means; empty where there is none
	// Protests and Revisions are what was said against the result, and what it was before.
	Protests  []Protest
	Revisions []Revision
}

// Results are the results of all classes of an event to print, to pin up and to send.
type Results struct {
	Frame
	Name    string
	Place   string
	Dates   string
	State   string // "3 of 6 classes official"
	Classes []ClassResult
	Print   string // "As of 20:15, journal number 486"
	Back    Link
}

// ClassResult is a class in the results of its event.
type ClassResult struct {
	ID       string // anchor, unique on the page
	Name     string
	When     string // "Saturday 19 September"
	Where    string // "Evening session · Track 1"
	Rules    string
	Unit     string // "ft"
	State    string // "official since 20:14, signed A. Flagg", "hooking: puller 9 of 14"; empty when decided and not official
	Official bool
	Winner   string
	Rounds   []Round // as they were pulled, the first first
	Total    bool    // a column for what the class rounds come to together
	Points   bool    // a column for the points
	Rows     []ResultRow
	Messages []Message
	Facts    []Term   // as on the class page
	Notes    []string // protests, and what earlier revisions were
	Noted    string   // what the mark at a hook means; empty where there is none
	Draw     *Draw
}

// ResultRow is an entry with what became of it in each round.
type ResultRow struct {
	Puller
	Place   string       // "1", "2="; empty for none
	Cells   []ResultCell // one a round
	Total   string
	Points  string // "14"
	Remarks []string
	Typed   []string // those of Remarks that people typed
}

// ResultCell is what became of an entry in one round; the zero one when it was not in it.
type ResultCell struct {
	Outcome
	Hook string // its place in the hook order: "3"
}

// mark is the word that stands beside the class.
func (c ClassResult) mark() string {
	switch {
	case c.Official:
		return "Official"
	case len(c.Rounds) == 0:
		return "Not pulled"
	default:
		return "Provisional"
	}
}

// stands says in a word or two how far the class is.
func (c ClassResult) stands() string {
	if c.Official || c.State == "" {
		return lowerFirst(c.mark())
	}
	return c.State
}

// pulled are the rounds with a setting to tell.
func (c ClassResult) pulled() []Round {
	var list []Round
	for _, r := range c.Rounds {
		if len(r.Settings) > 0 {
			list = append(list, r)
		}
	}
	return list
}

// line writes a setting in one line: "Box 12 slabs, 21,600 lb · Gear 3 of 4".
func (s Setting) line() string {
	words := make([]string, len(s.Lines))
	for i, t := range s.Lines {
		words[i] = t.Label + " " + t.Value
	}
	return join(" · ", words...)
}

// typed reports whether people typed the remark, which no language says otherwise then.
func (r ResultRow) typed(remark string) bool { return slices.Contains(r.Typed, remark) }
