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
	Rules   string `default:"capped-300ft" help:"Ready-made rule set or a rule set file ending in .json." placeholder:"NAME|FILE.json"`
	Format  string `enum:"text,json,csv" default:"text" help:"How to write the standing: text, json or csv."`
	Entries string `help:"Entries file for points and purse: CSV with the columns entry, puller, vehicle, kind, fee, paid, present, late." placeholder:"ENTRIES.csv"`
	Ended   string `enum:"pulled,stopped,not-run" default:"pulled" help:"How the class ended, for points and purse: pulled, stopped or not-run."`
	Season  string `help:"Season file: adds the points of many sheets up; see docs/season.md." placeholder:"SEASON.json"`
	Sheet   string `arg:"" optional:"" help:"Class sheet: CSV with the columns round, entry, puller, vehicle, result, note; - reads standard input." placeholder:"SHEET.csv"`
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

Points and purse are shown where the rule set has them; see docs/rules.md. A class that was not run
has an entries file and no sheet. --season adds many classes up; see docs/season.md.

Ready-made rule sets: ` + strings.Join(doc.ReadyMade(), ", ") + `

Exit status: 0 scored, 1 the sheet is wrong, 2 the call is wrong.`
}

// Run reads, ranks and writes. Nothing is written to standard output unless the whole sheet was understood:
// half a standing would be taken for one. Warnings do not change the exit status.
func (c scoreCommand) Run(s streams) error {
	if c.Season != "" {
		return c.season(s)
	}
	rules, err := readRules(c.Rules)
	if err != nil {
		return &callError{err}
	}
	if err := c.understood(rules); err != nil {
		return err
	}
	sheet, err := c.read(s.in, rules)
	if err != nil {
		return err
	}
	for _, warning := range sheet.Warnings {
		fmt.Fprintln(s.err, "clayline: warning:", warning)
	}
	return writeAs(s.out, c.Format, doc.Score(sheet))
}

// understood refuses a call whose flags would change nothing, or that leaves out what is needed.
func (c scoreCommand) understood(rules domain.RuleSet) error {
	ending, err := doc.ParseEnding(c.Ended)
	switch {
	case err != nil:
		return err
	case (c.Entries != "" || ending != domain.Pulled) && !rules.Points.Given() && !rules.Purse.Given():
		return &callError{fmt.Errorf("the rule set %s has neither points nor purse; add them as docs/rules.md has it, or leave --entries and --ended out", rules.Name)}
	case ending == domain.NeverRun && (c.Sheet != "" || c.Entries == ""):
		return &callError{errors.New("a class that was not run has no sheet; give --entries alone")}
	case ending != domain.NeverRun && c.Sheet == "":
		return &callError{errors.New("no class sheet is named; give one, or - for standard input")}
	case c.Sheet == "-" && c.Entries == "-":
		return &callError{errors.New("standard input cannot be both the sheet and the entries file; name a file for one")}
	}
	return nil
}

// read reads the sheet and the entries file that were named.
func (c scoreCommand) read(in io.Reader, rules domain.RuleSet) (doc.Sheet, error) {
	sheet := doc.Sheet{Rules: rules}
	if c.Sheet != "" {
		err := readInput(in, "a class sheet", "a CSV file", c.Sheet, func(r io.Reader, name string) (err error) {
			sheet, err = doc.ReadSheet(r, name, rules)
			return err
		})
		if err != nil {
			return sheet, err
		}
	}
	ending, err := doc.ParseEnding(c.Ended)
	sheet.Ending = ending
	if err != nil || c.Entries == "" {
		return sheet, err
	}
	err = readInput(in, "an entries file", "a CSV file", c.Entries, func(r io.Reader, name string) (err error) {
		sheet, err = doc.ReadEntries(r, name, sheet)
		return err
	})
	return sheet, err
}

// readInput reads a file that was named, or standard input for "-"; what says what it is, with its article, and wanted what
// to name instead of a folder. That the file is not there is the call's fault, and what is in it the file's. The name goes
// into the words of a refusal, with the line: whoever typed the file looks it up there.
func readInput(in io.Reader, what, wanted, name string, read func(io.Reader, string) error) error {
	if name == "-" {
		return read(in, "standard input")
	}
	file, err := os.Open(name)
	if err != nil {
		_, kind, _ := strings.Cut(what, " ")
		return &callError{openError(kind, name, err)}
	}
	defer func() { _ = file.Close() }() // it was only read
	// A folder opens like a file and fails when it is read, with words that help nobody.
	if info, err := file.Stat(); err == nil && info.IsDir() {
		return &callError{fmt.Errorf("%s is a folder, not %s; name %s", name, what, wanted)}
	}
	return read(file, name)
}

// inFile puts the name of a file before what is wrong in it; nil for nil.
func inFile(name string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%s: %w", name, err)
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
