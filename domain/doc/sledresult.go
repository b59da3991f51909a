package doc

import (
	"encoding/json"
	"io"
	"math"

	"clayline/domain/sled"
)

// SledResult is what a job gives: one of the documents below, by the job's kind. Figures are in feet, pounds and miles an
// hour at full precision, because other programs may go on computing with them; people should see whole feet.
type SledResult struct {
	Curves    *SledCurves
	TopOuts   *SledTopOuts
	WhatIf    *SledWhatIf
	Compare   *SledCompare
	Calibrate *SledCoefficients
}

// SledCurves is the result of a curves job. Places that are never reached are null. Advice, which no job waits for, is
// left out where there is none, here and below.
type SledCurves struct {
	Advance  float64      `json:"advance_ft_per_ft"`
	TopOut   *float64     `json:"top_out_ft"`
	Trip     *float64     `json:"trip_ft"`
	PushDown *float64     `json:"push_down_starts_ft"`
	Weight   float64      `json:"total_weight_lb"`
	Points   []SledPoint  `json:"points"`
	Full     SledFull     `json:"full"`
	Monotone bool         `json:"monotone"`
	Flat     bool         `json:"flat"`
	Warnings []string     `json:"warnings"`
	Implied  *SledImplied `json:"implied,omitempty"`
	SledTalk
}

// SledTalk is what is said beside figures.
type SledTalk struct {
	Advice []string `json:"advice,omitempty"`
}

// SledPoint is the curve at one travel.
type SledPoint struct {
	Travel float64 `json:"d_ft"`
	Box    float64 `json:"box_ft"`
	Pan    float64 `json:"pan_lb"`
	Axle   float64 `json:"axle_lb"`
	Drag   float64 `json:"drag_lb"`
	Work   float64 `json:"work_ftlb"`
	Mean   float64 `json:"mean_drag_lb"`
}

// SledFull is the curve at the line. Elasticity is null where drag equals its mean.
type SledFull struct {
	Travel     float64  `json:"d_ft"`
	Drag       float64  `json:"drag_lb"`
	Mean       float64  `json:"mean_drag_lb"`
	Work       float64  `json:"work_ftlb"`
	WorkKJ     float64  `json:"work_kJ"`
	Elasticity *float64 `json:"elasticity"`
}

// SledImplied is what a stop says of a vehicle of constant pull.
type SledImplied struct {
	Pull       float64 `json:"pull_strength_lb"`
	PeakSpeed  float64 `json:"peak_speed_mph"`
	PeakAt     float64 `json:"peak_speed_at_ft"`
	PeakEnergy float64 `json:"peak_ke_ftlb"`
	OverWeight float64 `json:"strength_over_vehicle_weight"`
}

// SledTopOuts is the result of a topout job: a row a gear, a column a hole.
type SledTopOuts struct {
	Holes []float64      `json:"holes_ft"`
	Gears []SledGearTops `json:"gears"`
}

// SledGearTops is where the box tops out in a gear, from each hole.
type SledGearTops struct {
	Gear    string    `json:"gear"`
	Advance float64   `json:"advance_ft_per_ft"`
	TopOuts []float64 `json:"top_out_ft"`
}

// SledWhatIf is the result of a whatif job.
type SledWhatIf struct {
	Rows      []SledRow       `json:"rows"`
	MeanFull  FromTo[float64] `json:"mean_drag_to_full_lb"`
	FullPulls SledCount       `json:"full_pulls"`
	Monotone  FromTo[bool]    `json:"monotone"`
	Warnings  []string        `json:"warnings"`
	SledTalk
}

// FromTo is a value under the setting that was pulled against and under the other one.
type FromTo[T any] struct {
	From T `json:"from"`
	To   T `json:"to"`
}

// SledRow is what the other setting does to one result. Margin is null where a full pull takes nothing.
type SledRow struct {
	ID        string         `json:"id"`
	Pull      float64        `json:"pull_strength_lb"`
	Bound     string         `json:"bound"`
	Predicted SledPrediction `json:"predicted"`
	Low       SledPrediction `json:"low"`
	High      SledPrediction `json:"high"`
	Margin    *float64       `json:"margin_to_full"`
	EndDrag   *float64       `json:"end_drag_lb,omitempty"`
	ByEndDrag *SledByEndDrag `json:"predicted_by_end_drag,omitempty"`
	Reads     string         `json:"reads"`
}

// SledPrediction is where a vehicle would stop: the line for a full pull, and as if there were no line. Both are null
// where nothing is known, and the second when it never stops.
type SledPrediction struct {
	SledByEndDrag
	Uncapped *float64 `json:"uncapped_ft"`
}

// SledByEndDrag is a prediction that does not look past the line.
type SledByEndDrag struct {
	Status   string   `json:"status"`
	Distance *float64 `json:"distance_ft"`
}

// SledCount is how many full pulls there would be.
type SledCount struct {
	Nominal int `json:"nominal"`
	AtLeast int `json:"at_least"`
	AtMost  int `json:"at_most"`
}

// SledCompare is the result of a compare job.
type SledCompare struct {
	Pull     float64          `json:"strength_lb"`
	Rows     []SledCompareRow `json:"rows"`
	Warnings []string         `json:"warnings,omitempty"`
	SledTalk
}

// SledCompareRow is one of the settings that were compared.
type SledCompareRow struct {
	SledPrediction
	Label    string  `json:"label"`
	MeanFull float64 `json:"mean_drag_to_full_lb"`
	Monotone bool    `json:"monotone"`
}

// SledCoefficients is the result of a calibrate job.
type SledCoefficients struct {
	Mu  float64 `json:"mu"`
	CRR float64 `json:"c_rr"`
	RMS float64 `json:"rms_lb"`
}

// WriteJSON writes the result as indented JSON.
func (r SledResult) WriteJSON(w io.Writer) error {
	return writeJSON(w, r)
}

// MarshalJSON writes the one document there is.
func (r SledResult) MarshalJSON() ([]byte, error) {
	switch {
	case r.Curves != nil:
		return json.Marshal(r.Curves)
	case r.TopOuts != nil:
		return json.Marshal(r.TopOuts)
	case r.WhatIf != nil:
		return json.Marshal(r.WhatIf)
	case r.Compare != nil:
		return json.Marshal(r.Compare)
	default:
		return json.Marshal(r.Calibrate)
	}
}

// The words of a result for what the engine says.
var (
	statusWords = map[string]sled.Status{"stops": sled.Stops, "full": sled.Full, "indeterminate": sled.Indeterminate, "unknown": sled.Unknown}
	boundWords  = map[string]sled.Bound{"exact": sled.Exact, "lower": sled.Lower, "upper": sled.Upper}
	readsWords  = map[string]sled.Bound{"about": sled.Exact, "at least": sled.Lower, "at most": sled.Upper}
)

// finite returns a figure in the unit, nil where there is none.
func finite(x, unit float64) *float64 {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return nil
	}
	x /= unit
	return &x
}

// predictionOf writes a prediction.
func predictionOf(p sled.Prediction) SledPrediction {
	written := SledPrediction{SledByEndDrag: SledByEndDrag{Status: wordFor(statusWords, p.Status)}}
	if p.Status == sled.Stops || p.Status == sled.Full {
		written.Distance, written.Uncapped = finite(p.Distance, sled.Foot), finite(p.Uncapped, sled.Foot)
	}
	return written
}

// rowOf writes what a change does to one result.
func rowOf(id string, r sled.Row) SledRow {
	row := SledRow{
		ID: id, Pull: r.Pull / sled.PoundForce, Bound: wordFor(boundWords, r.Bound), Reads: wordFor(readsWords, r.Bound),
		Predicted: predictionOf(r.Predicted), Low: predictionOf(r.Low), High: predictionOf(r.High), Margin: finite(r.Margin, 1),
	}
	if r.ByEndDrag.Status != 0 {
		by := predictionOf(r.ByEndDrag).SledByEndDrag
		row.EndDrag, row.ByEndDrag = finite(r.EndDrag, sled.PoundForce), &by
	}
	return row
}
