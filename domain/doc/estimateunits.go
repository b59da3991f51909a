package doc

import (
	"strconv"

	"clayline/domain"
	"clayline/domain/sled"
)

// EstimateUnits are the units in which people read an estimate; it computes in feet and pounds whatever they are. A pull and a
// drag are read in the unit of weights: as many pounds or kilograms as would hang from the chain.
//
//	FeetAndPounds()               310.4 ft is "310", 7,104 lb is 7,104
//	those of a class in metres    310.4 ft is "94.6", 7,104 lb is 3,222
type EstimateUnits struct {
	Length, Weight  string  // "ft" and "lb", or "m" and "kg"
	metres, newtons float64 // what one of each is
	digits          int
}

// FeetAndPounds are the units of a job, in whole feet since no more is known.
func FeetAndPounds() EstimateUnits {
	return EstimateUnits{Length: domain.Foot.String(), Weight: "lb", metres: sled.Foot, newtons: sled.PoundForce}
}

// EstimateUnitsOf are those of a class: metres and kilograms where it is measured in metres, with one decimal, which is
// about a foot.
func EstimateUnitsOf(c *domain.Class) EstimateUnits {
	if c.Rules.Unit() != domain.Metre {
		return FeetAndPounds()
	}
	return EstimateUnits{Length: domain.Metre.String(), Weight: "kg", metres: 1, newtons: sled.Gravity, digits: 1}
}

// Metric reports whether these are metres and kilograms.
func (u EstimateUnits) Metric() bool { return u.digits > 0 }

// Long converts a length in feet.
func (u EstimateUnits) Long(ft float64) float64 { return ft * sled.Foot / u.metres }

// Heavy converts a weight or a force in pounds.
func (u EstimateUnits) Heavy(lb float64) float64 { return lb * sled.PoundForce / u.newtons }

// Metres and Newtons are what one of the units of length and of weight is in SI, for who draws in them.
func (u EstimateUnits) Metres() float64 { return u.metres }

// Newtons is explained with [EstimateUnits.Metres].
func (u EstimateUnits) Newtons() float64 { return u.newtons }

// Figure writes a length in feet in the unit, as exactly as an estimate knows it: "281", "85.7".
func (u EstimateUnits) Figure(ft float64) string {
	return strconv.FormatFloat(u.Long(ft), 'f', u.digits, 64)
}
