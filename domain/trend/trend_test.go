package trend_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"clayline/domain/trend"
)

// score is S, from the definition and nothing else.
func score(order []int64) (s int) {
	for i := range order {
		for j := i + 1; j < len(order); j++ {
			if order[j] > order[i] {
				s++
			} else if order[j] < order[i] {
				s--
			}
		}
	}
	return s
}

// byHand is S and its chance by going through every order of the distances.
func byHand(distances []int64) (s int, p float64) {
	s = score(distances)
	orders, asFar := 0, 0
	var through func(done, rest []int64)
	through = func(done, rest []int64) {
		if len(rest) == 0 {
			orders++
			if math.Abs(float64(score(done))) >= math.Abs(float64(s)) {
				asFar++
			}
			return
		}
		for i := range rest {
			through(append(slices.Clone(done), rest[i]), slices.Delete(slices.Clone(rest), i, i+1))
		}
	}
	through(nil, distances)
	return s, float64(asFar) / float64(orders)
}

func TestWhatIsSaidOfARound(t *testing.T) {
	t.Parallel()
	const line = 300
	for _, c := range []struct {
		name      string
		distances []int64
		says      string
	}{
		{"nobody", nil, ""},
		{"four are too few", []int64{1, 2, 3, 4}, ""},
		{"each further than the one before: one of 120 orders, and the one that is turned round", []int64{1, 2, 3, 4, 5},
			"Later hooks tended to go further: tau 1.00 over 5 hooks. A random order would show as much in 2 of 100 rounds."},
		{"each less far", []int64{5, 4, 3, 2, 1},
			"Later hooks tended to go less far: tau -1.00 over 5 hooks. A random order would show as much in 2 of 100 rounds."},
		{"all full pulls", []int64{line, line, line, line, line, line},
			"Hook order and distance show no trend: tau 0.00 over 6 hooks. A random order would show as much in 100 of 100 rounds."},
		{"full pulls are tied at the line", []int64{250, 240, line, 260, line, line},
			"Later hooks tended to go further: tau 0.60 over 6 hooks. A random order would show as much in 17 of 100 rounds."},
		{"a drying track", []int64{201, 205, 203, 210, 215, 213, 220, 222, 226, 230},
			"Later hooks tended to go further: tau 0.91 over 10 hooks. A random order would show as much in fewer than 1 of 100 rounds."},
		{"hardly more for it than against it", []int64{3, 1, 5, 2, 4, 3},
			"Later hooks tended to go further: tau 0.14 over 6 hooks. A random order would show as much in 86 of 100 rounds."},
	} {
		assert.Equal(t, c.says, trend.Of(c.distances).Sentence(), c.name)
	}
	assert.Contains(t, trend.Caution, "no reason to change a result")
}

// Critical values of tau, one-tailed: the smallest that chance reaches with no more than the nominal probability
// (https://www.easycalculation.com/statistics/kendall-rank-correlation-coefficient-table.php). The next smaller one is
// reached more often.
func TestThePublishedCriticalValues(t *testing.T) {
	t.Parallel()
	nominal := []float64{0.10, 0.05, 0.025, 0.01, 0.005, 0.001}
	for n, values := range map[int][]float64{
		5:  {0.800, 0.800, 1.000, 1.000},
		6:  {0.600, 0.733, 0.867, 0.867, 1.000},
		7:  {0.524, 0.619, 0.714, 0.810, 0.905, 1.000},
		8:  {0.429, 0.571, 0.643, 0.714, 0.786, 0.857},
		9:  {0.389, 0.500, 0.556, 0.667, 0.722, 0.833},
		10: {0.378, 0.467, 0.511, 0.600, 0.644, 0.778},
		14: {0.275, 0.363, 0.407, 0.473, 0.516, 0.604},
		20: {0.221, 0.274, 0.326, 0.379, 0.421, 0.495},
		30: {0.172, 0.218, 0.255, 0.301, 0.333, 0.393},
		40: {0.144, 0.185, 0.218, 0.256, 0.285, 0.338},
	} {
		pairs := n * (n - 1) / 2
		for i, tau := range values {
			s := int(math.Round(tau * float64(pairs)))
			at := trend.Of(withScore(n, s))
			require.InDelta(t, tau, at.Tau, 0.0006, "n %d", n)
			assert.LessOrEqual(t, at.P/2, nominal[i], "n %d, tau %.3f", n, tau)
			assert.Greater(t, trend.Of(withScore(n, s-2)).P/2, nominal[i], "n %d, below tau %.3f", n, tau)
		}
	}
}

// withScore is an order of n without ties whose S is s: every value is put as many places from the end as it takes.
func withScore(n, s int) (order []int64) {
	against := (n*(n-1)/2 - s) / 2
	for v := range n {
		back := min(v, against)
		order = slices.Insert(order, len(order)-back, int64(v))
		against -= back
	}
	return order
}

// Up to seven hooks all orders are gone through, with ties and without.
func TestChanceIsWhatAllOrdersShow(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		distances := rapid.SliceOfN(rapid.Int64Range(0, 8), 2, 7).Draw(t, "distances")
		s, p := byHand(distances)
		got := trend.Of(distances)
		require.InDelta(t, p, got.P, 1e-12)
		require.Equal(t, s > 0, got.Tau > 0)
		require.Equal(t, s < 0, got.Tau < 0)
		require.True(t, got.Exact)
	})
}

// Without ties tau-b is tau-a, which the library computes.
func TestTauIsTheLibrarysWithoutTies(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		distances := rapid.SliceOfNDistinct(rapid.Int64Range(0, 1e9), 2, 40, rapid.ID[int64]).Draw(t, "distances")
		x, y := make([]float64, len(distances)), make([]float64, len(distances))
		for i, d := range distances {
			x[i], y[i] = float64(i), float64(d)
		}
		require.InDelta(t, stat.Kendall(x, y, nil), trend.Of(distances).Tau, 1e-9)
	})
}

// drawn are distances of which some are equal.
func drawn(t *rapid.T) []int64 {
	return rapid.SliceOfN(rapid.Int64Range(-30, 30), 0, 70).Draw(t, "distances")
}

// The round turned round has the opposite sign and the same chance; what keeps the order of the distances changes nothing.
func TestTheLawsOfATrend(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		distances := drawn(t)
		got := trend.Of(distances)
		require.True(t, got.Tau >= -1-1e-12 && got.Tau <= 1+1e-12 && got.P > 0 && got.P <= 1, got)
		turned := slices.Clone(distances)
		slices.Reverse(turned)
		back := trend.Of(turned)
		require.InDelta(t, -got.Tau, back.Tau, 1e-12)
		require.InDelta(t, got.P, back.P, 1e-12)
		cubed := slices.Clone(distances)
		for i, d := range cubed {
			cubed[i] = d*d*d + 7
		}
		require.Equal(t, got, trend.Of(cubed))
	})
}

// Beyond seven hooks no list of all orders is long enough: 20,000 orders that are shuffled say the same within what they
// can, for the exact distribution and, with more hooks, for the normal one.
func TestShuffledOrdersSayTheSame(t *testing.T) {
	t.Parallel()
	const shuffles = 20_000
	for _, n := range []int{12, 25, trend.Exactly, trend.Exactly + 1, 60} {
		for _, full := range []int{1, n / 3} {
			for _, s := range []int{n / 4, n, 3 * n} {
				distances := withScore(n, (n*(n-1)/2)%2+s/2*2)
				for i, d := range distances {
					distances[i] = min(d, int64(n-full))
				}
				got := trend.Of(distances)
				chance, order, asFar := rand.New(rand.NewPCG(uint64(n), uint64(s))), slices.Clone(distances), 0
				for range shuffles {
					chance.Shuffle(n, func(i, j int) { order[i], order[j] = order[j], order[i] })
					if math.Abs(float64(score(order))) >= math.Abs(float64(score(distances))) {
						asFar++
					}
				}
				require.Equal(t, n <= trend.Exactly, got.Exact)
				assert.InDelta(t, float64(asFar)/shuffles, got.P, 0.015, "%d hooks, %d full pulls, S %d", n, full, s)
			}
		}
	}
}

// BenchmarkOf is a full class in which a third are full pulls.
func BenchmarkOf(b *testing.B) {
	distances := make([]int64, trend.Exactly)
	for i := range distances {
		distances[i] = min(int64(i*7919%997), 660)
	}
	for b.Loop() {
		trend.Of(distances)
	}
}
