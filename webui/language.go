//go:build !js

package webui

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"clayline/webui/language"
	"clayline/webui/static"
	"clayline/webui/templates"
)

// inLanguage serves every page in each language under an address of its own, so that a page can be kept, shared and found
// in any of them: /de/e/tarn-hollow is /e/tarn-hollow in German. What a handler reads is the address without the language;
// where it sends the browser on, it is sent on in the language. Numbers in a question are read as the language writes them.
func inLanguage(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		l, path := language.Cut(r.URL.Path)
		if l == nil {
			next.ServeHTTP(w, r)
			return
		}
		_, raw := language.Cut(r.URL.RawPath)
		r = r.Clone(language.With(r.Context(), l))
		r.URL.Path, r.URL.RawPath = path, raw
		if r.URL.RawQuery != "" {
			asked := r.URL.Query()
			r = r.WithContext(language.WithTyped(r.Context(), l.TypedValues(asked)))
			r.URL.RawQuery = asked.Encode()
		}
		next.ServeHTTP(&sentOn{ResponseWriter: w, language: l}, r)
	})
}

// sentOn is an answer whose Location leads on in the language.
type sentOn struct {
	http.ResponseWriter
	language *language.Language
}

// WriteHeader puts the language into the address that the browser is sent to.
func (w *sentOn) WriteHeader(status int) {
	if to := w.Header().Get("Location"); to != "" {
		w.Header().Set("Location", w.language.Href(to))
	}
	w.ResponseWriter.WriteHeader(status)
}

// Unwrap lets http.ResponseController reach the connection.
func (w *sentOn) Unwrap() http.ResponseWriter { return w.ResponseWriter }

// keyOf is what a page is under on the shelf: its address with the language.
func keyOf(c echo.Context) string {
	return language.Of(c.Request().Context()).Href(c.Request().URL.Path)
}

// scriptWords is the address of what scripts say in the language of the request; "" for English, in which they are written.
func scriptWords(c echo.Context) string {
	l := language.Of(c.Request().Context())
	if l == nil {
		return ""
	}
	return static.Href(static.Words(l.Tag()))
}

// bare is the frame of a page that tells of no event.
func bare(c echo.Context) templates.Frame {
	return templates.Frame{Languages: languages(c), Words: scriptWords(c)}
}

// languages are the same page in the other languages, for who reads it. A page whose address takes a form only has none.
func languages(c echo.Context) []templates.Language {
	if c.Request().Method != http.MethodGet {
		return nil
	}
	path, now := c.Request().URL.EscapedPath(), language.Of(c.Request().Context())
	list := []templates.Language{}
	for _, l := range append([]*language.Language{nil}, language.Others()...) {
		list = append(list, templates.Language{Tag: l.Tag(), Name: l.Name(), Href: l.Href(path), Now: l == now})
	}
	return list
}
