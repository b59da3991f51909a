package doc

import (
	"cmp"
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

// ruleSentences says something different of two sets that differ in any field of [domain.RuleSet]; a test holds that none is
// missing. Fields that mean something together share a sentence. The name is told by [DiffRuleSets] itself.
var ruleSentences = slices.Concat(classSentences, orderSentences, hookSentences, testSentences, reasonSentences, pullOffSentences, pointsSentences, purseSentences, protestSentences, weightSentences)

// classSentences are about the class as a whole.
var classSentences = []ruleSentence{
	{"Title", "the title", "it", func(r domain.RuleSet) string {
		return either(r.Title == "", "is left out", "is "+quoted(r.Title))
	}},
	{"Line", "the class", "it", func(r domain.RuleSet) string {
		return fmt.Sprintf("is measured in %s, and the full-pull line lies at %s", unitWords[r.Unit()], r.Line)
	}},
	{"Moving.Choices", "the line", "it", func(r domain.RuleSet) string {
		return either(len(r.Moving.Choices) == 0, "does not move", "may be moved to "+lengthsOr(r.Moving.Choices))
	}},
	{"Moving.After", "the line", "it", func(r domain.RuleSet) string {
		return either(len(r.Moving.Choices) == 0, "", "is set after "+severalOf(r.Moving.After, "hook")+" at the latest")
	}},
	{"Measure.From", "the point that is measured to", "it", func(r domain.RuleSet) string {
		return either(r.Measure.From == "", "is not said", "is "+quoted(r.Measure.From))
	}},
	{"Measure.Decimals", "the device", "it", func(r domain.RuleSet) string {
		return either(r.Measure.Decimals == 0, "has up to three decimals", "has "+severalOf(r.Measure.Decimals, "decimal"))
	}},
	{"Measure.Minimum", "a pull", "it", func(r domain.RuleSet) string {
		return either(r.Measure.Minimum.IsZero(), "is one when the sled moves", fmt.Sprintf("is one from %s on", r.Measure.Minimum))
	}},
	{"Capped", "the line", "it", func(r domain.RuleSet) string {
		return either(r.Capped, "caps class pulls: at or past it all are equal, and two or more full pullers come back for a pull-off",
			"caps nothing: the figure counts wherever the sled stops, and there is no pull-off")
	}},
	{"Rounds", "a class", "it", func(r domain.RuleSet) string { return "has " + severalOf(r.Rounds, "class round") }},
	{"Count", "the class total", "it", func(r domain.RuleSet) string {
		return either(r.Count == domain.SumOf, "is the sum of the class rounds", "is the best of the class rounds")
	}},
	{"Stopped", "a class that is stopped", "it", func(r domain.RuleSet) string {
		return map[domain.StoppedEffect]string{domain.CompleteRounds: "keeps the rounds that were pulled to the end",
			domain.NothingStands: "gives nobody anything", domain.AsPulled: "stands as it was pulled"}[r.Stopped]
	}},
}

// orderSentences are about who is entered and when each of them hooks.
var orderSentences = []ruleSentence{
	{"Entries.VehicleTwice", "a vehicle", "it", func(r domain.RuleSet) string {
		return map[domain.VehicleTwice]string{domain.OncePerClass: "hooks once in a class",
			domain.PlacesTwice: "may hook again with another driver, for a place of its own",
			domain.PlacesOnce:  "may hook again with another driver, and its better entry alone has a place"}[r.Entries.VehicleTwice]
	}},
	{"Entries.Least", "a class", "it", func(r domain.RuleSet) string {
		return either(r.Entries.Least == 0, "is pulled with any number of entries", fmt.Sprintf("needs %d entries", r.Entries.Least))
	}},
	{"Entries.Below", "a class with fewer entries", "it", func(r domain.RuleSet) string {
		return either(r.Entries.Least == 0, "", either(r.Entries.Below == "", "is left to the officials", "is "+quoted(r.Entries.Below)))
	}},
	{"Order.By", "the order", "it", func(r domain.RuleSet) string {
		return map[domain.OrderSource]string{domain.DrawnByLot: "is drawn", domain.AsEntered: "is that of the entries",
			domain.ByOrganiser: "is fixed by the organiser"}[r.Order.By]
	}},
	{"Order.ClosedAtStart", "a late entry", "it", func(r domain.RuleSet) string {
		return either(r.Order.ClosedAtStart, "is refused once the class has started", "hooks last")
	}},
	{"Call.Minutes", "a puller who was called", "such a puller", func(r domain.RuleSet) string {
		return either(r.Call.Minutes == 0, "has no time in minutes", "has "+severalOf(r.Call.Minutes, "minute")+" to hook")
	}},
	{"Call.From", "the time to hook", "it", func(r domain.RuleSet) string {
		return either(r.Call.Minutes == 0, "", either(r.Call.From == "", "begins with the call", "begins with "+quoted(r.Call.From)))
	}},
	{"Call.NotReady", "when a puller is not ready", "then", func(r domain.RuleSet) string {
		return map[domain.NotReady]string{domain.OfficialDecides: "the officials decide", domain.DropsBack: "the puller drops back",
			domain.IsDisqualified: "the puller is disqualified", domain.ForfeitsTurn: "the puller forfeits the turn"}[r.Call.NotReady]
	}},
	{"Call.DropOnce", "an entry", "it", func(r domain.RuleSet) string {
		return either(r.Call.DropOnce, "may drop back once in a class", "may drop back again")
	}},
	{"DropPlaces", "a puller in mechanical trouble", "such a puller", func(r domain.RuleSet) string {
		return either(r.DropPlaces == 0, "drops to the last place", "may drop "+upTo(r.DropPlaces))
	}},
}

// hookSentences are about starting again and about the sled.
var hookSentences = []ruleSentence{
	{"RestartLine", "an attempt", "it", func(r domain.RuleSet) string {
		return either(r.RestartMark().IsZero(), "is never repeated, wherever it stops",
			fmt.Sprintf("may be repeated when it stops short of %s", r.RestartMark()))
	}},
	{"Restarts.Kinds", "the restart line", "it", func(r domain.RuleSet) string {
		return either(len(r.Restarts.Kinds) == 0, "is the same for every kind of vehicle", "is another for "+strings.Join(kindSentences(r.Restarts.Kinds), " and "))
	}},
	{"Restarts.Attempts", "an entry", "it", inRestart(func(r domain.RuleSet) string {
		return fmt.Sprintf("has %d attempts", cmp.Or(r.Restarts.Attempts, 2))
	})},
	{"Restarts.Throttle", "a stop before the line", "it", inRestart(func(r domain.RuleSet) string {
		return either(r.Restarts.Throttle, "is judged by the throttle", "is judged by where the sled is")
	})},
	{"Restarts.Options", "an attempt that is repeated", "it", inRestart(func(r domain.RuleSet) string {
		return either(len(r.Restarts.Options) == 0, "is made at once", "is made "+strings.Join(optionSentences(r.Restarts.Options), " or "))
	})},
	{"RehookDrop", "a puller whose re-hook the sled or an official caused", "such a puller", func(r domain.RuleSet) string {
		return either(r.RehookDrop == 0, "hooks again at once", "may drop "+upTo(r.RehookDrop)+" to cool down")
	}},
	{"RehookMinutes", "where fewer are left, such a puller", "such a puller", func(r domain.RuleSet) string {
		return either(r.RehookMinutes == 0, "has no time in minutes", "has "+severalOf(r.RehookMinutes, "minute"))
	}},
	{"Reset", "a reset of the sled", "it", func(r domain.RuleSet) string {
		return map[domain.ResetEffect]string{domain.Restart: "makes the round start again", domain.KeepHooks: "leaves earlier hooks of the round as they are",
			domain.PreviousAgain: "makes the last puller hook again and leaves the hooks before", domain.NoReset: "is not made within a round"}[r.Reset]
	}},
	{"ResetWhen.Past", "a test hook", "it", func(r domain.RuleSet) string {
		return either(r.ResetWhen.Past.IsZero(), "asks for no reset by its distance", fmt.Sprintf("asks for a reset when it goes past %s", r.ResetWhen.Past))
	}},
	{"ResetWhen.FullPulls", "full pulls", "they", func(r domain.RuleSet) string {
		return either(r.ResetWhen.FullPulls == 0, "ask for no reset by their number", fmt.Sprintf("ask for a reset when the first %d hooks are", r.ResetWhen.FullPulls))
	}},
}

// testSentences are about the test puller.
var testSentences = []ruleSentence{
	{"Test.Who", "the test hook", "it", func(r domain.RuleSet) string {
		return map[domain.TestPuller]string{domain.FirstInOrder: "is that of the first in the order",
			domain.ChosenPuller: "may be that of any entry which the sled operator chooses",
			domain.TestSession:  "is none of the class: the sled is tried in a session of its own"}[r.Test.Who]
	}},
	{"Test.Options", "the test puller", "the test puller", func(r domain.RuleSet) string {
		return either(len(r.Test.Options) == 0, "has no choice: the hook counts like any other",
			either(r.Test.Must, "has no choice and hooks again ", "may keep the result or hook again ")+strings.Join(optionSentences(r.Test.Options), " or "))
	}},
	{"Test.Until", "the choice", "it", inTest(func(r domain.RuleSet) string {
		return either(r.Test.Until == "", "has no deadline in words", "must be made "+quoted(r.Test.Until))
	})},
	{"Test.Silence", "a test puller who says nothing", "one who says nothing", inTest(func(r domain.RuleSet) string {
		switch {
		case r.Test.Must:
			return "" // there is nothing to say
		case r.Test.Silence == 0:
			return "keeps the result"
		}
		return "hooks again " + optionSentences([]domain.Option{r.Test.Silence})[0]
	})},
	{"Test.BeforeDistance", "the choice", "it", inTest(func(r domain.RuleSet) string {
		return either(r.Test.BeforeDistance, "is made before the distance is told", "is made with knowledge of the distance")
	})},
	{"Test.AfterDQ", "a disqualified test puller", "a disqualified one", inTest(func(r domain.RuleSet) string {
		return either(r.Test.AfterDQ, "still has the choice", "has lost the choice")
	})},
	{"Test.NoRestart", "a stop before the restart line on the test hook", "it", inRestart(func(r domain.RuleSet) string {
		return either(r.Test.NoRestart, "is the result", "may be repeated like any other")
	})},
	{"Test.LostPartFree", "a part lost on the test hook", "it", func(r domain.RuleSet) string {
		return either(r.Test.LostPartFree, "disqualifies nobody", "counts like any other")
	}},
}

// reasonSentences are about what goes wrong, and about speed.
var reasonSentences = []ruleSentence{
	{"Reasons.Of", "what goes wrong", "it", func(r domain.RuleSet) string {
		return either(len(r.Reasons.Of) == 0, "is a disqualification without a distance, whatever it is", "is judged by its cause: "+strings.Join(consequenceSentences(r), "; "))
	}},
	{"Reasons.SideLinesTo", "the side lines", "they", func(r domain.RuleSet) string {
		return either(r.Reasons.SideLinesTo.IsZero(), "reach as far as anybody pulls", fmt.Sprintf("reach to %s", r.Reasons.SideLinesTo))
	}},
	{"Speed.Limit", "the speed", "it", func(r domain.RuleSet) string {
		return either(r.Speed.Limit.IsZero(), "has no limit", fmt.Sprintf("is limited to %s", r.Speed.Limit))
	}},
	{"Speed.From", "the limit", "it", inSpeed(func(r domain.RuleSet) string {
		return either(r.Speed.From.IsZero(), "holds from the start", fmt.Sprintf("holds from %s on", r.Speed.From))
	})},
	{"Speed.Warnings", "passing the limit", "it", inSpeed(func(r domain.RuleSet) string {
		return either(r.Speed.Warnings == 0, "costs the hook at once", "costs the hook after "+severalOf(r.Speed.Warnings, "warning"))
	})},
	{"Speed.Device", "the speed", "it", inSpeed(func(r domain.RuleSet) string {
		return either(r.Speed.Device == "", "is read by a device that is not said", "is read by "+quoted(r.Speed.Device))
	})},
	{"Speed.NoOwnDevice", "a speed measuring device of one's own", "it", inSpeed(func(r domain.RuleSet) string {
		return either(r.Speed.NoOwnDevice, "is forbidden", "is allowed")
	})},
	{"Ready", "the sled's crew", "it", func(r domain.RuleSet) string {
		return either(len(r.Ready) == 0, "looks at the points of its sled before a hook", "also looks at "+strings.Join(r.Ready, ", ")+" before a hook")
	}},
}

// pullOffSentences are about who comes back, and about ties.
var pullOffSentences = []ruleSentence{
	{"PullOff.Who", "the pull-off", "it", inPullOff(func(r domain.RuleSet) string {
		return map[domain.Finalists]string{domain.FullPullers: "is for full pullers", domain.TopPlaces: fmt.Sprintf("is for the first %d of the class", r.PullOff.Top),
			domain.Nobody: "is not held: full pulls share their place"}[r.PullOff.Who]
	})},
	{"PullOff.FillTo", "with fewer than two full pulls", "then", inPullOff(func(r domain.RuleSet) string {
		return either(r.PullOff.FillTo == 0, "there is no final", fmt.Sprintf("the longest distances fill the final up to %d", r.PullOff.FillTo))
	})},
	{"PullOff.Capped", "a pull-off", "it", inPullOff(func(r domain.RuleSet) string {
		return either(r.PullOff.Capped, "ends at the line again, and whoever is still equal pulls once more", "is measured past the line")
	})},
	{"PullOff.Line", "the line of the pull-off", "it", inPullOff(func(r domain.RuleSet) string {
		return either(r.PullOff.Line.IsZero(), "is that of the class", fmt.Sprintf("is %s", r.PullOff.Line))
	})},
	{"PullOff.Reversed", "a pull-off", "it", inPullOff(func(r domain.RuleSet) string {
		return either(r.PullOff.Reversed, "is hooked in the reverse of the class order", "is hooked in class order")
	})},
	{"PullOff.Added", "the distance of a pull-off", "it", inPullOff(func(r domain.RuleSet) string {
		return either(r.PullOff.Added, "is added to the printed total", "is not added to the printed total")
	})},
	{"PullOff.Absent", "an absent finalist", "an absent finalist", inPullOff(func(r domain.RuleSet) string {
		return either(r.PullOff.Absent == domain.Withdrawn, "counts as withdrawn and has no place", "is last of the pull-off")
	})},
	{"PullOff.DisqualifiedOut", "a disqualified finalist", "a disqualified finalist", inPullOff(func(r domain.RuleSet) string {
		return either(r.PullOff.DisqualifiedOut, "has no place", "stays in the places of the pull-off")
	})},
	{"PullOff.SecondAttempt", "the restart line", "it", inPullOff(func(r domain.RuleSet) string {
		return either(r.PullOff.SecondAttempt, "holds in pull-offs too", "does not hold in pull-offs")
	})},
	{"PullOff.SameDriver", "the driver of a pull-off", "the driver", inPullOff(func(r domain.RuleSet) string {
		return either(r.PullOff.SameDriver, "must be that of the class", "may be another")
	})},
	{"PullOff.Before", "before a pull-off", "before it", inPullOff(func(r domain.RuleSet) string {
		return either(r.PullOff.Before == "", "nothing is asked for", quoted(r.PullOff.Before)+" is asked for")
	})},
	{"Ties.Ties", "a tie", "it", func(r domain.RuleSet) string {
		if r.Ties.Places > 0 {
			return fmt.Sprintf("is pulled again down to place %d", r.Ties.Places)
		}
		return map[domain.Ties]string{domain.SharedPlace: "stands, and the places are shared", domain.PulledAgain: "is pulled again for every place",
			domain.NextBest: "is decided by the next longest of the other rounds"}[r.Ties.Ties]
	}},
}

// inPullOff keeps a sentence to sets that have a pull-off: of a floating set it says nothing.
func inPullOff(says func(domain.RuleSet) string) func(domain.RuleSet) string {
	return func(r domain.RuleSet) string { return either(r.Capped, says(r), "") }
}

// inTest keeps a sentence to sets that give the test puller a choice: without one there is no deadline to speak of.
func inTest(says func(domain.RuleSet) string) func(domain.RuleSet) string {
	return func(r domain.RuleSet) string {
		if len(r.Test.Options) == 0 {
			return ""
		}
		return says(r)
	}
}

// inRestart keeps a sentence to sets that have a restart line.
func inRestart(says func(domain.RuleSet) string) func(domain.RuleSet) string {
	return func(r domain.RuleSet) string {
		return either(r.RestartMark().IsZero() && len(r.Restarts.Kinds) == 0, "", says(r))
	}
}

// inSpeed keeps a sentence to sets that have a speed limit.
func inSpeed(says func(domain.RuleSet) string) func(domain.RuleSet) string {
	return func(r domain.RuleSet) string { return either(r.Speed.Limit.IsZero(), "", says(r)) }
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

// severalOf says a number of things.
func severalOf(n int, thing string) string {
	return either(n == 1, "1 "+thing, fmt.Sprintf("%d %ss", n, thing))
}

// quoted puts words of a rule book between quotes.
func quoted(s string) string { return fmt.Sprintf("%q", s) }

// lengthsOr lists distances for a sentence.
func lengthsOr(list []domain.Distance) string {
	said := make([]string, len(list))
	for i, d := range list {
		said[i] = d.String()
	}
	return strings.Join(said, " or ")
}

// consequenceSentences says every consequence that is not the usual one, in the order of the causes.
func consequenceSentences(r domain.RuleSet) []string {
	says := map[domain.Consequence]string{domain.LastPlace: "is the last place", domain.AttemptLost: "costs the attempt",
		domain.MeasuredThere: "is measured where it happened", domain.PullEnds: "ends the pull and keeps its distance", domain.NoConsequence: "costs nothing"}
	var said []string
	for _, cause := range domain.Causes() {
		if q, ok := r.Reasons.Of[cause]; ok {
			said = append(said, fmt.Sprintf("%q %s", cause, says[q]))
		}
	}
	return said
}

// kindSentences says the restart line of each kind of vehicle.
func kindSentences(kinds []domain.KindLine) []string {
	said := make([]string, len(kinds))
	for i, k := range kinds {
		said[i] = fmt.Sprintf("a %s (%s)", k.Kind, k.Line)
	}
	return said
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
		case domain.ToOriginal:
			said[i] = "in the place that was drawn"
		default:
			said[i] = "in place " + o.String() + " from now"
		}
	}
	return said
}
