package domain

import (
	"fmt"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
)

// Setting is what the sled operator chooses for a round, and against which every competitor of it must be pulled.
// It is comparable.
type Setting struct {
	Box        Weight   // weight in the box
	Slabs      Slabs    // where it lies
	Gear       int      // box gear, 1 is the slowest; at most the sled's
	StartHole  int      // 1 is the rearmost; at most the sled's
	Trip       Distance // travel at which the pan or the push-down is tripped
	Pan        Weight   // extra weight on the pan
	Blades     string   // depth of the blades under the pan, as the crew writes it
	PushDown   string   // push-down, as the crew writes it
	Device     string   // measuring device
	SpeedLimit Speed    // limit of a speed-limited class
	Note       string
}

// Slabs says how many slabs lie on each side of the box and in its middle.
type Slabs struct {
	Left, Middle, Right int
}

// Total is the number of slabs in the box.
func (s Slabs) Total() int { return s.Left + s.Middle + s.Right }

// Check says what cannot be right about a setting on the given sled, naming the field. It never says that a setting
// is safe: that is the operator's and the officials' word.
func (s Setting) Check(sled Sled) error {
	switch {
	case s.Box.IsZero():
		return invalid("box", "the box weight is missing", "give it with its unit, such as 21600 lb")
	case s.Gear < 1 || s.Gear > sled.Gears:
		return invalid("gear", fmt.Sprintf("the sled has box gears 1 to %d", sled.Gears), "choose one of them")
	case s.StartHole < 1 || s.StartHole > sled.StartHoles:
		return invalid("start_hole", fmt.Sprintf("the sled has start holes 1 to %d", sled.StartHoles), "choose one of them")
	case s.Trip.IsZero():
		return invalid("trip", "the trip point is missing", "give the distance at which it trips")
	case min(s.Slabs.Left, s.Slabs.Middle, s.Slabs.Right) < 0 || s.Slabs.Total() > 200:
		return invalid("slabs", "the number of slabs cannot be right", "count them from 0")
	}
	for field, t := range map[string]string{"blades": s.Blades, "push_down": s.PushDown, "device": s.Device, "note": s.Note} {
		if utf8.RuneCountInString(t) > maxText {
			return invalid(field, fmt.Sprintf("the text is longer than %d characters", maxText), "shorten it")
		}
	}
	return nil
}

// Revision is one numbered setting of a round: a draft until it is frozen, then open, then closed. A round has at
// most one open revision, and a hook can be made only against that one.
type Revision struct {
	Number  int // 1, 2, … in the round
	Setting Setting
	Drafted time.Time
	Frozen  time.Time // zero while it is a draft
	Closed  time.Time // zero while it is a draft or open
	// Reason says why it replaced the one before; "" for the first.
	Reason string
}

// Open reports whether hooks are made against the revision.
func (r Revision) Open() bool { return !r.Frozen.IsZero() && r.Closed.IsZero() }

// Draft reports whether the revision can still be changed.
func (r Revision) Draft() bool { return r.Frozen.IsZero() }

// DraftSetting writes the setting card of a round; a draft may be written over until it is frozen.
type DraftSetting struct {
	Round   uuid.UUID
	Setting Setting
}

func (a DraftSetting) decide(c *Class, at time.Time) error {
	r, err := c.currentRound(a.Round)
	if err != nil {
		return err
	}
	if err := a.Setting.Check(c.Sled); err != nil {
		return err
	}
	if last := r.last(); last != nil && last.Draft() {
		last.Setting, last.Drafted = a.Setting, at
		return nil
	}
	if r.Open() != nil {
		return wrongState("the setting of this round is frozen: every hook is pulled against it", "reset it, with a reason, to change it")
	}
	r.Revisions = append(r.Revisions, Revision{Number: len(r.Revisions) + 1, Setting: a.Setting, Drafted: at})
	return nil
}

// FreezeSetting makes the draft the one setting against which the round is pulled.
type FreezeSetting struct {
	Round    uuid.UUID
	Revision int
}

func (a FreezeSetting) decide(c *Class, at time.Time) error {
	r, err := c.currentRound(a.Round)
	if err != nil {
		return err
	}
	last := r.last()
	switch {
	case last == nil || !last.Closed.IsZero():
		return wrongState("there is no setting to freeze", "write the setting first")
	case !last.Draft() || last.Number != a.Revision:
		return &Error{Kind: Stale, Field: "revision", Message: "the setting was changed or frozen meanwhile", Fix: "look at it again"}
	}
	last.Frozen = at
	return nil
}

// ResetSetting closes the open setting, with a reason, so that another can follow. Under the rules the hooks made so
// far become void and the line-up starts again, or they are kept; a hook under way is void in any case.
type ResetSetting struct {
	Round  uuid.UUID
	Reason string
}

func (a ResetSetting) decide(c *Class, at time.Time) error {
	r, err := c.currentRound(a.Round)
	if err != nil {
		return err
	}
	reason, err := required("reason", "the reason for the reset", a.Reason)
	if err != nil {
		return err
	}
	open := r.Open()
	if open == nil {
		return wrongState("no setting is frozen", "there is nothing to reset")
	}
	open.Closed = at
	r.Revisions = append(r.Revisions, Revision{Number: open.Number + 1, Setting: open.Setting, Drafted: at, Reason: reason})
	for i := range r.Hooks {
		h := &r.Hooks[i]
		if h.Result.IsZero() || c.Rules.Reset == Restart && h.Result.Counts() {
			h.void("setting reset: "+reason, at)
		}
	}
	return nil
}
