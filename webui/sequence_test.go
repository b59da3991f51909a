package webui

import (
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

// ordering is an evening with three classes at 18:00 by the clock of the place: Antique and Farm stock have the same
// setting and a driver in common, and Open between them has another.
func ordering() desk.EventPage {
	e := domain.Event{
		Slug: "tarn-hollow", Zone: "America/Chicago",
		Sessions: []domain.Session{{ID: uuid.UUID{1}, Name: "Evening", Starts: time.Date(2026, 9, 19, 23, 0, 0, 0, time.UTC)}},
		Tracks:   []domain.Track{{ID: uuid.UUID{3}, Name: "Track 1"}},
	}
	class := func(id byte, name string, slabs int, puller string) domain.Class {
		setting := domain.Setting{Slabs: domain.Slabs{Left: slabs}, Gear: 1, StartHole: 1}
		return domain.Class{
			ID: uuid.UUID{id}, Name: name, Slug: domain.Slug(name), Session: uuid.UUID{1}, Track: uuid.UUID{3}, Rules: domain.RuleSet{Rounds: 1},
			Entries: []domain.Entry{{Details: domain.Details{Puller: puller}}, {}},
			Rounds:  []domain.Round{{Revisions: []domain.Revision{{Number: 1, Setting: setting}}}},
		}
	}
	return desk.EventPage{Event: e, Classes: []domain.Class{class(11, "Antique", 4, "Maud Farrow"), class(12, "Open", 12, "Tom Okafor"), class(13, "Farm stock", 4, "maud farrow")}}
}

// asked is an address with what is asked for.
func asked(pairs ...string) url.Values {
	values := url.Values{}
	for i := 0; i < len(pairs); i += 2 {
		values.Set(pairs[i], pairs[i+1])
	}
	return values
}

// names lists the classes of the first session.
func names(list []templates.SequenceSession) string {
	var words []string
	for _, c := range list[0].Classes {
		words = append(words, c.Name)
	}
	return strings.Join(words, ", ")
}

// Antique and Farm stock want the same box, and a driver wants twenty minutes between them. With Open between them the
// slabs go in and out again, in 8 minutes; side by side the driver is waited for. Open first, then both, costs 4 minutes of
// slabs and 15 of waiting beside the track's 5.
func TestTheProposalIsShownBesideTheOrderInUse(t *testing.T) {
	t.Parallel()
	view := sequenceOf(ordering(), nil)
	require.Empty(t, view.Notice)
	assert.Equal(t, "18", view.Sums[0].Total, "8 min of slabs and the track twice; the driver rests while Open pulls")
	assert.Equal(t, "Antique, Open, Farm stock", names(view.Proposal))
	assert.Nil(t, view.Use)
	assert.Equal(t, "The proposal costs as much as your order. No order that keeps what is asked for costs less. A minute past the curfew, or after a fixed start, counts as ten.", view.Sentence)
	open := view.Sessions[0].Classes[1]
	assert.Equal(t, "18:19", open.Time, "two hooks, 4 minutes of slabs, 5 of the track")
	assert.Equal(t, "4 min box: 8 slabs in; 5 min track", open.Before)
	assert.Equal(t, "One up: 11 min more (box −4, waiting +15). One down: 11 min more (box −4, waiting +15).", open.Moves)
	assert.Equal(t, []string{"Maud Farrow also in Farm stock"}, view.Sessions[0].Classes[0].Shares)
	assert.Equal(t, "2 entries, about 10 min", open.Detail)

	view = sequenceOf(ordering(), asked("rest", "0"))
	assert.Equal(t, "Antique, Farm stock, Open", names(view.Proposal))
	assert.Equal(t, "The proposal saves 4 min of your order. No order that keeps what is asked for costs less. A minute past the curfew, or after a fixed start, counts as ten.", view.Sentence)
	assert.Equal(t, strings.Join([]string{uuid.UUID{11}.String(), uuid.UUID{13}.String(), uuid.UUID{12}.String()}, " "), view.Use.Hidden[1].Value)
}

func TestAnOrderIsTyped(t *testing.T) {
	t.Parallel()
	for words, want := range map[string]string{
		"":                  "Antique, Open, Farm stock",
		"up open":           "Open, Antique, Farm stock",
		"down open":         "Antique, Farm stock, Open",
		"up antique":        "Antique, Open, Farm stock",
		"down farm-stock":   "Antique, Open, Farm stock",
		"at-3-farm-stock 1": "Farm stock, Antique, Open",
		"at-1-antique 2":    "Open, Antique, Farm stock",
		"at-1-antique 3":    "Open, Farm stock, Antique",
		"at-1-antique 3 at-2-open 2 at-3-farm-stock 1": "Farm stock, Open, Antique",
	} {
		view := sequenceOf(ordering(), asked(strings.Fields(words)...))
		assert.Equal(t, want, names(view.Sessions), words)
		assert.Equal(t, want != "Antique, Open, Farm stock", view.UseTyped != nil, words)
		assert.Equal(t, "1", view.Form.Value("at-1-"+view.Sessions[0].Classes[0].Slug), words)
	}
}

// What is pinned is kept by the proposal; a start, a break and a curfew are read on the clock of the place, also past
// midnight.
func TestWhatIsPinnedIsKept(t *testing.T) {
	t.Parallel()
	evening := uuid.UUID{1}.String()
	view := sequenceOf(ordering(), asked("rest", "0", "pin-farm-stock", "yes"))
	assert.True(t, view.Sessions[0].Classes[2].Pinned)
	assert.Equal(t, "Open, Antique, Farm stock", names(view.Proposal))
	view = sequenceOf(ordering(), asked("starts-open", "00:30", "curfew-"+evening, "00:35", "breaks-"+evening, "18:05 20, 19:00 10"))
	require.Empty(t, view.Notice)
	assert.Equal(t, "Antique, Farm stock, Open", names(view.Proposal))
	last := view.Proposal[0].Classes[2]
	assert.Equal(t, "00:30", last.Time)
	assert.Contains(t, last.Before, "waiting")
	assert.Equal(t, []string{"Evening ends 5 min past its curfew, at 00:40. Take a class out, give it another session, or begin earlier."}, view.Clashes)
	view = sequenceOf(ordering(), asked("starts-open", "18:01", "starts-antique", "18:00"))
	assert.Contains(t, view.Clashes[0], "Open cannot begin at its fixed start: it begins ")
}

// The curfew of a session stands in its field until another is asked for, and an empty field asks for none.
func TestTheCurfewOfASessionIsSuggested(t *testing.T) {
	t.Parallel()
	page := ordering()
	page.Event.Sessions[0].Curfew = page.Event.Sessions[0].Starts.Add(30 * time.Minute)
	field := "curfew-" + uuid.UUID{1}.String()
	view := sequenceOf(page, nil)
	assert.Equal(t, "18:30", view.Form.Value(field))
	assert.Equal(t, "18", view.Sums[0].Beyond, "three classes of ten minutes, and eighteen between them")
	view = sequenceOf(page, asked(field, ""))
	assert.Empty(t, view.Form.Value(field))
	assert.Equal(t, "0", view.Sums[0].Beyond)
}

func TestWhatIsNotUnderstoodStaysInTheField(t *testing.T) {
	t.Parallel()
	evening := uuid.UUID{1}.String()
	for field, c := range map[string][2]string{
		"slab":              {"x", `"x" is no time. Write minutes from 0 to 240, such as 5.`},
		"track":             {"NaN", `"NaN" is no time. Write minutes from 0 to 240, such as 5.`},
		"hook":              {"0", "A hook takes some time. Write its minutes, such as 5."},
		"starts-open":       {"late", `"late" is no time of day. Write one such as 19:30.`},
		"curfew-" + evening: {"25:00", `"25:00" is no time of day. Write one such as 19:30.`},
		"breaks-" + evening: {"19:00", `"19:00" is no break. Write its start and its minutes, such as 19:30 20.`},
		"at-2-open":         {"first", "Write a place from 1."},
	} {
		view := sequenceOf(ordering(), asked(field, c[0]))
		assert.Equal(t, c[1], view.Form.Error(field))
		assert.Equal(t, c[0], view.Form.Value(field), "the typing stays")
		assert.Equal(t, "Something that was typed is not understood; it is said at its field.", view.Notice)
		assert.Empty(t, view.Sums)
	}
	view := sequenceOf(ordering(), asked("breaks-"+evening, "19:00 0"))
	assert.True(t, view.Form.Refused())
	view = sequenceOf(ordering(), asked("curfew-"+evening, "16:00"))
	assert.Equal(t, "In session Evening: the curfew is before the session starts. Give one after the start, or none.", view.Notice)
	view = sequenceOf(ordering(), asked("breaks-"+evening, "19:00 30, 19:10 5"))
	assert.Contains(t, view.Notice, "Evening: the break begins before the session")
}

// A class that has begun keeps its place in front, and a session in which nothing is left is not on the page.
func TestWhatHasBegunKeepsItsPlace(t *testing.T) {
	t.Parallel()
	page := ordering()
	page.Classes[0].Rounds[0].Hooks = []domain.Hook{{ID: uuid.UUID{9}}}
	view := sequenceOf(page, asked("down", "antique"))
	assert.True(t, view.Proposal[0].Classes[0].Begun)
	assert.Equal(t, "Antique", view.Proposal[0].Classes[0].Name)
	for i := range page.Classes {
		page.Classes[i].Rounds[0].Hooks = []domain.Hook{{ID: uuid.UUID{9}}}
	}
	assert.Empty(t, sequenceOf(page, nil).Sessions)
}

func TestMinutesInWords(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "6.5 min", minutes(6*time.Minute+30*time.Second))
	assert.Equal(t, "1 entry", plural(1, "entry", "entries"))
	assert.Equal(t, "−4", signed(-4*time.Minute))
}
