package templates

// Names of the fields that the forms about a result send.
const (
	FieldAbout   = "about"   // protest: what it is about
	FieldAgainst = "against" // protest: id of an entry or of a hook
	FieldBy      = "by"      // protest: who lodges it
	FieldFee     = "fee"     // protest: not empty when the fee was taken
	FieldFollows = "follows" // ruling: what an upheld protest asks for
	FieldRuling  = "ruling"  // what was decided about a protest
)

// Revision is a result that was signed and opened again, and what the next one changed.
type Revision struct {
	Text    string // "Revision 1 was signed 20:14 by Ada Flagg and opened again 20:20: the tape was misread."
	Changes []PlaceChange
}

// PlaceChange is one entry whose place or figure differs in the next revision.
type PlaceChange struct {
	Puller
	Was string // "2 · 281.36"
	Is  string // "1 · 291.36"
}

// Protest is a protest against the result of an entry. Who lodged it is not on public pages.
type Protest struct {
	Puller         // whose result it is about
	About   string // "over the side line"
	Hook    string // "hook 2, round 1"; "" where it is about no single hook
	State   string // "undecided", "upheld"
	Lodged  string // when, and whether late
	Why     string // why it was decided so
	Follows string // "disqualification to be made"
}

// Matter is what a protest is about, with the hook: "over the side line (hook 2, round 1)".
func (p Protest) Matter() string {
	if p.Hook == "" {
		return p.About
	}
	return p.About + " (" + p.Hook + ")"
}

// Remarks are when it was lodged, why it was decided so and what follows, in one line.
func (p Protest) Remarks() string { return join("; ", p.Lodged, p.Why, p.Follows) }

// DeskProtest is a protest on the desk, with the form that writes down what was decided.
type DeskProtest struct {
	Protest
	ID   string // keeps the ids of its fields apart
	By   string // who lodged it
	Rule *Form  // FieldRuling, FieldFollows, FieldReason; nil once decided
}

// DeskCorrection is a correction that an upheld protest asks for, filled in as far as the protest says.
type DeskCorrection struct {
	Text  string // "The protest against 7 was upheld: seen on video."
	ID    string
	Form  *Form // FieldHook, FieldResult, FieldReason
	Hooks []Option
}

// DeskOfficial is what the desk does about a result: protests, the signature, and opening it again.
type DeskOfficial struct {
	State       string // "provisional; protests until 19:42"
	Window      string // "Protests are taken until 19:42; the result can be signed from then on."
	Sign        *Form  // FieldName; nil while the class is not decided, and once it is official
	Reopen      *Form  // FieldReason; nil while the result is provisional
	Protests    []DeskProtest
	Corrections []DeskCorrection
	Lodge       *Form    // FieldAgainst, FieldAbout, FieldFee, FieldBy; nil where the rules take no protest
	Against     []Option // entries and hooks that can be protested
	Terms       []Term   // what the rules say: fee, until when, who decides
	Revisions   []Revision
}

// Forms lists the forms, nil for those that are not there.
func (o DeskOfficial) Forms() []*Form {
	forms := []*Form{o.Sign, o.Reopen, o.Lodge}
	for _, p := range o.Protests {
		forms = append(forms, p.Rule)
	}
	for _, c := range o.Corrections {
		forms = append(forms, c.Form)
	}
	return forms
}

// empty tells whether there is nothing to do about the result yet.
func (o DeskOfficial) empty() bool {
	return o.Sign == nil && o.Reopen == nil && o.Lodge == nil && len(o.Protests) == 0 && len(o.Revisions) == 0
}

// rulings are what can be decided about a protest.
func rulings() []Option {
	return []Option{
		{Value: "upheld", Text: "Upheld: it is right"},
		{Value: "turned_down", Text: "Turned down: the result stands"},
		{Value: "withdrawn", Text: "Withdrawn by whoever lodged it"},
	}
}

// consequences are what may follow from an upheld protest.
func consequences() []Option {
	return []Option{
		{Value: "nothing", Text: "Nothing"},
		{Value: "correction", Text: "A result is to be corrected"},
		{Value: "disqualification", Text: "A disqualification"},
	}
}

// fees are the answers to whether the fee was taken.
func fees() []Option { return []Option{{Value: "", Text: "No"}, {Value: "taken", Text: "Yes"}} }
