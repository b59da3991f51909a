package sequence

import (
	"cmp"
	"slices"
	"time"
)

// narrow is how many ways a step keeps where only a good order is looked for.
const narrow = 300

// endless is longer than any programme.
const endless = time.Duration(1) << 60

// Propose returns the cheapest order, or a good one with a bound where the cheapest would take too long. An error is a
// [Trouble].
func (p Problem) Propose() (Order, error) {
	if err := p.Check(); err != nil {
		return Order{}, err
	}
	p = p.sorted()
	whole := Order{Exact: true}
	for _, rows := range p.parts() {
		whole = whole.joined(p.only(rows).proposePart())
	}
	return whole, nil
}

// Evaluate says what a given order costs; see [Orders.Evaluate].
func (p Problem) Evaluate(ids []string) (Order, error) {
	o, err := p.Orders()
	if err != nil {
		return Order{}, err
	}
	return o.Evaluate(ids)
}

// Orders tells of one order of a problem after another what it costs. What they have in common is computed once, as for
// the moves of single classes:
//
//	o, _ := p.Orders()
//	as, _ := o.Evaluate([]string{"a", "b", "c"})
//	moved, _ := o.Evaluate([]string{"b", "a", "c"}) // b one up costs moved.Cost.Total - as.Cost.Total more
type Orders struct {
	at    map[string]int // the classes by their id, as sorted
	parts []part
}

// part are classes that have nothing in common with others; at is where each class of the problem is among them, and -1.
type part struct {
	at     []int
	solver *solver
}

// Orders prepares a problem for [Orders.Evaluate]. Fixed places are not looked at. An error is a [Trouble].
func (p Problem) Orders() (*Orders, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	p = p.sorted()
	o := &Orders{at: make(map[string]int, len(p.Classes))}
	for i := range p.Classes {
		p.Classes[i].Place = 0
		o.at[p.Classes[i].ID] = i
	}
	for _, rows := range p.parts() {
		at := slices.Repeat([]int{-1}, len(p.Classes))
		for i, row := range rows {
			at[row] = i
		}
		o.parts = append(o.parts, part{at, newSolver(p.only(rows))})
	}
	return o, nil
}

// Evaluate says what a given order costs. It lists each class once, by id, in the order of its track. Of the sessions that
// a class may be in, the cheapest is taken. Where there are too many ways for classes of several tracks to wait for one
// another, a good one is taken, the order is not Exact, and it costs no more than is said. An error is a [Trouble].
func (o *Orders) Evaluate(ids []string) (Order, error) {
	order, listed := make([]int, len(ids)), make(map[string]bool, len(ids))
	for n, id := range ids {
		i, found := o.at[id]
		if !found || listed[id] {
			return Order{}, &Trouble{-1, -1, "order", "the order has " + id + ", which is not to be put in order or stands twice", "list each class once"}
		}
		order[n], listed[id] = i, true
	}
	if len(order) != len(o.at) {
		return Order{}, &Trouble{-1, -1, "order", "the order does not have every class", "list each class once"}
	}
	whole := Order{Exact: true}
	for _, p := range o.parts {
		var own []int
		for _, i := range order {
			if p.at[i] >= 0 {
				own = append(own, p.at[i])
			}
		}
		s := p.solver.ordered(own)
		path, found, all := s.cheapest()
		switch {
		case !found && all:
			return Order{}, &Trouble{-1, -1, "order", "a class of a later session stands before one of an earlier session on its track", "list the sessions one after the other"}
		case !found:
			return Order{}, &Trouble{-1, -1, "order", "the tracks have too many classes in common to say what this order costs", "let fewer people be in classes of two tracks"}
		}
		told := s.told(path)
		told.Exact = all
		whole = whole.joined(told)
	}
	return whole, nil
}

// made is a class and the session in which it is made, as a piece of an order.
type made struct{ class, session int }

// proposePart puts classes in order that have nothing in common with others. Fixed places that clash are let go of, one
// after the other, until there is an order.
func (p Problem) proposePart() Order {
	p, loosened := p.loosen()
	for {
		s := newSolver(p)
		best, found, _ := s.search(narrow, endless)
		if !found {
			if best, found, _ = s.search(Most, endless); !found {
				last := lastPinned(p.Classes)
				loosened = append(loosened, p.Classes[last].ID)
				p.Classes[last].Place = 0
				continue
			}
		}
		order := s.prove(s.improved(s.present(best)))
		order.Loosened = loosened
		return order
	}
}

// lastPinned is the last class with a fixed place. Without any there is always an order, so that it finds one.
func lastPinned(classes []Class) int {
	for i := len(classes) - 1; i > 0; i-- {
		if classes[i].Place > 0 {
			return i
		}
	}
	return 0
}

// loosen lets go of fixed places that two classes have in one session, and of those beyond its last.
func (p Problem) loosen() (Problem, []string) {
	p.Classes = slices.Clone(p.Classes)
	var loosened []string
	for j := range p.Classes {
		c := &p.Classes[j]
		room, taken := 0, false
		for i, o := range p.Classes {
			if i == j || p.meet(i, j) {
				room++
			}
			taken = taken || i < j && o.Place == c.Place && p.meet(i, j) && len(o.Sessions)+len(c.Sessions) == 2
		}
		if c.Place > 0 && (taken || c.Place > room) {
			loosened = append(loosened, c.ID)
			c.Place = 0
		}
	}
	return p, loosened
}

// present returns the present order where it keeps everything and costs no more than another, else the other.
func (s *solver) present(best []made) []made {
	order := make([]int, len(s.Classes))
	for i := range order {
		order[i] = i
	}
	now, found, _ := s.ordered(order).cheapest()
	if found && s.costs(now) <= s.costs(best) {
		return now
	}
	return best
}

// prove looks for an order that is cheaper than a good one, and for what none can be below.
func (s *solver) prove(good []made) Order {
	order := s.told(good)
	if order.Bound = s.bound(); order.Bound == order.Cost.Total {
		order.Exact = true
		return order
	}
	better, found, all := s.search(s.patience(), order.Cost.Total)
	switch {
	case all && found:
		return s.told(better)
	case all:
		order.Bound, order.Exact = order.Cost.Total, true
		return order
	}
	order.Bound = max(order.Bound, s.apart())
	order.Exact = order.Bound == order.Cost.Total
	return order
}

// patience is how many ways a step may have while the cheapest order is looked for: beyond twenty classes that goes well
// where the bound is near, or not at all.
func (s *solver) patience() int {
	if len(s.Classes) > 20 {
		return Most / 10
	}
	return Most
}

// apart is a bound from each track alone, as if nobody had to go from one to another.
func (s *solver) apart() time.Duration {
	var sum time.Duration
	for t := range s.falling {
		var rows []int
		for i, c := range s.Classes {
			if c.Track == t {
				rows = append(rows, i)
			}
		}
		switch len(rows) {
		case 0:
		case len(s.Classes):
			return 0
		default:
			sum += s.only(rows).proposePart().Bound
		}
	}
	return sum
}

// search goes from one class to all of them, forgetting ways that are beaten and those that cannot cost less than a limit.
// A step keeps at most so many; all tells that no step had more. found is whether an order came of it.
func (s *solver) search(most int, limit time.Duration) (path []made, found, all bool) {
	ways := []way{s.begin()}
	from, all, room := 0, true, 0
	for range s.Classes {
		step := layer{s: s, limit: limit, ways: ways, next: make([]way, 0, room), at: make(map[key][]int32)}
		for i := from; i < len(ways); i++ {
			step.follow(int32(i))
		}
		room = len(step.next) // about as many as in the step that follows
		next := step.kept()
		if len(next) > most {
			if most > narrow {
				return nil, false, false
			}
			all = false
			next = s.promising(next, most)
		}
		from = len(ways)
		ways = append(ways, next...)
	}
	best := -1
	for i := from; i < len(ways); i++ {
		if best < 0 || ways[i].cost < ways[best].cost {
			best = i
		}
	}
	if best < 0 || len(s.Classes) == 0 {
		return nil, len(s.Classes) == 0, all
	}
	for i := int32(best); ways[i].from >= 0; i = ways[i].from {
		w := &ways[i]
		path = append(path, made{int(w.class), int(w.session[s.Classes[w.class].Track])})
	}
	slices.Reverse(path)
	return path, true, all
}

// cheapest searches where few ways are kept first, which is enough for most orders that are given, and then where as many are as
// patience allows. all tells that nothing is cheaper; a way may have been found without it.
func (s *solver) cheapest() (path []made, found, all bool) {
	good, had, all := s.search(narrow, endless)
	if all {
		return good, had, true
	}
	if path, found, all = s.search(s.patience(), endless); found || all {
		return path, found, all
	}
	return good, had, false
}

// promising returns so many ways, of more, that cost least by what they cost and what is to come at least; of equal ones
// the first.
func (s *solver) promising(ways []way, most int) []way {
	type promise struct {
		cost time.Duration
		at   int
	}
	promises := make([]promise, len(ways))
	for i := range ways {
		promises[i] = promise{ways[i].cost + s.ahead(&ways[i]), i}
	}
	slices.SortFunc(promises, func(a, b promise) int { return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.at, b.at)) })
	kept := make([]way, most)
	for i := range kept {
		kept[i] = ways[promises[i].at]
	}
	return kept
}

// layer gathers the ways with one class more. Those that are beaten have no class.
type layer struct {
	s     *solver
	limit time.Duration
	ways  []way
	next  []way
	at    map[key][]int32
	ready []time.Duration // of the way that is being made; one that is kept gets its own
}

// follow makes each class that can come next after a way.
func (l *layer) follow(from int32) {
	w := &l.ways[from]
	for j, c := range l.s.Classes {
		for _, session := range c.Sessions {
			if !l.s.may(w, j, session) {
				continue
			}
			n := *w
			l.ready = append(l.ready[:0], w.ready...)
			n.ready, n.from = l.ready, from
			l.s.step(&n, j, session)
			if l.limit == endless || n.cost+l.s.ahead(&n) < l.limit {
				l.keep(n)
			}
		}
	}
}

// keep adds a way unless another beats it, and forgets those that it beats.
func (l *layer) keep(n way) {
	rivals := l.at[n.key]
	for _, i := range rivals {
		if l.s.beats(&l.next[i], &n) {
			return
		}
	}
	rivals = slices.DeleteFunc(rivals, func(i int32) bool {
		beaten := l.s.beats(&n, &l.next[i])
		if beaten {
			l.next[i].class = -1
		}
		return beaten
	})
	n.ready = slices.Clone(n.ready)
	l.at[n.key] = append(rivals, int32(len(l.next)))
	l.next = append(l.next, n)
}

// kept returns the ways that nothing beats.
func (l *layer) kept() []way {
	return slices.DeleteFunc(l.next, func(w way) bool { return w.class < 0 })
}

// costs is what an order costs, endless where it cannot be.
func (s *solver) costs(path []made) time.Duration {
	w := s.begin()
	for _, m := range path {
		if !slices.Contains(s.Classes[m.class].Sessions, m.session) || !s.may(&w, m.class, m.session) {
			return endless
		}
		s.step(&w, m.class, m.session)
	}
	return w.cost
}

// improved moves single classes as long as that makes an order cheaper.
func (s *solver) improved(path []made) []made {
	cost := s.costs(path)
	for again := true; again; {
		again = false
		for from := range path {
			for to := range path {
				for _, session := range s.Classes[path[from].class].Sessions {
					moved := slices.Clone(path)
					piece := made{moved[from].class, session}
					moved = slices.Insert(slices.Delete(moved, from, from+1), to, piece)
					if c := s.costs(moved); c < cost {
						path, cost, again = moved, c, true
					}
				}
			}
		}
	}
	return path
}

// told plays an order and tells its turns and its cost, which is taken to be the least.
func (s *solver) told(path []made) Order {
	w := s.begin()
	order := Order{Exact: true}
	last := make(map[[2]int]time.Duration)
	for _, m := range path {
		t := s.step(&w, m.class, m.session)
		order.Turns = append(order.Turns, t)
		order.Cost = order.Cost.plus(Cost{Box: t.Change.Box, Track: t.Change.Track, Wait: t.Wait, Late: t.Late})
		last[[2]int{t.Track, t.Session}] = s.over(t.Session, t.End)
	}
	for _, over := range last {
		order.Cost.Overrun += over
	}
	order.Cost.Total, order.Bound = w.cost, w.cost
	return order
}
