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

// problem is a problem document of RFC 9457, with three members of our own: fix, field and kept.
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

// sort is one sort of problem. Its name is the last part of its type.
type sort struct {
	name   string
	status int
	title  string
}

// The sorts of problems. Their names are for good.
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
	mediaSort     = sort{"media-type", http.StatusUnsupportedMediaType, "The body is not of the type application/json."}
	methodSort    = sort{"method", http.StatusMethodNotAllowed, "This address does not take that method."}
	busySort      = sort{"busy", http.StatusServiceUnavailable, "Too many streams are open."}
	failedSort    = sort{"failed", http.StatusInternalServerError, "Something failed on the server."}
)

// sorts lists all sorts, for the reference.
func sorts() []sort {
	return []sort{
		invalidSort, notFoundSort, stateSort, staleSort, changedSort, forbiddenSort, noPassSort, noKeySort, usedKeySort, toldSort,
		malformedSort, tooLargeSort, mediaSort, methodSort, busySort, failedSort,
	}
}

// kinds maps every kind of refusal of the domain to a sort, and with it to a status.
var kinds = map[domain.Kind]sort{
	domain.Invalid: invalidSort, domain.NotFound: notFoundSort, domain.WrongState: stateSort, domain.Stale: staleSort,
	domain.Forbidden: forbiddenSort,
}

// refusal is a problem of this surface, as an error.
type refusal struct {
	sort   sort
	detail string
	fix    string
	field  string
}

// Error returns the detail.
func (r *refusal) Error() string { return r.detail }

func malformed(detail, field string) error {
	return &refusal{malformedSort, detail, "send one JSON object in UTF-8, as the reference shows it", field}
}

func tooLarge() error {
	return &refusal{tooLargeSort, "a body has at most " + strconv.Itoa(maxBody>>10) + " KiB", "send less", ""}
}

func wrongMedia() error {
	return &refusal{mediaSort, "a body must be JSON and say so", "send the header Content-Type: application/json", "Content-Type"}
}

func noPass() error {
	return &refusal{noPassSort, "there is no good pass in the header Authorization",
		"send Authorization: Bearer with the secret of a pass; an entry link of the desk gives one at /api/v1/passes/enter", "Authorization"}
}

// nothing and unknown say what became of what was stored.
const (
	nothing = "Nothing was changed."
	unknown = "What was stored before is kept. Whether this was stored is not known: the same request with the same Idempotency-Key tells, and does it once."
)

// asRequest puts the words that the domain has for a person at a page into those for a program.
func asRequest(s string) string {
	for _, words := range [][2]string{
		{"this form was sent before", "this was sent before"}, {"reload the page", "read the class again"},
		{"look at the page again", "read the class again"}, {"look at the class again", "read the class again"},
	} {
		s = strings.ReplaceAll(s, words[0], words[1])
	}
	return s
}

// placed says at which field a refusal of the domain stands.
func placed(err error, field string) error {
	if e, ok := errors.AsType[*domain.Error](err); ok {
		at := *e
		at.Field = field
		return &at
	}
	return err
}

// fail is the one place that speaks failure: a problem document for the program, the cause for the log.
func (s *Server) fail(err error, c echo.Context) {
	if c.Response().Committed {
		return
	}
	p := problemOf(err)
	if p.Status == http.StatusInternalServerError && !errors.Is(err, context.Canceled) {
		s.log.ErrorContext(c.Request().Context(), "request failed", "path", c.Path(), "error", err)
	}
	h := c.Response().Header()
	h.Del("ETag")
	h.Set("Cache-Control", "no-store")
	switch p.Status {
	case http.StatusUnauthorized:
		h.Set("WWW-Authenticate", `Bearer realm="clayline"`)
	case http.StatusServiceUnavailable:
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

// problemOf is the problem document of an error.
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

// ofDomain is the problem document of a refusal of the domain.
func ofDomain(e *domain.Error) problem {
	switch {
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

// sentence makes a message a sentence.
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

// problemPage leads from the type of a problem to what the reference says about it.
func (s *Server) problemPage(c echo.Context) error {
	name := c.Param("problem")
	if !slices.ContainsFunc(sorts(), func(k sort) bool { return k.name == name }) {
		return echo.ErrNotFound
	}
	return c.Redirect(http.StatusFound, base+"#problem-"+name)
}
