package doc

import (
	"fmt"
	"math"

	"clayline/domain"
	"clayline/domain/sled"
)

// EstimateRow is one of the settings that a sled can be set to, with what it would do to the class.
type EstimateRow struct {
	Setting   domain.Setting // as a draft would have it
	TopOut    *float64       // ft; nil: never
	MeanFull  float64        // mean drag to the line, lb
	FullPulls SledCount
	// Harder: a full pull takes more than under the setting that the hooks were made against, so that who went full cannot
	// be counted either way.
	Harder bool
	// Here: the gear and hole of the setting that the table starts from.
	Here bool
}

// Table tries every gear from every start hole of the sled, with the weights of the other setting, or of the basis where
// there is none. The box strikes the trip at the same place as there, so that the trip comes elsewhere along the track: it
// is rounded as a draft is written, to a foot or a tenth of a metre, and computed with so. Where that place is the stop
// itself the trip keeps its distance. A hole behind the stop has no row.
func (e *Estimate) Table() []EstimateRow {
	from, at := e.Basis.Revision.Setting, e.Job.from
	if other := e.Job.second(); len(other) > 0 {
		from, at = e.question.Other, other[0]
	}
	struck := at.curve.Box(from.Trip.Feet()*sled.Foot) / sled.Foot
	var rows []EstimateRow
	for gear := 1; gear <= e.class.Sled.Gears; gear++ {
		for hole := 1; hole <= e.class.Sled.StartHoles; hole++ {
			setting := from
			setting.Gear, setting.StartHole = gear, hole
			setting.Trip = e.tripAt(from, struck, gear, hole)
			if row, ok := e.row(setting); ok {
				row.Here = gear == from.Gear && hole == from.StartHole
				rows = append(rows, row)
			}
		}
	}
	return rows
}

// row tries one setting.
func (e *Estimate) row(s domain.Setting) (EstimateRow, bool) {
	_, job, err := e.base.to(e.class.Sled, s, e.question.Drift, e.runs).read()
	if err != nil {
		return EstimateRow{}, false
	}
	result := job.whatIf()
	return EstimateRow{
		Setting: s, TopOut: finite(job.to.curve.TopOut(), sled.Foot), MeanFull: result.MeanFull.To, FullPulls: result.FullPulls,
		Harder: result.MeanFull.To > result.MeanFull.From*(1+1e-12),
	}, true
}

// tripAt returns how far the sled travels until the box is struck in a gear and a hole, rounded as people write it.
func (e *Estimate) tripAt(from domain.Setting, struck float64, gear, hole int) domain.Distance {
	sledAt := e.Job.sled
	if gear == from.Gear && hole == from.StartHole || struck >= sledAt.top*(1-1e-9) || hole > len(sledAt.holes) {
		return from.Trip
	}
	ft := max(0, (struck-sledAt.start-sledAt.holes[hole-1])/sledAt.advance[fmt.Sprint(gear)])
	written := fmt.Sprintf("%.0f ft", math.Round(ft))
	if e.Basis.Line.Unit() == domain.Metre {
		written = fmt.Sprintf("%.1f m", ft*sled.Foot)
	}
	trip, err := domain.ParseDistance(written, 0)
	if err != nil {
		return from.Trip
	}
	return trip
}
