package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"clayline/domain"
)

// hooked is a round of hooks against setting 1, written as on a class sheet.
func hooked(t *testing.T, results ...string) *domain.Round {
	t.Helper()
	r := &domain.Round{}
	for _, text := range results {
		result, err := domain.ParseResult(text, domain.Foot)
		if err != nil {
			t.Fatal(err)
		}
		r.Hooks = append(r.Hooks, domain.Hook{Revision: 1, Result: result})
	}
	return r
}

func TestHowADayWent(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		what                      string
		results                   []string
		hooks, full, out          int
		best, least, median, most string
	}{
		{"nobody hooked", nil, 0, 0, 0, "", "", "", ""},
		{"who was absent did not hook", []string{"absent"}, 0, 0, 0, "", "", "", ""},
		{"an odd number", []string{"263.10", "188.02", "296.41"}, 3, 0, 0, "296.41 ft", "188.02 ft", "263.10 ft", "296.41 ft"},
		{"of an even number the shorter one in the middle", []string{"263.10", "188.02", "296.41", "250"}, 4, 0, 0, "296.41 ft", "188.02 ft", "250 ft", "296.41 ft"},
		{"full pulls count apart", []string{"263.10", "FP", "FP 304.20"}, 3, 2, 0, "304.20 ft", "263.10 ft", "263.10 ft", "263.10 ft"},
		{"full pulls alone", []string{"FP", "FP"}, 2, 2, 0, "", "", "", ""},
		{"a disqualified distance is no distance", []string{"DQ 290 out of bounds", "120"}, 2, 0, 1, "120 ft", "120 ft", "120 ft", "120 ft"},
		{"feet and metres", []string{"60 m", "190 ft", "200 ft"}, 3, 0, 0, "200 ft", "190 ft", "60 m", "200 ft"},
	} {
		s := hooked(t, row.results...).Spread(1)
		assert.Equal(t, []int{row.hooks, row.full, row.out}, []int{s.Hooks, s.FullPulls, s.Disqualified}, row.what)
		assert.Equal(t, []string{row.best, row.least, row.median, row.most}, []string{s.Best.String(), s.Least.String(), s.Median.String(), s.Most.String()}, row.what)
	}
}

func TestHooksThatDoNotCountAreNotInTheDay(t *testing.T) {
	t.Parallel()
	r := hooked(t, "263.10", "281.36", "150", "190")
	r.Hooks[1].Revision = 2
	r.Hooks[2].Result.Outcome = domain.Void
	r.Hooks[3].Result.Outcome = domain.Rehooked
	r.Hooks = append(r.Hooks, domain.Hook{Revision: 1})
	for i, speed := range []string{"18.4 mph", "40 mph", "50 mph"} {
		top, err := domain.ParseSpeed(speed)
		assert.NoError(t, err)
		r.Hooks[i].Speeds.Top = top
	}
	assert.Equal(t, 1, r.Spread(1).Hooks)
	assert.Equal(t, "18.4 mph", r.Spread(1).Top.String())
	assert.Equal(t, "281.36 ft", r.Spread(2).Median.String())
	assert.Equal(t, domain.Spread{}, r.Spread(3))
}

// The median was pulled, and as many went at most as far as at least as far, but for one.
func TestTheMedianIsInTheMiddle(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		feet := rapid.SliceOfN(rapid.StringMatching(`[1-9][0-9]{0,2}`), 1, 30).Draw(rt, "feet")
		r := hooked(t, feet...)
		s := r.Spread(1)
		shorter, longer := 0, 0
		for _, h := range r.Hooks {
			if h.Result.Distance.Compare(s.Median) < 0 {
				shorter++
			}
			if h.Result.Distance.Compare(s.Median) > 0 {
				longer++
			}
			assert.LessOrEqual(rt, s.Least.Compare(h.Result.Distance), 0)
			assert.GreaterOrEqual(rt, s.Most.Compare(h.Result.Distance), 0)
		}
		assert.Less(rt, shorter, (len(feet)+1)/2)
		assert.LessOrEqual(rt, longer, len(feet)/2)
	})
}
