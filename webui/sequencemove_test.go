package webui

import (
	"errors"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// weekend is the evening of [ordering] with a second track and a session on Sunday, in which one class is planned.
func weekend() desk.EventPage {
	page := ordering()
	page.Event.Tracks = append(page.Event.Tracks, domain.Track{ID: uuid.UUID{4}, Name: "Track 2"})
	page.Event.Sessions = append(page.Event.Sessions, domain.Session{ID: uuid.UUID{2}, Name: "Sunday", Starts: page.Event.Sessions[0].Starts.Add(20 * time.Hour)})
	sunday := page.Classes[0]
	sunday.ID, sunday.Name, sunday.Slug, sunday.Session = uuid.UUID{14}, "Pro stock", "pro-stock", uuid.UUID{2}
	page.Classes = append(page.Classes, sunday)
	return page
}

// to is the field of the session of a class of the evening.
func to(slug string) string { return "session-" + uuid.UUID{1}.String() + "-" + slug }

// shown lists the classes by session: "Evening: Antique, Open; Sunday: Pro stock".
func shown(list []templates.SequenceSession) string {
	var words []string
	for i := range list {
		words = append(words, list[i].Name+": "+names(list[i:]))
	}
	return strings.Join(words, "; ")
}

// What is asked for another session comes last in it, and stays at its place there once the page has shown it.
func TestAClassIsAskedForInAnotherSession(t *testing.T) {
	t.Parallel()
	sunday, evening := uuid.UUID{2}.String(), uuid.UUID{1}.String()
	from := func(session, slug string) string { return " session-" + session + "-" + slug + " " }
	for words, want := range map[string]string{
		"": "Evening: Antique, Open, Farm stock; Sunday: Pro stock",
		from(evening, "open") + sunday + " at-2-open 2":                      "Evening: Antique, Farm stock; Sunday: Pro stock, Open",
		from(sunday, "open") + sunday + " at-2-open 1 at-1-pro-stock 1":      "Evening: Antique, Farm stock; Sunday: Open, Pro stock",
		from(sunday, "open") + evening + " at-1-open 1":                      "Evening: Antique, Farm stock, Open; Sunday: Pro stock",
		from(evening, "open") + sunday + from(sunday, "pro-stock") + evening: "Evening: Antique, Farm stock, Pro stock; Sunday: Open",
	} {
		view := sequenceOf(weekend(), asked(strings.Fields(words)...))
		require.Empty(t, view.Notice, words)
		assert.Equal(t, want, shown(view.Sessions), words)
	}
}

// The order in use is that of the sessions and tracks as they are; yours and the proposal are with the move. On a track of
// its own Open takes no slabs out of the box between the two others.
func TestAMoveIsComparedWithWhatIsInUse(t *testing.T) {
	t.Parallel()
	view := sequenceOf(weekend(), asked("track-open", uuid.UUID{4}.String(), "rest", "0"))
	require.Empty(t, view.Notice)
	assert.Equal(t, []string{"In use", "Yours", "The proposal"}, []string{view.Sums[0].Name, view.Sums[1].Name, view.Sums[2].Name})
	assert.Equal(t, []string{"18", "5", "5"}, []string{view.Sums[0].Total, view.Sums[1].Total, view.Sums[2].Total})
	assert.Equal(t, "Track 2", view.Sessions[0].Classes[1].Track)
	hidden := view.UseTyped.Hidden[1:]
	assert.Equal(t, []templates.Hidden{{Name: "moves", Value: "open " + uuid.UUID{1}.String() + " " + uuid.UUID{4}.String()}}, hidden, "the order is the one in use")
	view = sequenceOf(weekend(), asked("track-open", uuid.UUID{4}.String(), "up", "open"))
	assert.Equal(t, []string{"classes", "moves"}, []string{view.UseTyped.Hidden[1].Name, view.UseTyped.Hidden[2].Name})
}

// A start that is asked for in the new session does not keep the order in use waiting for it.
func TestAStartOfAnotherSessionIsNoneOfTheOrderInUse(t *testing.T) {
	t.Parallel()
	view := sequenceOf(weekend(), asked(to("open"), uuid.UUID{2}.String(), "starts-open", "16:00"))
	require.Empty(t, view.Notice)
	assert.Equal(t, "0", view.Sums[0].Late)
	assert.Equal(t, "18", view.Sums[0].Total)
	assert.Equal(t, "16:00", view.Sessions[1].Classes[1].Time)
}

// Whoever moves a class into a session in which all others have begun finds them in front of it.
func TestAClassComesBehindThoseThatHaveBegun(t *testing.T) {
	t.Parallel()
	page := weekend()
	page.Classes[3].Rounds[0].Hooks = []domain.Hook{{ID: uuid.UUID{9}}}
	assert.Equal(t, "Evening: Antique, Open, Farm stock", shown(sequenceOf(page, nil).Sessions))
	view := sequenceOf(page, asked(to("open"), uuid.UUID{2}.String()))
	assert.Equal(t, "Evening: Antique, Farm stock; Sunday: Pro stock, Open", shown(view.Proposal))
	view = sequenceOf(page, asked("session-"+uuid.UUID{2}.String()+"-pro-stock", uuid.UUID{1}.String()))
	assert.Equal(t, "Evening: Antique, Open, Farm stock", shown(view.Sessions), "what has begun stays")
	assert.Nil(t, view.UseTyped)
}

func TestAPlaceThatTheEventDoesNotHave(t *testing.T) {
	t.Parallel()
	for field, words := range map[string]string{to("open"): "The event has no such session. Choose one of the list.", "track-open": "The event has no such track. Choose one of the list."} {
		for _, typed := range []string{"Sunday", uuid.UUID{77}.String()} {
			view := sequenceOf(weekend(), asked(field, typed))
			assert.Equal(t, words, view.Form.Error(field))
			assert.Empty(t, view.Sums)
		}
	}
	one := ordering()
	assert.Empty(t, sequenceOf(one, nil).InSessions, "there is nothing to choose")
	assert.Empty(t, sequenceOf(one, nil).OnTracks)
}

// The moves of a form are three words each; anything else was sent by no page.
func TestTheMovesOfAForm(t *testing.T) {
	t.Parallel()
	m := move{"farm-stock", uuid.UUID{1}, uuid.UUID{4}}
	list, err := movesOf(url.Values{templates.FieldMoves: {m.String() + " " + m.String()}})
	require.NoError(t, err)
	assert.Equal(t, []move{m, m}, list)
	for _, words := range []string{"farm-stock", "farm-stock " + m.session.String(), "farm-stock x y", "farm-stock " + m.session.String() + " y"} {
		_, err := movesOf(url.Values{templates.FieldMoves: {words}})
		assert.Equal(t, domain.Invalid, domain.KindOf(err), words)
	}
	refused := ofClass("farm-stock", &domain.Error{Kind: domain.WrongState, Message: "the first hook was called", Fix: "leave it"})
	assert.Equal(t, domain.WrongState, domain.KindOf(refused))
	assert.Contains(t, refused.Error(), "of class farm-stock: the first hook was called")
	assert.ErrorIs(t, ofClass("farm-stock", errors.ErrUnsupported), errors.ErrUnsupported)
}
