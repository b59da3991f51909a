package domain_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// ahead says of everybody how many hooks are ahead of them: "41 -, 7 1".
func (s *story) ahead(numbers ...string) string {
	words := make([]string, len(numbers))
	for i, number := range numbers {
		words[i] = number + " -"
		if n, waits := s.class.HooksAhead(s.entry(number)); waits {
			words[i] = fmt.Sprint(number, " ", n)
		}
	}
	return strings.Join(words, ", ")
}

func TestHowManyHooksAreAhead(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-300ft"))
	entry := s.enter("41")
	_, waits := s.class.HooksAhead(entry)
	require.False(t, waits, "nothing is drawn")

	s = begun(t, set(t, "capped-300ft"), "41", "7", "23", "12")
	all := []string{"41", "7", "23", "12"}
	assert.Equal(t, "41 -, 7 1, 23 2, 12 3", s.ahead(all...), "that on the track is ahead of everybody")
	s.do(domain.Scratch{Entry: s.entry("7"), Reason: "clutch"})
	assert.Equal(t, "41 -, 7 -, 23 1, 12 2", s.ahead(all...), "who does not hook is ahead of nobody")
	s.pulls("41", "FP")
	assert.Equal(t, "41 -, 7 -, 23 -, 12 1", s.ahead(all...), "23 is on the track")
	s.do(domain.StopClass{Reason: "rain"})
	assert.Equal(t, "41 -, 7 -, 23 -, 12 -", s.ahead(all...), "nothing is hooked")
}

// While the test puller chooses, the order may still move.
func TestNothingIsAheadWhileSomebodyChooses(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "floating-ft"), "41", "7", "23")
	s.pulls("41", "281.36")
	require.NotNil(t, s.class.Pending())
	assert.Equal(t, "7 -, 23 -", s.ahead("7", "23"))
}

// A class that is drawn and set waits for what is pulled before it: its first hook may be hours away.
func TestNothingIsAheadBeforeTheFirstCall(t *testing.T) {
	t.Parallel()
	s := drawn(t, set(t, "capped-300ft"), "41", "7")
	s.freeze()
	assert.Equal(t, "41 -, 7 -", s.ahead("41", "7"))
}
