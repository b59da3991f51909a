package day

import (
	"math"

	"clayline/domain"
)

// Before a class has shown any, so many of so many hooks are taken for full pulls: common practice, no published source.
const (
	fullBefore  = 1.5
	hooksBefore = 10
)

// final is how many are expected in a pull-off that is not open yet: the mean, its standard deviation, and how likely it is
// pulled at all.
type final struct{ hooks, give, likely float64 }

// finalOf expects the pull-off of a class in which so many hooks are to come in the class rounds. How many of them are full
// pulls has the beta-binomial distribution that goes with what the class has shown so far.
//
//	14 to come, none seen     2.2 hooks give or take 2.1, pulled in 58 of 100
//	nothing to come, 3 full   3 hooks for certain
func finalOf(c *domain.Class, left int) (f final) {
	full, seen := 0, 0
	told := c.Told()
	for i := range told.Rounds {
		r := &told.Rounds[i]
		for _, h := range r.Hooks {
			if r.Name.PullOff || !h.Result.Counts() {
				continue
			}
			seen++
			if h.Result.Outcome == domain.FullPull {
				full++
			}
		}
	}
	a, b := fullBefore+float64(full), hooksBefore-fullBefore+float64(seen-full)
	chance, square := none(a, b, left), 0.0
	for more := 0; more <= left; more++ {
		if n := float64(min(c.Rules.Finalists(full+more), entered(c))); n > 1 {
			f.hooks += chance * n
			square += chance * n * n
			f.likely += chance
		}
		k, m := float64(more), float64(left)
		chance *= (m - k) / (k + 1) * (a + k) / (b + m - k - 1)
	}
	f.give = math.Sqrt(max(square-f.hooks*f.hooks, 0))
	return f
}

// none is the probability that none of so many is a full pull.
func none(a, b float64, hooks int) float64 {
	p := 1.0
	for i := range hooks {
		p *= (b + float64(i)) / (a + b + float64(i))
	}
	return p
}

// entered counts who was not scratched.
func entered(c *domain.Class) (n int) {
	for _, e := range c.Entries {
		if e.Scratched == "" {
			n++
		}
	}
	return n
}
