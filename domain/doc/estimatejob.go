package doc

import (
	"bytes"
	"encoding/json"
	"strconv"

	"clayline/domain"
	"clayline/domain/sled"
)

// estimateJob is a job document as this package writes one for a class: curves of one setting, or a what-if of two. What
// has its default is left out.
type estimateJob struct {
	Job     string         `json:"job"`
	Sled    estimateSled   `json:"sled"`
	Ground  SledGround     `json:"ground"`
	Setup   estimateSetup  `json:"setup"`
	Track   estimateTrack  `json:"track"`
	SledTo  *estimateSled  `json:"sled_to,omitempty"`
	SetupTo *estimateSetup `json:"setup_to,omitempty"`
	Drift   float64        `json:"drift,omitzero"`
	Results *[]estimateRun `json:"results,omitempty"`
}

// estimateSled is the sled of a job.
type estimateSled struct {
	Wheelbase float64            `json:"wheelbase_ft"`
	Frame     float64            `json:"frame_weight_lb"`
	FrameCG   float64            `json:"frame_cg_ft"`
	Pan       float64            `json:"pan_weight_lb"`
	Box       float64            `json:"box_empty_lb"`
	Start     float64            `json:"box_start_ft"`
	Top       float64            `json:"box_top_ft"`
	Holes     []float64          `json:"holes_ft"`
	Advance   map[string]float64 `json:"advance,omitempty"`
	Drive     *estimateDrive     `json:"drive,omitempty"`
	PushDown  *estimatePush      `json:"pushdown,omitempty"`
}

// estimateDrive is the driveline of a job.
type estimateDrive struct {
	Circumference float64            `json:"tire_circumference_ft,omitzero"`
	TurnsPerMile  float64            `json:"tire_revs_per_mile,omitzero"`
	AxleRatio     float64            `json:"axle_ratio"`
	Transfer      float64            `json:"transfer_ratio,omitzero"`
	Teeth         int                `json:"sprocket_teeth"`
	Chain         int                `json:"chain,omitzero"`
	Pitch         float64            `json:"chain_pitch_in,omitzero"`
	Gears         map[string]float64 `json:"gears"`
}

// estimatePush is the push-down of a job.
type estimatePush struct {
	Delay float64 `json:"delay_ft"`
	Ramp  float64 `json:"ramp_ft"`
	Share float64 `json:"share"`
}

// estimateSetup is a setup of a job. A setting of a class has its trip as a distance.
type estimateSetup struct {
	Slabs float64 `json:"slabs_lb"`
	Gear  string  `json:"gear"`
	Hole  int     `json:"hole"`
	Trip  float64 `json:"trip_ft"`
}

// estimateTrack is the track of a job.
type estimateTrack struct {
	Full float64 `json:"full_pull_ft"`
}

// estimateRun is a result of a job.
type estimateRun struct {
	ID        string             `json:"id"`
	Distance  *float64           `json:"distance_ft,omitempty"`
	Full      bool               `json:"full"`
	Ended     domain.EstimateEnd `json:"ended,omitempty"`
	LineSpeed float64            `json:"line_speed_mph,omitzero"`
	Vehicle   float64            `json:"vehicle_lb,omitzero"`
}

// estimateSledOf writes a sled as a job has it, with the weight that a setting lays on the pan. Nothing may be missing in
// its description, see [domain.Sled.Missing].
func estimateSledOf(s domain.Sled, onPan domain.Weight) estimateSled {
	card := s.Card
	made := estimateSled{
		Wheelbase: card.Wheelbase.Feet(), Frame: card.Frame.Pounds(), FrameCG: card.FrameCenter.Feet(), Pan: card.Pan.Pounds() + onPan.Pounds(),
		Box: card.Box.Pounds(), Start: card.BoxStart.Feet() - card.BoxBehind.Feet(), Top: card.BoxStop.Feet(), Holes: []float64{0},
	}
	if len(card.Holes) > 0 {
		made.Holes = nil
		for _, hole := range card.Holes {
			made.Holes = append(made.Holes, hole.Feet())
		}
	}
	if p := card.PushDown; p.Given {
		made.PushDown = &estimatePush{p.Delay.Feet(), p.Ramp.Feet(), p.Share}
	}
	if len(card.Advance) > 0 {
		made.Advance = byGear(card.Advance)
		return made
	}
	d := card.Drive
	made.Drive = &estimateDrive{
		Circumference: d.Circumference.Feet(), TurnsPerMile: d.TurnsPerMile, AxleRatio: d.AxleRatio, Transfer: d.Transfer, Teeth: d.Teeth,
		Chain: d.Chain, Pitch: d.ChainPitch.Feet() * sled.Foot / sled.Inch, Gears: byGear(d.Gears),
	}
	return made
}

// byGear names the gears of a description as a setting does, from 1 on.
func byGear(list []float64) map[string]float64 {
	gears := make(map[string]float64, len(list))
	for i, x := range list {
		gears[strconv.Itoa(i+1)] = x
	}
	return gears
}

// estimateSetupOf writes a setting as a job has it.
func estimateSetupOf(s domain.Setting) estimateSetup {
	return estimateSetup{Slabs: s.Box.Pounds(), Gear: strconv.Itoa(s.Gear), Hole: s.StartHole - 1, Trip: s.Trip.Feet()}
}

// to writes the other setting into a job and makes it a what-if of those results, which may be none.
func (j estimateJob) to(s domain.Sled, other domain.Setting, drift float64, results []estimateRun) estimateJob {
	setup, on := estimateSetupOf(other), estimateSledOf(s, other.Pan)
	j.Job, j.SetupTo, j.Drift, j.Results = "whatif", &setup, drift, &results
	if on.Pan != j.Sled.Pan {
		j.SledTo = &on
	}
	return j
}

// read writes the document down and reads it as any other job, so that what a class gives is held to the same checks.
func (j estimateJob) read() (document []byte, job SledJob, err error) {
	if document, err = json.Marshal(j); err != nil {
		return nil, SledJob{}, err
	}
	job, err = ReadSledJob(bytes.NewReader(document))
	return document, job, err
}
