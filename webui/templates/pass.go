package templates

// Passes is the desk's list of who may act: the devices and programs that are in, and the links that let more in.
type Passes struct {
	Frame
	For    string     // the event; "" for every event of this server
	Issued *Issued    // the link just made: shown this once
	In     []PassLine // the newest first
	Open   []PassLine // links that nobody used yet
	Over   []PassLine // given back, taken away, too old
	Issue  *Form      // FieldRole
	Roles  []Option   // roles to make a link for
	Back   Link
}

// PassLine is one pass.
type PassLine struct {
	Who     string // "Booth"
	Device  string // "laptop by the tower"; "" where it has no name
	Program bool   // it is a program, and no browser
	Here    bool   // it is that of this very device
	Says    string // "In since 19 September 17:02. Lasts until 23 September 17:02."
	Revoke  *Form  // takes it away; nil for this device and for what is over
	Replace *Form  // makes a new link in its place; nil for this device
}

// Issued is an entry link that is shown once and never again.
type Issued struct {
	Role    string // "booth"
	Address string // the whole address
	Until   string // "today 23:00"
}

// untilWords is how long a link can be used, as a sentence.
func (i Issued) untilWords() string {
	if i.Until == "" {
		return ""
	}
	return "It works until " + i.Until + "."
}
