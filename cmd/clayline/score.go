package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"

	"clayline/domain"
	"clayline/domain/doc"
)

// scoreCommand ranks a class sheet. It needs no server, no database and no network, and keeps nothing.
type scoreCommand struct {
	Rules  string `default:"capped-300ft" help:"Ready-made rule set or a rule set file ending in .json." placeholder:"NAME|FILE.json"`
	Format string `enum:"text,json,csv" default:"text" help:"How to write the standing: text, json or csv."`
	Sheet  string `arg:"" help:"Class sheet: CSV with the columns round, entry, puller, vehicle, result, note; - reads standard input." placeholder:"SHEET.csv"`
}

// Help adds what a sheet looks like to the command's help.
func (scoreCommand) Help() string {
	return `One line a hook, in the order made. Columns in any order:
  round    1, 2, ... or P1, P2, ... for pull-offs
  entry    the number of the vehicle
  puller, vehicle, note   as you like
  result   a distance with its digits; FP; FP 312.44 (past the line and measured);
           DQ (reason in note); rehook (does not count, another may follow);
           absent; void (does not count)

Ready-made rule sets: ` + strings.Join(doc.ReadyMade(), ", ") + `

Exit status: 0 scored, 1 the sheet is wrong, 2 the call is wrong.`
}

// Run reads, ranks and writes. Nothing is written to standard output unless the whole sheet was understood:
// half a standing would be taken for one. Warnings do not change the exit status.
func (c scoreCommand) Run(s streams) error {
	rules, err := readRules(c.Rules)
	if err != nil {
		return &callError{err}
	}
	sheet, err := c.read(s.in, rules)
	if err != nil {
		return err
	}
	for _, warning := range sheet.Warnings {
		fmt.Fprintln(s.err, "clayline: warning:", warning)
	}
	scored := doc.Score(sheet)
	switch c.Format {
	case "json":
		return scored.WriteJSON(s.out)
	case "csv":
		return scored.WriteCSV(s.out)
	default:
		return scored.WriteText(s.out)
	}
}

// read reads the sheet from the file that was named, or from standard input for "-". That the file is not there is the
// call's fault, and what is in it the sheet's. The name goes into the words of a refusal, with the line: whoever typed
// the sheet looks it up there.
func (c scoreCommand) read(in io.Reader, rules domain.RuleSet) (doc.Sheet, error) {
	if c.Sheet == "-" {
		return doc.ReadSheet(in, "standard input", rules)
	}
	file, err := os.Open(c.Sheet)
	if err != nil {
		return doc.Sheet{}, &callError{openError("class sheet", c.Sheet, err)}
	}
	defer func() { _ = file.Close() }() // it was only read
	// A folder opens like a file and fails when it is read, with words that help nobody.
	if info, err := file.Stat(); err == nil && info.IsDir() {
		return doc.Sheet{}, &callError{fmt.Errorf("%s is a folder, not a class sheet; name a CSV file", c.Sheet)}
	}
	return doc.ReadSheet(file, c.Sheet, rules)
}

// readRules returns a ready-made rule set, or the one in a file when the name ends in .json. A field that is wrong in
// the file is named in the error. A name that is neither is refused with those there are.
func readRules(name string) (domain.RuleSet, error) {
	if !strings.HasSuffix(name, ".json") || slices.Contains(doc.ReadyMade(), name) {
		return doc.ReadyMadeRuleSet(name)
	}
	file, err := os.Open(name)
	if err != nil {
		return domain.RuleSet{}, openError("rule set", name, err)
	}
	defer func() { _ = file.Close() }() // it was only read
	rules, err := doc.ReadRuleSet(file)
	if refusal, ok := errors.AsType[*domain.Error](err); ok && refusal.Field != "" {
		err = fmt.Errorf("field %s: %w", refusal.Field, err)
	}
	if err != nil {
		return domain.RuleSet{}, fmt.Errorf("rule set %s: %w", name, err)
	}
	return rules, nil
}

// openError says in plain words why a file cannot be opened; what names the kind of file. The name is repeated, since a
// shell may have made another of what was typed.
func openError(what, name string, err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("there is no %s %s; check the name", what, name)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("the %s %s may not be read; check its permissions", what, name)
	default:
		return fmt.Errorf("the %s %s cannot be opened: %w", what, name, err)
	}
}
