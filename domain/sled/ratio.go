package sled

import (
	"errors"
	"math"
)

// Pair is what one vehicle did under two settings of a sled: its stops, in metres, which drag alone ended.
type Pair struct {
	First, Second         func(Ground) *Curve // the settings' curves on any ground
	FirstStop, SecondStop float64
}

// Bounds of a ratio of friction after the drop to that before it, and in how many steps they are searched at first.
const (
	leastRatio, mostRatio = 0.5, 4.
	ratioSteps            = 140
)

// tellsNothing is how much the misfit must change within the bounds: 5 % of the pull. A change of gear alone hardly changes
// it, since the vehicle stops where the box stands at the same place, and a foot would then make any ratio.
const tellsNothing = 0.05 * 0.05

// Why a ratio cannot be found.
var (
	ErrNoPair     = errors.New("no vehicle stopped under both settings")
	ErrInsensible = errors.New("the stops say nothing of the ratio")
)

// Ratio finds MuDown over MuUp from pairs: the same vehicle has the same pull, so that mean drag to its two stops is equal
// (equation 15 of docs/sled.md). The ground's other coefficients are kept; of several pairs the sum of the squared
// differences of the logarithms is least. It never finds the absolute size of friction, which cancels, and it cannot tell
// a track that dried between the two from a ratio.
//
// Left is the root of the mean square of those differences: what the pairs disagree by, as a share of the pull. The error
// is [ErrInsensible] where the best ratio lies at the bounds of 0.5 to 4, or hardly changes anything, as when both stops
// lie before the drop or the settings differ by the gear alone. Another trip tells most.
func Ratio(ground Ground, pairs []Pair) (ratio, left float64, err error) {
	if len(pairs) == 0 {
		return 0, 0, ErrNoPair
	}
	misfit := func(ratio float64) float64 { return misfitOf(ground, pairs, ratio) }
	best, most := 0, misfit(leastRatio)
	least := most
	step := math.Pow(mostRatio/leastRatio, 1./ratioSteps)
	for i := 1; i <= ratioSteps; i++ {
		m := misfit(leastRatio * math.Pow(step, float64(i)))
		most = max(most, m)
		if m < least {
			best, least = i, m
		}
	}
	if best == 0 || best == ratioSteps || most-least < tellsNothing {
		return 0, 0, ErrInsensible
	}
	ratio = lowest(misfit, leastRatio*math.Pow(step, float64(best-1)), leastRatio*math.Pow(step, float64(best+1)))
	return ratio, math.Sqrt(misfit(ratio)), nil
}

// misfitOf is the mean square of the differences of the logarithms of the pull that each pair shows.
func misfitOf(ground Ground, pairs []Pair, ratio float64) (sum float64) {
	ground.MuDown = ground.MuUp * ratio
	for _, p := range pairs {
		first, second := p.First(ground).Mean(p.FirstStop), p.Second(ground).Mean(p.SecondStop)
		difference := math.Log(first / second)
		sum += difference * difference / float64(len(pairs))
	}
	return sum
}

// lowest returns where a function with one lowest place between two others has it, by the golden section.
func lowest(of func(float64) float64, from, to float64) float64 {
	golden := (math.Sqrt(5) - 1) / 2
	for range 60 {
		a, b := to-golden*(to-from), from+golden*(to-from)
		if of(a) < of(b) {
			to = b
		} else {
			from = a
		}
	}
	return (from + to) / 2
}
