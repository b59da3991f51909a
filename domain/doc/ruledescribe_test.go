package doc_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"clayline/domain"
	"clayline/domain/doc"
)

func TestARuleSetIsDescribedInSentences(t *testing.T) {
	t.Parallel()
	said := doc.DescribeRuleSet(set(t, "capped-300ft"))
	for _, sentence := range []string{
		"The class is measured in feet, and the full-pull line lies at 300 ft.",
		"A class has 1 class round.",
		"The test puller may keep the result or hook again at the end.",
		`The choice must be made "before unhooking".`,
		"A disqualified test puller still has the choice.",
		"A tie stands, and the places are shared.",
	} {
		assert.Contains(t, said, sentence)
	}
	assert.LessOrEqual(t, len(said), 20, "short: what is not mentioned is not told")
	assert.NotContains(t, strings.Join(said, " "), "speed", "there is no limit to tell of")
}

// What a set changes from the usual is told, and nothing of a floating set is about a pull-off.
func TestADescriptionTellsWhatASetChanges(t *testing.T) {
	t.Parallel()
	r := set(t, "capped-300ft")
	r.Reasons.Of = map[domain.Cause]domain.Consequence{domain.CauseOutOfBounds: domain.MeasuredThere}
	r.Test.BeforeDistance, r.PullOff.SameDriver = true, true
	changed := doc.DescribeRuleSet(r)
	assert.Contains(t, changed, `What goes wrong is judged by its cause: "out of bounds" is measured where it happened.`)
	assert.Contains(t, changed, "The choice is made before the distance is told.")
	assert.Contains(t, changed, "The driver of a pull-off must be that of the class.")
	for _, sentence := range doc.DescribeRuleSet(set(t, "floating-m")) {
		assert.NotContains(t, sentence, "finalist")
		assert.True(t, strings.HasSuffix(sentence, "."), sentence)
	}
}
