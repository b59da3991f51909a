package domain_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// stake says what is at stake, in short: "41 over 281.36, full 1 with 7, back with 7 23".
func (s *story) stake() string {
	s.t.Helper()
	stake := s.class.Stake()
	if stake == nil {
		return ""
	}
	says := s.class.Entry(stake.Entry).Number
	switch {
	case !stake.CanLead:
		says += " cannot lead"
	case stake.Over.IsZero():
		says += " leads with any"
	default:
		says += " over " + stake.Over.Figures()
	}
	if full := stake.Full; full != nil {
		says += fmt.Sprintf(", full %d", full.Place)
		if len(full.Shared) > 0 {
			says += " with " + strings.Join(s.numbers(full.Shared), " ")
		}
		if len(full.Back) > 0 {
			says += ", back with " + strings.Join(s.numbers(full.Back), " ")
		}
	}
	return says
}

// What is at stake follows from the rules of the class alone: how rounds count, who comes back, where the line ends a pull.
func TestWhatIsAtStake(t *testing.T) {
	t.Parallel()
	fillTo := func(r *domain.RuleSet) { r.PullOff.FillTo = 3 }
	three := func(r *domain.RuleSet) { r.PullOff.Who, r.PullOff.Top = domain.TopPlaces, 3 }
	nobody := func(r *domain.RuleSet) { r.PullOff.Who = domain.Nobody }
	inch := func(r *domain.RuleSet) {
		r.Measure.Minimum = distance(t, "1", domain.Inch) // 1 inch: ASTTQ 2, VTPA 3
	}
	for _, row := range []struct {
		name  string
		rules string
		with  func(*domain.RuleSet)
		pulls []string
		wants string
	}{
		{"nobody has pulled", "capped-300ft", nil, nil, "41 leads with any, full 1"},
		{"somebody leads", "capped-300ft", nil, []string{"281.36"}, "7 over 281.36, full 1"},
		{"feet and inches are said in feet", "capped-300ft", nil, []string{`287' 4.5"`}, "7 over 287.375, full 1"},
		{"the leader is disqualified", "capped-300ft", nil, []string{"DQ side line"}, "7 leads with any, full 1"},
		{"less than an inch is no pull", "capped-300ft", inch, []string{"0.02"}, "7 leads with any, full 1"},
		{"a full pull is there", "capped-300ft", nil, []string{"FP 304"}, "7 cannot lead, full 1 with 41, back with 41"},
		{"two full pulls are there", "capped-300ft", nil, []string{"FP", "FP"}, "23 cannot lead, full 1 with 41 7, back with 41 7"},
		{"the final is filled up to three (NO 1.8)", "capped-300ft", fillTo, []string{"281.36", "250"}, "23 over 281.36, full 1, back with 41 7"},
		{"the best three come back (BIGIRON 12)", "capped-300ft", three, []string{"281.36", "250"}, "23 over 281.36, full 1, back with 41 7"},
		{"full pulls stay equal", "capped-300ft", nobody, []string{"FP"}, "7 cannot lead, full 1 with 41"},
		{"past the line it goes on", "floating-ft", nil, []string{"312.5"}, "7 over 312.50"},
		{"two pulls are added", "sum-of-two-100m", nil, []string{"90", "80", "70", "60"}, "41 leads with any, full 1"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			rules := set(t, row.rules)
			if row.with != nil {
				rules = set(t, row.rules, row.with)
			}
			s := begun(t, rules, "41", "7", "23", "12")
			for _, written := range row.pulls {
				s.do(s.record(written))
				if s.class.Phase() == domain.ChoiceOpen {
					assert.Empty(t, s.stake(), "somebody chooses")
					s.chooses("41", "keep")
				}
			}
			if s.class.Phase() == domain.RoundDue {
				assert.Empty(t, s.stake(), "nobody is left in the round")
				s.opens("2", "41", "7", "23", "12")
			}
			assert.Equal(t, row.wants, s.stake())
		})
	}
}

// In the second of two rounds that are added, who was behind has to make it up.
func TestWhatIsAtStakeWhereRoundsAreAdded(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "sum-of-two-100m"), "41", "7")
	s.pulls("41", "90")
	s.pulls("7", "80.5")
	s.opens("2", "41", "7")
	s.pulls("41", "85.25")
	assert.Equal(t, "7 over 94.75, full 1", s.stake(), "175.25 in all leads")
}

// In a pull-off the figure counts past the line, or a full pull brings a further one, as the rules have it.
func TestWhatIsAtStakeInAPullOff(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", toLine), "41", "7", "23")
	for _, number := range []string{"41", "7", "23"} {
		s.pulls(number, "FP")
	}
	s.opens("P1", "41", "7", "23")
	assert.Equal(t, "41 leads with any, full 1", s.stake())
	s.pulls("41", "FP")
	assert.Equal(t, "7 cannot lead, full 1 with 41, back with 41", s.stake())

	s = begun(t, set(t, "capped-300ft"), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.opens("P1", "41", "7")
	s.pulls("41", "312.44")
	assert.Equal(t, "7 over 312.44", s.stake())
}

// Before the first call it is told of the next puller, and before a setting is frozen of nobody.
func TestWhoseStakeIsTold(t *testing.T) {
	t.Parallel()
	s := drawn(t, set(t, "capped-300ft"), "41", "7")
	assert.Empty(t, s.stake())
	assert.Empty(t, plan(t, set(t, "capped-300ft")).stake())
	s.freeze()
	assert.Equal(t, "41 leads with any, full 1", s.stake())
	s.call()
	s.pulls("41", "FP")
	s.do(domain.Scratch{Entry: s.entry("41"), Reason: "clutch"})
	assert.Equal(t, "7 cannot lead, full 1", s.stake(), "who was scratched does not come back")
	// A distance that is not told yet is in nothing that is said.
	s = begun(t, set(t, "capped-300ft", test(domain.ToLast), func(r *domain.RuleSet) { r.Test.BeforeDistance = true }), "41", "7")
	s.pulls("41", "281.36")
	kept := s.class.Told()
	assert.Nil(t, kept.Stake())
}

// Whatever was done to a class: the figure does not lead alone, a thousandth more does, and a full pull has the place that
// was foretold. What would be stored is decided for it, as by the booth.
func (m *machine) stake(t *rapid.T) {
	stake := m.class.Stake()
	if stake == nil {
		return
	}
	class := m.class
	if class.Phase() == domain.Ready {
		class = m.decide(t, class, domain.Call{Hook: uuid.Max})
	}
	require.Equal(t, class.OnTrack().Entry, stake.Entry)
	places := func(written string) (place int, shared bool) {
		after := m.decide(t, class, domain.Record{Hook: class.OnTrack().ID, Result: resultIn(t, written, domain.Metre), Next: uuid.NameSpaceURL})
		for _, p := range after.Standing() {
			if after.Entries[p.Row].ID == stake.Entry {
				place, shared = p.Place, p.Shared
			}
		}
		return place, shared
	}
	leads := func(milli int64) bool {
		place, shared := places(fmt.Sprintf("%d.%03d", milli/1000, milli%1000))
		return place == 1 && !shared
	}
	switch line := class.Rules.LineOf(class.Current().Name); {
	case !stake.CanLead:
		require.False(t, leads(line.Milli()-1), "nothing short of the line leads")
	case stake.Over.IsZero():
		require.True(t, leads(max(1, class.Rules.Measure.Minimum.Milli())), "any distance leads")
	default:
		require.False(t, leads(stake.Over.Milli()), "%s is not enough", stake.Over)
		require.True(t, leads(stake.Over.Milli()+1), "more than %s leads", stake.Over)
	}
	if stake.Full != nil {
		place, shared := places("FP")
		require.Equal(t, stake.Full.Place, place)
		if len(stake.Full.Shared) > 0 {
			require.True(t, shared)
		}
	}
}

// decide does what is sensible, which is not refused.
func (m *machine) decide(t *rapid.T, class domain.Class, a domain.Action) domain.Class {
	after, err := domain.Decide(class, a, m.clock)
	require.NoError(t, err)
	return after
}

func TestHooksOfWhoeverIsSpokenOf(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP 304")
	s.opens("P1", "41", "7")
	s.pulls("41", "DQ side line")
	s.pulls("7", "312.44")
	of := func(number string) (told []string) {
		for _, p := range s.class.PulledBy(func(e domain.Entry) bool { return e.Number == number }) {
			told = append(told, p.Round.String()+" "+p.Hook.Result.String())
		}
		return told
	}
	assert.Equal(t, []string{"1 FP"}, of("41"), "what is no distance is not told")
	assert.Equal(t, []string{"1 FP 304", "P1 312.44"}, of("7"))
	assert.Empty(t, of("23"))
}
