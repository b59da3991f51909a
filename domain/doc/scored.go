package doc

import (
	"cmp"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"clayline/domain"
)

// Scored is a ranked sheet: the document that `clayline score --format json` prints. Figures are strings, in
// the unit that Unit names: a number of JSON would lose the digits. The rounds are those that occur, in the
// order pulled, and head the columns of the other formats.
type Scored struct {
	Rules    string   `json:"rules"`
	Unit     string   `json:"unit"`
	Standing []Placed `json:"standing"`
	// Purse is the money of the class; nil where the rules pay none.
	Purse  *PurseOf `json:"purse,omitempty"`
	rounds []domain.RoundName
}

// Placed is one entry of a scored standing, best first. Place is null for an entry that has no place: 0 would
// sort first. The winner of the sheet in the package comment is
//
//	{"place": 1, "shared": false, "entry": "7", "puller": "E. Tarrant", "total": "300",
//	 "rounds": [{"round": "1", "result": "FP"}, {"round": "P1", "result": "312.44"}]}
type Placed struct {
	Place   *int          `json:"place"`
	Shared  bool          `json:"shared"`
	Entry   string        `json:"entry"`
	Puller  string        `json:"puller,omitempty"`
	Vehicle string        `json:"vehicle,omitempty"`
	Total   string        `json:"total,omitempty"`
	Rounds  []RoundResult `json:"rounds"`
	Note    string        `json:"note,omitempty"`
	// Points and Purse are left out where the rules have none.
	Points *PointsOf `json:"points,omitempty"`
	Purse  string    `json:"purse,omitempty"`
}

// RoundResult is what counts for an entry in a round, written as on a class sheet, or the last of what does not
// count.
type RoundResult struct {
	Round  string `json:"round"`
	Result string `json:"result"`
	Note   string `json:"note,omitempty"`
}

// Score ranks a sheet. Everybody on it is listed once, with or without a place. A sheet is taken as a class
// that is done, so that a full puller without a line in the pull-off did not come to it. Nothing on the sheet
// decides but entry, round and result, the reason of a disqualification, which may stand in the note, and the vehicle where
// the rules give it one place.
func Score(s Sheet) Scored {
	firstPullOff := domain.RoundName{PullOff: true, Number: 1}
	entries, rounds, lines := s.entries(), s.rounds(), s.index()
	table := s.table()
	scored := Scored{Rules: s.Rules.Name, Unit: s.Rules.Unit().String(), rounds: rounds}
	standing := domain.Rank(table)
	scored.Purse = s.reward(table, standing, entries)
	for _, p := range standing {
		placed := entries[p.Row]
		placed.rank(p)
		if final := lines[hooked{placed.Entry, firstPullOff}]; p.Withdrawn && final.Result.Outcome == domain.Disqualified {
			placed.Note = "no place: disqualified in the pull-off"
		}
		for _, round := range rounds {
			if l := lines[hooked{placed.Entry, round}]; !l.Result.IsZero() {
				placed.Rounds = append(placed.Rounds, RoundResult{Round: round.String(), Result: l.Result.String(), Note: l.said()})
			}
		}
		scored.Standing = append(scored.Standing, placed)
	}
	return scored
}

// table returns the sheet as the ranking sees it, with the rows in the order of [Sheet.entries]. A reason that stands in
// the note alone is a reason all the same.
func (s Sheet) table() domain.Table {
	lines := s.index()
	table := domain.Table{Rules: s.Rules, Rounds: s.rounds(), Complete: true}
	for _, e := range s.entries() {
		row := domain.Row{Number: e.Entry}
		if s.Rules.Entries.VehicleTwice == domain.PlacesOnce {
			row.Vehicle = strings.ToLower(e.Vehicle)
		}
		for _, round := range table.Rounds {
			l := lines[hooked{e.Entry, round}]
			l.Result.Reason = cmp.Or(l.Result.Reason, l.Note)
			row.Results = append(row.Results, l.Result)
		}
		table.Rows = append(table.Rows, row)
	}
	return table
}

// rank takes over what the ranking says of an entry, and says why a finalist or a second entry of a vehicle has no place.
func (p *Placed) rank(placing domain.Placing) {
	p.Shared, p.Total = placing.Shared, placing.Total.Figures()
	if placing.Place > 0 {
		p.Place = &placing.Place
	}
	switch {
	case placing.Withdrawn:
		p.Note = "withdrawn: did not hook in the pull-off"
	case placing.Again:
		p.Note = "no place: its vehicle is placed already"
	}
}

// judged returns the line as the rules see it with the reason of a disqualification in the note: with a figure and a cause
// that they measure it is a distance, and the cause may make it the last place. A reason behind DQ comes before the note.
func (l Line) judged(rules domain.RuleSet) Line {
	if l.Result.Outcome != domain.Disqualified || l.Result.Reason != "" {
		return l
	}
	result := l.Result
	result.Reason = l.Note
	// What was settled when the sheet was read is not refused now: the reason alone is new.
	if settled, err := rules.Settle(l.Round, result); err == nil {
		l.Result = settled
	}
	return l
}

// said is what the line says beside the result: the reason and the note, once where they are the same.
func (l Line) said() string {
	if l.Result.Reason == l.Note {
		return l.Note
	}
	return strings.TrimSpace(l.Result.Reason + " " + l.Note)
}

// hooked names an entry in a round. Entries are told apart by their text as written; see sameNames for what is
// warned of.
type hooked struct {
	entry string
	round domain.RoundName
}

// index maps every entry and round to the line that counts, else to the last one. ReadSheet has refused two
// that count.
func (s Sheet) index() map[hooked]Line {
	index := make(map[hooked]Line, len(s.Lines))
	for _, l := range s.Lines {
		key := hooked{l.Entry, l.Round}
		if !index[key].Result.Counts() {
			index[key] = l.judged(s.Rules)
		}
	}
	return index
}

// entries lists the entries in the order of their first line, with the first names that their lines give: they
// need stand on one line alone. Those that are in the entries file alone come last.
func (s Sheet) entries() []Placed {
	var entries []Placed
	at := make(map[string]int)
	add := func(entry, puller, vehicle string) {
		i, seen := at[entry]
		if !seen {
			i, at[entry] = len(entries), len(entries)
			entries = append(entries, Placed{Entry: entry, Rounds: []RoundResult{}})
		}
		entries[i].Puller = cmp.Or(entries[i].Puller, puller)
		entries[i].Vehicle = cmp.Or(entries[i].Vehicle, vehicle)
	}
	for _, l := range s.Lines {
		add(l.Entry, l.Puller, l.Vehicle)
	}
	for _, a := range s.Entries {
		add(a.Entry, a.Puller, a.Vehicle)
	}
	return entries
}

// rounds lists the rounds that occur, in the order in which they are pulled, whatever the order of the lines.
func (s Sheet) rounds() []domain.RoundName {
	var rounds []domain.RoundName
	for _, l := range s.Lines {
		if !slices.Contains(rounds, l.Round) {
			rounds = append(rounds, l.Round)
		}
	}
	slices.SortFunc(rounds, domain.RoundName.Compare)
	return rounds
}

// WriteJSON writes the standing as one JSON document, indented, with names as they were written and not as
// HTML.
func (s Scored) WriteJSON(w io.Writer) error { return writeJSON(w, s) }

// writeJSON writes a document as it is printed.
func writeJSON(w io.Writer, document any) error {
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	return encoder.Encode(document)
}

// WriteCSV writes the standing as CSV (RFC 4180): place, shared, entry, puller, vehicle, total, one column for
// each round, note. The place is empty for an entry that has none. Shared is a column of its own, so that the
// places can be sorted as numbers. Points and purse have columns before the note where the rules have them.
//
//	place,shared,entry,puller,vehicle,total,1,P1,note
//	1,false,7,E. Tarrant,,300,FP,312.44,
func (s Scored) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	header := []string{"place", "shared", "entry", "puller", "vehicle", "total"}
	for _, r := range s.rounds {
		header = append(header, r.String())
	}
	records := [][]string{append(append(header, s.rewardHeader()...), "note")}
	for _, p := range s.Standing {
		record := []string{place(p, ""), strconv.FormatBool(p.Shared), plain(p.Entry), plain(p.Puller), plain(p.Vehicle), p.Total}
		for _, r := range s.rounds {
			record = append(record, p.in(r).Result)
		}
		records = append(records, append(append(record, s.rewardCells(p)...), plain(p.notes(s.rounds))))
	}
	if err := out.WriteAll(records); err != nil {
		return fmt.Errorf("writing the standing: %w", err)
	}
	return nil
}

// WriteText writes the standing as an aligned table for a terminal. It is for reading: its columns may change.
//
//	place  entry  puller      vehicle  round 1  pull-off 1  note
//	1      7      E. Tarrant           FP       312.44
func (s Scored) WriteText(w io.Writer) error {
	header := "place\tentry\tpuller\tvehicle\t"
	for _, r := range s.rounds {
		header += roundTitle(r) + "\t"
	}
	header += s.rewardTitles()
	lines := []string{header + "note"}
	for _, p := range s.Standing {
		cells := []string{place(p, "-"), p.Entry, p.Puller, p.Vehicle}
		for _, r := range s.rounds {
			cells = append(cells, p.in(r).Result)
		}
		cells = append(cells, s.rewardTexts(p)...)
		lines = append(lines, strings.Join(append(cells, p.notes(s.rounds)), "\t"))
	}
	return writeTable(w, lines)
}

// writeTable writes lines of cells that are parted by tabs, aligned.
func writeTable(w io.Writer, lines []string) error {
	out := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, line := range lines {
		if _, err := fmt.Fprintln(out, line); err != nil {
			return err
		}
	}
	return out.Flush()
}

// roundTitle heads a column: "round 1", "pull-off 1".
func roundTitle(r domain.RoundName) string {
	if r.PullOff {
		return "pull-off " + strconv.Itoa(r.Number)
	}
	return "round " + strconv.Itoa(r.Number)
}

// place writes "3", or "3 =" when it is shared; none is what stands for no place. In CSV, where none is "", a
// shared place is the figure alone.
func place(p Placed, none string) string {
	switch {
	case p.Place == nil:
		return none
	case p.Shared && none != "":
		return strconv.Itoa(*p.Place) + " ="
	default:
		return strconv.Itoa(*p.Place)
	}
}

// in returns what the entry has in a round, the zero RoundResult where it has no line.
func (p Placed) in(round domain.RoundName) RoundResult {
	for _, r := range p.Rounds {
		if r.Round == round.String() {
			return r
		}
	}
	return RoundResult{}
}

// notes joins the notes of an entry, each said once.
func (p Placed) notes(rounds []domain.RoundName) string {
	var notes []string
	said := append([]string{p.Note}, p.roundNotes(rounds)...)
	if p.Points != nil {
		said = append(said, p.Points.Why)
	}
	for _, note := range said {
		if note != "" && !slices.Contains(notes, note) {
			notes = append(notes, note)
		}
	}
	return strings.Join(notes, "; ")
}

// roundNotes returns the notes of the entry's rounds in the given order, empty ones included.
func (p Placed) roundNotes(rounds []domain.RoundName) []string {
	var notes []string
	for _, r := range rounds {
		notes = append(notes, p.in(r).Note)
	}
	return notes
}

// plain keeps a spreadsheet from reading a typed text as a formula, by an apostrophe in front of a sign that
// begins one. Only what people typed goes through it; figures and words of ours begin with none of them.
func plain(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}
