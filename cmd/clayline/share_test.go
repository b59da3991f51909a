package main

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A page of another site reads what is public: a browser asks beforehand where the page sends a header of its own, and
// looks at the answer's headers before it hands the answer over.
func TestPagesOfOtherSitesReadWhatIsPublic(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s := hooking(p.fair)
	const elsewhere = "https://scores.example"
	event := "/api/v1/events/" + inventedSlug
	for _, path := range []string{"/api/v1/events", event, event + "/classes", s.api(""), s.api("/standing"), "/api/v1/rule-sets", "/api/v1/rule-sets/capped-300ft", "/api/openapi.yaml"} {
		r, _ := p.plain(path, "Origin", elsewhere)
		require.Equal(t, http.StatusOK, r.StatusCode, path)
		require.Equal(t, "*", r.Header.Get("Access-Control-Allow-Origin"), path)
		require.Contains(t, r.Header.Get("Access-Control-Expose-Headers"), "ETag")
		require.Empty(t, r.Header.Get("Access-Control-Allow-Credentials"), "nobody's cookie goes along")
		known, _ := p.plain(path, "Origin", elsewhere, "If-None-Match", "*")
		require.Equal(t, "*", known.Header.Get("Access-Control-Allow-Origin"), "a 304 is an answer too")
		asked := p.preflight(path, elsewhere, http.MethodGet)
		require.Equal(t, http.StatusNoContent, asked.StatusCode, path)
		require.Equal(t, "*", asked.Header.Get("Access-Control-Allow-Origin"))
		require.Equal(t, "GET, HEAD", asked.Header.Get("Access-Control-Allow-Methods"), "no write is allowed")
		require.NotContains(t, strings.ToLower(asked.Header.Get("Access-Control-Allow-Headers")), "authorization")
	}
	for _, path := range []string{event + "/stream", s.api("/stream")} {
		l := p.listen(path, "Origin", elsewhere)
		require.Equal(t, "*", l.response.Header.Get("Access-Control-Allow-Origin"))
		require.Equal(t, http.StatusNoContent, p.preflight(path, elsewhere, http.MethodGet).StatusCode)
	}
	missing, _ := p.plain("/api/v1/events/none", "Origin", elsewhere)
	require.Equal(t, http.StatusNotFound, missing.StatusCode)
	require.Equal(t, "*", missing.Header.Get("Access-Control-Allow-Origin"), "a page may read why there is nothing")
	for _, path := range append(exports(s.ref.Event, s.ref.Class), "/schema/result.json") {
		r, _ := p.plain(path, "Origin", elsewhere)
		require.Equal(t, "*", r.Header.Get("Access-Control-Allow-Origin"), path)
	}
}

// What needs a pass is shared with nobody: no preflight of it is granted, and no answer may be handed over.
func TestPagesOfOtherSitesCannotWrite(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s := hooking(p.fair)
	const elsewhere = "https://scores.example"
	event := "/api/v1/events/" + inventedSlug
	for path, method := range map[string]string{
		"/api/v1/me": http.MethodGet, event + "/journal": http.MethodGet, s.roundPath("setting"): http.MethodPut, event + "/passes": http.MethodPost,
		"/api/v1/passes/enter": http.MethodPost, s.api("/entries"): http.MethodPost, s.hookPath("result"): http.MethodPost, s.api("/official"): http.MethodPost,
	} {
		asked := p.preflight(path, elsewhere, method)
		require.Empty(t, asked.Header.Get("Access-Control-Allow-Origin"), path)
	}
	for _, path := range []string{"/api/v1/me", event + "/journal", s.roundPath("setting")} {
		r, _ := p.plain(path, "Origin", elsewhere)
		require.Empty(t, r.Header.Get("Access-Control-Allow-Origin"), path)
	}
	asked := p.preflight("/api/v1/events", elsewhere, http.MethodPost)
	require.NotContains(t, asked.Header.Get("Access-Control-Allow-Methods"), "POST", "reading is granted, and the browser sends no write")
	for _, page := range []string{"/", "/e/" + inventedSlug, "/e/" + inventedSlug + "/" + s.ref.Class} {
		r, _ := p.plain(page, "Origin", elsewhere)
		require.Empty(t, r.Header.Get("Access-Control-Allow-Origin"), page)
	}
}

// preflight asks as a browser does before it sends what a page of another site wants.
func (p *programs) preflight(path, origin, method string) *http.Response {
	p.t.Helper()
	request, err := http.NewRequestWithContext(p.ctx, http.MethodOptions, p.address+path, http.NoBody)
	require.NoError(p.t, err)
	request.Header.Set("Origin", origin)
	request.Header.Set("Access-Control-Request-Method", method)
	request.Header.Set("Access-Control-Request-Headers", "if-none-match")
	r, err := direct().Do(request)
	require.NoError(p.t, err)
	require.NoError(p.t, r.Body.Close())
	return r
}
