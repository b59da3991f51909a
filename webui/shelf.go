package webui

import (
	"bytes"
	"context"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain/desk"
	"clayline/webui/templates"
)

// htmlType is the media type of every page.
const htmlType = "text/html; charset=utf-8"

// public serves a public page of an event from the shelf: rendered once for a journal number, compressed then,
// and the same bytes for all its readers. build must depend on nothing of the request but its path, which is
// the key.
func (s *Site) public(c echo.Context, build func(context.Context) (templates.Page, error)) error {
	page, err := s.desk.Live().Page(c.Request().Context(), c.Param("event"), c.Request().URL.Path, func(ctx context.Context) (string, []byte, error) {
		page, err := build(ctx)
		if err != nil {
			return "", nil, err
		}
		var body bytes.Buffer
		err = page.Page().Render(ctx, &body)
		return htmlType, body.Bytes(), err
	})
	if err != nil {
		return err
	}
	return serve(c, page)
}

// serve answers with a page from the shelf: nothing when the reader has it, compressed when the reader can take
// that. The reader is to ask each time: a page that is a minute old may name the wrong puller on the track.
func serve(c echo.Context, page *desk.Page) error {
	h := c.Response().Header()
	h.Set("ETag", page.Tag)
	h.Set("Cache-Control", "no-cache")
	// A cache on the way must not give the compressed bytes to somebody who cannot read them.
	h.Set("Vary", "Accept-Encoding")
	// The tag is weak and the same for both codings, so that it need not be taken apart: RFC 9110, section 13.1.2,
	// compares weakly, and a list of tags holds it as it was given.
	if strings.Contains(c.Request().Header.Get("If-None-Match"), page.Tag) {
		return c.NoContent(http.StatusNotModified)
	}
	body := page.Body
	if strings.Contains(c.Request().Header.Get("Accept-Encoding"), "gzip") {
		h.Set("Content-Encoding", "gzip")
		body = page.Gzip
	}
	return c.Blob(http.StatusOK, page.Type, body)
}
