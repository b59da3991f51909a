package domain

import (
	"cmp"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"
)

// Speed is a speed in thousandths of miles or kilometres per hour, as it was read: the limit of a speed-limited
// class, or what a device read of a hook. The zero Speed means "none". The program measures none; published limits
// run from 2.75 to 6 mph.
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

// Compare orders two speeds exactly, whatever their units: a mile is 1.609344 km. The zero Speed is like 0.
func (v Speed) Compare(other Speed) int { return cmp.Compare(v.micrometres(), other.micrometres()) }

// micrometres is the speed in micrometres an hour, which both units have in whole numbers.
func (v Speed) micrometres() int64 {
	if v.metric {
		return v.value.milli * 1_000_000
	}
	return v.value.milli * 1_609_344
}

// Speeds are what a device read of a hook: the top speed and the speed at the full-pull line, each zero where the device
// does not give it. The zero Speeds are no reading. They read as "top 18.4 mph, at the line 17.9 mph".
type Speeds struct {
	Top, AtLine Speed
}

// String tells what was read, "" for nothing.
func (s Speeds) String() string {
	var parts []string
	if !s.Top.IsZero() {
		parts = append(parts, "top "+s.Top.String())
	}
	if !s.AtLine.IsZero() {
		parts = append(parts, "at the line "+s.AtLine.String())
	}
	return strings.Join(parts, ", ")
}

// Highest returns the higher of the two speeds; zero where nothing was read.
func (s Speeds) Highest() Speed {
	if s.AtLine.Compare(s.Top) > 0 {
		return s.AtLine
	}
	return s.Top
}

// ReadSpeed stores what the device read of a hook, of any round. It may be stored as often as needed: the last reading
// stands, the journal has those before it, and one without a speed takes it back. It changes no result, whatever the
// limit is; see [Class.OverLimit].
type ReadSpeed struct {
	Hook        uuid.UUID
	Top, AtLine Speed
}

// decide takes a reading of a hook that is under way too: some devices show it before the tape is read.
func (a ReadSpeed) decide(c *Class, _ time.Time) error {
	_, h := c.find(a.Hook)
	switch {
	case h == nil:
		return notFound("there is no such hook", "reload the page")
	case h.Result.Outcome == Absent:
		return wrongState("number "+c.numberOf(h.Entry)+" was absent, and no speed can have been read", "choose another hook")
	case !a.Top.IsZero() && a.AtLine.Compare(a.Top) > 0:
		return invalid("at_line", fmt.Sprintf("%s at the line is more than the top speed %s", a.AtLine, a.Top), "look again; the two may be the wrong way round")
	}
	h.Speeds = Speeds{Top: a.Top, AtLine: a.AtLine}
	return nil
}
