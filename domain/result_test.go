package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// result reads a result of a class in feet that is certainly right; "-" is no hook.
func result(t require.TestingT, s string) domain.Result { return resultIn(t, s, domain.Foot) }

func resultIn(t require.TestingT, s string, unit domain.Unit) domain.Result {
	if s == "-" {
		return domain.Result{}
	}
	r, err := domain.ParseResult(s, unit)
	require.NoError(t, err)
	return r
}

func TestResultIsReadAsItStandsOnASheet(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		written string
		outcome domain.Outcome
		prints  string
		reason  string
		counts  bool
		reached bool
	}{
		{"281.36", domain.Measured, "281.36", "", true, true},
		{"0", domain.Measured, "0", "", true, true},
		{`287' 4.5"`, domain.Measured, `287' 4.5"`, "", true, true},
		{"FP", domain.FullPull, "FP", "", true, true},
		{"fp", domain.FullPull, "FP", "", true, true},
		{"FP 312.44", domain.FullPull, "FP 312.44", "", true, true},
		{"FP  312.440 ft", domain.FullPull, "FP 312.440", "", true, true},
		{"DQ", domain.Disqualified, "DQ", "", true, false},
		{"DQ out of bounds", domain.Disqualified, "DQ", "out of bounds", true, false},
		{"absent", domain.Absent, "absent", "", true, false},
		{"Absent broke in the pits", domain.Absent, "absent", "broke in the pits", true, false},
		{"rehook sled stalled", domain.Rehooked, "rehook", "sled stalled", false, false},
		{"void", domain.Void, "void", "", false, false},
	} {
		t.Run(row.written, func(t *testing.T) {
			t.Parallel()
			r, err := domain.ParseResult(row.written, domain.Foot)
			require.NoError(t, err)
			assert.Equal(t, row.outcome, r.Outcome)
			assert.Equal(t, row.prints, r.String())
			assert.Equal(t, row.reason, r.Reason)
			assert.Equal(t, row.counts, r.Counts(), "counts for the round")
			assert.Equal(t, row.reached, r.Reached(), "has a place on the track")
			assert.False(t, r.IsZero())
		})
	}
	assert.True(t, domain.Result{}.IsZero())
	assert.False(t, domain.Result{}.Counts())
	assert.Empty(t, domain.Result{}.String())
}

func TestWhatIsNoResultIsRefusedWithWhatToWrite(t *testing.T) {
	t.Parallel()
	for _, written := range []string{"", "measured", "FPP", "FP x", "FP312.44", "DNF", "281.36 281.37", "full", "281,36"} {
		_, err := domain.ParseResult(written, domain.Foot)
		require.ErrorContains(t, err, "write a distance such as 281.36, FP, FP 312.44, DQ, rehook, absent or void", written)
		assert.Equal(t, domain.Invalid, domain.KindOf(err))
	}
}

func TestOutcomesRoundTrip(t *testing.T) {
	t.Parallel()
	for outcome := domain.Measured; outcome <= domain.Void; outcome++ {
		text, err := outcome.MarshalText()
		require.NoError(t, err)
		var read domain.Outcome
		require.NoError(t, read.UnmarshalText(text))
		assert.Equal(t, outcome, read)
	}
	var none domain.Outcome
	require.NoError(t, none.UnmarshalText(nil))
	assert.Zero(t, none)
	require.ErrorContains(t, none.UnmarshalText([]byte("won")), "write measured, FP, DQ")
}

func TestResultRoundTrips(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		written := rapid.OneOf(
			rapid.SampledFrom([]string{"FP", "DQ", "absent", "rehook", "void"}),
			rapid.StringMatching(`(FP )?[0-9]{1,3}(\.[0-9]{1,3})?`),
			rapid.StringMatching(`(FP )?[0-9]{1,3}' ([0-9]|1[01])(\.[0-9]{1,3})?"`),
		).Draw(t, "result")
		r := result(t, written)
		require.Equal(t, r, result(t, r.String()))
	})
}

func FuzzParseResult(f *testing.F) {
	for _, seed := range []string{"281.36", "FP", "FP 312.44", "DQ", "DQ out of bounds", "rehook", "absent", "void", `287' 4.5"`, "", "FP FP"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		r, err := domain.ParseResult(s, domain.Foot)
		if err != nil {
			require.Equal(t, domain.Invalid, domain.KindOf(err))
			return
		}
		again, err := domain.ParseResult(r.String(), r.Distance.Unit())
		require.NoError(t, err)
		r.Reason = ""
		require.Equal(t, r, again)
	})
}
