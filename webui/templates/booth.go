package templates

import "github.com/a-h/templ"

// Booth is the scorer's page: one field with the cursor in it.
//
// Exactly one of Store, Choice and Quiet is set: a hook to store, a choice
// that somebody has to make first, or nothing to do.
type Booth struct {
	Frame
	Hooking
	Class     string // "8,200 lb Field Stock"
	ClassHref string
	Sentence  string // "Puller 9 of 14 · Round 1"
	Unit      string // "ft"
	Links     []Link // more of the event: how the day runs
	Words     []Term // what the field understands: "F": "full pull"

	Store *Form // sends FieldResult
	// Confirm is the sentence when the value is unlikely: "2873.4 ft is beyond the
	// track. Enter again stores it." The form then carries the confirmation among its
	// hidden fields.
	Confirm string

	Choice *Choice
	Quiet  *Quiet
	Crew   *Crew     // what the sled's crew said before the hook; nil for nothing
	Seen   []Seen    // what the steward of the line-up said of those who are next
	Flags  []Message // what the flagmen decided, and what was noted of the hook on the track
	Rehook *Form     // the re-hook that is offered about a hook that ended; sends what Again does
	Call   *Call     // until when to hook; nil where the rules give no time
	Advice []Message // what the rules advise the officials

	Acts   BoothActs
	Strip  *Strip
	Stored []Stored // the last few, newest first
	Again  *Remeasure
	Photos Photos // of readings
	Number string // number of the last journal line: "412"
	Alone  *Alone // what the browser works out while it cannot reach the server; nil on the server's own page
}

// Alone is what the booth needs of other pages while it cannot reach the server.
type Alone struct {
	Text  string   // "3 forms are kept here, not on the server."
	Rank  Standing // as the rules rank it with what is kept here
	Order []Puller // who has still to hook in the round, in order
}

// BoothActs are the rarer things that can happen to a hook, each its own form.
type BoothActs struct {
	FullPull      *Form // sends nothing of its own
	Start         *Form // sends nothing of its own
	Disqualified  *Form // sends FieldWhatWent, FieldReason, FieldAt
	SecondAttempt *Form // sends FieldAt where Throttle
	Again         *Form // sends FieldCause, FieldMove (MoveNow, MovePlaces), FieldPlaces, FieldReason
	Drop          *Form // sends FieldMove (MovePlaces, MoveLast), FieldPlaces, FieldReason
	Absent        *Form // sends FieldReason, which may be empty
	Correct       *Form // sends FieldHook, FieldResult, FieldReason
	Speeds        *Speeds

	Causes   []Option // what may go wrong, each with what the rules have for it in short
	Advice   []string // the same in sentences, where it is more or less than a disqualification
	Hooks    []Option // hooks that can be corrected, newest first
	Throttle bool     // the throttle decides about a second attempt
	Cooling  string   // how long the rules give to cool down
}

// None tells whether no act is to be had.
func (a BoothActs) None() bool {
	return a.FullPull == nil && a.Start == nil && a.Disqualified == nil && a.SecondAttempt == nil &&
		a.Again == nil && a.Drop == nil && a.Absent == nil && a.Correct == nil && a.Speeds == nil
}

// Choice is a decision that the rules give to somebody before the round goes on.
type Choice struct {
	Who     Puller
	Text    string // "Maud Farrow decides about the test hook: 281.36 ft."
	Until   string // "before unhooking"
	Silence string // "Saying nothing keeps the distance."
	Kept    string // that the distance is not told before the choice; "" where it is
	Options []ChoiceOption
}

// ChoiceOption is one way to choose, with a form that sends nothing of its own.
type ChoiceOption struct {
	Text   string // "Keeps 281.36"
	Detail string // "The round goes on with hook 2."
	Form   Form
}

// Stored is a result that the server has.
type Stored struct {
	Puller
	Outcome
	Hook string // "8"
}

// Remeasure is the form for another measurement of the hook that was stored last, while the sled has not moved; it sends
// FieldResult. A booth without one has nil.
type Remeasure struct {
	Form *Form
	Who  string // "30 Ida Brandt"
	Was  string // what is stored: "188.02 ft"
}

// verb is what the button of the field says.
func (p Booth) verb() string {
	if p.Confirm != "" {
		return "Store it all the same"
	}
	return "Store"
}

// resultAttributes tie the field to the words about it.
func (p Booth) resultAttributes() templ.Attributes {
	by := "preview result-words"
	if p.Confirm != "" {
		by = "result-confirm " + by
	}
	if p.Store.Error(FieldResult) == "" {
		return templ.Attributes{"aria-describedby": by}
	}
	return templ.Attributes{"aria-describedby": "result-wrong " + by, "aria-invalid": "true"}
}

// untilWords is the deadline of a choice as a sentence.
func (c Choice) untilWords() string {
	if c.Until == "" {
		return ""
	}
	return "To be said " + c.Until + "."
}

// actsTitle says when the rarer acts are wanted.
func (p Booth) actsTitle() string {
	if p.Store == nil {
		return "To put something right"
	}
	return "If it was not a plain distance"
}

// between stands between the vehicle and where the puller is from.
func (p Puller) between() string {
	switch {
	case p.Home == "":
		return ""
	case p.Vehicle == "":
		return "from "
	default:
		return ", from "
	}
}

// hookNumbers tells the two numbers of a round apart, which can meet on the radio.
const hookNumbers = "Hook numbers count every hook of the round, one that is made again too; “puller 9 of 14” counts who pulls, in the order."
