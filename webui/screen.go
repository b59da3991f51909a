//go:build !js

package webui

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// screenPlaces is how many places the big screen names, and screenShared how many where several share one: as many as a screen has
// room for.
const (
	screenPlaces = 3
	screenShared = 4
)

// screen shows the tracks of an event on a big screen, or one of them: /e/tarn-hollow/screen/2 is the second of the
// programme. With bare it is the line to lay over a picture. It is one page for all, as every public page.
func (s *Site) screen(bare bool) echo.HandlerFunc {
	return func(c echo.Context) error {
		return s.public(c, func(ctx context.Context) (templates.Page, error) {
			page, err := s.desk.Live().Day(ctx, c.Param("event"))
			if err != nil {
				return nil, err
			}
			tracks, err := tracksOf(page.Event, c.Param("track"))
			if err != nil {
				return nil, err
			}
			view := templates.Screen{Frame: s.publicFrame(c, page.Event, page.Journal), Bare: bare}
			view.Stream = eventStream(page.Event)
			for _, t := range tracks {
				if shown, ok := screenTrack(page, t); ok {
					shown.ID = fmt.Sprintf("track-%d", len(view.Tracks)+1)
					view.Tracks = append(view.Tracks, shown)
				}
			}
			for i := range view.Tracks {
				if strip := view.Tracks[i].Strip; strip != nil {
					strip.ID = view.Tracks[i].ID + "-strip"
				}
			}
			return view, nil
		})
	}
}

// tracksOf returns the tracks that an address names: all without a number, else the one with that number, which counts
// from 1 in the order of the programme.
func tracksOf(e domain.Event, number string) ([]domain.Track, error) {
	if number == "" {
		return e.Tracks, nil
	}
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 || n > len(e.Tracks) {
		return nil, &domain.Error{Kind: domain.NotFound, Message: "this event has no track " + number,
			Fix: fmt.Sprintf("count its tracks from 1 to %d, in the order of the programme", len(e.Tracks))}
	}
	return e.Tracks[n-1 : n], nil
}

// screenTrack says what a big screen tells of a track; false while no class is planned on it.
func screenTrack(page *desk.DayPage, t domain.Track) (templates.ScreenTrack, bool) {
	var here []domain.Class
	for _, class := range page.Classes {
		if class.Track == t.ID {
			here = append(here, class)
		}
	}
	if len(here) == 0 {
		return templates.ScreenTrack{}, false
	}
	next := inHand(here)
	shown := onScreen(here, next)
	class, told := &here[shown], here[shown].Told()
	view := templates.ScreenTrack{
		Hooking: hooking(&told), Class: class.Name, Sentence: screenSentence(page.Event, class),
		Winner: screenWinner(class), Last: lastOf(&told), First: firstOf(page.Event, &told), Strip: screenStrip(&told),
	}
	if len(page.Event.Tracks) > 1 {
		view.Track = t.Name
	}
	if waits := messages(class); class.Phase() == domain.ChoiceOpen && len(waits) > 0 {
		view.Message = waits[0].Text
	}
	if next != shown {
		view.Then, view.ThenBegins = here[next].Name, outlookOf(page.Event, page.Day, &here[next]).begins()
	}
	return view, true
}

// onScreen returns the index of the class that a screen shows, where inHand is the one at hand: the one that is being
// pulled, else the one that was pulled last, so that a winner stays until the next class is called; before the first
// hook the one at hand.
func onScreen(classes []domain.Class, inHand int) int {
	if onNow(&classes[inHand]) {
		return inHand
	}
	best := inHand
	var ended domain.Hook
	for i := range classes {
		if h, ok := lastHook(&classes[i]); ok && h.Ended.After(ended.Ended) {
			best, ended = i, h
		}
	}
	return best
}

// lastHook returns the hook of a class that ended last with a result that counts, if there is one.
func lastHook(c *domain.Class) (last domain.Hook, ok bool) {
	for _, r := range c.Rounds {
		for _, h := range r.Hooks {
			if h.Result.Counts() && (!ok || !h.Ended.Before(last.Ended)) {
				last, ok = h, true
			}
		}
	}
	return last, ok
}

// lastOf shows who hooked last and what came of it; nobody before the first hook.
func lastOf(c *domain.Class) templates.StandingRow {
	h, ok := lastHook(c)
	if !ok {
		return templates.StandingRow{}
	}
	return templates.StandingRow{Puller: puller(c.Entry(h.Entry)), Outcome: screenOutcome(c, h.Entry, outcome(h.Result))}
}

// firstOf shows who stands first, and of those who share a place with the last of them as many as there is room for.
func firstOf(e domain.Event, c *domain.Class) []templates.StandingRow {
	rows := standing(e, c).Rows
	n := min(len(rows), screenPlaces)
	for n > 0 && n < min(len(rows), screenShared) && rows[n].Place == rows[n-1].Place {
		n++
	}
	placed := 0
	for _, p := range c.Standing() {
		if p.Place > 0 && placed < n {
			rows[placed].Outcome = screenOutcome(c, c.Entries[p.Row].ID, rows[placed].Outcome)
			placed++
		}
	}
	return rows[:n]
}

// screenOutcome shows the figure of a full pull where it decides: in a pull-off that goes on past the line. Other pages have
// it beside the words, for which a screen has no room.
func screenOutcome(c *domain.Class, entry uuid.UUID, o templates.Outcome) templates.Outcome {
	for _, r := range slices.Backward(c.Rounds) {
		result := r.ResultOf(entry)
		if !r.Name.PullOff || !result.Counts() {
			continue
		}
		if result.Outcome == domain.FullPull && !result.Distance.IsZero() && !c.Rules.EndsAtLine(r.Name) {
			o.Text = result.Distance.Figures()
		}
		return o
	}
	return o
}

// screenSentence says how far a class is, without its rules: who sits at a grandstand wants to know how long it goes.
func screenSentence(e domain.Event, c *domain.Class) string {
	if onNow(c) {
		return roundTitle(c.Current().Name) + " · " + turnOf(c)
	}
	words := stateWords(c)
	switch {
	case c.Phase() != domain.Decided:
	case c.Official.Made.IsZero():
		words += ", provisional"
	default:
		words += ", official since " + clock(e, c.Official.Made)
	}
	return strings.ToUpper(words[:1]) + words[1:]
}

// screenWinner is who won, with number and vehicle where one alone did; nobody until the class is decided.
func screenWinner(c *domain.Class) templates.Puller {
	names := winner(c)
	if names == "" {
		return templates.Puller{}
	}
	var first []uuid.UUID
	for _, p := range c.Standing() {
		if p.Place == 1 {
			first = append(first, c.Entries[p.Row].ID)
		}
	}
	if len(first) == 1 {
		return puller(c.Entry(first[0]))
	}
	return templates.Puller{Name: names}
}

// screenStrip is the strip with the lane of the current round alone: from far off one is enough.
func screenStrip(c *domain.Class) *templates.Strip {
	s := strip(c)
	if s != nil {
		s.Lanes = s.Lanes[len(s.Lanes)-1:]
	}
	return s
}
