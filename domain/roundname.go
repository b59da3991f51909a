package domain

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
)

// RoundName names a round of a class: class rounds are 1, 2, …; pull-offs are P1, P2, …. The zero RoundName is
// invalid and stands for "none". It is comparable, and its order by [RoundName.Compare] is the order of
// pulling, which is the order in which a standing looks at rounds.
type RoundName struct {
	PullOff bool
	Number  int
}

// ParseRoundName reads "1" or "P1", in either case and with spaces around; 1 to 99, without leading zeros, so
// that every round has one spelling.
func ParseRoundName(s string) (RoundName, error) {
	text := strings.ToUpper(strings.TrimSpace(s))
	figures, pullOff := strings.CutPrefix(text, "P")
	number, err := strconv.Atoi(figures)
	if err != nil || number < 1 || number > 99 || !onlyDigits(figures) || figures[0] == '0' {
		return RoundName{}, &Error{Kind: Invalid, Field: "round", Cause: err,
			Message: fmt.Sprintf("%q is not a round", s), Fix: "write 1, 2, … for class rounds and P1, P2, … for pull-offs"}
	}
	return RoundName{PullOff: pullOff, Number: number}, nil
}

// String returns "1" or "P1", and "" for the zero RoundName.
func (n RoundName) String() string {
	switch {
	case n.Number == 0:
		return ""
	case n.PullOff:
		return "P" + strconv.Itoa(n.Number)
	default:
		return strconv.Itoa(n.Number)
	}
}

// Compare orders rounds as they are pulled: class rounds first, then the pull-offs. P2 comes after P1, not
// before 1.
func (n RoundName) Compare(m RoundName) int {
	if n.PullOff != m.PullOff {
		if m.PullOff {
			return -1
		}
		return 1
	}
	return cmp.Compare(n.Number, m.Number)
}

// MarshalText writes [RoundName.String].
func (n RoundName) MarshalText() ([]byte, error) { return []byte(n.String()), nil }

// UnmarshalText reads what MarshalText wrote; empty text is refused.
func (n *RoundName) UnmarshalText(text []byte) (err error) {
	*n, err = ParseRoundName(string(text))
	return err
}
