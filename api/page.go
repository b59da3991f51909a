package api

import (
	"context"
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"clayline/domain/desk"
)

// versioned begins every public document: the number of the last journal line that it tells of. A document is the same
// for as long as its version is. That makes the version the beginning of its entity tag, and a reader of a stream can tell whether the
// document that it has is older than what it was just told.
type versioned struct {
	Version int64 `json:"version"`
}

// mark is what the entity tag of the document begins with, so that a program can read the version from either.
func (v versioned) mark() string { return strconv.FormatInt(v.Version, 10) }

// document is a public document: its tag begins with its version.
type document interface{ mark() string }

// public serves a public document of an event from the shelf: rendered and compressed once for a journal number, and
// the same bytes for all its readers. Nothing is asked of the database while nothing happens. The key must name
// everything that the document depends on.
func (s *Server) public(c echo.Context, key string, read readDocument) error {
	page, err := s.shelved(c, key, read)
	if err != nil {
		return err
	}
	return servePage(c, page)
}

// readDocument reads a public document, to be rendered. It is called at most once for a journal number, however many
// readers ask at once.
type readDocument func(context.Context) (document, error)

// shelved takes a public document from the shelf. The prefix of the key keeps it apart from the page of the same class,
// which lies on the same shelf.
func (s *Server) shelved(c echo.Context, key string, read readDocument) (*desk.Page, error) {
	return s.desk.Live().Page(c.Request().Context(), c.Param("event"), base+" "+key, func(ctx context.Context) (desk.Rendered, error) {
		document, err := read(ctx)
		if err != nil {
			return desk.Rendered{}, err
		}
		body, err := encode(document)
		return desk.Rendered{Type: jsonType, Body: body, Mark: document.mark()}, err
	})
}

// loose serves a public document that is of no event: it is made for each reader, and has a tag all the same.
func (s *Server) loose(c echo.Context, document any) error {
	body, err := encode(document)
	if err != nil {
		return err
	}
	return servePage(c, s.desk.Live().Loose(desk.Rendered{Type: jsonType, Body: body}))
}

// servePage answers with a document: nothing when the reader has it, compressed when the reader can take that; see
// [desk.Page.Answer].
//
//	GET /api/v1/events/harvest-pull/classes/field-stock     200, ETag: "57-9c1f3a…-gzip"
//	If-None-Match: "57-9c1f3a…-gzip"                        304, no body
func servePage(c echo.Context, page *desk.Page) error {
	asked := c.Request().Header
	answer, err := page.Answer(asked.Get("Accept-Encoding"), asked.Get("If-None-Match"))
	if err != nil {
		return err
	}
	for name, value := range answer.Header {
		c.Response().Header().Set(name, value)
	}
	if answer.Same {
		return c.NoContent(http.StatusNotModified)
	}
	return c.Blob(http.StatusOK, page.Type, answer.Body)
}

// lastNumber is the number of the newest of the lines, which come newest first. 0 is the number before the first line.
func lastNumber(lines []desk.Line) int64 {
	if len(lines) == 0 {
		return 0
	}
	return lines[0].Number
}
