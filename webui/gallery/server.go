package gallery

import (
	"bytes"
	"net/http"
	"slices"

	"clayline/webui/language"
	"clayline/webui/static"
	"clayline/webui/templates"
)

// policy is that of the pages of the program, so that what would not run there does not run here.
const policy = "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; object-src 'none'"

// Handler serves the gallery: a list of its pages at /, each page at its name, all of it in every language, and the files
// that pages are made of. Nothing that a page leads to is there, and a form that is sent does nothing.
func Handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET "+static.Prefix+"{file}", file)
	mux.HandleFunc("GET /{name}", func(w http.ResponseWriter, r *http.Request) {
		all := Pages()
		i := slices.IndexFunc(all, func(p Page) bool { return p.Name == r.PathValue("name") })
		if i < 0 {
			http.Error(w, "The gallery has no such page: it shows pages as they look, and nothing is behind them.", http.StatusNotFound)
			return
		}
		answer(w, r, all[i])
	})
	mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, r *http.Request) { answer(w, r, contents()) })
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		l, path := language.Cut(r.URL.Path)
		r = r.Clone(language.With(r.Context(), l))
		r.URL.Path = path
		mux.ServeHTTP(w, r)
	})
}

// contents is the list of all pages, each by what it shows.
func contents() Page {
	page := templates.Contents{Title: "Gallery", Note: "Every page in every state that matters, filled with an invented event."}
	for _, l := range append([]*language.Language{nil}, language.Others()...) {
		page.Languages = append(page.Languages, templates.Language{Tag: l.Tag(), Name: l.Name(), Href: l.Href("/")})
	}
	for _, p := range Pages() {
		page.Links = append(page.Links, templates.Link{Text: p.Name + ": " + p.Title, Href: "/" + p.Name})
	}
	return Page{Name: "contents", Title: page.Title, Body: page.Page()}
}

// answer shows a page in the language of the request.
func answer(w http.ResponseWriter, r *http.Request, p Page) {
	var body bytes.Buffer
	if err := p.Body.Render(r.Context(), &body); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	said, _ := language.Of(r.Context()).Page(body.Bytes())
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Security-Policy", policy)
	_, _ = w.Write(said) // who has gone away reads nothing
}

// file answers with a file that pages are made of.
func file(w http.ResponseWriter, r *http.Request) {
	f, ok := static.Lookup(r.PathValue("file"))
	if !ok {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", f.Type)
	if f.Coding != "" {
		w.Header().Set("Content-Encoding", f.Coding)
	}
	_, _ = w.Write(f.Body) // as above
}
