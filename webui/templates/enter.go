package templates

// Enter is where a one-time entry link lands. Looking at it uses nothing up:
// the link is burnt by the button, so that a preview in a chat cannot do it.
type Enter struct {
	Frame
	Role  string // "booth", with no article
	Does  string // what the role may do: "Stores results and corrections."
	Until string // "today 23:00"
	Form  *Form  // FieldDevice; nil if the link is no good
	Wrong string // why: "This link was used at 17:40. A link enters one device." Set when Form is nil
	Do    string // "Ask the desk for a new one."
}

// untilWords is how long the pass lasts, as a sentence.
func (p Enter) untilWords() string {
	if p.Until == "" {
		return ""
	}
	return "The pass lasts until " + p.Until + "."
}
