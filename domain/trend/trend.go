// Package trend says whether distances went up or down with the hook order of a round, and how often chance alone would
// show as much. Numbers go in and numbers come out; it knows no class.
//
// # The measure
//
// Every two hooks are compared: a pair is for a rising trend where the later hook went further, against it where it went
// less far, and neither where both went the same, as full pulls do that end at the line. S is how many pairs are for it
// less how many are against it, and tau-b is S in proportion to what it could be at most, the ties left out of account:
// Kendall (1945), "The Treatment of Ties in Ranking Problems", Biometrika 33(3).
//
// # Chance
//
// P is how often S would be as far from 0, either way, if the same distances had come in a random order. Up to 40 hooks
// it is exact, with ties or without: the number of pairs against the order has the distribution of the inversions of a
// sequence with repetitions, which is built up one group of equals after the other. Beyond it is the normal distribution
// with the variance that the ties leave and a correction for continuity.
//
// # An example
//
// Five hooks of which each but the last went further than the one before:
//
//	trend.Of([]int64{250, 260, 270, 280, 255})
//	N 5, Tau 0.4, P 0.48: the last one went further than the first alone
//
// A trend is no reason to change a result: tracks change, and pullers who drew late may simply have been better.
package trend

import (
	"fmt"
	"math"
	"slices"
)

const (
	// Few is the number of distances below which nothing is said: of four, not even the strictest order is rarer than
	// one in twelve.
	Few = 5
	// Exactly is the largest number of distances for which chance is computed exactly.
	Exactly = 40
)

// Trend is what is said of one round.
type Trend struct {
	N   int     // distances
	Tau float64 // tau-b, from -1 to 1; 0 where all are equal
	// P is how often, from 0 to 1, a random order would show as much, either way.
	P     float64
	Exact bool // or by the normal distribution
}

// Of compares distances, in any unit, with the order in which they stand. It takes time in proportion to the square of
// their number, and to its fourth power at most where many of them are equal and chance is computed exactly.
func Of(distances []int64) Trend {
	n := len(distances)
	t := Trend{N: n, P: 1, Exact: n <= Exactly}
	s := score(distances)
	groups := equals(distances)
	all, told := n*(n-1)/2, n*(n-1)/2
	for _, g := range groups {
		told -= g * (g - 1) / 2
	}
	if told == 0 {
		return t // nothing to compare
	}
	t.Tau = float64(s) / math.Sqrt(float64(all)*float64(told))
	if t.Exact {
		t.P = exactly(groups, told, s)
	} else {
		t.P = normally(n, groups, s)
	}
	return t
}

// score is S: the pairs of which the later is larger, less those of which it is smaller.
func score(distances []int64) (s int) {
	for j, later := range distances {
		for _, earlier := range distances[:j] {
			switch {
			case later > earlier:
				s++
			case later < earlier:
				s--
			}
		}
	}
	return s
}

// equals are the sizes of the groups of equal distances, with a group of one for each that is alone.
func equals(distances []int64) (sizes []int) {
	sorted := slices.Sorted(slices.Values(distances))
	for i, d := range sorted {
		if i > 0 && d == sorted[i-1] {
			sizes[len(sizes)-1]++
		} else {
			sizes = append(sizes, 1)
		}
	}
	return sizes
}

// exactly is P by the distribution of the pairs that are against the order. Of told pairs that are not equal, k against
// it make S told-2k.
func exactly(groups []int, told, s int) (p float64) {
	against, before := []float64{1}, 0
	for _, size := range groups {
		against = spread(against, shuffled(before+size, size))
		before += size
	}
	for k, chance := range against {
		if abs(told-2*k) >= abs(s) {
			p += chance
		}
	}
	return min(p, 1)
}

// shuffled is how likely a group of equals among n has so many of the others behind one of it, counted over the group;
// the probabilities begin with none. The last of the n is one of the group with probability size/n, and then nothing is
// behind it; else it is one of the others, which is behind all of the group.
func shuffled(n, size int) []float64 {
	if size == 1 {
		one := make([]float64, n)
		for i := range one {
			one[i] = 1 / float64(n)
		}
		return one
	}
	// rows[g] is for a group of g among as many as the outer loop has come to.
	rows := make([][]float64, size+1)
	rows[0] = []float64{1}
	for m := 1; m <= n; m++ {
		for g := min(m, size); g >= 1; g-- {
			last := float64(g) / float64(m)
			next := make([]float64, g*(m-g)+1)
			for k, chance := range rows[g-1] {
				next[k] += last * chance
			}
			if g < m {
				for k, chance := range rows[g] {
					next[k+g] += (1 - last) * chance
				}
			}
			rows[g] = next
		}
	}
	return rows[size]
}

// spread is the distribution of the sum of two that do not depend on each other.
func spread(a, b []float64) []float64 {
	sum := make([]float64, len(a)+len(b)-1)
	for i, x := range a {
		for j, y := range b {
			sum[i+j] += x * y
		}
	}
	return sum
}

// normally is P by the normal distribution: Kendall (1970), "Rank Correlation Methods", 4th edition, section 4.3, where
// only one of the two sides has ties.
func normally(n int, groups []int, s int) float64 {
	terms := func(m int) float64 { return float64(m) * float64(m-1) * float64(2*m+5) }
	variance := terms(n)
	for _, g := range groups {
		variance -= terms(g)
	}
	z := (math.Abs(float64(s)) - 1) / math.Sqrt(variance/18)
	return min(math.Erfc(z/math.Sqrt2), 1)
}

// abs is the amount of a number.
func abs(n int) int { return max(n, -n) }

// Caution goes with every sentence about a trend.
const Caution = "This is no reason to change a result: tracks change, and who drew late may have been better."

// Sentence says it in words, with its uncertainty; "" of fewer than [Few] distances.
//
//	Later hooks tended to go further: tau 0.31 over 14 hooks. A random order would show as much in 14 of 100 rounds.
func (t Trend) Sentence() string {
	if t.N < Few {
		return ""
	}
	way := "Hook order and distance show no trend"
	switch {
	case t.Tau > 0:
		way = "Later hooks tended to go further"
	case t.Tau < 0:
		way = "Later hooks tended to go less far"
	}
	return fmt.Sprintf("%s: tau %.2f over %d hooks. A random order would show as much in %s of 100 rounds.", way, t.Tau, t.N, hundredths(t.P))
}

// hundredths writes a probability as rounds of 100: "18", "fewer than 1", "more than 99".
func hundredths(p float64) string {
	switch rounded := math.Round(100 * p); {
	case rounded < 1:
		return "fewer than 1"
	case rounded >= 100 && p < 1:
		return "more than 99"
	default:
		return fmt.Sprintf("%.0f", rounded)
	}
}
