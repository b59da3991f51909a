package forecast_test

import (
	"math"
	"math/rand/v2"
	"time"

	"clayline/domain/forecast"
)

// The programme of a simulated day: three classes of sixteen, twenty and fourteen hooks, a change of the sled between,
// and a pull-off after each.
const (
	change   = 12 * time.Minute
	pullOffs = 3.0 // expected in a pull-off
	give     = 2.0
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
}

// regimes are the days that are simulated. Most are ordinary.
func regimes() []regime {
	return []regime{
		{"steady", 60, 0, -1, -1},
		{"drying track", 20, 0.008, -1, -1},
		{"two breakdowns", 12, 0, 2, -1},
		{"a pull-off of nine", 8, 0, -1, 9},
	}
}

// event is one thing that happened on a simulated day: a hook of a class, and when it was done.
type event struct {
	class   int
	pullOff bool
	cycle   time.Duration
	done    time.Duration
}

// simulate makes a day up: lognormal cycles around a pace that differs from day to day and class to class, breakdowns of
// a gamma length, which is not what the forecast takes them for, and pull-offs of as many as chance has it.
func (r regime) simulate(chance *rand.Rand) (events []event) {
	pace := chance.NormFloat64() * 0.22
	spread := 0.22 + 0.16*chance.Float64()
	var at time.Duration
	total := 0
	var finalists []int
	for i, n := range classes() {
		finalists = append(finalists, max(0, int(math.Round(pullOffs+give*chance.NormFloat64()))))
		if r.finalists >= 0 && i == len(classes())-1 {
			finalists[i] = r.finalists
		}
		total += n + finalists[i]
	}
	broken := map[int]bool{}
	for len(broken) < r.breaks {
		broken[chance.IntN(total)] = true
	}
	for i, n := range classes() {
		class := chance.NormFloat64() * 0.1
		if i > 0 {
			at += change + time.Duration(chance.NormFloat64()*float64(3*time.Minute))
		}
		for j := range n + finalists[i] {
			pace += r.drift + chance.NormFloat64()*0.01
			cycle := 300 * math.Exp(pace+class+spread*chance.NormFloat64())
			if broken[len(events)] || r.breaks < 0 && chance.Float64() < 1.0/70 {
				cycle += 300 + 300*(chance.ExpFloat64()+chance.ExpFloat64())
			}
			took := time.Duration(cycle * float64(time.Second))
			at += took
			events = append(events, event{class: i, pullOff: j >= n, cycle: took, done: at})
		}
	}
	return events
}

// left is what a forecast is made of after some events: the hooks that are in the order, and pull-offs that are due.
// wanted are the events that the hooks will be; a pull-off under way is known by then.
func left(events []event, after int) (items []forecast.Item, wanted []int) {
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
		for j := range pulled {
			known := j < n || after > at+n
			if at+j >= after && known {
				items = append(items, forecast.Item{Kind: i, Hooks: 1, Pause: pause, PauseGive: pause / 4})
				wanted = append(wanted, at+j)
				pause = 0
			}
		}
		if after <= at+n {
			items = append(items, forecast.Item{Kind: i, Hooks: pullOffs, Give: give})
			wanted = append(wanted, at+pulled-1) // the end of the class
		}
		at += pulled
	}
	return items, wanted
}
