package doc_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

// Each cause has a field of its own, and each consequence a word: what the document says of one is what the rules have
// for that one and for no other.
func TestEveryCauseHasItsWord(t *testing.T) {
	t.Parallel()
	consequences := map[string]domain.Consequence{"last_place": domain.LastPlace, "no_distance": domain.NoDistance, "attempt": domain.AttemptLost,
		"measured": domain.MeasuredThere, "ends": domain.PullEnds, "none": domain.NoConsequence}
	for _, cause := range domain.Causes() {
		for word, want := range consequences {
			field := strings.ReplaceAll(string(cause), " ", "_")
			rules, err := doc.ParseRuleSet(fmt.Appendf(nil, `{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "restart": 20, "reasons": {%q: %q}}`, field, word))
			require.NoError(t, err, field)
			for _, other := range domain.Causes() {
				if other == cause {
					assert.Equal(t, want, rules.Consequence(other), "%s %s", cause, word)
				} else {
					assert.Equal(t, domain.NoDistance, rules.Consequence(other), "%s beside %s", other, cause)
				}
			}
		}
	}
}
