package domain_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// round reads a round name that is certainly right.
func round(t require.TestingT, s string) domain.RoundName {
	name, err := domain.ParseRoundName(s)
	require.NoError(t, err)
	return name
}

func TestRoundNamesAreReadAndOrdered(t *testing.T) {
	t.Parallel()
	inOrder := []string{"1", "2", "9", "10", "99", "P1", "P2", "P10"}
	var names []domain.RoundName
	for _, s := range []string{"P10", "2", "P1", "99", "p2", "10", " 1 ", "9"} {
		names = append(names, round(t, s))
	}
	slices.SortFunc(names, domain.RoundName.Compare)
	var printed []string
	for _, n := range names {
		printed = append(printed, n.String())
		assert.Equal(t, n, round(t, n.String()), "String and back")
		assert.Zero(t, n.Compare(n))
	}
	assert.Equal(t, inOrder, printed, "class rounds first, then the pull-offs, by number")
	assert.Empty(t, domain.RoundName{}.String())
}

func TestWhatIsNoRoundIsRefusedWithWhatToWrite(t *testing.T) {
	t.Parallel()
	for _, s := range []string{"", "0", "P0", "P", "01", "P01", "-1", "+1", "100", "1.5", "final", "PP1", "P 1", "1P"} {
		_, err := domain.ParseRoundName(s)
		require.ErrorContains(t, err, "write 1, 2, … for class rounds and P1, P2, … for pull-offs", "%q", s)
		assert.Equal(t, domain.Invalid, domain.KindOf(err))
	}
}

func FuzzParseRoundName(f *testing.F) {
	for _, seed := range []string{"1", "P1", "p12", "", "P", "0", "99", "100", "+1", "P-1"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		name, err := domain.ParseRoundName(s)
		if err != nil {
			require.Equal(t, domain.Invalid, domain.KindOf(err))
			return
		}
		text, err := name.MarshalText()
		require.NoError(t, err)
		var again domain.RoundName
		require.NoError(t, again.UnmarshalText(text))
		require.Equal(t, name, again)
	})
}
