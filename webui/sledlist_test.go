package webui

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// The sheet has the points of the sled, its own or the usual ones, a box for each mark, a line to sign, and the words without
// which no list of it is shown.
func TestTheListsOfASledOnPaper(t *testing.T) {
	t.Parallel()
	e := domain.Event{Slug: "fair", Name: "Fair", Place: "Tarn Hollow", Zone: "UTC"}
	usual := domain.Sled{ID: uuid.UUID{7}, Name: "Grey sled", Gears: 4, StartHoles: 3}
	own := usual
	own.Card.Inspection, own.Card.Ready = []string{"brakes", "winch"}, []string{"box back", "cable tested", "lanes clear"}
	for _, sled := range []domain.Sled{usual, own} {
		view := sledListOf(e, sled)
		assert.Equal(t, sled.InspectionList(), view.Inspection)
		var page bytes.Buffer
		require.NoError(t, view.Page().Render(t.Context(), &page))
		html := page.String()
		for _, point := range append(view.Inspection, view.Ready...) {
			assert.Contains(t, html, ">"+point+"</th>")
		}
		assert.Equal(t, 2*len(view.Inspection)+tickColumns*len(view.Ready), strings.Count(html, `class="square"`), "a box for each mark")
		for _, words := range []string{">Signature</dt>", ">Name of who looked</dt>", "This is a record and no approval.", "local rules, licensed officials and the sled operator decide", "nothing is read or marked while a vehicle pulls",
			"A full list is no signal and no approval.", "/e/fair/cab/sled/07000000-0000-0000-0000-000000000000"} {
			assert.Contains(t, html, words)
		}
		assert.NotContains(t, html, "<form", "paper sends nothing")
	}
	assert.Equal(t, []string{"box back", "cable tested", "lanes clear"}, sledListOf(e, own).Ready)
}
