package draw_test

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain/draw"
)

// ordered returns the labels in drawn order.
func ordered(seed string, labels ...string) []string {
	list := make([]string, len(labels))
	for i, at := range draw.Order(seed, labels) {
		list[i] = labels[at]
	}
	return list
}

// The worked example of docs/draw.md. Each hash is what `printf '%s|%s' 'dice 4 2 6' 41 | sha256sum` prints.
func TestTheWorkedExampleIsDrawnByHand(t *testing.T) {
	t.Parallel()
	for label, hash := range map[string]string{
		"41": "1a2ecc87aac315ab7a805612466794b28e3545a49d3ccd45a04cdbd8d3407f42",
		"7":  "221b2a76ab4653404ee7781f397eacee84245d4426071e359027234ab7c05555",
		"23": "27e16c85de43e70daae588d4be8eea31082cfec242a05ba718caeb4ac58cade5",
	} {
		assert.Equal(t, hash, draw.Key("dice 4 2 6", label), label)
	}
	assert.Equal(t, strings.Fields("41 7 23"), ordered("dice 4 2 6", "41", "7", "23"))
}

// A golden draw: a published order must come out the same for as long as anybody may want to check it.
func TestAGoldenDraw(t *testing.T) {
	t.Parallel()
	labels := strings.Fields("1 2 3 7 7b 12 23 41 A1 Ä9")
	assert.Equal(t, strings.Fields("7 2 1 23 3 12 A1 41 7b Ä9"), ordered("Tarn Hollow 2026-09-19 18:00", labels...))
}

// recompute draws again from the words of docs/draw.md alone: take the seed, put a bar and the number behind it, hash
// it with SHA-256, write the hash in hexadecimal, and sort by it, the smallest first.
func recompute(seed string, labels []string) []string {
	hashes := make(map[string]string, len(labels))
	var keys []string
	for _, label := range labels {
		key := fmt.Sprintf("%x", sha256.Sum256([]byte(seed+"|"+label)))
		hashes[key] = label
		keys = append(keys, key)
	}
	sort.Strings(keys)
	list := make([]string, len(keys))
	for i, key := range keys {
		list[i] = hashes[key]
	}
	return list
}

func TestAnyoneCanRecomputeADraw(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		seed := strings.Join(strings.Fields(rapid.StringMatching(`[a-z0-9äé]+( [a-z0-9äé]+){0,3}`).Draw(t, "seed")), " ")
		labels := rapid.SliceOfNDistinct(rapid.StringMatching(`[0-9]{1,3}[a-z]?`), 0, 12, rapid.ID[string]).Draw(t, "labels")
		require.Equal(t, recompute(seed, labels), ordered(seed, labels...))
	})
}

// A label that is added or taken away leaves the others in their order; so does writing them down in another order.
func TestALabelMoreLeavesTheOthersInTheirOrder(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.StringMatching(`[a-z0-9]{1,8}`).Draw(t, "seed")
		labels := rapid.SliceOfNDistinct(rapid.StringMatching(`[0-9]{1,3}[a-z]?`), 1, 12, rapid.ID[string]).Draw(t, "labels")
		all := ordered(seed, labels...)
		late := rapid.SampledFrom(labels).Draw(t, "late entry")
		without := slices.DeleteFunc(slices.Clone(labels), func(l string) bool { return l == late })
		require.Equal(t, slices.DeleteFunc(all, func(l string) bool { return l == late }), ordered(seed, without...))
		require.Equal(t, ordered(seed, labels...), ordered(seed, rapid.Permutation(labels).Draw(t, "permuted")...))
	})
}

func TestTheSeedIsCleanedOfStraySpaces(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "dice 4 2 6", draw.Clean(" \tdice  4 2\n6 "))
	assert.Empty(t, draw.Clean(" \n"))
	assert.Equal(t, draw.Key("dice 4 2 6", "41"), draw.Key("  dice 4   2 6", "41"))
	assert.NotEqual(t, draw.Key("dice 4 2 6", "41"), draw.Key("Dice 4 2 6", "41"), "letters are taken as written")
}

func TestEqualLabelsKeepTheirOrder(t *testing.T) {
	t.Parallel()
	assert.Equal(t, []int{0, 1}, draw.Order("x", []string{"7", "7"}))
	assert.Empty(t, draw.Order("x", nil))
}

// Over many seeds each of the 24 orders of four labels comes up equally often. The statistic is Pearson's chi-square,
// the sum of (seen - expected)²/expected over the orders, with 24 - 1 = 23 degrees of freedom; its upper critical
// value at 0.001 is 49.728 (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4, row 23). The seeds are fixed,
// so the test always sees the same figure.
func TestEveryOrderIsEquallyLikely(t *testing.T) {
	t.Parallel()
	const seeds, orders, critical = 24_000, 24, 49.728
	seen := make(map[string]int, orders)
	firsts := make(map[string]int)
	for i := range seeds {
		order := ordered(fmt.Sprintf("seed %d", i), "7", "12", "23", "41")
		seen[strings.Join(order, " ")]++
		firsts[order[0]]++
	}
	require.Len(t, seen, orders, "every order comes up")
	assert.Less(t, chiSquare(seen, seeds/orders), critical)
	// Who hooks first matters most: 4 - 1 = 3 degrees of freedom, 16.266 at 0.001 in the same table.
	assert.Less(t, chiSquare(firsts, seeds/4), 16.266)
}

func chiSquare(seen map[string]int, expected float64) (sum float64) {
	for _, n := range seen {
		sum += (float64(n) - expected) * (float64(n) - expected) / expected
	}
	return sum
}
