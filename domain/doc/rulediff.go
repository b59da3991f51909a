package doc

import (
	"fmt"

	"clayline/domain"
)

// unitWords are the units in words. A figure in inches is shown in feet and inches.
var unitWords = map[domain.Unit]string{domain.Foot: "feet", domain.Inch: "feet and inches", domain.Metre: "metres"}

// DiffRuleSets explains in sentences what differs between two rule sets, field by field; nothing when they are
// the same. The sets go by the names given, which the caller makes tell them apart: a club's own file may have
// the name of the set it began with. What has no meaning in one of two sets, such as a pull-off in a floating
// one, is told by the sentence about the field that took it away.
func DiffRuleSets(nameA string, a domain.RuleSet, nameB string, b domain.RuleSet) []string {
	var sentences []string
	if a.Name != b.Name {
		sentences = append(sentences, fmt.Sprintf("One set is called %s, the other %s.", a.Name, b.Name))
	}
	for _, s := range ruleSentences {
		inA, inB := s.says(a), s.says(b)
		if inA != inB && inA != "" && inB != "" {
			sentences = append(sentences, fmt.Sprintf("In %s %s %s; in %s %s %s.", nameA, s.subject, inA, nameB, s.again, inB))
		}
	}
	return sentences
}
