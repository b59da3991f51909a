//go:build !js

package webui

import (
	"context"
	"fmt"
	"slices"
	"strconv"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// spareRows are the empty lines at the end of a class sheet, for late entries.
const spareRows = 4

// sheet shows the class sheet of the current round to print: the order and empty columns. It is what the
// officials go on with when everything else fails.
func (s *Site) sheet(c echo.Context) error {
	return s.public(c, func(ctx context.Context) (templates.Page, error) {
		page, err := s.desk.ClassPage(ctx, ref(c))
		if err != nil {
			return nil, err
		}
		return s.sheetOf(c, page), nil
	})
}

// sheetOf lays the sheet out. Before the draw it is in the order of entry and says so; entries that are out are
// left out, and keep their position's number free.
func (s *Site) sheetOf(c echo.Context, page desk.ClassPage) templates.Sheet {
	class := &page.Class
	view := templates.Sheet{
		Frame: s.classView(c, page), Name: class.Name, When: dayOf(page.Event, *class), Where: where(page.Event, *class), Rules: firstUpper(class.Rules.Title) + ".",
		Unit: class.Rules.Unit().String(), Second: !class.Rules.RestartMark().IsZero(), Spare: spareRows, Print: printed(page.Event, page.Journal),
		Facts: facts(class), Setting: []templates.Term{{Label: "Box"}, {Label: "Gear"}, {Label: "Start hole"}, {Label: "Trip"}},
	}
	if !class.Rules.Speed.Limit.IsZero() {
		view.Speed = speedUnit(class)
	}
	r := class.Current()
	if r == nil {
		view.Round, view.Drawn = "Round 1", "Not drawn yet: in the order of entry"
		for i, p := range entered(class) {
			view.Rows = append(view.Rows, templates.SheetRow{Puller: p, Position: strconv.Itoa(i + 1)})
		}
		return view
	}
	view.Round = roundTitle(r.Name)
	view.Drawn = fmt.Sprintf("Drawn %s, seed %s", clock(page.Event, class.Draw.Drawn), class.Draw.Seed)
	for i, slot := range r.Lineup {
		if !slot.Out {
			view.Rows = append(view.Rows, templates.SheetRow{
				Puller: puller(class.Entry(slot.Entry)), Position: strconv.Itoa(i + 1), Noted: notedOf(r, slot.Entry),
			})
		}
	}
	if slices.ContainsFunc(view.Rows, func(row templates.SheetRow) bool { return row.Noted }) {
		view.Noted = notedBelow
	}
	if open := r.Open(); open != nil {
		view.Setting = settingLines(open.Setting, class.Sled)
		view.Box = boxOf(open.Setting, class.Sled.Card)
	}
	return view
}

// dayOf is the day of a class's session, "" where it is in none.
func dayOf(e domain.Event, c domain.Class) string {
	i := slices.IndexFunc(e.Sessions, func(s domain.Session) bool { return s.ID == c.Session })
	if i < 0 {
		return ""
	}
	return e.Sessions[i].Starts.In(e.Location()).Format(dayFormat)
}

// printed says as of when a print tells, by the time of the last change and its number in the journal: two prints can
// be told apart, and two of the same are the same.
func printed(e domain.Event, journal []desk.Line) string {
	if len(journal) == 0 {
		return ""
	}
	last := lastChange(journal)
	return fmt.Sprintf("As of %s, journal number %d", clock(e, last.At), last.Number)
}
