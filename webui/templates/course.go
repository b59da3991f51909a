package templates

// Names of the fields that the forms about the rules of a class send.
const (
	FieldAt       = "at"       // disqualification: where it happened; second attempt: where the sled stopped
	FieldKind     = "kind"     // class: kind of vehicle
	FieldLine     = "line"     // the full-pull line
	FieldSame     = "same"     // entry: id of the entry whose vehicle it is
	FieldTest     = "test"     // id of the entry that makes the test hook
	FieldWhatWent = "wrong_by" // disqualification: what went wrong, a word of the rules
)

// Course is what the rules leave to the officials while a class is pulled: who makes the test hook, where the line
// lies, and whether the class goes on. A form that is nil is not to be had now.
type Course struct {
	Test    *Form // FieldTest
	Pullers []Option

	Line  *Form // FieldLine, FieldReason
	Lines []Option
	// LineNow says where the line lies and until when it can be moved.
	LineNow string

	Stop *Form // FieldReason
	// Effect is what stands when the class is stopped, from the rules.
	Effect string
	Resume *Form // FieldReason
	// Stopped says since when and why it is stopped.
	Stopped string
}

// Call is until when the puller who was called has to hook, and what the rules have then.
type Call struct {
	Text   string // "To hook until 18:04, 3 minutes from the call."
	Advice string // "Under these rules a puller who is not ready is disqualified. The officials decide."
}

// none tells whether there is nothing to do.
func (c Course) none() bool {
	return c.Test == nil && c.Line == nil && c.Stop == nil && c.Resume == nil
}
