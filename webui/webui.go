// Package webui serves the pages: public ones that anybody reads, and those of the booth, the cab and the desk, which
// need a pass. Pages work without JavaScript. Handlers turn a form into one action of the desk and a class into one
// page struct; what is true about a pull they ask the domain.
package webui

import (
	"bytes"
	"context"
	"log/slog"
	"net/http"
	"slices"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/static"
	"clayline/webui/templates"
)

// maxBody bounds what a form may send.
const maxBody = "64K"

// policy is the content security policy: everything from here, nothing inline.
const policy = "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; object-src 'none'"

// Site serves the pages of one desk.
type Site struct {
	desk *desk.Desk
	now  func() time.Time
	log  *slog.Logger
}

// New returns a site on the desk; the clock says as of when a page tells.
func New(d *desk.Desk, now func() time.Time, log *slog.Logger) *Site {
	return &Site{desk: d, now: now, log: log}
}

// Handler returns the whole site, with protection against forms that other sites send.
func (s *Site) Handler() http.Handler {
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.HTTPErrorHandler = s.fail
	e.Use(middleware.Recover(), middleware.BodyLimit(maxBody), readable)
	s.routes(e)
	protection := http.NewCrossOriginProtection()
	protection.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.fail(foreign(), e.NewContext(r, w))
	}))
	return headers(protection.Handler(headAsGet(e)))
}

// foreign refuses a form that another site sent.
func foreign() error {
	return &domain.Error{Kind: domain.Forbidden, Message: "this form was sent by another site", Fix: "open the page here and send it from there"}
}

// headAsGet answers HEAD as GET; net/http itself leaves the body out.
func headAsGet(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method == http.MethodHead {
			r = r.Clone(r.Context())
			r.Method = http.MethodGet
		}
		next.ServeHTTP(w, r)
	})
}

// routes is the one list of routes of this surface.
func (s *Site) routes(e *echo.Echo) {
	e.GET("/", s.home)
	e.GET(static.Prefix+":file", s.static)
	e.GET("/favicon.ico", func(c echo.Context) error { return c.Redirect(http.StatusFound, static.Href("favicon.svg")) })
	e.GET("/enter/:secret", s.enterPage)
	e.POST("/enter/:secret", s.enter)
	e.POST("/leave", s.leave)
	e.GET("/desk", s.planPage)
	e.POST("/desk", s.plan)
	e.GET("/schema/result.json", s.resultSchema)

	e.GET("/e/:event", s.event)
	e.GET("/e/:event/results.csv", s.eventExport(csvExport))
	e.GET("/e/:event/results.json", s.eventExport(jsonExport))
	e.GET("/e/:event/booth", s.toClass("booth"))
	e.GET("/e/:event/cab", s.toClass("cab"))
	e.GET("/e/:event/desk", s.deskPage)
	e.POST("/e/:event/desk/pass", s.issue)
	e.GET("/e/:event/desk/class", s.planClassPage)
	e.POST("/e/:event/desk/class", s.planClass)

	e.GET("/e/:event/:class", s.class)
	e.GET("/e/:event/:class/sheet", s.sheet)
	e.GET("/e/:event/:class/result", s.result)
	e.GET("/e/:event/:class/result.csv", s.classExport(csvExport))
	e.GET("/e/:event/:class/result.json", s.classExport(jsonExport))
	e.GET("/e/:event/:class/cab", s.cab)
	e.GET("/e/:event/:class/booth", s.booth)
	e.POST("/e/:event/:class/booth/:act", s.boothAct)
	e.GET("/e/:event/:class/desk", s.deskClass)
	e.POST("/e/:event/:class/desk/:act", s.deskAct)
}

// static serves an embedded file under the address that changes with its content, so that it never goes stale.
func (s *Site) static(c echo.Context) error {
	file, ok := static.Lookup(c.Param("file"))
	if !ok {
		return echo.ErrNotFound
	}
	c.Response().Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	return c.Blob(http.StatusOK, file.Type, file.Body)
}

// headers sets what every answer carries.
func headers(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		next.ServeHTTP(w, r)
	})
}

// readable finds nothing under an address that is no text.
func readable(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		if !slices.ContainsFunc(c.ParamValues(), noText) {
			return next(c)
		}
		return echo.ErrNotFound
	}
}

// show renders a page to a buffer first, so that a failing page is an error and not half a page.
func show(c echo.Context, status int, page templates.Page) error {
	var body bytes.Buffer
	if err := page.Page().Render(c.Request().Context(), &body); err != nil {
		return err
	}
	if c.Response().Header().Get("Cache-Control") == "" {
		c.Response().Header().Set("Cache-Control", "no-cache")
	}
	return c.Blob(status, htmlType, body.Bytes())
}

// ref names the class of the address.
func ref(c echo.Context) desk.Ref { return desk.Ref{Event: c.Param("event"), Class: c.Param("class")} }

// may refuses a device without the role, before anything is read or shown.
func (s *Site) may(c echo.Context, roles domain.Role) (desk.By, error) {
	by, err := s.who(c)
	if err != nil {
		return by, err
	}
	if by.Role&roles == 0 {
		return by, &domain.Error{Kind: domain.Forbidden, Message: "this page needs a pass for the " + roles.String(), Fix: "open the entry link that the desk gave you"}
	}
	return by, nil
}

// mayAt refuses a pass of another event.
func mayAt(by desk.By, event uuid.UUID) error {
	if by.Event != uuid.Nil && by.Event != event {
		return &domain.Error{Kind: domain.Forbidden, Message: "your pass is for another event", Fix: "ask the desk of this event for an entry link"}
	}
	return nil
}

// classPage reads what a staff page of a class shows, for a pass that may.
func (s *Site) classPage(ctx context.Context, c echo.Context, roles domain.Role) (desk.By, desk.ClassPage, error) {
	by, err := s.may(c, roles)
	if err != nil {
		return by, desk.ClassPage{}, err
	}
	page, err := s.desk.ClassPage(ctx, ref(c))
	if err != nil {
		return by, page, err
	}
	c.Response().Header().Set("Cache-Control", "no-store")
	return by, page, mayAt(by, page.Event.ID)
}
