package main

import (
	"io"

	"clayline/domain/doc"
)

// programmeCommand puts the classes of a programme in order. It needs no server, no database and no network, and keeps
// nothing.
type programmeCommand struct {
	Propose programmeProposeCommand `cmd:"" default:"withargs" help:"Propose the order of classes that costs least, and say what each move costs."`
	Schema  programmeSchemaCommand  `cmd:"" help:"Print the JSON Schema of a programme."`
}

// Help shows a programme, and says what the exit status means.
func (programmeCommand) Help() string {
	return `The shortest programme says what has no default:
  {"sessions": [{"name": "Evening", "starts": "2026-09-19T18:00:00-05:00"}],
   "classes": [{"name": "Antique", "hooks": 12}, {"name": "Farm stock", "minutes": 45}]}

docs/programme.md has every field and a complete example.

All times are estimates. What the crew needs to work without haste, the crew says.

Exit status: 0 done, 1 the programme is wrong, 2 the call is wrong.`
}

// programmeProposeCommand proposes an order.
type programmeProposeCommand struct {
	Format string `enum:"json,text" default:"json" help:"How to write the proposal: json, or text for a table."`
	File   string `arg:"" help:"Programme; - reads standard input." placeholder:"FILE.json"`
}

// Run reads the programme and writes the proposal. Nothing is written to standard output unless the whole programme was
// understood.
func (c programmeProposeCommand) Run(s streams) error {
	var programme doc.Programme
	err := readInput(s.in, "a programme", "a JSON file", c.File, func(r io.Reader, name string) (err error) {
		programme, err = doc.ReadProgramme(r)
		return inFile(name, err)
	})
	if err != nil {
		return err
	}
	proposal, err := programme.Propose()
	if err != nil {
		return err
	}
	if c.Format == "text" {
		return proposal.WriteText(s.out)
	}
	return proposal.WriteJSON(s.out)
}

// programmeSchemaCommand prints the schema; the program has it, so that it is never that of another version.
type programmeSchemaCommand struct{}

// Run writes the schema, for editors and for other programs.
func (programmeSchemaCommand) Run(s streams) error {
	schema, err := doc.ProgrammeSchema()
	if err != nil {
		return err
	}
	_, err = s.out.Write(schema)
	return err
}
