package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

func TestWeightIsReadWithItsUnit(t *testing.T) {
	t.Parallel()
	for typed, prints := range map[string]string{
		"21600 lb":    "21,600 lb",
		"21,600 lb":   "21,600 lb",
		"21600lb":     "21,600 lb",
		" 850 lb ":    "850 lb",
		"1,234,567lb": "1,234,567 lb",
		"2500 kg":     "2,500 kg",
		"2500.5 kg":   "2,500.5 kg",
		"2,500.50 kg": "2,500.50 kg",
		"0 lb":        "0 lb",
	} {
		t.Run(typed, func(t *testing.T) {
			t.Parallel()
			w, err := domain.ParseWeight(typed)
			require.NoError(t, err)
			assert.Equal(t, prints, w.String())
			assert.False(t, w.IsZero(), "0 lb is a weight")
		})
	}
}

func TestWhatIsNoWeightIsRefusedWithAFix(t *testing.T) {
	t.Parallel()
	for typed, says := range map[string]string{
		"21600":      "add lb or kg",
		"21600 t":    "add lb or kg",
		"lb":         "write figures and a unit",
		"-5 lb":      "write figures and a unit",
		"2,16 lb":    "has a comma", // a decimal comma is not a group of thousands
		"21,6000 lb": "has a comma",
		",600 lb":    "has a comma",
		"1.2345 kg":  "more than three decimals",
		"2,500,5 kg": "has a comma",
		"2160,000lb": "has a comma",
	} {
		t.Run(typed, func(t *testing.T) {
			t.Parallel()
			_, err := domain.ParseWeight(typed)
			require.ErrorContains(t, err, says)
			assert.Equal(t, domain.Invalid, domain.KindOf(err))
		})
	}
}

func TestNoWeightIsEmpty(t *testing.T) {
	t.Parallel()
	w, err := domain.ParseWeight("  ")
	require.NoError(t, err)
	assert.True(t, w.IsZero())
	assert.Empty(t, w.String())
	assert.Empty(t, w.Figures())
	assert.Empty(t, w.Unit())
	pounds, err := domain.ParseWeight("850 lb")
	require.NoError(t, err)
	assert.Equal(t, "lb", pounds.Unit())
	kilograms, err := domain.ParseWeight("850 kg")
	require.NoError(t, err)
	assert.Equal(t, "kg", kilograms.Unit())
	assert.NotEqual(t, pounds, kilograms)
}

func TestWeightRoundTrips(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		typed := rapid.StringMatching(`[0-9]{1,7}(\.[0-9]{1,3})? ?(lb|kg)`).Draw(t, "weight")
		w, err := domain.ParseWeight(typed)
		require.NoError(t, err)
		text, err := w.MarshalText()
		require.NoError(t, err)
		var read domain.Weight
		require.NoError(t, read.UnmarshalText(text))
		require.Equal(t, w, read)
	})
}

func FuzzParseWeight(f *testing.F) {
	for _, seed := range []string{"21600 lb", "21,600 lb", "2500.5 kg", "", "lb", ",,lb", "1,234 kg", "0 lb", "1,23 lb"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		w, err := domain.ParseWeight(s)
		if err != nil {
			require.Equal(t, domain.Invalid, domain.KindOf(err))
			return
		}
		again, err := domain.ParseWeight(w.String())
		require.NoError(t, err)
		require.Equal(t, w, again)
	})
}
