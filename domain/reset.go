package domain

import (
	"fmt"
	"slices"
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
	// then says that the round was pulled on two settings.
	KeepHooks
	// PreviousAgain: earlier hooks stand but the last one, whose puller hooks again after the next (NL-VP: the next has
	// the test pull, and the previous one must pull again).
	PreviousAgain
	// NoReset: the setting is not changed within a round
	// (https://fieldays.co.nz/attend-fieldays/explore/competitions-and-demonstrations/tractor-pull-competition-entrant-guide).
	NoReset
)

// ResetRule is when a reset is to be thought of. It is advice: whether the sled is reset is the officials' and the
// operator's decision, and nothing happens by itself.
type ResetRule struct {
	// Past: a test hook past this distance (NSTT 8: 325 ft).
	Past Distance
	// FullPulls: so many full pulls, from the first hook against the setting on (TWOR 19: 2, AMPI 9: 3).
	FullPulls int
}

// check says whether the advice contradicts itself or the set that it stands in.
func (a ResetRule) check(r RuleSet) error {
	switch {
	case a.FullPulls < 0 || a.FullPulls > maxFinal:
		return invalid("reset_when.full_pulls", "the number of full pulls cannot be right", "write 1 or more, or leave it out")
	case r.Reset == NoReset && a != (ResetRule{}):
		return contradiction("reset_when", "reset", "a setting that is never changed within a round needs no advice when to change it", "leave one of them out")
	case a.FullPulls > 0 && !r.Capped:
		return contradiction("reset_when.full_pulls", "cap", "a floating class has no full pulls to count", "cap the set, or give the distance with past")
	case !a.Past.IsZero() && a.Past.Unit().metric() != r.Line.Unit().metric():
		return contradiction("reset_when.past", "line", "the two are in different units", "give both in "+r.Line.Unit().String())
	}
	return nil
}

// ResetAdvised returns what the rules advise about the setting that is being pulled against, as a sentence for the
// officials and the sled operator, who decide; "" while they advise nothing. With a rule of two full pulls:
//
//	41 FP, 7 FP        "the first 2 hooks against this setting were full pulls: these rules advise a reset of the sled"
//	41 FP, 7 281.36    ""
func (c *Class) ResetAdvised() string {
	r := c.current()
	if r == nil || r.Open() == nil || r.Name.PullOff {
		return ""
	}
	rule, against := c.Rules.ResetWhen, r.Open().Number
	made := slices.DeleteFunc(slices.Clone(r.Hooks), func(h Hook) bool { return h.Revision != against || !h.Result.Counts() || h.Result.Outcome == Absent })
	for _, h := range made {
		if d := h.Result.Distance; h.Test && !rule.Past.IsZero() && !d.IsZero() && d.Compare(rule.Past) > 0 {
			return fmt.Sprintf("the test hook went past %s: these rules advise a reset of the sled", rule.Past)
		}
	}
	full := slices.IndexFunc(made, func(h Hook) bool { return h.Result.Outcome != FullPull })
	if full < 0 {
		full = len(made)
	}
	if rule.FullPulls > 0 && full >= rule.FullPulls {
		return fmt.Sprintf("the first %d hooks against this setting were full pulls: these rules advise a reset of the sled", full)
	}
	return ""
}
