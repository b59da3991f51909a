package doc_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

// rainedOff is a class whose line was moved and that was stopped in its first round, under rules that leave what was
// pulled. A vehicle is in it twice.
func rainedOff(t require.TestingT) *tale {
	rules, err := doc.ReadyMadeRuleSet("capped-300ft")
	require.NoError(t, err)
	rules.Line, rules.Moving = length(t, "290", domain.Foot), domain.LineRule{Choices: []domain.Distance{length(t, "320", domain.Foot)}, After: 1}
	rules.Entries.VehicleTwice, rules.Stopped = domain.PlacesOnce, domain.AsPulled
	rules.Reasons.Of = map[domain.Cause]domain.Consequence{domain.CauseOutOfBounds: domain.MeasuredThere}
	s := newTale(t, rules)
	s.enter("41", "Maud Farrow", "Brindle Ox", "Wrenfield")
	s.do(domain.AddEntry{Entry: s.id(), Number: "41b", Same: s.entry("41"), Details: domain.Details{Puller: "Nell Farrow", Vehicle: "Brindle Ox"}})
	s.enter("7", "Ellis Tarrant", "Late Hay", "")
	s.enter("12", "Pia Holm", "Sunday Plough", "")
	s.steps("draw dice 6") // 12, 41, 41b, 7
	s.do(domain.MoveLine{Line: length(t, "320", domain.Foot), Reason: "the sled is light"})
	s.steps("set", "250", "keep", "DQ at 201.3 out of bounds: left wheel", "240")
	s.do(domain.StopClass{Reason: "rain"})
	return s
}

// What stands of a class that was stopped, where its line lay and what a cause came to are in the file.
func TestAStoppedClassInAFile(t *testing.T) {
	t.Parallel()
	class := rainedOff(t).told().Classes[0]
	require.NotNil(t, class.Stopped)
	assert.Equal(t, "rain", class.Stopped.Reason)
	assert.True(t, class.Decided, "nothing more is to be hooked")
	assert.Equal(t, "320 ft", class.Rules.Line.String())
	assert.Equal(t, "290 ft", class.Rules.LineWas.String())
	crossed := class.Rounds[0].Hooks[1]
	assert.Equal(t, []string{"measured", "201.3 ft", "out of bounds: left wheel", "out of bounds"},
		[]string{crossed.Outcome.String(), crossed.Distance.String(), crossed.Reason, crossed.Cause})
	stands := map[string]bool{}
	for _, p := range class.Standing {
		stands[p.Entry] = p.Place != nil
		assert.Equal(t, p.Entry == "41", p.Again, "the vehicle places with its better entry")
	}
	assert.Equal(t, map[string]bool{"12": true, "41b": true, "41": false, "7": false}, stands)

	whole := wholeClass(t).told().Classes[0]
	assert.Nil(t, whole.Stopped)
	assert.Nil(t, whole.Rules.LineWas)
}

// A distance that the test puller has to choose before is in no file till then.
func TestAKeptDistanceIsInNoFile(t *testing.T) {
	t.Parallel()
	rules, err := doc.ReadyMadeRuleSet("capped-300ft")
	require.NoError(t, err)
	rules.Test.BeforeDistance = true
	s := newTale(t, rules).drawn("41", "7")
	s.steps("set", "281.36")
	require.NotContains(t, csvOf(t, s.told()), "281.36")
	assert.Nil(t, s.told().Classes[0].Rounds[0].Hooks[0].Outcome)
	s.steps("keep")
	require.Contains(t, csvOf(t, s.told()), "281.36")
}
