package domain

// Ending says how a class came to its end.
type Ending uint8

// The ways a class ends.
const (
	// Pulled: it was pulled to its end.
	Pulled Ending = iota
	// StoppedEarly: it was begun, and weather or something else ended it.
	StoppedEarly
	// NeverRun: it was not begun.
	NeverRun
)

// Competitor is what points and purse need to know of an entry beside its place. [Table.Competitor] reads from the
// results what it can; who came, who paid and who is a member is the caller's to say.
type Competitor struct {
	Guest   bool  // not a member, and so without points
	Present bool  // came to the class
	Paid    bool  // has paid its entry
	Late    bool  // entered late
	Fee     Money // what its entry costs
	// Hooked reports a hook that was made; Moved one that moved the sled measurably.
	Hooked, Moved bool
	// Broke reports that a reason of the entry begins with [CauseBreakage].
	Broke bool
	// Disqualified reports a disqualification that counts in a class round, with its Cause.
	Disqualified bool
	Cause        Cause
	// Finalist reports an entry of a pull-off, PullOffDQ one that was disqualified in one.
	Finalist, PullOffDQ bool
}

// Earned is what an entry gets of a class, in its parts. They add up to Total.
type Earned struct {
	// Place is the place as it counted for the points: guests are taken out where the rules close up. 0 without.
	Place int
	// ForPlace holds the points of the place or what was given instead.
	ForPlace, ForShowUp, ForHook, ForRegistration Points
	// Why says in a few words what took the place of the place's points; "" where nothing did.
	Why string
}

// Total adds the parts.
func (e Earned) Total() Points { return e.ForPlace + e.ForShowUp + e.ForHook + e.ForRegistration }

// Competitor reads from the results of a row what its entry did: it hooked where a result says so, a disqualification
// for not being ready apart; it moved the sled where a distance over 0 or a full pull was written. A member who came
// and paid is taken for granted until the caller knows better.
func (t *Table) Competitor(row Row) Competitor {
	c := Competitor{Present: true, Paid: true}
	for i, result := range row.Results {
		cause, dq := CauseOf(result.Reason), result.Outcome == Disqualified
		switch {
		case result.Reached(), result.Outcome == Rehooked, dq && cause != CauseNotReady:
			c.Hooked = true
		}
		c.Moved = c.Moved || result.Outcome == FullPull || result.Distance.Milli() > 0
		c.Broke = c.Broke || cause == CauseBreakage
		switch {
		case t.Rounds[i].PullOff:
			c.Finalist = c.Finalist || !result.IsZero()
			c.PullOffDQ = c.PullOffDQ || dq
		case dq && !c.Disqualified:
			c.Disqualified, c.Cause = true, cause
		}
	}
	return c
}

// Earn returns what each entry earns, at the index of its row. The standing is that of [Rank], the competitors are at the
// indexes of its rows. An invented class under NATPA's rules, with B a guest and C disqualified:
//
//	1  A         10 for the place, 5 for the hook
//	2  B         none, a guest
//	3  D          8 for the place, which is worth what it was, 5 for the hook
//	-  C          5 for the hook
func (p PointsRule) Earn(standing []Placing, competitors []Competitor, ending Ending) []Earned {
	earned := make([]Earned, len(competitors))
	if !p.Given() {
		return earned
	}
	e := earning{PointsRule: p, competitors: competitors, ending: ending}
	e.places(standing)
	for _, placing := range standing {
		e.finals = e.finals || competitors[placing.Row].Finalist
	}
	for _, placing := range standing {
		c := competitors[placing.Row]
		award, why := e.award(placing, c)
		earned[placing.Row] = e.give(award, why, placing.Row)
	}
	return earned
}

// earning is the state of one [PointsRule.Earn]. Places and their worth are found for the whole class before anything is
// given, because the last place and the lowest are known only then.
type earning struct {
	PointsRule
	competitors []Competitor
	ending      Ending
	finals      bool           // a pull-off was held
	place       map[int]int    // the place that counts for points, by row
	worth       map[int]Points // what it is worth, by row
	lowest      Points         // the least worth of a place
	starters    int            // those who compete for points, with or without a place
}

// competes reports whether an entry takes up a place among those who get points. Who did not come cannot; a late entry
// does where its lateness costs it nothing.
func (e *earning) competes(c Competitor) bool {
	return !c.Guest && c.Present && (!c.Late || e.Late == AwardPlace)
}

// places finds the places that count and what each is worth. Entries that share a place take up as many places as they
// are; where guests keep theirs, a guest who shares one takes up a place too.
func (e *earning) places(standing []Placing) {
	e.place, e.worth = make(map[int]int), make(map[int]Points)
	placed := 0
	for start := 0; start < len(standing); {
		end := start
		var rows []int
		for ; end < len(standing) && standing[end].Place == standing[start].Place; end++ {
			c := e.competitors[standing[end].Row]
			if e.competes(c) {
				e.starters++
			}
			if e.competes(c) || e.Guests == ActualPlaces && standing[end].Place > 0 {
				rows = append(rows, standing[end].Row)
			}
		}
		if standing[start].Place > 0 && len(rows) > 0 {
			worth := e.tied(placed+1, len(rows))
			for _, row := range rows {
				e.place[row], e.worth[row], e.lowest = placed+1, worth, worth
			}
			placed += len(rows)
		}
		start = end
	}
	if placed == 0 {
		e.lowest = WholePoints(e.placePoints(e.starters))
	}
}

// tied returns what each of n entries gets that share a place; with one it is the points of the place. Three in second
// place of 10, 9, 8, 7:
//
//	average   8, because 9 + 8 + 7 are 24
//	full      9
//	lowest    7
func (e *earning) tied(place, n int) Points {
	switch e.Ties {
	case TieFull:
		return WholePoints(e.placePoints(place))
	case TieLowest:
		return WholePoints(e.placePoints(place + n - 1))
	default:
		var shared Points
		for i := range n {
			shared += WholePoints(e.placePoints(place + i))
		}
		return shared / Points(n)
	}
}

// present counts the entries that came.
func (e *earning) present() int {
	return count(e.competitors, func(c Competitor) bool { return c.Present })
}

// award says what decides over an entry's points, and why when it is not the place. What happened to the class comes before
// what happened to the entry, and of that what comes first in this list decides:
//
//	guest, not there            nothing, whatever the class
//	class not run, stopped      the same for everybody who came
//	too few entries             the same for everybody who came
//	late, disqualified          before what was pulled is looked at
//	did not hook, broke         a hook of 0 ft has a place, and may still be paid as a breakage (AMPI)
//	not in the pull-off         only where one was held
//
// A disqualification decides only without a place: where the best of two rounds counts, one of them may be disqualified.
func (e *earning) award(placing Placing, c Competitor) (award Award, why string) {
	switch {
	case c.Guest:
		return AwardNothing, "guest"
	case !c.Present:
		return AwardNothing, "not there"
	case e.ending == NeverRun:
		return e.NotRun, "class not run"
	case e.ending == StoppedEarly && e.Stopped != AwardPlace:
		return e.Stopped, "class stopped"
	case e.present() < e.Minimum:
		return e.Below, "too few entries"
	case c.Late && e.Late != AwardPlace:
		return e.Late, "late entry"
	case placing.Place == 0 && c.Disqualified:
		return e.disqualified(c.Cause), "disqualified"
	case c.PullOffDQ && e.PullOffDQ != AwardPlace:
		return e.PullOffDQ, "disqualified in the pull-off"
	case !c.Hooked && c.Broke:
		return e.BrokeBefore, "broke before hooking"
	case !c.Hooked:
		return e.NotHooked, "did not hook"
	case c.Broke && !c.Moved:
		return e.Broke, "broke without moving the sled"
	case e.finals && !c.Finalist && !placing.FullPull && e.Outside != AwardPlace:
		return e.Outside, "not in the pull-off"
	default:
		return AwardPlace, ""
	}
}

// disqualified returns what a disqualification for a cause gives: what the rules say of the cause, else what they say of
// any. A cause that no book names, "" for a reason in words of one's own, is any.
func (e *earning) disqualified(cause Cause) Award {
	for _, c := range e.DQCauses {
		if c.Cause == cause {
			return c.Award
		}
	}
	return e.DQ
}

// give turns an award into points. Add-ons are given where they were earned, whatever else happened, unless the award is
// exact or takes them away. With 10 for the win, 5 for the hook and DQ as [AwardHook]:
//
//	first place      10 + 5
//	disqualified      0 + 5
//	did not hook      0
func (e *earning) give(award Award, why string, row int) Earned {
	c := e.competitors[row]
	got := Earned{Place: e.place[row], Why: why}
	if c.Guest || !e.competes(c) {
		got.Place = 0
	}
	if c.Present && (award.addsOn() || award == AwardShowUp) {
		got.ForShowUp = WholePoints(e.ShowUp)
	}
	if c.Hooked && (c.Moved || !e.HookMoved) && (award.addsOn() || award == AwardHook) {
		got.ForHook = WholePoints(e.Hook)
	}
	if c.Paid && award.addsOn() {
		got.ForRegistration = WholePoints(e.Registration)
	}
	switch award.kind {
	case givesPlace:
		got.ForPlace = e.worth[row]
	case givesLastPlace:
		got.ForPlace = WholePoints(e.placePoints(e.starters))
	case givesLowest:
		got.ForPlace = e.lowest
	case givesExactly:
		got.ForPlace = WholePoints(award.points)
	case givesNothing, givesAddOns, givesShowUp, givesHook: // no points of a place
	}
	return got
}

// addsOn reports whether the add-ons come with an award.
func (a Award) addsOn() bool {
	return a == AwardPlace || a == AwardAddOns || a == AwardLastPlace || a == AwardLowest
}
