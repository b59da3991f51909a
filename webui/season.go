//go:build !js

package webui

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
	"clayline/webui/templates"
)

// seasonHref is the address of a season, seasonDeskHref that of its document at the desk; "" is the list of either.
func seasonHref(slug string) string     { return strings.TrimSuffix("/season/"+slug, "/") }
func seasonDeskHref(slug string) string { return "/desk" + seasonHref(slug) }

// seasons lists the seasons of this server.
func (s *Site) seasons(c echo.Context) error {
	return s.serverPage(c, func(ctx context.Context) (templates.Page, error) {
		list, err := s.desk.Seasons(ctx)
		if err != nil {
			return nil, err
		}
		return templates.Seasons{Frame: bare(c), Seasons: seasonLinks(list, seasonHref)}, nil
	})
}

// seasonLinks lists seasons with the addresses that href gives.
func seasonLinks(list []desk.Season, href func(string) string) []templates.Link {
	links := make([]templates.Link, len(list))
	for i, season := range list {
		links[i] = templates.Link{Name: season.Name, Href: href(season.Slug)}
	}
	return links
}

// season shows the standing of a season, to read and to print.
func (s *Site) season(c echo.Context) error {
	return s.serverPage(c, func(ctx context.Context) (templates.Page, error) {
		page, err := s.desk.SeasonPage(ctx, c.Param("season"))
		if err != nil {
			return nil, err
		}
		view := seasonOf(page)
		view.Frame = bare(c)
		return view, nil
	})
}

// seasonFile serves the standing of a season as a file; what cannot be added up is no file.
func (s *Site) seasonFile(x export, write func(doc.SeasonScored, io.Writer) error) echo.HandlerFunc {
	return func(c echo.Context) error {
		page, err := s.desk.Live().ServerPage(c.Request().Context(), c.Request().URL.Path, func(ctx context.Context) (desk.Rendered, error) {
			page, err := s.desk.SeasonPage(ctx, c.Param("season"))
			if err != nil {
				return desk.Rendered{}, err
			}
			if page.Fault != nil {
				return desk.Rendered{}, page.Fault
			}
			var body bytes.Buffer
			err = write(page.Scored, &body)
			return desk.Rendered{Type: x.mediaType, Body: body.Bytes()}, err
		})
		if err != nil {
			return err
		}
		c.Response().Header().Set("Content-Disposition", x.disposition("season-"+c.Param("season")))
		c.Response().Header().Set("Access-Control-Allow-Origin", "*")
		return serve(c, page)
	}
}

// seasonOf lays the standing of a season out.
func seasonOf(page desk.SeasonPage) templates.Season {
	view := templates.Season{Name: page.Season.Name, Records: recordTracks(page.Scored.Records)}
	view.Links = []templates.Link{
		{Text: "Standing as CSV", Href: seasonHref(page.Season.Slug) + "/standing.csv"},
		{Text: "Standing as JSON", Href: seasonHref(page.Season.Slug) + "/standing.json"},
		{Text: "Other seasons", Href: seasonHref("")},
	}
	if page.Fault != nil {
		view.Links, view.Fault = view.Links[2:], seasonFault(page.Fault)
	}
	for i, series := range page.Scored.Series {
		shown := templates.SeasonSeries{ID: "series-" + strconv.Itoa(i+1), Name: series.Series, Pulls: "No pull is official yet."}
		if n := len(series.Events); n > 0 {
			shown.Pulls = plural(n, "pull", "pulls") + ": " + strings.Join(series.Events, ", ") + "."
		}
		if len(series.Waiting) > 0 {
			shown.Waiting = "To come, once the result is official: " + strings.Join(series.Waiting, ", ") + "."
		}
		for _, p := range series.Standing {
			shown.Rows = append(shown.Rows, seasonRow(p, series.To))
		}
		view.Series = append(view.Series, shown)
	}
	return view
}

// seasonRow is one entrant. Where the points are the driver's there is no number.
func seasonRow(p doc.SeasonPlaced, to string) templates.SeasonRow {
	row := templates.SeasonRow{Puller: templates.Puller{Number: p.Entrant, Name: p.Puller}, Points: p.Points, Note: firstUpper(p.Note)}
	if to == "driver" {
		row.Puller = templates.Puller{Name: p.Entrant}
	}
	if p.Place != nil {
		row.Place = strconv.Itoa(*p.Place)
	}
	if p.Shared {
		row.Place += "="
	}
	if p.Penalty != "" {
		row.Note = strings.TrimSpace(p.Penalty + " points taken away. " + row.Note)
	}
	pulls := make([]string, len(p.Pulls))
	for i, pull := range p.Pulls {
		pulls[i] = pull.Event + " " + pull.Cell()
	}
	row.Vehicle = strings.Join(pulls, " · ")
	return row
}

// seasonFault says why a season that was kept cannot be added up now.
func seasonFault(fault error) string {
	return sentence("this season cannot be added up as the classes are now: " + fault.Error())
}

// seasonDesk shows the desk of the server the document of a season, or a form for another where the address names none.
func (s *Site) seasonDesk(c echo.Context) error {
	by, err := s.mayPlan(c)
	if err != nil {
		return err
	}
	return s.showSeasonDesk(c, http.StatusOK, by, nil)
}

// keepSeason stores the document of a season, a new one where the address names none, and leads to it.
func (s *Site) keepSeason(c echo.Context) error {
	by, err := s.mayPlan(c)
	if err != nil {
		return err
	}
	values, action, err := sent(c)
	if err != nil {
		return err
	}
	version, err := number(values, fieldVersion, "the version")
	if err != nil {
		return err
	}
	// A browser sends the lines of a field with a carriage return before the line feed.
	document := strings.ReplaceAll(values.Get(templates.FieldDocument), "\r\n", "\n")
	season, _, err := s.desk.KeepSeason(c.Request().Context(), by, c.Param("season"), action, version, document)
	if no := refusal("season", values, err); no != nil {
		return s.showSeasonDesk(c, statuses[no.err.Kind], by, no)
	}
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, seasonDeskHref(season.Slug))
}

// showSeasonDesk shows the form with the document of the season that the address names, or with a draft for another.
func (s *Site) showSeasonDesk(c echo.Context, status int, by desk.By, no *refused) error {
	ctx, slug := c.Request().Context(), c.Param("season")
	seasons, err := s.desk.Seasons(ctx)
	if err != nil {
		return err
	}
	view := templates.SeasonDesk{Frame: s.frame(c, domain.Event{}, by), Seasons: seasonLinks(seasons, seasonDeskHref)}
	view.EventHref, view.AsOf = "/desk", ""
	kept := ""
	version := 0
	if slug != "" {
		page, err := s.desk.SeasonPage(ctx, slug)
		if err != nil {
			return err
		}
		kept, version, view.Name = page.Season.Document, page.Season.Version(), page.Season.Name
		view.Public, view.Journal = templates.Link{Text: "The season as everybody sees it", Href: seasonHref(slug)}, journalLines(domain.Event{}, nil, page.Journal)
		if page.Fault != nil {
			view.Notice = seasonFault(page.Fault)
		}
	} else if kept, err = s.seasonDraft(ctx); err != nil {
		return err
	}
	view.Form = *no.make("season", seasonDeskHref(slug), []string{templates.FieldDocument}, templates.Hidden{Name: fieldVersion, Value: strconv.Itoa(version)})
	if no == nil {
		view.Form.Values = map[string]string{templates.FieldDocument: kept}
	}
	c.Response().Header().Set("Cache-Control", "no-store")
	return show(c, status, view)
}

// seasonDraft is a season to begin with: the classes of the newest event, by their addresses.
func (s *Site) seasonDraft(ctx context.Context) (string, error) {
	name := fmt.Sprintf("Season %d", s.now().Year())
	events, err := s.desk.Events(ctx)
	if err != nil || len(events) == 0 {
		return doc.SeasonDraft(name, domain.Event{}, nil), err
	}
	page, err := s.desk.EventPage(ctx, events[0].Slug)
	return doc.SeasonDraft(name, page.Event, page.Classes), err
}
