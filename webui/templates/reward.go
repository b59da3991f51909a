package templates

// Points are the championship points that a class gave, in the order of the standing.
type Points struct {
	State string // "provisional", as the standing
	To    string // whose they are: "They stay with the vehicle."
	Rows  []PointsRow
}

// PointsRow is what one entry earned.
type PointsRow struct {
	Puller
	Place string // in the standing: "1", "2="
	Total string // "14"
	Parts string // "9 for the place, 5 for hooking"
	Why   string // "guest"; empty for the points of the place
}

// Purse is the money of a class on a sheet to pay by. It is the desk's.
type Purse struct {
	Frame
	Name  string
	Day   string // "Saturday 19 September"
	Where string // "Evening session · Track 1"
	State string // "provisional"
	Terms []Term // what there is, what is paid, what stays
	Rows  []PurseRow
	Print string
	Back  Link
}

// PurseRow is one entry on the sheet.
type PurseRow struct {
	Puller
	Place  string
	Fee    string // "20.00, paid", "20.00, not paid"; empty where there is none
	Amount string // "150.00"; empty for nothing
	Remark string // "guest", "not there"
}

// Of is what the entry with the number earned; "" for one that is not listed.
func (p Points) Of(number string) string {
	for _, r := range p.Rows {
		if r.Number == number {
			return r.Total
		}
	}
	return ""
}
