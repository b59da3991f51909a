package domain

import (
	"fmt"
	"strings"
)

// Consequence says what follows from a [Cause] in a hook.
type Consequence uint8

// The consequences, from the hardest to none. That a book takes points, purse or a season for the same cause is said
// by its points.
const (
	// LastPlace: disqualified, and placed last of the class (RENEG 7).
	LastPlace Consequence = iota + 1
	// NoDistance: disqualified; the hook counts and has neither distance nor place (UCTCC 17, AMPI 12, HTP 4). It is
	// what follows where the rules say nothing.
	NoDistance
	// AttemptLost: the attempt is void, and another follows where the rules give one (RENEG 5, before the false start
	// line); without another it is [NoDistance].
	AttemptLost
	// MeasuredThere: measured where it happened, and that distance counts (MERR 16, MARSH 5, MICRO 9).
	MeasuredThere
	// PullEnds: the pull is over, and the distance counts where the sled stopped (CME 3, PINE 9).
	PullEnds
	// NoConsequence: the hook counts as it was pulled (RENEG 7 of the sled alone, NL-VP of a breakage).
	NoConsequence
)

// figureCounts reports whether a distance counts in spite of the cause.
func (q Consequence) figureCounts() bool { return q >= MeasuredThere }

// consequenceAdvice says each consequence, to stand after "under these rules".
var consequenceAdvice = map[Consequence]string{
	LastPlace:     "it is a disqualification, and the last place",
	NoDistance:    "it is a disqualification, without a distance",
	AttemptLost:   "the attempt is void, and another follows where one is left",
	MeasuredThere: "the distance where it happened counts",
	PullEnds:      "the pull ends, and the distance where the sled stopped counts",
	NoConsequence: "nothing follows, and the distance counts",
}

// ReasonRule says what follows from each cause. The zero ReasonRule has [NoDistance] for all.
type ReasonRule struct {
	// Of has the consequence of the causes that have another than [NoDistance].
	Of map[Cause]Consequence
	// SideLinesTo is how far the side lines reach, past which nobody is out of bounds; zero: as far as anybody pulls
	// (MARIT, past 310 ft). NSTT 8: to 320 ft.
	SideLinesTo Distance
}

// check says whether the rule contradicts the set that it stands in.
func (a ReasonRule) check(r RuleSet) error {
	known := 0
	for _, cause := range Causes() {
		consequence, judged := a.Of[cause]
		if !judged {
			continue
		}
		known++
		field := "reasons." + strings.ReplaceAll(string(cause), " ", "_")
		switch {
		case consequence < LastPlace || consequence > NoConsequence:
			return invalid(field, "the rule set does not say what follows", "write one of the consequences of docs/rules.md")
		case consequence == AttemptLost && !r.restarts():
			return contradiction(field, "restart", fmt.Sprintf("%q costs an attempt, and there is only one", cause), "give a restart line, or write no_distance")
		}
	}
	if known != len(a.Of) {
		return invalid("reasons", "there is a cause that nobody can tell", "name causes that the program knows")
	}
	d := a.SideLinesTo
	switch {
	case d.IsZero():
		return nil
	case d.Unit().metric() != r.Line.Unit().metric():
		return contradiction("side_lines_to", "line", "the two are in different units", "give both in "+r.Line.Unit().String())
	case d.Compare(r.Line) < 0:
		return contradiction("side_lines_to", "line", fmt.Sprintf("the side lines end at %s, before the full-pull line %s", d, r.Line), "let them reach the line")
	}
	return nil
}

// Consequence returns what follows from a cause under the rules; [NoDistance] from what is no cause of theirs.
func (r RuleSet) Consequence(cause Cause) Consequence {
	if q, ok := r.Reasons.Of[cause]; ok {
		return q
	}
	return NoDistance
}

// Advice says what these rules have for a cause, as a sentence for the booth before a disqualification is stored. The
// official decides: a disqualification without a figure is one under every rule.
func (r RuleSet) Advice(cause Cause) string {
	return "under these rules " + consequenceAdvice[r.Consequence(cause)]
}

// judge returns a disqualification as the rules see it: with a figure that counts in spite of its cause it becomes that
// distance, and keeps the reason. Crossing the side line at 201.3 ft is
//
//	DQ at 201.3: out of bounds   under UCTCC 17, where the figure is kept for the record
//	201.3, out of bounds         under MERR 16
func (r RuleSet) judge(result Result) Result {
	if result.Outcome != Disqualified || result.Distance.IsZero() {
		return result
	}
	cause, end := CauseOf(result.Reason), r.Reasons.SideLinesTo
	beside := (cause == CauseOutOfBounds || cause == CauseSledOutOfBounds) && !end.IsZero() && result.Distance.Compare(end) > 0
	if beside || r.Consequence(cause).figureCounts() {
		result.Outcome = Measured
	}
	return result
}
