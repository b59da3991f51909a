package draw_test

import (
	"crypto/sha256"
	"fmt"
	"math/big"
	"slices"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"clayline/domain/draw"
)

// numbered returns n labels, "1" to "n".
func numbered(n int) []string {
	labels := make([]string, n)
	for i := range labels {
		labels[i] = fmt.Sprint(i + 1)
	}
	return labels
}

// pairs returns n groups of two: the first and second label, the third and fourth, and so on.
func pairs(n, between int) (groups []draw.Group) {
	for i := range n {
		groups = append(groups, draw.Group{Members: []int{2 * i, 2*i + 1}, Between: between})
	}
	return groups
}

// paper is the draw of docs/draw.md, written from its words and from nothing else of this package: lists of words,
// plain permutations, no counting. It is for few entries.
type paper struct {
	numbers []string
	apart   [][]string
	k       []int
	fixed   map[int]string // by place, from 1
	late    []string
}

// onPaper writes a draw down on paper.
func onPaper(labels []string, rules draw.Rules) paper {
	p := paper{numbers: labels, fixed: map[int]string{}}
	for _, g := range rules.Groups {
		var names []string
		for _, m := range g.Members {
			names = append(names, labels[m])
		}
		p.apart, p.k = append(p.apart, names), append(p.k, g.Between)
	}
	for _, f := range rules.Fixed {
		p.fixed[f.Place] = labels[f.Member]
	}
	for _, m := range rules.Late {
		p.late = append(p.late, labels[m])
	}
	return p
}

// fill puts the numbers that are drawn on the free places.
func (p paper) fill(drawn []string) []string {
	var order []string
	for len(order) < len(p.numbers)-len(p.late) {
		if n, given := p.fixed[len(order)+1]; given {
			order = append(order, n)
		} else {
			order, drawn = append(order, drawn[0]), drawn[1:]
		}
	}
	return append(order, p.late...)
}

// free are the numbers that are drawn.
func (p paper) free() (list []string) {
	for _, n := range p.numbers {
		given := slices.Contains(p.late, n)
		for _, other := range p.fixed {
			given = given || other == n
		}
		if !given {
			list = append(list, n)
		}
	}
	return list
}

// keeps looks at every pair of a group.
func (p paper) keeps(order []string, k []int) bool {
	for g, group := range p.apart {
		for _, a := range group {
			for _, b := range group {
				first, second := slices.Index(order, a), slices.Index(order, b)
				if first < second && second-first-1 < k[g] {
					return false
				}
			}
		}
	}
	return true
}

// list has every order that keeps the rules, sorted as a dictionary.
func (p paper) list(k []int) (orders [][]string) {
	for _, drawn := range permutations(p.free()) {
		if order := p.fill(drawn); p.keeps(order, k) {
			orders = append(orders, order)
		}
	}
	slices.SortFunc(orders, slices.Compare)
	return orders
}

// permutations are all orders of a few words.
func permutations(words []string) [][]string {
	if len(words) == 0 {
		return [][]string{nil}
	}
	var all [][]string
	for i, w := range words {
		for _, rest := range permutations(slices.Concat(words[:i], words[i+1:])) {
			all = append(all, append([]string{w}, rest...))
		}
	}
	return all
}

// lowered are the distances that can be kept, by the three steps of the manual.
func (p paper) lowered() []int {
	k := slices.Clone(p.k)
	for m := slices.Max(append([]int{0}, p.k...)); len(p.list(k)) == 0; m-- {
		for g := range k {
			k[g] = min(p.k[g], m)
		}
	}
	byNumbers := make(map[string]int)
	for g, group := range p.apart {
		sorted := slices.Sorted(slices.Values(group))
		byNumbers[strings.Join(sorted, "\x00")+fmt.Sprintf("\x00\x00%03d%03d", p.k[g], g)] = g
	}
	var names []string
	for name := range byNumbers {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		for g := byNumbers[name]; k[g] < p.k[g]; {
			k[g]++
			if len(p.list(k)) == 0 {
				k[g]--
				break
			}
		}
	}
	return k
}

// draw draws: tries, then the list.
func (p paper) draw(seed string) ([]string, []int) {
	k := p.lowered()
	for try := 1; try <= 1000; try++ {
		from := seed
		if try > 1 {
			from = fmt.Sprintf("%s#%d", seed, try)
		}
		if order := p.fill(recompute(from, p.free())); p.keeps(order, k) {
			return order, k
		}
	}
	list := p.list(k)
	n := big.NewInt(int64(len(list)))
	for j := 1; ; j++ {
		x, _ := new(big.Int).SetString(fmt.Sprintf("%x", sha256.Sum256(fmt.Appendf(nil, "%s#list-%d-1", seed, j))), 16)
		most := new(big.Int).Exp(big.NewInt(2), big.NewInt(256), nil)
		if most.Div(most, n); x.Cmp(most.Mul(most, n)) < 0 {
			return list[x.Mod(x, n).Int64()], k
		}
	}
}

// words returns an order as its labels.
func words(labels []string, order []int) []string {
	list := make([]string, len(order))
	for i, at := range order {
		list[i] = labels[at]
	}
	return list
}

// anyRules draws rules for labels that can be meant: overlapping groups, fixed places, late entries.
func anyRules(t *rapid.T, n int) draw.Rules {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	var rules draw.Rules
	some := rapid.Permutation(all).Draw(t, "who is fixed or late")
	late := rapid.IntRange(0, min(2, n-1)).Draw(t, "late")
	rules.Late = some[:late]
	places := rapid.Permutation(all[:n-late]).Draw(t, "places")
	for i := range rapid.IntRange(0, min(2, n-late)).Draw(t, "fixed") {
		rules.Fixed = append(rules.Fixed, draw.Fixed{Member: some[late+i], Place: places[i] + 1})
	}
	for range rapid.IntRange(0, 3).Draw(t, "groups") {
		members := rapid.Permutation(all).Draw(t, "members")
		rules.Groups = append(rules.Groups, draw.Group{
			Members: members[:rapid.IntRange(1, min(3, n)).Draw(t, "size")], Between: rapid.IntRange(0, 4).Draw(t, "between"),
		})
	}
	return rules
}

func TestADrawWithRulesIsRecomputedFromTheManual(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		labels := rapid.SliceOfNDistinct(rapid.StringMatching(`[0-9]{1,2}[a-c]?`), 1, 6, rapid.ID[string]).Draw(t, "labels")
		rules := anyRules(t, len(labels))
		drawn, err := draw.Draw("dice 6", labels, rules)
		require.NoError(t, err)
		order, kept := onPaper(labels, rules).draw("dice 6")
		require.Equal(t, order, words(labels, drawn.Order))
		require.Equal(t, kept, append([]int(nil), drawn.Kept...))
		for i, g := range rules.Groups {
			require.True(t, draw.Apart(drawn.Order, g.Members, kept[i]))
			require.Equal(t, kept[i] < g.Between, drawn.Proven[i], "less is kept only where that is proven, in a class this small")
		}
	})
}

// With rules or without, the order of the labels, of the groups and in the groups changes nothing.
func TestHowRulesAreWrittenDownChangesNothing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		labels := numbered(rapid.IntRange(2, 8).Draw(t, "n"))
		rules := anyRules(t, len(labels))
		drawn, err := draw.Draw("dice", labels, rules)
		require.NoError(t, err)
		at := rapid.Permutation(indexes(len(labels))).Draw(t, "other order")
		moved, other := make([]string, len(labels)), draw.Rules{}
		for i, to := range at {
			moved[to] = labels[i]
		}
		for _, g := range slices.Backward(rules.Groups) {
			var members []int
			for _, m := range slices.Backward(g.Members) {
				members = append(members, at[m])
			}
			other.Groups = append(other.Groups, draw.Group{Members: members, Between: g.Between})
		}
		for _, f := range rules.Fixed {
			other.Fixed = append(other.Fixed, draw.Fixed{Member: at[f.Member], Place: f.Place})
		}
		for _, m := range rules.Late {
			other.Late = append(other.Late, at[m])
		}
		again, err := draw.Draw("dice", moved, other)
		require.NoError(t, err)
		require.Equal(t, words(labels, drawn.Order), words(moved, again.Order))
	})
}

// indexes are 0 to n-1.
func indexes(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

func TestWithoutRulesItIsThePlainDraw(t *testing.T) {
	t.Parallel()
	for _, rules := range []draw.Rules{{}, {Groups: []draw.Group{{Members: []int{0, 1, 2}}}}, {Groups: []draw.Group{{Members: []int{4}, Between: 9}}}} {
		labels := strings.Fields("1 2 3 7 7b 12 23 41 A1 Ä9")
		drawn, err := draw.Draw(" Tarn Hollow  2026-09-19 18:00", labels, rules)
		require.NoError(t, err)
		assert.Equal(t, 1, drawn.Try)
		assert.Equal(t, strings.Fields("7 2 1 23 3 12 A1 41 7b Ä9"), words(labels, drawn.Order))
	}
}

// A golden draw with everything in it: published proofs must keep their meaning.
func TestAGoldenDrawWithRules(t *testing.T) {
	t.Parallel()
	labels := numbered(9)
	drawn, err := draw.Draw("dice 4 2 6", labels, draw.Rules{
		Groups: pairs(3, 3), Fixed: []draw.Fixed{{Member: 8, Place: 1}}, Late: []int{6, 7},
	})
	require.NoError(t, err)
	assert.Equal(t, "9 4 5 1 3 6 2 7 8 by try 21, kept [2 2 2]", fmt.Sprintf("%s by try %d, kept %v", strings.Join(words(labels, drawn.Order), " "), drawn.Try, drawn.Kept))
}

// Each order that keeps the rules comes up equally often: over fixed seeds, Pearson's chi-square over all of them stays
// below its quantile at 0.999.
func TestEveryOrderThatKeepsTheRulesIsEquallyLikely(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		labels int
		rules  draw.Rules
		orders int
	}{
		{"two of one driver, one apart", 4, draw.Rules{Groups: pairs(1, 1)}, 12},
		{"two drivers with two, one apart", 5, draw.Rules{Groups: pairs(2, 1)}, 48},
		{"a driver with three, in a class of five", 5, draw.Rules{Groups: []draw.Group{{Members: []int{0, 1, 2}, Between: 1}}}, 12},
		{"a fixed place and a late entry", 6, draw.Rules{Groups: pairs(1, 2), Fixed: []draw.Fixed{{Member: 2, Place: 2}}, Late: []int{5}}, 8},
		{"a shared vehicle between two drivers", 5, draw.Rules{Groups: []draw.Group{{Members: []int{0, 1}, Between: 1}, {Members: []int{1, 2}, Between: 2}}}, 20},
		// Of 40,320 orders 384 keep these rules, fewer than one in a hundred; some seeds need hundreds of tries.
		{"four drivers with two, three apart, in a class of eight", 8, draw.Rules{Groups: pairs(4, 3)}, 384},
		{"lowered: three of one driver in a class of four", 4, draw.Rules{Groups: []draw.Group{{Members: []int{0, 1, 2}, Between: 3}}}, 24},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			labels := numbered(c.labels)
			seen := map[string]int{}
			each := 40
			if c.orders > 100 {
				each = 10
			}
			draws := each * c.orders
			for i := range draws {
				drawn, err := draw.Draw(fmt.Sprintf("seed %d", i), labels, c.rules)
				require.NoError(t, err)
				seen[fmt.Sprint(drawn.Order)]++
			}
			require.Len(t, onPaper(labels, c.rules).list(onPaper(labels, c.rules).lowered()), c.orders)
			require.Equal(t, c.orders, len(seen), "every order comes up")
			assert.Less(t, chiSquare(seen, float64(each)), distuv.ChiSquared{K: float64(c.orders - 1)}.Quantile(0.999))
		})
	}
}

// Where tries do not help, the list does: twelve vehicles of three drivers, 2 apart, have 3!·4!³ = 82,944 orders among
// 479 million. Each driver is first equally often, and each vehicle of a driver.
func TestTheListIsUsedWhereTriesFail(t *testing.T) {
	t.Parallel()
	var groups []draw.Group
	for i := range 3 {
		groups = append(groups, draw.Group{Members: []int{i, i + 3, i + 6, i + 9}, Between: 2})
	}
	labels := numbered(12)
	listed, first := 0, map[string]int{}
	for i := range 120 {
		drawn, err := draw.Draw(fmt.Sprintf("seed %d", i), labels, draw.Rules{Groups: groups})
		require.NoError(t, err)
		require.Equal(t, []int{2, 2, 2}, drawn.Kept)
		first[labels[drawn.Order[0]]]++
		if drawn.Try == 0 {
			listed++
			require.Equal(t, "82944", drawn.Listed.String())
			require.Negative(t, drawn.Place.Cmp(drawn.Listed))
		}
	}
	require.Greater(t, listed, 80)
	assert.Less(t, chiSquare(first, 10), distuv.ChiSquared{K: 11}.Quantile(0.999))
}

// Forty entries of twenty drivers, 3 apart, are drawn by tries; where rules cannot be kept, they are lowered no more than
// needed: fourteen of one driver in a class of forty can be 2 apart.
func TestALargeClassIsDrawn(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		n      int
		groups []draw.Group
		kept   int
	}{
		{"twenty drivers", 40, pairs(20, 3), 3},
		{"sixty", 120, pairs(60, 3), 3},
		{"a driver for whom the class is too short", 40, append(pairs(3, 3), draw.Group{Members: indexes(40)[26:], Between: 3}), 2},
		{"nobody can be so far apart", 30, pairs(15, 20), 14},
		{"a driver with five of twelve, and two with two", 12, append(pairs(2, 3), draw.Group{Members: []int{4, 5, 6, 7, 8}, Between: 3}), 1},
		{"more than is searched for", 200, pairs(100, 20), 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			drawn, err := draw.Draw("dice 4 2 6", numbered(c.n), draw.Rules{Groups: c.groups})
			require.NoError(t, err)
			assert.Equal(t, c.kept, slices.Min(drawn.Kept))
			for i, g := range c.groups {
				assert.True(t, draw.Apart(drawn.Order, g.Members, drawn.Kept[i]))
				assert.False(t, drawn.Proven[i] && drawn.Kept[i] == g.Between)
			}
		})
	}
}
