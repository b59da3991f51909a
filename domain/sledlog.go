package domain

import (
	"strings"
	"time"
)

// SledWork is what a sled did in one class, as far as the record of the class has it. It is computed from the hooks and
// settings each time, and judges nobody: a fault is what the crew or the booth wrote down as one.
type SledWork struct {
	// Hooks counts the pulls against the sled, those too that do not count in the class: a re-hook, a test hook that was
	// given up. A call that was given up, an absence and who was not ready in time are none.
	Hooks     int
	FullPulls int // hooks that count and reached the line
	HandDrops int // hooks on which the pan was noted as dropped by hand
	// Faults are the hooks of which something was noted, or that were made again because of the sled, in the order pulled.
	Faults []SledFault
	Resets []SledReset
}

// SledFault is a hook on which something was noted of the sled.
type SledFault struct {
	Round      RoundName
	Hook       int    // its number in the round
	Entry      string // the number on the vehicle
	Difference Difference
	Rehook     string // why it was made again, where that was because of the sled
}

// SledReset is a setting that took the place of another within a round.
type SledReset struct {
	Round    RoundName
	Revision int // the new one
	Reason   string
	At       time.Time // when the one before was closed
}

// SledWork tells what the sled of the class did in it; the zero SledWork before anything was pulled.
func (c *Class) SledWork() SledWork {
	var work SledWork
	for i := range c.Rounds {
		r := &c.Rounds[i]
		for _, h := range r.Hooks {
			work.add(c, r, h)
		}
		for j, rev := range r.Revisions {
			if j > 0 && rev.Reason != "" {
				work.Resets = append(work.Resets, SledReset{Round: r.Name, Revision: rev.Number, Reason: rev.Reason, At: r.Revisions[j-1].Closed})
			}
		}
	}
	return work
}

// add counts one hook.
func (w *SledWork) add(c *Class, r *Round, h Hook) {
	if h.pulled() {
		w.Hooks++
	}
	if h.Result.Outcome == FullPull {
		w.FullPulls++
	}
	if h.Difference.What&HandDrop != 0 {
		w.HandDrops++
	}
	fault := SledFault{Round: r.Name, Hook: h.Number, Entry: c.numberOf(h.Entry), Difference: h.Difference}
	if h.Result.Outcome == Rehooked && becauseOfSled(h.Result.Reason) {
		fault.Rehook = h.Result.Reason
	}
	if !fault.Difference.IsZero() || fault.Rehook != "" {
		w.Faults = append(w.Faults, fault)
	}
}

// pulled reports whether a vehicle pulled in the hook, whatever it counts for.
func (h Hook) pulled() bool {
	switch h.Result.Outcome {
	case 0, Absent:
		return false
	case Void:
		return !strings.HasPrefix(h.Result.Reason, gaveUpCall)
	case Disqualified:
		return CauseOf(h.Result.Reason) != CauseNotReady
	default:
		return true
	}
}

// becauseOfSled reports whether the reason of a re-hook begins with the sled, as the booth writes it: "sled, light went red
// by itself".
func becauseOfSled(reason string) bool {
	word, _, _ := strings.Cut(reason+" ", " ")
	return strings.EqualFold(strings.Trim(word, ",:;"), "sled")
}

// Plus adds up two classes, with what happened in the first before what happened in the second.
func (w SledWork) Plus(other SledWork) SledWork {
	w.Hooks, w.FullPulls, w.HandDrops = w.Hooks+other.Hooks, w.FullPulls+other.FullPulls, w.HandDrops+other.HandDrops
	w.Faults = append(w.Faults[:len(w.Faults):len(w.Faults)], other.Faults...)
	w.Resets = append(w.Resets[:len(w.Resets):len(w.Resets)], other.Resets...)
	return w
}
