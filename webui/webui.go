//go:build !js

// Package webui serves the pages: public ones that anybody reads, and those of the booth, the cab and the desk,
// which need a pass. Pages work without JavaScript. Handlers turn a form into one action of the desk and a
// class into one page struct; what is true about a pull they ask the domain.
//
// # A form, from the press to the page
//
// The booth sends POST /e/tarn-hollow/field-stock/booth/result with
//
//	action=…  hook=…  next=…  result=281.36
//
// The action's id and that of the next hook were made when the form was shown, so that pressing twice stores
// once. The handler finds the function that reads this form, and the desk runs it on the class as it is, under
// the lock. Done, the browser is sent to the page by 303, where a reload sends nothing again; refused, the same
// page is shown with the sentence at the field and what was typed still in it.
//
// # What may be kept
//
// Public pages come from the shelf, the same bytes for everybody, and are asked for again each time (no-cache,
// with an ETag). Pages of the staff are never kept (no-store). Files under /static/ have their hash in the
// address and are kept for a year.
//
// # With and without a server
//
// What reads the forms of the booth and the cab and lays their pages out needs no server, and is compiled for the browser
// too. All other files begin with the line that leaves them out there, "//go:build !js".
package webui

import (
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
	"clayline/domain/doc"
	"clayline/domain/remind"
	"clayline/webui/static"
	"clayline/webui/templates"
)

// maxBody bounds what a form may send: the longest, planning an event, is a page of text.
const maxBody = "64K"

// policy is the content security policy: everything from here, nothing inline. A name that somebody enters can
// then not run as a script, even if it ever got past the templates.
const policy = "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; object-src 'none'"

// Site serves the pages of one desk. It holds no state of its own, so that any process can answer any request.
type Site struct {
	desk      *desk.Desk
	now       func() time.Time
	log       *slog.Logger
	reminders *remind.Service // nil where phones are not reminded
	pushKey   string
}

// New returns a site on the desk; the clock says as of when a page tells, and nothing is decided by it.
func New(d *desk.Desk, now func() time.Time, log *slog.Logger) *Site {
	return &Site{desk: d, now: now, log: log}
}

// Handler returns the whole site, with protection against forms that other sites send: a browser says where a
// form came from, and one from elsewhere is refused, so that forms need no token of their own.
func (s *Site) Handler() http.Handler {
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.HTTPErrorHandler = s.fail
	// A handler that panics is a failed request and not the end of the program; a crowd reads on.
	e.Use(middleware.Recover(), middleware.BodyLimitWithConfig(middleware.BodyLimitConfig{
		Limit: maxBody, Skipper: func(c echo.Context) bool { return c.Path() == photoPath }, // which has a bound of its own
	}), readable)
	s.routes(e)
	// In front of the router: no handler has to think of it, and none can forget it.
	protection := http.NewCrossOriginProtection()
	protection.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.fail(foreign(), e.NewContext(r, w))
	}))
	return headers(inLanguage(protection.Handler(headAsGet(e))))
}

// foreign refuses a form that another site sent.
func foreign() error {
	return &domain.Error{Kind: domain.Forbidden, Message: "this form was sent by another site", Fix: "open the page here and send it from there"}
}

// headAsGet answers HEAD as GET; net/http itself leaves the body out. Without it each route would need a second
// one.
func headAsGet(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method == http.MethodHead {
			r = r.Clone(r.Context())
			r.Method = http.MethodGet
		}
		next.ServeHTTP(w, r)
	})
}

// routes is the one list of routes of this surface. An address of a class is /e/EVENT/CLASS, which is why no
// class may be called booth, cab, day, desk, pits, results, screen, strip, scale, lane or flag.
func (s *Site) routes(e *echo.Echo) {
	e.GET("/", s.home)
	e.GET(static.Prefix+":file", s.static)
	e.GET("/worker.js", s.worker("worker.js"))
	e.GET("/remind.js", s.worker("remind.js"))
	e.GET("/favicon.ico", func(c echo.Context) error { return c.Redirect(http.StatusFound, static.Href("favicon.svg")) })
	e.GET("/robots.txt", s.robots)
	e.GET("/sitemap.xml", s.sitemap)
	e.GET("/enter/:secret", s.enterPage)
	e.POST("/enter/:secret", s.enter)
	e.POST("/leave", s.leave)
	e.GET("/desk", s.planPage)
	e.POST("/desk", s.plan)
	e.GET("/desk/pass", s.passPage)
	e.POST("/desk/pass", s.issue)
	e.POST("/desk/pass/replace", s.replace)
	e.POST("/desk/pass/revoke", s.revoke)
	e.GET("/schema/result.json", s.resultSchema)
	e.GET("/desk/season", s.seasonDesk)
	e.POST("/desk/season", s.keepSeason)
	e.GET("/desk/season/:season", s.seasonDesk)
	e.POST("/desk/season/:season", s.keepSeason)
	e.GET("/season", s.seasons)
	e.GET("/season/:season", s.season)
	e.GET("/season/:season/standing.csv", s.seasonFile(csvExport, doc.SeasonScored.WriteCSV))
	e.GET("/season/:season/standing.json", s.seasonFile(jsonExport, doc.SeasonScored.WriteJSON))
	e.GET("/records", s.records)
	e.GET("/p/:puller", s.pullerPage)
	e.GET("/p/:puller/:home", s.pullerPage)
	e.GET("/v/:vehicle", s.vehiclePage)
	e.GET("/v/:vehicle/:home", s.vehiclePage)

	e.GET("/e/:event", s.event)
	e.GET("/e/:event/pits", s.pits)
	e.GET("/e/:event/day", s.day)
	e.GET("/e/:event/results", s.results)
	e.GET("/e/:event/results.csv", s.eventExport(csvExport))
	e.GET("/e/:event/results.json", s.eventExport(jsonExport))
	e.GET("/e/:event/programme.ics", s.eventCalendar)
	e.GET("/e/:event/screen", s.screen(false))
	e.GET("/e/:event/screen/:track", s.screen(false))
	e.GET("/e/:event/strip", s.screen(true))
	e.GET("/e/:event/strip/:track", s.screen(true))
	e.GET("/e/:event/booth", s.toClass("booth"))
	e.GET("/e/:event/booth/announcer", s.toClass("booth/announcer"))
	e.GET("/e/:event/cab", s.toClass("cab"))
	e.GET("/e/:event/desk", s.deskPage)
	e.GET("/e/:event/desk/pass", s.passPage)
	e.POST("/e/:event/desk/pass", s.issue)
	e.POST("/e/:event/desk/pass/replace", s.replace)
	e.POST("/e/:event/desk/pass/revoke", s.revoke)
	e.GET("/e/:event/desk/class", s.planClassPage)
	e.POST("/e/:event/desk/class", s.planClass)
	e.GET("/e/:event/desk/order", s.sequencePage)
	e.POST("/e/:event/desk/order", s.sequenceAct)
	e.GET("/e/:event/desk/poster", s.posters)
	e.GET("/e/:event/desk/programme", s.programmePage)
	e.POST("/e/:event/desk/programme/:act", s.programmeAct)

	e.GET("/e/:event/cab/sled/:sled", s.sledLog)
	e.POST("/e/:event/cab/sled/:sled/inspect", s.inspect)
	e.GET("/e/:event/cab/sled/:sled/list", s.sledList)

	e.GET("/e/:event/:class", s.class)
	e.GET("/e/:event/:class/entry/:number", s.entry)
	e.POST("/e/:event/:class/entry/:number/remind", s.remind)
	e.POST("/e/:event/:class/entry/:number/forget", s.forget)
	e.GET("/e/:event/:class/sheet", s.sheet)
	e.GET("/e/:event/:class/result", s.result)
	e.GET("/e/:event/:class/result.csv", s.classExport(csvExport))
	e.GET("/e/:event/:class/result.json", s.classExport(jsonExport))
	e.GET("/e/:event/:class/draw.json", s.drawExport)
	e.GET("/e/:event/:class/programme.ics", s.classCalendar)
	e.GET("/e/:event/:class/earlier", s.earlier)
	e.GET("/e/:event/:class/cab", s.cab)
	e.GET("/e/:event/:class/cab/estimate", s.estimate)
	e.POST("/e/:event/:class/cab/:act", s.cabAct)
	e.GET("/e/:event/scale", s.toClass("scale"))
	e.GET("/e/:event/:class/scale", s.scale)
	e.POST("/e/:event/:class/scale/:act", s.scaleAct)
	e.GET("/e/:event/lane", s.toClass("lane"))
	e.GET("/e/:event/:class/lane", s.lineup)
	e.POST("/e/:event/:class/lane/:act", s.lineupAct)
	e.GET("/e/:event/flag", s.toClass("flag"))
	e.GET("/e/:event/:class/flag", s.flag)
	e.POST("/e/:event/:class/flag/:act", s.flagAct)
	e.GET("/e/:event/:class/booth", s.booth)
	e.POST("/e/:event/:class/booth/typing", s.typing)
	e.POST(photoPath, s.attachPhoto, middleware.BodyLimit(maxPhotoBody))
	e.POST("/e/:event/:class/booth/:act", s.boothAct)
	e.GET("/e/:event/:class/photo/:photo", s.photo)
	e.GET("/e/:event/:class/booth/announcer", s.announcer)
	e.GET("/e/:event/:class/desk", s.deskClass)
	e.GET("/e/:event/:class/desk/purse", s.purse)
	e.GET("/e/:event/:class/desk/box", s.deskBox)
	e.POST("/e/:event/:class/desk/:act", s.deskAct)
}

// static serves an embedded file under the address that changes with its content, so that it never goes stale.
// An old address is not found rather than answered with new content.
func (s *Site) static(c echo.Context) error {
	file, ok := static.Lookup(c.Param("file"))
	if !ok {
		return echo.ErrNotFound
	}
	c.Response().Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	if file.Coding != "" {
		c.Response().Header().Set("Content-Encoding", file.Coding)
	}
	return c.Blob(http.StatusOK, file.Type, file.Body)
}

// headers sets what every answer carries.
func headers(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		// What an entry typed is never taken for another type of document than the one it is sent as.
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		next.ServeHTTP(w, r)
	})
}

// readable finds nothing under an address that is no text: the database could not even be asked for it.
func readable(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		if !slices.ContainsFunc(c.ParamValues(), noText) {
			return next(c)
		}
		return echo.ErrNotFound
	}
}

// show renders a page to a buffer first, so that a failing page is an error and not half a page. A handler that
// set no rule on keeping the answer gets no-cache.
func show(c echo.Context, status int, page templates.Page) error {
	// The status is written with the first byte, and cannot be taken back when the page fails later.
	body, err := inWords(c.Request().Context(), page)
	if err != nil {
		return err
	}
	if c.Response().Header().Get("Cache-Control") == "" {
		c.Response().Header().Set("Cache-Control", "no-cache")
	}
	return c.Blob(status, htmlType, body)
}

// ref names the class of the address.
func ref(c echo.Context) desk.Ref { return desk.Ref{Event: c.Param("event"), Class: c.Param("class")} }

// may refuses a device without the role, before anything is read or shown. Which event the pass is for is asked
// when the event is known; see mayAt.
func (s *Site) may(c echo.Context, roles domain.Role) (desk.By, error) {
	by, err := s.who(c)
	return inRole(by, err, roles)
}

// inRole refuses who acts without one of the roles; err is why it is not known who acts.
func inRole(by desk.By, err error, roles domain.Role) (desk.By, error) {
	if err != nil {
		return by, err
	}
	if by.Role&roles == 0 {
		return by, &domain.Error{Kind: domain.Forbidden, Message: "this page needs a pass for the " + roles.String(), Fix: "open the entry link that the desk gave you"}
	}
	return by, nil
}

// mayAt refuses a pass of another event. A pass without an event is good at all.
func mayAt(by desk.By, event uuid.UUID) error {
	if by.Event != uuid.Nil && by.Event != event {
		return &domain.Error{Kind: domain.Forbidden, Message: "your pass is for another event", Fix: "ask the desk of this event for an entry link"}
	}
	return nil
}

// classPage reads what a staff page of a class shows, for a pass that may. Nothing of it is returned to be
// shown when the error is not nil.
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

// frame is what all pages of an event share; by is who reads it, the zero By on public pages.
func (s *Site) frame(c echo.Context, e domain.Event, by desk.By) templates.Frame {
	f := templates.Frame{
		Event: e.Name, EventHref: eventHref(e), Again: c.Request().URL.Path,
		AsOf: s.now().In(e.Location()).Format(secondsFormat), Languages: languages(c), Words: scriptWords(c),
	}
	if by.Role != 0 {
		f.Pass, f.Device = firstUpper(by.Role.String()), by.Device
		f.Leave = (*refused)(nil).make("leave", "/leave", nil)
	}
	return f
}

// publicFrame is what the public pages of an event share. It names no pass, since one page is for all, and tells as of
// the last of the lines and not of the clock: a page on which nothing but the time differed would be sent to a crowd
// for nothing.
func (s *Site) publicFrame(c echo.Context, e domain.Event, lines []desk.Line) templates.Frame {
	f := s.frame(c, e, desk.By{})
	f.AsOf = ""
	if at := lastChange(lines).At; !at.IsZero() {
		f.AsOf = at.In(e.Location()).Format(secondsFormat)
	}
	return f
}

// classView is what the public pages of a class share.
func (s *Site) classView(c echo.Context, page desk.ClassPage) templates.Frame {
	f := s.publicFrame(c, page.Event, page.Journal)
	f.Context = where(page.Event, page.Class)
	return f
}

// classFrame is what the staff pages of a class share. After an action the address says its journal number, and
// the page what it did.
func (s *Site) classFrame(c echo.Context, page desk.ClassPage, by desk.By) templates.Frame {
	f := s.frame(c, page.Event, by)
	f.Context = where(page.Event, page.Class)
	if number := c.QueryParam("stored"); number != "" {
		f.Notice = notice(page, number)
	}
	return f
}
