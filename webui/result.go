//go:build !js

package webui

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// result shows the result of a class to print and pin up. It is the page of the class without what changes.
func (s *Site) result(c echo.Context) error {
	return s.public(c, func(ctx context.Context) (templates.Page, error) {
		page, err := s.desk.ClassPage(ctx, ref(c))
		if err != nil {
			return nil, err
		}
		class, told := &page.Class, page.Class.Told()
		pulled, noted := marked(rounds(page.Event, &told))
		return templates.Result{
			Frame: s.classView(c, page), Name: class.Name, When: dayOf(page.Event, *class), Where: where(page.Event, *class), Rules: firstUpper(class.Rules.Title) + ".",
			Winner: winner(class), Standing: standing(page.Event, &told), Points: pointsOf(page.Event, class), Rounds: pulled, Noted: noted,
			Messages: append(course(page.Event, class), messages(class)...), Facts: facts(class),
			Draw: drawProof(page.Event, class), Print: printed(page.Event, page.Journal),
			Protests: protests(page.Event, class), Revisions: revisions(page.Event, class),
		}, nil
	})
}

// results shows the results of all classes of an event to print, in the order of the programme.
func (s *Site) results(c echo.Context) error {
	return s.public(c, func(ctx context.Context) (templates.Page, error) {
		page, err := s.desk.EventPage(ctx, c.Param("event"))
		if err != nil {
			return nil, err
		}
		return s.resultsOf(c, page), nil
	})
}

// resultsOf lays the print of an event out. Within a session the classes are in the order of the programme.
func (s *Site) resultsOf(c echo.Context, page desk.EventPage) templates.Results {
	e := page.Event
	view := templates.Results{
		Frame: s.publicFrame(c, e, page.Journal), Name: e.Name, Place: e.Place, Dates: dates(e), Print: printed(e, page.Journal),
		Back: templates.Link{Text: "The event", Href: eventHref(e)},
	}
	official := 0
	for _, session := range e.Sessions {
		for i := range page.Classes {
			if class := &page.Classes[i]; class.Session == session.ID {
				view.Classes = append(view.Classes, classResult(e, class))
				if !class.Official.Made.IsZero() {
					official++
				}
			}
		}
	}
	view.State = fmt.Sprintf("%d of %d classes official", official, len(view.Classes))
	return view
}

// classResult is one class of the print: a line for each entry, with a column for each round.
func classResult(e domain.Event, c *domain.Class) templates.ClassResult {
	view := templates.ClassResult{
		ID: c.Slug, Name: c.Name, When: dayOf(e, *c), Where: where(e, *c), Rules: firstUpper(c.Rules.Title) + ".", Unit: c.Rules.Unit().String(),
		State: resultState(e, c), Official: !c.Official.Made.IsZero(), Winner: winner(c), Messages: append(course(e, c), messages(c)...), Facts: facts(c), Draw: drawProof(e, c),
		Total: c.Rules.Rounds > 1, Notes: resultNotes(e, c),
	}
	told := c.Told()
	view.Rounds, view.Noted = marked(rounds(e, &told))
	slices.Reverse(view.Rounds) // as they were pulled
	ranking := standing(e, &told)
	for _, row := range append(ranking.Rows, ranking.Unplaced...) {
		view.Rows = append(view.Rows, resultRow(view.Rounds, row))
	}
	view.Rows = append(view.Rows, waitingRows(view)...)
	if points := pointsOf(e, c); points != nil {
		view.Points = true
		for i := range view.Rows {
			view.Rows[i].Points = points.Of(view.Rows[i].Number)
		}
	}
	return view
}

// resultState says since when and by whom the result is official, or how far a class is that is not decided.
func resultState(e domain.Event, c *domain.Class) string {
	switch {
	case !c.Official.Made.IsZero():
		return officialWords(e, c)
	case c.Phase() == domain.Decided:
		return ""
	default:
		return stateWords(c)
	}
}

// waitingRows are the entries of the rounds that stand nowhere yet, in hook order: they have not hooked.
func waitingRows(view templates.ClassResult) (list []templates.ResultRow) {
	known := make(map[string]bool)
	for _, row := range view.Rows {
		known[row.Number] = true
	}
	for _, r := range view.Rounds {
		for _, o := range r.Order {
			if !known[o.Number] {
				known[o.Number] = true
				list = append(list, resultRow(view.Rounds, templates.StandingRow{Puller: o.Puller}))
			}
		}
	}
	return list
}

// resultRow gathers what became of an entry in each round. A remark says its round where there are several. What the
// standing knows beside the rounds, that somebody withdrew or was scratched, comes last.
func resultRow(rounds []templates.Round, row templates.StandingRow) templates.ResultRow {
	view := templates.ResultRow{Puller: row.Puller, Place: row.Place, Total: row.Text}
	for _, r := range rounds {
		var cell templates.ResultCell
		for _, o := range r.Order {
			if o.Number != row.Number {
				continue
			}
			cell = templates.ResultCell{Outcome: o.Outcome, Hook: o.Position}
			for _, remark := range o.Remarks {
				if remark == o.Typed {
					view.Typed = append(view.Typed, remark)
				}
				if len(rounds) > 1 {
					remark = r.Name + ": " + remark
				}
				view.Remarks = append(view.Remarks, remark)
			}
		}
		view.Cells = append(view.Cells, cell)
	}
	switch {
	case row.Kind == templates.Absent && row.Text != "absent":
		view.Remarks = append(view.Remarks, strings.Join(append([]string{row.Text}, row.Remarks...), ": "))
	case row.Kind == templates.Measured && row.Place == "":
		view.Remarks = append(view.Remarks, row.Remarks...)
	}
	return view
}
