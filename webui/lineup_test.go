package webui

import (
	"net/url"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/templates"
)

// turns are the words of the rows of the line-up.
func turns(rows []templates.LineRow) (list []string) {
	for _, r := range rows {
		list = append(list, r.Number+": "+r.Turn)
	}
	return list
}

// The steward reads whose turn it is in each state of the class.
func TestTheLineUpForTheSteward(t *testing.T) {
	t.Parallel()
	l := tellUnder(t, func(r *domain.RuleSet) { r.RehookDrop, r.RehookMinutes = 4, 5 }, "draw", "write", "freeze")
	show := func() ([]templates.LineRow, string) { return lineRows(place, &l.class, "/", nil) }
	rows, count := show()
	assert.Equal(t, []string{"7: next", "12: 1 hook after that", "23: 2 hooks after that", "41: 3 hooks after that"}, turns(rows))
	assert.Equal(t, "4 not seen", count)
	l.step("call")
	rows, _ = show()
	assert.Equal(t, []string{"7: called", "12: next", "23: 2 hooks later", "41: 3 hooks later"}, turns(rows))
	assert.Empty(t, seenOf(place, &l.class), "nothing was said yet")

	sent := url.Values{fieldEntry: {rows[1].Says.Hidden[1].Value}, templates.FieldWhere: {"missing"}}
	action, err := presenceAct(&l.class, sent)
	require.NoError(t, err)
	l.do(action)
	rows, count = show()
	assert.Equal(t, "missing", rows[1].Where)
	assert.Regexp(t, `^missing since \d\d:\d\d$`, rows[1].Words)
	assert.Equal(t, "1 missing · 3 not seen", count)
	seen := seenOf(place, &l.class)
	require.Len(t, seen, 1)
	assert.Equal(t, "12", seen[0].Number)

	l.do(domain.Start{Hook: l.class.OnTrack().ID})
	rows, _ = show()
	assert.Equal(t, []string{"12: next", "23: 2 hooks later", "41: 3 hooks later"}, turns(rows))
	l.step("281.36")
	rows, _ = show()
	assert.Equal(t, []string{"12: ", "23: ", "41: "}, turns(rows), "a choice may change who is next")
	l.step("keep")
	l.do(domain.Again{Hook: l.class.OnTrack().ID, Reason: "sled", Places: 2, Next: l.id()})
	rows, _ = show()
	assert.Regexp(t, `^cooling down since \d\d:\d\d, by the rules till \d\d:\d\d$`, rows[2].Words)
}

// What is sent wrongly is told at the row that it was about.
func TestAPressOfTheStewardThatIsRefused(t *testing.T) {
	t.Parallel()
	c := tell(t, "capped-300ft", begun()...)
	sent := url.Values{fieldEntry: {c.Entries[1].ID.String()}, templates.FieldWhere: {"asleep"}}
	_, err := presenceAct(c, sent)
	require.ErrorContains(t, err, "asleep")
	rows, _ := lineRows(place, c, "/", refusal("presence", sent, err))
	assert.False(t, rows[0].Says.Refused())
	assert.True(t, rows[1].Says.Refused())
	_, err = presenceAct(c, url.Values{})
	require.ErrorContains(t, err, "not complete")
}
