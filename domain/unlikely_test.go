package domain_test

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"clayline/domain"
)

// doubts tells each question about an action with its field: "trip: 1980 ft lies beyond …".
func (s *story) doubts(a domain.Action) []string {
	s.t.Helper()
	var list []string
	for _, e := range s.class.Unlikely(a) {
		assert.Equal(s.t, domain.Invalid, e.Kind)
		list = append(list, e.Field+": "+e.Message)
	}
	return list
}

// made is the id of the hook of a number in a round.
func (s *story) made(number, round string) uuid.UUID { return s.hook(number, round).ID }

// An announcer's slip, 3112.4 for 311.24, is asked about once; what lies in the run-off of a track is not, where the round is
// measured past the line.
func TestAFigureFarBeyondTheTrackIsUnlikely(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "floating-ft"), "41")
	s.pulls("41", "281.36")
	hook := s.made("41", "1")
	for typed, asked := range map[string][]string{
		"FP 450": nil, "FP": nil, "DQ": nil, "376": nil,
		"450.001":   {"result: 450.001 ft lies far beyond the track"},
		"DQ at 451": {"result: 451 ft lies far beyond the track"},
	} {
		assert.Equal(t, asked, s.doubts(domain.Record{Hook: hook, Result: result(t, typed)}), typed)
		assert.Equal(t, asked, s.doubts(domain.Correct{Hook: hook, Result: result(t, typed), Reason: "misread"}), typed)
	}
}

// Where a hook ends at the line nobody is measured far past it: 350 ft under a line at 300 ft is asked about in the class
// round, and not in a pull-off that is measured past the line.
func TestAFigureFarPastALineThatEndsTheHookIsUnlikely(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	s.all("1", "FP FP")
	s.opens("P1", "41", "7")
	s.pulls("41", "312.4")
	for typed, asked := range map[string][]string{
		"299.99": nil, "312.44": nil, "330": nil, "FP": nil, "FP 330": nil,
		"330.01": {"result: 330.01 ft lies far past the full-pull line at 300 ft, where this hook ends"},
		"FP 350": {"result: 350 ft lies far past the full-pull line at 300 ft, where this hook ends"},
		"451":    {"result: 451 ft lies far beyond the track"},
	} {
		assert.Equal(t, asked, s.doubts(domain.Record{Hook: s.made("41", "1"), Result: result(t, typed)}), typed)
	}
	assert.Empty(t, s.doubts(domain.Record{Hook: s.made("41", "P1"), Result: result(t, "350")}))
	assert.NotEmpty(t, s.doubts(domain.Record{Hook: s.made("41", "P1"), Result: result(t, "451")}))
}

// PPL results have two decimals: a third was mistyped.
func TestMoreDecimalsThanTheDeviceHasAreUnlikely(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "floating-ft", func(r *domain.RuleSet) { r.Measure.Decimals = 2 }), "41")
	s.pulls("41", "281.36")
	assert.Empty(t, s.doubts(domain.Record{Hook: s.made("41", "1"), Result: result(t, "281.36")}))
	assert.Equal(t, []string{"result: 281.360 ft has more decimals than the 2 of the device"}, s.doubts(domain.Record{Hook: s.made("41", "1"), Result: result(t, "281.360")}))
}

// A figure too few or too many at the scale is asked about, and so are kilograms typed for pounds; a vehicle that is
// well under its limit is not. Common practice, no published source.
func TestAWeightFarFromTheLimitIsUnlikely(t *testing.T) {
	t.Parallel()
	s := plan(t, limited(t, before))
	for shown, asked := range map[string][]string{
		"4250 lb": nil, "8480 lb": nil, "12750 lb": nil, "3860 kg": nil,
		"82 lb":     {"weight: 82 lb is less than half of the limit of 8,500 lb"},
		"3850 lb":   {"weight: 3,850 lb is less than half of the limit of 8,500 lb"},
		"99999 lb":  {"weight: 99,999 lb is more than one and a half times the limit of 8,500 lb"},
		"8480 kg":   {"weight: 8,480 kg is more than one and a half times the limit of 8,500 lb"},
		"4249.9 lb": {"weight: 4,249.9 lb is less than half of the limit of 8,500 lb"},
	} {
		assert.Equal(t, asked, s.doubts(domain.Weigh{Weight: weight(t, shown)}), shown)
	}
	s.class.Rules.Weight.Least = weight(t, "3000 lb")
	for shown, asked := range map[string][]string{
		"3000 lb": nil, "3500 lb": nil, "1500 lb": nil,
		"1499 lb": {"weight: 1,499 lb is less than half of the least of 3,000 lb"},
	} {
		assert.Equal(t, asked, s.doubts(domain.Weigh{Weight: weight(t, shown)}), shown)
	}
	assert.Empty(t, plan(t, set(t, "capped-300ft")).doubts(domain.Weigh{Weight: weight(t, "82 lb")}), "where nothing is weighed nothing is asked")
}

// What the rules let through is never asked about, down to half of the limit.
func TestAWeightWithinTheLimitIsLikely(t *testing.T) {
	t.Parallel()
	s := plan(t, limited(t, before))
	rapid.Check(t, func(r *rapid.T) {
		shown := weight(r, rapid.StringMatching(`[1-9][0-9]{2,4}`).Draw(r, "shown")+" lb")
		within := s.class.Rules.Weight.Within(shown) && shown.Pounds() >= 4250
		assert.False(r, within && len(s.class.Unlikely(domain.Weigh{Weight: shown})) > 0)
	})
}

// A trip point behind the line trips for nobody, and a speed that nobody pulls with has lost its point.
func TestASettingBeyondTheTrackIsUnlikely(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-300ft"))
	draft := func(trip, limit string) domain.Action {
		setting := domain.Setting{Trip: distance(t, trip, domain.Foot)}
		if limit != "" {
			setting.SpeedLimit = velocity(t, limit)
		}
		return domain.DraftSetting{Setting: setting}
	}
	assert.Empty(t, s.doubts(draft("198", "")))
	assert.Empty(t, s.doubts(draft("300", "12 mph")))
	assert.Equal(t, []string{"trip: 1980 ft lies beyond the full-pull line at 300 ft, so that nothing trips before it",
		"speed_limit: 9999 mph is faster than any vehicle pulls a sled"}, s.doubts(draft("1980", "9999 mph")))
}

// A reading over the limit is a fact; one of more than three times the limit, or faster than anybody pulls, is a lost point.
func TestASpeedThatNobodyPullsWithIsUnlikely(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", func(r *domain.RuleSet) { r.Speed.Limit = velocity(t, "12 mph") }), "41")
	s.pulls("41", "281.36")
	read := func(top, line string) domain.Action {
		return domain.ReadSpeed{Hook: s.made("41", "1"), Top: velocity(t, top), AtLine: velocity(t, line)}
	}
	assert.Empty(t, s.doubts(read("18.4 mph", "17.9 mph")))
	assert.Empty(t, s.doubts(read("36 mph", "")))
	assert.Equal(t, []string{"top: 184 mph is faster than any vehicle pulls a sled", "at_line: 36.1 mph is more than three times the limit of 12 mph"}, s.doubts(read("184 mph", "36.1 mph")))
	assert.Equal(t, []string{"top: 161 km/h is faster than any vehicle pulls a sled"}, s.doubts(read("161 km/h", "")))
}

// What is no figure is asked about never.
func TestOtherActionsAreNotAskedAbout(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41")
	for _, kind := range domain.Kinds() {
		assert.Empty(t, s.doubts(kind.Zero), kind.Name)
	}
}
