package domain

import (
	"fmt"
	"strings"
)

// Weight is a weight in thousandths of the unit it was read in, pounds or kilograms, with the decimals it was
// read with. The zero Weight means "none" and is not 0 lb. Weights are shown and kept, never converted for show:
// what a sled crew wrote in pounds is repeated in pounds.
type Weight struct {
	value  decimal
	metric bool
	given  bool
}

// ParseWeight reads "21600 lb" or "2500 kg"; thousands may be grouped with commas ("21,600 lb"). The unit is
// needed, because a box weight in the wrong one looks likely in both. Empty text is the zero Weight, without an
// error.
func ParseWeight(s string) (Weight, error) {
	text, metric := strings.TrimSpace(s), false
	if text == "" {
		return Weight{}, nil
	}
	figures, pounds := strings.CutSuffix(text, "lb")
	if !pounds {
		if figures, metric = strings.CutSuffix(text, "kg"); !metric {
			return Weight{}, invalid("weight", fmt.Sprintf("%q has no unit of weight", s), "add lb or kg, such as 21600 lb")
		}
	}
	value, err := parseDecimal(ungroup(figures))
	if err != nil {
		return Weight{}, &Error{Kind: Invalid, Field: "weight", Cause: err,
			Message: fmt.Sprintf("%q is not a weight: %v", s, err), Fix: "write figures and a unit, such as 21600 lb"}
	}
	return Weight{value: value, metric: metric, given: true}, nil
}

// ungroup takes the commas out of a number whose groups are whole thousands, and leaves any other text as it
// is, for parseDecimal to refuse. "21,600" and "1,234.5" lose their commas; "21,6", which is a decimal comma,
// and "1,2345" keep them.
func ungroup(s string) string {
	groups := strings.Split(strings.TrimSpace(s), ",")
	if len(groups) > 1 && (groups[0] == "" || len(groups[0]) > 3) {
		return s
	}
	for i, g := range groups[1:] {
		if whole, _, pointed := strings.Cut(g, "."); len(whole) != 3 || pointed && i != len(groups)-2 {
			return s
		}
	}
	return strings.Join(groups, "")
}

// IsZero reports whether no weight was given.
func (w Weight) IsZero() bool { return !w.given }

// Figures returns the number without its unit, thousands grouped: "21,600", and the decimals it was given.
func (w Weight) Figures() string {
	if !w.given {
		return ""
	}
	whole, fraction, pointed := strings.Cut(w.value.String(), ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if pointed {
		return whole + "." + fraction
	}
	return whole
}

// Unit returns "lb" or "kg", and "" when no weight was given.
func (w Weight) Unit() string {
	switch {
	case !w.given:
		return ""
	case w.metric:
		return "kg"
	default:
		return "lb"
	}
}

// String returns the figures with their unit: "21,600 lb". [ParseWeight] reads it back to the same value.
func (w Weight) String() string { return strings.TrimSpace(w.Figures() + " " + w.Unit()) }

// MarshalText writes [Weight.String].
func (w Weight) MarshalText() ([]byte, error) { return []byte(w.String()), nil }

// UnmarshalText reads what MarshalText wrote; empty text is the zero Weight.
func (w *Weight) UnmarshalText(text []byte) (err error) {
	*w, err = ParseWeight(string(text))
	return err
}

// Pounds returns the weight for the sled estimate, which computes in pounds; 0 for none. What is shown, stored or compared
// is the weight itself.
func (w Weight) Pounds() float64 { return float64(w.exact()) / 45_359_237_000 }

// exact is the weight in hundred-billionths of a kilogram: a pound is 0.45359237 kg exactly (NIST SP 811, appendix B.8).
func (w Weight) exact() int64 {
	if w.metric {
		return w.value.milli * 100_000_000
	}
	return w.value.milli * 45_359_237
}

// Same reports whether two weights are equal, exactly, in whatever units and with whatever decimals.
func (w Weight) Same(v Weight) bool { return w.given == v.given && w.exact() == v.exact() }

// heavier reports whether w is more than v, exactly, in whatever units.
func (w Weight) heavier(v Weight) bool { return w.exact() > v.exact() }
