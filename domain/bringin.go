package domain

import (
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
)

// BringIn brings a full puller into the pull-off that is being pulled, who was not in an earlier one: a correction made
// the full pull only when a further pull-off had begun. Who was in the first one is not asked to pull it again; whoever
// is brought in stands as those with whom the tie is pulled off. [Class.Missed] lists whom it can be; whether it is done
// is the officials' to decide, and no book that was read says what they do (no published source).
type BringIn struct {
	Round  uuid.UUID
	Entry  uuid.UUID
	Reason string
}

// decide puts the entry at the end of the line-up. Rules that add the pull-off to the distance are refused: a figure of
// the pull-off that was missed would have to be made up.
func (a BringIn) decide(c *Class, _ time.Time) error {
	r, err := c.currentRound(a.Round)
	if err != nil {
		return err
	}
	reason, err := required("reason", "the reason", a.Reason)
	switch {
	case err != nil:
		return err
	case !slices.Contains(c.Missed(), a.Entry):
		return &Error{Kind: WrongState, Field: "entry", Message: "that entry has missed no pull-off", Fix: "look at the class again"}
	case c.Rules.PullOff.Added:
		return wrongState("these rules add the pull-off to the distance, and number "+c.numberOf(a.Entry)+" has no figure in the one that was missed", "decide it on paper")
	}
	r.Lineup = append(r.Lineup, Slot{Entry: a.Entry, Note: broughtIn + reason})
	return nil
}

// broughtIn begins the note of an entry that the officials brought into a pull-off. It is read back from the note, and is
// thus part of what the journal must reproduce.
const broughtIn = "brought in by the officials: "

// broughtIn reports whether the officials brought the entry into the round.
func (s Slot) broughtIn() bool { return strings.HasPrefix(s.Note, broughtIn) }

// Missed returns the full pullers who share the first place of the class rounds and were in no pull-off, while one after
// the first is the current round, in class order. A correction into the first pull-off needs nobody's word; see topUp.
//
//	41 and 7 pulled full, tied in P1 and are in P2; 23 is corrected to a full pull: 23 has missed P1
func (c *Class) Missed() []uuid.UUID {
	r := c.current()
	if r == nil || !r.Name.PullOff || r.Name.Number == 1 {
		return nil
	}
	return slices.DeleteFunc(c.classOrder(), func(id uuid.UUID) bool {
		return c.Entry(id).Scratched != "" || !c.sharesTheFirst(id) || slices.ContainsFunc(c.Rounds, func(r Round) bool {
			return r.Name.PullOff && slices.ContainsFunc(r.Lineup, func(s Slot) bool { return s.Entry == id })
		})
	})
}

// sharesTheFirst reports whether the entry is a full puller who shares the first place of the class rounds.
func (c *Class) sharesTheFirst(entry uuid.UUID) bool {
	rounds := 0
	for rounds < len(c.Rounds) && !c.Rounds[rounds].Name.PullOff {
		rounds++
	}
	return rounds > 0 && slices.Contains(c.finalists(rounds), entry)
}

// fillMissed gives whoever was brought into a pull-off, for ranking, the results that those with whom it is pulled have
// in the pull-offs before: they are equal there, or there would be no further one.
func (c *Class) fillMissed(table *Table) {
	for i := range table.Rounds {
		for _, s := range c.Rounds[i].Lineup {
			if !s.broughtIn() {
				continue
			}
			if peer := c.peer(i); peer >= 0 {
				c.copyPullOffs(table, i, peer, s.Entry)
			}
		}
	}
}

// peer returns the row of an entry that came into the pull-off with the index by its own results, or -1.
func (c *Class) peer(round int) int {
	for _, s := range c.Rounds[round].Lineup {
		if !s.broughtIn() && !s.takenOut() {
			return slices.IndexFunc(c.Entries, func(e Entry) bool { return e.ID == s.Entry })
		}
	}
	return -1
}

// copyPullOffs copies the results of the pull-offs before the round with the index from the peer's row to the entry's.
func (c *Class) copyPullOffs(table *Table, round, peer int, entry uuid.UUID) {
	row := slices.IndexFunc(c.Entries, func(e Entry) bool { return e.ID == entry })
	for i := range round {
		if c.Rounds[i].Name.PullOff {
			table.Rows[row].Results[i] = table.Rows[peer].Results[i]
		}
	}
}
