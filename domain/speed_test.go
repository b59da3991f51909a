package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

func TestSpeedIsReadWithItsUnit(t *testing.T) {
	t.Parallel()
	for typed, prints := range map[string]string{
		"2.75 mph": "2.75 mph", "3.5mph": "3.5 mph", " 6 mph": "6 mph", "6 km/h": "6 km/h", "6.0km/h": "6.0 km/h", "0 mph": "0 mph",
	} {
		v, err := domain.ParseSpeed(typed)
		require.NoError(t, err)
		assert.Equal(t, prints, v.String())
		assert.False(t, v.IsZero())
	}
}

func TestWhatIsNoSpeedIsRefusedWithAFix(t *testing.T) {
	t.Parallel()
	for typed, says := range map[string]string{
		"3.5": "add mph or km/h", "3.5 kmh": "add mph or km/h", "mph": "write figures and a unit", "3,5 mph": "has a comma", "-3 mph": "is not a speed",
	} {
		_, err := domain.ParseSpeed(typed)
		require.ErrorContains(t, err, says)
		assert.Equal(t, domain.Invalid, domain.KindOf(err))
	}
	none, err := domain.ParseSpeed("")
	require.NoError(t, err)
	assert.True(t, none.IsZero())
	assert.Empty(t, none.String())
}

func TestSpeedRoundTrips(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		typed := rapid.StringMatching(`[0-9]{1,3}(\.[0-9]{1,3})? ?(mph|km/h)`).Draw(t, "speed")
		v, err := domain.ParseSpeed(typed)
		require.NoError(t, err)
		text, err := v.MarshalText()
		require.NoError(t, err)
		var read domain.Speed
		require.NoError(t, read.UnmarshalText(text))
		require.Equal(t, v, read)
	})
}

func FuzzParseSpeed(f *testing.F) {
	for _, seed := range []string{"3.5 mph", "6 km/h", "", "mph", "km/h", "1e3 mph", "0.000 mph"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := domain.ParseSpeed(s)
		if err != nil {
			require.Equal(t, domain.Invalid, domain.KindOf(err))
			return
		}
		again, err := domain.ParseSpeed(v.String())
		require.NoError(t, err)
		require.Equal(t, v, again)
	})
}
