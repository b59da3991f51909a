//go:build !js

package webui

import (
	"bytes"
	"context"
	"net/http"
	"net/url"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain/desk"
	"clayline/webui/language"
	"clayline/webui/templates"
)

// htmlType is the media type of every page.
const htmlType = "text/html; charset=utf-8"

// public serves a public page of an event from the shelf: rendered once for a journal number, compressed then,
// and the same bytes for all its readers. build must depend on nothing of the request but its path and
// language, which are the key, and not on the clock, so that two processes render the same bytes.
func (s *Site) public(c echo.Context, build func(context.Context) (templates.Page, error)) error {
	page, err := s.desk.Live().Page(c.Request().Context(), c.Param("event"), keyOf(c), drawn(build))
	if err != nil {
		return err
	}
	sayAddress(c)
	return serve(c, page)
}

// sayAddress tells search engines the one address of a public page, whatever question stands behind it and however it is
// encoded, and where it is in each language. They want whole addresses, which the page does not know: it is the same under
// each name that the server has. So they stand beside it, as RFC 8288 has them.
func sayAddress(c echo.Context) {
	r, origin := c.Request(), server(c)
	path := (&url.URL{Path: r.URL.Path}).EscapedPath()
	links := []string{"<" + origin + language.Of(r.Context()).Href(path) + `>; rel="canonical"`}
	for _, l := range append([]*language.Language{nil}, language.Others()...) {
		links = append(links, "<"+origin+l.Href(path)+`>; rel="alternate"; hreflang="`+l.Tag()+`"`)
	}
	c.Response().Header().Set("Link", strings.Join(links, ", "))
}

// serverPage serves a public page that tells of many events from the shelf, as [Site.public] does one of an event.
func (s *Site) serverPage(c echo.Context, build func(context.Context) (templates.Page, error)) error {
	return s.serverPageOf(c, keyOf(c), build)
}

// serverPageOf is [Site.serverPage] under another key than the path.
func (s *Site) serverPageOf(c echo.Context, key string, build func(context.Context) (templates.Page, error)) error {
	page, err := s.desk.Live().ServerPage(c.Request().Context(), key, drawn(build))
	if err != nil {
		return err
	}
	return serve(c, page)
}

// drawn renders the page that build makes.
func drawn(build func(context.Context) (templates.Page, error)) desk.Render {
	return func(ctx context.Context) (desk.Rendered, error) {
		page, err := build(ctx)
		if err != nil {
			return desk.Rendered{}, err
		}
		body, err := inWords(ctx, page)
		return desk.Rendered{Type: htmlType, Body: body}, err
	}
}

// inWords renders a page in the language of the request.
func inWords(ctx context.Context, page templates.Page) ([]byte, error) {
	var body bytes.Buffer
	if err := page.Page().Render(ctx, &body); err != nil {
		return nil, err
	}
	said, _ := language.Say(ctx, body.Bytes())
	return said, nil
}

// serve answers with a page from the shelf: nothing when the reader has it, compressed when the reader can take
// that; see [desk.Page.Answer].
func serve(c echo.Context, page *desk.Page) error {
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
