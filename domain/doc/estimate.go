package doc

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"clayline/domain"
)

// SledGround is the track under a sled, in the fields of a job. docs/sled.md explains them.
type SledGround struct {
	MuUp    float64 `json:"mu_up"`
	MuDown  float64 `json:"mu_down"`
	CRR     float64 `json:"c_rr"`
	Dig     float64 `json:"dig_lb"`
	DigRamp float64 `json:"dig_ramp_ft"`
}

// InventedGround is the ground that is taken until somebody knows better. Its figures are inventions of ours, inside what
// was measured elsewhere: a loaded drag sled 0.31 to 0.51 (draft-animal forum, flofarm.org), tires on medium hard soil 0.06
// (vehicle-dynamics slides, slideplayer.com/amp/15954103). For digging no source was found.
func InventedGround() SledGround {
	return SledGround{MuUp: 0.33, MuDown: 0.44, CRR: 0.06, Dig: 1000, DigRamp: 12}
}

// AssumedDrift is by how much a track is taken to be off between two hooks, as a share: an assumption, and no source's.
const AssumedDrift = 0.08

// check refuses what no ground has, at the last part of the field's name.
func (g SledGround) check() error {
	for _, f := range []struct {
		field    string
		x        float64
		in       span
		whatever string
	}{
		{"mu_up", g.MuUp, span{0.01, 2}, "friction of the pan before the drop"}, {"mu_down", g.MuDown, span{0.01, 2}, "friction of the pan after the drop"},
		{"c_rr", g.CRR, fraction, "rolling resistance"}, {"dig_lb", g.Dig, span{0, 100_000}, "digging, in pounds"},
		{"dig_ramp_ft", g.DigRamp, span{0, 300}, "the distance in which digging builds up, in feet"},
	} {
		if !(f.x >= f.in.least && f.x <= f.in.most) {
			return &domain.Error{Kind: domain.Invalid, Field: f.field, Message: fmt.Sprintf("%s cannot be %v", f.whatever, f.x), Fix: "write " + f.in.String()}
		}
	}
	return nil
}

// EstimateQuestion is what is asked of the sled estimate about a class.
type EstimateQuestion struct {
	Round  domain.RoundName // whose setting and hooks it starts from; zero: the newest that was hooked in
	Other  domain.Setting   // the setting beside it; without a Box there is none
	Ground SledGround
	Drift  float64 // share by which the track may be off, 0 to 0.5
	// Speeds are speeds at the line under power, by the numbers of who made a full pull, in place of what was read of the
	// hook. With the weight on the scale, or else the limit of the class, they tell how much more a full pull had.
	Speeds map[string]domain.Speed
}

// Estimate is the sled estimate of a class: a job filled in from the description of its sled, its settings and its hooks,
// ready to be run. It is never a result, and for the sled operator and the officials alone.
type Estimate struct {
	Basis    domain.EstimateBasis
	Document []byte // the job: curves without another setting, else a what-if
	Job      SledJob
	Notes    []string // what was left out and what was taken for granted, a sentence each

	class    *domain.Class
	question EstimateQuestion
	base     estimateJob
	runs     []estimateRun
}

// NewEstimate fills the job in. The error is a domain error of kind WrongState where the class has no setting or the
// description of its sled lacks something, by name; of kind Invalid at the field of the question that cannot be: box, gear,
// start_hole, trip, pan, mu_up and its like, drift, speeds.
func NewEstimate(c *domain.Class, q EstimateQuestion) (Estimate, error) {
	basis, ok := c.EstimateBasis(q.Round)
	if !ok {
		return Estimate{}, &domain.Error{Kind: domain.WrongState, Field: "round", Message: "there is no setting to start from", Fix: "write the setting of the round first"}
	}
	if lacking := c.Sled.Missing(); len(lacking) > 0 {
		return Estimate{}, lacks(lacking)
	}
	if err := q.Ground.check(); err != nil {
		return Estimate{}, err
	}
	if !(q.Drift >= 0 && q.Drift <= 0.5) {
		return Estimate{}, &domain.Error{Kind: domain.Invalid, Field: "drift", Message: "the track cannot be off by that much", Fix: "write 0 to 50 percent"}
	}
	e := Estimate{Basis: basis, class: c, question: q}
	e.base = estimateJob{Job: "curves", Sled: estimateSledOf(c.Sled, basis.Revision.Setting.Pan), Ground: q.Ground,
		Setup: estimateSetupOf(basis.Revision.Setting), Track: estimateTrack{basis.Line.Feet()}}
	var err error
	if e.runs, err = e.runsOf(); err != nil {
		return Estimate{}, err
	}
	made := e.base
	if !q.Other.Box.IsZero() {
		if err := q.Other.Check(c.Sled); err != nil {
			return Estimate{}, err
		}
		made = e.base.to(c.Sled, q.Other, q.Drift, e.runs)
	}
	e.Document, e.Job, err = made.read()
	e.Notes = e.notes()
	return e, atSetting(err)
}

// missingWords are what a description can lack, in words.
var missingWords = map[string]string{
	"wheelbase": "the wheelbase", "frame_weight": "the weight of the frame", "frame_center": "where the weight of the frame acts",
	"pan_weight": "the weight of the pan", "box_stop": "where the box stops in front", "holes": "where the start holes are",
	"advance": "how far the box moves in each gear, measured or by the driveline",
}

// lacks refuses an estimate by the names of what the description lacks.
func lacks(fields []string) error {
	words := make([]string, len(fields))
	for i, f := range fields {
		words[i] = missingWords[f]
	}
	list := words[len(words)-1]
	if before := words[:len(words)-1]; len(before) > 0 {
		list = strings.Join(before, ", ") + " and " + list
	}
	return &domain.Error{Kind: domain.WrongState, Field: "sled", Message: "the what-if needs " + list,
		Fix: "write it in the sled's description before the next class is planned; this class keeps the description it was planned with"}
}

// atSetting names the field of a setting at which a job was refused: only its hole can be, which the description knows.
func atSetting(err error) error {
	e, ok := errors.AsType[*domain.Error](err)
	if !ok {
		return err
	}
	at := *e
	if strings.HasSuffix(at.Field, ".hole") {
		at.Field, at.Message = "start_hole", "the box would start in front of its stop there"
	}
	return &at
}

// runsOf writes the hooks as results. A speed at the line is taken for whoever made a full pull; one for anybody else is
// refused, and so is one without a weight.
func (e *Estimate) runsOf() ([]estimateRun, error) {
	runs := []estimateRun{}
	given := make(map[string]bool, len(e.question.Speeds))
	for _, r := range e.Basis.Runs {
		number := e.class.Entry(r.Entry).Number
		run := estimateRun{ID: number, Full: r.Result.Outcome == domain.FullPull && e.Basis.EndsAtLine, Ended: r.Ended}
		if !r.Result.Distance.IsZero() {
			ft := r.Result.Distance.Feet()
			run.Distance = &ft
		} else if !run.Full { // a full pull without a figure, where figures count past the line
			ft := e.Basis.Line.Feet()
			run.Distance, run.Ended = &ft, domain.EndedStopped
		}
		if asked, ok := e.question.Speeds[number]; ok && run.Full {
			if e.vehicle(r).IsZero() {
				return nil, speedError("the weight of "+number+" is not known", "weigh it, or take its speed out")
			}
			r.AtLine, given[number] = asked, true
		}
		if weight := e.vehicle(r); run.Full && !weight.IsZero() && fastEnough(r.AtLine) {
			run.LineSpeed, run.Vehicle = r.AtLine.MilesPerHour(), weight.Pounds()
		}
		runs = append(runs, run)
	}
	for _, number := range slices.Sorted(maps.Keys(e.question.Speeds)) {
		speed := e.question.Speeds[number]
		if !given[number] {
			return nil, speedError("number "+number+" made no full pull in this round that counts here", "take its speed out")
		}
		if !fastEnough(speed) {
			return nil, speedError("number "+number+" cannot have been that fast", "write the speed at the line, above 0 and up to 100 mph")
		}
	}
	return runs, nil
}

// fastEnough reports whether a speed at the line can have been one; 0 is none, and tells nothing more than a stop there.
func fastEnough(v domain.Speed) bool { return v.MilesPerHour() > 0 && v.MilesPerHour() <= 100 }

// speedError refuses the speeds at the line.
func speedError(message, fix string) error {
	return &domain.Error{Kind: domain.Invalid, Field: "speeds", Message: message, Fix: fix}
}

// vehicle is what a vehicle weighs: on the scale after its hook, else before, else the limit of the class; zero where
// nothing is known.
func (e *Estimate) vehicle(r domain.EstimateRun) domain.Weight {
	w := e.class.Weighing(r.Entry)
	for _, weight := range []domain.Weight{w.After.Weight, w.Before.Weight, e.class.Rules.Weight.Limit} {
		if !weight.IsZero() {
			return weight
		}
	}
	return domain.Weight{}
}

// notes say what was left out, and what was taken for granted because the description says nothing of it.
func (e *Estimate) notes() []string {
	var list []string
	for _, left := range e.Basis.Left {
		list = append(list, "Left out: "+left+".")
	}
	if known := e.atLine(); len(known) > 0 {
		list = append(list, "With its speed at the line and its weight: "+strings.Join(known, ", ")+".")
	}
	card := e.class.Sled.Card
	if card.Box.IsZero() {
		list = append(list, "The description has no weight of the box without slabs: it counts as 0.")
	}
	if !card.PushDown.Given {
		list = append(list, "The description has no push-down: none is computed.")
	}
	if !e.Basis.EndsAtLine {
		list = append(list, fmt.Sprintf("In this round the line at %s ends nothing: a figure past it is a stop like any other.", e.Basis.Line))
	}
	return list
}

// atLine are the numbers whose speed at the line and weight tell how much more a full pull had.
func (e *Estimate) atLine() []string {
	var list []string
	for _, r := range e.runs {
		if r.LineSpeed > 0 {
			list = append(list, r.ID)
		}
	}
	return list
}

// Other is the setting beside that of the basis; the zero Setting where there is none.
func (e *Estimate) Other() domain.Setting { return e.question.Other }

// Ground says on which ground it was computed, in words: "friction 0.33 before the drop and 0.44 after it, …".
func (e *Estimate) Ground() string {
	g := e.question.Ground
	words := fmt.Sprintf("friction %v before the drop and %v after it, rolling resistance %v, digging %v lb over %v ft", g.MuUp, g.MuDown, g.CRR, g.Dig, g.DigRamp)
	if g == InventedGround() {
		words += ", all of them inventions of ours"
	}
	return fmt.Sprintf("%s; the track may be off by %v %%", words, math.Round(1e4*e.question.Drift)/100)
}

// SpeedLimited reports whether the rules limit the speed, so that the end-drag estimate is worth a look.
func (e *Estimate) SpeedLimited() bool { return !e.class.Rules.Speed.Limit.IsZero() }

// Curves returns the curve of each setting, the first that of the basis, with a point every so many feet up to the line.
func (e *Estimate) Curves(every float64) []*SledCurves {
	var list []*SledCurves
	for _, s := range slices.Concat([]setting{e.Job.from}, e.Job.second()) {
		one := SledJob{Kind: "curves", from: s}
		for ft := 0.0; ft < s.lineFt; ft += every {
			one.points = append(one.points, ft)
		}
		one.points = append(one.points, s.lineFt)
		list = append(list, one.curves())
	}
	return list
}

// second is the other setting of a what-if, none in another job.
func (j SledJob) second() []setting {
	if j.Kind != "whatif" {
		return nil
	}
	return []setting{j.to}
}
