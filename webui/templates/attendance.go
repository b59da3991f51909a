package templates

// Names of the fields of [Attendance], each followed by a hyphen and the row's number: "came-3". They
// are ticked; [FieldFee] of each row is typed.
const (
	FieldGuest = "guest"
	FieldCame  = "came"
	FieldPaid  = "paid"
)

// Attendance is who came, who is a guest and who has paid, a line an entry, sent all at once.
type Attendance struct {
	Form *Form // nil while the result is official
	Rows []AttendanceRow
	// Says is what points and money make of it under the rules of the class: "Points and money of this class go by it."
	Says string
	// Count is how many came: "12 of 14 came".
	Count string
}

// AttendanceRow is one entry of an [Attendance]. Key is its number in the names of the fields.
type AttendanceRow struct {
	Puller
	Key    string
	Hooked bool // there is nothing to tick: it came
}

// field is the name of a field in the row.
func (r AttendanceRow) field(name string) string { return name + "-" + r.Key }

// ticked tells whether a box of the row is ticked.
func (a Attendance) ticked(r AttendanceRow, name string) bool {
	return a.Form.Value(r.field(name)) != ""
}

// fee is the field for what the entry costs.
func (a Attendance) fee(r AttendanceRow) control {
	return control{form: *a.Form, prefix: "attend", name: r.field(FieldFee), label: "Fee", size: "short", mode: "decimal"}
}
