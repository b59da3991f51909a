package domain

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// Table is what [Rank] ranks: one row an entry, one column a round. It needs no class, so that a sheet that was
// pulled on paper is ranked by the same rules.
type Table struct {
	Rules  RuleSet
	Rounds []RoundName // in any order; ranking compares class rounds first, then P1, P2, …
	Rows   []Row
	// Complete says that nothing is still to be hooked, so that a finalist without a result did not come.
	// Before that, who is yet to hook must not be taken for absent.
	Complete bool
}

// Row is one entry of a [Table], a vehicle: one driver has as many rows as vehicles.
type Row struct {
	// Number is the number on the vehicle; equal entries are listed by it. It breaks no tie.
	Number string
	// Vehicle tells which entries are the same vehicle, for rules that give it one place; "" where nobody said.
	Vehicle string
	// Results has one result for each of the table's rounds, at the same index; the zero Result where the entry
	// did not hook. What does not count may be in it and is passed over.
	Results []Result
}

// Placing is one line of a standing. The lines of a standing are sorted, and their places follow from them:
// with places 1, 2, 3, 3, 5 the third and fourth line are Shared.
type Placing struct {
	// Row is the index of the entry in the table.
	Row int
	// Place is 1 for the best, equal for equal entries, and 0 for an entry that has no place.
	Place int
	// Shared reports whether another entry has the same place.
	Shared bool
	// Total is the figure of the class rounds as the rules count them, with the pull-offs where the rules add
	// those; zero without a place. It is for print: the order of the lines is not the order of the totals,
	// because a full puller's short pull-off stays before a longer class distance.
	Total Distance
	// FullPull reports whether the class rounds give a full pull: in a capped set, the figure cannot be beaten.
	// Where rounds are added it takes one in each.
	FullPull bool
	// Withdrawn reports a finalist who did not come, where the rules take the place away.
	Withdrawn bool
	// Again reports an entry without a place because its vehicle has a better one already.
	Again bool
}

// worth is what ranking sees of an entry: class rounds first, then each pull-off; more is better. In a final that was
// filled up or is for the top places, the pull-offs come first: it decides among all who are in it, and they stay before
// whoever was not. Two worths are equal exactly when the entries share a place.
type worth struct {
	final bool
	class int64 // nanometres, worthLast or worthNone
	// pullOffs has one number for each pull-off held, in order, for entries that were not in it too: they lost
	// by their class figure before it is looked at.
	pullOffs []int64
	// others are the class rounds, best first, where the rules let the next best break a tie; else empty.
	others []int64
}

// Class worths of those without a distance.
const (
	worthNone = -2 // no place
	worthLast = -1 // disqualified, and by the rules last of the class
)

// Pull-off worths of those without a distance: distances come first, 0 among them, then disqualified, then
// absent. A pull-off that ended at 0 was last of the pull-off in a published result; that a disqualification in
// it costs no more than its place follows SCW 6 and GREEN 7, which leave the pull-off its points. The order of
// disqualified before absent is common practice, no published source.
const (
	worthAbsent       = -2
	worthDisqualified = -1
)

// Rank returns the standing, best first, every row once. Entries are compared by the class rounds as the rules
// count them, then by P1, P2, … in turn; in a pull-off a distance comes before a disqualification and that
// before an absence. Equal entries share a place: 1, 2, 3, 3, 5. Rows without a counting distance in any class
// round have no place and come last.
//
// Whoever was in a pull-off stays before whoever was not, however short the pull-off: a full pull that was
// followed by 20.11 m won before every distance short of the line
// (https://out28.rssing.com/chan-15031523/all_p322.html). A tie for the first place among full pullers calls
// for a pull-off, which is a round and not Rank's doing; every other tie stands, as shared places in published
// results do. Rules that pull again for any tie (WAUSH 9, FLANT 5) are pulled as a further round.
//
// A disqualification in every round is not the last place: it is no place (common practice, no published
// source), unless the rules make it the last for its cause (RENEG 7, 8).
func Rank(t Table) []Placing {
	worths := make([]worth, len(t.Rows))
	placings := make([]Placing, len(t.Rows))
	full, held := t.fullWorth(), t.pullOffHeld()
	order := t.order()
	for i, row := range t.Rows {
		worths[i] = t.worth(row, order)
		placings[i] = Placing{Row: i, FullPull: t.Rules.Capped && worths[i].class >= full}
	}
	if held {
		t.decideFinal(placings, worths)
	}
	for i := range placings {
		if worths[i].class >= 0 {
			placings[i].Total = t.total(t.Rows[i], order)
		}
	}
	t.sort(placings, worths)
	if t.Rules.Entries.VehicleTwice == PlacesOnce {
		t.onePlace(placings, worths)
		t.sort(placings, worths)
	}
	number(placings, worths)
	return placings
}

// decideFinal marks who was in a final that decides among all in it, and takes the place from a finalist whom the rules
// count as withdrawn. Absence costs a place only once a pull-off has begun, and only where there was one to come to: a
// single full puller whom nobody joins wins without hooking again.
func (t *Table) decideFinal(placings []Placing, worths []worth) {
	full := count(placings, func(p Placing) bool { return p.FullPull })
	finalists := full
	if n := t.Rules.PullOff.final(full); t.Rules.PullOff.topped() && n > full {
		// Whoever shares the last place of the final is in it too.
		classes := make([]int64, len(worths))
		for i, w := range worths {
			classes[i] = w.class
		}
		slices.SortFunc(classes, func(a, b int64) int { return cmp.Compare(b, a) })
		last := max(classes[min(n, len(classes))-1], 0)
		for i := range worths {
			worths[i].final = worths[i].class >= last
		}
		finalists = count(worths, func(w worth) bool { return w.final })
	}
	for i := range placings {
		if finalists > 1 && (placings[i].FullPull || worths[i].final) && t.withdrawn(t.Rows[i]) {
			placings[i].Withdrawn, worths[i].final, worths[i].class = true, false, worthNone
		}
	}
}

// sort orders the lines, best first. Numbers order the lines of equal entries, so that a standing reads the same each
// time it is computed.
func (t *Table) sort(placings []Placing, worths []worth) {
	slices.SortStableFunc(placings, func(a, b Placing) int {
		if c := worths[b.Row].compare(worths[a.Row]); c != 0 {
			return c
		}
		return CompareNumbers(t.Rows[a.Row].Number, t.Rows[b.Row].Number)
	})
}

// number gives places and marks the shared ones; placings are sorted best first. A place counts the lines
// before it, so that two at 3 are followed by 5.
func number(placings []Placing, worths []worth) {
	for i := range placings {
		p := &placings[i]
		switch {
		case worths[p.Row].class == worthNone:
			continue
		case i > 0 && worths[p.Row].compare(worths[placings[i-1].Row]) == 0:
			p.Place, p.Shared, placings[i-1].Shared = placings[i-1].Place, true, true
		default:
			p.Place = i + 1
		}
	}
}

// compare orders worths; those without a place are equal, whatever they did in a pull-off.
func (w worth) compare(v worth) int {
	switch {
	case w.class == worthNone || v.class == worthNone:
		return cmp.Compare(w.class, v.class)
	case w.final && v.final:
		return slices.Compare(w.pullOffs, v.pullOffs)
	case w.final:
		return +1
	case v.final:
		return -1
	default:
		return cmp.Or(cmp.Compare(w.class, v.class), slices.Compare(w.pullOffs, v.pullOffs), slices.Compare(w.others, v.others))
	}
}

// worth reads one row, going through the rounds in the given order. A best figure is the largest reach, a sum
// adds the reaches there are; 0 in both is a distance and brings a place.
func (t *Table) worth(row Row, order []int) worth {
	w := worth{class: worthNone}
	for _, i := range order {
		round, result := t.Rounds[i], row.Results[i]
		reach := t.Rules.reach(round, result)
		switch {
		case !round.PullOff:
			w.add(t.Rules, result, reach)
		case reach >= 0:
			w.pullOffs = append(w.pullOffs, reach)
		// Void and repeated hooks fall to the default: the entry was there and has nothing that counts, like
		// one that did not come.
		case result.Outcome == Disqualified:
			w.pullOffs = append(w.pullOffs, worthDisqualified)
		default:
			w.pullOffs = append(w.pullOffs, worthAbsent)
		}
	}
	slices.SortFunc(w.others, func(a, b int64) int { return cmp.Compare(b, a) })
	return w
}

// add counts a class round.
func (w *worth) add(rules RuleSet, result Result, reach int64) {
	if rules.Ties.Ties == NextBest {
		w.others = append(w.others, reach)
	}
	switch {
	case reach >= 0 && rules.Count == SumOf:
		w.class = max(w.class, 0) + reach
	case reach >= 0:
		w.class = max(w.class, reach)
	case result.Outcome == Disqualified && rules.Consequence(CauseOf(result.Reason)) == LastPlace:
		w.class = max(w.class, worthLast)
	}
}

// order returns the indexes of the rounds as they are compared, which is as they are pulled.
func (t *Table) order() []int {
	order := make([]int, len(t.Rounds))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return t.Rounds[a].Compare(t.Rounds[b]) })
	return order
}

// fullWorth is the class figure that cannot be beaten in a capped set, in nanometres: the line, or the line in
// each of the rounds that are added (200.00 m of two pulls at 100 m, in the results of the source at [SumOf]).
func (t *Table) fullWorth() int64 {
	if t.Rules.Count == SumOf {
		return t.Rules.Line.nanometres() * int64(t.Rules.Rounds)
	}
	return t.Rules.Line.nanometres()
}

// pullOffHeld reports whether any entry has a counting result in a pull-off; a recorded absence is one.
func (t *Table) pullOffHeld() bool {
	return slices.ContainsFunc(t.Rows, func(row Row) bool {
		for i, result := range row.Results {
			if t.Rounds[i].PullOff && result.Counts() {
				return true
			}
		}
		return false
	})
}

// withdrawn reports whether a finalist counts as withdrawn: marked absent from the first pull-off or, once all
// is hooked, without a result in it, under rules that take the place away; or disqualified in it, where they take it
// for that. Absence from a further pull-off withdraws nobody: who hooked in P1 has earned a place in it.
func (t *Table) withdrawn(row Row) bool {
	i := slices.Index(t.Rounds, RoundName{PullOff: true, Number: 1})
	if i < 0 {
		return false
	}
	result, rule := row.Results[i], t.Rules.PullOff
	if result.Outcome == Disqualified {
		return rule.DisqualifiedOut
	}
	return rule.Absent == Withdrawn && (result.Outcome == Absent || t.Complete && !result.Counts())
}

// total returns the printed figure of the class rounds. A full pull without a figure, and a figure past a line
// that caps, are printed as the line. A sum has the unit of its first part; figures of a class have the class's
// unit, or inches where somebody called out feet and inches.
//
// Two pulls at 100 m, added, and the pull-off added to the print, with the totals of a published class:
//
//	1   full, full   90.59 in P1   290.59 m
//	2   full, full   85.02 in P1   285.02 m
//	3   two pulls                  195.70 m
func (t *Table) total(row Row, order []int) Distance {
	var total Distance
	for _, i := range order {
		round, result := t.Rounds[i], row.Results[i]
		d := result.Distance
		if t.Rules.reach(round, result) < 0 {
			continue
		}
		if line := t.Rules.LineOf(round); d.IsZero() || t.Rules.EndsAtLine(round) && d.Compare(line) > 0 {
			d = line
		}
		switch {
		case round.PullOff && !t.Rules.PullOff.Added:
		case round.PullOff || t.Rules.Count == SumOf:
			total = total.Add(d)
		case total.IsZero() || d.Compare(total) > 0:
			total = d
		}
	}
	return total
}

// CompareNumbers orders vehicle numbers as people read them: 7, 7b, 12, 100, then those that start with
// letters. It returns -1, 0 or +1.
func CompareNumbers(a, b string) int {
	figuresA, figuresB := leadingDigits(a), leadingDigits(b)
	if (figuresA == "") != (figuresB == "") {
		return -cmp.Compare(len(figuresA), len(figuresB))
	}
	numberA, _ := strconv.ParseUint(figuresA, 10, 64)
	numberB, _ := strconv.ParseUint(figuresB, 10, 64)
	return cmp.Or(cmp.Compare(numberA, numberB), strings.Compare(a, b))
}

// leadingDigits returns the figures that a number starts with, "" when it starts with something else.
func leadingDigits(s string) string {
	return s[:len(s)-len(strings.TrimLeft(s, "0123456789"))]
}

// count returns how many elements satisfy the condition.
func count[T any](list []T, is func(T) bool) (n int) {
	for _, v := range list {
		if is(v) {
			n++
		}
	}
	return n
}
