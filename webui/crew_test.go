package webui

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"clayline/domain"
)

// What the cab and the booth are shown of the ready list: two presses before anything was said, the same while it is
// held, none once the crew is ready, and nothing at all from the start on.
func TestTheReadyListOfAHook(t *testing.T) {
	t.Parallel()
	l := tellUnder(t, func(*domain.RuleSet) {}, begun()...)
	show := func() (view *readyView) {
		ready, crew := readyOf(place, &l.class, "/", nil), crewSays(place, &l.class)
		view = &readyView{}
		if ready != nil {
			view.asked, view.press = true, ready.Confirm != nil && ready.Hold != nil
		}
		if crew != nil {
			view.booth, view.held = crew.Text[len("18:00: "):], crew.Held
		}
		return view
	}
	on := l.class.OnTrack().ID
	assert.Equal(t, readyView{asked: true, press: true}, *show())
	l.do(domain.SayReady{Hook: on, Held: true, Words: "cable frayed"})
	assert.Equal(t, readyView{asked: true, press: true, held: true, booth: "the sled crew holds: cable frayed."}, *show())
	l.do(domain.SayReady{Hook: on})
	assert.Equal(t, readyView{asked: true, booth: "the sled crew is ready."}, *show())
	l.do(domain.Start{Hook: on})
	assert.Equal(t, readyView{}, *show())
}

// readyView is what is shown of the list: whether it is, whether there is something to press, and what the booth reads.
type readyView struct {
	asked, press, held bool
	booth              string
}
