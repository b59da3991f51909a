package templates

// SledList is what a sled's crew looks at, on paper: before the event, and before each hook. It is filled in by hand.
type SledList struct {
	Frame
	Name       string // of the sled
	Event      string // "Tarn Hollow Harvest Pull"
	When       string // "19 – 20 September 2026"
	Where      string // place of the event; "" where none is written
	Inspection []string
	Ready      []string
	Columns    int // how many hooks there is room for
	Back       Link
}

// signedBy are the lines under an inspection, to write on.
func signedBy() []string { return []string{"Date and time", "Name of who looked", "Signature"} }
