package api

import (
	"bytes"
	"context"
	"net/http"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain/desk"
)

// versioned begins every public document: the number of the last journal line that it tells of. A document is the same
// for as long as its version is. That makes the version its entity tag, and a reader of a stream can tell whether the
// document that it has is older than what it was just told.
type versioned struct {
	Version int64 `json:"version"`
}

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
type readDocument func(context.Context) (any, error)

// shelved takes a public document from the shelf. The prefix of the key keeps it apart from the page of the same class,
// which lies on the same shelf.
func (s *Server) shelved(c echo.Context, key string, read readDocument) (*desk.Page, error) {
	return s.desk.Live().Page(c.Request().Context(), c.Param("event"), base+" "+key, func(ctx context.Context) (string, []byte, error) {
		document, err := read(ctx)
		if err != nil {
			return "", nil, err
		}
		body, err := encode(document)
		return jsonType, body, err
	})
}

// servePage answers with a document of the shelf: nothing when the reader has it, compressed when the reader can take
// that. The tag is strong, so that it differs with the compression (RFC 9110, section 8.8.3.3); both name the version.
//
//	GET /api/v1/events/harvest-pull/classes/field-stock     200, ETag: "57-gzip"
//	If-None-Match: "57-gzip"                                304, no body
func servePage(c echo.Context, page *desk.Page) error {
	version := strconv.FormatInt(versionOf(page.Body), 10)
	h := c.Response().Header()
	// It may be kept and must be asked about each time: what is a minute old may name the wrong puller on the track.
	h.Set("Cache-Control", "no-cache")
	h.Set("Vary", "Accept-Encoding")
	tag, body := `"`+version+`"`, page.Body
	if takesGzip(c.Request().Header.Get("Accept-Encoding")) {
		h.Set("Content-Encoding", "gzip")
		tag, body = `"`+version+gzipMark+`"`, page.Gzip
	}
	h.Set("ETag", tag)
	// RFC 9110, section 15.4.5: a 304 has the ETag, Vary and Cache-Control that the 200 would have had, and no coding,
	// since it has no content.
	if noneMatch(c.Request().Header.Get("If-None-Match"), version) {
		h.Del("Content-Encoding")
		return c.NoContent(http.StatusNotModified)
	}
	h.Set("Content-Length", strconv.Itoa(len(body)))
	return c.Blob(http.StatusOK, page.Type, body)
}

// gzipMark ends the version in the tag of a compressed document. Without it, a cache that adds or takes off the
// compression would make one tag name two different bodies.
const gzipMark = "-gzip"

// versionOf reads the version with which every public document begins, without parsing the whole of it.
func versionOf(body []byte) int64 {
	figures, _, _ := bytes.Cut(bytes.TrimPrefix(body, []byte(`{"version":`)), []byte(","))
	version, _ := strconv.ParseInt(string(figures), 10, 64) // a document without one would be a fault of this package
	return version
}

// versionIn reads the version in an entity tag, compressed or not, weakened on the way or not. What is no entity tag
// gives "", which is no version. `"57"`, `"57-gzip"` and `W/"57"` all give 57: what a program has read is the same
// class in each of them.
func versionIn(tag string) string {
	tag = strings.TrimPrefix(strings.TrimSpace(tag), "W/")
	if len(tag) < 2 || tag[0] != '"' || tag[len(tag)-1] != '"' {
		return ""
	}
	return strings.TrimSuffix(tag[1:len(tag)-1], gzipMark)
}

// noneMatch reports whether the reader has the version. RFC 9110, section 13.1.2, compares weakly here, because the two
// codings and a tag that was weakened on the way all mean that the reader is up to date. Tags of ours hold no comma, so
// that the header can be cut at each.
func noneMatch(header, version string) bool {
	for tag := range strings.SplitSeq(header, ",") {
		if tag = strings.TrimSpace(tag); tag == "*" || versionIn(tag) == version {
			return true
		}
	}
	return false
}

// takesGzip reports whether an Accept-Encoding lets the answer be compressed with gzip (RFC 9110, section 12.5.3). Its
// own weight counts before that of the asterisk; a weight of 0, and one that cannot be read, forbid it.
//
//	gzip, br        yes        gzip;q=0, *     no
//	*;q=0.5         yes        identity, ""    no
func takesGzip(header string) bool {
	others, named := false, false
	for coding := range strings.SplitSeq(header, ",") {
		name, parameters, _ := strings.Cut(coding, ";")
		weight, weighted := strings.CutPrefix(strings.ReplaceAll(parameters, " ", ""), "q=")
		value, err := strconv.ParseFloat(weight, 64)
		taken := !weighted || err == nil && value > 0
		switch strings.ToLower(strings.TrimSpace(name)) {
		case "gzip", "x-gzip":
			if named = true; taken {
				return true
			}
		case "*":
			others = taken
		}
	}
	return others && !named
}

// lastNumber is the number of the newest of the lines, which come newest first. 0 is the number before the first line.
func lastNumber(lines []desk.Line) int64 {
	if len(lines) == 0 {
		return 0
	}
	return lines[0].Number
}
