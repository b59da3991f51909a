package doc

import (
	"math"
	"slices"

	"clayline/domain/sled"
)

// Run does the job. It cannot fail: what could go wrong was found when the job was read.
func (j SledJob) Run() SledResult {
	switch j.Kind {
	case "curves":
		return SledResult{Curves: j.curves()}
	case "topout":
		return SledResult{TopOuts: j.topOuts()}
	case "whatif":
		return SledResult{WhatIf: j.whatIf()}
	case "compare":
		return SledResult{Compare: j.compare()}
	default:
		fit, _ := j.from.curve.Calibrate(j.samples) // it was tried when the job was read
		return SledResult{Calibrate: &SledCoefficients{Mu: fit.Mu, CRR: fit.CRR, RMS: fit.RMS / sled.PoundForce}}
	}
}

// curves does a curves job.
func (j SledJob) curves() *SledCurves {
	c := j.from.curve
	result := &SledCurves{
		Advance: j.from.advance, TopOut: finite(c.TopOut(), sled.Foot), Trip: finite(c.Trip(), sled.Foot), PushDown: finite(c.PushDown(), sled.Foot),
		Weight: c.Weight() / sled.PoundForce, Points: make([]SledPoint, len(j.points)), Full: fullOf(j.from),
		Monotone: c.Monotone(), Flat: c.Flat(), Warnings: warningsOf(j.from), SledTalk: SledTalk{j.from.advice("", true)},
	}
	for i, ft := range j.points {
		result.Points[i] = pointOf(c, ft)
	}
	if j.vehicle > 0 {
		result.Implied = impliedOf(c, j.vehicle, j.stop)
	}
	return result
}

// pointOf writes the curve at a travel in feet.
func pointOf(c *sled.Curve, ft float64) SledPoint {
	d := ft * sled.Foot
	pan, axle := c.Loads(d)
	return SledPoint{Travel: ft, Box: c.Box(d) / sled.Foot, Pan: pan / sled.PoundForce, Axle: axle / sled.PoundForce,
		Drag: c.Drag(d) / sled.PoundForce, Work: c.Work(d) / sled.FootPound, Mean: c.Mean(d) / sled.PoundForce}
}

// fullOf writes the curve at the line.
func fullOf(s setting) SledFull {
	p := pointOf(s.curve, s.lineFt)
	full := SledFull{Travel: p.Travel, Drag: p.Drag, Mean: p.Mean, Work: p.Work, WorkKJ: s.curve.Work(s.line) / 1000}
	if elasticity, ok := s.curve.Elasticity(s.line); ok && !s.curve.Flat() {
		full.Elasticity = &elasticity
	}
	return full
}

// impliedOf writes what a stop says of a vehicle. Its speed is that of a vehicle of constant pull, with the sled behind it.
func impliedOf(c *sled.Curve, vehicle, stop float64) *SledImplied {
	pull := c.Mean(stop)
	at, energy := c.Peak(pull, stop)
	mass := (vehicle + c.Weight()) / sled.Gravity
	return &SledImplied{Pull: pull / sled.PoundForce, PeakSpeed: math.Sqrt(2*energy/mass) / sled.MilePerHour, PeakAt: at / sled.Foot,
		PeakEnergy: energy / sled.FootPound, OverWeight: pull / vehicle}
}

// topOuts does a topout job.
func (j SledJob) topOuts() *SledTopOuts {
	result := &SledTopOuts{Holes: j.sled.holes}
	for _, gear := range j.sled.gears() {
		tops := SledGearTops{Gear: gear, Advance: j.sled.advance[gear]}
		for i := range j.sled.holes {
			start, _ := j.sled.startAt(i) // it was checked when the job was read
			setup := sled.Setup{BoxStart: start, Advance: tops.Advance}
			tops.TopOuts = append(tops.TopOuts, sled.NewCurve(j.sled.sled, sled.Ground{}, setup).TopOut()/sled.Foot)
		}
		result.Gears = append(result.Gears, tops)
	}
	return result
}

// whatIf does a whatif job.
func (j SledJob) whatIf() *SledWhatIf {
	change := sled.Change{From: j.from.curve, To: j.to.curve, FromLine: j.from.line, ToLine: j.to.line, Drift: j.drift}
	result := &SledWhatIf{
		Rows:     make([]SledRow, len(j.runs)),
		MeanFull: FromTo[float64]{j.from.curve.Mean(j.from.line) / sled.PoundForce, j.to.curve.Mean(j.to.line) / sled.PoundForce},
		Monotone: FromTo[bool]{j.from.curve.Monotone(), j.to.curve.Monotone()},
		Warnings: warningsOf(j.from, j.to),
	}
	var count sled.Count
	for i, r := range j.runs {
		row := change.Row(r.run)
		count.Add(row)
		result.Rows[i] = rowOf(r.id, row)
	}
	result.FullPulls = SledCount(count)
	result.Advice = slices.Concat(j.from.advice("setup: ", false), j.to.advice("setup_to: ", false), j.runAdvice(result.Rows))
	return result
}

// compare does a compare job.
func (j SledJob) compare() *SledCompare {
	pull, known := j.pull, true
	if len(j.runs) > 0 {
		pull, _ = j.from.curve.Pull(j.runs[0].run, j.from.line)
		known = !j.from.curve.Flat() || j.runs[0].run.LineSpeed > 0
	}
	result := &SledCompare{Pull: pull / sled.PoundForce, Warnings: warningsOf(j.others...)}
	for _, s := range j.others {
		prediction := sled.Prediction{Status: sled.Indeterminate}
		if known {
			prediction = s.curve.Predict(pull, s.line)
		}
		result.Rows = append(result.Rows, SledCompareRow{SledPrediction: predictionOf(prediction), Label: s.label,
			MeanFull: s.curve.Mean(s.line) / sled.PoundForce, Monotone: s.curve.Monotone()})
		result.Advice = append(result.Advice, s.advice(s.label+": ", false)...)
	}
	return result
}
