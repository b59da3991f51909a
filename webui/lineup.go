//go:build !js

package webui

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// lineupActs are what the steward may send, by the last part of the address.
var lineupActs = acts{"presence": presenceAct}

// lineup shows who is still to hook, to a pass for the lane, the booth or the desk.
func (s *Site) lineup(c echo.Context) error {
	by, page, err := s.classPage(c.Request().Context(), c, domain.Lane|domain.Booth|domain.Desk)
	if err != nil {
		return err
	}
	return show(c, http.StatusOK, s.lineupOf(c, by, page, nil))
}

// lineupAct does what the steward sent.
func (s *Site) lineupAct(c echo.Context) error {
	return s.act(c, domain.Lane|domain.Booth|domain.Desk, "lane", lineupActs, func(by desk.By, page desk.ClassPage, no *refused) templates.Page {
		return s.lineupOf(c, by, page, no)
	})
}

// presenceAct reads where a puller is.
func presenceAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	entry, err := id(values, fieldEntry)
	if err != nil {
		return nil, err
	}
	where, err := domain.ParseWhere(values.Get(templates.FieldWhere))
	return domain.SayWhere{Entry: entry, Where: where}, err
}

// sentNext is how many a steward sends ahead.
const sentNext = 3

// lineupOf lays the page out; no is the form that was refused, or nil. The other tracks of the event are read for it; where
// they cannot be, the page has its own class alone.
func (s *Site) lineupOf(c echo.Context, by desk.By, page desk.ClassPage, no *refused) templates.Lineup {
	class := &page.Class
	view := templates.Lineup{
		Frame: s.classFrame(c, page, by), Class: class.Name, Sentence: "Nobody is on the track.", Tracks: s.otherTracks(c, page),
		Links: []templates.Link{{Text: "The class that is pulled now", Href: eventHref(page.Event) + "/lane"}, {Text: "Flag", Href: classHref(page.Event, *class) + "/flag"}, {Text: "The class as everybody sees it", Href: classHref(page.Event, *class)}},
	}
	view.Stream, view.Awake = classStream(page.Event, class), true
	if on := class.OnTrack(); on != nil && !on.Started.IsZero() {
		view.Sentence = "On the track, and started: " + named(class.Entry(on.Entry)) + "."
	} else if on != nil {
		view.Sentence = "Called to the track: " + named(class.Entry(on.Entry)) + "."
	} else if chooses(class) {
		view.Sentence = "A choice is open, which may change who is next."
	}
	rows, count := lineRows(page.Event, class, classHref(page.Event, *class)+"/lane/presence", no)
	view.Next, view.After, view.Count = rows[:min(len(rows), sentNext)], rows[min(len(rows), sentNext):], count
	if len(rows) == 0 {
		view.Quiet = &templates.Quiet{Text: "Nobody is to hook.", Next: awaited(class) + "."}
	} else {
		view.Cooling = "After a re-hook: " + lowerWords(cooling(class.Rules))
	}
	if no != nil && !slices.ContainsFunc(rows, func(r templates.LineRow) bool { return tells(r.Says) }) {
		view.Notice = no.told()
	}
	return view
}

// lowerWords is a sentence as it stands after a colon.
func lowerWords(s string) string { return strings.ToLower(s[:1]) + s[1:] }

// lineRows are those who are still to hook, with their presses, and how many of them are where.
func lineRows(e domain.Event, c *domain.Class, action string, no *refused) (rows []templates.LineRow, count string) {
	list, on := c.InLine(), c.OnTrack()
	counts := map[domain.Where]int{}
	for i, l := range list {
		row := templates.LineRow{
			Seen: templates.Seen{Puller: puller(c.Entry(l.Entry)), Words: presenceWords(e, l)}, Where: l.Where.String(),
			Says: no.of(fieldEntry, l.Entry).make("presence", action, nil, templates.Hidden{Name: fieldEntry, Value: l.Entry.String()}),
		}
		// With somebody on the track the first who waits is next; with nobody, the first of all is, unless a choice may
		// change that.
		later := i
		if on != nil && !on.Started.IsZero() {
			later++
		}
		if !chooses(c) {
			row.Turn = turnWords(later, on != nil)
		}
		counts[l.Where]++
		rows = append(rows, row)
	}
	var words []string
	for _, w := range []domain.Where{domain.Here, domain.Missing, domain.Cooling} {
		if counts[w] > 0 {
			words = append(words, fmt.Sprintf("%d %s", counts[w], whereWords(w)))
		}
	}
	if counts[0] > 0 {
		words = append(words, fmt.Sprintf("%d not seen", counts[0]))
	}
	return rows, strings.Join(words, " · ")
}

// turnWords say whose turn it is, counted from whoever is on the track or, where nobody is, from who is called next.
func turnWords(later int, called bool) string {
	switch {
	case later == 0 && called:
		return "called"
	case later == 0 || later == 1 && called:
		return "next"
	case !called:
		return counted(later, "hook") + " after that"
	default:
		return counted(later, "hook") + " later"
	}
}

// otherTracks are who is next in the class at hand on each other track, where somebody is.
func (s *Site) otherTracks(c echo.Context, page desk.ClassPage) (list []templates.OtherTrack) {
	if len(page.Event.Tracks) < 2 {
		return nil
	}
	read, err := s.desk.EventPage(c.Request().Context(), page.Event.Slug)
	if err != nil {
		s.log.Warn("the line-up goes without the other tracks", "event", page.Event.ID, "error", err)
		return nil
	}
	for _, t := range read.Event.Tracks {
		classes := slices.DeleteFunc(slices.Clone(read.Classes), func(c domain.Class) bool { return c.Track != t.ID })
		if t.ID == page.Class.Track || len(classes) == 0 {
			continue
		}
		class := &classes[inHand(classes)]
		line := class.InLine()
		other := templates.OtherTrack{Track: t.Name, Class: templates.Link{Text: class.Name, Href: classHref(read.Event, *class) + "/lane"}}
		for _, l := range line[:min(len(line), sentNext)] {
			other.Next = append(other.Next, templates.Seen{Puller: puller(class.Entry(l.Entry)), Words: presenceWords(read.Event, l)})
		}
		if len(line) > 0 {
			list = append(list, other)
		}
	}
	return list
}
