package templates

import "strconv"

// Screen is the big screen at the grandstand: what happens on the tracks of an event, for people who only look. It
// has nothing to press or to follow, and fills the window whatever its size, so that nothing has to be scrolled.
type Screen struct {
	Frame
	Tracks []ScreenTrack // side by side; none before the first class is planned
	// Bare is the line to lay over a moving picture: the same tracks in one line each, on nothing.
	Bare bool
}

// ScreenTrack is what is told of one track: of the class that is being pulled there, else of the last one that was.
type ScreenTrack struct {
	Hooking
	ID       string // unique on the page: "track-1"
	Track    string // "Track 1"
	Class    string
	Sentence string // "Round 1 · puller 9 of 14"
	Message  string // what must not be missed: an open choice; shown in the place of who is next
	// Winner is who won, once the class is decided; shown in the place of who is on the track. It has a vehicle only
	// where one alone won.
	Winner Puller
	// Last is who hooked last and what came of it; nobody before the first.
	Last StandingRow
	// First are the first places, as many as a screen has room for.
	First []StandingRow
	// Then is the class that comes next, where none is being pulled, and ThenBegins when: "Likely begins about 19:35–20:05".
	Then, ThenBegins string
	Strip            *Strip
}

// kind is the style of the page's root, on which the ground depends.
func (p Screen) kind() string {
	if p.Bare {
		return "bare"
	}
	return "screen tracks-" + strconv.Itoa(min(len(p.Tracks), 3))
}

// who is who is shown largest, and what for.
func (t ScreenTrack) who() (Puller, string) {
	if !t.Winner.Nobody() {
		return t.Winner, "Won by"
	}
	return t.OnTrack, "On the track"
}

// length tells how long a name is, so that the style can set a long one smaller: it may not be cut.
func (p Puller) length() string {
	if longest := max(len([]rune(p.Name)), len([]rune(p.Vehicle))); longest > 22 {
		return "long"
	}
	return ""
}
