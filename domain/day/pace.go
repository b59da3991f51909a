package day

import (
	"slices"
	"time"

	"clayline/domain"
)

// Usual is the time from call to call where no earlier day is known: common practice, no published source. No rule book
// was read that gives one.
const Usual = 5 * time.Minute

// Pace is what earlier days say of one class, by its slug, which is made of its name: the median time from call to call,
// and of how many.
type Pace struct {
	Slug   string
	Median time.Duration
	Cycles int
}

// Known says where the usual cycle of a class is from.
type Known uint8

// Where a cycle is from.
const (
	ByPractice Known = iota // [Usual]
	ByClass                 // earlier days of a class of the same name
	ByOthers                // earlier days of other classes of this server
)

// enough is how many cycles a median takes to be believed: those of a small class, and those of two.
const (
	enough    = 8
	enoughAll = 16
)

// known is the usual cycle of a class, and where it is from.
func known(c *domain.Class, paces []Pace) (time.Duration, Known) {
	total := 0
	for _, p := range paces {
		if p.Slug == c.Slug && p.Cycles >= enough {
			return p.Median, ByClass
		}
		total += p.Cycles
	}
	if total < enoughAll {
		return Usual, ByPractice
	}
	return middle(paces, total), ByOthers
}

// middle is the median of medians, each as often as it has cycles.
func middle(paces []Pace, total int) time.Duration {
	sorted := slices.SortedFunc(slices.Values(paces), func(a, b Pace) int { return int(a.Median - b.Median) })
	sofar := 0
	for _, p := range sorted {
		if sofar += p.Cycles; 2*sofar >= total {
			return p.Median
		}
	}
	return Usual
}

// Seen are the times from call to call of a class, in order. A reset of the setting between two hooks is the crew's work
// and no cycle.
func Seen(c *domain.Class) (cycles []time.Duration) {
	for i := range c.Rounds {
		hooks := c.Rounds[i].Hooks
		for j := 1; j < len(hooks); j++ {
			if hooks[j].Revision == hooks[j-1].Revision {
				cycles = append(cycles, hooks[j].Called.Sub(hooks[j-1].Called))
			}
		}
	}
	return cycles
}
