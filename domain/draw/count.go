package draw

import (
	"math/big"
	"slices"
	"strings"
)

// searchBound is how many steps one draw may take over all its attempts: it ends within a second
// or two. A try takes as many steps as there are entries; a placement that is looked at in counting takes as
// many as there are groups, and one.
const searchBound = 5_000_000

// counter counts the orders that keep the groups apart, place by place from the first. Who is in no group is as good as
// another, and two groups of the same kind are too, so that what is left to place is few states even for forty
// entries: how many of each group are left, and how long ago one of it hooked.
type counter struct {
	d     *drawing
	kept  []int
	kinds []kind
	kind  []int // of each label; -1 when it is fixed or in no group that asks for something
	comps []component
	memo  map[string]*big.Int
	last  int // the last free place, from 0
}

// kind are the free labels that are in the same groups: any of them may stand for another. barred are the places where
// a fixed label of their groups is too near.
type kind struct {
	groups []int
	comp   int
	at     int // index in the component
	barred []bool
}

// component is what hangs together by shared groups. gaps[a][b] is how many must lie between its kinds a and b; shape is
// equal for components that can stand for each other.
type component struct {
	kinds []int
	gaps  [][]int
	count []int
	shape byte
}

// state is how far an order has come: the next place, how many that are in no group are left, and of each component a
// pair of bytes a kind: how many are left, and how many places ago one was placed, 0 when that is long enough. A
// component of which nobody is left is "".
type state struct {
	place, singles int
	comps          []string
}

// newCounter prepares the counting with so many others between two of each group.
func newCounter(d *drawing, kept []int) *counter {
	c := &counter{d: d, kept: kept, kind: slices.Repeat([]int{-1}, len(d.labels)), memo: map[string]*big.Int{}}
	for place, label := range d.places {
		if label < 0 {
			c.last = place
		}
	}
	for _, label := range d.free {
		if groups := c.groupsOf(label); len(groups) > 0 {
			c.addKind(label, groups)
		}
	}
	c.connect()
	return c
}

// groupsOf are the groups of a label that ask for something.
func (c *counter) groupsOf(label int) (groups []int) {
	for i, g := range c.d.rules.Groups {
		if c.kept[i] > 0 && slices.Contains(g.Members, label) {
			groups = append(groups, i)
		}
	}
	return groups
}

// addKind puts a label to its kind, a new one if need be.
func (c *counter) addKind(label int, groups []int) {
	at := slices.IndexFunc(c.kinds, func(k kind) bool { return slices.Equal(k.groups, groups) })
	if at < 0 {
		at = len(c.kinds)
		c.kinds = append(c.kinds, kind{groups: groups, comp: -1, barred: c.barred(groups)})
	}
	c.kind[label] = at
}

// barred says at which places one of the groups may not stand because of those that are fixed.
func (c *counter) barred(groups []int) []bool {
	barred := make([]bool, len(c.d.places))
	for place, label := range c.d.places {
		for _, g := range groups {
			if label < 0 || !slices.Contains(c.d.rules.Groups[g].Members, label) {
				continue
			}
			for near := max(0, place-c.kept[g]); near <= min(len(barred)-1, place+c.kept[g]); near++ {
				barred[near] = true
			}
		}
	}
	return barred
}

// connect gathers kinds that share a group into components, and finds out which components are alike.
func (c *counter) connect() {
	for i := range c.kinds {
		if c.kinds[i].comp < 0 {
			c.comps = append(c.comps, component{})
			c.join(i, len(c.comps)-1)
		}
	}
	for i := range c.comps {
		comp := &c.comps[i]
		comp.count = make([]int, len(comp.kinds))
		for _, k := range c.kind {
			if k >= 0 && c.kinds[k].comp == i {
				comp.count[c.kinds[k].at]++
			}
		}
		for _, a := range comp.kinds {
			var row []int
			for _, b := range comp.kinds {
				row = append(row, c.gap(a, b))
			}
			comp.gaps = append(comp.gaps, row)
		}
		comp.shape = byte(i)
		if like := slices.IndexFunc(c.comps[:i], func(o component) bool { return c.alike(o, *comp) }); like >= 0 {
			comp.shape = c.comps[like].shape
		}
	}
}

// join puts a kind, and whatever shares a group with it, into a component.
func (c *counter) join(k, comp int) {
	c.kinds[k].comp, c.kinds[k].at = comp, len(c.comps[comp].kinds)
	c.comps[comp].kinds = append(c.comps[comp].kinds, k)
	for other := range c.kinds {
		if c.kinds[other].comp < 0 && c.gap(k, other) > 0 {
			c.join(other, comp)
		}
	}
}

// gap is how many others must lie between two of the kinds: the most that a group asks for in which both are.
func (c *counter) gap(a, b int) (gap int) {
	for _, g := range c.kinds[a].groups {
		if slices.Contains(c.kinds[b].groups, g) {
			gap = max(gap, c.kept[g])
		}
	}
	return gap
}

// alike reports whether two components of one kind each ask for the same; larger ones are not compared. How many they
// have is in the state.
func (c *counter) alike(a, b component) bool {
	return len(a.kinds) == 1 && len(b.kinds) == 1 && a.gaps[0][0] == b.gaps[0][0] &&
		slices.Equal(c.kinds[a.kinds[0]].barred, c.kinds[b.kinds[0]].barred)
}

// clash reports that no order can keep the rules, for a reason that needs no search: two that are fixed too near, or a
// group for which the class is too short.
func (c *counter) clash() bool {
	for i, g := range c.d.rules.Groups {
		if !Apart(c.d.places, g.Members, c.kept[i]) || (len(g.Members)-1)*(c.kept[i]+1) >= len(c.d.places) {
			return true
		}
	}
	return false
}

// start is the state before the first place.
func (c *counter) start() state {
	s := state{comps: make([]string, len(c.comps))}
	for _, label := range c.d.free {
		if c.kind[label] < 0 {
			s.singles++
		}
	}
	for i, comp := range c.comps {
		text := []byte{comp.shape}
		for _, n := range comp.count {
			text = append(text, byte(n), 0)
		}
		s.comps[i] = string(text)
	}
	return s
}

// count returns how many orders there are from a state on, with every label told from every other. It is false when the
// search was given up.
func (c *counter) count(s state) (*big.Int, bool) {
	for s.place < len(c.d.places) && c.d.places[s.place] >= 0 {
		s = c.pass(s)
	}
	if s.place > c.last || len(c.d.free) == 0 {
		return big.NewInt(1), true
	}
	s.comps = slices.Clone(s.comps)
	slices.Sort(s.comps)
	key := string([]byte{byte(s.place >> 8), byte(s.place)}) + strings.Join(s.comps, "\xff")
	if n, known := c.memo[key]; known {
		return n, true
	}
	sum := new(big.Int)
	for i, comp := range s.comps {
		if comp == "" || i > 0 && comp == s.comps[i-1] {
			continue // counted with the one before, which is the same
		}
		same := 1
		for same+i < len(s.comps) && s.comps[i+same] == comp {
			same++
		}
		for k := range len(comp) / 2 {
			if !c.fits(s, comp, k) {
				continue
			}
			if !c.add(sum, c.put(s, i, k), same*int(comp[1+2*k])) {
				return nil, false
			}
		}
	}
	if s.singles > 0 && !c.add(sum, c.single(s), s.singles) {
		return nil, false
	}
	c.memo[key] = sum
	return sum, true
}

// add adds the orders from a state on, times how many ways lead to it. It is false when the search was given up.
func (c *counter) add(sum *big.Int, next state, ways int) bool {
	if !c.roomy(next) {
		return true
	}
	if c.d.left -= 1 + len(next.comps); c.d.left < 0 {
		return false
	}
	n, ok := c.count(next)
	if ok {
		sum.Add(sum, new(big.Int).Mul(n, big.NewInt(int64(ways))))
	}
	return ok
}

// fits reports whether one of the kind may stand at the next place.
func (c *counter) fits(s state, comp string, k int) bool {
	shape := c.comps[comp[0]]
	if comp[1+2*k] == 0 || c.kinds[shape.kinds[k]].barred[s.place] {
		return false
	}
	for other := range shape.kinds {
		if ago := int(comp[2+2*other]); ago > 0 && ago <= shape.gaps[k][other] {
			return false
		}
	}
	return true
}

// roomy reports whether what is left of each kind still fits into the places that are left. Most dead ends are seen
// here.
func (c *counter) roomy(s state) bool {
	room := c.last - s.place + 1
	for _, comp := range s.comps {
		if comp == "" {
			continue
		}
		shape := c.comps[comp[0]]
		for k := range shape.kinds {
			left, ago, gap := int(comp[1+2*k]), int(comp[2+2*k]), shape.gaps[k][k]
			if left == 0 {
				continue
			}
			need := 1 + (left-1)*(gap+1)
			if ago > 0 && ago <= gap {
				need += gap + 1 - ago
			}
			if need > room {
				return false
			}
		}
	}
	return true
}

// pass goes on to the next place without placing anybody.
func (c *counter) pass(s state) state {
	next := state{place: s.place + 1, singles: s.singles, comps: make([]string, len(s.comps))}
	for i, comp := range s.comps {
		if comp != "" {
			next.comps[i] = c.aged(comp, -1)
		}
	}
	return next
}

// put places one of a kind of a component.
func (c *counter) put(s state, at, k int) state {
	next := c.pass(s)
	next.comps[at] = c.aged(s.comps[at], k)
	return next
}

// single places one that is in no group.
func (c *counter) single(s state) state {
	next := c.pass(s)
	next.singles--
	return next
}

// aged is a component one place later, with one of its kind k placed, or nobody for -1. What is long enough ago is
// forgotten, and so is a component of which nobody is left: fewer states are different then.
func (c *counter) aged(comp string, k int) string {
	text, gaps, left := []byte(comp), c.comps[comp[0]].gaps, 0
	for i := range gaps {
		count, ago := &text[1+2*i], &text[2+2*i]
		switch {
		case i == k:
			*count, *ago = *count-1, 1
		case *ago > 0:
			*ago++
		}
		if int(*ago) > slices.Max(gaps[i]) {
			*ago = 0
		}
		left += int(*count)
	}
	if left == 0 {
		return ""
	}
	return string(text)
}

// at returns an order by its place in the list of all that keep the rules, from 0. The list is sorted as a dictionary
// is: by the label on the first place, then by that on the second, labels compared as bytes. All of it has been counted
// before, so that nothing is given up here.
func (c *counter) at(place *big.Int) []int {
	left := new(big.Int).Set(place)
	labels := slices.Clone(c.d.free)
	slices.SortFunc(labels, func(a, b int) int { return strings.Compare(c.d.labels[a], c.d.labels[b]) })
	order, s := slices.Clone(c.d.places), c.start()
	for i, fixed := range order {
		if fixed >= 0 {
			s = c.pass(s)
			continue
		}
		for j, label := range labels {
			next, ok := c.with(s, label)
			if !ok {
				continue
			}
			n, _ := c.count(next)
			if left.Cmp(n) < 0 {
				order[i], s, labels = label, next, slices.Delete(labels, j, j+1)
				break
			}
			left.Sub(left, n)
		}
	}
	return order
}

// with is the state after a label was placed, false when it may not stand there.
func (c *counter) with(s state, label int) (state, bool) {
	next := state{}
	if k := c.kind[label]; k < 0 {
		next = c.single(s)
	} else if at := c.kinds[k].comp; c.fits(s, s.comps[at], c.kinds[k].at) {
		next = c.put(s, at, c.kinds[k].at)
	} else {
		return next, false
	}
	return next, c.roomy(next)
}
