package domain

import (
	"fmt"
	"slices"

	"github.com/google/uuid"
)

// AbsentFinalist says what somebody gets who is in the pull-off and does not hook in it.
type AbsentFinalist uint8

// What becomes of an absent finalist. No published rule text was read; published results show both.
const (
	// LastOfPullOff: after those who hooked in the pull-off, before all who were not in it. Two finalists of
	// three who hook take first and second, the absent one is third, and the longest distance short of the line
	// is fourth.
	LastOfPullOff AbsentFinalist = iota + 1
	// Withdrawn: no place at all; the others move up. In a published result two absent finalists were treated
	// as withdrawn, and 83.91 m and 83.41 m took the places (https://tractorpullingmania.it/news.asp?id=253).
	Withdrawn
)

// Finalists says who comes back for the pull-off.
type Finalists uint8

// Who comes back.
const (
	// FullPullers: every full puller, when there are two or more (NK 2, SNUB 9, BE-BORG, UK, NO 1.8).
	FullPullers Finalists = iota
	// TopPlaces: the best of the class, however many full pulls there are (BIGIRON 12: three).
	TopPlaces
	// Nobody: full pulls stay equal and share their place.
	Nobody
)

// PullOffRule says who comes back, how a pull-off is measured and what an absent finalist gets. There is no test pull
// in it (CARP 4, MICRO 5), which is no field, because no other rule was read. The zero PullOffRule is that of a
// floating set, which has no pull-off.
//
// NO 1.8 in short: FullPullers, FillTo 3, Absent LastOfPullOff: with one full pull the two next longest come to the
// final too, with none the three longest.
type PullOffRule struct {
	// Who comes back; Top is how many where that is a number of places.
	Who Finalists
	Top int
	// FillTo: with fewer than two full pulls the final is filled up to so many by the longest distances, and decides
	// among all of them (NO 1.8: 3). 0: a single full puller wins without hooking again, and without a full pull the
	// longest distance wins.
	FillTo int
	// Capped: the pull-off ends at the line too, so that a further one may be needed (SNUB 9, one club of CH).
	// Otherwise the figure counts past the line (NK 1, CH, FR-TP).
	Capped bool
	// Line is the full-pull line of the pull-off where it has one of its own (110 m after 100 m: VAL "The Game");
	// zero where it is that of the class.
	Line Distance
	// Reversed: the pull-off is hooked in the reverse of the class order (common practice, no published source);
	// otherwise in class order (NSTT 9, SNUB 9).
	Reversed bool
	// Added: the pull-off distance is added to the printed total of the class rounds, as in the results of the
	// source at [SumOf]. It changes no place: pull-offs are compared after the class rounds either way.
	Added bool
	// Absent says what a finalist gets who does not hook.
	Absent AbsentFinalist
	// DisqualifiedOut: a finalist who is disqualified in the first pull-off has no place; otherwise it costs no more than
	// a place (SCW 6 and GREEN 7 leave the pull-off its points).
	DisqualifiedOut bool
	// SecondAttempt: the restart line holds in pull-offs too (NL-VP); most books give one attempt (CME 4, MICRO
	// 6, GSRT 15, NO).
	SecondAttempt bool
	// SameDriver: whoever drove in the class must drive in the pull-off (OPS 16). Who drives is not recorded; the desk
	// is reminded.
	SameDriver bool
	// Before is what the officials see to before the pull-off, in the words of the book: a new weighing (PIED), fuel
	// (BEAST).
	Before string
}

// check says whether the rule contradicts itself or the set that it stands in.
func (p PullOffRule) check(r RuleSet) error {
	switch {
	// A floating set that describes a pull-off is two rule books at once. It is refused, since ignoring half of
	// it would bring nobody back where somebody expects it.
	case !r.Capped && p != (PullOffRule{}):
		return contradiction("pull_off", "cap", "a floating set has no pull-off, and this one describes one", "cap the set or leave pull_off out")
	case !r.Capped:
		return nil
	case p.Absent != LastOfPullOff && p.Absent != Withdrawn:
		return invalid("pull_off.absent", "the rule set does not say what an absent finalist gets", "write last_of_pull_off or withdrawn")
	case p.Who > Nobody:
		return invalid("pull_off.who", "the rule set does not say who comes back", "write full_pulls, top or nobody")
	case p.Top != 0 && (p.Top < 2 || p.Top > maxFinal):
		return invalid("pull_off.top", "a pull-off is for two or more", fmt.Sprintf("write a number from 2 to %d", maxFinal))
	case (p.Who == TopPlaces) != (p.Top != 0):
		return contradiction("pull_off.top", "pull_off.who", "a number of places belongs to top, and to nothing else", "write both or neither")
	case p.FillTo != 0 && p.Who != FullPullers:
		return contradiction("pull_off.fill_to", "pull_off.who", "only a final of full pullers is filled up", "leave one of them out")
	case p.FillTo != 0 && (p.FillTo < 2 || p.FillTo > maxFinal):
		return invalid("pull_off.fill_to", "a final is for two or more", fmt.Sprintf("write a number from 2 to %d, or leave it out", maxFinal))
	}
	if _, err := text("pull_off.before", p.Before); err != nil {
		return err
	}
	return p.checkLine(r)
}

// maxFinal bounds a final that is a number: no published one is near it.
const maxFinal = 100

// checkLine checks the pull-off's own line, which cannot lie before that of the class: whoever reached it in the class
// would have to pull less.
func (p PullOffRule) checkLine(r RuleSet) error {
	switch {
	case p.Line.IsZero():
	case p.Line.Unit().metric() != r.Line.Unit().metric():
		return contradiction("pull_off.line", "line", "the two are in different units", "give both in "+r.Line.Unit().String())
	case p.Line.Compare(r.Line) < 0:
		return contradiction("pull_off.line", "line", fmt.Sprintf("the pull-off's line %s lies before that of the class, %s", p.Line, r.Line), "move it to or past the line")
	}
	return nil
}

// topped reports whether the final is for more than full pullers, so that it decides among all who are in it whatever
// they did in the class.
func (p PullOffRule) topped() bool { return p.Who == TopPlaces || p.FillTo > 0 }

// final returns how many of a standing's first lines are in the first pull-off by the rules, given how many of them are
// full pulls; those who share the last place of it are in it too. 0 when there is none.
func (p PullOffRule) final(full int) int {
	switch {
	case p.Who == TopPlaces:
		return p.Top
	case p.Who == FullPullers && full < 2:
		return p.FillTo
	case p.Who == FullPullers:
		return full
	default:
		return 0
	}
}

// Finalists returns how many come back for a first pull-off, given how many full pulls there are; those who share the last
// place of it come too. 0 where none is pulled.
func (r RuleSet) Finalists(full int) int {
	if n := r.PullOff.final(full); r.Capped && n > 1 {
		return n
	}
	return 0
}

// finalists returns, in the order of the pull-off, who is in the one that follows the first n rounds. Whoever was
// disqualified or absent in the last one is behind those who hooked, and does not come back.
//
// A full puller who was scratched is in it too and out of its line-up, so that the rules decide what that is
// worth; see [AbsentFinalist].
func (c *Class) finalists(n int) []uuid.UUID {
	in := c.qualified(n)
	order := slices.DeleteFunc(c.classOrder(), func(id uuid.UUID) bool { return !slices.Contains(in, id) })
	if c.Rules.PullOff.Reversed {
		slices.Reverse(order)
	}
	return order
}

// qualified returns who is in the pull-off that follows the first n rounds, in no order; see [Table.back].
func (c *Class) qualified(n int) []uuid.UUID {
	last := &c.Rounds[n-1]
	var in []uuid.UUID
	for _, row := range c.table(n).back(last.Name, func(row int) bool {
		id := c.Entries[row].ID
		return last.ResultOf(id).Reached() && c.wasIn(last, id)
	}) {
		in = append(in, c.Entries[row].ID)
	}
	return in
}

// Back returns, by their rows and in no order, who is in the pull-off that follows all rounds of the table. Whoever has
// no distance in the last of them, if that is a pull-off, does not come back. A class is held to the rules as it goes on;
// this is for a class that was pulled on paper.
//
// Capped at 300 ft, each with its row:
//
//	0 FP, 1 FP, 2 281.36              0 and 1 are in P1
//	0 FP, 1 281.36                    nobody: 0 wins
//	P1 ends at the line: 0 FP, 1 FP   0 and 1 are in P2
func (t Table) Back() []int {
	order := t.order()
	if len(order) == 0 {
		return nil
	}
	last := order[len(order)-1]
	return t.back(t.Rounds[last], func(row int) bool { return t.Rows[row].Results[last].Reached() })
}

// back returns who is in the pull-off that follows a last round: in the first one whom the rules bring back, in a further
// one whoever is still equal at the top, and where ties are pulled again whoever shares a place that is worth it. hooked
// tells of a pull-off who made a distance in it.
func (t Table) back(last RoundName, hooked func(row int) bool) []int {
	standing := Rank(t)
	first := 0
	if !last.PullOff {
		first = t.Rules.PullOff.final(count(standing, func(p Placing) bool { return p.FullPull }))
	}
	var in []int
	for _, p := range standing {
		// After a pull-off only the first place is pulled on for, and only by those who hooked in it.
		decides := last.PullOff && t.Rules.Capped && t.Rules.PullOff.Who != Nobody && p.Place == 1 && p.Shared
		if p.Place > 0 && (!last.PullOff || hooked(p.Row)) && (p.Place <= first || decides || t.Rules.Ties.pulled(p)) {
			in = append(in, p.Row)
		}
	}
	return in
}

// wasIn reports whether the entry is in the line-up of a round and no correction took it out of it, so that what it did
// there counts.
func (c *Class) wasIn(r *Round, entry uuid.UUID) bool {
	return slices.ContainsFunc(r.Lineup, func(s Slot) bool { return s.Entry == entry && !s.takenOut() })
}
