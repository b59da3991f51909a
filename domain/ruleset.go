package domain

import (
	"fmt"
	"strconv"
)

// Count says how the class rounds of one entry become one figure.
type Count uint8

// The ways to count class rounds.
const (
	// BestOf: the best of the rounds counts. With one round it is simply that round.
	BestOf Count = iota + 1
	// SumOf: the rounds are added; a missing round, a disqualification and an absence add nothing.
	SumOf
)

// AbsentFinalist says what a full puller gets who is in the pull-off and does not hook in it.
type AbsentFinalist uint8

// What becomes of an absent finalist. No published rule text was read; published results show both.
const (
	// LastOfPullOff: after those who hooked in the pull-off, before all who were not in it.
	LastOfPullOff AbsentFinalist = iota + 1
	// Withdrawn: no place at all; the others move up.
	Withdrawn
)

// ResetEffect says what a reset of the sled does to the hooks that the round already has.
type ResetEffect uint8

// The effects of a reset.
const (
	// Restart: every earlier hook of the round is void and the line-up starts again.
	Restart ResetEffect = iota + 1
	// KeepHooks: earlier hooks stand; every page then says that the round was pulled on two settings.
	KeepHooks
)

// Option is what a puller may choose when the rules leave a choice after a hook.
type Option int8

// The options. A positive Option is a place in the line-up: 3 means "hooks again in third place".
const (
	// Keep takes the result as it is.
	Keep Option = -1 - iota
	// ToLast gives the hook up and hooks again at the end of the line-up.
	ToLast
	// AtOnce gives the hook up and hooks again immediately.
	AtOnce
)

var optionWords = map[Option]string{Keep: "keep", ToLast: "last", AtOnce: "now"}

// ParseOption reads "keep", "last", "now" or a place from "2" on.
func ParseOption(s string) (Option, error) {
	for option, word := range optionWords {
		if s == word {
			return option, nil
		}
	}
	place, err := strconv.ParseInt(s, 10, 8)
	if err != nil || place < 2 {
		return 0, invalid("option", fmt.Sprintf("%q is not an option", s), "write keep, last, now or a place such as 3")
	}
	return Option(place), nil
}

// String returns "keep", "last", "now" or the place, and "" for the zero Option, which means "not chosen".
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

// RuleSet is a rule book as data. It is validated once, by [RuleSet.Check], and immutable once a class has used it.
type RuleSet struct {
	// Name is the plain name under which the set is called up, Title one sentence that explains it.
	Name, Title string
	// Line is the full-pull line; its unit is the unit in which the class is measured.
	Line Distance
	// Capped: at or past the line every class pull is a full pull and all full pulls are equal. Otherwise the
	// finish is floating: the figure counts wherever the sled stops, and nobody is brought back.
	Capped bool
	// Rounds is the number of class rounds, Count how they become one figure.
	Rounds int
	Count  Count
	// PullOff says how full pullers are brought back; without a meaning in a floating set.
	PullOff PullOffRule
	// RestartLine: an attempt that stops short of it may be repeated once, at once. Zero: no second attempt.
	RestartLine Distance
	// Test says what the test puller may choose.
	Test TestRule
	// RehookDrop is how many places an entry may drop to cool down when the sled or an official caused the re-hook.
	RehookDrop int
	// DropPlaces is how many places an entry may drop from its call for mechanical trouble; 0 means to the last place.
	DropPlaces int
	// Reset says what a reset of the sled does to hooks already made.
	Reset ResetEffect
}

// PullOffRule says how a pull-off is measured and what an absent finalist gets.
type PullOffRule struct {
	// Capped: the pull-off ends at the line too, so that a further one may be needed. Otherwise the figure counts
	// past the line.
	Capped bool
	// Added: the pull-off distance is added to the printed total of the class rounds.
	Added bool
	// Absent says what a finalist gets who does not hook.
	Absent AbsentFinalist
	// SecondAttempt: the restart line holds in pull-offs too.
	SecondAttempt bool
}

// TestRule says what the test puller, the first of the line-up, may choose after the test hook.
type TestRule struct {
	// Options beside Keep; empty means that the test hook counts like any other.
	Options []Option
	// Until says when the choice must be made, in the words of a rule book: "before unhooking".
	Until string
	// AfterDQ: a test puller who was disqualified still has the options.
	AfterDQ bool
}

// Check says whether the rule set contradicts itself, naming the fields.
func (r RuleSet) Check() error {
	switch {
	case r.Name == "":
		return invalid("name", "the rule set has no name", "give it a short name such as my-club-300ft")
	case r.Line.IsZero() || r.Line.Milli() == 0:
		return invalid("line", "the rule set has no full-pull line", "give the line, such as 300")
	case r.Rounds < 1 || r.Rounds > 9:
		return invalid("rounds", "a class has one to nine rounds", "give the number of class rounds")
	case r.Count != BestOf && r.Count != SumOf:
		return invalid("counts", "the rule set does not say how rounds count", "write best or sum")
	case r.Reset != Restart && r.Reset != KeepHooks:
		return invalid("reset", "the rule set does not say what a reset does to hooks made", "write restart or keep")
	case r.RehookDrop < 0:
		return invalid("rehook_drop", "places to drop cannot be negative", "write 0 or more")
	case r.DropPlaces < 0:
		return invalid("drop_places", "places to drop cannot be negative", "write 0 or more")
	}
	return r.checkAgainstLine()
}

func (r RuleSet) checkAgainstLine() error {
	switch {
	case !r.RestartLine.IsZero() && r.RestartLine.Unit().metric() != r.Line.Unit().metric():
		return invalid("restart", "the restart line and the full-pull line are in different units",
			"give both in "+r.Line.Unit().String())
	case !r.RestartLine.IsZero() && r.RestartLine.Compare(r.Line) >= 0:
		return invalid("restart", fmt.Sprintf("the restart line %s lies at or beyond the full-pull line %s", r.RestartLine, r.Line),
			"move the restart line before the full-pull line")
	case !r.Capped && r.PullOff != (PullOffRule{}):
		return invalid("pull_off", "a floating set has no pull-off, and this one describes one", "cap the set or leave pull_off out")
	case r.Capped && r.PullOff.Absent != LastOfPullOff && r.PullOff.Absent != Withdrawn:
		return invalid("pull_off.absent", "the rule set does not say what an absent finalist gets", "write last_of_pull_off or withdrawn")
	}
	return nil
}

// Unit returns the unit in which the class is measured.
func (r RuleSet) Unit() Unit { return r.Line.Unit() }

// EndsAtLine reports whether a round of the class ends at the full-pull line.
func (r RuleSet) EndsAtLine(round RoundName) bool {
	return r.Capped && (!round.PullOff || r.PullOff.Capped)
}

// Settle checks a result against the rules of a round and returns it as the rules see it: in a capped round a figure
// at or past the line becomes a full pull. It refuses a figure in the other family of units, a full pull short of
// the line, and a full pull without a figure where the figure counts.
func (r RuleSet) Settle(round RoundName, result Result) (Result, error) {
	d := result.Distance
	if !d.IsZero() && d.Unit().metric() != r.Unit().metric() {
		return Result{}, invalid("result", fmt.Sprintf("%s is not in the unit of this class", d), "give it in "+r.Unit().String())
	}
	switch {
	case result.Outcome == Measured && r.EndsAtLine(round) && d.Compare(r.Line) >= 0:
		result.Outcome = FullPull
	case result.Outcome == FullPull && !d.IsZero() && d.Compare(r.Line) < 0:
		return Result{}, invalid("result", fmt.Sprintf("FP %s lies below the full-pull line %s", d.Figures(), r.Line),
			"give the distance without FP, or a figure past the line")
	case result.Outcome == FullPull && d.IsZero() && !r.EndsAtLine(round):
		return Result{}, invalid("result", "FP without a figure says nothing here, because the distance counts past the line",
			"give the figure, such as FP 312.44")
	}
	return result, nil
}

// reach returns what a result is worth in a round, in nanometres; -1 when it has no distance.
func (r RuleSet) reach(round RoundName, result Result) int64 {
	switch {
	case result.Outcome == FullPull && (r.EndsAtLine(round) || result.Distance.IsZero()):
		return r.Line.nanometres()
	case result.Reached() && r.EndsAtLine(round):
		return min(result.Distance.nanometres(), r.Line.nanometres())
	case result.Reached():
		return result.Distance.nanometres()
	default:
		return -1
	}
}
