package picture_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/picture"
)

// box is the picture of a box in which slabs lie as people write them; every slab of it is an invention.
func box(t *testing.T, piles string, card domain.SledCard, balance string) string {
	t.Helper()
	p, err := domain.ParsePiles(piles)
	require.NoError(t, err)
	weight, err := domain.ParseWeight("19800 lb")
	require.NoError(t, err)
	svg := picture.Box{Load: domain.Setting{Box: weight, Piles: p, Slabs: p.Slabs()}.Load(card), Balance: balance}.SVG()
	plainSVG(t, svg)
	return svg
}

func TestTheBoxShowsEverySlabAndTheRoomThatIsLeft(t *testing.T) {
	t.Parallel()
	most, err := domain.ParseWeight("25200 lb")
	require.NoError(t, err)
	empty, err := domain.ParseWeight("1500 lb")
	require.NoError(t, err)
	svg := box(t, "1800 lb: 6 left, 4 right; 900 lb: 1 middle, 1 right", domain.SledCard{Box: empty, Slabs: domain.SlabRoom{Left: 8, Middle: 2, Right: 8, Most: most}}, "left has 2,700 lb more than right")
	assert.Equal(t, 10, strings.Count(svg, `fill="#555"`), "ten slabs of one weight")
	assert.Equal(t, 2, strings.Count(svg, `fill="#ccc"`), "two of the other")
	assert.Equal(t, 6, strings.Count(svg, "stroke-dasharray"), "two places left, one in the middle, three right")
	for _, words := range []string{"front of the sled", ">6 of 8 slabs<", ">1 of 2 slabs<", ">5 of 8 slabs<", ">10,800 lb<", ">8,100 lb<", ">in the box: 12 slabs, 19,800 lb<",
		">with the empty box: 21,300 lb<", ">the description allows 25,200 lb in the box<", ">left has 2,700 lb more than right<", "<desc>left 6 of 8 slabs. middle 1 of 2 slabs. right 5 of 8 slabs."} {
		assert.Contains(t, svg, words)
	}
}

func TestABoxOfWhichLittleIsKnown(t *testing.T) {
	t.Parallel()
	svg := picture.Box{Load: domain.Setting{Slabs: domain.Slabs{Left: 100, Right: 1}}.Load(domain.SledCard{}), Balance: "left has 99 more than right"}.SVG()
	plainSVG(t, svg)
	assert.Equal(t, 101, strings.Count(svg, `fill="#555"`))
	assert.Contains(t, svg, ">in the box: 101 slabs<")
	assert.Contains(t, svg, ">1 slab<")
	assert.NotContains(t, svg, "stroke-dasharray=\"3 3\"", "nobody said how many find room")
	assert.NotContains(t, svg, "allows")
}
