// Package sequence puts the classes of a programme into an order that costs little time: the box of the sled is changed
// between classes, the track is prepared, and somebody who is in two classes needs time between them. Numbers go in and
// numbers come out; it knows no class and no clock, and draws nothing by chance, so that the same programme gives the
// same order.
//
// # What an order costs
//
// Classes on a track follow each other, each as soon as it can: after the change from the one before, after the rest of
// whoever was in an earlier class, at its fixed start. What is lost between two classes beyond a break is the cost: the
// change, and the waiting behind it. To it come, weighted, the minutes past the curfew and those by which a class begins
// after its fixed start.
//
// # Exact or not
//
// [Problem.Propose] goes through the sets of classes that can be behind (Held and Karp, 1962, "A Dynamic Programming
// Approach to Sequencing Problems", Journal of the SIAM 10(1)): of two ways to have made the same classes with the same
// one last, the one that is worse in all that can matter later is forgotten, and so is what cannot become as cheap as an
// order that is known. What can matter later is when the track is free, when each person and vehicle is ready again,
// and the cost less the time that passed: each later start is the later for a later one of these, and never the sooner.
// Where a step would have more ways than [Most], no more is claimed than a good order and a lower bound, from the cheapest
// assignment of a class to come behind each (Kuhn, 1955), which may fall into several rings where an order is one line.
//
// # An example
//
// Two classes without anything in common, and ten minutes to change from one to the other:
//
//	p := sequence.Problem{
//		Tracks: 1, Sessions: []sequence.Session{{Starts: 10 * time.Hour}}, Classes: []sequence.Class{{ID: "a", Length: time.Hour}, {ID: "b", Length: time.Hour}},
//		Changes: [][]sequence.Change{{{}, {Box: 10 * time.Minute}}, {{Box: 25 * time.Minute}, {}}},
//	}
//	best, _ := p.Propose() // a before b: 10 minutes
//
// It is arithmetic on estimates. What a crew needs to work without haste, only the crew knows.
package sequence

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// Bounds on what can be asked.
const (
	MaxTracks  = 4
	MaxClasses = 60
	// Most is how many ways a step may have for the result to be exact. Sixteen classes that all differ have 103,000 in
	// the middle.
	Most = 110_000
)

// Problem is a programme to be put in order. Times count from one moment that the caller chooses, such as the midnight
// before the event, and are above zero.
type Problem struct {
	Tracks   int
	Sessions []Session // in the order of the day
	Classes  []Class
	// Changes is what lies between two classes on a track: Changes[i][j] from Classes[i] to Classes[j].
	Changes [][]Change
	// Rest is how long whoever is in two classes needs from the end of one to the beginning of the other.
	Rest time.Duration
	// Overrun and Late weigh a minute past the curfew and one after a fixed start, in minutes of cost. 0 weighs nothing.
	Overrun, Late int
}

// Session is a part of the programme, on all tracks. Curfew is when everything must be over, 0 where nothing says so.
type Session struct {
	Starts time.Duration
	Curfew time.Duration
	Breaks []Break // one after the other
}

// Break begins with the first change of class that ends at From or later, and while a class is waited for it begins at
// From. The box is not changed in it: the crew has its break too.
type Break struct {
	From, Length time.Duration
}

// Class is a class on its track, with what pins it down.
type Class struct {
	ID    string // unique; of several orders that cost the same it helps to choose
	Track int    // from 0
	// Position is where it stands now. A proposal that costs the same as the present order is the present order.
	Position int
	Length   time.Duration // of its hooks
	Sessions []int         // those it may be in, from 0; none: all of them
	Place    int           // its place on its track in its session, from 1; 0 where it is free
	Fixed    time.Duration // begins no sooner, and should not begin later; 0 where it is free
	// Shares are the persons and vehicles in it, under any keys: two classes with one in common are never at once.
	Shares []string
}

// Change is the work between two classes. The parts are taken one after the other.
type Change struct {
	Box, Track time.Duration
}

// Total is how long the change takes.
func (c Change) Total() time.Duration { return c.Box + c.Track }

// Turn is a class in its place. Change is the work before it as far as it is not done before the session begins, Wait
// what is lost beside it, Late how long after its fixed start it begins.
type Turn struct {
	Class      string
	Track      int
	Session    int
	Start, End time.Duration
	Change     Change
	Wait, Late time.Duration
}

// Cost is what an order costs, in time. Overrun and Late are as they are, and weighted in Total.
type Cost struct {
	Box, Track, Wait, Late, Overrun time.Duration
	Total                           time.Duration
}

// Order is a programme in order. Turns are by track, then by start.
type Order struct {
	Turns []Turn
	Cost  Cost
	// Bound is what no order can be below; the cost itself where Exact.
	Bound time.Duration
	Exact bool
	// Loosened are classes whose fixed place could not be kept together with the others, by id. It is free in Turns.
	Loosened []string
}

// Trouble is what is wrong about a problem: the class or session by its index, or -1, and a sentence about it.
type Trouble struct {
	Class, Session int
	Field          string // such as curfew
	Message, Fix   string
}

// Error says what is wrong.
func (t *Trouble) Error() string { return t.Message + "; " + t.Fix }

// Check says what no order could come of.
func (p Problem) Check() error {
	trouble := func(class, session int, field, message, fix string) error {
		return &Trouble{class, session, field, message, fix}
	}
	switch {
	case p.Tracks < 1 || p.Tracks > MaxTracks:
		return trouble(-1, -1, "tracks", fmt.Sprintf("a programme has 1 to %d tracks", MaxTracks), "plan the others by themselves")
	case len(p.Sessions) == 0:
		return trouble(-1, -1, "sessions", "the programme has no session", "give at least one")
	case len(p.Classes) > MaxClasses:
		return trouble(-1, -1, "classes", fmt.Sprintf("a programme has at most %d classes here", MaxClasses), "put one day in order at a time")
	case len(p.Changes) != len(p.Classes):
		return trouble(-1, -1, "changes", "the changes are not those of the classes", "give a row for each class")
	case p.Rest < 0:
		return trouble(-1, -1, "rest", "the time between two classes is below zero", "give minutes from 0")
	}
	for i, s := range p.Sessions {
		if field, message, fix := s.check(); message != "" {
			return trouble(-1, i, field, message, fix)
		}
	}
	seen := make(map[string]bool, len(p.Classes))
	for i, c := range p.Classes {
		field, message, fix := p.checkClass(c)
		if seen[c.ID] {
			field, message, fix = "id", "two classes have one id", "give each its own"
		}
		if len(p.Changes[i]) != len(p.Classes) {
			field, message, fix = "changes", "a row of changes is not as long as the programme", "give a column for each class"
		}
		if message != "" {
			return trouble(i, -1, field, message, fix)
		}
		seen[c.ID] = true
	}
	return nil
}

// check looks at the times of a session.
func (s Session) check() (field, message, fix string) {
	if s.Starts < 0 {
		return "starts", "the session starts before the programme counts", "count from the midnight before"
	}
	if s.Curfew != 0 && s.Curfew <= s.Starts {
		return "curfew", "the curfew is before the session starts", "give one after the start, or none"
	}
	from := s.Starts
	for _, b := range s.Breaks {
		switch {
		case b.Length <= 0:
			return "breaks", "the break has no length", "give its minutes, or leave it out"
		case b.From < from:
			return "breaks", "the break begins before the session, or before the one ahead of it is over", "give the breaks in their order"
		}
		from = b.From + b.Length
	}
	return "", "", ""
}

// checkClass looks at a class for itself.
func (p Problem) checkClass(c Class) (field, message, fix string) {
	switch {
	case c.ID == "":
		return "id", "the class has no id", "give it one"
	case c.Track < 0 || c.Track >= p.Tracks:
		return "track", "the class is on a track that there is not", "choose one of the tracks"
	case c.Length <= 0:
		return "length", "the class takes no time", "give its minutes"
	case c.Place < 0:
		return "place", "the place is below 1", "count places from 1"
	case c.Fixed < 0:
		return "fixed", "the fixed start is before the programme counts", "count from the midnight before"
	}
	for _, s := range c.Sessions {
		if s < 0 || s >= len(p.Sessions) {
			return "sessions", "the class is in a session that there is not", "choose one of the sessions"
		}
	}
	return "", "", ""
}

// shared tells for each two classes whether they have a person or a vehicle in common.
func (p Problem) shared() [][]bool {
	table := make([][]bool, len(p.Classes))
	in := make(map[string][]int)
	for i, c := range p.Classes {
		table[i] = make([]bool, len(p.Classes))
		for _, key := range c.Shares {
			for _, j := range in[key] {
				if i != j {
					table[i][j], table[j][i] = true, true
				}
			}
			in[key] = append(in[key], i)
		}
	}
	return table
}

// sorted returns the problem with its classes by position, then id, so that the order in which they were given changes
// nothing, and each with its sessions named.
func (p Problem) sorted() Problem {
	rows := make([]int, len(p.Classes))
	for i := range rows {
		rows[i] = i
	}
	slices.SortFunc(rows, func(a, b int) int {
		x, y := p.Classes[a], p.Classes[b]
		return cmp.Or(cmp.Compare(x.Position, y.Position), cmp.Compare(x.ID, y.ID))
	})
	return p.only(rows)
}

// only returns the problem with the classes at the indexes alone, in that order.
func (p Problem) only(rows []int) Problem {
	part := p
	part.Classes, part.Changes = make([]Class, len(rows)), make([][]Change, len(rows))
	for i, row := range rows {
		part.Classes[i] = p.Classes[row]
		if len(part.Classes[i].Sessions) == 0 {
			for s := range p.Sessions {
				part.Classes[i].Sessions = append(part.Classes[i].Sessions, s)
			}
		}
		part.Changes[i] = make([]Change, len(rows))
		for j, column := range rows {
			part.Changes[i][j] = p.Changes[row][column]
		}
	}
	return part
}

// parts divides the classes into groups of tracks that have nobody in common; each can be put in order by itself.
func (p Problem) parts() [][]int {
	group := make([]int, p.Tracks)
	for t := range group {
		group[t] = t
	}
	for i, row := range p.shared() {
		for j, yes := range row {
			if a, b := group[p.Classes[i].Track], group[p.Classes[j].Track]; yes && a != b {
				for t := range group {
					if group[t] == b {
						group[t] = a
					}
				}
			}
		}
	}
	var parts [][]int
	for t := range group {
		var rows []int
		for i, c := range p.Classes {
			if group[c.Track] == t {
				rows = append(rows, i)
			}
		}
		if len(rows) > 0 {
			parts = append(parts, rows)
		}
	}
	return parts
}

// plus adds what another part of the programme costs.
func (c Cost) plus(o Cost) Cost {
	return Cost{c.Box + o.Box, c.Track + o.Track, c.Wait + o.Wait, c.Late + o.Late, c.Overrun + o.Overrun, c.Total + o.Total}
}

// joined is two orders of parts that have nothing in common as one.
func (o Order) joined(other Order) Order {
	o.Turns = append(o.Turns, other.Turns...)
	slices.SortStableFunc(o.Turns, func(a, b Turn) int { return cmp.Or(cmp.Compare(a.Track, b.Track), cmp.Compare(a.Start, b.Start)) })
	o.Cost, o.Bound, o.Exact = o.Cost.plus(other.Cost), o.Bound+other.Bound, o.Exact && other.Exact
	o.Loosened = append(o.Loosened, other.Loosened...)
	return o
}
