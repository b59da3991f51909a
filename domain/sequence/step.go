package sequence

import (
	"slices"
	"time"
)

// solver holds a problem whose classes are sorted and have their sessions named, with what is computed of it once.
type solver struct {
	Problem
	with    [][]bool         // who shares somebody with whom
	before  []uint64         // classes that must be made earlier, where an order is given
	least   []time.Duration  // the shortest change to a class from any that may be in a session with it
	falling [MaxTracks][]int // the classes of each track, those with the longest such change first
	groups  []group          // those of each track and session, on tracks where each class is in one session only
	plain   bool             // nobody can be left behind: one session, and no fixed places
	counted bool             // a class has a fixed place, so that places matter
	sharing bool             // two classes have somebody in common
}

// newSolver prepares a problem.
func newSolver(p Problem) *solver {
	s := &solver{Problem: p, with: p.shared(), before: make([]uint64, len(p.Classes)), least: make([]time.Duration, len(p.Classes))}
	for j, c := range p.Classes {
		first := true
		for i := range p.Classes {
			if i != j && p.meet(i, j) && (first || p.Changes[i][j].Total() < s.least[j]) {
				s.least[j], first = p.Changes[i][j].Total(), false
			}
		}
		s.counted = s.counted || c.Place > 0
		s.sharing = s.sharing || slices.Contains(s.with[j], true)
		s.falling[c.Track] = append(s.falling[c.Track], j)
	}
	for t := range s.falling {
		slices.SortStableFunc(s.falling[t], func(a, b int) int { return int(s.least[b] - s.least[a]) })
	}
	s.plain = len(p.Sessions) == 1 && !s.counted
	s.groups = s.grouped()
	return s
}

// ordered is the solver with the classes on each track in the order in which they must come.
func (s *solver) ordered(order []int) *solver {
	bound := *s
	bound.before = make([]uint64, len(s.Classes))
	var made [MaxTracks]uint64
	for _, j := range order {
		track := s.Classes[j].Track
		bound.before[j] = made[track]
		made[track] |= 1 << j
	}
	return &bound
}

// meet reports whether two classes can be in one session on one track.
func (p Problem) meet(i, j int) bool {
	a, b := p.Classes[i], p.Classes[j]
	return a.Track == b.Track && slices.ContainsFunc(a.Sessions, func(s int) bool { return slices.Contains(b.Sessions, s) })
}

// way is a way to have made some of the classes.
type way struct {
	key
	free  [MaxTracks]time.Duration // end of the last class of each track
	cost  time.Duration
	base  time.Duration   // the cost less what passing time makes of it, see solver.based
	ready []time.Duration // when the persons and vehicles of each class are; nil where none are shared
	from  int32           // the way before, -1 for none
	class int8            // the class made last
}

// key is what two ways must have in common to be compared: the classes made, and on each track the last of them, -1 for
// none, the session and, where places matter, how many were made in it.
type key struct {
	made                 uint64
	last, session, count [MaxTracks]int8
}

// begin is the way on which nothing is made.
func (s *solver) begin() way {
	w := way{from: -1, class: -1}
	for t := range w.last {
		w.last[t], w.session[t] = -1, -1
	}
	if s.sharing {
		w.ready = make([]time.Duration, len(s.Classes))
	}
	return w
}

// may reports whether a class can come next in a session: what must come before it is made, its place is the next one, and
// nobody is left behind in an earlier session or at an earlier place.
func (s *solver) may(w *way, j, session int) bool {
	c := s.Classes[j]
	if w.made>>j&1 == 1 || s.before[j]&^w.made != 0 || int(w.session[c.Track]) > session {
		return false
	}
	place := 1
	if int(w.session[c.Track]) == session {
		place += int(w.count[c.Track])
	}
	if c.Place > 0 && c.Place != place {
		return false
	}
	for i, o := range s.Classes {
		if s.plain || i == j || o.Track != c.Track || w.made>>i&1 == 1 {
			continue
		}
		latest := o.Sessions[len(o.Sessions)-1]
		if latest < session || latest == session && o.Place > 0 && o.Place <= place && len(o.Sessions) == 1 {
			return false
		}
	}
	return true
}

// step makes a class next in a session, for which [solver.may] holds. The way is changed in place.
func (s *solver) step(w *way, j, session int) Turn {
	c, in := s.Classes[j], s.Sessions[session]
	t := Turn{Class: c.ID, Track: c.Track, Session: session}
	last, idle, began := w.last[c.Track], in.Starts, in.Starts-1
	same := int(w.session[c.Track]) == session
	able := in.Starts
	if last >= 0 {
		change := s.Changes[last][j]
		able = max(able, w.free[c.Track]+change.Total())
		if same {
			t.Change, idle = change, w.free[c.Track]
			began = idle - s.Classes[last].Length
		}
	}
	wanted := c.Fixed
	if w.ready != nil {
		wanted = max(wanted, w.ready[j])
	}
	var pause time.Duration
	for _, b := range in.Breaks {
		if b.From > began && max(able, wanted) >= b.From {
			able = max(able, b.From) + b.Length
			pause += b.Length
		}
	}
	t.Start = max(able, wanted)
	t.End = t.Start + c.Length
	t.Wait = t.Start - idle - pause - t.Change.Total()
	if c.Fixed > 0 {
		t.Late = max(0, t.Start-c.Fixed)
	}
	s.account(w, t, j, same)
	return t
}

// account writes a turn into the way.
func (s *solver) account(w *way, t Turn, j int, same bool) {
	w.cost += t.Change.Total() + t.Wait + time.Duration(s.Late)*t.Late + time.Duration(s.Overrun)*s.over(t.Session, t.End)
	if same {
		w.cost -= time.Duration(s.Overrun) * s.over(t.Session, w.free[t.Track])
	} else {
		w.count[t.Track] = 0
	}
	w.made |= 1 << j
	w.last[t.Track], w.session[t.Track], w.free[t.Track], w.class = int8(j), int8(t.Session), t.End, int8(j)
	if s.counted {
		w.count[t.Track]++
	}
	for i, shares := range s.with[j] {
		if shares {
			w.ready[i] = max(w.ready[i], t.End+s.Rest)
		}
	}
	w.base = s.based(w)
}

// over is how long after the curfew of a session a moment is.
func (s *solver) over(session int, at time.Duration) time.Duration {
	if curfew := s.Sessions[session].Curfew; curfew > 0 {
		return max(0, at-curfew)
	}
	return 0
}

// based is the cost less the time that the tracks are in use until, and less what the curfew made of it. To it comes the
// end of each session, and nothing that is less for a later start: so a way with a lower base whose tracks and people are
// free no later stays the cheaper one, whatever follows.
func (s *solver) based(w *way) time.Duration {
	base := w.cost
	for t, session := range w.session {
		if session >= 0 {
			base -= w.free[t] + time.Duration(s.Overrun)*s.over(int(session), w.free[t])
		}
	}
	return base
}

// beats reports whether a way is at least as good as another of the same key in all that can matter later.
func (s *solver) beats(a, b *way) bool {
	if a.base > b.base {
		return false
	}
	for t := range a.free {
		if a.free[t] > b.free[t] {
			return false
		}
	}
	for j := range a.ready {
		if free := b.free[s.Classes[j].Track]; a.made>>j&1 == 0 && a.ready[j] > max(b.ready[j], free) {
			return false
		}
	}
	return true
}
