package api

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/labstack/echo/v4"

	"clayline/domain"
)

// problemType is the media type of RFC 9457.
const problemType = "application/problem+json"

// problem is a problem document of RFC 9457, with three members of our own: fix, field and kept. Programs go by the
// type, people by the detail. All are always in the same language, that of the domain.
//
//	{"type": "/api/problems/wrong-state", "title": "That is not possible now.", "status": 409,
//	 "detail": "No vehicle is on the track.", "fix": "Call the next puller.", "kept": "Nothing was changed."}
//
// The type is a reference, resolved against the address that was asked (section 3.1.1): a club's server has no name
// that could be written here, and following it leads to the reference.
type problem struct {
	Type   string `json:"type"`
	Title  string `json:"title"`
	Status int    `json:"status"`
	Detail string `json:"detail"`
	// Fix says what to do now.
	Fix string `json:"fix"`
	// Field is the field or header at fault: "trip.figures", "Idempotency-Key".
	Field string `json:"field,omitempty"`
	// Kept says what became of what was stored.
	Kept string `json:"kept"`
}

// sort is one sort of problem. Its name is the last part of its type; the title says the same for all problems of the
// sort, as section 3.1.3 wants, and what differs is in the detail.
type sort struct {
	name   string
	status int
	title  string
}

// The sorts of problems. Their names are for good, since programs compare them. Statuses are those of RFC 9110: 409 for
// what would be right at another time, 412 for an If-Match that does not hold, 422 for a body that could be read and
// makes no sense, 400 for one that could not be read.
var (
	invalidSort   = sort{"invalid", http.StatusUnprocessableEntity, "A field cannot be understood, or contradicts another."}
	notFoundSort  = sort{"not-found", http.StatusNotFound, "What was named is not here."}
	stateSort     = sort{"wrong-state", http.StatusConflict, "That is not possible now."}
	staleSort     = sort{"stale", http.StatusConflict, "Somebody else was first."}
	changedSort   = sort{"changed", http.StatusPreconditionFailed, "The class is not the one that If-Match names any more."}
	forbiddenSort = sort{"forbidden", http.StatusForbidden, "The pass does not allow this."}
	noPassSort    = sort{"no-pass", http.StatusUnauthorized, "This needs a pass."}
	noKeySort     = sort{"no-key", http.StatusBadRequest, "The header Idempotency-Key is missing, or is not a UUID."}
	usedKeySort   = sort{"used-key", http.StatusUnprocessableEntity, "The Idempotency-Key was used for something else."}
	toldSort      = sort{"told-once", http.StatusConflict, "A secret is told once."}
	malformedSort = sort{"malformed", http.StatusBadRequest, "The body is not one JSON object."}
	tooLargeSort  = sort{"too-large", http.StatusRequestEntityTooLarge, "The body is too large."}
	mediaSort     = sort{"media-type", http.StatusUnsupportedMediaType, "The body is not of a type that is read here."}
	methodSort    = sort{"method", http.StatusMethodNotAllowed, "This address does not take that method."}
	busySort      = sort{"busy", http.StatusServiceUnavailable, "Too many streams are open."}
	crowdedSort   = sort{"crowded", http.StatusTooManyRequests, "Too many streams are open from your address."}
	failedSort    = sort{"failed", http.StatusInternalServerError, "Something failed on the server."}
)

// sorts lists all sorts, for the reference. A new one is to be added here.
func sorts() []sort {
	return []sort{
		invalidSort, notFoundSort, stateSort, staleSort, changedSort, forbiddenSort, noPassSort, noKeySort, usedKeySort, toldSort,
		malformedSort, tooLargeSort, mediaSort, methodSort, busySort, crowdedSort, failedSort,
	}
}

// kinds maps every kind of refusal of the domain to a sort, and with it to a status.
var kinds = map[domain.Kind]sort{
	domain.Invalid: invalidSort, domain.NotFound: notFoundSort, domain.WrongState: stateSort, domain.Stale: staleSort,
	domain.Forbidden: forbiddenSort,
}

// refusal is a problem of this surface, as an error. Its parts are those of a [problem], except that detail and fix are
// words and not yet sentences. Field is "" where no field or header is at fault.
type refusal struct {
	sort   sort
	detail string
	fix    string
	field  string
}

// Error returns the detail.
func (r *refusal) Error() string { return r.detail }

// malformed refuses a body that cannot be read, at a field where one is known.
func malformed(detail, field string) error {
	return &refusal{malformedSort, detail, "send one JSON object in UTF-8, as the reference shows it", field}
}

// tooLarge refuses a body that is longer than so many bytes.
func tooLarge(most int64) error {
	return &refusal{tooLargeSort, "a body has at most " + strconv.FormatInt(most>>10, 10) + " KiB here", "send less", ""}
}

// wrongMedia refuses a body that is said to be something else than JSON, or nothing. A form of a page elsewhere cannot
// send that type, so that this also keeps browsers from being made to write.
func wrongMedia() error {
	return &refusal{mediaSort, "a body must be JSON and say so", "send the header Content-Type: application/json", "Content-Type"}
}

// noPass refuses who shows no pass, or none that is good.
func noPass() error {
	return &refusal{noPassSort, "there is no good pass in the header Authorization",
		"send Authorization: Bearer with the secret of a pass; an entry link of the desk gives one at /api/v1/passes/enter", "Authorization"}
}

// nothing and unknown say what became of what was stored. A refusal comes before anything is stored. After a failure,
// though, the store may have kept the line and only its answer was lost; the key is what makes asking again safe.
const (
	nothing = "Nothing was changed."
	unknown = "What was stored before is kept. Whether this was stored is not known: the same request with the same Idempotency-Key tells, and does it once."
)

// asRequest puts the words that the domain has for a person at a page into those for a program. The domain speaks to
// whoever stands at the track, who has a page and no interface.
func asRequest(s string) string {
	for _, words := range [][2]string{
		{"this form was sent before", "this was sent before"}, {"reload the page", "read the class again"},
		{"look at the page again", "read the class again"}, {"look at the class again", "read the class again"},
	} {
		s = strings.ReplaceAll(s, words[0], words[1])
	}
	return s
}

// placed says at which field a refusal of the domain stands. The refusal itself is left as it was, because the domain
// may hold on to it. Other errors come back unchanged.
func placed(err error, field string) error {
	if e, ok := errors.AsType[*domain.Error](err); ok {
		at := *e
		at.Field = field
		return &at
	}
	return err
}

// fail is the one place that speaks failure: a problem document for the program, the cause for the log. The cause of a
// failure is never in the document: it may name tables or files. A program that hangs up is no failure.
func (s *Server) fail(err error, c echo.Context) {
	// The head has left, so that no status can be told any more; a stream ends so.
	if c.Response().Committed {
		return
	}
	p := problemOf(err)
	if p.Status == http.StatusInternalServerError && !errors.Is(err, context.Canceled) {
		s.log.ErrorContext(c.Request().Context(), "request failed", "path", c.Path(), "error", err)
	}
	h := c.Response().Header()
	// A problem is no version of what was asked for, and is not to be kept in its place.
	h.Del("ETag")
	h.Set("Cache-Control", "no-store")
	// RFC 9110 wants a challenge with every 401 (section 15.5.2), and lets a 503 say when to come back (section
	// 10.2.3), as RFC 6585, section 4, does a 429.
	switch p.Status {
	case http.StatusUnauthorized:
		h.Set("WWW-Authenticate", `Bearer realm="clayline"`)
	case http.StatusServiceUnavailable, http.StatusTooManyRequests:
		h.Set("Retry-After", strconv.Itoa(retryAfter))
	}
	body, err := json.Marshal(p)
	if err == nil {
		err = c.Blob(p.Status, problemType, append(body, '\n'))
	}
	if err != nil {
		s.log.ErrorContext(c.Request().Context(), "problem failed", "error", err)
	}
}

// problemOf is the problem document of an error. Errors that nobody foresaw become a 500 that says so, with the advice
// to send the same again.
func problemOf(err error) problem {
	if r, ok := errors.AsType[*refusal](err); ok {
		return r.sort.problem(r.detail, r.fix, r.field)
	}
	if e, ok := errors.AsType[*domain.Error](err); ok {
		return ofDomain(e)
	}
	if e, ok := errors.AsType[*echo.HTTPError](err); ok {
		switch e.Code {
		case http.StatusNotFound:
			return notFoundSort.problem("there is no such address", "look at the reference at /api", "")
		case http.StatusMethodNotAllowed:
			return methodSort.problem("this address does not take that method", "use one that the header Allow names", "")
		}
	}
	p := failedSort.problem("something failed, and the log of the server says what", "send the same request again, with the same Idempotency-Key", "")
	p.Kept = unknown
	return p
}

// ofDomain is the problem document of a refusal of the domain. Three have a sort of their own, since a program does
// something else about them: read again after If-Match, take another key, or get another pass where its own has ended.
func ofDomain(e *domain.Error) problem {
	switch {
	case e.Kind == domain.Forbidden && e.Field == "pass":
		return noPassSort.problem(e.Message, e.Fix+", and trade it at /api/v1/passes/enter", "Authorization")
	case e.Kind == domain.Stale && e.Field == "version":
		return changedSort.problem(e.Message, asRequest(e.Fix), "If-Match")
	case e.Kind == domain.Stale && e.Field == "action":
		return usedKeySort.problem(asRequest(e.Message), "send the first content again, or this one with a new UUID", "Idempotency-Key")
	}
	return kinds[e.Kind].problem(asRequest(e.Message), asRequest(e.Fix), e.Field)
}

// problem makes the document; messages become sentences.
func (k sort) problem(detail, fix, field string) problem {
	return problem{Type: base + "/problems/" + k.name, Title: k.title, Status: k.status, Detail: sentence(detail), Fix: sentence(fix), Field: field, Kept: nothing}
}

// sentence makes a message a sentence. The domain writes its messages as Go does, to be put behind other words: "no
// vehicle is on the track".
func sentence(s string) string {
	if s == "" {
		return ""
	}
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

// problemPage leads from the type of a problem to what the reference says about it. A type is an address, and whoever
// follows it wants to read (RFC 9457, section 3.1.1). A name that is none is not found.
func (s *Server) problemPage(c echo.Context) error {
	name := c.Param("problem")
	if !slices.ContainsFunc(sorts(), func(k sort) bool { return k.name == name }) {
		return echo.ErrNotFound
	}
	return c.Redirect(http.StatusFound, base+"#problem-"+name)
}
