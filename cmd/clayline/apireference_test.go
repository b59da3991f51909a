package main

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/api"
)

// The reference is made of the description: it has every operation, every shape and every problem, its links lead
// somewhere, and it needs neither a script nor anything from elsewhere.
func TestTheReferenceShowsTheWholeDescription(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	r, body := p.plain("/api")
	require.Equal(t, http.StatusOK, r.StatusCode)
	require.Equal(t, "text/html; charset=utf-8", r.Header.Get("Content-Type"))
	require.NotContains(t, r.Header.Get("Content-Security-Policy"), "unsafe")
	c := newContract(t)
	for route, id := range c.operations() {
		_, path, _ := strings.Cut(route, " ")
		require.Contains(t, body, `id="`+id+`"`)
		require.Contains(t, body, path)
	}
	for name := range c.model.Components.Schemas.KeysFromOldest() {
		require.Contains(t, body, `id="shape-`+name+`"`)
	}
	for response := range c.model.Components.Responses.ValuesFromOldest() {
		if response.Content == nil {
			continue // 304
		}
		for sort := range response.Content.GetOrZero("application/problem+json").Examples.KeysFromOldest() {
			require.Contains(t, body, `id="problem-`+sort+`"`)
		}
	}
	require.Contains(t, body, "<code>start_hole</code></th><td>query, may be left out", "a parameter of one operation alone is shown as those of many are")
	require.NotContains(t, body, "<code></code>", "nothing is shown without its name")
	page := reply{t: t, body: body}
	ids, tree := map[string]bool{}, answer{t: t, body: page.body}.document()
	for n := range tree.Descendants() {
		require.NotContains(t, []string{"script", "style", "img", "iframe"}, n.Data)
		require.Empty(t, attribute(n, "style"))
		if id := attribute(n, "id"); id != "" {
			require.False(t, ids[id], id)
			ids[id] = true
		}
	}
	for n := range tree.Descendants() {
		if href, local := strings.CutPrefix(attribute(n, "href"), "#"); local {
			require.True(t, ids[href], href)
		} else if href != "" {
			require.True(t, strings.HasPrefix(href, "/api/"), href)
		}
	}
	r, style := p.plain("/api/reference.css")
	require.Equal(t, "text/css; charset=utf-8", r.Header.Get("Content-Type"))
	require.Contains(t, style, "prefers-color-scheme: dark")
	r, document := p.plain("/api/openapi.yaml")
	require.Equal(t, "application/yaml", r.Header.Get("Content-Type"))
	require.Equal(t, string(api.OpenAPI), document)
}
