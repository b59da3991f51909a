// Package templates holds the pages of Clayline: one struct a page, filled
// with values ready to be shown, and the templ component that draws it.
//
// A handler fills the struct and renders it:
//
//	page := templates.Class{Frame: frame, Name: "8,200 lb Field Stock", Sentence: "Round 1 · puller 9 of 14"}
//	err := page.Page().Render(ctx, w)
//
// The structs know nothing of the domain, the database or HTTP. Every string
// is shown as it is: numbers carry their digits, times the event's own clock.
// An empty string, a nil pointer or an empty slice means "not there", and the
// part of the page that would show it is left out.
//
// Every page works without JavaScript and holds neither inline styles nor
// inline scripts, so a Content-Security-Policy needs no unsafe-inline.
package templates

import (
	"encoding/json"

	"github.com/a-h/templ"
)

// Page is what every page struct of this package is: something to draw.
type Page interface {
	Page() templ.Component
}

// Frame is what all pages share: the strip of chalk along the top, and the
// message an action left behind.
type Frame struct {
	Event     string // "Tarn Hollow Harvest Pull"; empty on pages above any event
	EventHref string // where the event's name leads
	Context   string // "Saturday · Track 1"
	AsOf      string // time the page tells of, with seconds: "18:57:12"
	// Stream is the address of the stream that tells when the page has changed; empty on
	// pages that stay as they are.
	Stream string
	// Data is what the page tells search engines, as JSON in which signs of HTML are escaped; it may be empty.
	Data string
	// Parts are the parts of the page that are kept current, as a list of selectors; empty
	// for the whole page.
	Parts   string
	Scripts []string // files of modules that the page adds: "pits.js"
	Awake   bool     // the screen is kept on while the page is looked at
	// Copy is the class with which the page goes on without the server, as JSON; empty for a page that does not.
	Copy   json.RawMessage
	Again  string // address of this page, for "look again" where it goes stale
	Pass   string // for staff: what this device may do, "Booth"
	Device string // for staff: its name, "laptop by the tower"; empty where it has none
	Leave  *Form  // for staff: gives the pass back
	Notice string // what the last action did: "Stored: 30 Ida Brandt 188.02 ft · number 411"
	Words  string // address of what scripts say in the page's language; empty for English
	// Languages are the page in each language that there is, the one at hand among them; empty where there is only this.
	Languages []Language
}

// Language is a page in a language.
type Language struct {
	Tag  string // RFC 5646: "de"
	Name string // the language's own name: "Deutsch"
	Href string
	Now  bool // this is the page at hand
}

// Link is a place to go, in words.
type Link struct {
	Name string // what people named it, in front of the words; one of both may be empty
	Text string
	Href string
}

// Term is a name with its value, a line of a definition list.
type Term struct {
	Label string
	Value string
	Typed bool // people typed the value, which is the same in every language
}

// Option is a choice in a list: what is sent, and what is read.
type Option struct {
	Value string
	Text  string
	Typed bool // people typed the text, which is the same in every language
}

// Puller is who hooks with what. The zero Puller is nobody.
type Puller struct {
	Number  string // as painted on the vehicle: "41", "7b"
	Name    string // "Maud Farrow"
	Vehicle string // "Brindle Ox"
	Home    string // "Wrenfield"
}

// Nobody tells whether p is the zero Puller.
func (p Puller) Nobody() bool { return p == Puller{} }

// Hooking is what everybody wants to know at once: who, who then, and how far
// it takes to lead.
type Hooking struct {
	OnTrack   Puller
	Next      Puller
	AfterNext Puller
	ToBeat    ToBeat
}

// silent tells whether there is nothing to say.
func (h Hooking) silent(left []string) bool { return len(left) == 0 && h == Hooking{} }

// ToBeat is the number to beat. Without a Value nothing is shown but the Label.
type ToBeat struct {
	Label string // "To beat: 38 Cora Lindqvist", "Two full pulls · best short of the line"
	Value string // "296.41"
	Unit  string // "ft"
}

// OutcomeKind says how an outcome is set: plain, or with the weight it needs.
type OutcomeKind int

const (
	// Measured is a distance.
	Measured OutcomeKind = iota
	// FullPull is the whole track.
	FullPull
	// Disqualified is shown in red, and always as the word in Text.
	Disqualified
	// Absent is an entry that did not hook: absent, scratched, broken.
	Absent
	// Waiting is a hook still to come: "on the track", "next", "19:05–19:07".
	Waiting
)

// Outcome is what a hook came to, in words or as a distance.
type Outcome struct {
	Text    string // "281.36", "Full pull", "DQ", "next"
	Kind    OutcomeKind
	Remarks []string // "kept as test hook", "re-hooked: sled fault", "corrected: misread tape"
	Typed   string   // the one of Remarks that people typed, which no language says otherwise
	Noted   bool     // on paper: a mark that the sled's crew noted a difference, explained below
}

// Message is a sentence that must not be missed, and what to do about it.
type Message struct {
	Text string // "41 decides: keeps 281.36 or drops to last, before unhooking"
	Do   string // "The round goes on when the booth has stored the choice."
}

// Quiet says why there is nothing to do here, what comes next and who does it.
type Quiet struct {
	Text string // "Round 1 is done."
	Next string // "The desk starts the pull-off."
	Link Link   // where to look meanwhile
}
