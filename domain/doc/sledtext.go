package doc

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"clayline/domain/sled"
)

// SledSetting is a setting of a job as a picture needs it: in words, with its curve and the line in feet.
type SledSetting struct {
	Label  string
	Curve  *sled.Curve
	LineFt float64
}

// Settings returns the settings whose curves a job is about: one for curves, two for a what-if, those to compare for a
// comparison. The other jobs have none.
func (j SledJob) Settings() []SledSetting {
	var list []SledSetting
	for _, s := range map[string][]setting{"curves": {j.from}, "whatif": {j.from, j.to}, "compare": j.others}[j.Kind] {
		list = append(list, SledSetting{Label: s.words(), Curve: s.curve, LineFt: s.lineFt})
	}
	return list
}

// words are the setting's label with what was chosen, or that alone.
func (s setting) words() string {
	return strings.TrimPrefix(s.label+": "+s.chosen, ": ")
}

// Stops returns where each result of a what-if stopped, in feet; a full pull at the line.
func (j SledJob) Stops() []float64 {
	var list []float64
	for _, r := range j.runs {
		stop := r.run.Distance / sled.Foot
		if r.run.Full {
			stop = j.from.lineFt
		}
		list = append(list, stop)
	}
	return list
}

// Says puts a row into words, in whole feet because no more is known: "240 → 196 to 220". Today is where it stopped.
func (r SledRow) Says(today float64) string { return r.SaysIn(FeetAndPounds(), today) }

// SaysIn is [SledRow.Says] in the units of a class; today is in feet there too. A class in metres reads "73.2 → 59.7 to 67.1".
func (r SledRow) SaysIn(u EstimateUnits, today float64) string {
	figure := func(ft *float64) string {
		if ft == nil {
			return "-"
		}
		return u.Figure(*ft)
	}
	words, low, high := u.Figure(today)+" → ", figure(r.Low.Distance), figure(r.High.Distance)
	switch {
	case r.Predicted.Status == "indeterminate":
		return words + "not known"
	case r.Low.Status == "full":
		return words + "full"
	case r.Bound == "lower":
		return words + low + " or more"
	case r.Bound == "upper":
		return words + high + " or less"
	case r.High.Status == "full":
		return words + low + " to full"
	default:
		return words + low + " to " + high
	}
}

// PastLine returns the row as it is read where the line ends nothing: whoever would come past it stops somewhere.
func (r SledRow) PastLine() SledRow {
	for _, p := range []*SledPrediction{&r.Predicted, &r.Low, &r.High} {
		if p.Status == "full" && p.Uncapped != nil {
			p.Status, p.Distance = "stops", p.Uncapped
		}
	}
	return r
}

// wholeFeet writes a distance, a dash where there is none.
func wholeFeet(ft *float64) string {
	if ft == nil {
		return "-"
	}
	return whole(*ft)
}

// whole writes a figure without decimals.
func whole(x float64) string { return fmt.Sprintf("%.0f", x) }

// sledTable is a result for people: cells, the first row of which is the head, and what must be read with them.
type sledTable struct {
	rows  [][]string
	notes []string
}

// WriteText writes the result of a job as a table, in whole feet and pounds, and under it warnings, advice and the
// cautions.
func (j SledJob) WriteText(w io.Writer) error {
	var t sledTable
	switch r := j.Run(); {
	case r.Curves != nil:
		t = r.Curves.table()
	case r.TopOuts != nil:
		t = r.TopOuts.table()
	case r.WhatIf != nil:
		t = r.WhatIf.table(j.Stops())
	case r.Compare != nil:
		t = r.Compare.table(j.Settings())
	default:
		t = sledTable{rows: [][]string{{"mu", "c_rr", "rms lb"}, {fmt.Sprintf("%.4f", r.Calibrate.Mu), fmt.Sprintf("%.4f", r.Calibrate.CRR), whole(r.Calibrate.RMS)}}}
	}
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, row := range t.rows {
		fmt.Fprintln(table, strings.Join(row, "\t"))
	}
	if err := table.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "\n%s\n", strings.Join(append(t.notes, SledCautions()...), "\n"))
	return err
}

// table writes curves, a row a point.
func (r SledCurves) table() sledTable {
	t := sledTable{rows: [][]string{{"ft", "box ft", "pan lb", "axle lb", "drag lb", "mean lb"}}}
	for _, p := range r.Points {
		t.rows = append(t.rows, []string{whole(p.Travel), fmt.Sprintf("%.1f", p.Box), whole(p.Pan), whole(p.Axle), whole(p.Drag), whole(p.Mean)})
	}
	t.notes = slices.Concat([]string{"trip " + wholeFeet(r.Trip) + " ft, top-out " + wholeFeet(r.TopOut) + " ft"}, r.Warnings, r.Advice)
	return t
}

// table writes top-outs, a row a gear and a column a hole.
func (r SledTopOuts) table() sledTable {
	head := []string{"gear", "box ft a foot"}
	for i := range r.Holes {
		head = append(head, fmt.Sprintf("hole %d", i))
	}
	t := sledTable{rows: [][]string{head}}
	for _, g := range r.Gears {
		row := []string{g.Gear, fmt.Sprintf("%.5f", g.Advance)}
		for _, ft := range g.TopOuts {
			row = append(row, whole(ft))
		}
		t.rows = append(t.rows, row)
	}
	return t
}

// table writes a what-if, a row a result, with where each stopped.
func (r SledWhatIf) table(stops []float64) sledTable {
	t := sledTable{rows: [][]string{{"id", "strength lb", "ft → under setup_to"}}}
	for i, row := range r.Rows {
		t.rows = append(t.rows, []string{row.ID, row.Reads + " " + whole(row.Pull), row.Says(stops[i])})
	}
	count := fmt.Sprintf("full pulls under setup_to: %d, at least %d, at most %d", r.FullPulls.Nominal, r.FullPulls.AtLeast, r.FullPulls.AtMost)
	t.notes = slices.Concat([]string{count}, r.Warnings, r.Advice)
	return t
}

// table writes a comparison, a row a setting.
func (r SledCompare) table(settings []SledSetting) sledTable {
	t := sledTable{rows: [][]string{{"setting", "", "ft", "mean drag to the line lb"}}}
	for i, row := range r.Rows {
		t.rows = append(t.rows, []string{settings[i].Label, row.Status, wholeFeet(row.Distance), whole(row.MeanFull)})
	}
	t.notes = slices.Concat([]string{"strength lb " + whole(r.Pull)}, r.Warnings, r.Advice)
	return t
}
