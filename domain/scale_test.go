package domain_test

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// weight reads a weight.
func weight(t require.TestingT, s string) domain.Weight {
	w, err := domain.ParseWeight(s)
	require.NoError(t, err)
	return w
}

// limited is a ready-made set with a limit of 8,500 lb and 10 lb tolerance.
func limited(t testing.TB, change func(*domain.WeightRule)) domain.RuleSet {
	rules := set(t, "capped-100m")
	rules.Weight = domain.WeightRule{Limit: weight(t, "8500 lb"), Tolerance: weight(t, "10 lb"), When: domain.WeighBefore, Tries: 2, Over: domain.OverDisqualified, WithDriver: true}
	change(&rules.Weight)
	require.NoError(t, rules.Check())
	return rules
}

// weighs puts a number on the scale, before its hook or after it.
func (s *story) weighs(number, shown string, after bool) uuid.UUID {
	s.t.Helper()
	id := s.id()
	s.do(domain.Weigh{Reading: id, Entry: s.entry(number), Weight: weight(s.t, shown), After: after})
	return id
}

func before(w *domain.WeightRule)    { w.When = domain.WeighBefore }
func after(w *domain.WeightRule)     { w.When = domain.WeighAfter }
func both(w *domain.WeightRule)      { w.When = domain.WeighBoth }
func onRequest(w *domain.WeightRule) { w.When = domain.WeighOnRequest }

func TestAWeightIsWithinLimitAndTolerance(t *testing.T) {
	t.Parallel()
	rule := limited(t, before).Weight
	assert.Equal(t, "8,510 lb", rule.Most().String())
	for shown, within := range map[string]bool{
		"8500 lb": true, "8510 lb": true, "8510.001 lb": false, "8511 lb": false, "100 lb": true,
		"3860.071 kg": true, // 8,510 lb are 3,860.0710687 kg exactly
		"3860.072 kg": false,
	} {
		assert.Equal(t, within, rule.Within(weight(t, shown)), shown)
	}
	kilos := domain.WeightRule{Limit: weight(t, "4500 kg"), When: domain.WeighBefore, Over: domain.OverClassUp}
	assert.True(t, kilos.Within(weight(t, "9920.801 lb")), "4,500 kg are 9,920.8018 lb")
	assert.False(t, kilos.Within(weight(t, "9920.802 lb")), "tolérance 0 (FR-FTPF)")
}

// The order of sizes is the order of figures within a unit, and a weight is as heavy as itself in the other one.
func TestWeightsCompareLikeTheirFigures(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		figures := rapid.StringMatching(`[1-9][0-9]{0,6}(\.[0-9]{1,3})?`)
		unit := rapid.SampledFrom([]string{" lb", " kg"}).Draw(t, "unit")
		a, b := weight(t, figures.Draw(t, "a")+unit), weight(t, figures.Draw(t, "b")+unit)
		within := func(limit, shown domain.Weight) bool { return domain.WeightRule{Limit: limit}.Within(shown) }
		require.True(t, within(a, a))
		require.True(t, within(a, b) || within(b, a))
		require.Equal(t, within(a, b) && within(b, a), distance(t, trimUnit(a)+" m", 0).Compare(distance(t, trimUnit(b)+" m", 0)) == 0)
	})
}

// trimUnit is a weight's plain figures.
func trimUnit(w domain.Weight) string {
	var plain []rune
	for _, r := range w.Figures() {
		if r != ',' {
			plain = append(plain, r)
		}
	}
	return string(plain)
}

// "Max two weigh-in attempts, then DQ or up one class" (NO 1.6).
func TestTwoTriesAtTheScale(t *testing.T) {
	t.Parallel()
	s := drawn(t, limited(t, func(w *domain.WeightRule) { w.Over = domain.OverClassUp }), "41", "7")
	assert.Equal(t, 2, s.class.TriesLeft(s.entry("41")))
	first := s.weighs("41", "8600 lb", false)
	assert.False(t, s.class.Weighed(s.entry("41")))
	assert.Empty(t, s.class.OffWeights(), "a try is left")
	assert.Equal(t, 1, s.class.TriesLeft(s.entry("41")))
	s.weighs("41", "8530 lb", false)
	heavy := s.class.OffWeights()
	require.Len(t, heavy, 1)
	assert.Equal(t, "20 lb over the 8,510 lb that are allowed", heavy[0].Says(s.class.Rules.Weight))
	assert.Equal(t, "under these rules it may go up one class", heavy[0].Advice(s.class.Rules.Weight))
	s.do(domain.Misread{Reading: first, Reason: "that was 7"})
	assert.Empty(t, s.class.OffWeights(), "a reading that was another vehicle's gives the try back")
	s.weighs("41", "8505 lb", false)
	assert.True(t, s.class.Weighed(s.entry("41")))
	assert.Empty(t, s.class.OffWeights())
	s.weighs("7", "9000 lb", false)
	s.weighs("7", "9000 lb", false)
	s.weighs("7", "9000 lb", false)
	assert.Zero(t, s.class.TriesLeft(s.entry("7")), "one more than the rules give is written down too")
	require.Len(t, s.class.OffWeights(), 1)
	s.do(domain.Scratch{Entry: s.entry("7"), Reason: "pulls in the class above"})
	assert.Empty(t, s.class.OffWeights())
}

// Weighing never keeps anybody from hooking.
func TestWhoIsNotWeighedHooksAllTheSame(t *testing.T) {
	t.Parallel()
	s := begun(t, limited(t, both), "41", "7")
	s.pulls("41", "50")
	s.pulls("7", "51")
	s.decided()
	s.signs("O. Example")
	s.refuse(domain.Weigh{Reading: s.id(), Entry: s.entry("7"), Weight: weight(t, "8500 lb")}, domain.WrongState, "the result is official")
}

// Overweight after the hook is disqualified, strictly enforced (CHEL 11). The officials do it.
func TestTooHeavyAfterTheHook(t *testing.T) {
	t.Parallel()
	s := begun(t, limited(t, after), "41", "7")
	assert.False(t, s.class.Weighed(s.entry("41")))
	s.weighs("41", "9000 lb", true)
	assert.Empty(t, s.class.OffWeights(), "it has not hooked")
	s.pulls("41", "50")
	assert.Equal(t, []string{"41"}, s.numbers(s.class.ToWeigh()), "everybody who hooked, and what was read before says nothing about the hook")
	s.weighs("41", "8511.5 lb", true)
	assert.Empty(t, s.class.ToWeigh())
	heavy := s.class.OffWeights()
	require.Len(t, heavy, 1)
	assert.Equal(t, "1.5 lb over the 8,510 lb that are allowed", heavy[0].Says(s.class.Rules.Weight))
	assert.Equal(t, "under these rules it is disqualified", s.class.Rules.Weight.Over.Advice())
	s.pulls("7", "DQ side line")
	assert.Empty(t, s.class.ToWeigh(), "a disqualified vehicle has nothing to prove")
	s.corrects("41", "1", "DQ overweight")
	assert.Empty(t, s.class.OffWeights(), "it is done")
}

// The class minimum or up to 100 lb above it, weighed after the hook and not before (WOLV 1).
func TestAVehicleMayBeTooLight(t *testing.T) {
	t.Parallel()
	rules := limited(t, func(w *domain.WeightRule) {
		after(w)
		w.Least, w.Limit, w.Tolerance = weight(t, "3500 lb"), weight(t, "3500 lb"), weight(t, "100 lb")
	})
	s := begun(t, rules, "1", "2", "3", "4")
	for number, shown := range map[string]string{"1": "3485 lb", "2": "3500 lb", "3": "3600 lb", "4": "1630 kg"} {
		s.weighs(number, shown, false)
	}
	for _, number := range []string{"1", "2", "3", "4"} {
		s.pulls(number, "50")
	}
	for number, shown := range map[string]string{"1": "3485 lb", "2": "3500 lb", "3": "3600 lb", "4": "1630 kg"} {
		s.weighs(number, shown, true)
		assert.Equal(t, number == "2" || number == "3" || number == "4", s.class.Weighed(s.entry(number)), number)
	}
	off := s.class.OffWeights()
	require.Len(t, off, 1)
	assert.True(t, off[0].Light)
	assert.Equal(t, "15 lb under the 3,500 lb that are asked for", off[0].Says(s.class.Rules.Weight))
	assert.Equal(t, "under these rules it is disqualified", off[0].Advice(s.class.Rules.Weight))
	up := s.class.Rules.Weight
	up.Over = domain.OverClassUp
	assert.Equal(t, "under these rules it does not belong in this class", off[0].Advice(up), "a class up is for heavier ones")
}

func TestNoVehicleCanBeWithinALeastWeightAboveTheLimit(t *testing.T) {
	t.Parallel()
	rules := limited(t, before)
	rules.Weight.Least = weight(t, "8511 lb")
	require.ErrorContains(t, rules.Check(), "no vehicle can be as heavy as the least and within the limit")
	rules.Weight.Least = weight(t, "8510 lb")
	require.NoError(t, rules.Check(), "exactly one weight will do")
}

func TestAVehicleIsWeighedForWhatItHookedLast(t *testing.T) {
	t.Parallel()
	s := begun(t, limited(t, both), "41", "7")
	s.weighs("41", "8500 lb", false)
	s.pulls("41", "FP")
	s.weighs("41", "8490 lb", true)
	assert.True(t, s.class.Weighed(s.entry("41")))
	s.pulls("7", "FP")
	s.opens("P1", "41", "7")
	s.pulls("41", "104")
	assert.False(t, s.class.Weighed(s.entry("41")))
	assert.Equal(t, []string{"41", "7"}, s.numbers(s.class.ToWeigh()))
	w := s.class.Weighing(s.entry("41"))
	assert.Equal(t, "8,500 lb", w.Before.Weight.String())
	assert.Zero(t, w.After)
}

// The first puller and everybody who beats the lead goes over the scale, so that the winners were weighed: common
// practice, recommended at https://yesterdaystractors.com/cgi-bin/viewit.cgi?bd=ttalk&th=368028.
func TestWhoLedIsWeighed(t *testing.T) {
	t.Parallel()
	for name, when := range map[string]func(*domain.WeightRule){"before": before, "on request": onRequest} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := begun(t, limited(t, when), "1", "2", "3", "4", "5")
			for _, result := range []string{"50", "40", "60", "60", "55"} {
				s.pulls(s.onTrack(), result)
			}
			assert.Equal(t, []string{"1", "3", "4"}, s.numbers(s.class.ToWeigh()), "4 came to share the lead")
			s.weighs("3", "8500 lb", true)
			assert.Equal(t, []string{"1", "4"}, s.numbers(s.class.ToWeigh()))
			s.corrects("1", "1", "DQ side line")
			assert.Equal(t, []string{"2", "4"}, s.numbers(s.class.ToWeigh()), "then 2 was the first with a distance")
		})
	}
	s := begun(t, set(t, "capped-100m"), "41")
	s.pulls("41", "50")
	assert.Nil(t, s.class.ToWeigh(), "nothing is weighed")
}

// Whoever wins was sent over the scale, whatever is pulled.
func TestTheWinnerIsAlwaysSentToTheScale(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		s := begun(t, limited(t, before), "1", "2", "3", "4")
		for s.class.OnTrack() != nil {
			s.pulls(s.onTrack(), rapid.SampledFrom([]string{"50", "60", "FP", "DQ side line", "absent", "0"}).Draw(rt, "result"))
		}
		sent := s.class.ToWeigh()
		for _, p := range s.class.Standing() {
			if p.Place == 1 {
				require.Contains(rt, sent, s.class.Entries[p.Row].ID)
			}
		}
	})
}

func TestAReadingSaysWhoseAndWhat(t *testing.T) {
	t.Parallel()
	s := drawn(t, limited(t, before), "41")
	id := s.weighs("41", "8480.5 lb", false)
	assert.Equal(t, domain.Reading{ID: id, Entry: s.entry("41"), Weight: weight(t, "8480.5 lb"), At: s.clock}, s.class.Readings[0])
	s.refuse(domain.Weigh{Reading: id, Entry: s.entry("41"), Weight: weight(t, "1 lb")}, domain.Invalid, "no id of its own")
	s.refuse(domain.Weigh{Entry: s.entry("41"), Weight: weight(t, "1 lb")}, domain.Invalid, "no id of its own")
	s.refuse(domain.Weigh{Reading: s.id(), Entry: s.id(), Weight: weight(t, "1 lb")}, domain.NotFound, "no such entry")
	s.refuse(domain.Weigh{Reading: s.id(), Entry: s.entry("41")}, domain.Invalid, "the weight is missing")
	s.refuse(domain.Weigh{Reading: s.id(), Entry: s.entry("41"), Weight: weight(t, "0 lb")}, domain.Invalid, "the weight is missing")
	s.refuse(domain.Misread{Reading: id}, domain.Invalid, "the reason is missing")
	s.refuse(domain.Misread{Reading: s.id(), Reason: "x"}, domain.NotFound, "no such reading")
	s.do(domain.Misread{Reading: id, Reason: "typed wrong"})
	s.refuse(domain.Misread{Reading: id, Reason: "x"}, domain.WrongState, "does not count already")
	assert.Equal(t, -1, begun(t, limited(t, func(w *domain.WeightRule) { w.Tries = 0 }), "41").class.TriesLeft(s.entry("41")))
	none := drawn(t, set(t, "capped-100m"), "41")
	none.refuse(domain.Weigh{Reading: none.id(), Entry: none.entry("41"), Weight: weight(t, "1 lb")}, domain.WrongState, "nothing is weighed")
	assert.Equal(t, s.class, s.replayed())
}

func TestAWeightRuleDoesNotContradictItself(t *testing.T) {
	t.Parallel()
	for says, change := range map[string]func(*domain.WeightRule){
		"not up to which weight": func(w *domain.WeightRule) { w.Limit = domain.Weight{} }, "up to which weight": func(w *domain.WeightRule) { w.Limit = weight(t, "0 lb") },
		"different units": func(w *domain.WeightRule) { w.Tolerance = weight(t, "10 kg") }, "when vehicles are weighed": func(w *domain.WeightRule) { w.When = 0 },
		"what becomes of a vehicle": func(w *domain.WeightRule) { w.Over = 0 }, "0 to 9 tries": func(w *domain.WeightRule) { w.Tries = -1 }, "has 0 to 9": func(w *domain.WeightRule) { w.Tries = 10 },
	} {
		rules := limited(t, before)
		change(&rules.Weight)
		require.ErrorContains(t, rules.Check(), says)
	}
	assert.Equal(t, "on_request", domain.WeighOnRequest.String())
	assert.Equal(t, "exhibition", domain.OverExhibition.String())
	assert.Equal(t, "under these rules it may pull as an exhibition, without a place", domain.OverExhibition.Advice())
}
