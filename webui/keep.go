//go:build !js

package webui

import (
	"net/http"
	"net/url"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
	"clayline/webui/language"
	"clayline/webui/static"
	"clayline/webui/templates"
)

// keepPolicy is the policy of the pages that go on without the server: what they load then is compiled, and a browser
// compiles nothing under the policy of the other pages.
const keepPolicy = policy + "; script-src 'self' 'wasm-unsafe-eval'"

// jsonType is what a page asks for and is answered with where no person reads it.
const jsonType = "application/json"

// kept makes the frame of a staff page of a class one that goes on without the server: with the class to go on with, as of
// the moment of which the page tells, and with all that is said in its language. A class that cannot be written down for it leaves a page that needs the server.
func (s *Site) kept(c echo.Context, page desk.ClassPage, by desk.By) templates.Frame {
	f := s.classFrame(c, page, by)
	given := doc.ClassCopy{Event: page.Event, Class: page.Class}
	_, given.Offset = s.now().In(page.Event.Location()).Zone()
	for i, l := range page.Journal {
		if i == 0 {
			given.Number = l.Number
		}
		given.Done = append(given.Done, l.Action)
	}
	text, err := doc.WriteClassCopy(given)
	if err != nil {
		s.log.Warn("a page cannot go on without the server", "class", page.Class.ID, "error", err)
		return f
	}
	c.Response().Header().Set("Content-Security-Policy", keepPolicy)
	f.Copy = text
	if l := language.Of(c.Request().Context()); l != nil {
		f.Words = static.Href(static.Catalogue(l.Tag()))
	}
	return f
}

// worker serves a service worker of some pages. It stands at the top, since a worker may look after what is below it only, and
// is asked for anew each time, so that a browser finds the one of a new program.
func (s *Site) worker(name string) echo.HandlerFunc {
	return func(c echo.Context) error {
		file, ok := static.Lookup(strings.TrimPrefix(static.Href(name), static.Prefix))
		if !ok {
			return echo.ErrNotFound
		}
		c.Response().Header().Set("Cache-Control", "no-cache")
		return c.Blob(http.StatusOK, file.Type, file.Body)
	}
}

// asksJSON reports whether a form was sent by the script of a page, which reads the answer itself.
func asksJSON(c echo.Context) bool { return c.Request().Header.Get("Accept") == jsonType }

// tellStored acknowledges a form to the script that sent it. The id of the action is in it, so that the script takes no
// answer of somebody between for the server's.
func tellStored(c echo.Context, values url.Values, receipt desk.Receipt) error {
	return c.JSON(http.StatusOK, map[string]any{"action": values.Get(fieldAction), "number": receipt.Number})
}

// tellRefused tells a script why its form was refused, and what the server has about the same hook, so that a person can
// see both and decide, in the language of the page.
func (s *Site) tellRefused(c echo.Context, no *refused) error {
	page, err := s.desk.ClassPage(c.Request().Context(), ref(c))
	if err != nil {
		return err
	}
	say := func(text string) string { return inText(c.Request().Context(), text) }
	told := map[string]any{
		"action": no.values.Get(fieldAction), "message": say(refusalWords(no.err)), "has": say("The server has no such hook."), "hook": "", "state": "none",
	}
	if h := serversHook(&page.Class, no.values); h != nil {
		told["hook"], told["state"] = h.ID.String(), "ended"
		told["has"] = named(page.Class.Entry(h.Entry)) + ": " + say(hookNow(h))
		switch {
		case h.Result.IsZero():
			told["state"] = "on the track"
		case !h.Result.Counts():
			told["state"] = "void"
		}
	}
	return c.JSON(statuses[no.err.Kind], told)
}

// serversHook finds the hook that a refused form was about: the one it names where that is of the puller it was typed for,
// else the puller's last in the round; nil where there is none.
func serversHook(class *domain.Class, values url.Values) *domain.Hook {
	meant, _ := uuid.Parse(values.Get(fieldWhose))
	hook, _ := uuid.Parse(values.Get(templates.FieldHook))
	if _, h := class.Find(hook); h != nil && (meant == uuid.Nil || h.Entry == meant) {
		return h
	}
	r := class.Current()
	if r == nil {
		return nil
	}
	var last *domain.Hook
	for i := range r.Hooks {
		if r.Hooks[i].Entry == meant {
			last = &r.Hooks[i]
		}
	}
	return last
}

// hookNow tells a hook to who has to decide between two versions of it.
func hookNow(h *domain.Hook) string {
	if h.Result.IsZero() {
		return "on the track, without a result"
	}
	words := resultWords(h.Result)
	if h.Corrected != "" {
		words += ", corrected: " + h.Corrected
	}
	return words
}
