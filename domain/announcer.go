package domain

import (
	"slices"
	"sort"

	"github.com/google/uuid"
)

// Stake is what the next result of one puller means for the standing as it is now: for whoever says it aloud beside the
// track. It decides nothing, and whoever hooks later may change all of it. In a capped class in which 38 leads with
// 296.41 ft and 7 has a full pull:
//
//	41, short of the line    cannot lead
//	41, full pull            first, shared with 7, and back with 7 for the pull-off
type Stake struct {
	Entry uuid.UUID
	// CanLead reports whether a figure short of a full pull can lead alone.
	CanLead bool
	// Over is the figure that has to be beaten for that, in the class's unit and to a thousandth of it; the zero Distance
	// where every distance leads, or none.
	Over Distance
	// Full is what a full pull means where the round ends at the line; nil where a figure past the line counts as it is.
	Full *FullStake
}

// FullStake is what a full pull at the line means, as it stands.
type FullStake struct {
	Place int
	// Shared are the others with that place; Back those who come back with the puller for the next pull-off by the rules,
	// if everything else stays as it is. Scratched entries are in neither. Both are in the order of entry.
	Shared, Back []uuid.UUID
}

// farthest bounds the search for the figure that leads where no line ends the round, in thousandths of a unit: no pull
// comes near it.
const farthest = 10_000_000

// Stake returns what is at stake for the puller on the track, else for the next one to be called; nil where neither is
// known: before the setting is frozen, while somebody chooses, and when nobody is left in the round.
func (c *Class) Stake() *Stake {
	r := c.current()
	var entry uuid.UUID
	switch phase := c.Phase(); {
	case phase == Hooking && c.onTrack().Ended.IsZero():
		entry = c.onTrack().Entry
	case phase == Ready:
		entry = r.Waiting()[0]
	default:
		return nil
	}
	s := &Stake{Entry: entry}
	s.CanLead, s.Over = c.toLead(entry)
	if c.Rules.EndsAtLine(r.Name) {
		s.Full = c.fullStake(entry)
	}
	return s
}

// toLead finds the longest distance with which the entry would not lead alone, by trying: whatever the rules count, a
// longer distance never has a worse place. It relies on the entry having no result in the current round.
func (c *Class) toLead(entry uuid.UUID) (can bool, over Distance) {
	table, unit := c.table(len(c.Rounds)), c.Rules.Unit()
	row := slices.IndexFunc(c.Entries, func(e Entry) bool { return e.ID == entry })
	round := c.current().Name
	most := int64(farthest)
	if c.Rules.EndsAtLine(round) {
		most = c.Rules.LineOf(round).Milli() - 1
	}
	leads := func(milli int64) bool {
		table.Rows[row].Results[len(c.Rounds)-1] = Result{Outcome: Measured, Distance: Distance{unit: unit, value: decimal{milli: milli, digits: 3}}}
		p := placingOf(Rank(table), row)
		return p.Place == 1 && !p.Shared
	}
	least := c.Rules.Measure.Minimum
	first := max(1, least.In(unit, 3).Milli())
	if near := least.In(unit, 3); near.Compare(least) < 0 {
		first++ // rounded down, it would be no measurable pull
	}
	// The index of the first distance that leads, counted from the shortest that is measured.
	n := int64(sort.Search(int(max(0, most-first+1)), func(i int) bool { return leads(first + int64(i)) }))
	switch {
	case n > most-first:
		return false, Distance{}
	case n == 0:
		return true, Distance{}
	}
	return true, inFewDigits(unit, first+n-1)
}

// inFewDigits makes a distance of thousandths with no more decimals than it needs, and two at least, as figures are
// called out.
func inFewDigits(unit Unit, milli int64) Distance {
	d := decimal{milli: milli, digits: 3}
	if milli%10 == 0 {
		d.digits = 2
	}
	return Distance{unit: unit, value: d}
}

// placingOf finds the line of a row in a standing; every row has one.
func placingOf(standing []Placing, row int) Placing {
	return standing[slices.IndexFunc(standing, func(p Placing) bool { return p.Row == row })]
}

// fullStake gives the entry a full pull in a copy of the class, and reads off what the rules make of it.
func (c *Class) fullStake(entry uuid.UUID) *FullStake {
	with := c.Clone()
	r := with.current()
	// The hook on the track gets the result; who is not called yet gets a hook.
	if h := r.HookOf(entry); h != nil && h.Result.IsZero() {
		h.Result = Result{Outcome: FullPull}
	} else {
		r.Hooks = append(r.Hooks, Hook{Entry: entry, Result: Result{Outcome: FullPull}})
	}
	standing := Rank(with.table(len(with.Rounds)))
	own := placingOf(standing, slices.IndexFunc(c.Entries, func(e Entry) bool { return e.ID == entry }))
	full := &FullStake{Place: own.Place}
	back := with.qualified(len(with.Rounds))
	comes := slices.Contains(back, entry)
	for row, e := range c.Entries {
		if e.ID == entry || e.Scratched != "" {
			continue
		}
		if p := placingOf(standing, row); p.Place == own.Place && p.Place > 0 {
			full.Shared = append(full.Shared, e.ID)
		}
		if comes && slices.Contains(back, e.ID) {
			full.Back = append(full.Back, e.ID)
		}
	}
	return full
}

// RoundHook is a hook with the round in which it was pulled.
type RoundHook struct {
	Round RoundName
	Hook  Hook
}

// PulledBy returns the hooks of the class that count and moved the sled, of the entries that satisfy the condition, in
// the order pulled. It is for telling; a distance that is kept back must have been taken out before; see [Class.Told].
func (c *Class) PulledBy(is func(Entry) bool) (list []RoundHook) {
	for _, r := range c.Rounds {
		for _, h := range r.Hooks {
			if h.Result.Reached() && is(c.Entry(h.Entry)) {
				list = append(list, RoundHook{Round: r.Name, Hook: h})
			}
		}
	}
	return list
}
