package doc

import (
	"fmt"
	"slices"
	"strings"

	"clayline/domain"
)

// ruleSentence explains one field of a rule set in words: what it is about, how the second half of a sentence
// takes that up, and what a set says of it. Two sets that differ in the field say different things; "" means
// that the field has no meaning in the set, because another field has taken it away.
type ruleSentence struct {
	field          string // the field of [domain.RuleSet], after that of its group and a full stop
	subject, again string
	says           func(domain.RuleSet) string
}

// ruleSentences has a sentence for every field of [domain.RuleSet], in its order; a test holds that none is
// missing. The name is told by [DiffRuleSets] itself.
var ruleSentences = slices.Concat([]ruleSentence{
	{"Title", "the title", "it", func(r domain.RuleSet) string {
		return either(r.Title == "", "is left out", fmt.Sprintf("is %q", r.Title))
	}},
	{"Line", "the class", "it", func(r domain.RuleSet) string {
		return fmt.Sprintf("is measured in %s, and the full-pull line lies at %s", unitWords[r.Unit()], r.Line)
	}},
	{"Capped", "the line", "it", func(r domain.RuleSet) string {
		return either(r.Capped, "caps class pulls: at or past it all are equal, and two or more full pullers come back for a pull-off",
			"caps nothing: the figure counts wherever the sled stops, and there is no pull-off")
	}},
	{"Rounds", "a class", "it", func(r domain.RuleSet) string {
		return either(r.Rounds == 1, "has 1 class round", fmt.Sprintf("has %d class rounds", r.Rounds))
	}},
	{"Count", "the class total", "it", func(r domain.RuleSet) string {
		return either(r.Count == domain.SumOf, "is the sum of the class rounds", "is the best of the class rounds")
	}},
	{"PullOff.Capped", "a pull-off", "it", inPullOff(func(r domain.RuleSet) string {
		return either(r.PullOff.Capped, "ends at the line again, and whoever is still equal pulls once more", "is measured past the line")
	})},
	{"PullOff.Added", "the distance of a pull-off", "it", inPullOff(func(r domain.RuleSet) string {
		return either(r.PullOff.Added, "is added to the printed total", "is not added to the printed total")
	})},
	{"PullOff.Absent", "an absent finalist", "an absent finalist", inPullOff(func(r domain.RuleSet) string {
		return either(r.PullOff.Absent == domain.Withdrawn, "counts as withdrawn and has no place", "is last of the pull-off")
	})},
	{"PullOff.SecondAttempt", "the restart line", "it", inPullOff(func(r domain.RuleSet) string {
		return either(r.PullOff.SecondAttempt, "holds in pull-offs too", "does not hold in pull-offs")
	})},
	{"RestartLine", "an attempt", "it", func(r domain.RuleSet) string {
		return either(r.RestartLine.IsZero(), "is never repeated, wherever it stops",
			fmt.Sprintf("may be repeated once when it stops short of %s", r.RestartLine))
	}},
	{"Test.Options", "the test puller", "the test puller", func(r domain.RuleSet) string {
		return either(len(r.Test.Options) == 0, "has no choice: the hook counts like any other",
			"may keep the result or hook again "+strings.Join(optionSentences(r.Test.Options), " or "))
	}},
	{"Test.Until", "the choice", "it", inTest(func(r domain.RuleSet) string {
		return either(r.Test.Until == "", "has no deadline in words", fmt.Sprintf("must be made %q", r.Test.Until))
	})},
	{"Test.AfterDQ", "a disqualified test puller", "a disqualified one", inTest(func(r domain.RuleSet) string {
		return either(r.Test.AfterDQ, "still has the choice", "has lost the choice")
	})},
	{"RehookDrop", "a puller whose re-hook the sled or an official caused", "such a puller", func(r domain.RuleSet) string {
		return either(r.RehookDrop == 0, "hooks again at once", "may drop "+upTo(r.RehookDrop)+" to cool down")
	}},
	{"DropPlaces", "a puller in mechanical trouble", "such a puller", func(r domain.RuleSet) string {
		return either(r.DropPlaces == 0, "drops to the last place", "may drop "+upTo(r.DropPlaces))
	}},
	{"Reset", "a reset of the sled", "it", func(r domain.RuleSet) string {
		return either(r.Reset == domain.KeepHooks, "leaves earlier hooks of the round as they are", "makes the round start again")
	}},
}, pointsSentences, purseSentences)

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

// inPullOff keeps a sentence to sets that have a pull-off: of a floating set it says nothing.
func inPullOff(says func(domain.RuleSet) string) func(domain.RuleSet) string {
	return func(r domain.RuleSet) string { return either(r.Capped, says(r), "") }
}

// inTest keeps a sentence to sets that give the test puller a choice: without one there is no deadline to speak of.
func inTest(says func(domain.RuleSet) string) func(domain.RuleSet) string {
	return func(r domain.RuleSet) string { return either(len(r.Test.Options) > 0, says(r), "") }
}

// either returns the first value when the condition holds, else the second. Both are made either way; none of them can
// fail.
func either[T any](condition bool, yes, no T) T {
	if condition {
		return yes
	}
	return no
}

// upTo says a number of places, more than 0, that may be dropped at most.
func upTo(places int) string {
	return either(places == 1, "1 place", fmt.Sprintf("up to %d places", places))
}

// optionSentences says each option so that it can stand after "hook again". [domain.Keep] is not among the options of
// a rule set that was read.
func optionSentences(options []domain.Option) []string {
	said := make([]string, len(options))
	for i, o := range options {
		switch o {
		case domain.ToLast:
			said[i] = "at the end"
		case domain.AtOnce:
			said[i] = "at once"
		default:
			said[i] = "in place " + o.String() + " from now"
		}
	}
	return said
}
