package day

import (
	"math"
	"time"

	"clayline/domain"
	"clayline/domain/forecast"
)

// Before a class has shown any, so many of so many hooks are taken for full pulls, and of those who came back for a pull-off
// that ends at the line so many of so many: common practice, no published source.
const (
	fullBefore  = 1.5
	hooksBefore = 10

	fullAgain  = 2
	hooksAgain = 5
)

// final is how many are expected in a pull-off that is not open yet: the mean, its mean square, and how likely it is pulled
// at all.
type final struct{ hooks, square, likely float64 }

// plus counts a final in that comes so likely.
func (f *final) plus(chance float64, o final) {
	f.hooks += chance * o.hooks
	f.square += chance * o.square
	f.likely += chance * o.likely
}

// item is what the forecast is told of a final; false where none can come.
func (f final) item(kind int) (forecast.Item, bool) {
	give := math.Sqrt(max(f.square-f.hooks*f.hooks, 0))
	return forecast.Item{Kind: kind, Hooks: f.hooks, Give: give, Pause: time.Duration(f.likely * float64(Set)), PauseGive: setGive}, f.hooks > 0
}

// finalsOf expects the pull-off of a class in which so many hooks are to come in the class rounds, and a further one where
// the first may end with several full pulls. How many of the hooks are full pulls has the beta-binomial distribution that
// goes with what the class has shown so far.
//
//	14 to come, none seen     2.2 hooks give or take 2.1, pulled in 58 of 100
//	nothing to come, 3 full   3 hooks for certain; if they end at the line, 0.9 more, pulled in 37 of 100
func finalsOf(c *domain.Class, left int) (first, further final) {
	full, short := shown(c, false)
	a, b := fullBefore+float64(full), hooksBefore-fullBefore+float64(short)
	most, chance := entered(c), none(a, b, left)
	for more := 0; more <= left; more++ {
		if n := min(c.Rules.Finalists(full+more), most); n > 1 {
			first.plus(chance, final{float64(n), float64(n * n), 1})
			further.plus(chance, again(c, 0, n))
		}
		k, m := float64(more), float64(left)
		chance *= (m - k) / (k + 1) * (a + k) / (b + m - k - 1)
	}
	return first, further
}

// again expects the pull-off that follows one in which so many full pulls were made and so many hooks are to come: where it
// ends at the line, all who reach that come back, unless it is one or nobody (SNUB 9). Equal distances short of it, or where
// the figure counts past it, are rare, and not foretold; nor is what follows the one that is.
func again(c *domain.Class, full, left int) final {
	if !c.Rules.EndsAtLine(domain.RoundName{PullOff: true, Number: 1}) {
		return final{}
	}
	reached, short := shown(c, true)
	a, b := fullAgain+float64(reached), hooksAgain-fullAgain+float64(short)
	n, k := float64(left), float64(full)
	mean := n * a / (a + b)
	square := mean*mean + mean*b*(a+b+n)/((a+b)*(a+b+1))
	nobody := none(a, b, left)
	single := n * a / (b + n - 1) * nobody
	switch full {
	case 0:
	case 1:
		nobody, single = 0, nobody
	default:
		nobody, single = 0, 0
	}
	return final{k + mean - single, k*k + 2*k*mean + square - single, 1 - nobody - single}
}

// shown counts the full pulls and the other hooks that a class has shown in its pull-offs, or else in its class rounds.
func shown(c *domain.Class, pullOff bool) (full, short int) {
	told := c.Told()
	for i := range told.Rounds {
		if r := &told.Rounds[i]; r.Name.PullOff == pullOff {
			reached, others := results(r)
			full, short = full+reached, short+others
		}
	}
	return full, short
}

// results counts the full pulls and the other hooks of a round.
func results(r *domain.Round) (full, short int) {
	for _, h := range r.Hooks {
		switch {
		case !h.Result.Counts():
		case h.Result.Outcome == domain.FullPull:
			full++
		default:
			short++
		}
	}
	return full, short
}

// none is the probability that none of so many is a full pull.
func none(a, b float64, hooks int) float64 {
	n := float64(hooks)
	return math.Exp(logGamma(b+n) - logGamma(b) + logGamma(a+b) - logGamma(a+b+n))
}

// logGamma is the logarithm of the gamma function of a number above zero.
func logGamma(x float64) float64 {
	value, _ := math.Lgamma(x)
	return value
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
