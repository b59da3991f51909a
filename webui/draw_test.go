package webui

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/templates"
)

// Where the rules draw nothing (CHEL 8 and FLIP 2: the order of the entries; DE-WIEL 14: the organiser's), the form does
// not insist on a text to draw from, and says why.
func TestTheFormOfADrawAsksForATextOnlyWhereOneIsNeeded(t *testing.T) {
	t.Parallel()
	for by, hint := range map[domain.OrderSource]string{
		domain.DrawnByLot:  "Whoever has them can compute the order again.",
		domain.AsEntered:   "the order is that of the entries. Nothing is drawn.",
		domain.ByOrganiser: "write them all at Fixed places. Nothing is drawn.",
	} {
		var view templates.DeskClass
		class := domain.Class{Rules: domain.RuleSet{Order: domain.OrderRule{By: by}}}
		deskDraw(&view, domain.Event{Zone: "UTC"}, &class, "/", nil)
		var page strings.Builder
		require.NoError(t, view.Page().Render(t.Context(), &page))
		_, field, found := strings.Cut(page.String(), `id="draw-seed"`)
		require.True(t, found)
		field, _, _ = strings.Cut(field, ">")
		assert.Equal(t, by == domain.DrawnByLot, strings.Contains(field, "required"), field)
		assert.Contains(t, page.String(), hint)
	}
}
