package sled

import (
	"errors"
	"math"
)

// Sample is a drag that was measured in the chain, in newtons, at a travel in metres.
type Sample struct{ Travel, Drag float64 }

// Coefficients are friction and rolling resistance that fit samples best, and the root of the mean square of what they
// leave, in newtons.
type Coefficients struct{ Mu, CRR, RMS float64 }

// Why samples cannot be fitted.
var (
	ErrFew   = errors.New("two unknowns need two samples")
	ErrMixed = errors.New("friction differs before and after the drop")
	ErrSame  = errors.New("the loads are the same in all samples")
)

// Calibrate fits friction and rolling resistance to samples by least squares (equation 13). The loads come from the
// curve, and so does the digging part of drag, which is taken off: friction of the curve does not matter. Samples must
// all lie before the drop or all behind it, or the error is [ErrMixed]. Pan load and axle load add up to the same weight,
// so drag is a straight line in the pan load; its slope is mu - crr, and the loads must vary: else [ErrSame].
func (c *Curve) Calibrate(samples []Sample) (Coefficients, error) {
	if len(samples) < 2 {
		return Coefficients{}, ErrFew
	}
	n := float64(len(samples))
	var meanPan, meanDrag float64
	for _, s := range samples {
		if (justAfter(s.Travel) >= c.trip) != (justAfter(samples[0].Travel) >= c.trip) {
			return Coefficients{}, ErrMixed
		}
		pan, drag := c.fitted(s)
		meanPan, meanDrag = meanPan+pan/n, meanDrag+drag/n
	}
	var panPan, panDrag float64
	for _, s := range samples {
		pan, drag := c.fitted(s)
		panPan += (pan - meanPan) * (pan - meanPan)
		panDrag += (pan - meanPan) * (drag - meanDrag)
	}
	if math.Sqrt(panPan/n) <= 1e-9*c.Weight() {
		return Coefficients{}, ErrSame
	}
	slope := panDrag / panPan
	crr := (meanDrag - slope*meanPan) / c.Weight()
	var square float64
	for _, s := range samples {
		pan, drag := c.fitted(s)
		off := drag - crr*c.Weight() - slope*pan
		square += off * off
	}
	return Coefficients{Mu: crr + slope, CRR: crr, RMS: math.Sqrt(square / n)}, nil
}

// fitted returns the pan load at a sample and the drag that friction and rolling resistance have to explain.
func (c *Curve) fitted(s Sample) (pan, drag float64) {
	pan, _ = c.Loads(s.Travel)
	return pan, s.Drag - c.dig(s.Travel, justAfter(s.Travel))
}
