package domain_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

func TestAmountsAreReadToTheCent(t *testing.T) {
	t.Parallel()
	for written, cents := range map[string]domain.Money{"150": 15000, "150.00": 15000, "150.5": 15050, " 0.05 ": 5, "0": 0, "10000000": 1_000_000_000} {
		amount, err := domain.ParseMoney(written)
		require.NoError(t, err, written)
		assert.Equal(t, cents, amount, written)
	}
	for _, written := range []string{"", "1,250.50", "$150", "150.", ".50", "1.005", "-5", "+5", "1e3", "10000000.01", "99999999999999999999", "150 USD", "１５０"} {
		_, err := domain.ParseMoney(written)
		require.Error(t, err, written)
		assert.Equal(t, domain.Invalid, domain.KindOf(err), written)
	}
	assert.Equal(t, "-0.05", domain.Money(-5).String())
}

func FuzzParseMoney(f *testing.F) {
	for _, written := range []string{"150", "150.50", "0.1", "1,2", "-0.00", "9999999.99"} {
		f.Add(written)
	}
	f.Fuzz(func(t *testing.T, written string) {
		amount, err := domain.ParseMoney(written)
		if err != nil {
			return
		}
		require.GreaterOrEqual(t, amount, domain.Money(0))
		again, err := domain.ParseMoney(amount.String())
		require.NoError(t, err)
		require.Equal(t, amount, again)
		require.NotContains(t, written, ",")
	})
}

// Points are written exactly: what is shared by up to 22 adds up again.
func TestSharedPointsAddUp(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		whole, among int
		want         string
	}{{49, 1, "49"}, {25, 2, "12.5"}, {1, 4, "0.25"}, {1, 8, "0.125"}, {40, 3, "13 1/3"}, {1, 3, "1/3"}, {15, 22, "15/22"}, {-5, 1, "-5"}, {-10, 3, "-3 1/3"}, {0, 3, "0"}} {
		assert.Equal(t, row.want, (domain.WholePoints(row.whole) / domain.Points(row.among)).String())
	}
	rapid.Check(t, func(t *rapid.T) {
		whole, among := rapid.IntRange(0, 9999).Draw(t, "points"), rapid.IntRange(1, 22).Draw(t, "among")
		part := domain.WholePoints(whole) / domain.Points(among)
		require.Equal(t, domain.WholePoints(whole), part*domain.Points(among))
		require.NotContains(t, strings.TrimSpace(part.String()), "/1 ")
	})
}

func TestAwardsAreWordsOrNumbers(t *testing.T) {
	t.Parallel()
	for _, word := range []string{"place", "nothing", "add_ons", "show_up", "hook", "last_place", "lowest", "0", "25", "9999"} {
		award, err := domain.ParseAward(word)
		require.NoError(t, err)
		assert.Equal(t, word, award.String())
		both, err := domain.ParseCauseAward("front end: " + word)
		require.NoError(t, err)
		assert.Equal(t, domain.CauseAward{Cause: domain.CauseFrontEnd, Award: award}, both)
		assert.Equal(t, "front end: "+word, both.String())
	}
	for _, word := range []string{"", "half", "-1", "10000", "1.5", "+5"} {
		_, err := domain.ParseAward(word)
		require.ErrorContains(t, err, "write place, nothing, add_ons", word)
	}
	for _, word := range []string{"", "conduct", "conduct:nothing", "rain: nothing", "conduct: half"} {
		_, err := domain.ParseCauseAward(word)
		require.Error(t, err, word)
	}
	assert.Empty(t, domain.Award{}.String())
}

func FuzzParseCauseAward(f *testing.F) {
	f.Add("front end: nothing")
	f.Add("conduct: 25")
	f.Fuzz(func(t *testing.T, written string) {
		award, err := domain.ParseCauseAward(written)
		if err != nil {
			require.Equal(t, domain.Invalid, domain.KindOf(err))
			return
		}
		again, err := domain.ParseCauseAward(award.String())
		require.NoError(t, err)
		require.Equal(t, award, again)
	})
}
