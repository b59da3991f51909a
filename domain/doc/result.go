package doc

import (
	"encoding/json"
	"fmt"
	"io"
	"time"

	_ "embed"

	"clayline/domain"
)

// ResultSchemaPath is where the schema of a [Result] is served, and how a result names it: a reference to be resolved
// against the address of the result itself.
const ResultSchemaPath = "/schema/result.json"

// resultVersion is the version of the schema; it grows with every change of the document's shape. A program that knows
// version 1 can then say that it does not know 2, in place of reading it wrongly.
const resultVersion = 6

//go:embed schema/result.json
var resultSchema string

// ResultSchema returns the JSON Schema (draft 2020-12) of a [Result]. It is served at [ResultSchemaPath].
func ResultSchema() string { return resultSchema }

// Result is what was decided in classes of an event, with everything that decided it: the document that people keep and
// programs read. Every member is always there: text that nobody typed is empty, and null stands for a figure, a word or
// a time that there is not. docs/exports.md explains each member. One class of an event begins so:
//
//	{"$schema": "/schema/result.json", "schema_version": 6,
//	 "event": {"name": "Harvest Pull", "slug": "harvest-pull", "place": "Tarn Hollow", "zone": "America/Chicago"},
//	 "classes": [{"name": "8,200 lb Field Stock", "decided": true, …
//
// Entries are named by the number on the vehicle, as people name them, and not by ids that mean nothing outside.
type Result struct {
	Schema  string        `json:"$schema"`
	Version int           `json:"schema_version"`
	Event   ResultEvent   `json:"event"`
	Classes []ResultClass `json:"classes"`
}

// ResultEvent is the event of a result. Zone is the name of its time zone; all times of the result are on its clock.
type ResultEvent struct {
	Name  string `json:"name"`
	Slug  string `json:"slug"`
	Place string `json:"place"`
	Zone  string `json:"zone"`
}

// ResultClass is one class of a result. Decided says that nothing is left to pull, Official that somebody signed for
// it: a class may be the one without the other having come, and what is not official may still change.
type ResultClass struct {
	Name     string          `json:"name"`
	Slug     string          `json:"slug"`
	Session  string          `json:"session"`
	StartsAt *time.Time      `json:"starts_at"`
	Track    string          `json:"track"`
	Sled     ResultSled      `json:"sled"`
	Rules    ResultRules     `json:"rules"`
	Decided  bool            `json:"decided"`
	Official *ResultOfficial `json:"official"`
	Stopped  *ResultStopped  `json:"stopped"`
	Draw     *ResultDraw     `json:"draw"`
	Standing []ResultPlace   `json:"standing"`
	Rounds   []ResultRound   `json:"rounds"`
	// Revision counts the results of the class that were, are or will be signed, from 1.
	Revision      int               `json:"revision"`
	ProtestsUntil *time.Time        `json:"protests_until"`
	Earlier       []ResultSignature `json:"earlier"`
	Protests      []ResultProtest   `json:"protests"`
}

// ResultSled is the sled of a class: gears and start holes of a setting count from 1 to these.
type ResultSled struct {
	Name       string `json:"name"`
	Gears      int    `json:"gears"`
	StartHoles int    `json:"start_holes"`
}

// ResultRules is the part of a rule set that a standing is read with. Whoever computes the places again needs the line,
// whether a full pull is capped there, and which rounds count. The unit is that of all distances of the class.
type ResultRules struct {
	Name   string   `json:"name"`
	Title  string   `json:"title"`
	Unit   string   `json:"unit"`
	Line   *Measure `json:"line"`
	Capped bool     `json:"capped"`
	Rounds int      `json:"rounds"`
	Counts string   `json:"counts"`
	// LineWas is where the line lay at the planning, nil unless the officials moved it.
	LineWas *Measure `json:"line_was"`
}

// Measure is a distance, a weight or a speed: the digits as they were read, and their unit. It is never a float. 281.40
// stays 281.40, which says that it was read to the hundredth.
type Measure struct {
	Value string `json:"value"`
	Unit  string `json:"unit"`
}

// String writes "281.36 ft"; "" for none.
func (m *Measure) String() string {
	if m == nil {
		return ""
	}
	return m.Value + " " + m.Unit
}

// ResultOfficial is the signature under the result of a class.
type ResultOfficial struct {
	At   *time.Time `json:"at"`
	Name string     `json:"name"`
}

// ResultStopped is when and why a class was ended before its end. Its standing has what the rules leave of it.
type ResultStopped struct {
	At     *time.Time `json:"at"`
	Reason string     `json:"reason"`
}

// ResultDraw is how the order of a class came about. The order is that of the last draw, by the numbers of the entries;
// docs/draw.md says how anybody computes it from the seed. Reason says why the class was drawn again.
type ResultDraw struct {
	Seed    string     `json:"seed"`
	DrawnAt *time.Time `json:"drawn_at"`
	Times   int        `json:"times"`
	Reason  string     `json:"reason"`
	Order   []string   `json:"order"`
}

// ResultPlace is one line of a standing. Place is nil for an entry that has none; Shared says that the place is
// another's too, Again that there is none because the vehicle has a better one. Remarks are sentences for people, of which a program needs none: what they say is in the rounds.
type ResultPlace struct {
	Place     *int     `json:"place"`
	Shared    bool     `json:"shared"`
	Entry     string   `json:"entry"`
	Puller    string   `json:"puller"`
	Vehicle   string   `json:"vehicle"`
	Home      string   `json:"home"`
	Total     *Measure `json:"total"`
	FullPull  bool     `json:"full_pull"`
	Withdrawn bool     `json:"withdrawn"`
	Again     bool     `json:"again"`
	Remarks   []string `json:"remarks"`
	// Weighed is the last reading of the scale that counts, nil where there is none.
	Weighed *ResultReading `json:"weighed"`
	// Points are nil where the rules give none, and before the class is decided.
	Points *ResultPoints `json:"points"`
}

// ResultPoints are the points that an entry earned in its class, and the parts that add up to them, as they are written:
// "14", "13 1/3". Place is the place as it counted for them, nil without one; Why says what took the place of its points.
// What was paid to whom is no part of a result.
type ResultPoints struct {
	Total           string `json:"total"`
	Place           *int   `json:"place"`
	ForPlace        string `json:"for_place"`
	ForShowUp       string `json:"for_show_up"`
	ForHook         string `json:"for_hook"`
	ForRegistration string `json:"for_registration"`
	Why             string `json:"why"`
}

// ResultRound is one round of a class. TwoSettings warns that not all of it was pulled against the same setting.
type ResultRound struct {
	Name        string          `json:"name"`
	TwoSettings bool            `json:"two_settings"`
	Settings    []ResultSetting `json:"settings"`
	LineUp      []ResultSlot    `json:"line_up"`
	Hooks       []ResultHook    `json:"hooks"`
}

// ResultSetting is a setting that was frozen. Drafts are nobody's business yet. A revision after the first has the
// reason for it. What the sled does not have is empty, or null for a figure.
type ResultSetting struct {
	Revision   int         `json:"revision"`
	Reason     string      `json:"reason"`
	Box        *Measure    `json:"box"`
	Slabs      ResultSlabs `json:"slabs"`
	Gear       int         `json:"gear"`
	StartHole  int         `json:"start_hole"`
	Trip       *Measure    `json:"trip"`
	Pan        *Measure    `json:"pan"`
	Blades     string      `json:"blades"`
	PushDown   string      `json:"push_down"`
	Device     string      `json:"device"`
	SpeedLimit *Measure    `json:"speed_limit"`
	Note       string      `json:"note"`
	FrozenAt   *time.Time  `json:"frozen_at"`
	ClosedAt   *time.Time  `json:"closed_at"`
}

// ResultSlabs says how many slabs lay where in the box. Piles tells them by their weight, and is empty where nobody said
// what a slab weighs.
type ResultSlabs struct {
	Left   int          `json:"left"`
	Middle int          `json:"middle"`
	Right  int          `json:"right"`
	Piles  []ResultPile `json:"piles"`
}

// ResultPile is how many slabs of one weight lay where.
type ResultPile struct {
	Weight *Measure `json:"weight"`
	Left   int      `json:"left"`
	Middle int      `json:"middle"`
	Right  int      `json:"right"`
}

// ResultSlot is a place in the line-up of a round. Order counts from 1. Note says why the entry was moved there, and
// Out that it does not hook in this round.
type ResultSlot struct {
	Order int    `json:"order"`
	Entry string `json:"entry"`
	Note  string `json:"note"`
	Out   bool   `json:"out"`
}

// ResultHook is one hook of a round. Numbers count in the order called. Those that do not count are here too, a test, a
// pull that was made again and one that was made void: people saw them, and will ask. Outcome is nil while there is
// none, Choice where nothing was to be chosen. Cause is the word that rule sets know for the reason. Noted says that the sled's crew noted a difference, as the public page does; what it was is for staff. The speeds are what the device read, nil where it gives none.
type ResultHook struct {
	Number     int             `json:"number"`
	Entry      string          `json:"entry"`
	Revision   int             `json:"revision"`
	Attempt    int             `json:"attempt"`
	Test       bool            `json:"test"`
	Outcome    *domain.Outcome `json:"outcome"`
	Distance   *Measure        `json:"distance"`
	Reason     string          `json:"reason"`
	Cause      string          `json:"cause"`
	Choice     *domain.Option  `json:"choice"`
	Correction string          `json:"correction"`
	Noted      bool            `json:"sled_noted"`
	TopSpeed   *Measure        `json:"top_speed"`
	LineSpeed  *Measure        `json:"line_speed"`
	CalledAt   *time.Time      `json:"called_at"`
	StartedAt  *time.Time      `json:"started_at"`
	EndedAt    *time.Time      `json:"ended_at"`
}

// WriteJSON writes the result as one JSON document. It is indented, since it is read by people too, and ends with a
// line feed. Signs of HTML are left as they are. Equal results give equal bytes.
func (r Result) WriteJSON(w io.Writer) error {
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(r); err != nil {
		return fmt.Errorf("writing a result: %w", err)
	}
	return nil
}
