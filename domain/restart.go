package domain

import (
	"slices"
	"time"

	"github.com/google/uuid"
)

// RestartRule says how an attempt that failed at the start may be repeated, beside the line itself. Its zero value,
// with a line, is two attempts, the second at once, judged by where the sled stopped.
type RestartRule struct {
	// Share is the line as a part of the track (NATPA 21: a third), instead of a distance.
	Share TrackShare
	// Kinds are lines of their own for kinds of vehicles: 50 ft for tractors and 100 ft for trucks (SEMP 5, 6), 35 and
	// 75 ft (RENEG 2), 50 and 75 ft (AMPI 8). A class is of one kind, which is said when it is planned.
	Kinds []KindLine
	// Attempts is how many there are in all; 0 is 2. Three: CHEL dead-weight. That a board may grant more (NATPA 21) is a
	// re-hook, with its reason.
	Attempts int
	// Throttle: the throttle decides and not the sled: who let off before the line may start again though the sled
	// rolled past it (ASTTQ 2, NL-VP). The officials saw it; a figure past the line is taken on their word.
	Throttle bool
	// Options are what the puller may choose; empty is [AtOnce] (RENEG 2, SE-RTT 1.9.3). At once or six places back:
	// ASTTQ 2. After the last of the class: NL-VP, for breakage.
	Options []Option
}

// KindLine is the restart line of a kind of vehicle.
type KindLine struct {
	Kind string
	Line Distance
}

// check says whether the rule contradicts itself or the set that it stands in.
func (a RestartRule) check(r RuleSet) error {
	switch {
	case !r.RestartLine.IsZero() && !a.Share.IsZero():
		return contradiction("restarts.share", "restart", "the restart line is given as a share and as a distance", "leave one of them out")
	case a.Attempts < 0 || a.Attempts == 1 || a.Attempts > 9:
		return invalid("restarts.attempts", "the number of attempts cannot be right", "write 2 to 9, or leave the restart line out for one")
	case slices.Contains(a.Options, Keep) || slices.Contains(a.Options, ToOriginal):
		return invalid("restarts.options", "keep and original are no ways of starting again", "write now, last or a place such as 7")
	case !r.restarts() && (a.Attempts > 0 || a.Throttle || len(a.Options) > 0):
		return contradiction("restarts", "restart", "there is no restart line, and the rest of the rule hangs on one", "give the line, or leave restarts out")
	}
	for i, kind := range a.Kinds {
		if kind.Kind == "" || slices.ContainsFunc(a.Kinds[:i], func(k KindLine) bool { return k.Kind == kind.Kind }) {
			return invalid("restarts.kinds", "a kind of vehicle has no name or is there twice", "write each once, such as truck 100")
		}
		if err := (TrackMark{Distance: kind.Line}).check("restarts.kinds", r.Line); err != nil {
			return err
		}
	}
	return r.RestartMark().check("restart", r.Line)
}

// restarts reports whether the rules have a restart line of any kind.
func (r RuleSet) restarts() bool { return !r.RestartMark().IsZero() || len(r.Restarts.Kinds) > 0 }

// RestartMark returns where the restart line lies; the zero TrackMark where there is none.
func (r RuleSet) RestartMark() TrackMark {
	return TrackMark{Distance: r.RestartLine, Share: r.Restarts.Share}
}

// Kinds returns the kinds of vehicles for which the rules have a restart line of their own.
func (r RuleSet) Kinds() []string {
	kinds := make([]string, len(r.Restarts.Kinds))
	for i, k := range r.Restarts.Kinds {
		kinds[i] = k.Kind
	}
	return kinds
}

// For returns the rules for a class of one kind of vehicle, with that kind's restart line as the line. Kinds of which
// the rules know nothing have the general line, or none.
func (r RuleSet) For(kind string) RuleSet {
	for _, k := range r.Restarts.Kinds {
		if k.Kind == kind {
			r.RestartLine, r.Restarts.Share = k.Line, TrackShare{}
		}
	}
	return r
}

// attemptsOf is how many attempts a hook is the first of: one for a test hook where the rules say so, else as many as the
// round has.
func (r RuleSet) attemptsOf(round RoundName, h Hook) int {
	if h.Test && r.Test.NoRestart {
		return 1
	}
	return r.attempts(round)
}

// attempts is how many attempts there are in a round, 1 where the restart line does not hold. One attempt in the
// pull-off: CME 4, MICRO 6, GSRT 15, NO 1.8, SE-RTT. NL-VP allows a second in the final too, hence the field.
func (r RuleSet) attempts(round RoundName) int {
	switch {
	case r.RestartMark().IsZero() || round.PullOff && !r.PullOff.SecondAttempt:
		return 1
	case r.Restarts.Attempts == 0:
		return 2
	default:
		return r.Restarts.Attempts
	}
}

// restartOptions are what a puller may choose who stopped short of the line.
func (r RuleSet) restartOptions() []Option {
	if len(r.Restarts.Options) == 0 {
		return []Option{AtOnce}
	}
	return r.Restarts.Options
}

// mayRestart reports whether the hook may be repeated because it stopped before the restart line: two attempts,
// the second only where the first stopped short of 75 ft (SCTPA 9, CHEL 6), 100 ft (HTP 7, BIGIRON 8) or 20 m
// (SE-RTT 1.9.3). Attempt counts them, and what stops exactly at the line has passed it. Where the throttle decides,
// short of the line is short all the same: it was let off before.
//
// The first distance is void once it is repeated, so that the second is official even when it is shorter (FLANT 6).
func (c *Class) mayRestart(round RoundName, h Hook) bool {
	return h.Result.Outcome == Measured && h.Attempt < c.Rules.attemptsOf(round, h) &&
		c.Rules.RestartMark().beyond(h.Result.Distance, c.Rules.Line)
}

// SecondAttempt stores that the puller on the track stopped before the restart line and starts again at once: where
// nobody measured the stop, or where the throttle decides and the sled rolled past the line. Where a stop short of it
// was measured, store the distance: the rules then leave the choice.
//
// That the throttle was let off in time, or that the sled stopped short of the line, is the officials' word here.
type SecondAttempt struct {
	Hook uuid.UUID
	// Distance is where the sled stopped, for the record; the zero Distance where nobody read it.
	Distance Distance
	Next     uuid.UUID
}

// decide voids the first attempt and calls the same entry again. The sled may be repositioned and weights moved
// between the attempts (SCTPA 9, HANOV 7); the setting of the sled stays the frozen one.
func (a SecondAttempt) decide(c *Class, at time.Time) error {
	h, err := c.hookOnTrack(a.Hook)
	if err != nil {
		return err
	}
	d := a.Distance
	switch {
	case !c.MayRestart():
		return wrongState("the rules give no second attempt here", "store what came of the hook")
	case !d.IsZero() && d.Unit().metric() != c.Rules.Unit().metric():
		return invalid("distance", d.String()+" is not in the unit of this class", "give it in "+c.Rules.Unit().String())
	case !d.IsZero() && !c.Rules.Restarts.Throttle && !c.Rules.RestartMark().beyond(d, c.Rules.Line):
		return invalid("distance", d.String()+" is past the restart line, and under these rules the sled decides", "store the distance as the result")
	}
	h.Choice, h.Result.Distance = AtOnce, d
	h.void(stoppedShort, at)
	c.current().moveFirst(h.Entry)
	return c.callNext(a.Next, at)
}

// MayRestart reports whether the puller on the track may start again after a stop before the restart line: the
// line holds in this round and an attempt is left. How far the sled went is not known yet.
func (c *Class) MayRestart() bool {
	h := c.onTrack()
	return h != nil && h.Attempt < c.Rules.attemptsOf(c.current().Name, *h)
}
