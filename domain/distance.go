package domain

import (
	"cmp"
	"fmt"
	"strings"
)

// Unit is a unit of length in which a track is measured. The zero Unit is invalid.
type Unit uint8

// The units that tracks are measured in. Feet and inches are one family and may be mixed in a class; metres
// stand alone.
const (
	Foot Unit = iota + 1
	Inch
	Metre
)

// nanometresPerMilli is how many nanometres a thousandth of a unit is, all exact: 1 ft = 0.3048 m, 1 in = 25.4
// mm (NIST). A nanometre divides all three, which is why lengths of different units can be compared as whole
// numbers. The entry of the zero Unit is 0, so that no distance compares like no length.
var nanometresPerMilli = [...]int64{Foot: 304_800, Inch: 25_400, Metre: 1_000_000}

// unitNames are the short names, which are also how a unit is written in documents and in the database.
var unitNames = map[Unit]string{Foot: "ft", Inch: "in", Metre: "m"}

// ParseUnit reads "ft", "in" or "m", in lower case and without spaces.
func ParseUnit(s string) (Unit, error) {
	for unit, name := range unitNames {
		if s == name {
			return unit, nil
		}
	}
	return 0, invalid("unit", fmt.Sprintf("%q is not a unit of distance", s), "write ft, in or m")
}

// String returns "ft", "in" or "m", and "" for the zero Unit.
func (u Unit) String() string { return unitNames[u] }

// MarshalText writes the unit's short name.
func (u Unit) MarshalText() ([]byte, error) { return []byte(u.String()), nil }

// UnmarshalText reads the unit's short name; empty text is refused.
func (u *Unit) UnmarshalText(text []byte) (err error) {
	*u, err = ParseUnit(string(text))
	return err
}

// metric reports whether the unit belongs to the metric family; feet and inches go together. A figure of the
// other family is taken for a slip and refused where a class is measured.
func (u Unit) metric() bool { return u == Metre }

// Distance is a measured length: thousandths of the unit it was measured in, and the decimals it was read with.
// It is comparable; the zero Distance means "none" and is not the same as 0 ft. Ranking uses
// [Distance.Compare], which is exact across units; == also tells the digits and the unit apart.
//
// A length is never converted to be stored. 281.36 ft stays 281360 thousandths of a foot with two digits;
// compared, it is 85,758,528,000 nm. From where to where it is measured is the event's business: from the front
// of the pan (NK 3) or of the skid plate (MICRO 7), for instance.
type Distance struct {
	value decimal
	unit  Unit
}

// ParseDistance reads a distance as it is called out or written: "281.36", "281.36 ft", "83.91 m" or 287' 4.5",
// which is kept in inches. Figures without a unit are in the given unit; the zero Unit makes a unit in the text
// necessary. The error is an [Error] of kind Invalid at the field "distance".
func ParseDistance(s string, unit Unit) (Distance, error) {
	text := strings.TrimSpace(s)
	if feet, inches, ok := strings.Cut(text, "'"); ok {
		return parseFeetInches(s, feet, inches)
	}
	// No unit's name ends in another's, so the order of the map does not matter.
	for u, name := range unitNames {
		if figures, ok := strings.CutSuffix(text, name); ok {
			text, unit = figures, u
			break
		}
	}
	// What is left may have spaces between figures and unit, which parseDecimal takes.
	value, err := parseDecimal(text)
	if err != nil {
		return Distance{}, distanceError(s, err)
	}
	if unit == 0 {
		return Distance{}, invalid("distance", fmt.Sprintf("%q has no unit", s), "add ft, in or m")
	}
	return Distance{value: value, unit: unit}, nil
}

// parseFeetInches reads the two halves of 287' 4.5" into inches. Decimals are allowed in the inches alone; 287'
// stands for 287' 0", and 12 inches or more beside the feet are taken for a slip. s is the whole text, for the
// refusal.
func parseFeetInches(s, feet, inches string) (Distance, error) {
	whole, err := parseDecimal(feet)
	if err == nil && whole.digits > 0 {
		err = fmt.Errorf("%q has decimals in the feet", s)
	}
	if err != nil {
		return Distance{}, distanceError(s, err)
	}
	rest := decimal{}
	if inches = strings.TrimSpace(inches); inches != "" {
		figures, ok := strings.CutSuffix(inches, `"`)
		if !ok {
			return Distance{}, distanceError(s, fmt.Errorf("%q does not end in inches", s))
		}
		if rest, err = parseDecimal(figures); err != nil {
			return Distance{}, distanceError(s, err)
		}
	}
	if rest.milli >= 12_000 {
		return Distance{}, distanceError(s, fmt.Errorf("%q has 12 inches or more beside the feet", s))
	}
	return Distance{value: decimal{milli: whole.milli*12 + rest.milli, digits: rest.digits}, unit: Inch}, nil
}

// distanceError refuses a text as a distance, with what was wrong about it.
func distanceError(s string, cause error) error {
	return &Error{
		Kind: Invalid, Field: "distance", Cause: cause,
		Message: fmt.Sprintf("%q is not a distance: %v", s, cause),
		Fix:     "write figures with up to three decimals, such as 281.36",
	}
}

// IsZero reports whether d is the zero Distance, which stands for "none measured". It is false for 0 ft, which
// is a measured distance: the sled did not move.
func (d Distance) IsZero() bool { return d.unit == 0 }

// Unit returns the unit d was measured in.
func (d Distance) Unit() Unit { return d.unit }

// Milli returns thousandths of [Distance.Unit]. It is for drawing and for tests of another distance of the same
// unit; across units use [Distance.Compare].
func (d Distance) Milli() int64 { return d.value.milli }

// Feet returns the length for the sled estimate, which computes in feet; 0 for none. Nothing is ranked or stored by it.
func (d Distance) Feet() float64 {
	return float64(d.value.milli) * float64(nanometresPerMilli[d.unit]) / float64(nanometresPerMilli[Foot]) / 1000
}

// Compare orders distances exactly, whatever their units: -1 when d is shorter than e, 0 when equal, +1 when
// longer. Digits do not count: 281.36 ft equals 281.360 ft. The zero Distance compares like 0.
func (d Distance) Compare(e Distance) int { return cmp.Compare(d.nanometres(), e.nanometres()) }

// nanometres returns the exact length, 0 for the zero Distance. The largest distance that can be typed is 10^16
// nm, a thousandth of what an int64 holds.
func (d Distance) nanometres() int64 { return d.value.milli * nanometresPerMilli[d.unit] }

// Add returns the sum in d's unit, or e when d is the zero Distance. Adding to or from another unit rounds down
// to a thousandth of d's unit; within a class every distance has the class's own unit, where the sum is exact.
// It is for the figure that is printed; ranking adds nanometres.
func (d Distance) Add(e Distance) Distance {
	if d.unit == 0 {
		return e
	}
	return Distance{unit: d.unit, value: decimal{
		milli: d.value.milli + e.nanometres()/nanometresPerMilli[d.unit], digits: d.digitsWith(e),
	}}
}

// digitsWith is how many decimals a sum of d and e is written with: the more of the two, and all three when a
// unit had to be converted.
func (d Distance) digitsWith(e Distance) uint8 {
	if !e.IsZero() && e.unit != d.unit {
		return 3
	}
	return max(d.value.digits, e.value.digits)
}

// In converts d to another unit for display, rounded half up to the given number of decimals (0 to 3). The zero
// Distance stays what it is. What comes back must not be ranked: 83.9112 m shown as 83.91 m would tie with
// another 83.91.
func (d Distance) In(unit Unit, decimals int) Distance {
	if d.IsZero() {
		return d
	}
	// step is one in the last shown decimal, in nanometres. Twice everything, so that half of an odd step is
	// whole.
	step := nanometresPerMilli[unit]
	for range 3 - decimals {
		step *= 10
	}
	steps := (2*d.nanometres() + step) / (2 * step)
	return Distance{unit: unit, value: decimal{milli: steps * step / nanometresPerMilli[unit], digits: uint8(decimals)}} // #nosec G115 -- 0 to 3
}

// Decimal returns the digits as given, as one number in [Distance.Unit]: "281.36"; inches are not split into
// feet: "3448.5". It is how documents and the database keep the figures, beside the unit.
func (d Distance) Decimal() string {
	if d.unit == 0 {
		return ""
	}
	return d.value.String()
}

// Figures returns the digits as given, without the unit: "281.36", or 287' 4.5" for inches, which are read as
// feet and inches on a track. It is "" for the zero Distance.
func (d Distance) Figures() string {
	switch d.unit {
	case 0:
		return ""
	case Inch:
		feet := d.value.milli / 12_000
		return fmt.Sprintf(`%d' %s"`, feet, decimal{milli: d.value.milli % 12_000, digits: d.value.digits})
	default:
		return d.value.String()
	}
}

// String returns the figures with their unit: "281.36 ft". Inches carry theirs in the figures. [ParseDistance]
// reads it back to the same value, digits included.
func (d Distance) String() string {
	switch d.unit {
	case 0, Inch:
		return d.Figures()
	default:
		return d.Figures() + " " + d.unit.String()
	}
}

// MarshalText writes [Distance.String].
func (d Distance) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText wrote; empty text is the zero Distance.
func (d *Distance) UnmarshalText(text []byte) (err error) {
	if len(text) == 0 {
		*d = Distance{}
		return nil
	}
	*d, err = ParseDistance(string(text), 0)
	return err
}
