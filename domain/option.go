package domain

import (
	"fmt"
	"strconv"
)

// Option is what a puller may choose when the rules leave a choice after a hook. The zero Option means "not
// chosen", or in a hook that no choice was open; a published result shows it as little as [Keep].
type Option int8

// The options. A positive Option is a place in the line-up, counted from now: 3 means "hooks again in third
// place", after two others. SNUB 3 has the original place instead, which is none of these; BEAST drops the test
// puller to the end without a choice, which a rule set cannot say.
const (
	// Keep takes the result as it is.
	Keep Option = -1 - iota
	// ToLast gives the hook up and hooks again at the end of the line-up.
	ToLast
	// AtOnce gives the hook up and hooks again immediately.
	AtOnce
	// ToOriginal gives the hook up and hooks again where the draw had put the entry: for a test puller whom the sled
	// operator chose out of turn (SNUB 3).
	ToOriginal
)

// optionWords are the words of rule sets, the journal and the database.
var optionWords = map[Option]string{Keep: "keep", ToLast: "last", AtOnce: "now", ToOriginal: "original"}

// ParseOption reads "keep", "last", "now", "original" or a place from "2" on, up to 127. Place 1 would be at once, which
// has its own word.
func ParseOption(s string) (Option, error) {
	for option, word := range optionWords {
		if s == word {
			return option, nil
		}
	}
	place, err := strconv.ParseInt(s, 10, 8)
	if err != nil || place < 2 {
		return 0, invalid("option", fmt.Sprintf("%q is not an option", s), "write keep, last, now, original or a place such as 3")
	}
	return Option(place), nil
}

// String returns "keep", "last", "now", "original" or the place, and "" for the zero Option, which means "not chosen".
func (o Option) String() string {
	if o > 0 {
		return strconv.Itoa(int(o))
	}
	return optionWords[o]
}

// MarshalText writes [Option.String].
func (o Option) MarshalText() ([]byte, error) { return []byte(o.String()), nil }

// UnmarshalText reads what MarshalText wrote; empty text is the zero Option.
func (o *Option) UnmarshalText(text []byte) (err error) {
	*o = 0
	if len(text) > 0 {
		*o, err = ParseOption(string(text))
	}
	return err
}
