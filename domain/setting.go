package domain

import (
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
)

// Setting is what the sled operator chooses for a round, and against which every competitor of it must be
// pulled. It is comparable. It is a record, not a prescription: the crew writes down what it set, in its own
// units, so that it can be repeated and so that everybody can see that it stayed the same.
type Setting struct {
	// Box to Pan decide how the load grows along the track: how much lies in the box, where it starts, how fast
	// it moves.
	Box   Weight // weight in the box
	Slabs Slabs  // where it lies
	// Piles says which slabs these are, where the sled's description has their weights. A journal written before slabs
	// had weights has none.
	Piles     Piles
	Gear      int      // box gear, 1 is the slowest; at most the sled's
	StartHole int      // 1 is the rearmost; at most the sled's
	Trip      Distance // travel at which the pan or the push-down is tripped
	Pan       Weight   // extra weight on the pan
	// Blades to Note are free text: no two sleds are built alike, and nothing is computed from them.
	Blades     string // depth of the blades under the pan, as the crew writes it
	PushDown   string // push-down, as the crew writes it
	Device     string // measuring device
	SpeedLimit Speed  // limit of a speed-limited class
	Note       string
}

// Check says what cannot be right about a setting on the given sled, naming the field. It never says that a
// setting is safe: that is the operator's and the officials' word. What follows from the slabs must have been filled in; see
// [Setting.On].
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
	}
	if err := s.Slabs.check(); err != nil {
		return err
	}
	for _, t := range [...]struct{ field, text string }{
		{"blades", s.Blades}, {"push_down", s.PushDown}, {"device", s.Device}, {"note", s.Note},
	} {
		if _, err := text(t.field, t.text); err != nil {
			return err
		}
	}
	return sled.Card.room(s)
}

// Revision is one numbered setting of a round: a draft until it is frozen, then open, then closed. A round has
// at most one open revision, and a hook can be made only against that one. A draft may be written over; from
// the freeze on nothing of the setting changes, and a reset makes a further revision:
//
//	1   frozen 18:21, closed 18:40   hooks 1 to 3
//	2   frozen 18:52, open           hooks 4 …       reason: two out the gate
//
// The times say which it is: no field could contradict them.
type Revision struct {
	Number  int // 1, 2, … in the round
	Setting Setting
	Drafted time.Time
	Frozen  time.Time // zero while it is a draft
	Closed  time.Time // zero while it is a draft or open
	// Reason says why it replaced the one before; "" for the first.
	Reason string
}

// Open reports whether hooks are made against the revision: it was frozen and not closed.
func (r Revision) Open() bool { return !r.Frozen.IsZero() && r.Closed.IsZero() }

// Draft reports whether the revision can still be changed: it was never frozen.
func (r Revision) Draft() bool { return r.Frozen.IsZero() }

// DraftSetting writes the setting card of a round; a draft may be written over until it is frozen. Round guards
// against a page that shows another round.
type DraftSetting struct {
	Round   uuid.UUID
	Setting Setting
}

// decide refuses a change of a frozen setting, however small: that all of a round pull against the same is what
// the setting is for (the setting is not changed within a round:
// https://fieldays.co.nz/attend-fieldays/explore/competitions-and-demonstrations/tractor-pull-competition-entrant-guide).
// What has to change is reset.
func (a DraftSetting) decide(c *Class, at time.Time) error {
	r, err := c.currentRound(a.Round)
	if err != nil {
		return err
	}
	if a.Setting, err = a.Setting.On(c.Sled); err != nil {
		return err
	}
	if err := a.Setting.Check(c.Sled); err != nil {
		return err
	}
	// The limit is the rules'; a card that leaves it out has it all the same.
	if limit := c.Rules.Speed.Limit; !limit.IsZero() && a.Setting.SpeedLimit.IsZero() {
		a.Setting.SpeedLimit = limit
	} else if !limit.IsZero() && a.Setting.SpeedLimit != limit {
		return invalid("speed_limit", "these rules have a speed limit of "+limit.String(), "write that, or leave it out")
	}
	// The number stays: a draft that was written over was never pulled against, and leaves no trace but in the
	// journal.
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

// FreezeSetting makes the draft the one setting against which the round is pulled. It is a step of its own, so
// that what is frozen was looked at; Revision names the draft that was.
type FreezeSetting struct {
	Round    uuid.UUID
	Revision int
	// Drafted is when the draft that was looked at had been written, so that nobody freezes what they have not seen;
	// the zero time freezes the draft whatever it says by now.
	Drafted time.Time
}

// decide cannot tell whether the same draft was written over meanwhile, since it keeps its number; a caller who
// must know sends the class's version.
func (a FreezeSetting) decide(c *Class, at time.Time) error {
	r, err := c.currentRound(a.Round)
	if err != nil {
		return err
	}
	last := r.last()
	switch {
	case last == nil || !last.Closed.IsZero():
		return wrongState("there is no setting to freeze", "write the setting first")
	case !last.Draft() || last.Number != a.Revision || !a.Drafted.IsZero() && !a.Drafted.Equal(last.Drafted):
		return &Error{Kind: Stale, Field: "revision", Message: "the setting was changed or frozen meanwhile", Fix: "look at it again"}
	}
	last.Frozen = at
	return nil
}

// ResetSetting closes the open setting, with a reason, so that another can follow. Under the rules the hooks
// made so far become void and everybody hooks again, or they are kept; a hook under way is void in any case.
// Who may reset, and when (past 325 ft: NSTT 8; two out the gate: TWOR 19; three full pulls: AMPI 9; the
// officials' judgement: CHEL 7), is the officials' to decide.
type ResetSetting struct {
	Round  uuid.UUID
	Reason string
}

// decide drafts the next revision from the closed one, because a reset changes little and what is copied by
// hand goes wrong. The order of the line-up stays as it is, moves included. A choice that is open over a hook which is
// kept comes first: a reset would end it without a word of its puller (common practice, no published source).
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
	switch {
	case open == nil:
		return wrongState("no setting is frozen", "there is nothing to reset")
	case c.Rules.Reset == KeepHooks && c.Pending() != nil:
		return wrongState("number "+c.numberOf(c.Pending().Hook.Entry)+" has a choice, and these rules keep the hook over a reset", "store the choice first")
	case c.Rules.Reset == NoReset && r.started():
		return wrongState("under these rules the setting is not changed within a round", "pull the round against it as it is")
	}
	open.Closed = at
	r.Revisions = append(r.Revisions, Revision{Number: open.Number + 1, Setting: open.Setting, Drafted: at, Reason: reason})
	for i := range r.Hooks {
		h := &r.Hooks[i]
		if h.Result.IsZero() || c.Rules.Reset == Restart && h.Result.Counts() {
			h.void("setting reset: "+reason, at)
		}
	}
	switch c.Rules.Reset {
	case Restart:
		r.startAgain(c)
	case PreviousAgain:
		r.previousAgain(reason, at)
	case KeepHooks, NoReset: // the hooks made stand
	}
	return nil
}

// previousAgain makes the last hook that counts not count: its puller hooks again, behind the next, who is the new test
// puller (NL-VP). An absence was pulled against no setting and stays.
func (r *Round) previousAgain(reason string, at time.Time) {
	for i := len(r.Hooks) - 1; i >= 0; i-- {
		h := &r.Hooks[i]
		if !h.Result.Counts() || h.Result.Outcome == Absent {
			continue
		}
		h.void("setting reset: "+reason, at)
		r.move(h.Entry, 1, "hooks again after the next, because the setting was reset")
		return
	}
}

// startAgain puts the line-up back into class order, as it was before anybody dropped or chose a place. Who is out of the
// round stays out.
func (r *Round) startAgain(c *Class) {
	order := c.classOrder()
	slices.SortStableFunc(r.Lineup, func(a, b Slot) int {
		return slices.Index(order, a.Entry) - slices.Index(order, b.Entry)
	})
	for i := range r.Lineup {
		if s := &r.Lineup[i]; !s.Out && !c.Entry(s.Entry).Late {
			s.Note = ""
		}
	}
}
