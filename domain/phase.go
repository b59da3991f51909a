package domain

import (
	"slices"
	"strings"

	"github.com/google/uuid"
)

// Phase says what a class waits for.
type Phase uint8

// The phases of a class, in the usual order.
const (
	// Entering: entries are taken, the class is not drawn.
	Entering Phase = iota + 1
	// SettingDue: the current round needs a setting, and it must be frozen.
	SettingDue
	// Ready: the setting is frozen and nobody is called.
	Ready
	// Hooking: a puller is on the track.
	Hooking
	// ChoiceOpen: the rules leave a choice to a puller, and nobody is called before it is made.
	ChoiceOpen
	// RoundDue: a further class round is due.
	RoundDue
	// PullOffDue: the full pullers come back.
	PullOffDue
	// Decided: nothing more is to be hooked; the result is provisional until the officials make it official.
	Decided
)

// Phase says what the class waits for. It is derived from the rounds and never stored.
func (c *Class) Phase() Phase {
	r := c.current()
	switch {
	case r == nil:
		return Entering
	case c.onTrack() != nil:
		return Hooking
	case c.Pending() != nil:
		return ChoiceOpen
	case len(r.Waiting()) > 0 && r.Open() == nil:
		return SettingDue
	case len(r.Waiting()) > 0:
		return Ready
	}
	due, _ := c.roundDue()
	switch {
	case due.Number == 0:
		return Decided
	case due.PullOff:
		return PullOffDue
	default:
		return RoundDue
	}
}

// RoundDue returns the name of the round that is to be opened next and who is in it, in class order; the zero
// RoundName when none is due.
func (c *Class) RoundDue() (RoundName, []uuid.UUID) { return c.roundDue() }

func (c *Class) roundDue() (RoundName, []uuid.UUID) {
	r := c.current()
	if r == nil || !c.roundOver(len(c.Rounds)-1) {
		return RoundName{}, nil
	}
	if !r.Name.PullOff {
		for n := r.Name.Number + 1; n <= c.Rules.Rounds; n++ {
			if entries := c.inClassRound(len(c.Rounds)); len(entries) > 0 {
				return RoundName{Number: n}, entries
			}
		}
	}
	next := RoundName{PullOff: true, Number: 1}
	if r.Name.PullOff {
		next.Number = r.Name.Number + 1
	}
	entries := c.finalists(len(c.Rounds))
	if len(entries) > 1 && slices.ContainsFunc(entries, func(id uuid.UUID) bool { return c.Entry(id).Scratched == "" }) {
		return next, entries
	}
	return RoundName{}, nil
}

// inClassRound returns who hooks in the class round that follows the first n rounds: everybody not scratched, without
// those who cannot better a full pull where the best round counts.
func (c *Class) inClassRound(n int) []uuid.UUID {
	return slices.DeleteFunc(c.classOrder(), func(id uuid.UUID) bool {
		return c.Entry(id).Scratched != "" || c.Rules.Capped && c.Rules.Count == BestOf &&
			slices.ContainsFunc(c.Rounds[:n], func(r Round) bool { return r.ResultOf(id).Outcome == FullPull })
	})
}

// finalists returns, in class order, who is in the pull-off that follows the first n rounds: the full pullers who
// share the first place, and who hooked in the last pull-off when there was one. A full puller who was scratched is in
// it too and out of its line-up, so that the rules decide what that is worth.
func (c *Class) finalists(n int) []uuid.UUID {
	last := &c.Rounds[n-1]
	var in []uuid.UUID
	for _, p := range Rank(c.table(n)) {
		id := c.Entries[p.Row].ID
		if p.Place == 1 && p.FullPull && (!last.Name.PullOff || last.ResultOf(id).Reached()) {
			in = append(in, id)
		}
	}
	return slices.DeleteFunc(c.classOrder(), func(id uuid.UUID) bool { return !slices.Contains(in, id) })
}

// takenOut begins the note of an entry that a correction took out, so that another one can bring it back; whoever is
// out for another reason stays out.
const takenOut = "taken out by a correction: "

// topUp brings the line-up of a round in line with the rounds before it, after one of their results was corrected:
// who belongs in it now hooks, and who does not any more is taken out, whatever was hooked. A pull-off with a single
// full puller left is not pulled.
func (c *Class) topUp(reason string) {
	r, before := c.current(), len(c.Rounds)-1
	if before == 0 {
		return
	}
	in := c.inClassRound(before)
	if r.Name.PullOff {
		if in = c.finalists(before); len(in) < 2 {
			in = nil
		}
	}
	for i := range r.Lineup {
		s := &r.Lineup[i]
		switch belongs := slices.Contains(in, s.Entry); {
		case belongs && strings.HasPrefix(s.Note, takenOut):
			s.Out, s.Note = false, "brought in again by a correction: "+reason
		case !belongs && !s.Out:
			s.Out, s.Note = true, takenOut+reason
		}
	}
	for _, id := range in {
		if !slices.ContainsFunc(r.Lineup, func(s Slot) bool { return s.Entry == id }) {
			r.Lineup = append(r.Lineup, c.slot(id, "brought in by a correction: "+reason))
		}
	}
}
