package domain

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"clayline/domain/draw"
)

// Draw is how the order of a class came about. Anyone can recompute it from the seed, the numbers and the rules;
// package draw says how. How order is drawn differs: by the puller at the fee (MAM), at registration (MERR 15),
// by the board in front of pullers (MMTT 2). What is common to them is that nobody chooses it, which a public
// seed keeps.
type Draw struct {
	Seed   string // the whole text that was drawn from
	Drawn  time.Time
	Order  []uuid.UUID // as drawn; late entries are not in it
	Times  int         // 1, more after a redraw
	Reason string      // why it was drawn again
	How    DrawHow
}

// DrawHow is what the order had to keep, and how it was found. Its zero value is the plain draw of a seed, as
// draws were before there were rules. Try, and Place and Listed where Try is 0, are those of draw.Drawn.
type DrawHow struct {
	Public  string // the public part of the seed
	Promise Promise
	Reveal  string // the text of the promise
	Groups  []Group
	Fixed   []Seat
	Try     int
	Place   string // from 0, in the list of Listed orders
	Listed  string
}

// Group is what was to be kept apart: entries of one driver. At least Kept others hook between any two of them;
// where that is less than Between, Proven tells that no order keeps more.
type Group struct {
	Entries []uuid.UUID
	Between int
	Kept    int
	Proven  bool
}

// Seat is a place that an official gave an entry, from 1.
type Seat struct {
	Entry uuid.UUID
	Place int
}

// Promise is a published commitment to a secret text, half of the seed of a draw to come: its hash as package
// draw writes it, since when it stands, and the reason where it took the place of another. The zero Promise is
// none.
type Promise struct {
	Hash   string
	Made   time.Time
	Reason string
}

// MaxDrawn is how many entries can be drawn at once.
const MaxDrawn = draw.MaxLabels

// BetweenUsual is how many hooks the form of a draw begins with between two of one driver: about what it takes
// to leave one vehicle and be strapped into the next. Common practice, no published source.
const BetweenUsual = 3

// DrawClass draws the order of a class and opens its first round. Before anybody was called it may be drawn
// again, with a reason: late entries may be wanted in the draw, or the seed was read out wrongly. Afterwards
// the order stands.
type DrawClass struct {
	Round  uuid.UUID // id of the first round, when it is drawn the first time
	Seed   string    // the public text
	Reason string    // for a redraw
	Reveal string    // the text of the promise that stands, "" without one
	// Between is how many others hook at least between two entries of a group; 0 asks for nothing.
	Between int
	Fixed   []Seat
	// Groups are the entries that one driver pulls. Whoever acts does not fill them in: [DrawClass.Grouped] does,
	// because names are no part of a journal.
	Groups [][]uuid.UUID
}

// Grouped is the draw with the groups that the names of the pullers make in a class, where it asks for something
// between. Two entries are one driver's when the names are the same but for case and stray spaces. Scratched
// entries are no part of a group.
func (a DrawClass) Grouped(c *Class) DrawClass {
	a.Groups = nil
	if a.Between == 0 {
		return a
	}
	of, names := make(map[string][]uuid.UUID), []string(nil)
	for _, e := range c.standing() {
		name := strings.ToLower(strings.Join(strings.Fields(e.Details.Puller), " "))
		if name != "" && of[name] == nil {
			names = append(names, name)
		}
		of[name] = append(of[name], e.ID)
	}
	for _, name := range names {
		if len(of[name]) > 1 {
			a.Groups = append(a.Groups, of[name])
		}
	}
	return a
}

// decide draws all entries that are not scratched. A redraw replaces the line-up as a whole and keeps the round
// with its id and its setting. The seed is kept cleaned, as it enters the hash, so that what is published is
// what was used. A promise that stands is used up.
func (a DrawClass) decide(c *Class, at time.Time) error {
	a, err := a.ordered(c)
	if err != nil {
		return err
	}
	public, err := text("seed", a.Seed)
	if err != nil {
		return err
	}
	reason, err := text("reason", a.Reason)
	if err != nil {
		return err
	}
	reveal, err := text("reveal", draw.Clean(a.Reveal))
	if err != nil {
		return err
	}
	entries := c.standing()
	switch {
	case len(entries) == 0:
		return wrongState("nobody is entered", "enter somebody first")
	case c.begun():
		return wrongState("the class has begun", "the order stands; use drop for a puller in trouble")
	case len(c.Rounds) == 1 && reason == "":
		return invalid("reason", "the class is drawn already", "give the reason for drawing it again")
	}
	seed, err := draw.Seed(public, reveal, c.Promise.Hash)
	if err != nil {
		return drawProblem(err)
	}
	how, order, err := a.draw(seed, entries)
	if err != nil {
		return drawProblem(err)
	}
	how.Public, how.Promise, how.Reveal = public, c.Promise, reveal
	for i := range c.Entries {
		c.Entries[i].Late = false // it is in this draw
	}
	c.Draw = Draw{Seed: seed, Drawn: at, Order: order, Times: c.Draw.Times + 1, Reason: reason, How: how}
	c.Promise = Promise{}
	c.lineUp(a.Round, order)
	return nil
}

// ordered is the draw as the rules on the order have it: as it was asked for where it is drawn, with a place for every
// entry where it is that of the entries (CHEL 8, FLIP 2) or the organiser's (DE-WIEL 14, NO-VET). Nothing is left to draw
// then, and the seed may be left out.
func (a DrawClass) ordered(c *Class) (DrawClass, error) {
	a.Seed = draw.Clean(a.Seed)
	entries := c.standing()
	switch c.Rules.Order.By {
	case DrawnByLot:
		return a, nil
	case AsEntered:
		a.Seed, a.Between, a.Groups, a.Fixed = cmp.Or(a.Seed, "in the order entered"), 0, nil, nil
		for i, e := range entries {
			a.Fixed = append(a.Fixed, Seat{Entry: e.ID, Place: i + 1})
		}
	case ByOrganiser:
		a.Seed = cmp.Or(a.Seed, "in the organiser's order")
		if len(a.Fixed) != len(entries) {
			return a, invalid("fixed", "under these rules the organiser gives every entry its place",
				fmt.Sprintf("write a place for each of the %d entries", len(entries)))
		}
	}
	return a, nil
}

// begun reports whether anybody was called. A call that was given up is a start too: somebody has been at the
// sled in this order.
func (c *Class) begun() bool { return len(c.Rounds) > 1 || len(c.Rounds) == 1 && c.Rounds[0].started() }

// lineUp makes an order the line-up of the first round, and opens the round if need be.
func (c *Class) lineUp(round uuid.UUID, order []uuid.UUID) {
	lineup := make([]Slot, len(order))
	for i, id := range order {
		lineup[i] = Slot{Entry: id}
	}
	if len(c.Rounds) == 0 {
		c.Rounds = []Round{{ID: round, Name: RoundName{Number: 1}}}
	}
	c.Rounds[0].Lineup = lineup
}

// draw draws the entries from a seed, under the rules that were asked for. The labels are the numbers on the
// vehicles: they are unique in a class, and everybody at the track can read them.
func (a DrawClass) draw(seed string, entries []Entry) (how DrawHow, order []uuid.UUID, err error) {
	at := func(id uuid.UUID) int {
		return slices.IndexFunc(entries, func(e Entry) bool { return e.ID == id })
	}
	var rules draw.Rules
	for _, ids := range a.Groups {
		group := draw.Group{Between: a.Between}
		for _, id := range ids {
			group.Members = append(group.Members, at(id))
		}
		rules.Groups = append(rules.Groups, group)
		how.Groups = append(how.Groups, Group{Entries: slices.Clone(ids), Between: a.Between})
	}
	for _, seat := range a.Fixed {
		rules.Fixed = append(rules.Fixed, draw.Fixed{Member: at(seat.Entry), Place: seat.Place})
	}
	if a.Between < 0 || a.Between > draw.MaxBetween {
		return how, nil, invalid("between", fmt.Sprintf("%d hooks between two of one driver cannot be", a.Between), fmt.Sprintf("write 0 to %d", draw.MaxBetween))
	}
	drawn, err := draw.Draw(seed, numbers(entries), rules)
	if err != nil {
		return how, nil, err
	}
	how.Fixed, how.Try = slices.Clone(a.Fixed), drawn.Try
	if drawn.Try == 0 {
		how.Place, how.Listed = drawn.Place.String(), drawn.Listed.String()
	}
	for i := range how.Groups {
		how.Groups[i].Kept, how.Groups[i].Proven = drawn.Kept[i], drawn.Proven[i]
	}
	for _, i := range drawn.Order {
		order = append(order, entries[i].ID)
	}
	return how, order, nil
}

// drawProblem is a refusal of package draw as one of this package. What is wrong with a group is wrong with how
// far it is to be apart, since its entries are not typed.
func drawProblem(err error) error {
	p, ok := errors.AsType[*draw.Problem](err)
	if !ok {
		return err
	}
	field := p.Field
	if field == "groups" {
		field = "between"
	}
	return invalid(field, p.Message, p.Fix)
}

// Commit publishes the hash of a secret text before the draw. From then on the class is drawn with that text or
// not at all, so that neither who keeps it nor who says the public text can steer the draw.
type Commit struct {
	Hash   string
	Reason string // why it takes the place of another
}

// decide puts the promise up. Another may be made where the text was lost; when the first was made is then gone
// from the class, but not from the journal, and the reason stands beside the new one.
func (a Commit) decide(c *Class, at time.Time) error {
	hash, err := draw.ReadCommitment(a.Hash)
	if err != nil {
		return drawProblem(err)
	}
	reason, err := text("reason", a.Reason)
	switch {
	case err != nil:
		return err
	case c.begun():
		return wrongState("the class has begun", "the order stands, and nothing is drawn any more")
	case c.Promise.Hash != "" && reason == "":
		return invalid("reason", "a commitment stands already", "draw with its secret text, or give the reason for another")
	}
	c.Promise = Promise{Hash: hash, Made: at, Reason: reason}
	return nil
}

// Swap exchanges two places of the order before anybody was called, which an official decides: two vehicles
// share a trailer, or a driver is still on the road. Both notes say it, and the draw stays as it was drawn.
type Swap struct {
	Entry  uuid.UUID
	With   uuid.UUID
	Reason string
}

// decide exchanges the slots. Who is out keeps that.
func (a Swap) decide(c *Class, _ time.Time) error {
	reason, err := required("reason", "the reason", a.Reason)
	if err != nil {
		return err
	}
	switch {
	case len(c.Rounds) == 0:
		return wrongState("the class is not drawn", "draw it first")
	case c.begun():
		return wrongState("the class has begun", "the order stands; use drop for a puller in trouble")
	case a.Entry == a.With:
		return invalid("with", "an entry cannot change places with itself", "choose another")
	}
	lineup := c.Rounds[0].Lineup
	slot := func(id uuid.UUID) int {
		return slices.IndexFunc(lineup, func(s Slot) bool { return s.Entry == id && !s.Out })
	}
	one, other := slot(a.Entry), slot(a.With)
	if one < 0 || other < 0 {
		return notFound("there is no such entry in the order", "reload the page")
	}
	lineup[one].Note = "changed places with " + c.numberOf(a.With) + ": " + reason
	lineup[other].Note = "changed places with " + c.numberOf(a.Entry) + ": " + reason
	lineup[one], lineup[other] = lineup[other], lineup[one]
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
