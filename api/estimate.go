package api

import (
	"encoding/json"
	"net/http"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/doc"
)

// estimated is the sled estimate of a class: the job that was filled in, so that anybody can do it again, and its result.
type estimated struct {
	versioned
	Round    domain.RoundName `json:"round"`
	Revision int              `json:"revision"`
	Notes    []string         `json:"notes"`
	Cautions []string         `json:"cautions"`
	Job      json.RawMessage  `json:"job"`
	Result   doc.SledResult   `json:"result"`
	Table    []estimateRow    `json:"table"`
	Ratio    *estimateRatio   `json:"ratio,omitempty"`
	Repeats  *estimateRepeats `json:"repeats,omitempty"`
}

// estimateRow is one gear from one start hole.
type estimateRow struct {
	Gear      int           `json:"gear"`
	StartHole int           `json:"start_hole"`
	Trip      *measure      `json:"trip"`
	TopOut    *float64      `json:"top_out_ft"`
	MeanFull  float64       `json:"mean_drag_to_full_lb"`
	FullPulls doc.SledCount `json:"full_pulls"`
	Harder    bool          `json:"harder"`
}

// estimateRatio is what vehicles that stopped under two settings of the class tell of the ground.
type estimateRatio struct {
	Ratio float64 `json:"mu_down_over_mu_up"`
	Pairs int     `json:"pairs"`
}

// estimateRepeats is what vehicles that stopped twice under one setting tell of the track.
type estimateRepeats struct {
	Drift float64 `json:"drift"`
	Pairs int     `json:"pairs"`
}

// classEstimate answers the sled estimate of a class to the cab and the desk. It is read from the store and not from the
// shelf, because it is never public, and stores nothing.
//
//	GET /api/v1/events/harvest-pull/classes/field-stock/estimate?gear=4&trip=176
func (s *Server) classEstimate(c echo.Context) error {
	page, err := s.staffClass(c, domain.Cab|domain.Desk)
	if err != nil {
		return err
	}
	question, err := doc.ParseEstimateQuestion(&page.Class, c.QueryParam)
	if err != nil {
		return err
	}
	estimate, err := doc.NewEstimate(&page.Class, question)
	if err != nil {
		return err
	}
	return send(c, http.StatusOK, estimatedOf(lastNumber(page.Journal), estimate))
}

// estimatedOf writes an estimate. Its lists are never null.
func estimatedOf(version int64, e doc.Estimate) estimated {
	told := estimated{
		versioned: versioned{version}, Round: e.Basis.Round, Revision: e.Basis.Revision.Number, Notes: append([]string{}, e.Notes...), Cautions: doc.SledCautions(),
		Job: e.Document, Result: e.Job.Run(), Table: []estimateRow{},
	}
	for _, r := range e.Table() {
		told.Table = append(told.Table, estimateRow{
			Gear: r.Setting.Gear, StartHole: r.Setting.StartHole, Trip: distanceOf(r.Setting.Trip),
			TopOut: r.TopOut, MeanFull: r.MeanFull, FullPulls: r.FullPulls, Harder: r.Harder,
		})
	}
	if ratio, pairs, ok := e.Ratio(); ok {
		told.Ratio = &estimateRatio{ratio, pairs}
	}
	if drift, pairs, ok := e.Repeats(); ok {
		told.Repeats = &estimateRepeats{drift, pairs}
	}
	return told
}
