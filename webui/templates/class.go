package templates

import "slices"

// Class is the public page of a class, from open entries to the result.
//
// Which parts show follows from what is filled: Entries before the draw;
// Hooking, Strip and Rounds after it; Standing from the first result on.
type Class struct {
	Frame
	Hooking
	Name string
	// Sentence is the state in one sentence: "Round 1 · puller 9 of 14 · 300 ft, full
	// pulls return for a pull-off".
	Sentence string
	Find     string    // address of the page of the pits; empty where there is none
	Messages []Message // an open choice, a pull-off due, a round on two settings
	// Winner is "19 Tom Okafor, Nettle King"; empty until decided. Shown in the place of
	// who is on the track.
	Winner   string
	Left     []string // "This round is likely over about 19:40–20:05."
	Strip    *Strip
	Entries  []Puller // who is entered, in the order of entry; shown while there is no draw
	Rounds   []Round  // in the order to show them: the current round first
	Standing Standing
	Points   *Points // nil before the class is decided, and where the rules give none
	Draw     *Draw
	Facts    []Term   // where is measured from, the line that was moved, the speed limit
	Rules    []string // what the rules say, in sentences
	Links    []Link   // sheet to print, result to print
	// Protests and Revisions are what was said against the result, and what it was before.
	Protests  []Protest
	Revisions []Revision
	Scale     *ScaleState // nil where nothing is weighed
}

// Round is one round of a class: qualifying, or a pull-off.
type Round struct {
	ID       string // anchor, unique on the page: "round-1"
	Name     string // "Round 1", "Pull-off"
	State    string // "puller 9 of 14", "done 19:31"
	Order    []OrderRow
	Settings []Setting // its setting revisions, oldest first
	// Mixed is the sentence that says so when hooks of two settings count: "This round
	// was pulled on two settings: hooks 1–4 on setting 1, hooks 5–14 on setting 2."
	Mixed string
}

// OrderRow is one place in a hook order.
type OrderRow struct {
	Puller
	Outcome
	Position string // "9"
	Now      bool   // on the track
}

// Setting is what the sled was set to: one frozen revision.
type Setting struct {
	Name   string // "Setting 1"
	Scope  string // "the same for every hook since 18:21", "hooks 1 to 4"
	Reason string // why it was reset to this one; empty for the first
	Lines  []Term // "Box": "12 slabs, 21,600 lb"
	Box    *Box   // what lay in the box; nil without slabs
}

// Standing is the ranking of a class as it is now.
type Standing struct {
	State    string // "provisional", "official since 20:14"
	Rows     []StandingRow
	Unplaced []StandingRow // disqualified, absent, scratched: below, without a place
}

// StandingRow is one line of a standing.
type StandingRow struct {
	Puller
	Outcome
	Place string // "1", "2="
	Href  string // the page of the entry; empty where it is not to be linked
}

// Draw tells how the order came about, so that anyone can compute it again.
type Draw struct {
	Seed string
	Time string // "14:05"; empty while there is only a commitment
	How  Link   // "How to compute it again"
	// Notes are earlier draws and late entries: "Drawn again 14:05: two late entries. The
	// first draw was 13:40, seed …"
	Notes []string
}

// Empty tells whether nobody stands anywhere yet.
func (s Standing) Empty() bool { return len(s.Rows) == 0 && len(s.Unplaced) == 0 }

// undrawn is the round without pictures of the box, for paper that tells the result: the lines say what was set.
func (r Round) undrawn() Round {
	r.Settings = slices.Clone(r.Settings)
	for i := range r.Settings {
		r.Settings[i].Box = nil
	}
	return r
}

// settingTitle heads what a round was pulled against.
func (r Round) settingTitle(named bool) string {
	title := "Pulled on " + lowerFirst(r.Settings[len(r.Settings)-1].Name)
	if len(r.Settings) > 1 {
		title = "Pulled on more than one setting"
		if r.Mixed == "" {
			title = "The setting was reset"
		}
	}
	if named {
		return r.Name + ": " + lowerFirst(title)
	}
	return title
}

// settingScope says which hooks the only setting of a round was for.
func (r Round) settingScope() string {
	if len(r.Settings) == 1 {
		return r.Settings[0].Scope
	}
	return ""
}
