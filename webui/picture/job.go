package picture

import (
	"fmt"
	"slices"

	"clayline/domain/doc"
)

// Of makes the picture of a job, to be read in the given units; ok is false for a job that has none. Curves show one setting, what-ifs two with a lane a
// result, comparisons the first [MostSettings] of theirs.
func Of(job doc.SledJob, u doc.EstimateUnits) (sheet Sheet, ok bool) {
	settings := job.Settings()
	if len(settings) == 0 {
		return Sheet{}, false
	}
	sheet.Units = u
	sheet.Title = map[string]string{"curves": "What the sled does", "whatif": "What another setting would do", "compare": "What the settings do"}[job.Kind]
	for _, s := range settings[:min(len(settings), MostSettings)] {
		sheet.Settings = append(sheet.Settings, Setting{Label: s.Label, Curve: s.Curve})
		sheet.Line = s.LineFt
	}
	switch result := job.Run(); {
	case result.Curves != nil:
		sheet.Notes = slices.Concat(result.Curves.Warnings, result.Curves.Advice)
	case result.Compare != nil:
		sheet.Notes = slices.Concat(result.Compare.Warnings, result.Compare.Advice)
		if left := len(settings) - MostSettings; left > 0 {
			sheet.Notes = append(sheet.Notes, fmt.Sprintf("settings not drawn: %d", left))
		}
	case result.WhatIf != nil:
		sheet.Notes = slices.Concat(result.WhatIf.Warnings, result.WhatIf.Advice)
		for i, row := range result.WhatIf.Rows {
			sheet.Lanes = append(sheet.Lanes, LaneOf(row, job.Stops()[i], u))
		}
	}
	return sheet, true
}

// LaneOf draws a row of a what-if, whose stop is in feet whatever the units. The middle of a range without an end is no middle, and is left out.
func LaneOf(row doc.SledRow, today float64, u doc.EstimateUnits) Lane {
	l := Lane{Name: row.ID, Today: today, Low: row.Low.Distance, High: row.High.Distance, Says: row.SaysIn(u, today)}
	if l.High != nil {
		l.Predicted = row.Predicted.Distance
	}
	return l
}
