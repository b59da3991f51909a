package day_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// finalists is a class of so many, all of which pulled full, with a pull-off that is measured to the line or past it; none
// of them is called for it yet.
func finalists(t testing.TB, n int, toLine bool) *course {
	t.Helper()
	c := planned(t, "Field Stock", n)
	c.class.Rules.PullOff.Capped = toLine
	c.begins(six).pulls(5*time.Minute, same(n, "FP")...)
	require.Equal(t, domain.PullOffDue, c.class.Phase())
	return c
}

// opens opens the pull-off that is due and calls the first.
func (c *course) opens() *course {
	c.t.Helper()
	due, _ := c.class.RoundDue()
	c.do(domain.OpenRound{Round: c.id(), Name: due})
	return c.begins(c.now)
}

// expected is how many hooks are expected in pull-offs that are not open.
func (c *course) expected() float64 { return of(event(time.Time{}), nil, c).Classes[0].PullOff }

// Two of five are taken to pull full again. By hand, with the weights of the beta-binomial distribution, of three who come
// back: none 2/7, one 12/35, two 9/35, three 4/35.
func TestAFurtherPullOffIsForetold(t *testing.T) {
	t.Parallel()
	assert.InDelta(t, 2*9.0/35+3*4.0/35, finalists(t, 3, true).expected(), 1e-9, "before the first")
	assert.Zero(t, finalists(t, 3, false).expected(), "where figures count past the line, it decides")
	three := func(results ...string) *course { return finalists(t, 3, true).opens().pulls(5*time.Minute, results...) }
	assert.InDelta(t, 2*9.0/35+3*4.0/35, three().expected(), 1e-9, "the first is on the track")
	assert.InDelta(t, 2+4.0/7, three("FP", "FP").expected(), 1e-9, "two come back for certain, and the third in four of seven")
	assert.InDelta(t, 2*3.0/7, three("FP", "250").expected(), 1e-9, "the second full pull comes in three of seven")
	assert.Zero(t, three("250", "250").expected(), "one alone wins")
	again := three("FP", "FP", "250")
	require.Equal(t, domain.PullOffDue, again.class.Phase())
	assert.InDelta(t, 2*4.0*5/(8*9), again.expected(), 1e-9, "a third: four of the eight so far, then five of nine")
	assert.InDelta(t, 2*5+2*5, of(event(time.Time{}), nil, again).Classes[0].Ends.Middle.Sub(again.now).Minutes(), 6)
}

// A further pull-off moves the end of the class and of those behind it, and no call of the round at hand.
func TestAFurtherPullOffMovesWhatComesBehind(t *testing.T) {
	t.Parallel()
	told := func(toLine bool) (ends, next time.Time, calls []time.Time) {
		track := of(event(time.Time{}), nil, finalists(t, 6, toLine).opens(), planned(t, "Open", 8))
		for _, c := range track.Classes[0].Calls {
			calls = append(calls, c.Middle)
		}
		return track.Classes[0].Ends.Late, track.Classes[1].Starts.Late, calls
	}
	ends, next, calls := told(false)
	laterEnd, laterNext, sameCalls := told(true)
	assert.Greater(t, laterEnd.Sub(ends), 10*time.Minute)
	assert.Greater(t, laterNext.Sub(next), 10*time.Minute)
	assert.Len(t, calls, 5)
	assert.Equal(t, calls, sameCalls)
}

// beta is the logarithm of the beta function.
func beta(a, b float64) float64 {
	one, _ := math.Lgamma(a)
	other, _ := math.Lgamma(b)
	both, _ := math.Lgamma(a + b)
	return one + other - both
}

// What is expected is the sum over all ways to end the pull-off, each as often as the beta-binomial distribution has it.
func TestWhatIsExpectedIsTheSumOfWhatMayCome(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(2, 12).Draw(r, "finalists")
		full := rapid.IntRange(0, n-1).Draw(r, "full")
		short := rapid.IntRange(0, n-1-full).Draw(r, "short")
		c := finalists(t, n, true).opens().pulls(5*time.Minute, append(same(full, "FP"), same(short, "120")...)...)
		a, b, left := 2+float64(full), 3+float64(short), n-full-short
		sum, choose := 0.0, 1.0
		for k := 0; k <= left; k++ {
			if full+k > 1 {
				sum += float64(full+k) * choose * math.Exp(beta(a+float64(k), b+float64(left-k))-beta(a, b))
			}
			choose *= float64(left-k) / float64(k+1)
		}
		require.InDelta(r, sum, c.expected(), 1e-9)
	})
}
