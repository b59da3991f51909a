//go:build !js

package webui

import (
	"context"
	"errors"
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/webui/templates"
)

// statuses maps every kind of refusal to a status. The interface for programs gives each kind the same one.
var statuses = map[domain.Kind]int{
	domain.Invalid:    http.StatusUnprocessableEntity,
	domain.NotFound:   http.StatusNotFound,
	domain.WrongState: http.StatusConflict,
	domain.Stale:      http.StatusConflict,
	domain.Forbidden:  http.StatusForbidden,
}

// fail is the one place that speaks failure: a page with a sentence for the person, the cause for the log.
// Refusals are not logged, since they are the program at work; nor is a reader who went away.
func (s *Site) fail(err error, c echo.Context) {
	// Part of an answer is on its way, and what follows would be read as its end.
	if c.Response().Committed {
		return
	}
	page, status := problemPage(err)
	page.Frame = bare(c)
	if status == http.StatusInternalServerError && !errors.Is(err, context.Canceled) {
		s.log.ErrorContext(c.Request().Context(), "request failed", "path", c.Path(), "error", err)
	}
	if err := show(c, status, page); err != nil {
		s.log.ErrorContext(c.Request().Context(), "problem page failed", "error", err)
	}
}

// problemPage says what happened, what was kept and what to do now, and the status. An error that is not one of
// ours says nothing of its cause: who reads the page cannot mend it.
func problemPage(err error) (templates.Problem, int) {
	page := templates.Problem{
		Title: "Something failed on the server.", Kept: "What was stored before is kept; this was not stored.",
		Do: "Try again. If it fails again, write it down on paper and tell the desk.", Back: templates.Link{Text: "To the start page", Href: "/"},
	}
	status := http.StatusInternalServerError
	if e, ok := errors.AsType[*domain.Error](err); ok {
		status = statuses[e.Kind]
		page.Title, page.Kept, page.Do = sentence(e.Message), "Nothing was changed.", sentence(e.Fix)
	} else if e, ok := errors.AsType[*echo.HTTPError](err); ok {
		status = e.Code
		page.Title, page.Kept, page.Do = httpSentence(e.Code), "Nothing was changed.", "Check the address, or start again."
	}
	page.Status = strconv.Itoa(status)
	return page, status
}

// httpSentence says in a sentence what the router refused.
func httpSentence(code int) string {
	switch code {
	case http.StatusNotFound:
		return "There is no such page."
	case http.StatusMethodNotAllowed:
		return "This page does not take that."
	case http.StatusRequestEntityTooLarge:
		return "That was too much at once."
	default:
		return http.StatusText(code) + "."
	}
}
