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

// velocity reads a speed of a test.
func velocity(t require.TestingT, s string) domain.Speed {
	v, err := domain.ParseSpeed(s)
	require.NoError(t, err)
	return v
}

// A mile is 1,609.344 m exactly, so that two units compare to the last thousandth.
func TestSpeedsCompareAcrossUnits(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		a, b string
		want int
	}{
		{"1000 mph", "1609.344 km/h", 0}, {"3.5 mph", "5.632 km/h", 1}, {"3.5 mph", "5.633 km/h", -1},
		{"4 mph", "4.0 mph", 0}, {"4.01 mph", "4 mph", 1}, {"6 km/h", "6.001 km/h", -1}, {"", "0 mph", 0}, {"", "0.001 km/h", -1},
	} {
		assert.Equal(t, row.want, velocity(t, row.a).Compare(velocity(t, row.b)), "%s and %s", row.a, row.b)
		assert.Equal(t, -row.want, velocity(t, row.b).Compare(velocity(t, row.a)), "%s and %s", row.b, row.a)
	}
	rapid.Check(t, func(t *rapid.T) {
		drawn := rapid.Custom(func(t *rapid.T) domain.Speed {
			return velocity(t, rapid.StringMatching(`[0-9]{1,7}(\.[0-9]{1,3})? (mph|km/h)`).Draw(t, "speed"))
		})
		a, b, c := drawn.Draw(t, "a"), drawn.Draw(t, "b"), drawn.Draw(t, "c")
		require.Equal(t, a.Compare(b), -b.Compare(a))
		if a.Compare(b) <= 0 && b.Compare(c) <= 0 {
			require.LessOrEqual(t, a.Compare(c), 0)
		}
	})
}

// The last reading of a hook stands and may be taken back; it is told of any round and changes no result.
func TestTheSpeedOfAHookIsRead(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	first := s.class.OnTrack().ID
	s.do(domain.ReadSpeed{Hook: first, Top: velocity(t, "29.6 km/h")})
	s.pulls("41", "FP")
	s.do(domain.ReadSpeed{Hook: first, Top: velocity(t, "29.6 km/h"), AtLine: velocity(t, "18 mph")})
	assert.Equal(t, "top 29.6 km/h, at the line 18 mph", s.hook("41", "1").Speeds.String())
	s.refuse(domain.ReadSpeed{Hook: first, Top: velocity(t, "28.9 km/h"), AtLine: velocity(t, "18 mph")}, domain.Invalid, "18 mph at the line is more than the top speed 28.9 km/h")
	s.do(domain.ReadSpeed{Hook: first, AtLine: velocity(t, "18 mph")})
	assert.Equal(t, "at the line 18 mph", s.hook("41", "1").Speeds.String(), "some devices give one of the two")
	assert.Equal(t, "FP", s.hook("41", "1").Result.String(), "the result stands")
	s.pulls("7", "FP")
	second := s.class.OnTrack().ID
	s.pulls("23", "absent")
	s.refuse(domain.ReadSpeed{Hook: second, Top: velocity(t, "4 mph")}, domain.WrongState, "was absent")
	s.refuse(domain.ReadSpeed{Hook: s.id(), Top: velocity(t, "4 mph")}, domain.NotFound, "no such hook")
	due, _ := s.class.RoundDue()
	s.do(domain.OpenRound{Round: s.id(), Name: due})
	s.do(domain.ReadSpeed{Hook: first})
	assert.Zero(t, s.hook("41", "1").Speeds, "taken back, after its round")
}

// A reading over the limit is shown with what the rules have (NATPA: 4 mph from a third of the track on, one beep; HARF:
// no disqualification in the first 75 ft), and nothing follows by itself.
func TestAReadingOverTheLimit(t *testing.T) {
	t.Parallel()
	rules := set(t, "antique-speed-limited", func(r *domain.RuleSet) { r.Speed.Warnings = 0 })
	assert.Equal(t, "under these rules it is a disqualification, without a distance, where the limit holds: from 1/3 of the track on", rules.SpeedAdvice())
	rules.Speed.Warnings = 1
	assert.Contains(t, rules.SpeedAdvice(), "without a distance, after 1 warning, where")
	rules.Speed.Warnings, rules.Speed.From = 2, domain.TrackMark{}
	assert.Equal(t, "under these rules it is a disqualification, without a distance, after 2 warnings", rules.SpeedAdvice())

	s := begun(t, rules, "41", "7", "23")
	first := s.class.OnTrack().ID
	assert.Nil(t, s.class.OverLimit(), "nothing was read")
	s.do(domain.ReadSpeed{Hook: first, Top: velocity(t, "4.0 mph")})
	assert.Nil(t, s.class.OverLimit(), "at the limit is not over it")
	s.do(domain.ReadSpeed{Hook: first, Top: velocity(t, "6.438 km/h")})
	require.NotNil(t, s.class.OverLimit(), "4 mph are 6.437376 km/h")
	s.pulls("41", "250")
	require.NotNil(t, s.class.OverLimit(), "it was the last to end")
	assert.Equal(t, first, s.class.OverLimit().Hook.ID)
	assert.Equal(t, "4 mph", s.class.OverLimit().Limit.String())
	assert.Equal(t, "250", s.hook("41", "1").Result.String(), "nothing is done by itself")
	s.do(domain.Correct{Hook: first, Result: resultIn(t, "DQ speed", domain.Foot), Reason: "one beep", Next: s.id()})
	assert.Nil(t, s.class.OverLimit(), "the official decided")
	s.do(domain.ReadSpeed{Hook: s.class.OnTrack().ID, AtLine: velocity(t, "9 mph")})
	assert.NotNil(t, s.class.OverLimit(), "the speed at the line counts as well")
	s.pulls("7", "260")
	s.pulls("23", "270")
	assert.Nil(t, s.class.OverLimit(), "another hook has ended since")

	s = begun(t, set(t, "floating-m"), "41", "7")
	s.do(domain.ReadSpeed{Hook: s.class.OnTrack().ID, Top: velocity(t, "90 mph")})
	assert.Nil(t, s.class.OverLimit(), "there is no limit")
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
