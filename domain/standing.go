package domain

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// Table is what [Rank] ranks: one row an entry, one column a round.
type Table struct {
	Rules  RuleSet
	Rounds []RoundName // in any order; ranking compares class rounds first, then P1, P2, …
	Rows   []Row
	// Complete says that nothing is still to be hooked, so that a finalist without a result did not come.
	Complete bool
}

// Row is one entry of a [Table].
type Row struct {
	// Number is the number on the vehicle; equal entries are listed by it.
	Number string
	// Results has one result for each of the table's rounds; the zero Result where the entry did not hook.
	Results []Result
}

// Placing is one line of a standing.
type Placing struct {
	// Row is the index of the entry in the table.
	Row int
	// Place is 1 for the best, equal for equal entries, and 0 for an entry that has no place.
	Place int
	// Shared reports whether another entry has the same place.
	Shared bool
	// Total is the figure of the class rounds as the rules count them, with the pull-offs where the rules add
	// those; zero without a place.
	Total Distance
	// FullPull reports whether the class rounds give a full pull: in a capped set, the figure cannot be beaten.
	FullPull bool
	// Withdrawn reports a finalist who did not come, where the rules take the place away.
	Withdrawn bool
}

// worth is what ranking sees of an entry: class rounds first, then each pull-off; more is better.
type worth struct {
	class    int64 // nanometres, -1 without a place
	pullOffs []int64
}

// Pull-off worths of those without a distance, in their published order: distances, then disqualified, then absent.
const (
	worthAbsent       = -2
	worthDisqualified = -1
)

// Rank returns the standing, best first, every row once. Entries are compared by the class rounds as the rules count
// them, then by P1, P2, … in turn; in a pull-off a distance comes before a disqualification and that before an
// absence. Equal entries share a place: 1, 2, 3, 3, 5. Rows without a counting distance in any class round have no
// place and come last.
func Rank(t Table) []Placing {
	worths := make([]worth, len(t.Rows))
	placings := make([]Placing, len(t.Rows))
	full, held := t.fullWorth(), t.pullOffHeld()
	order := t.order()
	for i, row := range t.Rows {
		worths[i] = t.worth(row, order)
		placings[i] = Placing{Row: i, FullPull: t.Rules.Capped && worths[i].class >= full}
	}
	finalists := count(placings, func(p Placing) bool { return p.FullPull })
	for i := range placings {
		if placings[i].FullPull && finalists > 1 && held && t.withdrawn(t.Rows[i]) {
			placings[i].Withdrawn, worths[i].class = true, -1
		}
		if worths[i].class >= 0 {
			placings[i].Total = t.total(t.Rows[i], order)
		}
	}
	slices.SortStableFunc(placings, func(a, b Placing) int {
		if c := worths[b.Row].compare(worths[a.Row]); c != 0 {
			return c
		}
		return CompareNumbers(t.Rows[a.Row].Number, t.Rows[b.Row].Number)
	})
	number(placings, worths)
	return placings
}

// number gives places and marks the shared ones; placings are sorted best first.
func number(placings []Placing, worths []worth) {
	for i := range placings {
		p := &placings[i]
		switch {
		case worths[p.Row].class < 0:
			continue
		case i > 0 && worths[p.Row].compare(worths[placings[i-1].Row]) == 0:
			p.Place, p.Shared, placings[i-1].Shared = placings[i-1].Place, true, true
		default:
			p.Place = i + 1
		}
	}
}

func (w worth) compare(v worth) int {
	if c := cmp.Compare(w.class, v.class); c != 0 || w.class < 0 {
		return c
	}
	return slices.Compare(w.pullOffs, v.pullOffs)
}

// worth reads one row.
func (t *Table) worth(row Row, order []int) worth {
	w := worth{class: -1}
	for _, i := range order {
		round, result := t.Rounds[i], row.Results[i]
		reach := t.Rules.reach(round, result)
		switch {
		case !round.PullOff && reach >= 0 && t.Rules.Count == SumOf:
			w.class = max(w.class, 0) + reach
		case !round.PullOff:
			w.class = max(w.class, reach)
		case reach >= 0:
			w.pullOffs = append(w.pullOffs, reach)
		case result.Outcome == Disqualified:
			w.pullOffs = append(w.pullOffs, worthDisqualified)
		default:
			w.pullOffs = append(w.pullOffs, worthAbsent)
		}
	}
	return w
}

// order returns the indexes of the rounds as they are compared.
func (t *Table) order() []int {
	order := make([]int, len(t.Rounds))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return t.Rounds[a].Compare(t.Rounds[b]) })
	return order
}

// fullWorth is the class figure that cannot be beaten in a capped set.
func (t *Table) fullWorth() int64 {
	if t.Rules.Count == SumOf {
		return t.Rules.Line.nanometres() * int64(t.Rules.Rounds)
	}
	return t.Rules.Line.nanometres()
}

// pullOffHeld reports whether any entry has a counting result in a pull-off.
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

// withdrawn reports whether a finalist counts as withdrawn: marked absent from the first pull-off or, once all is
// hooked, without a result in it, under rules that take the place away.
func (t *Table) withdrawn(row Row) bool {
	if t.Rules.PullOff.Absent != Withdrawn {
		return false
	}
	i := slices.Index(t.Rounds, RoundName{PullOff: true, Number: 1})
	return i >= 0 && (row.Results[i].Outcome == Absent || t.Complete && !row.Results[i].Counts())
}

// total returns the printed figure of the class rounds, in the unit of the rules.
func (t *Table) total(row Row, order []int) Distance {
	var total Distance
	for _, i := range order {
		round, result := t.Rounds[i], row.Results[i]
		d := result.Distance
		if t.Rules.reach(round, result) < 0 {
			continue
		}
		if d.IsZero() || t.Rules.EndsAtLine(round) && d.Compare(t.Rules.Line) > 0 {
			d = t.Rules.Line
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

// CompareNumbers orders vehicle numbers as people read them: 7, 7b, 12, 100, then those that start with letters.
func CompareNumbers(a, b string) int {
	figuresA, figuresB := leadingDigits(a), leadingDigits(b)
	if (figuresA == "") != (figuresB == "") {
		return -cmp.Compare(len(figuresA), len(figuresB))
	}
	numberA, _ := strconv.ParseUint(figuresA, 10, 64)
	numberB, _ := strconv.ParseUint(figuresB, 10, 64)
	return cmp.Or(cmp.Compare(numberA, numberB), strings.Compare(a, b))
}

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
