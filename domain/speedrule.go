package domain

import (
	"fmt"
	"slices"
)

// SpeedRule is the speed limit of a class. The reading is the device's and the decision the officials'; the program shows
// the limit, the reading and what these rules have.
type SpeedRule struct {
	// Limit of the class; zero where there is none. 2.75 to 6 mph were read.
	Limit Speed
	// From is the place from which it holds: a third of the track (NATPA), half (SOAT 15), 75 ft (HARF); zero: from the
	// start.
	From TrackMark
	// Warnings is how often the limit may be passed before it costs the hook; 0: NATPA, one beep.
	Warnings int
	// Device reads the speed, in the words of the book: radar (NATPA Div III), horn (GREEN 7), pace tractor (HARF).
	Device string
	// NoOwnDevice: competitors may carry no speed measuring device of their own (CPTPA, 3.0 mph).
	NoOwnDevice bool
}

// check says whether the rule contradicts itself or the set that it stands in.
func (v SpeedRule) check(r RuleSet) error {
	if v.Limit.IsZero() && v != (SpeedRule{}) {
		return contradiction("speed.limit", "speed", "there is no limit, and the rest of the rule hangs on one", "give the limit, such as 3.5 mph, or leave speed out")
	}
	if v.Warnings < 0 || v.Warnings > 9 {
		return invalid("speed.warnings", "the number of warnings cannot be right", "write 0 to 9")
	}
	if err := v.From.check("speed.from", r.Line); err != nil {
		return err
	}
	_, err := text("speed.device", v.Device)
	return err
}

// String says the limit for a page: "3.5 mph from 1/3 of the track on"; "" for none.
func (v SpeedRule) String() string {
	switch {
	case v.Limit.IsZero():
		return ""
	case v.From.IsZero():
		return v.Limit.String()
	default:
		return v.Limit.String() + " from " + v.From.String() + " on"
	}
}

// OverLimit is a hook of which the device read more than the limit of the setting that it was pulled against.
type OverLimit struct {
	Hook  Hook
	Limit Speed
}

// OverLimit returns the hook of the current round of which more than the limit was read: the one on the track or the last
// that ended, until another ends; nil where there is none. A hook that does not count, or was disqualified for its speed, is
// none. Nothing follows by itself: a reading does not say where on the track it was, or how often a warning was given.
func (c *Class) OverLimit() *OverLimit {
	r := c.current()
	if r == nil || !c.Official.Made.IsZero() {
		return nil
	}
	for i := range slices.Backward(r.Hooks) {
		h := r.Hooks[i]
		limit := r.limit(h)
		open := h.Result.IsZero() || h.Result.Counts() && CauseOf(h.Result.Reason) != CauseSpeed
		if open && !limit.IsZero() && h.Speeds.Highest().Compare(limit) > 0 {
			return &OverLimit{Hook: h, Limit: limit}
		}
		if !h.Result.IsZero() {
			return nil
		}
	}
	return nil
}

// limit is the speed limit of the setting that a hook is pulled against; zero for none.
func (r *Round) limit(h Hook) Speed {
	for _, rev := range r.Revisions {
		if rev.Number == h.Revision {
			return rev.Setting.SpeedLimit
		}
	}
	return Speed{}
}

// SpeedAdvice says what these rules have for a reading over the limit, as a sentence for the staff:
//
//	under these rules it is a disqualification, without a distance, after 1 warning, where the limit holds: from 1/3 of
//	the track on
func (r RuleSet) SpeedAdvice() string {
	advice := r.Advice(CauseSpeed)
	switch r.Speed.Warnings {
	case 0:
	case 1:
		advice += ", after 1 warning"
	default:
		advice += fmt.Sprintf(", after %d warnings", r.Speed.Warnings)
	}
	if !r.Speed.From.IsZero() {
		advice += ", where the limit holds: from " + r.Speed.From.String() + " on"
	}
	return advice
}
