package templates

// Names of the fields that only the forms of the programme send.
const (
	FieldDescription = "description" // of a sled: the document
	FieldStarts      = "starts"      // of a session
	FieldBreaks      = "breaks"      // of a session, "19:30 20, 21:00 10"; may be empty
	FieldCurfew      = "curfew"      // of a session; may be empty
)

// Programme is the page on which the desk changes the sessions, tracks and sleds of an event.
type Programme struct {
	Frame
	Notice     string // a refusal whose form is not on the page
	Sessions   []ProgrammePart
	AddSession *Form // FieldName, FieldStarts, FieldCurfew, FieldBreaks
	Tracks     []ProgrammePart
	AddTrack   *Form // FieldName
	Sleds      []ProgrammePart
	AddSled    *Form // FieldDescription
}

// ProgrammePart is a session, a track or a sled with what can be done about it.
type ProgrammePart struct {
	ID     string
	Name   string
	Detail string   // "Saturday 18:00, 2 classes"
	Breaks []string // of a session: "Break at about 19:30, 20 min"
	// Change sends FieldName and, for a session, FieldStarts, FieldCurfew and FieldBreaks; for a sled FieldDescription.
	Change *Form
	Remove *Form  // sends nothing of its own; nil where it stays
	Log    string // address of a sled's log; empty for a session or a track
}
