package api

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"net/url"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
)

// seasonList is the list of the seasons of this server.
type seasonList struct {
	Seasons []seasonLine `json:"seasons"`
}

// seasonLine is a season in the list. Version counts its documents.
type seasonLine struct {
	Slug    string    `json:"slug"`
	ID      uuid.UUID `json:"id"`
	Name    string    `json:"name"`
	Version int       `json:"version"`
}

// seasonStanding is a season with its standing. Where it cannot be added up now, Fault says why, and no series is there.
type seasonStanding struct {
	seasonLine
	Fault   string             `json:"fault,omitempty"`
	Series  []doc.SeriesScored `json:"series"`
	Records []doc.RecordOf     `json:"records"`
}

// seasonDocument is the document of a season, for the desk.
type seasonDocument struct {
	seasonLine
	Document json.RawMessage `json:"document"`
}

// recordList is the records of this server.
type recordList struct {
	Records []doc.RecordOf `json:"records"`
}

// seasonLineOf writes a season as the list has it.
func seasonLineOf(s desk.Season) seasonLine {
	return seasonLine{Slug: s.Slug, ID: s.ID, Name: s.Name, Version: s.Version()}
}

// ofServer serves a public document that tells of many events, from the shelf, as [Server.public] does one of an event.
func (s *Server) ofServer(c echo.Context, key string, read func(context.Context) (any, error)) error {
	page, err := s.desk.Live().ServerPage(c.Request().Context(), base+" "+key, func(ctx context.Context) (desk.Rendered, error) {
		document, err := read(ctx)
		if err != nil {
			return desk.Rendered{}, err
		}
		body, err := encode(document)
		return desk.Rendered{Type: jsonType, Body: body}, err
	})
	if err != nil {
		return err
	}
	return servePage(c, page)
}

// seasons lists the seasons by name.
func (s *Server) seasons(c echo.Context) error {
	return s.ofServer(c, "seasons", func(ctx context.Context) (any, error) {
		all, err := s.desk.Seasons(ctx)
		list := seasonList{Seasons: make([]seasonLine, len(all))}
		for i, season := range all {
			list.Seasons[i] = seasonLineOf(season)
		}
		return list, err
	})
}

// season shows the standing of a season.
func (s *Server) season(c echo.Context) error {
	return s.ofServer(c, "season "+c.Param("season"), func(ctx context.Context) (any, error) {
		page, err := s.desk.SeasonPage(ctx, c.Param("season"))
		told := seasonStanding{seasonLine: seasonLineOf(page.Season), Series: []doc.SeriesScored{}, Records: []doc.RecordOf{}}
		if page.Fault != nil {
			told.Fault = page.Fault.Error()
		}
		told.Series, told.Records = append(told.Series, page.Scored.Series...), append(told.Records, page.Scored.Records...)
		return told, err
	})
}

// records shows the records of this server.
func (s *Server) records(c echo.Context) error {
	return s.ofServer(c, "records", func(ctx context.Context) (any, error) {
		records, err := s.desk.Records(ctx)
		return recordList{Records: append([]doc.RecordOf{}, doc.RecordsOf(records)...)}, err
	})
}

// seasonDocument shows the desk of the server the document that it wrote.
func (s *Server) seasonDocument(c echo.Context) error {
	by, err := s.who(c)
	if err != nil {
		return err
	}
	if err := by.May(domain.Desk, uuid.Nil); err != nil {
		return err
	}
	page, err := s.desk.SeasonPage(c.Request().Context(), c.Param("season"))
	if err != nil {
		return err
	}
	return send(c, http.StatusOK, seasonDocument{seasonLine: seasonLineOf(page.Season), Document: json.RawMessage(page.Season.Document)})
}

// addSeason puts a season on this server: {"document": {"name": "Valley series", …}}.
func (s *Server) addSeason(c echo.Context) error {
	in, err := s.receive(c)
	if err != nil {
		return err
	}
	document := readSeason(in.body)
	if err := in.body.done(); err != nil {
		return err
	}
	season, receipt, err := s.desk.KeepSeason(c.Request().Context(), in.by, "", in.key, 0, document)
	if err != nil {
		return seasonFault(err)
	}
	return created(c, version1+"/seasons/"+url.PathEscape(season.Slug), receipt, named{Season: season.Slug, ID: &season.ID})
}

// writeSeason writes a season anew: the document as it is to be, and the version that was looked at.
func (s *Server) writeSeason(c echo.Context) error {
	in, err := s.receive(c)
	if err != nil {
		return err
	}
	document, version := readSeason(in.body), in.body.whole("version")
	if err := in.body.done(); err != nil {
		return err
	}
	season, receipt, err := s.desk.KeepSeason(c.Request().Context(), in.by, c.Param("season"), in.key, version, document)
	if err != nil {
		return seasonFault(err)
	}
	return answer(c, http.StatusOK, receipt, named{Season: season.Slug, ID: &season.ID})
}

// readSeason reads the document of a season, whose names are all known to its own reader. It is kept with its names in the
// order of the alphabet and a line for each, so that a fault has a line.
func readSeason(o *object) string {
	inner := o.inner("document")
	raw, err := json.MarshalIndent(inner.fields, "", "  ")
	if err != nil {
		o.keep("document", err)
	}
	return string(raw)
}

// seasonFault says where in the body a fault of a season stands: document.events[0].name.
func seasonFault(err error) error {
	if fault, ok := errors.AsType[*doc.SeasonError](err); ok && fault.Field != "" {
		return invalid(join("document", fault.Field), fault.Message, fault.Fix)
	}
	return err
}
