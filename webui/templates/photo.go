package templates

// Photos are the photos of readings of a class, for the staff.
type Photos struct {
	// Attach sends FieldReading and FieldPhoto, with the file; nil where no photo can be attached.
	Attach *Form
	Hooks  []Option // readings to which one can be attached, newest first
	Seen   []Photo  // newest first
}

// Photo is one that the server has.
type Photo struct {
	Href    string
	Reading string // "281.36 ft"
	Who     string // "41 Maud Farrow"
	Where   string // "hook 8, round 1"
	Time    string // "18:42"
}

// Empty tells whether there is nothing to show.
func (p Photos) Empty() bool { return p.Attach == nil && len(p.Seen) == 0 }
