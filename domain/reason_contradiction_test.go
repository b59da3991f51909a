package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// judges gives causes their consequence.
func judges(of map[domain.Cause]domain.Consequence) func(*domain.RuleSet) {
	return func(r *domain.RuleSet) { r.Reasons.Of = of }
}

// What the books have for the same thing that goes wrong: what is stored, how it is counted, and who stands where.
func TestTheBooksJudgeTheSameHookDifferently(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		book, written string
		of            map[domain.Cause]domain.Consequence
		settles       string
		stands        []string
	}{
		{"UCTCC 17: touching the line is a disqualification without a measure", "DQ at 281.3 out of bounds", nil,
			"DQ at 281.3", []string{"1 7", "- 41"}},
		{"MERR 16: measured at the point where a wheel touches", "DQ at 281.3 out of bounds",
			map[domain.Cause]domain.Consequence{domain.CauseOutOfBounds: domain.MeasuredThere}, "281.3", []string{"1 41", "2 7"}},
		{"CME 3: touching ends the pull", "DQ at 281.3 out of bounds",
			map[domain.Cause]domain.Consequence{domain.CauseOutOfBounds: domain.PullEnds}, "281.3", []string{"1 41", "2 7"}},
		{"RENEG 7: out of bounds is the last place of the class", "DQ at 281.3 out of bounds",
			map[domain.Cause]domain.Consequence{domain.CauseOutOfBounds: domain.LastPlace}, "DQ at 281.3", []string{"1 7", "2 41"}},

		{"CHEL 9, HTP 5: tractor and sled must stay in", "DQ at 281.3 sled out of bounds", nil, "DQ at 281.3", []string{"1 7", "- 41"}},
		{"RENEG 7: the sled out of bounds is no disqualification", "DQ at 281.3 sled out of bounds",
			map[domain.Cause]domain.Consequence{domain.CauseSledOutOfBounds: domain.NoConsequence}, "281.3", []string{"1 41", "2 7"}},

		{"HTP 4, UCTCC 16: anything falling off is a disqualification", "DQ at 281.3 lost part: fender", nil, "DQ at 281.3", []string{"1 7", "- 41"}},
		{"MERR 9, MICRO 9: measured where the part lies", "DQ at 281.3 lost part: fender",
			map[domain.Cause]domain.Consequence{domain.CauseLostPart: domain.MeasuredThere}, "281.3", []string{"1 41", "2 7"}},
		{"NL-VP: a breakage of the driveline is free", "DQ at 281.3 breakage: drive shaft",
			map[domain.Cause]domain.Consequence{domain.CauseBreakage: domain.NoConsequence}, "281.3", []string{"1 41", "2 7"}},

		{"NCI: the front end above the chain is a disqualification", "DQ at 281.3 front end", nil, "DQ at 281.3", []string{"1 7", "- 41"}},
		{"SWAT: flagged and measured there", "DQ at 281.3 front end",
			map[domain.Cause]domain.Consequence{domain.CauseFrontEnd: domain.MeasuredThere}, "281.3", []string{"1 41", "2 7"}},
	} {
		t.Run(row.book, func(t *testing.T) {
			t.Parallel()
			s := begun(t, set(t, "floating-ft", judges(row.of), func(r *domain.RuleSet) { r.Test = domain.TestRule{} }), "41", "7")
			s.pulls("41", row.written)
			assert.Equal(t, row.settles, s.hook("41", "1").Result.String())
			assert.NotEmpty(t, s.hook("41", "1").Result.Reason, "why it was stopped stays with the hook")
			s.pulls("7", "200")
			s.decided()
			s.stands(row.stands...)
		})
	}
}

// Whatever the rules advise, a disqualification without a figure is one: the official decides.
func TestADisqualificationWithoutAFigureIsOne(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "floating-m", judges(map[domain.Cause]domain.Consequence{domain.CauseOutOfBounds: domain.MeasuredThere})), "41", "7")
	s.pulls("41", "DQ out of bounds")
	s.pulls("7", "10")
	s.stands("1 7", "- 41")
	assert.Equal(t, "under these rules the distance where it happened counts", s.class.Rules.Advice(domain.CauseOutOfBounds))
	assert.Equal(t, "under these rules it is a disqualification, without a distance", s.class.Rules.Advice("anything else"))
}

// NSTT 8: the side lines reach to 320 ft for the whole contest. MARIT: they disqualify past the line too.
func TestPastTheEndOfTheSideLinesNobodyIsOutOfBounds(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ to, written, settles string }{
		{"320", "DQ at 319.9 out of bounds", "DQ at 319.9"},
		{"320", "DQ at 320 out of bounds", "DQ at 320"},
		{"320", "DQ at 320.1 out of bounds", "FP 320.1"},
		{"320", "DQ at 320.1 sled out of bounds", "FP 320.1"},
		{"320", "DQ at 320.1 lost part", "DQ at 320.1"},
		{"", "DQ at 350 out of bounds", "DQ at 350"},
	} {
		rules := set(t, "capped-300ft", func(r *domain.RuleSet) {
			if row.to != "" {
				r.Reasons.SideLinesTo = distance(t, row.to, domain.Foot)
			}
		})
		settled, err := rules.Settle(round(t, "1"), resultIn(t, row.written, domain.Foot))
		require.NoError(t, err)
		assert.Equal(t, row.settles, settled.String(), row.written)
	}
}

// RENEG 5: disqualified before the false start line, the second attempt is left.
func TestACauseMayCostTheAttemptAlone(t *testing.T) {
	t.Parallel()
	lost := judges(map[domain.Cause]domain.Consequence{domain.CauseLostPart: domain.AttemptLost})
	s := begun(t, set(t, "floating-ft", lost, func(r *domain.RuleSet) { r.Test = domain.TestRule{} }), "41", "7")
	s.pulls("41", "DQ lost part: a weight")
	assert.Equal(t, "41", s.onTrack(), "another attempt follows at once")
	assert.Equal(t, 2, s.class.OnTrack().Attempt)
	s.pulls("41", "DQ lost part: another")
	assert.Equal(t, "7", s.onTrack(), "there is no third")
	s.pulls("7", "200")
	s.stands("1 7", "- 41")
}

// VTPA garden 5: loss of weights or safety gear disqualifies, with the exception of the test puller.
func TestWhatFallsOffOnTheTestHookIsFree(t *testing.T) {
	t.Parallel()
	for _, free := range []bool{true, false} {
		s := begun(t, set(t, "floating-ft", func(r *domain.RuleSet) { r.Test = domain.TestRule{LostPartFree: free} }), "41", "7")
		s.pulls("41", "DQ at 210 lost part: a weight")
		s.pulls("7", "DQ at 220 lost part: a weight")
		if free {
			s.stands("1 41", "- 7")
		} else {
			s.stands("- 7", "- 41")
		}
	}
}

// 0.999 in is no pull under ASTTQ 2 and VTPA 3, an inch is one; under GSRT 12 any attempt to move the sled is.
func TestAMeasurablePullBeginsAtAnInch(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		book, minimum string
		stands        []string
	}{
		{"ASTTQ 2, VTPA 3: one inch", "1 in", []string{"1 7", "- 41"}},
		{"GSRT 12: any attempt", "", []string{"1 7", "2 41"}},
	} {
		t.Run(row.book, func(t *testing.T) {
			t.Parallel()
			rules := set(t, "floating-ft", func(r *domain.RuleSet) {
				if r.RestartLine, r.Test = (domain.Distance{}), (domain.TestRule{}); row.minimum != "" {
					r.Measure.Minimum = distance(t, row.minimum, 0)
				}
			})
			s := begun(t, rules, "41", "7")
			s.pulls("41", "0.083")
			s.pulls("7", "0.084")
			s.stands(row.stands...)
		})
	}
}

// What a rule set takes for a disqualification with its place, as it is written.
func TestADisqualificationMaySayWhereItHappened(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ written, at, reason string }{
		{"DQ", "", ""},
		{"DQ out of bounds", "", "out of bounds"},
		{"DQ at 201.3", "201.3 ft", ""},
		{"dq AT 201.3 out of bounds", "201.3 ft", "out of bounds"},
		{"DQ at 201.3 ft out of bounds", "201.3 ft", "out of bounds"},
		{`DQ at 201' 4" out of bounds`, `201' 4"`, "out of bounds"},
		{"DQ at the side line", "", "at the side line"},
		{"DQ 2 wheels out", "", "2 wheels out"},
	} {
		read := resultIn(t, row.written, domain.Foot)
		assert.Equal(t, domain.Disqualified, read.Outcome, row.written)
		assert.Equal(t, row.at, read.Distance.String(), row.written)
		assert.Equal(t, row.reason, read.Reason, row.written)
	}
}
