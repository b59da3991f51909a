//go:build !js

package webui

import (
	"context"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/day"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// day shows how the day of an event runs against its plan. It is made of the journal's times alone, so that the page stays
// as it is until something is stored, and is the same for all its readers.
func (s *Site) day(c echo.Context) error {
	return s.public(c, func(ctx context.Context) (templates.Page, error) {
		page, err := s.desk.Live().Day(ctx, c.Param("event"))
		if err != nil {
			return nil, err
		}
		view := boardOf(page)
		view.Frame = s.publicFrame(c, page.Event, page.Journal)
		view.Stream = eventStream(page.Event)
		return view, nil
	})
}

// boardOf lays the page out, track by track and session by session.
func boardOf(page *desk.DayPage) templates.DayBoard {
	e := page.Event
	view := templates.DayBoard{Name: e.Name, Caution: day.Caution, Links: []templates.Link{
		{Text: "Programme", Href: eventHref(e)}, {Text: "As JSON", Href: "/api/v1/events/" + e.Slug + "/day"},
	}}
	for i, t := range page.Day.Tracks {
		shown := templates.DayTrack{Sentence: t.Sentence(e.Location()), Curfews: curfewWords(e, t), Known: knownToAll(t)}
		if len(e.Tracks) > 1 {
			shown.Name = t.Track.Name
		}
		for j, s := range e.Sessions {
			if part := boardSession(page, t, s); len(part.Rows) > 0 {
				part.ID = fmt.Sprintf("day-%d-%d", i+1, j+1)
				shown.Sessions = append(shown.Sessions, part)
			}
		}
		view.Tracks = append(view.Tracks, shown)
	}
	return view
}

// knownToAll says what was known beforehand where it is the same for every class of a track; "" where it is not.
func knownToAll(t day.Track) string {
	words := t.Classes[0].Words()
	for _, c := range t.Classes {
		if c.Words() != words {
			return ""
		}
	}
	return words
}

// curfewWords says what becomes of the curfews of a track.
func curfewWords(e domain.Event, t day.Track) (list []string) {
	for _, c := range t.Curfews {
		list = append(list, t.CurfewSentence(c, e.Location()))
	}
	return list
}

// boardSession is a session on a track, without rows where it has none there.
func boardSession(page *desk.DayPage, t day.Track, s domain.Session) templates.DaySession {
	e := page.Event
	part := templates.DaySession{Name: s.Name, Breaks: breakWords(e, s), Start: s.Starts.In(e.Location()).Format(dayFormat) + ", from " + clock(e, s.Starts)}
	part.Chart = templates.DayChart{Title: s.Name + ": planned and expected", Place: e.Location(), Curfew: s.Curfew}
	toCome := false
	for _, c := range t.Classes {
		if c.Session != s.ID {
			continue
		}
		part.Rows = append(part.Rows, boardRow(page, t, c))
		part.Chart.Bars = append(part.Chart.Bars, boardBar(c, t.AsOf))
		toCome = toCome || !c.Ends.IsZero()
	}
	// The line of now is on the picture of the session that is being pulled, or comes next.
	if near := t.AsOf.Sub(s.Starts); toCome && t.Begun && near > -time.Hour {
		part.Chart.AsOf = t.AsOf
	}
	return part
}

// boardRow is a class in figures.
func boardRow(page *desk.DayPage, t day.Track, c day.Class) templates.DayRow {
	e := page.Event
	row := templates.DayRow{Name: c.Name, Href: eventHref(e) + "/" + c.Slug, Begins: clock(e, c.Pulled.Start), Over: clock(e, c.Pulled.End)}
	for i := range page.Classes {
		if page.Classes[i].ID == c.ID {
			row.State = lineState(e, &page.Classes[i])
		}
	}
	if !c.Planned.Start.IsZero() {
		row.Planned = clock(e, c.Planned.Start) + "–" + clock(e, c.Planned.End)
	}
	if c.State == day.Empty {
		row.State = "nobody is entered yet, and nothing can be said"
	}
	if c.Ends.IsZero() {
		return row
	}
	row.Over, row.Remark = windowWords(e, c.Ends), "middle "+clock(e, c.Ends.Middle)
	if c.State == day.ToCome {
		row.Begins, row.Remark = windowWords(e, c.Starts), "middle "+clock(e, c.Starts.Middle)+" to "+clock(e, c.Ends.Middle)
	}
	if knownToAll(t) == "" {
		row.Remark += "; " + c.Words()
	}
	return row
}

// windowWords writes a window in minutes, the early end rounded down and the late one up: "19:38–20:04", and "11:00" where it
// is no wider than a moment.
func windowWords(e domain.Event, w day.Window) string {
	if atOnce(w) {
		return clock(e, w.Early)
	}
	return clock(e, w.Early) + "–" + clock(e, w.Late.Add(time.Minute-1))
}

// atOnce reports whether a window is no wider than a moment, such as the start of a session that nothing comes before.
func atOnce(w day.Window) bool { return w.Late.Sub(w.Early) < time.Minute }

// boardBar is a class in the picture.
func boardBar(c day.Class, asOf time.Time) templates.DayBar {
	bar := templates.DayBar{Name: c.Name, Start: c.Planned.Start, End: c.Planned.End, From: c.Pulled.Start, To: c.Pulled.End, Pulled: c.State == day.Done}
	if bar.Pulled && bar.To.IsZero() {
		bar.From = time.Time{} // stopped before anybody was called
	}
	if !c.Ends.IsZero() {
		bar.To, bar.Early, bar.Late = c.Ends.Middle, c.Ends.Early, c.Ends.Late
	}
	if c.State == day.ToCome && !c.Starts.IsZero() {
		bar.From, bar.Likely, bar.Latest = c.Starts.Middle, c.Starts.Early, c.Starts.Late
	}
	if bar.To.IsZero() && !bar.From.IsZero() {
		bar.To = asOf
	}
	return bar
}

// windowsOf says of each class of an event when it is likely pulled, by its id, for the programme.
func windowsOf(e domain.Event, d day.Day) map[uuid.UUID]string {
	words := make(map[uuid.UUID]string)
	for _, t := range d.Tracks {
		for _, c := range t.Classes {
			switch {
			case c.State == day.ToCome:
				words[c.ID] = "likely " + windowWords(e, c.Starts) + ", middle " + clock(e, c.Starts.Middle)
			case !c.Ends.IsZero():
				words[c.ID] = "likely over " + windowWords(e, c.Ends) + ", middle " + clock(e, c.Ends.Middle)
			}
		}
	}
	return words
}

// runs says in a sentence for each track how the day runs, and what becomes of its curfews; nothing once all is pulled.
func runs(e domain.Event, d day.Day) (list []templates.Run) {
	for _, t := range d.Tracks {
		if _, known := t.Behind(); !known {
			continue
		}
		track := ""
		if len(e.Tracks) > 1 {
			track = t.Track.Name
		}
		for _, says := range append([]string{t.Sentence(e.Location())}, curfewWords(e, t)...) {
			list = append(list, templates.Run{Track: track, Says: says})
		}
	}
	return list
}
