package webui

import (
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/templates"
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

// What differed is asked about hooks that ended, never while a vehicle pulls; a re-hook that it may lead to is offered to
// the booth with a form, and to the public nothing but that something was noted.
func TestWhatDifferedIsAskedAndToldToStaff(t *testing.T) {
	t.Parallel()
	l := tellUnder(t, func(*domain.RuleSet) {}, begun()...)
	assert.Nil(t, differedOf(&l.class, "/", nil), "no hook has ended")
	first := l.class.OnTrack().ID
	l.step("FP")
	asked := differedOf(&l.class, "/", nil)
	require.NotNil(t, asked)
	assert.Equal(t, first.String(), asked.Hooks[0].Value)
	assert.Nil(t, rehookOf(&l.class, "/", nil))

	sent := url.Values{templates.FieldHook: {first.String()}, "hand drop": {"on"}, "red by official": {"on"}, templates.FieldWords: {"pan hung"}}
	action, err := differedAct(&l.class, sent)
	require.NoError(t, err)
	l.do(action)
	assert.Equal(t, []string{"hand drop, red by official: pan hung"}, justStored(&l.class)[0].Remarks)
	offered := rehookOf(&l.class, "/", nil)
	require.NotNil(t, offered)
	assert.Equal(t, "hand drop, red by official: pan hung", offered.Value(templates.FieldReason))
	assert.Contains(t, advice(&l.class)[len(advice(&l.class))-1].Do, "because of the sled and official")
	for _, row := range order(&l.class, l.class.Current()) {
		assert.NotContains(t, strings.Join(row.Remarks, " "), "pan hung", "what it was is for staff")
	}
	assert.Contains(t, order(&l.class, l.class.Current())[0].Remarks, "sled noted a difference")
	printed := classResult(place, &l.class)
	assert.True(t, printed.Rows[0].Cells[0].Noted, "on paper it is a mark")
	assert.NotContains(t, strings.Join(printed.Rows[0].Remarks, " "), "noted")
	assert.NotEmpty(t, printed.Noted, "and a word below")
	l.class.Sled.Card.Red = []string{"kill-switch"}
	again := differedOf(&l.class, "/", nil)
	require.Len(t, again.Noted, 1)
	assert.Contains(t, again.Noted[0], "the light of this sled goes red for it", "an official's red is red on every sled")
	l.do(domain.Start{Hook: l.class.OnTrack().ID})
	assert.Nil(t, differedOf(&l.class, "/", nil), "a vehicle pulls")
}
