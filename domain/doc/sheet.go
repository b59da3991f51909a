package doc

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"clayline/domain"
)

// Sheet is a class pulled on paper: one line a hook, in the order made. That order decides nothing; it tells
// who reads the sheet what happened.
type Sheet struct {
	Rules domain.RuleSet
	Lines []Line
	// Entries says who came and who is a member, from an entries file; nil when there is none, and everybody on the
	// sheet is taken for a member who came.
	Entries []Attendance
	// Ending says whether the class was pulled to its end; points and purse depend on it.
	Ending domain.Ending
	// Warnings are sentences about what was read but deserves a look; they change nothing.
	Warnings []string
}

// Line is one hook of a sheet. Puller and Vehicle may stand on one of an entry's lines alone.
type Line struct {
	Number int // line of the file, from 1
	Round  domain.RoundName
	Entry  string
	Puller string
	// Vehicle is the name of the vehicle.
	Vehicle string
	Result  domain.Result // as the rules see it
	Note    string
}

// SheetError says what on which line of a sheet cannot be understood, and what was expected. It is a type of
// its own beside domain.Error, because a person with a file needs the place in it:
//
//	class.csv:7:6: column result: "28t.34" is not a result; expected a distance such as 281.36, FP, …
type SheetError struct {
	File     string
	Line     int    // from 1
	Column   int    // byte of the line, from 1; 0 when the whole line is meant
	Field    string // name of the column, "" when the whole line is meant
	Message  string
	Expected string
}

// Error writes the place in the usual form file:line:column, then what is wrong and what was expected. Editors
// find the place from it.
func (e *SheetError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s:%d:%d: ", e.File, e.Line, max(e.Column, 1))
	if e.Field != "" {
		fmt.Fprintf(&b, "column %s: ", e.Field)
	}
	b.WriteString(e.Message)
	if e.Expected != "" {
		b.WriteString("; expected " + e.Expected)
	}
	return b.String()
}

// sheetColumns are the columns that a sheet may have; the first three it must have.
var sheetColumns = []string{"round", "entry", "result", "puller", "vehicle", "note"}

// neededColumns is how many of them, from the first, a sheet must have: in which round, who, with what result.
const neededColumns = 3

// ReadSheet reads a class sheet: CSV with a header line, columns in any order, separated by commas (or by
// semicolons when the header has no comma, as spreadsheets write where the comma is the decimal sign). A line
// that cannot be understood is a [SheetError]; file names the sheet in it and is not opened. Reading stops at
// the first of them.
//
// Where semicolons separate, a result may have a decimal comma, 281,36. Texts that cannot be seen are refused; see
// [domain.Shown].
//
// Results are settled under the rules, so that "312.44" in a capped round is the full pull it is.
func ReadSheet(r io.Reader, file string, rules domain.RuleSet) (Sheet, error) {
	p := &sheetReader{cells: cells{file: file, what: "sheet", whole: "one class on a sheet", known: sheetColumns, needed: neededColumns},
		sheet: Sheet{Rules: rules}}
	if err := p.each(r, p.line); err != nil {
		return Sheet{}, err
	}
	return p.finish()
}

// sheetReader is the state of one reading.
type sheetReader struct {
	cells
	results []cellPlace // where the result of each line of the sheet stands
	sheet   Sheet
}

// cellPlace is where a cell begins: the line of the file and the byte of the line, from 1.
type cellPlace struct{ line, column int }

// line reads one hook. A class round that the rules do not have is refused; pull-offs are not counted, since nobody
// knows before how many it takes.
func (p *sheetReader) line(record []string) error {
	number, _ := p.csv.FieldPos(0)
	l := Line{Number: number, Entry: p.cell(record, "entry"), Puller: p.cell(record, "puller"),
		Vehicle: p.cell(record, "vehicle"), Note: p.cell(record, "note")}
	if l.Entry == "" {
		return p.fail("entry", "the entry is missing", "the number of the vehicle")
	}
	round, err := domain.ParseRoundName(p.cell(record, "round"))
	if err != nil {
		return p.fail("round", fmt.Sprintf("%q is not a round", p.cell(record, "round")), "1, 2, … for class rounds or P1, P2, … for pull-offs")
	}
	if !round.PullOff && round.Number > p.sheet.Rules.Rounds {
		return p.fail("round", fmt.Sprintf("the rule set %s has %s", p.sheet.Rules.Name, classRounds(p.sheet.Rules.Rounds)),
			fmt.Sprintf("1 to %d, or P1, P2, … for pull-offs", p.sheet.Rules.Rounds))
	}
	l.Round = round
	if l.Result, err = p.result(record, round); err != nil {
		return err
	}
	if l.Result.Outcome == domain.Disqualified && l.Note == "" && l.Result.Reason == "" {
		p.warn("line %d: the disqualification of %s has no reason in note", number, l.Entry)
	}
	at, column := p.csv.FieldPos(p.columns["result"])
	p.sheet.Lines, p.results = append(p.sheet.Lines, l), append(p.results, cellPlace{at, column})
	return nil
}

// result reads the result cell and settles it under the rules, telling both kinds of refusal at the cell.
func (p *sheetReader) result(record []string, round domain.RoundName) (domain.Result, error) {
	cell := p.cell(record, "result")
	if p.csv.Comma == ';' {
		cell = decimalPoint(cell)
	}
	const expected = "a distance such as 281.36, FP, FP 312.44, DQ, rehook, absent or void"
	result, err := domain.ParseResult(cell, p.sheet.Rules.Unit())
	if err != nil {
		message := fmt.Sprintf("%q is not a result", cell)
		if cell == "" {
			message = "the result is missing"
		}
		return result, p.fail("result", message, expected)
	}
	settled, err := p.sheet.Rules.Settle(round, result)
	if err == nil {
		return settled, nil
	}
	if round.PullOff && p.sheet.Rules.Capped && result.Outcome == domain.FullPull && result.Distance.IsZero() {
		return result, nil // whether it can be ranked depends on the other finalists: see finish
	}
	refusal, ok := errors.AsType[*domain.Error](err)
	if !ok {
		return result, err
	}
	message := refusal.Message
	if !strings.HasPrefix(message, cell) {
		message = cell + ": " + message
	}
	return result, p.fail("result", message, "otherwise: "+refusal.Fix)
}

// decimalPoint writes a decimal comma as a point: one comma between figures, where there is no point. Where semicolons
// part the cells, the comma is the decimal sign (a spreadsheet writes both by the same setting), and never one of
// thousands.
//
//	281,36          281.36
//	FP 312,4        FP 312.4
//	287' 4,5"       287' 4.5"
//	1.234,5         stays, and is refused
func decimalPoint(cell string) string {
	before, after, _ := strings.Cut(cell, ",")
	figure := func(s string, i int) bool { return i >= 0 && i < len(s) && s[i] >= '0' && s[i] <= '9' }
	if strings.ContainsAny(before, ".") || strings.ContainsAny(after, ".,") || !figure(before, len(before)-1) || !figure(after, 0) {
		return cell
	}
	return before + "." + after
}

// finish checks what only the whole sheet shows, in the order of weight: that there is a hook, that no entry
// has two results in a round, that full pulls can be told apart, and last what is merely odd.
func (p *sheetReader) finish() (Sheet, error) {
	if len(p.sheet.Lines) == 0 {
		return Sheet{}, &SheetError{File: p.file, Line: 2, Message: "the sheet has no hooks", Expected: "one line a hook below the header"}
	}
	for _, check := range []func() error{p.countedOnce, p.bareFullPulls} {
		if err := check(); err != nil {
			return Sheet{}, err
		}
	}
	p.strangers()
	p.sameNames()
	p.sheet.Warnings = p.warnings
	return p.sheet, nil
}

// countedOnce refuses two counting lines of one entry in one round. Which of them counts is not on the sheet:
// the better (FR-TP), the second (FLANT 6) or the first, as the book of the day says; see package domain for
// the keys.
func (p *sheetReader) countedOnce() error {
	first := make(map[hooked]int)
	for i, l := range p.sheet.Lines {
		k := hooked{l.Entry, l.Round}
		if !l.Result.Counts() {
			continue
		}
		if before, twice := first[k]; twice {
			return &SheetError{File: p.file, Line: p.results[i].line, Column: p.results[i].column, Field: "result",
				Message:  fmt.Sprintf("entry %s has two counting results in round %s, on lines %d and %d", l.Entry, l.Round, before, l.Number),
				Expected: "rehook or void on the line that does not count"}
		}
		first[k] = l.Number
	}
	return nil
}

// bareFullPulls refuses a full pull without a figure in a pull-off that is measured past the line, next to
// another that went past it: which of them went further is not on the sheet. Alone it counts as the line
// itself, with a warning, because beside finalists who all stopped short the order is clear.
func (p *sheetReader) bareFullPulls() error {
	rules := p.sheet.Rules
	if rules.PullOff.Capped {
		return nil
	}
	past := make(map[domain.RoundName]Line)
	for _, l := range p.sheet.Lines {
		if d := l.Result.Distance; l.Result.Reached() && !d.IsZero() && d.Compare(rules.Line) >= 0 {
			past[l.Round] = l
		}
	}
	for i, l := range p.sheet.Lines {
		if l.Result.Outcome != domain.FullPull || !l.Result.Distance.IsZero() || !l.Round.PullOff {
			continue
		}
		if other, found := past[l.Round]; found {
			return &SheetError{File: p.file, Line: p.results[i].line, Column: p.results[i].column, Field: "result",
				Message:  fmt.Sprintf("FP without a figure cannot be ranked against %s on line %d", other.Result, other.Number),
				Expected: "FP with its figure, such as FP 312.44, because pull-offs are measured past the line"}
		}
		p.warn("line %d: FP without a figure in a pull-off counts as the line, %s", l.Number, rules.Line)
	}
	return nil
}

// strangers warns of results in the first pull-off that somebody has whom the rules did not bring back for it. Either
// the round or a number is mistyped, or it was pulled by other rules. What follows that pull-off is built upon it, and is not
// looked at.
func (p *sheetReader) strangers() {
	whole, rows := p.sheet.table(), make(map[string]int)
	for i, e := range p.sheet.entries() {
		rows[e.Entry] = i
	}
	for n, round := range whole.Rounds {
		if !round.PullOff {
			continue
		}
		before := domain.Table{Rules: whole.Rules, Rounds: whole.Rounds[:n], Complete: true}
		for _, row := range whole.Rows {
			row.Results = row.Results[:n]
			before.Rows = append(before.Rows, row)
		}
		back, found := before.Back(), false
		for _, l := range p.sheet.Lines {
			if l.Round == round && l.Result.Counts() && (len(back) < 2 || !slices.Contains(back, rows[l.Entry])) {
				p.warn("line %d: the rule set %s does not bring %s back for %s; look whether the entry and its rounds are right", l.Number, whole.Rules.Name, l.Entry, round)
				found = true
			}
		}
		if found {
			return
		}
	}
}

// sameNames warns where one entry bears two names, or two entries differ in case alone: a number may be mistyped. Text
// that is not UTF-8 is ranked all the same, since only names can be hurt.
func (p *sheetReader) sameNames() {
	first, folded := make(map[string]Line), make(map[string]string)
	for _, l := range p.sheet.Lines {
		if fold := strings.ToLower(l.Entry); folded[fold] == "" {
			folded[fold] = l.Entry
		} else if folded[fold] != l.Entry {
			p.warn("entries %s and %s are two, and differ in case alone; see line %d", folded[fold], l.Entry, l.Number)
		}
		if !utf8.ValidString(l.Entry + l.Puller + l.Vehicle + l.Note) {
			p.warn("line %d is not written in UTF-8; save the sheet as UTF-8 to keep its names", l.Number)
		}
		before, seen := first[l.Entry]
		switch {
		case !seen || before.Puller == "":
			first[l.Entry] = l
		case l.Puller != "" && !strings.EqualFold(l.Puller, before.Puller):
			p.warn("entry %s is %s on line %d and %s on line %d", l.Entry, before.Puller, before.Number, l.Puller, l.Number)
		}
	}
}

// classRounds counts class rounds in words.
func classRounds(n int) string {
	if n == 1 {
		return "one class round"
	}
	return fmt.Sprintf("%d class rounds", n)
}
