package templates

// Home is the first page of a server: its events.
type Home struct {
	Frame
	Events []EventLine
	Links  []Link // seasons, records
}

// EventLine is one event in a list.
type EventLine struct {
	Name  string
	Href  string
	Dates string // "Sat 19 – Sun 20 September 2026"
	Place string
	State string // "now hooking", "results official"; may be empty
}

// Event is the public page of an event.
type Event struct {
	Frame
	Name  string
	Place string
	Dates string
	Find  string     // address of the page of the pits; empty where there is none
	Now   []TrackNow // one a track that is hooking; empty before and after
	Days  []Day
	Runs  []Run // how the day runs, a sentence each; empty once all is pulled
	// Caution goes with the times, where there are any.
	Caution string
	Links   []Link // more of the event: desk, results as a file
}

// Run is how the day runs on a track, or what becomes of a curfew there.
type Run struct {
	Track string // its name, where there are several
	Says  string // "12 minutes behind; Modified about 19:40 to 20:05."
}

// TrackNow is what happens on one track at this moment.
type TrackNow struct {
	Hooking
	Track    string // "Track 1"
	Class    string
	Href     string // of the class
	Sentence string // "Round 1 · puller 9 of 14"
}

// Day is a day of the programme.
type Day struct {
	Name     string // "Saturday 19 September"
	Sessions []Session
}

// Session is a part of a day on a track.
type Session struct {
	Name    string   // "Evening session · Track 1"
	Time    string   // "from 18:00"
	Breaks  []string // "Break at about 19:30, 20 min"
	Classes []ClassLine
}

// ClassLine is one class in the programme.
type ClassLine struct {
	Time   string // planned: "18:20"
	Name   string
	Href   string
	State  string // "entries open", "drawn", "hooking: puller 9 of 14", "pull-off", "result"
	Track  string // its track, where there are several
	Likely string // "likely 19:38–20:04, middle 19:52"; empty where nothing is foretold
	Winner string // "41 Maud Farrow, 312.44 ft"; empty until decided
	Now    bool   // this class is on the track
}
