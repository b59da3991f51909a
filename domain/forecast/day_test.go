package forecast_test

import (
	"math"
	"math/rand/v2"
	"time"

	"clayline/domain/forecast"
)

// The programme of a simulated day: three classes of sixteen, twenty and fourteen hooks, a change of the sled between,
// and a pull-off after each. Where that ends at the line, those who pull full again, each by chance, come back for another
// unless it is one of them.
const (
	change   = 12 * time.Minute
	pullOffs = 3.0 // expected in a pull-off
	give     = 2.0
	dry      = 0.008 // how much the pace moves with each hook where the track dries
	dries    = 0.2   // how often it does, on days that are not made to
	full     = 0.4   // how likely each of a pull-off pulls full again

	further, furtherSquare = 0.9, 2.5 // expected in another one before the first: the mean, and the mean square
)

// classes are how many hooks each class has.
func classes() []int { return []int{16, 20, 14} }

// regime is a sort of day. share is how many of a hundred days are like it.
type regime struct {
	name      string
	share     int
	drift     float64 // of the pace, a hook
	breaks    int     // that many breakdowns; -1: by chance, one in seventy hooks
	finalists int     // in the last pull-off; -1: by chance
	toLine    bool    // pull-offs end at the line
	silent    bool    // another pull-off is not foretold
}

// regimes are the days that are simulated. Most are ordinary.
func regimes() []regime {
	return []regime{
		{name: "steady", share: 52, breaks: -1, finalists: -1},
		{name: "drying track", share: 20, drift: dry, breaks: -1, finalists: -1},
		{name: "two breakdowns", share: 12, breaks: 2, finalists: -1},
		{name: "a pull-off of nine", share: 8, breaks: -1, finalists: 9},
		{name: "pull-offs to the line", share: 8, breaks: -1, finalists: -1, toLine: true},
	}
}

// event is one thing that happened on a simulated day: a hook of a class, and when it was done. round is 0 for the class
// itself, 1 for its pull-off, and so on.
type event struct {
	class, round int
	cycle        time.Duration
	done         time.Duration
}

// rounds draws how many hooks each class has, and its pull-offs after them.
func (r regime) rounds(chance *rand.Rand) (rounds [][]int) {
	for i, n := range classes() {
		finalists := max(0, int(math.Round(pullOffs+give*chance.NormFloat64())))
		if r.finalists >= 0 && i == len(classes())-1 {
			finalists = r.finalists
		}
		list := []int{n, finalists}
		for r.toLine && finalists > 1 {
			again := 0
			for range finalists {
				if chance.Float64() < full {
					again++
				}
			}
			if finalists = again; again > 1 {
				list = append(list, again)
			}
		}
		rounds = append(rounds, list)
	}
	return rounds
}

// simulate makes a day up: lognormal cycles around a pace that differs from day to day and class to class, breakdowns of
// a gamma length, which is not what the forecast takes them for, and pull-offs of as many as chance has it.
func (r regime) simulate(chance *rand.Rand) (events []event) {
	pace := chance.NormFloat64() * 0.22
	spread := 0.22 + 0.16*chance.Float64()
	var at time.Duration
	total := 0
	rounds := r.rounds(chance)
	if r.toLine && chance.Float64() < dries {
		r.drift = dry
	}
	for _, list := range rounds {
		for _, n := range list {
			total += n
		}
	}
	broken := map[int]bool{}
	for len(broken) < r.breaks {
		broken[chance.IntN(total)] = true
	}
	for i, list := range rounds {
		class := chance.NormFloat64() * 0.1
		if i > 0 {
			at += change + time.Duration(chance.NormFloat64()*float64(3*time.Minute))
		}
		for round, n := range list {
			for range n {
				pace += r.drift + chance.NormFloat64()*0.01
				cycle := 300 * math.Exp(pace+class+spread*chance.NormFloat64())
				if broken[len(events)] || r.breaks < 0 && chance.Float64() < 1.0/70 {
					cycle += 300 + 300*(chance.ExpFloat64()+chance.ExpFloat64())
				}
				took := time.Duration(cycle * float64(time.Second))
				at += took
				events = append(events, event{class: i, round: round, cycle: took, done: at})
			}
		}
	}
	return events
}

// left is what a forecast is made of after some events: the hooks that are in the order, and pull-offs that are due.
// wanted are the events that the hooks will be; a pull-off under way is known by then.
func (r regime) left(events []event, after int) (items []forecast.Item, wanted []int) {
	at := 0
	for i, n := range classes() {
		pulled := 0
		for at+pulled < len(events) && events[at+pulled].class == i {
			pulled++
		}
		pause := time.Duration(0)
		if i > 0 && at >= after {
			pause = change
		}
		begins := at // of the round
		for j := at; j < at+pulled; j++ {
			if j > at && events[j].round != events[j-1].round {
				begins = j
			}
			known := j < at+n || after > begins || events[j].round > 1 && after == begins
			if j >= after && known {
				items = append(items, forecast.Item{Kind: i, Hooks: 1, Pause: pause, PauseGive: pause / 4})
				wanted = append(wanted, j)
				pause = 0
			}
		}
		for _, item := range r.foretold(events[at:at+pulled], after-at, n) {
			item.Kind = i
			items = append(items, item)
			wanted = append(wanted, at+pulled-1) // the end of the class
		}
		at += pulled
	}
	return items, wanted
}

// foretold is what is expected of the pull-offs of a class of which so many hooks are behind: of the first, until it begins,
// and of another as long as it may come.
func (r regime) foretold(events []event, behind, n int) (items []forecast.Item) {
	again := func(mean, square float64) {
		if r.toLine && !r.silent && mean > 0 {
			items = append(items, forecast.Item{Hooks: mean, Give: math.Sqrt(square - mean*mean)})
		}
	}
	switch {
	case behind <= n:
		items = append(items, forecast.Item{Hooks: pullOffs, Give: give})
		again(further, furtherSquare)
	case behind < len(events):
		// Of those in the pull-off under way nobody says who pulled full.
		size := 0
		for _, e := range events {
			if e.round == events[behind].round {
				size++
			}
		}
		again(second(size))
	}
	return items
}

// second returns the mean and mean square of how many of so many come back for another pull-off: two or more, or nobody.
func second(n int) (mean, square float64) {
	m := float64(n)
	single := m * full * math.Pow(1-full, m-1)
	return m*full - single, m*full*(1-full) + m*m*full*full - single
}
