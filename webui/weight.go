package webui

import (
	"fmt"
	"regexp"
	"strings"

	"clayline/domain"
)

var (
	// grouped is a number whose thousands are parted by spaces, as pages in some languages write it.
	grouped = regexp.MustCompile(`^\d{1,3}(?:[ \x{00a0}\x{202f}]\d{3})+`)
	// inTonnes is a weight in metric tonnes, after which classes are named in some countries.
	inTonnes = regexp.MustCompile(`^(\d+)(?:\.(\d{1,3}))?\s*t$`)
	// eitherWay is a number with one point and three digits behind it: decimals to some, thousands to others.
	eitherWay = regexp.MustCompile(`^\d{1,3}\.\d{3}(?:\s|$|[a-z])`)
)

// typedWeight reads a weight as people type it on a page; see [domain.ParseWeight]. Spaces between thousands are taken out,
// "lbs" is "lb", and 3.6 t is 3600 kg: a tonne is 1000 kg exactly (NIST SP 811, appendix B.8).
// What is decimals to one and thousands to the next, 8.150, is refused: no scale of a pull reads thousandths, and a weight
// that is a thousand times too small would pass every limit.
func typedWeight(s string) (domain.Weight, error) {
	s = strings.TrimSpace(s)
	if eitherWay.MatchString(s) {
		return domain.Weight{}, &domain.Error{
			Kind: domain.Invalid, Field: "weight", Message: fmt.Sprintf("%q may mean thousands or thousandths", s), Fix: "write thousands without a point, such as 8150, or fewer decimals",
		}
	}
	s = grouped.ReplaceAllStringFunc(s, func(n string) string { return strings.NewReplacer(" ", "", "\u00a0", "", "\u202f", "").Replace(n) })
	if pounds, ok := strings.CutSuffix(s, "lbs"); ok {
		s = pounds + "lb"
	}
	if m := inTonnes.FindStringSubmatch(s); m != nil {
		s = m[1] + (m[2] + "000")[:3] + " kg"
	}
	return domain.ParseWeight(s)
}
