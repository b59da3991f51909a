package doc

import (
	"slices"
	"strings"

	"clayline/domain"
)

// alwaysTold are the fields that a description of a rule set tells whatever they say: what people at a track ask for
// first.
var alwaysTold = []string{
	"Line", "Capped", "Rounds", "Order.By", "RestartLine", "Test.Options", "Test.Until", "RehookDrop", "DropPlaces", "Reset", "PullOff.Who", "Ties.Ties",
}

// neverTold are the fields that say no rule, or nothing beside another sentence.
var neverTold = []string{"Title", "Restarts.Share", "Restarts.Kinds", "Test.Must"}

// DescribeRuleSet says what a rule set says, in the sentences of [DiffRuleSets]: the main rules, and of the others those
// that are not what a set means which does not mention them. A class of one round at 300 ft begins:
//
//	The class is measured in feet, and the full-pull line lies at 300 ft.
//	The line caps class pulls: at or past it all are equal, and two or more full pullers come back for a pull-off.
//	A class has 1 class round.
func DescribeRuleSet(r domain.RuleSet) []string {
	plain := domain.RuleSet{
		Line: r.Line, Capped: r.Capped, Rounds: r.Rounds, Count: domain.BestOf, Reset: domain.Restart, RestartLine: r.RestartLine,
		Restarts: domain.RestartRule{Share: r.Restarts.Share}, Test: domain.TestRule{Options: r.Test.Options, Must: r.Test.Must},
	}
	if r.Capped {
		plain.PullOff.Absent = domain.LastOfPullOff
	}
	var sentences []string
	for _, s := range ruleSentences {
		said := s.says(r)
		told := slices.Contains(alwaysTold, s.field) || said != s.says(plain)
		if said != "" && told && !slices.Contains(neverTold, s.field) {
			sentences = append(sentences, strings.ToUpper(s.subject[:1])+s.subject[1:]+" "+said+".")
		}
	}
	return sentences
}
