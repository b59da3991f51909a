package domain_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// distance reads a distance that a test writes down and that is certainly right.
func distance(t require.TestingT, s string, unit domain.Unit) domain.Distance {
	d, err := domain.ParseDistance(s, unit)
	require.NoError(t, err)
	return d
}

// distances draws any distance that can be typed, in any unit and with any number of decimals.
func distances() *rapid.Generator[domain.Distance] {
	return rapid.Custom(func(t *rapid.T) domain.Distance {
		unit := rapid.SampledFrom([]domain.Unit{domain.Foot, domain.Inch, domain.Metre}).Draw(t, "unit")
		figures := rapid.StringMatching(`[0-9]{1,5}(\.[0-9]{1,3})?`).Draw(t, "figures")
		return distance(t, figures, unit)
	})
}

func TestDistanceIsReadAsItIsCalledOut(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		typed  string
		unit   domain.Unit // the unit of the class
		milli  int64
		in     domain.Unit
		digits int
		prints string
	}{
		{"281.36", domain.Foot, 281_360, domain.Foot, 2, "281.36 ft"},
		{"276.2", domain.Foot, 276_200, domain.Foot, 1, "276.2 ft"},
		{"276.200", domain.Foot, 276_200, domain.Foot, 3, "276.200 ft"},
		{"355.041", domain.Foot, 355_041, domain.Foot, 3, "355.041 ft"},
		{"300", domain.Foot, 300_000, domain.Foot, 0, "300 ft"},
		{"0", domain.Foot, 0, domain.Foot, 0, "0 ft"},
		{"0.00", domain.Metre, 0, domain.Metre, 2, "0.00 m"},
		{"007", domain.Foot, 7_000, domain.Foot, 0, "7 ft"},
		{" 83.91 ", domain.Metre, 83_910, domain.Metre, 2, "83.91 m"},
		{"83.91 m", domain.Foot, 83_910, domain.Metre, 2, "83.91 m"},
		{"83.91m", 0, 83_910, domain.Metre, 2, "83.91 m"},
		{"281.36 ft", domain.Metre, 281_360, domain.Foot, 2, "281.36 ft"},
		{`287' 4.5"`, domain.Foot, 3_448_500, domain.Inch, 1, `287' 4.5"`},
		{`287'4.5"`, domain.Foot, 3_448_500, domain.Inch, 1, `287' 4.5"`},
		{`287'`, domain.Foot, 3_444_000, domain.Inch, 0, `287' 0"`},
		{`0' 11.999"`, domain.Foot, 11_999, domain.Inch, 3, `0' 11.999"`},
		{"12.5 in", domain.Foot, 12_500, domain.Inch, 1, `1' 0.5"`},
		{"9999999.999", domain.Metre, 9_999_999_999, domain.Metre, 3, "9999999.999 m"},
	} {
		t.Run(row.typed, func(t *testing.T) {
			t.Parallel()
			d, err := domain.ParseDistance(row.typed, row.unit)
			require.NoError(t, err)
			assert.Equal(t, row.milli, d.Milli(), "thousandths")
			assert.Equal(t, row.in, d.Unit(), "unit")
			_, decimals, _ := strings.Cut(d.Decimal(), ".")
			assert.Len(t, decimals, row.digits, "digits as given")
			assert.Equal(t, row.prints, d.String())
			assert.False(t, d.IsZero(), "0 is a distance")
		})
	}
}

func TestWhatIsNoDistanceIsRefusedWithAFix(t *testing.T) {
	t.Parallel()
	for typed, says := range map[string]string{
		"":             "is not a number",
		"FP":           "is not a number",
		"-3":           "is not a number",
		"+3":           "is not a number",
		"1e3":          "is not a number",
		".5":           "is not a number",
		"5.":           "is not a number",
		"1.2.3":        "is not a number",
		"28l.36":       "is not a number",
		"281,36":       "has a comma",
		"1,281.36":     "has a comma",
		"281.3612":     "more than three decimals",
		"99999999999":  "too large",
		"10000000":     "too large",
		"12 yd":        "is not a number",
		"5 mm":         "is not a number",
		`287.5' 4"`:    "decimals in the feet",
		`287' 4.5`:     "does not end in inches",
		`287' 12"`:     "12 inches or more",
		`287' x"`:      "is not a number",
		`' 4"`:         "is not a number",
		`287' 4.5678"`: "more than three decimals",
		"٣":            "is not a number",
	} {
		t.Run(typed, func(t *testing.T) {
			t.Parallel()
			_, err := domain.ParseDistance(typed, domain.Foot)
			require.Error(t, err)
			assert.Equal(t, domain.Invalid, domain.KindOf(err))
			assert.ErrorContains(t, err, says)
			assert.ErrorContains(t, err, "write figures with up to three decimals", "an error says what to do")
		})
	}
	_, err := domain.ParseDistance("281.36", 0)
	require.ErrorContains(t, err, "add ft, in or m")
}

func TestDistancesCompareByWhatWasMeasured(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		a, b string
		want int
	}{
		{"276.2 ft", "276.200 ft", 0}, // digits are kept, and do not rank
		{"276.2 ft", "276.20 ft", 0},
		{"304.246 ft", "304.210 ft", 1}, // 0.036 ft, about 0.43 in
		{"99.99 m", "100 m", -1},
		{`300' 0"`, "300 ft", 0},
		{`0' 1"`, "0.083 ft", 1}, // an inch is 0.08333… ft
		{`0' 1"`, "0.084 ft", -1},
		{"300 ft", "91.44 m", 0},
		{"1 in", "0.025 m", 1},
		{"0 ft", "0 m", 0},
	} {
		t.Run(row.a+" and "+row.b, func(t *testing.T) {
			t.Parallel()
			a, b := distance(t, row.a, 0), distance(t, row.b, 0)
			assert.Equal(t, row.want, a.Compare(b))
			assert.Equal(t, -row.want, b.Compare(a))
		})
	}
}

// NIST Special Publication 811 (2008), appendix B.8, factors printed in bold as exact: foot 3.048 E-01 m,
// inch 2.54 E-02 m.
func TestDistancesConvertByTheExactDefinitions(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		from     string
		to       domain.Unit
		decimals int
		want     string
	}{
		{"1 ft", domain.Metre, 3, "0.305 m"}, // 0.3048
		{"10 ft", domain.Metre, 3, "3.048 m"},
		{"1000 ft", domain.Metre, 3, "304.800 m"},
		{"1 in", domain.Metre, 3, "0.025 m"}, // 0.0254
		{"1000 in", domain.Metre, 3, "25.400 m"},
		{"300 ft", domain.Metre, 2, "91.44 m"},
		{"300 ft", domain.Inch, 0, `300' 0"`},
		{"12 in", domain.Foot, 3, "1.000 ft"},
		{`287' 4.5"`, domain.Foot, 3, "287.375 ft"},
		{"100 m", domain.Foot, 2, "328.08 ft"}, // 328.0839…
		{"91.44 m", domain.Foot, 3, "300.000 ft"},
		{"0.005 m", domain.Metre, 2, "0.01 m"}, // half goes up
		{"281.36 ft", domain.Foot, 0, "281 ft"},
		{"281.5 ft", domain.Foot, 0, "282 ft"},
		{"281.36 ft", domain.Foot, 1, "281.4 ft"},
	} {
		d := distance(t, row.from, 0)
		assert.Equal(t, row.want, d.In(row.to, row.decimals).String(), "%s in %s", row.from, row.to)
	}
	assert.True(t, domain.Distance{}.In(domain.Metre, 2).IsZero(), "what was not measured is not 0.00 m")
}

func TestDistancesAdd(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ a, b, sum string }{
		{"100 m", "90.59 m", "190.59 m"},
		{"304.246 ft", "304.210 ft", "608.456 ft"},
		{"276.2 ft", "281.36 ft", "557.56 ft"},
		{`10' 6"`, `1' 0.5"`, `11' 6.5"`},
		{"1 ft", "6 in", "1.500 ft"},
		{"281.36 ft", `0' 4.5"`, "281.735 ft"}, // converted: all three decimals are shown
	} {
		t.Run(row.a+" and "+row.b, func(t *testing.T) {
			t.Parallel()
			a, b := distance(t, row.a, 0), distance(t, row.b, 0)
			assert.Equal(t, row.sum, a.Add(b).String())
		})
	}
	hundred := distance(t, "100 m", 0)
	assert.Equal(t, hundred, domain.Distance{}.Add(hundred), "nothing and a distance are the distance")
	assert.Equal(t, hundred, hundred.Add(domain.Distance{}))
}

func TestTheZeroDistanceIsNoDistance(t *testing.T) {
	t.Parallel()
	var none domain.Distance
	assert.True(t, none.IsZero())
	assert.Empty(t, none.String())
	assert.Empty(t, none.Figures())
	assert.Empty(t, none.Decimal())
	assert.NotEqual(t, none, distance(t, "0", domain.Foot))
	assert.Equal(t, "3448.5", distance(t, `287' 4.5"`, 0).Decimal(), "one number for an export")
}

func TestUnitsHaveShortNames(t *testing.T) {
	t.Parallel()
	for _, unit := range []domain.Unit{domain.Foot, domain.Inch, domain.Metre} {
		read, err := domain.ParseUnit(unit.String())
		require.NoError(t, err)
		assert.Equal(t, unit, read)
	}
	_, err := domain.ParseUnit("yd")
	require.ErrorContains(t, err, "write ft, in or m")
	assert.Empty(t, domain.Unit(0).String())
}

func TestDistanceRoundTrips(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := distances().Draw(t, "distance")
		read, err := domain.ParseDistance(d.String(), 0)
		require.NoError(t, err)
		require.Equal(t, d, read, "String and back")
		inClass, err := domain.ParseDistance(d.Figures(), d.Unit())
		require.NoError(t, err)
		require.Equal(t, d, inClass, "Figures and back, in the unit of the class")
		var decoded domain.Distance
		encoded, err := json.Marshal(d)
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(encoded, &decoded))
		require.Equal(t, d, decoded, "JSON and back")
	})
}

// Comparing is a total preorder that agrees with adding: what is longer stays longer when the same is added.
func TestDistancesAreOrdered(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := distances().Draw(t, "a"), distances().Draw(t, "b"), distances().Draw(t, "c")
		require.Equal(t, -b.Compare(a), a.Compare(b))
		if a.Compare(b) <= 0 && b.Compare(c) <= 0 {
			require.LessOrEqual(t, a.Compare(c), 0)
		}
		if a.Unit() == b.Unit() {
			require.Equal(t, a.Compare(b), a.Add(a).Compare(a.Add(b)))
		}
	})
}

func TestEmptyTextIsNoDistance(t *testing.T) {
	t.Parallel()
	d := distance(t, "5", domain.Foot)
	require.NoError(t, d.UnmarshalText(nil))
	assert.True(t, d.IsZero())
	require.Error(t, d.UnmarshalText([]byte("281.36")), "a stored distance has its unit")
}

func FuzzParseDistance(f *testing.F) {
	for _, seed := range []string{"281.36", "281.36 ft", "83.91 m", `287' 4.5"`, "12.5 in", "0", "", "1e9", "281,36", "'", `'"`, "9999999.999"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, unit := range []domain.Unit{0, domain.Foot, domain.Inch, domain.Metre} {
			d, err := domain.ParseDistance(s, unit)
			if err != nil {
				require.Equal(t, domain.Invalid, domain.KindOf(err))
				continue
			}
			again, err := domain.ParseDistance(d.String(), 0)
			require.NoError(t, err)
			require.Equal(t, d, again)
		}
	})
}
