// Package api serves the same event to programs: JSON under /api/v1, and a stream of what happens. Everything in it is
// described by openapi.yaml, which is served too, as it stands and as a page to read.
//
// A write carries the id of its action in the header Idempotency-Key and a pass in the header Authorization. Its answer
// is made of the journal line alone, so that the same write sent again is answered with the same bytes:
//
//	POST /api/v1/events/harvest-pull/classes/field-stock/hooks/6f…/result
//	{"result": {"outcome": "measured", "distance": {"figures": "281.36", "unit": "ft"}}}
//
//	{"number":57,"kind":"result","at":"2026-09-19T18:04:11.5Z","class":"field-stock","hook":"6f…","next":"9b…"}
//
// What cannot be done is answered with a problem document that says what to do. What is true about a pull, and who may
// do what, is asked of the domain; this package knows how it is written on the wire.
package api

import (
	"log/slog"
	"net/http"
	"strings"
	"sync"
	"time"
	"unicode/utf8"

	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"

	"clayline/domain"
	"clayline/domain/desk"
)

// Where things are. A version is a part of the address, so that a program that was written for this one goes on meeting
// it when there is another beside it. Events and classes are named by their slugs, which people read and type;
// everything inside a class is named by its id.
const (
	base      = "/api"
	version1  = base + "/v1"
	eventPath = version1 + "/events/:event"
	classPath = eventPath + "/classes/:class"
	roundPath = classPath + "/rounds/:round"
	hookPath  = classPath + "/hooks/:hook"
)

// policy is the content security policy of every answer: nothing but the style of the reference page. The reference
// holds no script; documents hold nothing that a browser should run, whatever a puller is called.
const policy = "default-src 'none'; style-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// Server serves one desk to programs. It holds no state of an event: what it serves is read from the desk, so that
// several servers may serve one desk.
type Server struct {
	desk *desk.Desk
	now  func() time.Time
	log  *slog.Logger
	pace Pace
	// seats counts the streams that are open now; see [Pace].
	seats *seats
	// closed is closed by [Server.Close], which ends every stream.
	closed    chan struct{}
	closeOnce sync.Once
	// reference is the page at /api, rendered when it is first asked for.
	reference func() ([]byte, error)
}

// New returns a server on the desk. The clock sets the deadlines of what is written; pace bounds and times the streams.
func New(d *desk.Desk, now func() time.Time, log *slog.Logger, pace Pace) *Server {
	return &Server{desk: d, now: now, log: log, pace: pace, seats: newSeats(), closed: make(chan struct{}), reference: sync.OnceValues(renderReference)}
}

// Close ends all streams, at once, and lets no other begin. It is to be called when the program begins to stop, because
// a stream never ends by itself.
func (s *Server) Close() { s.closeOnce.Do(func() { close(s.closed) }) }

// Handler returns everything under /api.
func (s *Server) Handler() http.Handler {
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.HTTPErrorHandler = s.fail
	e.Use(middleware.Recover(), headers, readable)
	s.routes(e)
	return e
}

// readable refuses an address whose parts are no text: there is nothing there, and the database takes no zero byte.
func readable(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		for _, part := range c.ParamValues() {
			if !utf8.ValidString(part) || strings.ContainsRune(part, 0) {
				return echo.ErrNotFound
			}
		}
		return next(c)
	}
}

// headers sets what every answer carries. Answers are not kept by default: a pass and the reply to a write are between
// two. A handler of something public says otherwise; see [servePage].
func headers(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		h := c.Response().Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		return next(c)
	}
}

// routes is the one list of routes of this surface. A test holds it against openapi.yaml, both ways.
func (s *Server) routes(e *echo.Echo) {
	// RFC 9110, section 9.3.2: HEAD has the head that GET would have. The server leaves the body out by itself. Streams
	// have no HEAD, because what it would have to wait for is the body.
	get := func(path string, h echo.HandlerFunc, m ...echo.MiddlewareFunc) {
		e.Match([]string{http.MethodGet, http.MethodHead}, path, h, m...)
	}
	// What is public may be read by the pages of other sites too.
	public := func(path string, h echo.HandlerFunc) { get(path, h, shared); e.OPTIONS(path, preflight, shared) }
	stream := func(path string, h echo.HandlerFunc) { e.GET(path, h, shared); e.OPTIONS(path, preflight, shared) }
	get(base, s.referencePage)
	get(base+"/reference.css", s.referenceStyle)
	public(base+"/openapi.yaml", s.document)
	get(base+"/problems/:problem", s.problemPage)

	get(version1+"/me", s.me)
	e.POST(version1+"/passes/enter", s.enter)
	e.POST(version1+"/passes/leave", s.leave)
	public(version1+"/rule-sets", s.ruleSets)
	public(version1+"/rule-sets/:name", s.ruleSet)
	public(version1+"/seasons", s.seasons)
	e.POST(version1+"/seasons", s.addSeason)
	public(version1+"/seasons/:season", s.season)
	e.PUT(version1+"/seasons/:season", s.writeSeason)
	get(version1+"/seasons/:season/document", s.seasonDocument)
	public(version1+"/records", s.records)
	public(version1+"/events", s.events)
	e.POST(version1+"/events", s.planEvent)
	public(eventPath, s.event)
	public(eventPath+"/day", s.day)
	get(eventPath+"/journal", s.journal)
	get(eventPath+"/passes", s.passes)
	e.POST(eventPath+"/passes", s.issue)
	e.POST(eventPath+"/passes/:pass/revoke", s.revoke)
	e.POST(eventPath+"/passes/:pass/replace", s.replace)
	e.POST(eventPath+"/sessions", s.alter(http.StatusCreated, readNewSession))
	e.PUT(eventPath+"/sessions/:session", s.alter(http.StatusOK, readSession))
	e.POST(eventPath+"/sessions/:session/remove", s.alter(http.StatusOK, readNoSession))
	e.POST(eventPath+"/tracks", s.alter(http.StatusCreated, readNewTrack))
	e.PUT(eventPath+"/tracks/:track", s.alter(http.StatusOK, readTrack))
	e.POST(eventPath+"/tracks/:track/remove", s.alter(http.StatusOK, readNoTrack))
	e.POST(eventPath+"/sleds", s.alter(http.StatusCreated, readNewSled))
	get(eventPath+"/sleds/:sled", s.sledDescription)
	e.PUT(eventPath+"/sleds/:sled", s.alter(http.StatusOK, readSled))
	get(eventPath+"/sleds/:sled/log", s.sledLog)
	e.POST(eventPath+"/sleds/:sled/inspections", s.alterBy(domain.KindOfEventAction(domain.InspectSled{}).Roles, http.StatusCreated, readInspection))
	get(eventPath+"/order", s.order)
	e.PUT(eventPath+"/order", s.alter(http.StatusOK, readOrder))
	e.POST(eventPath+"/sled", s.estimate)
	stream(eventPath+"/stream", s.eventStream)
	public(eventPath+"/classes", s.classes)
	e.POST(eventPath+"/classes", s.planClass)

	public(classPath, s.class)
	public(classPath+"/standing", s.standing)
	stream(classPath+"/stream", s.classStream)
	e.POST(classPath+"/place", s.act(domain.MoveClass{}, http.StatusOK, readPlace))
	e.POST(classPath+"/start", s.act(domain.FixStart{}, http.StatusOK, readFixedStart))
	e.POST(classPath+"/entries", s.act(domain.AddEntry{}, http.StatusCreated, readEntry))
	e.POST(classPath+"/entries/:entry/scratch", s.act(domain.Scratch{}, http.StatusOK, readScratch))
	e.POST(classPath+"/entries/:entry/presence", s.act(domain.SayWhere{}, http.StatusOK, readPresence))
	e.POST(classPath+"/commitment", s.act(domain.Commit{}, http.StatusOK, readCommit))
	e.POST(classPath+"/swap", s.act(domain.Swap{}, http.StatusOK, readSwap))
	e.POST(classPath+"/attendance", s.act(domain.Attend{}, http.StatusOK, readAttend))
	get(classPath+"/purse", s.purse)
	get(classPath+"/trend", s.trend)
	get(classPath+"/estimate", s.classEstimate)
	get(classPath+"/earlier", s.earlier)
	e.POST(classPath+"/draw", s.act(domain.DrawClass{}, http.StatusOK, readDraw))
	e.POST(classPath+"/test-puller", s.act(domain.PickTest{}, http.StatusOK, readTestPuller))
	e.POST(classPath+"/line", s.act(domain.MoveLine{}, http.StatusOK, readLine))
	e.POST(classPath+"/stop", s.act(domain.StopClass{}, http.StatusOK, readStop))
	e.POST(classPath+"/resume", s.act(domain.ResumeClass{}, http.StatusOK, readResume))
	e.POST(classPath+"/rounds", s.act(domain.OpenRound{}, http.StatusCreated, readRound))
	e.POST(roundPath+"/entries", s.act(domain.BringIn{}, http.StatusOK, readBringIn))
	get(roundPath+"/setting", s.setting)
	e.PUT(roundPath+"/setting", s.act(domain.DraftSetting{}, http.StatusOK, readDraft))
	e.POST(roundPath+"/setting/freeze", s.act(domain.FreezeSetting{}, http.StatusOK, readFreeze))
	e.POST(roundPath+"/setting/reset", s.act(domain.ResetSetting{}, http.StatusOK, readReset))
	e.POST(classPath+"/hooks", s.act(domain.Call{}, http.StatusCreated, readCall))
	e.POST(hookPath+"/flag", s.act(domain.SayFlag{}, http.StatusOK, readFlag))
	e.POST(hookPath+"/ready", s.act(domain.SayReady{}, http.StatusOK, readReady))
	e.POST(hookPath+"/difference", s.act(domain.NoteDifference{}, http.StatusOK, readDifference))
	e.POST(hookPath+"/speed", s.act(domain.ReadSpeed{}, http.StatusOK, readSpeed))
	e.POST(hookPath+"/start", s.act(domain.Start{}, http.StatusOK, readStart))
	e.POST(hookPath+"/result", s.act(domain.Record{}, http.StatusOK, readRecord))
	e.POST(hookPath+"/choice", s.act(domain.Choose{}, http.StatusOK, readChoice))
	e.POST(hookPath+"/second-attempt", s.act(domain.SecondAttempt{}, http.StatusOK, readSecond))
	e.POST(hookPath+"/again", s.act(domain.Again{}, http.StatusOK, readAgain))
	e.POST(hookPath+"/drop", s.act(domain.Drop{}, http.StatusOK, readDrop))
	e.POST(hookPath+"/correction", s.act(domain.Correct{}, http.StatusOK, readCorrection))
	e.POST(hookPath+"/void", s.act(domain.VoidHook{}, http.StatusOK, readVoid))
	e.POST(hookPath+"/photos", s.attachPhoto)
	get(classPath+"/photos", s.photos)
	get(classPath+"/photos/:photo", s.photo)
	e.POST(classPath+"/official", s.act(domain.MakeOfficial{}, http.StatusOK, readOfficial))
	e.POST(classPath+"/official/reopen", s.act(domain.Reopen{}, http.StatusOK, readReopen))
	e.POST(classPath+"/protests", s.act(domain.LodgeProtest{}, http.StatusCreated, readProtest))
	e.POST(classPath+"/weighings", s.act(domain.Weigh{}, http.StatusCreated, readWeighing))
	e.POST(classPath+"/weighings/:reading/misread", s.act(domain.Misread{}, http.StatusOK, readMisread))
	e.POST(classPath+"/protests/:protest/ruling", s.act(domain.DecideProtest{}, http.StatusOK, readRuling))
}

// Routes lists what is served, "GET /api/v1/events/{event}", for the test that holds it against the document. HEAD and
// OPTIONS are left out: they say of a GET what it would answer, and who may ask.
func (s *Server) Routes() []string {
	e := echo.New()
	s.routes(e)
	var list []string
	for _, r := range e.Routes() {
		if r.Method != http.MethodHead && r.Method != http.MethodOptions {
			list = append(list, r.Method+" "+braced(r.Path))
		}
	}
	return list
}

// ref names the class of the address. Whether there is one, the desk says.
func ref(c echo.Context) desk.Ref { return desk.Ref{Event: c.Param("event"), Class: c.Param("class")} }
