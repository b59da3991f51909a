package templates

// Posters is the page of posters for the pits, each a sheet of its own when printed.
type Posters struct {
	Frame
	Here bool // the codes lead to this machine alone, because the page was opened by a name that only it knows
	List []Poster
}

// Poster is one sheet: a large title, and the code of an address to point a phone at.
type Poster struct {
	Event   string // what it is part of; empty for the event itself
	Title   string
	When    string // "Saturday 19 September"
	Where   string // "Evening session · Track 1"; empty for the event itself
	Text    string // what is found there
	Address string // in letters, for whoever has no reader of codes
	Code    string // SVG, drawn here and not by anybody else
}
