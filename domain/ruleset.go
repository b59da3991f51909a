package domain

import (
	"cmp"
	"fmt"
	"strconv"
)

// Count says how the class rounds of one entry become one figure. With one round both ways are the same.
type Count uint8

// The ways to count class rounds.
const (
	// BestOf: the best of the rounds counts (NO 1.8, SE-RTT 1.9.2, FR-TP). With one round it is simply that
	// round.
	BestOf Count = iota + 1
	// SumOf: the rounds are added; a missing round, a disqualification and an absence add nothing. Published
	// results of two pulls added:
	// https://www.nu.nl/almelo/6217753/trekkerrijders-uit-tubbergen-op-dreef-tijdens-trekkertrek-in-tropische-omstandigheden.html
	SumOf
)

// AbsentFinalist says what a full puller gets who is in the pull-off and does not hook in it.
type AbsentFinalist uint8

// What becomes of an absent finalist. No published rule text was read; published results show both.
const (
	// LastOfPullOff: after those who hooked in the pull-off, before all who were not in it. Two finalists of
	// three who hook take first and second, the absent one is third, and the longest distance short of the line
	// is fourth.
	LastOfPullOff AbsentFinalist = iota + 1
	// Withdrawn: no place at all; the others move up. In a published result two absent finalists were treated
	// as withdrawn, and 83.91 m and 83.41 m took the places (https://tractorpullingmania.it/news.asp?id=253).
	Withdrawn
)

// ResetEffect says what a reset of the sled does to the hooks that the round already has. A reset is a change
// of the setting while the round is under way; the officials and the sled operator decide on it, the rules on
// its effect.
type ResetEffect uint8

// The effects of a reset.
const (
	// Restart: every earlier hook of the round is void and everybody hooks again (the class restarts: MAM, TWOR
	// 19, AMPI 9).
	Restart ResetEffect = iota + 1
	// KeepHooks: earlier hooks stand, and the next puller is the new test puller (CHEL 7, GPP 5); every page
	// then says that the round was pulled on two settings. That the last puller alone pulls again (NL-VP) is a
	// re-hook of that one.
	KeepHooks
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
)

// optionWords are the words of rule sets, the journal and the database.
var optionWords = map[Option]string{Keep: "keep", ToLast: "last", AtOnce: "now"}

// ParseOption reads "keep", "last", "now" or a place from "2" on, up to 127. Place 1 would be at once, which
// has its own word.
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

// RuleSet is a rule book as data. It is validated once, by [RuleSet.Check], and immutable once a class has used
// it: the class keeps its own copy. It says only what the program must decide; what officials judge (an
// out-of-bounds, a lost part, the time to hook) reaches the program as a result or an action.
//
// A class of one round at 300 ft, in short: Line 300 ft, Capped, Rounds 1, Count BestOf, RestartLine 75 ft, and
// PullOff with its zero value but for Absent: the pull-off is measured past the line. docs/rules.md lists every
// field with the sources of its values.
type RuleSet struct {
	// Name is the plain name under which the set is called up, Title one sentence that explains it.
	Name, Title string
	// Line is the full-pull line; its unit is the unit in which the class is measured. 300 ft (NK 1, NSTT 2)
	// and 100 m (FR-TP, UK, BE-BORG, CH) are the common ones. A line that moves after the first hook (NSTT 8)
	// is given as it was set.
	Line Distance
	// Capped: at or past the line every class pull is a full pull and all full pulls are equal (NK 1).
	// Otherwise the finish is floating: the figure counts wherever the sled stops, and nobody is brought back
	// (MAM).
	Capped bool
	// Rounds is the number of class rounds, Count how they become one figure.
	Rounds int
	Count  Count
	// PullOff says how full pullers are brought back; without a meaning in a floating set.
	PullOff PullOffRule
	// RestartLine: an attempt that stops short of it may be repeated once, at once; see mayRestart for the
	// sources. Zero: no second attempt.
	RestartLine Distance
	// Test says what the test puller may choose.
	Test TestRule
	// RehookDrop is how many places an entry may drop to cool down when the sled or an official caused the
	// re-hook: 4 (RENEG 6), 3 (CHEL 7), 0 for at once (GPP 5).
	RehookDrop int
	// DropPlaces is how many places an entry may drop from its call for mechanical trouble: 2 (NK 5); 0 means
	// to the last place (CARP 5, SNUB 6).
	DropPlaces int
	// Reset says what a reset of the sled does to hooks already made.
	Reset ResetEffect
	// Points says what the places of the class are worth in a season, Purse what they are paid.
	Points PointsRule
	Purse  PurseRule
}

// PullOffRule says how a pull-off is measured and what an absent finalist gets. Its order is that of the class
// (NSTT 9, SNUB 9) and there is no test pull in it (CARP 4, MICRO 5); neither is a field, because no other rule
// was read. The zero PullOffRule is that of a floating set, which has no pull-off.
type PullOffRule struct {
	// Capped: the pull-off ends at the line too, so that a further one may be needed (SNUB 9, one club of CH).
	// Otherwise the figure counts past the line (NK 1, CH, FR-TP).
	Capped bool
	// Added: the pull-off distance is added to the printed total of the class rounds, as in the results of the
	// source at [SumOf]. It changes no place: pull-offs are compared after the class rounds either way.
	Added bool
	// Absent says what a finalist gets who does not hook.
	Absent AbsentFinalist
	// SecondAttempt: the restart line holds in pull-offs too (NL-VP); most books give one attempt (CME 4, MICRO
	// 6, GSRT 15, NO).
	SecondAttempt bool
}

// TestRule says what the test puller, who makes the first hook against a setting in the first round, may choose
// after the test hook. See testOptions for the sources.
type TestRule struct {
	// Options beside Keep; empty means that the test hook counts like any other.
	Options []Option
	// Until says when the choice must be made, in the words of a rule book: "before unhooking".
	Until string
	// AfterDQ: a test puller who was disqualified still has the options (TWOR 18, GPP 5); otherwise the second
	// pull is lost with the disqualification (GSRT 15).
	AfterDQ bool
}

// Check says whether the rule set contradicts itself, naming the field as docs/rules.md calls it; nil when it
// does not. It does not say that the rules are good ones. Nine rounds are more than any book has.
func (r RuleSet) Check() error {
	for _, t := range [...]struct{ field, text string }{{"name", r.Name}, {"title", r.Title}, {"test_puller.until", r.Test.Until}} {
		if _, err := text(t.field, t.text); err != nil {
			return err
		}
	}
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
	return cmp.Or(r.checkAgainstLine(), r.Points.Check(), r.Purse.Check())
}

// checkAgainstLine checks what depends on the full-pull line and on whether it caps.
func (r RuleSet) checkAgainstLine() error {
	switch {
	case !r.RestartLine.IsZero() && r.RestartLine.Milli() == 0:
		return invalid("restart", "the restart line lies at the start", "move it down the track, or leave restart out for no second attempt")
	case !r.RestartLine.IsZero() && r.RestartLine.Unit().metric() != r.Line.Unit().metric():
		return invalid("restart", "the restart line and the full-pull line are in different units",
			"give both in "+r.Line.Unit().String())
	case !r.RestartLine.IsZero() && r.RestartLine.Compare(r.Line) >= 0:
		return invalid("restart", fmt.Sprintf("the restart line %s lies at or beyond the full-pull line %s", r.RestartLine, r.Line),
			"move the restart line before the full-pull line")
	// A floating set that describes a pull-off is two rule books at once. It is refused, since ignoring half of
	// it would bring nobody back where somebody expects it.
	case !r.Capped && r.PullOff != (PullOffRule{}):
		return invalid("pull_off", "a floating set has no pull-off, and this one describes one", "cap the set or leave pull_off out")
	case r.Capped && r.PullOff.Absent != LastOfPullOff && r.PullOff.Absent != Withdrawn:
		return invalid("pull_off.absent", "the rule set does not say what an absent finalist gets", "write last_of_pull_off or withdrawn")
	}
	return nil
}

// Unit returns the unit in which the class is measured.
func (r RuleSet) Unit() Unit { return r.Line.Unit() }

// EndsAtLine reports whether a round of the class ends at the full-pull line: all that reach it are equal
// there, and a figure past it is for the record alone.
func (r RuleSet) EndsAtLine(round RoundName) bool {
	return r.Capped && (!round.PullOff || r.PullOff.Capped)
}

// Settle checks a result against the rules of a round and returns it as the rules see it: in a round that ends
// at the line a figure at or past it becomes a full pull, and keeps the figure. It refuses a figure in the
// other family of units, a full pull short of the line, and a full pull without a figure where the figure
// counts. Results without a distance pass as they are; reasons are not looked at.
//
// Under a 300 ft capped set, "312.44" is FP 312.44 in round 1 and stays 312.44 in P1; "FP" is a full pull in
// round 1 and is refused in P1; "299.99" is a distance in both.
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

// reach returns what a result is worth in a round, in nanometres; -1 when it has no distance, which is less
// than 0 ft. In a round that ends at the line nothing is worth more than the line, so that full pulls tie
// whatever was measured past it. A bare full pull where figures count is worth the line: it reached that at
// least. At 300 ft, capped, with a pull-off past the line, in feet:
//
//	result        round 1   P1
//	299.99        299.99    299.99
//	FP            300       300
//	FP 312.44     300       312.44
//	DQ, absent    none      none
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
