package domain

import "fmt"

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

// RuleSet is a rule book as data. It is validated once, by [RuleSet.Check], and immutable once a class has used
// it: the class keeps its own copy. What officials judge (an out-of-bounds, a lost part, the time to hook) reaches the
// program as a result or an action; the set says what follows from it, and what is advised.
//
// A class of one round at 300 ft, in short: Line 300 ft, Capped, Rounds 1, Count BestOf, RestartLine 75 ft, and a
// PullOff of all full pullers, measured past the line. docs/rules.md lists every field with the sources of its values.
type RuleSet struct {
	// Name is the plain name under which the set is called up, Title one sentence that explains it.
	Name, Title string
	// Line is the full-pull line; its unit is the unit in which the class is measured. 300 ft (NK 1, NSTT 2)
	// and 100 m (FR-TP, UK, BE-BORG, CH) are the common ones. Moving lets the officials choose another.
	Line   Distance
	Moving LineRule
	// Measure says how distances are read.
	Measure MeasureRule
	// Capped: at or past the line every class pull is a full pull and all full pulls are equal (NK 1).
	// Otherwise the finish is floating: the figure counts wherever the sled stops, and nobody is brought back
	// (MAM).
	Capped bool
	// Rounds is the number of class rounds, Count how they become one figure.
	Rounds int
	Count  Count
	// PullOff says who is brought back and how; without a meaning in a floating set. Ties says what becomes of the
	// others that are equal.
	PullOff PullOffRule
	Ties    TieRule
	// Entries says what is entered, Order in which order it hooks, Call how long there is to hook.
	Entries EntryRule
	Order   OrderRule
	Call    CallRule
	// RestartLine: an attempt that stops short of it may be repeated; see mayRestart for the sources. Zero, without a
	// share or a line of a kind in Restarts: no second attempt.
	RestartLine Distance
	Restarts    RestartRule
	// Test says who makes the test hook and what may be chosen after it.
	Test TestRule
	// RehookDrop is how many places an entry may drop to cool down when the sled or an official caused the
	// re-hook: 4 (RENEG 6), 3 (CHEL 7), 0 for at once (GPP 5). RehookMinutes is how long there is to cool down where
	// fewer are left (RENEG 6: 5); 0 where the rules do not say.
	RehookDrop    int
	RehookMinutes int
	// DropPlaces is how many places an entry may drop from its call for mechanical trouble: 2 (NK 5); 0 means
	// to the last place (CARP 5, SNUB 6).
	DropPlaces int
	// Reset says what a reset of the sled does to hooks already made, ResetWhen when one is to be thought of.
	Reset     ResetEffect
	ResetWhen ResetRule
	// Reasons says what follows from what goes wrong in a hook, Speed what the limit of a speed-limited class is.
	Reasons ReasonRule
	Speed   SpeedRule
	// Ready are points that the sled's crew looks at before each hook beside those of the sled: a hitch height, a neutral
	// light (NK 7). They give no go.
	Ready []string
	// Stopped says what stands of a class that was ended before its end.
	Stopped StoppedEffect
	// Points says what the places of the class are worth in a season, Purse what they are paid.
	Points PointsRule
	Purse  PurseRule
	// Protest says how long a result may be protested; the zero ProtestRule takes no protest.
	Protest ProtestRule
	// Weight is the weight limit of the class; the zero WeightRule weighs nobody.
	Weight WeightRule
}

// Check says whether the rule set contradicts itself, naming the field as docs/rules.md calls it, and both where two
// contradict each other; nil when it does not. It does not say that the rules are good ones. Nine rounds are more than
// any book has.
func (r RuleSet) Check() error {
	for _, t := range [...]struct{ field, text string }{{"name", r.Name}, {"title", r.Title}} {
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
	case r.Reset < Restart || r.Reset > NoReset:
		return invalid("reset", "the rule set does not say what a reset does to hooks made", "write restart, keep, previous or never")
	case r.RehookDrop < 0 || r.RehookDrop > maxFinal:
		return invalid("rehook_drop", "places to drop cannot be negative, or more than a class has", "write 0 or more")
	case r.RehookMinutes < 0 || r.RehookMinutes > 60:
		return invalid("rehook_minutes", "the time to cool down cannot be right", "write minutes up to 60, or leave it out")
	case r.DropPlaces < 0 || r.DropPlaces > maxFinal:
		return invalid("drop_places", "places to drop cannot be negative, or more than a class has", "write 0 or more")
	case r.Order.By > ByOrganiser:
		return invalid("order.by", "the rule set does not say where the order comes from", "write draw, entered or organiser")
	case r.Stopped > AsPulled:
		return invalid("stopped", "the rule set does not say what stands of a class that was stopped", "write rounds, nothing or pulled")
	}
	return r.checkParts()
}

// checkParts checks the groups of the set, each of which looks at what it may contradict. The first that finds
// something stops.
func (r RuleSet) checkParts() error {
	for _, check := range [...]func() error{
		func() error { return r.Restarts.check(r) },
		func() error { return r.PullOff.check(r) },
		func() error { return r.Ties.check(r) },
		func() error { return r.Moving.check(r) },
		func() error { return r.Measure.check(r) },
		r.Entries.check, r.Call.check, r.Test.check,
		func() error { return r.ResetWhen.check(r) },
		func() error { return r.Reasons.check(r) },
		func() error { return r.Speed.check(r) },
		func() error { return checkPoints("ready", r.Ready) },
		r.Points.Check, r.Purse.Check, r.Protest.check, r.Weight.check,
	} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

// Unit returns the unit in which the class is measured.
func (r RuleSet) Unit() Unit { return r.Line.Unit() }

// LineOf returns the full-pull line of a round: that of the class, or the pull-off's own.
func (r RuleSet) LineOf(round RoundName) Distance {
	if round.PullOff && !r.PullOff.Line.IsZero() {
		return r.PullOff.Line
	}
	return r.Line
}

// EndsAtLine reports whether a round of the class ends at the full-pull line: all that reach it are equal
// there, and a figure past it is for the record alone.
func (r RuleSet) EndsAtLine(round RoundName) bool {
	return r.Capped && (!round.PullOff || r.PullOff.Capped)
}

// Settle checks a result against the rules of a round and returns it as the rules see it: in a round that ends
// at the line a figure at or past it becomes a full pull, and keeps the figure. It refuses a figure in the
// other family of units, a full pull short of the line, and a full pull without a figure where the figure
// counts. A disqualification with a figure becomes that distance where the rules let it count in spite of its
// cause. Other results without a distance pass as they are.
//
// Under a 300 ft capped set, "312.44" is FP 312.44 in round 1 and stays 312.44 in P1; "FP" is a full pull in
// round 1 and is refused in P1; "299.99" is a distance in both.
func (r RuleSet) Settle(round RoundName, result Result) (Result, error) {
	d, line := result.Distance, r.LineOf(round)
	if !d.IsZero() && d.Unit().metric() != r.Unit().metric() {
		return Result{}, invalid("result", fmt.Sprintf("%s is not in the unit of this class", d), "give it in "+r.Unit().String())
	}
	result = r.judge(result)
	switch {
	case result.Outcome == Measured && r.EndsAtLine(round) && d.Compare(line) >= 0:
		result.Outcome = FullPull
	case result.Outcome == FullPull && !d.IsZero() && d.Compare(line) < 0:
		return Result{}, invalid("result", fmt.Sprintf("FP %s lies below the full-pull line %s", d.Figures(), line),
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
	switch line := r.LineOf(round); {
	case result.Outcome == FullPull && (r.EndsAtLine(round) || result.Distance.IsZero()):
		return line.nanometres()
	case result.Reached() && r.Measure.short(result.Distance):
		return -1
	case result.Reached() && r.EndsAtLine(round):
		return min(result.Distance.nanometres(), line.nanometres())
	case result.Reached():
		return result.Distance.nanometres()
	default:
		return -1
	}
}
