package api

import (
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/domain/desk"
)

// Nothing is looked at, and no forecast told, where the stream is that of an event, where a line tells the reader of the class
// itself, and where all lines are for the staff.
func TestWhatTellsOfNoForecast(t *testing.T) {
	t.Parallel()
	own, staff := desk.News{Number: 57, Class: "modified", Kind: "result"}, desk.News{Number: 58, Kind: "pass", Staff: true}
	other, restored := desk.News{Number: 59, Class: "open", Kind: "result"}, desk.News{Number: 3, Kind: desk.Restored}
	for name, c := range map[string]struct {
		class string
		news  []desk.News
	}{
		"the event":          {"", []desk.News{other}},
		"the class itself":   {"modified", []desk.News{other, own, staff}},
		"for the staff":      {"modified", []desk.News{staff}},
		"a journal restored": {"modified", []desk.News{restored}},
		"nothing":            {"modified", nil},
	} {
		h := horizon{class: c.class} // without a desk, which looking would need
		require.Nil(t, h.moved(t.Context(), c.news), name)
	}
}
