package main

import (
	"encoding/xml"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// listedPages are the addresses that a search engine is told of.
func listedPages(t *testing.T, v visitor) []string {
	t.Helper()
	a := v.get("/sitemap.xml")
	require.Equal(t, http.StatusOK, a.status)
	require.Equal(t, "application/xml; charset=utf-8", a.header.Get("Content-Type"))
	require.Equal(t, "public, max-age=3600", a.header.Get("Cache-Control"))
	var list struct {
		XMLName xml.Name `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 urlset"`
		URL     []string `xml:"url>loc"`
	}
	require.NoError(t, xml.Unmarshal([]byte(a.body), &list))
	return list.URL
}

// asks reports whether robots.txt asks that a path be left alone, as RFC 9309 has it: what it begins with counts, a star
// stands for anything and a dollar for the end.
func asks(robots, path string) bool {
	for line := range strings.SplitSeq(robots, "\n") {
		if rule, is := strings.CutPrefix(line, "Disallow: "); is {
			pattern := "^" + strings.NewReplacer(`\*`, ".*", `\$`, "$").Replace(regexp.QuoteMeta(rule))
			if regexp.MustCompile(pattern).MatchString(path) {
				return true
			}
		}
	}
	return false
}

// Everybody may read what is listed, it is found by that address alone, and what needs a pass is asked to be left alone.
func TestSearchEnginesAreToldOfThePublicPages(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	v := visitor{fair: f}
	before := listedPages(t, v)
	s := hooking(f)
	after := listedPages(t, v)
	require.Len(t, after, len(before)+1, "a class is listed once it is planned")

	robots := v.get("/robots.txt")
	require.Equal(t, "text/plain; charset=utf-8", robots.header.Get("Content-Type"))
	require.Equal(t, "public, max-age=3600", robots.header.Get("Cache-Control"))
	server := strings.TrimSuffix(after[0], "/")
	assert.Contains(t, robots.body, "\nSitemap: "+server+"/sitemap.xml\n")
	assert.Contains(t, after, server+s.path(""))
	for _, address := range after {
		path, here := strings.CutPrefix(address, server)
		require.True(t, here, address)
		a := v.get(path)
		assert.Equal(t, http.StatusOK, a.status, path)
		assert.NotEqual(t, "noindex", a.header.Get("X-Robots-Tag"), path)
		assert.False(t, asks(robots.body, path), path)
	}
	for _, path := range []string{
		"/desk", "/desk/pass", "/desk/season/x", "/enter/secret", "/api/v1/events", "/e/" + inventedSlug + "/desk", "/e/" + inventedSlug + "/pits?q=41",
		"/e/" + inventedSlug + "/booth", s.path("booth"), s.path("cab/estimate"), s.path("desk/purse"), s.path("lane"), s.path("flag"), s.path("scale"),
	} {
		assert.True(t, asks(robots.body, path), path)
	}
	for _, path := range []string{"/e/x/scale-models", "/e/lane-county/cabover-trucks", "/p/Maud%20Farrow", "/"} {
		assert.False(t, asks(robots.body, path), path)
	}
	assert.Equal(t, after, listedPages(t, f.as(domain.Desk)), "a pass sees no more")
}
