package webui

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/day"
	"clayline/domain/desk"
)

// shownOf is what a screen says of a track on which these classes are pulled, in this order.
func shownOf(t *testing.T, classes ...*domain.Class) []string {
	t.Helper()
	page := &desk.DayPage{}
	page.Event = domain.Event{Zone: "UTC", Sessions: []domain.Session{{}}, Tracks: []domain.Track{{ID: uuid.UUID{9}, Name: "Track 1"}}}
	for i, c := range classes {
		class := *c
		class.ID, class.Track, class.Name = uuid.UUID{byte(i + 1)}, page.Event.Tracks[0].ID, "Class "+string(rune('A'+i))
		page.Classes = append(page.Classes, class)
	}
	page.Day = day.Of(page.Event, page.Classes, nil)
	v, ok := screenTrack(page, page.Event.Tracks[0])
	require.True(t, ok)
	return []string{v.Class, v.Sentence, v.OnTrack.Number, v.Winner.Number, v.Last.Number, v.Last.Text, v.Then, v.ThenBegins}
}

// A winner stays on the screen until the next class is called: a grandstand looks up when it is over.
func TestTheScreenKeepsAWinnerUntilTheNextCall(t *testing.T) {
	t.Parallel()
	over := tell(t, "capped-300ft", begun("281.36", "keep", "290", "250", "260")...)
	require.Equal(t, domain.Decided, over.Phase())
	drawn, called := tell(t, "capped-300ft", "draw"), tell(t, "capped-300ft", begun()...)
	assert.Equal(t, []string{"Class A", "Drawn", "", "", "", "", "", ""}, shownOf(t, drawn, tell(t, "capped-300ft")))
	assert.Equal(t, []string{"Class A", "Result, provisional", "", "12", "41", "260", "Class B", "Likely begins about 18:15–18:30"}, shownOf(t, over, drawn))
	assert.Equal(t, []string{"Class B", "Round 1 · puller 1 of 4", "7", "", "", "", "", ""}, shownOf(t, over, called))
}

// In a pull-off that goes on past the line the figure decides, also that of a full pull; and who shares a place is not left out.
func TestTheScreenShowsTheFigureThatDecides(t *testing.T) {
	t.Parallel()
	show := func(c *domain.Class) (list []string, last string) {
		for _, row := range firstOf(domain.Event{Zone: "UTC"}, c) {
			list = append(list, row.Place+" "+row.Number+" "+row.Text)
		}
		return list, lastOf(c).Text
	}
	four := begun("FP", "FP", "FP", "FP")
	list, last := show(tell(t, "capped-300ft", four...))
	assert.Equal(t, []string{"1= 7 Full pull", "1= 12 Full pull", "1= 23 Full pull", "1= 41 Full pull"}, list)
	assert.Equal(t, "Full pull", last)
	c := tell(t, "capped-300ft", append(four, "open", "write", "freeze", "call", "310", "FP 309.99", "FP 312.44", "290")...)
	list, last = show(c)
	assert.Equal(t, []string{"1 23 312.44", "2 7 310", "3 12 309.99"}, list)
	assert.Equal(t, "290", last)
}

func TestATrackOfTheScreenIsCountedFromOne(t *testing.T) {
	t.Parallel()
	e := domain.Event{Tracks: []domain.Track{{Name: "North"}, {Name: "South"}}}
	all, err := tracksOf(e, "")
	require.NoError(t, err)
	assert.Len(t, all, 2)
	second, err := tracksOf(e, "2")
	require.NoError(t, err)
	assert.Equal(t, e.Tracks[1:], second)
	for _, wrong := range []string{"0", "3", "-1", "south", "1.5"} {
		_, err := tracksOf(e, wrong)
		require.Equal(t, domain.NotFound, domain.KindOf(err), wrong)
	}
}
