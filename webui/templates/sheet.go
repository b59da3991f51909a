package templates

// Sheet is a class sheet to print before the start and to fill in by hand.
type Sheet struct {
	Frame
	Name    string
	When    string // "Saturday 19 September · planned 18:20"
	Where   string // "Evening session · Track 1"
	Rules   string // the rules in a sentence
	Round   string // "Round 1"
	Unit    string // "ft"
	Speed   string // unit of the speed in a class with a limit: a column for it
	Second  bool   // the rules give a second attempt: a column for it
	Rows    []SheetRow
	Spare   int    // empty rows at the end for late entries
	Facts   []Term // as on the class page
	Setting []Term // setting lines; an empty Value leaves room to write
	Noted   string // what the mark at an entry means; empty where there is none
	Box     *Box   // what lies in the box; nil without slabs
	Drawn   string // "Drawn 14:05, seed tarn-hollow-17"
	Print   string // when and at which journal number this was printed
}

// SheetRow is one drawn entry on a sheet.
type SheetRow struct {
	Puller
	Position string
	Noted    bool // the sled's crew noted a difference on a hook that it made
}

// signatures are who signs a sheet that was filled in by hand.
func signatures() []string { return []string{"Sled operator", "Scorer", "Flagman"} }
