package templates

// Names of the fields that only the forms of the programme send.
const (
	FieldDescription = "description" // of a sled: the document
	FieldStarts      = "starts"      // of a session
	FieldCurfew      = "curfew"      // of a session; may be empty
)

// Programme is the page on which the desk changes the sessions, tracks and sleds of an event.
type Programme struct {
	Frame
	Notice     string // a refusal whose form is not on the page
	Sessions   []ProgrammePart
	AddSession *Form // FieldName, FieldStarts, FieldCurfew
	Tracks     []ProgrammePart
	AddTrack   *Form // FieldName
	Sleds      []ProgrammePart
	AddSled    *Form // FieldDescription
}

// ProgrammePart is a session, a track or a sled with what can be done about it.
type ProgrammePart struct {
	ID     string
	Name   string
	Detail string // "Saturday 18:00, 2 classes"
	// Change sends FieldName and, for a session, FieldStarts and FieldCurfew; for a sled FieldDescription.
	Change *Form
	Remove *Form  // sends nothing of its own; nil where it stays
	Log    string // address of a sled's log; empty for a session or a track
}
