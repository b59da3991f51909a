package webui

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/templates"
)

// foretold is the column of outcomes of the current round, with times, and what is said about the end of it.
func foretold(c *domain.Class) (column []string, left string) {
	e := domain.Event{Zone: "UTC"}
	o, list := outlookOf(c), rounds(e, c)
	o.foretold(e, c, list)
	for _, row := range list[0].Order {
		words := row.Text
		for _, remark := range row.Remarks {
			words += ", " + remark
		}
		column = append(column, words)
	}
	return column, o.left(e)
}

// While a round is pulled, everybody who waits reads when the call is likely, and that the call in the pits counts;
// before the first call and after the last hook nothing is foretold.
func TestWhoWaitsReadsWhenTheCallIsLikely(t *testing.T) {
	t.Parallel()
	column, left := foretold(tell(t, "capped-300ft", "draw", "write", "freeze"))
	assert.Empty(t, left)
	assert.Equal(t, []string{"", "", "", ""}, column)

	c := tell(t, "capped-300ft", begun()...)
	called := c.OnTrack().Called
	column, left = foretold(c)
	const window = `\d\d:\d\d–\d\d:\d\d`
	require.Len(t, column, 4)
	assert.Equal(t, "on the track", column[0])
	assert.Regexp(t, "^next, "+window, column[1])
	assert.Regexp(t, "^after next, "+window, column[2])
	assert.Regexp(t, "^"+window+"$", column[3])
	assert.Regexp(t, "^This round is likely over about "+window+`\. Times are estimates as of `+called.UTC().Format("15:04")+"; the call in the pits counts\\.$", left)
	o := outlookOf(c)
	waiting := c.Current().Waiting()
	assert.Less(t, o.calls[waiting[0]].Middle, o.calls[waiting[1]].Middle)
	assert.Less(t, o.calls[waiting[2]].Late, o.end.Late)

	column, left = foretold(tell(t, "capped-300ft", begun("281.36", "keep", "250", "251", "252")...))
	assert.Empty(t, left)
	assert.NotContains(t, column[3], "–")
	assert.Equal(t, outlook{}, outlookOf(&domain.Class{}))
	outlook{}.foretold(domain.Event{}, &domain.Class{}, []templates.Round{{}})
}
