package sequence

import (
	"slices"
	"time"
)

// group is the classes of one session on one track, on which no class can be in another session. price is what a class is
// worth as the one before a change and as the one behind it, from the cheapest assignment of a next to each: no change
// costs less than both together, and those of the assignment cost as much. end is the same of the end of the session.
type group struct {
	track, session int
	classes        []int
	price          []struct{ before, behind time.Duration } // by class
	end            struct{ before, behind time.Duration }
}

// grouped makes the groups. The tracks on which a class may be in several sessions have none.
func (s *solver) grouped() []group {
	var groups []group
	for t, rows := range s.falling {
		if slices.ContainsFunc(rows, func(j int) bool { return len(s.Classes[j].Sessions) > 1 }) {
			continue
		}
		for session := range s.Sessions {
			g := group{track: t, session: session, price: make([]struct{ before, behind time.Duration }, len(s.Classes))}
			for _, j := range rows {
				if s.Classes[j].Sessions[0] == session {
					g.classes = append(g.classes, j)
				}
			}
			if len(g.classes) == 0 {
				continue
			}
			_, before, behind := assignment(s.nexts(g.classes, 1))
			for i, j := range g.classes {
				g.price[j].before, g.price[j].behind = before[i], behind[i]
			}
			g.end.before, g.end.behind = before[len(g.classes)], behind[len(g.classes)]
			groups = append(groups, g)
		}
	}
	return groups
}

// ahead is the least that a group will still cost: the prices of the changes to come, and what lies past the curfew where
// its classes are made one after the other.
func (g *group) ahead(s *solver, w *way) time.Duration {
	current := int(w.session[g.track]) == g.session
	end, changes, left := s.Sessions[g.session].Starts, g.end.before+g.end.behind, false
	var sunk time.Duration
	if current {
		end = w.free[g.track]
		sunk = s.over(g.session, end)
		changes = g.price[w.last[g.track]].before + g.end.behind
	}
	for _, j := range g.classes {
		if w.made>>j&1 == 0 {
			changes += g.price[j].before + g.price[j].behind
			end += s.Classes[j].Length
			left = true
		}
	}
	if !left {
		return 0
	}
	changes = max(0, changes)
	return changes + time.Duration(s.Overrun)*(s.over(g.session, end+changes)-sunk)
}

// ahead is the least that the classes not made yet will cost.
func (s *solver) ahead(w *way) time.Duration {
	var sum time.Duration
	for i := range s.groups {
		sum += s.groups[i].ahead(s, w)
	}
	for t, falling := range s.falling {
		if !slices.ContainsFunc(s.groups, func(g group) bool { return g.track == t }) {
			sum += s.shortest(w, t, falling)
		}
	}
	return sum
}

// shortest is the sum of the shortest changes to each class not made yet, but for one in each session that the track has
// not begun, which may be its first.
func (s *solver) shortest(w *way, track int, falling []int) time.Duration {
	var sum time.Duration
	firsts := len(s.Sessions) - 1 - int(w.session[track])
	for _, j := range falling {
		switch {
		case w.made>>j&1 == 1:
		case firsts > 0:
			firsts--
		default:
			sum += s.least[j]
		}
	}
	return sum
}

// bound is what no order can cost less than: what is ahead before anything is made, or on a track whose classes may be in
// several sessions the cheapest assignment with the end of each session in it.
func (s *solver) bound() time.Duration {
	w := s.begin()
	sum := s.ahead(&w)
	for t, rows := range s.falling {
		if !slices.ContainsFunc(s.groups, func(g group) bool { return g.track == t }) {
			cost, _, _ := assignment(s.nexts(rows, len(s.Sessions)))
			sum += max(0, cost-s.shortest(&w, t, rows))
		}
	}
	return sum
}

// nexts is what it costs that one class comes next behind another, a row for the one before, with so many ends of a
// session, which cost nothing before and behind.
func (s *solver) nexts(rows []int, ends int) [][]time.Duration {
	n := len(rows) + ends
	table := make([][]time.Duration, n)
	for a := range table {
		table[a] = make([]time.Duration, n)
		for b := range table[a] {
			switch {
			case a >= len(rows) || b >= len(rows):
			case a == b || !s.meet(rows[a], rows[b]):
				table[a][b] = never
			default:
				table[a][b] = s.Changes[rows[a]][rows[b]].Total()
			}
		}
	}
	return table
}

// never is the cost of what cannot come next: more than any programme, and little enough to be added up.
const never = 100_000 * time.Hour

// assignment returns the least sum of a square table with one figure from each row and each column: the Hungarian
// method (Kuhn, 1955, Naval Research Logistics Quarterly 2), row by row along shortest paths. With it come the prices of
// rows and columns, whose sum it is: no figure is below those of its row and its column together.
func assignment(table [][]time.Duration) (least time.Duration, ofRow, ofColumn []time.Duration) {
	n := len(table)
	rows, columns := make([]time.Duration, n+1), make([]time.Duration, n+1)
	owner := make([]int, n+1) // of each column, from 1; 0 for none
	for i := 1; i <= n; i++ {
		owner[0] = i
		at := 0
		near, back, seen := make([]time.Duration, n+1), make([]int, n+1), make([]bool, n+1)
		for j := range near {
			near[j] = endless
		}
		for owner[at] != 0 {
			seen[at] = true
			step, next := endless, 0
			for j := 1; j <= n; j++ {
				if seen[j] {
					continue
				}
				if c := table[owner[at]-1][j-1] - rows[owner[at]] - columns[j]; c < near[j] {
					near[j], back[j] = c, at
				}
				if near[j] < step {
					step, next = near[j], j
				}
			}
			for j := range near {
				if seen[j] {
					rows[owner[j]] += step
					columns[j] -= step
				} else {
					near[j] -= step
				}
			}
			at = next
		}
		for at != 0 {
			owner[at] = owner[back[at]]
			at = back[at]
		}
	}
	return -columns[0], rows[1:], columns[1:]
}
