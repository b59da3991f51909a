package sequence_test

import (
	"slices"
	"time"

	"clayline/domain/sequence"
)

// brute is the least that any order costs, by trying every order in which classes can be given their time, and every
// session. It shares nothing with the package but the words of its documentation.
func brute(p sequence.Problem) (least time.Duration, found bool) {
	least = 1 << 62
	var try func(order, sessions []int)
	try = func(order, sessions []int) {
		if len(order) == len(p.Classes) {
			if cost, ok := clocked(p, order, sessions); ok && cost < least {
				least, found = cost, true
			}
			return
		}
		for j, c := range p.Classes {
			if slices.Contains(order, j) {
				continue
			}
			for s := range p.Sessions {
				if len(c.Sessions) == 0 || slices.Contains(c.Sessions, s) {
					try(append(slices.Clone(order), j), append(slices.Clone(sessions), s))
				}
			}
		}
	}
	try(nil, nil)
	return least, found
}

// clocked goes through an order with a clock. It is false where a track goes back to an earlier session, or a class is not
// at its place.
func clocked(p sequence.Problem, order, sessions []int) (cost time.Duration, ok bool) {
	type done struct {
		class, session, place int
		start, end            time.Duration
	}
	var list []done
	for n, j := range order {
		c, in := p.Classes[j], p.Sessions[sessions[n]]
		var before *done
		wish := c.Fixed
		for i := range list {
			d := &list[i]
			if p.Classes[d.class].Track == c.Track {
				before = d
			}
			if together(p.Classes[d.class], c) {
				wish = max(wish, d.end+p.Rest)
			}
		}
		mine := done{class: j, session: sessions[n], place: 1}
		since, able := in.Starts, in.Starts
		first := true
		if before != nil {
			if before.session > sessions[n] {
				return 0, false
			}
			able = max(able, before.end+p.Changes[before.class][j].Box+p.Changes[before.class][j].Track)
			if first = before.session != sessions[n]; !first {
				since, mine.place = before.end, before.place+1
			}
		}
		if c.Place > 0 && c.Place != mine.place {
			return 0, false
		}
		lost := -since
		for _, b := range in.Breaks {
			had := !first && before.start >= b.From
			if !had && (able >= b.From || wish >= b.From) {
				able = max(able, b.From) + b.Length
				lost -= b.Length
			}
		}
		mine.start = max(able, wish)
		mine.end = mine.start + c.Length
		cost += lost + mine.start
		if c.Fixed > 0 {
			cost += time.Duration(p.Late) * (mine.start - c.Fixed)
		}
		list = append(list, mine)
	}
	for i, d := range list {
		last := !slices.ContainsFunc(list[i+1:], func(o done) bool {
			return p.Classes[o.class].Track == p.Classes[d.class].Track && o.session == d.session
		})
		if curfew := p.Sessions[d.session].Curfew; last && curfew > 0 {
			cost += time.Duration(p.Overrun) * max(0, d.end-curfew)
		}
	}
	return cost, true
}

// together reports whether two classes have somebody in common.
func together(a, b sequence.Class) bool {
	return slices.ContainsFunc(a.Shares, func(key string) bool { return slices.Contains(b.Shares, key) })
}
