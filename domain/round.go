package domain

import (
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
)

// Round is one round of a class: who is in it and in which order, its setting revisions, and the hooks made.
// Line-up, revisions and hooks are in order: of the turns to come, of the drafts, of the calls. An entry is in
// the line-up once, whether it waits, hooked or is out; it may have several hooks, of which one at most counts.
//
// A round in which the test puller 41 hooks again in third place, and 23 is on the track, holds
//
//	line-up   7   23   41 (test puller, hooks again as number 3)
//	hooks     1: 41  void 281.36, test hook given up
//	          2: 7   263.10
//	          3: 23
//
// and only 41 waits.
type Round struct {
	ID        uuid.UUID
	Name      RoundName
	Lineup    []Slot
	Revisions []Revision
	Hooks     []Hook
}

// Slot is a place in a line-up. The line-up is the slots in their order; a slot has no number, so that moving
// one never leaves a gap.
type Slot struct {
	Entry uuid.UUID
	// Note says why the entry was moved here, "" when it was drawn here.
	Note string
	// Out says that the entry will not hook in this round; the note says why.
	Out bool
	// Presence is what the steward last said of the puller; see [Class.InLine].
	Presence Presence
}

// Open returns the open setting revision, or nil. There is at most one. It points into the round.
func (r *Round) Open() *Revision {
	if last := slices.IndexFunc(r.Revisions, Revision.Open); last >= 0 {
		return &r.Revisions[last]
	}
	return nil
}

// last returns the newest revision, or nil; it alone can be a draft or open.
func (r *Round) last() *Revision {
	if len(r.Revisions) == 0 {
		return nil
	}
	return &r.Revisions[len(r.Revisions)-1]
}

// started reports whether anybody was called in the round.
func (r *Round) started() bool { return len(r.Hooks) > 0 }

// TwoSettings reports whether hooks that count were made against more than one setting. It can be so only where
// the rules keep hooks over a reset; whoever publishes the round must say it, because its distances do not
// compare. An absence was pulled against none.
func (r *Round) TwoSettings() bool {
	first := 0
	for _, h := range r.Hooks {
		if !h.Result.Counts() || h.Result.Outcome == Absent {
			continue
		}
		if first == 0 {
			first = h.Revision
		}
		if h.Revision != first {
			return true
		}
	}
	return false
}

// ResultOf returns the result that counts for an entry in the round, else its last one, else the zero Result. A
// void result tells that there was a hook; who wants only what counts asks [Result.Counts].
func (r *Round) ResultOf(entry uuid.UUID) Result {
	if h := r.HookOf(entry); h != nil {
		return h.Result
	}
	return Result{}
}

// results maps every entry that hooked to what [Round.ResultOf] says of it. It goes over the hooks once, for
// ranking; the last hook wins while none counts, and nothing replaces one that does.
func (r *Round) results() map[uuid.UUID]Result {
	results := make(map[uuid.UUID]Result, len(r.Lineup))
	for _, h := range r.Hooks {
		if !results[h.Entry].Counts() {
			results[h.Entry] = h.Result
		}
	}
	return results
}

// HookOf returns the hook that counts for an entry in the round, else its last one, or nil. It points into the
// round.
func (r *Round) HookOf(entry uuid.UUID) *Hook {
	var last *Hook
	for i := range r.Hooks {
		if h := &r.Hooks[i]; h.Entry == entry {
			last = h
			if h.Result.Counts() {
				return h
			}
		}
	}
	return last
}

// Waiting returns the entries still to hook, in order, without the one on the track. The first is who is called
// next. An entry whose hook became void or is repeated waits again, at the place where it stands in the
// line-up.
func (r *Round) Waiting() []uuid.UUID {
	done := make(map[uuid.UUID]bool, len(r.Hooks))
	for _, h := range r.Hooks {
		if h.Result.Counts() || h.Result.IsZero() {
			done[h.Entry] = true
		}
	}
	waiting := make([]uuid.UUID, 0, len(r.Lineup))
	for _, s := range r.Lineup {
		if !s.Out && !done[s.Entry] {
			waiting = append(waiting, s.Entry)
		}
	}
	return waiting
}

// takeOut marks an entry as not hooking in this round any more, whatever becomes of a hook that it made. The
// slot stays, so that the printed order keeps its places and says why.
func (r *Round) takeOut(entry uuid.UUID, note string) {
	for i := range r.Lineup {
		if s := &r.Lineup[i]; s.Entry == entry {
			s.Out, s.Note = true, note
		}
	}
}

// move puts an entry behind the given number of waiting entries; 0 leaves it where it is, in front of them.
// Places beyond the end are the end. Only entries behind it are counted, and it never moves forward. With 41
// done, 7 giving up its call and 23, 12 and 5 waiting, move(7, 2) makes 41 7 23 12 5 into 41 23 12 7 5. The
// note says why it stands there now.
func (r *Round) move(entry uuid.UUID, places int, note string) {
	from := slices.IndexFunc(r.Lineup, func(s Slot) bool { return s.Entry == entry })
	slot := r.Lineup[from]
	slot.Note = note
	rest, waiting := slices.Delete(slices.Clone(r.Lineup), from, from+1), r.Waiting()
	to := 0
	for passed := 0; passed < places && to < len(rest); to++ {
		if slices.Contains(waiting, rest[to].Entry) {
			passed++
		}
	}
	r.Lineup = slices.Insert(rest, to, slot)
}

// moveFirst puts an entry in front of everybody who waits, without a note: it starts again at once, which the
// hook itself tells.
func (r *Round) moveFirst(entry uuid.UUID) {
	waiting := r.Waiting()
	if len(waiting) == 0 {
		return // the entry was taken out meanwhile, and nobody else waits
	}
	to := slices.IndexFunc(r.Lineup, func(s Slot) bool { return s.Entry == waiting[0] })
	from := slices.IndexFunc(r.Lineup, func(s Slot) bool { return s.Entry == entry })
	slot := r.Lineup[from]
	r.Lineup = slices.Insert(slices.Delete(slices.Clone(r.Lineup), from, from+1), to, slot)
}

// slot is a new place in a line-up; a scratched entry is out from the start. It is listed all the same, because
// a full puller who cannot come back is owed a line in the pull-off.
func (c *Class) slot(entry uuid.UUID, note string) Slot {
	if reason := c.Entry(entry).Scratched; reason != "" {
		return Slot{Entry: entry, Note: "scratched: " + reason, Out: true}
	}
	return Slot{Entry: entry, Note: note}
}

// OpenRound opens the round that is due: a further class round or a pull-off, with Round as its id. Which one
// it is and who is in it follow from the rules and the results; Name guards against a stale page.
type OpenRound struct {
	Round uuid.UUID
	Name  RoundName
}

// decide gives the new round the class order (NSTT 9, SNUB 9) and no setting: the sled is set anew, for a
// pull-off usually heavier (NK 2). The setting of the round before is closed with it, since nothing can be
// pulled against it any more.
func (a OpenRound) decide(c *Class, at time.Time) error {
	due, entries := c.roundDue()
	if due.Number == 0 {
		return wrongState("no further round is due", "the class goes on as it is")
	}
	if due != a.Name {
		return &Error{Kind: Stale, Field: "round", Message: fmt.Sprintf("round %s is due, not %s", due, a.Name), Fix: "look at the class again"}
	}
	lineup := make([]Slot, len(entries))
	for i, id := range entries {
		lineup[i] = c.slot(id, "")
	}
	// At most the last of them has an open setting. Going over all says the rule whole: nothing is pulled
	// against an earlier round any more.
	for i := range c.Rounds {
		if open := c.Rounds[i].Open(); open != nil {
			open.Closed = at
		}
	}
	c.Rounds = append(c.Rounds, Round{ID: a.Round, Name: due, Lineup: lineup})
	return nil
}
