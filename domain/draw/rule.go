package draw

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Rules are what an order must keep beside chance. They name labels by their index in the list that is drawn, so
// that nothing depends on how a label is written. The zero Rules ask for nothing, and give the plain draw.
type Rules struct {
	Groups []Group
	Fixed  []Fixed
	// Late are the labels that hook last, in this order: they are not drawn.
	Late []int
}

// Group is what must be kept apart, such as two vehicles of one driver. Between is how many hooks of others, or
// of nobody in the group at least, must lie between any two of its members: with 3, the second may hook fourth
// after the first at the soonest. 0 asks for nothing.
type Group struct {
	Members []int
	Between int
}

// Fixed is a place that an official gave: Place 1 hooks first.
type Fixed struct {
	Member, Place int
}

// MaxBetween and MaxLabels bound what can be asked: far more than a class has, and little enough to be drawn while
// people wait.
const (
	MaxBetween = 20
	MaxLabels  = 200
)

// Problem says what about a draw cannot be, and what to change. Field is one of labels, seed, groups, fixed, late,
// reveal, commitment.
type Problem struct {
	Field, Message, Fix string
}

// Error writes both sentences in one.
func (p *Problem) Error() string { return p.Message + "; " + p.Fix }

// Check refuses rules that name nobody or contradict each other, whatever the seed is. What is refused here is a
// mistake of whoever wrote it; rules that merely cannot all be kept are no mistake, see [Draw].
func (r Rules) Check(labels []string) error {
	if err := checkLabels(labels); err != nil {
		return err
	}
	if len(r.Groups) > MaxLabels {
		return &Problem{"groups", fmt.Sprintf("%d groups are more than the %d there can be", len(r.Groups), MaxLabels), "put each driver in one group"}
	}
	for _, g := range r.Groups {
		if err := g.check(labels); err != nil {
			return err
		}
	}
	if err := distinct("late", r.Late, labels); err != nil {
		return err
	}
	return r.checkFixed(labels)
}

// checkLabels refuses labels that could not be told apart.
func checkLabels(labels []string) error {
	if len(labels) == 0 {
		return &Problem{"labels", "nobody is entered", "enter somebody first"}
	}
	if len(labels) > MaxLabels {
		return &Problem{"labels", fmt.Sprintf("%d entries are more than the %d that can be drawn at once", len(labels), MaxLabels), "draw them in two classes"}
	}
	seen := make(map[string]bool, len(labels))
	for _, label := range labels {
		switch {
		case strings.TrimSpace(label) == "":
			return &Problem{"labels", "an entry has no number", "write the number of the vehicle"}
		case seen[label]:
			return &Problem{"labels", label + " is entered twice", "leave one out, or add a letter to it"}
		}
		seen[label] = true
	}
	return nil
}

// check refuses a group of nobody and a distance that no class is long enough for.
func (g Group) check(labels []string) error {
	switch {
	case len(g.Members) == 0:
		return &Problem{"groups", "a group names nobody", "name the entries that are to be apart, or leave the group out"}
	case g.Between < 0 || g.Between > MaxBetween:
		return &Problem{"groups", fmt.Sprintf("%d hooks between two of a group cannot be", g.Between), fmt.Sprintf("write 0 to %d", MaxBetween)}
	}
	return distinct("groups", g.Members, labels)
}

// checkFixed refuses two on one place, one on two places, and places beyond the end or among those of late entries.
func (r Rules) checkFixed(labels []string) error {
	members := make([]int, len(r.Fixed))
	taken := make(map[int]int, len(r.Fixed))
	last := len(labels) - len(r.Late)
	for i, f := range r.Fixed {
		members[i] = f.Member
		if err := distinct("fixed", members[:i+1], labels); err != nil {
			return err
		}
		label := labels[f.Member]
		other, twice := taken[f.Place]
		switch {
		case slices.Contains(r.Late, f.Member):
			return &Problem{"fixed", label + " is late and has a fixed place", "a late entry hooks last; take one of the two away"}
		case f.Place < 1 || f.Place > last:
			return &Problem{"fixed", fmt.Sprintf("%s cannot have place %d", label, f.Place), fmt.Sprintf("give a place from 1 to %d", last)}
		case twice:
			return &Problem{"fixed", fmt.Sprintf("%s and %s are both on place %d", labels[other], label, f.Place), "give one of them another place"}
		}
		taken[f.Place] = f.Member
	}
	return nil
}

// distinct refuses indexes that name nobody, or the same twice.
func distinct(field string, members []int, labels []string) error {
	for i, m := range members {
		if m < 0 || m >= len(labels) {
			return &Problem{field, "it names somebody who is not entered", "enter the number first, or correct it"}
		}
		if slices.Contains(members[:i], m) {
			return &Problem{field, labels[m] + " is named twice", "name it once"}
		}
	}
	return nil
}

// places returns who stands where before anything is drawn, -1 for a free place: fixed ones, and late ones at the end.
func (r Rules) places(n int) []int {
	places := slices.Repeat([]int{-1}, n)
	for _, f := range r.Fixed {
		places[f.Place-1] = f.Member
	}
	for i, m := range r.Late {
		places[n-len(r.Late)+i] = m
	}
	return places
}

// ranked returns the indexes of the groups in the order in which they are served when not all can be kept: by their
// labels, each group's sorted, compared one after the other as bytes; then the smaller distance. The order in which
// groups are written down thus changes nothing.
func (r Rules) ranked(labels []string) []int {
	names := make([][]string, len(r.Groups))
	order := make([]int, len(r.Groups))
	for i, g := range r.Groups {
		order[i] = i
		for _, m := range g.Members {
			names[i] = append(names[i], labels[m])
		}
		slices.Sort(names[i])
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(slices.Compare(names[a], names[b]), cmp.Compare(r.Groups[a].Between, r.Groups[b].Between))
	})
	return order
}

// Apart reports whether an order keeps at least so many others between any two of the members.
func Apart(order, members []int, between int) bool { return Nearest(order, members) >= between }

// Nearest returns how many others lie between the two members that hook closest together in an order; MaxLabels when
// fewer than two of them are in it.
func Nearest(order, members []int) int {
	nearest, last := MaxLabels, -1
	for place, label := range order {
		if !slices.Contains(members, label) {
			continue
		}
		if last >= 0 {
			nearest = min(nearest, place-last-1)
		}
		last = place
	}
	return nearest
}

// byHash orders keys as bytes.
func byHash(a, b keyed) int { return bytes.Compare(a.key[:], b.key[:]) }
