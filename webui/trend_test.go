package webui

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/templates"
)

// Five hooks that went further one after the other: the staff read it once the round is over, with what it is worth.
func TestTheStaffReadsOfATrendOnceTheRoundIsOver(t *testing.T) {
	t.Parallel()
	l := tellUnder(t, func(r *domain.RuleSet) { r.Test = domain.TestRule{} })
	l.do(domain.AddEntry{Entry: l.id(), Number: "88"})
	for _, step := range begun("251", "252", "253", "254") {
		l.step(step)
	}
	assert.Nil(t, trendOf(&l.class), "one is on the track")
	l.step("255")
	view := trendOf(&l.class)
	require.NotNil(t, view)
	assert.Equal(t, []templates.Term{{Label: "Round 1", Value: "Later hooks tended to go further: tau 1.00 over 5 hooks. A random order would show as much in 2 of 100 rounds."}}, view.Rounds)
	assert.Contains(t, view.Caution, "no reason to change a result")

	four := tellUnder(t, func(r *domain.RuleSet) { r.Test = domain.TestRule{} }, begun("251", "252", "253", "254")...)
	assert.Nil(t, trendOf(&four.class), "four say nothing")
}
