//go:build !js

package webui

import (
	"bytes"
	"context"
	"io"
	"mime"
	"net/http"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
)

// export is a form in which results leave. write is one of the methods of [doc.Result].
type export struct {
	ending    string // of the file
	mediaType string
	// how says whether a browser keeps the file or shows it.
	how   string
	write func(doc.Result, io.Writer) error
}

// The forms in which results leave. A table is kept as a file, to be opened in a spreadsheet; JSON is shown, to be
// looked into. That the CSV has a header is said with the parameter of RFC 4180, section 3.
var (
	csvExport  = export{ending: ".csv", mediaType: "text/csv; charset=utf-8; header=present", how: "attachment", write: doc.Result.WriteCSV}
	jsonExport = export{ending: ".json", mediaType: "application/json", how: "inline", write: doc.Result.WriteJSON}
)

// classExport serves what was decided in a class. There is a result at any time: what is not decided yet says so.
func (s *Site) classExport(x export) echo.HandlerFunc {
	return func(c echo.Context) error {
		name := c.Param("event") + "-" + c.Param("class") + "-result"
		return s.export(c, x, name, func(ctx context.Context) (doc.Result, error) {
			page, err := s.desk.ClassPage(ctx, ref(c))
			if err != nil {
				return doc.Result{}, err
			}
			return doc.ResultOf(page.Event, []domain.Class{page.Class}), nil
		})
	}
}

// eventExport serves what was decided in all classes of an event.
func (s *Site) eventExport(x export) echo.HandlerFunc {
	return func(c echo.Context) error {
		return s.export(c, x, c.Param("event")+"-results", func(ctx context.Context) (doc.Result, error) {
			page, err := s.desk.EventPage(ctx, c.Param("event"))
			if err != nil {
				return doc.Result{}, err
			}
			return doc.ResultOf(page.Event, page.Classes), nil
		})
	}
}

// export serves a result from the shelf, as a file of that name. The path is the key, and has the ending in it, so that
// the two forms lie apart.
func (s *Site) export(c echo.Context, x export, name string, read func(context.Context) (doc.Result, error)) error {
	return s.file(c, x, name, func(ctx context.Context, w io.Writer) error {
		result, err := read(ctx)
		if err != nil {
			return err
		}
		return x.write(result, w)
	})
}

// file serves what write writes from the shelf, as a file of that name.
func (s *Site) file(c echo.Context, x export, name string, write func(context.Context, io.Writer) error) error {
	page, err := s.desk.Live().Page(c.Request().Context(), c.Param("event"), c.Request().URL.Path, func(ctx context.Context) (desk.Rendered, error) {
		var body bytes.Buffer
		err := write(ctx, &body)
		return desk.Rendered{Type: x.mediaType, Body: body.Bytes()}, err
	})
	if err != nil {
		return err
	}
	c.Response().Header().Set("Content-Disposition", x.disposition(name))
	// The pages of other sites may read files too. It is a plain GET, about which browsers do not ask beforehand.
	c.Response().Header().Set("Access-Control-Allow-Origin", "*")
	return serve(c, page)
}

// disposition names the file; letters beyond ASCII are written as RFC 8187 says. It reads attachment;
// filename=harvest-pull-results.csv.
func (x export) disposition(name string) string {
	return mime.FormatMediaType(x.how, map[string]string{"filename": name + x.ending})
}

// resultSchema serves the schema of the results that leave as JSON. It changes with the program alone, so that it may
// be kept for an hour.
func (s *Site) resultSchema(c echo.Context) error {
	c.Response().Header().Set("Cache-Control", "public, max-age=3600")
	c.Response().Header().Set("Access-Control-Allow-Origin", "*")
	return c.Blob(http.StatusOK, "application/schema+json", []byte(doc.ResultSchema()))
}
