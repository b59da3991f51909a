//go:build !js

package webui

import (
	"fmt"
	"net/http"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// earlier shows the settings of earlier classes that are the same in what the address asks, in everything at first.
func (s *Site) earlier(c echo.Context) error {
	by, err := s.may(c, domain.Desk|domain.Cab)
	if err != nil {
		return err
	}
	query, same := c.QueryParams(), desk.Same{Class: true, Track: true, Sled: true}
	if query.Has(templates.FieldSearch) {
		same = desk.Same{Class: query.Has(templates.FieldSameClass), Track: query.Has(templates.FieldSameTrack), Sled: query.Has(templates.FieldSameSled)}
	}
	page, found, err := s.desk.Earlier(c.Request().Context(), ref(c), same)
	if err != nil {
		return err
	}
	if err := mayAt(by, page.Event.ID); err != nil {
		return err
	}
	c.Response().Header().Set("Cache-Control", "no-store")
	return show(c, http.StatusOK, s.earlierOf(c, by, page, same, found))
}

// earlierOf lays the page out. A setting can be filled in by the desk alone, and while the form for it is there.
func (s *Site) earlierOf(c echo.Context, by desk.By, page desk.ClassPage, same desk.Same, found []desk.EarlierClass) templates.Earlier {
	class := &page.Class
	view := templates.Earlier{
		Frame: s.classFrame(c, page, by), Class: class.Name, Action: classHref(page.Event, *class) + "/earlier", Why: whyNotFilled(by, page), Bound: fmt.Sprintf("The newest %d classes at most are shown.", desk.MostEarlier),
		Same: []templates.Tick{
			{Name: templates.FieldSameClass, Text: "this class", On: same.Class},
			{Name: templates.FieldSameTrack, Text: "this track", On: same.Track},
			{Name: templates.FieldSameSled, Text: "this sled, " + class.Sled.Name, On: same.Sled},
		},
		Back: templates.Link{Text: "Back to the cab", Href: classHref(page.Event, *class) + "/cab"},
	}
	if by.Role&domain.Desk != 0 {
		view.Back = templates.Link{Text: "Back to the desk of the class", Href: classHref(page.Event, *class) + "/desk"}
	}
	for _, e := range found {
		view.Days = append(view.Days, earlierDay(page, e, view.Why == ""))
	}
	if len(found) == 0 {
		view.Quiet = &templates.Quiet{Text: "No earlier class is the same in all of this.", Next: "Untick something and search again."}
	}
	return view
}

// whyNotFilled says why no setting can be filled in, "" where one can.
func whyNotFilled(by desk.By, page desk.ClassPage) string {
	switch {
	case by.Role&domain.Desk == 0:
		return "The desk writes the setting; this page is to compare."
	case page.Class.Current() == nil:
		return "A setting is written for a round, once the class is drawn."
	case !page.Class.Drafting():
		return "No setting can be written now; this page is to compare."
	default:
		return ""
	}
}

// earlierDay lays out one earlier class: its frozen settings, round by round.
func earlierDay(page desk.ClassPage, e desk.EarlierClass, fill bool) templates.EarlierDay {
	c := &e.Class
	day := templates.EarlierDay{
		Date: e.Event.Sessions[0].Starts.In(e.Event.Location()).Format(dateFormat), Event: e.Event.Name,
		Class: templates.Link{Text: c.Name, Href: classHref(e.Event, *c)}, Where: e.Event.Tracks[0].Name + " · " + c.Sled.Name,
	}
	for i := range c.Rounds {
		r := &c.Rounds[i]
		for _, rev := range r.Revisions {
			if rev.Draft() {
				continue
			}
			line := templates.EarlierSetting{
				Setting: templates.Setting{Name: fmt.Sprintf("Setting %d", rev.Number), Lines: settingLines(rev.Setting, c.Sled)},
				Round:   roundTitle(r.Name), Went: went(r.Spread(rev.Number)),
			}
			if fill {
				line.Use = settingFill(page, rev.Setting)
			}
			day.Settings = append(day.Settings, line)
		}
	}
	return day
}

// went says how the hooks against a setting went.
func went(s domain.Spread) []string {
	if s.Hooks == 0 {
		return []string{"no hook counts"}
	}
	list := []string{counted(s.Hooks, "hook"), counted(s.FullPulls, "full pull")}
	if s.Disqualified > 0 {
		list = append(list, fmt.Sprintf("%d disqualified", s.Disqualified))
	}
	if !s.Best.IsZero() {
		list = append(list, "best "+s.Best.String())
	}
	if !s.Median.IsZero() {
		list = append(list, fmt.Sprintf("distances %s to %s, median %s", s.Least.Figures(), s.Most, s.Median))
	}
	if !s.Top.IsZero() {
		list = append(list, "top speed "+s.Top.String())
	}
	return list
}
