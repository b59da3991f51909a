package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"text/tabwriter"

	"clayline/domain"
	"clayline/domain/doc"
)

// rulesCommand is about rule sets alone: no class, no server, no database. Each field is a command with its Run.
type rulesCommand struct {
	List   rulesListCommand   `cmd:"" help:"List the ready-made rule sets."`
	Show   rulesShowCommand   `cmd:"" help:"Print a rule set, with what each field does and could be."`
	Check  rulesCheckCommand  `cmd:"" help:"Say whether a rule set file is in order, or everything that is wrong in it."`
	Diff   rulesDiffCommand   `cmd:"" help:"Explain in sentences what differs between two rule sets."`
	Schema rulesSchemaCommand `cmd:"" help:"Print the JSON Schema of a rule set file."`
}

// Help says what holds for all of the commands.
func (rulesCommand) Help() string {
	return `A rule set is named, or read from a file ending in .json, or from standard input
when it is -. docs/rules.md explains each field.

Exit status: 0 done, 1 a rule set file is wrong, 2 the call is wrong.`
}

// rulesListCommand lists the ready-made sets, so that a club can choose one to begin with.
type rulesListCommand struct{}

// Run writes a table of names and the sentence of each set.
func (rulesListCommand) Run(s streams) error {
	table := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "name\twhat it is")
	for _, name := range doc.ReadyMade() {
		rules, err := doc.ReadyMadeRuleSet(name)
		if err != nil {
			return err
		}
		fmt.Fprintf(table, "%s\t%s\n", name, rules.Title)
	}
	return table.Flush()
}

// rulesShowCommand prints a set. With comments it is a page to read beside a rule book; without, a file to begin with.
type rulesShowCommand struct {
	Plain bool   `help:"Print JSON without comments, as --rules reads it."`
	Rules string `arg:"" help:"Ready-made rule set or a rule set file ending in .json." placeholder:"NAME|FILE.json"`
}

// Help says that what is shown is not what is read.
func (rulesShowCommand) Help() string {
	return `The comments are for reading: a rule set file cannot have any. To begin a file of
your own:

  clayline rules show --plain capped-300ft > ours.json`
}

// Run writes the set as it was understood, so that defaults which the file does not say stand there too.
func (c rulesShowCommand) Run(s streams) error {
	rules, err := rulesNamed(s, c.Rules)
	if err != nil {
		return err
	}
	write := doc.CommentRuleSet
	if c.Plain {
		write = doc.WriteRuleSet
	}
	document, err := write(rules)
	if err != nil {
		return err
	}
	_, err = s.out.Write(document)
	return err
}

// rulesCheckCommand checks a file, before the evening on which it is needed.
type rulesCheckCommand struct {
	Rules string `arg:"" help:"Rule set file ending in .json; - reads standard input." placeholder:"FILE.json"`
}

// Run says that the file is in order; what is wrong is said where the file is read.
func (c rulesCheckCommand) Run(s streams) error {
	rules, err := rulesNamed(s, c.Rules)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(s.out, "%s: a rule set named %s is in order\n", fileName(c.Rules), rules.Name)
	return err
}

// rulesDiffCommand compares two sets, for pullers who come from another club's rules.
type rulesDiffCommand struct {
	A string `arg:"" help:"Ready-made rule set or a rule set file ending in .json."`
	B string `arg:"" help:"The other one."`
}

// Run writes a sentence a difference. Both ways are success: a difference is an answer, not a fault.
func (c rulesDiffCommand) Run(s streams) error {
	if c.A == "-" && c.B == "-" {
		return &callError{errors.New("standard input can be one of the rule sets only; name a file for the other")}
	}
	a, err := rulesNamed(s, c.A)
	if err != nil {
		return err
	}
	b, err := rulesNamed(s, c.B)
	if err != nil {
		return err
	}
	// Sets go by their own names, unless these do not tell them apart.
	nameA, nameB := a.Name, b.Name
	if nameA == nameB {
		nameA, nameB = fileName(c.A), fileName(c.B)
	}
	sentences := doc.DiffRuleSets(nameA, a, nameB, b)
	if len(sentences) == 0 {
		sentences = []string{fmt.Sprintf("There is no difference between %s and %s.", nameA, nameB)}
	}
	_, err = fmt.Fprintln(s.out, strings.Join(sentences, "\n"))
	return err
}

// rulesSchemaCommand prints the schema; the program has it, so that it is never that of another version.
type rulesSchemaCommand struct{}

// Run writes the schema, for editors and for other programs.
func (rulesSchemaCommand) Run(s streams) error {
	schema, err := doc.RuleSetSchema()
	if err != nil {
		return err
	}
	_, err = s.out.Write(schema)
	return err
}

// rulesNamed returns a ready-made rule set or the one in a file. Every fault of the file is a line on standard
// error that begins with file, line and column, where editors look for them; the error counts them. That there is
// no such set or file is the call's fault.
func rulesNamed(s streams, name string) (domain.RuleSet, error) {
	if name != "-" && !strings.HasSuffix(name, ".json") || slices.Contains(doc.ReadyMade(), name) {
		rules, err := doc.ReadyMadeRuleSet(name)
		if domain.KindOf(err) == domain.NotFound {
			err = &callError{fmt.Errorf("%w; a file must end in .json", err)}
		}
		return rules, err
	}
	document, err := readNamed(s.in, name, "rule set")
	if err != nil {
		return domain.RuleSet{}, &callError{err}
	}
	faults := doc.RuleFaults(document)
	for _, fault := range faults {
		fmt.Fprintln(s.err, fileName(name)+fault.String())
	}
	switch len(faults) {
	case 0:
		return doc.ParseRuleSet(document)
	case 1:
		return domain.RuleSet{}, fmt.Errorf("%s is not in order: one thing is wrong", fileName(name))
	default:
		return domain.RuleSet{}, fmt.Errorf("%s is not in order: %d things are wrong", fileName(name), len(faults))
	}
}

// readNamed reads a file, or standard input for "-", to its end: places are counted in the whole of it. what names the
// kind of file.
func readNamed(in io.Reader, name, what string) ([]byte, error) {
	if name == "-" {
		return io.ReadAll(in)
	}
	// A folder fails when it is read, with words that help nobody.
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		return nil, fmt.Errorf("%s is a folder, not a %s; name a JSON file", name, what)
	}
	document, err := os.ReadFile(name)
	if err != nil {
		return nil, openError(what, name, err)
	}
	return document, nil
}

// fileName is what a rule set that was read is called in messages: as it was typed, because editors and people find it
// by that.
func fileName(name string) string {
	if name == "-" {
		return "standard input"
	}
	return name
}
