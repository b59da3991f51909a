package templates

import "strconv"

// FieldPoint is what was found of a point of an inspection; the form sends FieldPoint-0, FieldNote-0, … and FieldBy.
const FieldPoint = "state"

// SledLog is the record of a sled over events, for its crew and the desk, to read and to print.
type SledLog struct {
	Frame
	Name   string
	Ask    *Inspection // nil while a vehicle pulls the sled
	Events []SledEvent // the newest first
	Scope  string      // over which events it goes
	Print  Link        // to the lists on paper, empty
	Back   Link
}

// Inspection is the form of an inspection, a row a point.
type Inspection struct {
	Points []string
	Form   *Form
}

// SledEvent is a sled at one event.
type SledEvent struct {
	ID          string // anchor, unique on the page
	Name        string
	When        string // "19 September 2026"
	Where       string // "Tarn Hollow"; "" where no place is written
	Total       string // "29 hooks, 3 full pulls, 1 hand drop, 2 faults, 1 reset"
	Classes     []SledClass
	Faults      []SledLine
	Resets      []SledLine
	Inspections []Inspected
}

// SledLine is one thing of the log: where, and what in words.
type SledLine struct {
	Class string // "8,200 lb Field Stock"
	At    string // "hook 3 of round 1, 23", "round 1, setting 2, 19:10"
	Words string // "hand drop: pan hung"
	Typed bool   // people typed the words, which are the same in every language
}

// SledClass is what a sled did in one class, in figures.
type SledClass struct {
	Name, Href                                  string
	Hooks, FullPulls, HandDrops, Faults, Resets int
}

// Inspected is an inspection as it was signed.
type Inspected struct {
	Text   string // "Saturday 19 September 16:10, signed Ada Flagg"
	Says   string // "14 ok, 1 not ok, 1 not looked at"
	Points []InspectedPoint
}

// InspectedPoint is one point of an inspection.
type InspectedPoint struct {
	Point, State, Note string
	Wrong              bool
}

// row is the control of a point's field.
func (i Inspection) row(name string, n int, label string) control {
	return control{form: *i.Form, prefix: "inspect", name: name + "-" + strconv.Itoa(n), label: label}
}

// pointStates are what may be found of a point; the first stands until another is chosen.
func pointStates() []Option {
	return []Option{{Value: "not looked at", Text: "not looked at"}, {Value: "ok", Text: "ok"}, {Value: "not ok", Text: "not ok"}}
}

// note is the control of the words about a point.
func (i Inspection) note(n int) control {
	c := i.row(FieldNote, n, "Note")
	c.size = "long"
	return c
}
