package domain

import (
	"fmt"
	"strings"
)

// Speed is a speed in thousandths of miles or kilometres per hour, as it was read: the limit of a speed-limited
// class. The zero Speed means "none". The program shows a limit and measures none; published limits run from
// 2.75 to 6 mph.
type Speed struct {
	value  decimal
	metric bool
	given  bool
}

// ParseSpeed reads "3.5 mph" or "6 km/h"; the unit is needed. Empty text is the zero Speed, without an error.
func ParseSpeed(s string) (Speed, error) {
	text, metric := strings.TrimSpace(s), false
	if text == "" {
		return Speed{}, nil
	}
	figures, miles := strings.CutSuffix(text, "mph")
	if !miles {
		if figures, metric = strings.CutSuffix(text, "km/h"); !metric {
			return Speed{}, invalid("speed", fmt.Sprintf("%q has no unit of speed", s), "add mph or km/h, such as 3.5 mph")
		}
	}
	value, err := parseDecimal(figures)
	if err != nil {
		return Speed{}, &Error{Kind: Invalid, Field: "speed", Cause: err,
			Message: fmt.Sprintf("%q is not a speed: %v", s, err), Fix: "write figures and a unit, such as 3.5 mph"}
	}
	return Speed{value: value, metric: metric, given: true}, nil
}

// IsZero reports whether no speed was given.
func (v Speed) IsZero() bool { return !v.given }

// MilesPerHour returns the speed for the sled estimate; 0 for none. A mile is 1.609344 km exactly (NIST SP 811, appendix B.8).
func (v Speed) MilesPerHour() float64 {
	if v.metric {
		return float64(v.value.milli) / 1609.344
	}
	return float64(v.value.milli) / 1000
}

// String returns the figures with their unit: "3.5 mph". [ParseSpeed] reads it back to the same value.
func (v Speed) String() string {
	switch {
	case !v.given:
		return ""
	case v.metric:
		return v.value.String() + " km/h"
	default:
		return v.value.String() + " mph"
	}
}

// MarshalText writes [Speed.String].
func (v Speed) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText reads what MarshalText wrote; empty text is the zero Speed.
func (v *Speed) UnmarshalText(text []byte) (err error) {
	*v, err = ParseSpeed(string(text))
	return err
}
