package domain

import (
	"fmt"

	"github.com/google/uuid"
)

// EstimateBasis is what of a class the sled estimate starts from: one setting, and the hooks that tell what vehicles can
// do against it.
type EstimateBasis struct {
	Round    RoundName
	Revision Revision
	Line     Distance
	// EndsAtLine tells that a full pull ends the hook there. Elsewhere a figure past the line is a stop like any other.
	EndsAtLine bool
	Runs       []EstimateRun
	// Left says of each hook that counts and tells nothing why, in words: "hook 8, number 30: hand drop was noted".
	Left []string
}

// EstimateRun is what one hook tells.
type EstimateRun struct {
	Entry  uuid.UUID
	Result Result
	// Ended tells that something else than drag ended it, so that the pull was at least this much.
	Ended EstimateEnd
	// AtLine is the speed at the line, zero where none was read.
	AtLine Speed
}

// EstimateEnd says what else than drag ended a run: "" where drag did.
type EstimateEnd string

// What else can end a run.
const (
	EndedBroke   EstimateEnd = "broke"
	EndedStopped EstimateEnd = "stopped"
)

// EstimateBasis returns the setting and the hooks of a round: of the one named, or, for the zero name, of the newest with a
// hook that tells something, or else of the newest that has a setting at all. It is false where there is none. Of two
// settings in one round the newer counts that was hooked against, since their distances do not compare.
func (c *Class) EstimateBasis(of RoundName) (basis EstimateBasis, ok bool) {
	for i := len(c.Rounds) - 1; i >= 0; i-- {
		r := &c.Rounds[i]
		if len(r.Revisions) == 0 || of != (RoundName{}) && r.Name != of {
			continue
		}
		found := c.estimateBasis(r)
		if of == r.Name || len(found.Runs) > 0 {
			return found, true
		}
		if !ok {
			basis, ok = found, true
		}
	}
	return basis, ok
}

// estimateBasis reads one round, which has a setting.
func (c *Class) estimateBasis(r *Round) EstimateBasis {
	basis := EstimateBasis{Round: r.Name, Revision: *r.last(), Line: c.Rules.LineOf(r.Name), EndsAtLine: c.Rules.EndsAtLine(r.Name)}
	for _, h := range r.Hooks {
		if h.Result.Reached() {
			basis.Revision = r.Revisions[h.Revision-1]
		}
	}
	for _, h := range r.Hooks {
		why := h.untold(basis.Revision.Number)
		switch {
		case !h.Result.Counts() || h.Result.Outcome == Absent:
		case why != "":
			basis.Left = append(basis.Left, fmt.Sprintf("hook %d, number %s: %s", h.Number, c.numberOf(h.Entry), why))
		default:
			basis.Runs = append(basis.Runs, EstimateRun{Entry: h.Entry, Result: h.Result, Ended: h.endedBy(), AtLine: h.Speeds.AtLine})
		}
	}
	return basis
}

// untold says why a hook that counts tells the estimate nothing; "" where it does.
func (h Hook) untold(revision int) string {
	switch {
	case !h.Result.Reached():
		return "it has no distance"
	case h.Revision != revision:
		return "it was made against another setting"
	case !h.Difference.IsZero():
		return "something differed, " + h.Difference.String()
	case h.endedBy() != "" && h.Result.Distance.Milli() == 0:
		return "it ended before it moved"
	default:
		return ""
	}
}

// endedBy says what ended a hook whose distance counts in spite of what happened.
func (h Hook) endedBy() EstimateEnd {
	switch {
	case h.Result.Outcome != Measured || h.Result.Reason == "":
		return ""
	case CauseOf(h.Result.Reason) == CauseBreakage:
		return EndedBroke
	default:
		return EndedStopped
	}
}

// Drafting reports whether a setting can be written for the current round now: it was drawn or opened, no setting of it is
// frozen, and somebody is left to hook.
func (c *Class) Drafting() bool {
	r := c.current()
	return r != nil && r.Open() == nil && (len(r.Waiting()) > 0 || len(r.Hooks) == 0)
}
