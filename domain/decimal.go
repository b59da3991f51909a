package domain

import (
	"fmt"
	"strconv"
	"strings"
)

// decimal is a non-negative number in thousandths together with the number of decimals it was written with. It
// is the shape that distances, weights and speeds share; nothing in it is ever a float. "281.360" is milli
// 281360 with three digits, "281.36" is milli 281360 with two: equal in size, told apart only by ==.
//
// The digits are kept because a result is published as it was called out. Three of them are enough: the finest
// published results are in thousandths of a foot (https://ntpapull.com/pulling-101 speaks of thousandths, and
// results have three decimals of a foot).
type decimal struct {
	milli  int64
	digits uint8
}

// maxDecimal bounds what can be typed, in thousandths: no distance, weight or speed of a pull comes near it,
// and products with nanometres stay within 64 bits.
const maxDecimal = 9_999_999_999 // 9,999,999.999

// parseDecimal reads digits with at most three decimals. Spaces around are allowed, signs and exponents are
// not. The error is a plain sentence without a field or a fix, which the caller adds.
func parseDecimal(s string) (decimal, error) {
	s = strings.TrimSpace(s)
	whole, fraction, pointed := strings.Cut(s, ".")
	switch {
	// A comma is a decimal sign in one country and groups thousands in another: "1,234" is either 1.234 or
	// 1234. Guessing would place a puller wrongly, so it is refused.
	case strings.Contains(s, ","):
		return decimal{}, fmt.Errorf("%q has a comma; write the decimals after a point", s)
	case whole == "" || pointed && fraction == "" || !onlyDigits(whole) || !onlyDigits(fraction):
		return decimal{}, fmt.Errorf("%q is not a number such as 281.36", s)
	case len(fraction) > 3:
		return decimal{}, fmt.Errorf("%q has more than three decimals", s)
	}
	// Thousandths without arithmetic: the fraction is filled up to three figures and written behind the whole
	// part.
	milli, err := strconv.ParseInt(whole+fraction+strings.Repeat("0", 3-len(fraction)), 10, 64)
	if err != nil || milli > maxDecimal {
		return decimal{}, fmt.Errorf("%q is too large", s)
	}
	return decimal{milli: milli, digits: uint8(len(fraction))}, nil // #nosec G115 -- at most 3, checked above
}

// onlyDigits reports whether s has nothing but ASCII digits; the empty string has.
func onlyDigits(s string) bool {
	return strings.IndexFunc(s, func(r rune) bool { return r < '0' || r > '9' }) < 0
}

// String writes the number with the decimals it was given, so that parseDecimal reads the same value back.
func (d decimal) String() string {
	whole, fraction := d.milli/1000, d.milli%1000
	if d.digits == 0 {
		return strconv.FormatInt(whole, 10)
	}
	return fmt.Sprintf("%d.%s", whole, fmt.Sprintf("%03d", fraction)[:d.digits])
}
