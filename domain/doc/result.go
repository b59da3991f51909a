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

// resultVersion is the version of the schema; it grows with every change of the document's shape.
const resultVersion = 1

//go:embed schema/result.json
var resultSchema string

// ResultSchema returns the JSON Schema (draft 2020-12) of a [Result].
func ResultSchema() string { return resultSchema }

// Result is what was decided in classes of an event, with everything that decided it: the document that people keep and
// programs read. Every member is always there: text that nobody typed is empty, and null stands for a figure, a word or
// a time that there is not. docs/exports.md explains each member.
type Result struct {
	Schema  string        `json:"$schema"`
	Version int           `json:"schema_version"`
	Event   ResultEvent   `json:"event"`
	Classes []ResultClass `json:"classes"`
}

// ResultEvent is the event of a result.
type ResultEvent struct {
	Name  string `json:"name"`
	Slug  string `json:"slug"`
	Place string `json:"place"`
	Zone  string `json:"zone"`
}

// ResultClass is one class of a result.
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
	Draw     *ResultDraw     `json:"draw"`
	Standing []ResultPlace   `json:"standing"`
	Rounds   []ResultRound   `json:"rounds"`
}

// ResultSled is the sled of a class: gears and start holes of a setting count from 1 to these.
type ResultSled struct {
	Name       string `json:"name"`
	Gears      int    `json:"gears"`
	StartHoles int    `json:"start_holes"`
}

// ResultRules is the part of a rule set that a standing is read with.
type ResultRules struct {
	Name   string   `json:"name"`
	Title  string   `json:"title"`
	Unit   string   `json:"unit"`
	Line   *Measure `json:"line"`
	Capped bool     `json:"capped"`
	Rounds int      `json:"rounds"`
	Counts string   `json:"counts"`
}

// Measure is a distance, a weight or a speed: the digits as they were read, and their unit. It is never a float.
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

// ResultDraw is how the order of a class came about.
type ResultDraw struct {
	Seed    string     `json:"seed"`
	DrawnAt *time.Time `json:"drawn_at"`
	Times   int        `json:"times"`
	Reason  string     `json:"reason"`
	Order   []string   `json:"order"`
}

// ResultPlace is one line of a standing.
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
	Remarks   []string `json:"remarks"`
}

// ResultRound is one round of a class.
type ResultRound struct {
	Name        string          `json:"name"`
	TwoSettings bool            `json:"two_settings"`
	Settings    []ResultSetting `json:"settings"`
	LineUp      []ResultSlot    `json:"line_up"`
	Hooks       []ResultHook    `json:"hooks"`
}

// ResultSetting is a setting that was frozen. Drafts are nobody's business yet.
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

// ResultSlabs says how many slabs lay where in the box.
type ResultSlabs struct {
	Left   int `json:"left"`
	Middle int `json:"middle"`
	Right  int `json:"right"`
}

// ResultSlot is a place in the line-up of a round.
type ResultSlot struct {
	Order int    `json:"order"`
	Entry string `json:"entry"`
	Note  string `json:"note"`
	Out   bool   `json:"out"`
}

// ResultHook is one hook of a round.
type ResultHook struct {
	Number     int             `json:"number"`
	Entry      string          `json:"entry"`
	Revision   int             `json:"revision"`
	Attempt    int             `json:"attempt"`
	Test       bool            `json:"test"`
	Outcome    *domain.Outcome `json:"outcome"`
	Distance   *Measure        `json:"distance"`
	Reason     string          `json:"reason"`
	Choice     *domain.Option  `json:"choice"`
	Correction string          `json:"correction"`
	CalledAt   *time.Time      `json:"called_at"`
	StartedAt  *time.Time      `json:"started_at"`
	EndedAt    *time.Time      `json:"ended_at"`
}

// WriteJSON writes the result as one JSON document.
func (r Result) WriteJSON(w io.Writer) error {
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(r); err != nil {
		return fmt.Errorf("writing a result: %w", err)
	}
	return nil
}
