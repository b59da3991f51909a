package doc

import (
	"fmt"
	"io"
	"strings"

	"clayline/domain"
)

// Attendance is one line of an entries file: who came, who paid and who is a member. It is what points and purse need
// and a class sheet does not say.
type Attendance struct {
	Number                     int // line of the file, from 1
	Entry, Puller, Vehicle     string
	Guest, Present, Paid, Late bool
	Fee                        domain.Money
}

// entryColumns are the columns that an entries file may have; the first it must have.
var entryColumns = []string{"entry", "puller", "vehicle", "kind", "fee", "paid", "present", "late"}

// The words of an entries file.
var (
	kindWords = map[string]bool{"member": false, "guest": true}
	yesWords  = map[string]bool{"yes": true, "no": false}
)

// ReadEntries reads an entries file, CSV like a class sheet, and returns the sheet with it. Every entry of the sheet must
// be in the file, because a forgotten line would cost somebody the points; entries that are in the file alone did not
// hook. An empty cell means a member who came in time and has paid, with a fee of 0. What cannot be understood, and
// what the sheet contradicts, is a [SheetError] with the place in the entries file.
//
//	entry,puller,kind,fee,paid,present
//	41,A. Example,member,20,yes,yes
//	7,B. Example,guest,20,,
//	5,F. Example,,20,no,no
func ReadEntries(r io.Reader, file string, sheet Sheet) (Sheet, error) {
	p := &entriesReader{cells: cells{file: file, what: "entries file", whole: "one class in a file", known: entryColumns, needed: 1},
		hooked: make(map[string]int), first: make(map[string]int)}
	for _, l := range sheet.Lines {
		if l.Result.Reached() {
			p.hooked[l.Entry] = l.Number
		}
	}
	if err := p.each(r, p.line); err != nil {
		return Sheet{}, err
	}
	return p.finish(sheet)
}

// entriesReader is the state of one reading.
type entriesReader struct {
	cells
	hooked map[string]int // the last line of the sheet on which an entry has a distance
	first  map[string]int // the line of each entry that was read
	list   []Attendance
}

// line reads one entry.
func (p *entriesReader) line(record []string) error {
	number, _ := p.csv.FieldPos(0)
	a := Attendance{Number: number, Entry: p.cell(record, "entry"), Puller: p.cell(record, "puller"), Vehicle: p.cell(record, "vehicle")}
	if a.Entry == "" {
		return p.fail("entry", "the entry is missing", "the number of the vehicle")
	}
	if before, twice := p.first[a.Entry]; twice {
		return p.fail("entry", fmt.Sprintf("entry %s stands twice, on lines %d and %d", a.Entry, before, number), "one line an entry")
	}
	p.first[a.Entry] = number
	for _, answer := range [...]struct {
		column, silence string
		words           map[string]bool
		to              *bool
	}{{"kind", "member", kindWords, &a.Guest}, {"paid", "yes", yesWords, &a.Paid}, {"present", "yes", yesWords, &a.Present}, {"late", "no", yesWords, &a.Late}} {
		value, err := wordOf(answer.column, strings.ToLower(p.cell(record, answer.column)), answer.silence, answer.words)
		if err != nil {
			return p.fail(answer.column, fmt.Sprintf("%q is not known", p.cell(record, answer.column)), either(answer.column == "kind", "member or guest", "yes or no"))
		}
		*answer.to = value
	}
	if fee := p.cell(record, "fee"); fee != "" {
		amount, err := domain.ParseMoney(fee)
		if err != nil {
			return p.fail("fee", fmt.Sprintf("%q is not an amount of money", fee), "figures such as 20 or 20.50")
		}
		a.Fee = amount
	}
	if line := p.hooked[a.Entry]; line > 0 && !a.Present {
		return p.fail("present", fmt.Sprintf("entry %s has a distance on line %d of the sheet and is said not to have come", a.Entry, line), "yes, or no distance")
	}
	p.list = append(p.list, a)
	return nil
}

// finish checks that nobody of the sheet was forgotten.
func (p *entriesReader) finish(sheet Sheet) (Sheet, error) {
	for _, l := range sheet.Lines {
		if _, listed := p.first[l.Entry]; !listed {
			return Sheet{}, &SheetError{File: p.file, Line: 1, Message: fmt.Sprintf("entry %s of line %d of the sheet is not in the entries file", l.Entry, l.Number),
				Expected: "a line for every entry of the sheet"}
		}
	}
	if len(p.list) == 0 {
		return Sheet{}, &SheetError{File: p.file, Line: 2, Message: "the entries file has no entries", Expected: "one line an entry below the header"}
	}
	sheet.Entries = p.list
	sheet.Warnings = append(sheet.Warnings, p.warnings...)
	return sheet, nil
}
