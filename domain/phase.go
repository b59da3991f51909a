package domain

import (
	"slices"
	"strings"

	"github.com/google/uuid"
)

// Phase says what a class waits for, and by that who has to act:
//
//	Entering                the desk enters the pullers, then draws
//	SettingDue              the desk writes the setting and freezes it, with the sled crew
//	Ready                   the desk or the booth calls, when the track is ready
//	Hooking                 the booth stores what came of the hook
//	ChoiceOpen              the puller chooses, and the booth stores it
//	RoundDue, PullOffDue    the desk opens the round
//	Decided                 the officials sign the result
type Phase uint8

// The phases of a class, in the usual order. SettingDue to ChoiceOpen come again in each round.
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
	// Decided: nothing more is to be hooked; the result is provisional until the officials make it official. A
	// class whose lower places are tied is decided: the places are shared.
	Decided
)

// Phase says what the class waits for. It is derived from the rounds and never stored, so that it cannot
// contradict them; a correction moves it by itself, from Decided back to PullOffDue for instance.
func (c *Class) Phase() Phase {
	r := c.current()
	switch {
	case r == nil:
		return Entering
	case c.Stopped != (Stopped{}):
		return Decided
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

// roundDue looks for a class round first, then for a pull-off of those whom the rules bring back; see [PullOffRule].
// Where each of them was scratched, nobody is left to pull and the tie stands.
//
// After a pull-off that ended in a tie for the first place a further one is due, P2, P3 …, until it is decided
// (CH, SNUB 9).
func (c *Class) roundDue() (RoundName, []uuid.UUID) {
	r := c.current()
	if r == nil || c.Stopped != (Stopped{}) || !c.roundOver(len(c.Rounds)-1) {
		return RoundName{}, nil
	}
	if !r.Name.PullOff {
		if entries := c.inClassRound(len(c.Rounds)); r.Name.Number < c.Rules.Rounds && len(entries) > 0 {
			return RoundName{Number: r.Name.Number + 1}, entries
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

// inClassRound returns who hooks in the class round that follows the first n rounds: everybody not scratched,
// in class order, without those who cannot better a full pull where the best round counts (a full pull in the
// first goes straight to the final: NO 1.8, SE-RTT 1.9.2). Where rounds are added, each counts and everybody
// comes back.
func (c *Class) inClassRound(n int) []uuid.UUID {
	return slices.DeleteFunc(c.classOrder(), func(id uuid.UUID) bool {
		return c.Entry(id).Scratched != "" || c.Rules.Capped && c.Rules.Count == BestOf &&
			slices.ContainsFunc(c.Rounds[:n], func(r Round) bool { return r.ResultOf(id).Outcome == FullPull })
	})
}

// takenOut begins the note of an entry that a correction took out, so that another one can bring it back;
// whoever is out for another reason stays out. It is read back from the note, and is thus part of what the
// journal must reproduce.
const takenOut = "taken out by a correction: "

// takenOut reports whether a correction took the slot's entry out of the round.
func (s Slot) takenOut() bool { return strings.HasPrefix(s.Note, takenOut) }

// Belongs reports whether what the slot's entry did in the round counts: no correction has taken it out.
func (s Slot) Belongs() bool { return !s.takenOut() }

// topUp brings the line-up of a round in line with the rounds before it, after one of their results was
// corrected: who belongs in it now hooks, and who does not any more is taken out, whatever was hooked. A
// pull-off with a single full puller left is not pulled.
//
// With 7 and 23 in P1 and 23 already hooked, a correction of 7's full pull to 299.98 ft takes both out: 23 wins
// alone. Correcting 41 to a full pull brings 41 in as the last of the line-up. In the first round there is
// nothing to do: everybody belongs in it. No published source; it follows from the rule on who comes back.
func (c *Class) topUp(reason string) {
	r, before := c.current(), len(c.Rounds)-1
	if before == 0 {
		return
	}
	// Whoever was scratched is in no class round, and slots of the scratched are out already.
	in := c.inClassRound(before)
	if r.Name.PullOff {
		if in = c.finalists(before); len(in) < 2 {
			in = nil
		}
	}
	for i := range r.Lineup {
		s := &r.Lineup[i]
		switch belongs := slices.Contains(in, s.Entry) || s.broughtIn() && c.sharesTheFirst(s.Entry); {
		case belongs && s.takenOut():
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
