package main

import (
	"fmt"
	"io"
	"strings"

	"clayline/domain/doc"
	"clayline/webui/picture"
)

// sledCommand does one job of the sled estimate. It needs no server, no database and no network, and keeps nothing.
type sledCommand struct {
	Format string `enum:"json,text,svg" default:"json" help:"How to write the result: json, text for a table, or svg for a picture."`
	Job    string `arg:"" help:"Job document; - reads standard input." placeholder:"FILE.json"`
}

// Help says what a job is, with the cautions that stand wherever an estimate is shown.
func (sledCommand) Help() string {
	return `A job is a JSON document with the sled, the ground, a setup and what is asked:
  curves      drag, loads and mean drag over distance, trip and top-out
  topout      where the box tops out, for every gear and start hole
  whatif      where a class would have stopped under another setting
  compare     one strength under several settings
  calibrate   friction from drag that was measured in the chain

The shortest one says what has no default:
  {"job": "curves",
   "sled": {"wheelbase_ft": 22, "frame_weight_lb": 15000, "frame_cg_ft": 7,
            "pan_weight_lb": 2500, "box_top_ft": 21, "advance": {"1": 0.08}},
   "ground": {"mu_up": 0.3}, "setup": {"slabs_lb": 12000}}

docs/sled.md has every field, the equations and a complete example.

  - ` + strings.Join(doc.SledCautions(), "\n  - ") + `

Exit status: 0 done, 1 the job is wrong, 2 the call is wrong.`
}

// Run reads the job, does it and writes its result. Nothing is written to standard output unless the whole job was
// understood.
func (c sledCommand) Run(s streams) error {
	var job doc.SledJob
	err := readInput(s.in, "a job", "a JSON file", c.Job, func(r io.Reader, name string) (err error) {
		job, err = doc.ReadSledJob(r)
		return inFile(name, err)
	})
	if err != nil {
		return err
	}
	switch c.Format {
	case "text":
		return job.WriteText(s.out)
	case "svg":
		sheet, ok := picture.Of(job, doc.FeetAndPounds())
		if !ok {
			return &callError{fmt.Errorf("there is no picture of a %s job; write it as json or text", job.Kind)}
		}
		_, err := io.WriteString(s.out, sheet.SVG())
		return err
	default:
		return job.Run().WriteJSON(s.out)
	}
}
