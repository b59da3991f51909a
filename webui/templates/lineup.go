package templates

// Names of the fields that the forms of the line-up send.
const (
	FieldWhere = "where" // here, missing or cooling
)

// Lineup is the page of the steward of the line-up: a phone, gloves, noise. One press says where a puller is; another one
// says otherwise. Nothing on it calls anybody or changes the order.
type Lineup struct {
	Frame
	Class    string
	Sentence string // "On the track: 27 Sam Whitlock"
	Count    string // "3 here · 1 missing · 9 not seen"
	Next     []LineRow
	After    []LineRow
	Cooling  string // what the rules give to cool down
	Tracks   []OtherTrack
	Quiet    *Quiet // set where nobody is to hook
	Links    []Link
}

// LineRow is one puller who is still to hook.
type LineRow struct {
	Seen
	Turn  string // "called", "next", "2 hooks later"
	Where string // the value of FieldWhere that stands; empty where nothing was said
	Says  *Form  // FieldWhere, on its buttons
}

// Seen is what was said of a puller in the line-up.
type Seen struct {
	Puller
	Words string // "missing since 18:41"; empty where nothing was said
}

// OtherTrack is who is next at another track.
type OtherTrack struct {
	Track string
	Class Link // its line-up
	Next  []Seen
}

// wheres are the buttons of a row, the most frequent first.
func (r LineRow) wheres() []Option {
	return []Option{{Value: "here", Text: "Here"}, {Value: "missing", Text: "Missing"}, {Value: "cooling", Text: "Cooling down"}}
}

// pressed says to who cannot see it which of the buttons stands.
func (r LineRow) pressed(o Option) string {
	if r.Where == o.Value {
		return "true"
	}
	return "false"
}
