package domain

import (
	"time"

	"github.com/google/uuid"

	"clayline/domain/draw"
)

// Draw is how the order of a class came about. Anyone can recompute it from the seed and the numbers; package
// draw says how. How order is drawn differs: by the puller at the fee (MAM), at registration (MERR 15), by the
// board in front of pullers (MMTT 2). What is common to them is that nobody chooses it, which a public seed
// keeps.
type Draw struct {
	Seed   string
	Drawn  time.Time
	Order  []uuid.UUID // as drawn; late entries are not in it
	Times  int         // 1, more after a redraw
	Reason string      // why it was drawn again
}

// DrawClass draws the order of a class and opens its first round. Before anybody was called it may be drawn
// again, with a reason: late entries may be wanted in the draw, or the seed was read out wrongly. Afterwards
// the order stands.
type DrawClass struct {
	Round  uuid.UUID // id of the first round, when it is drawn the first time
	Seed   string
	Reason string // for a redraw
}

// decide draws all entries that are not scratched. A redraw replaces the line-up as a whole and keeps the round
// with its id and its setting. The seed is kept cleaned, as it enters the hash, so that what is published is
// what was used.
func (a DrawClass) decide(c *Class, at time.Time) error {
	seed, err := required("seed", "the seed", draw.Clean(a.Seed))
	if err != nil {
		return err
	}
	reason, err := text("reason", a.Reason)
	if err != nil {
		return err
	}
	entries := c.standing()
	switch {
	case len(entries) == 0:
		return wrongState("nobody is entered", "enter somebody first")
	// A call that was given up is a start too: somebody has been at the sled in this order.
	case len(c.Rounds) > 1 || len(c.Rounds) == 1 && c.Rounds[0].started():
		return wrongState("the class has begun", "the order stands; use drop for a puller in trouble")
	case len(c.Rounds) == 1 && reason == "":
		return invalid("reason", "the class is drawn already", "give the reason for drawing it again")
	}
	// The labels are the numbers on the vehicles: they are unique in a class, and everybody at the track can
	// read them.
	order := make([]uuid.UUID, 0, len(entries))
	for _, i := range draw.Order(seed, numbers(entries)) {
		order = append(order, entries[i].ID)
	}
	for i := range c.Entries {
		c.Entries[i].Late = false // it is in this draw
	}
	c.Draw = Draw{Seed: seed, Drawn: at, Order: order, Times: c.Draw.Times + 1, Reason: reason}
	lineup := make([]Slot, len(order))
	for i, id := range order {
		lineup[i] = Slot{Entry: id}
	}
	if len(c.Rounds) == 0 {
		c.Rounds = []Round{{ID: a.Round, Name: RoundName{Number: 1}}}
	}
	c.Rounds[0].Lineup = lineup
	return nil
}

// standing returns the entries that are not scratched, in the order entered.
func (c *Class) standing() []Entry {
	var entries []Entry
	for _, e := range c.Entries {
		if e.Scratched == "" {
			entries = append(entries, e)
		}
	}
	return entries
}

// numbers returns the entries' numbers, in their order.
func numbers(entries []Entry) []string {
	list := make([]string, len(entries))
	for i, e := range entries {
		list[i] = e.Number
	}
	return list
}
