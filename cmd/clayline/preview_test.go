package main

import (
	"encoding/json"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// dataBlock finds what a page tells search engines.
var dataBlock = regexp.MustCompile(`<script type="application/ld\+json">(.*?)</script>`)

// A page of an event and one of a class say what they are to a chat that previews them and to a search engine.
func TestPagesSayWhatTheyAre(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s, anybody := entering(f), visitor{fair: f}
	for path, name := range map[string]string{"/e/" + inventedSlug: inventedEvent, s.path(""): s.class().Name} {
		page := anybody.get(path)
		found := dataBlock.FindStringSubmatch(page.body)
		require.Len(t, found, 2, path)
		var told map[string]any
		require.NoError(t, json.Unmarshal([]byte(found[1]), &told))
		assert.Equal(t, []any{"SportsEvent", name, path}, []any{told["@type"], told["name"], told["url"]})
		assert.Contains(t, page.header.Get("Link"), "<"+s.address+path+`>; rel="canonical"`)
		assert.Regexp(t, `<meta property="og:title" content="[^"]+">`, page.body)
		packed := anybody.send(http.MethodGet, path, http.NoBody, "Accept-Encoding", "br")
		assert.Less(t, len(packed.body), firstFlight, path)
	}
	for _, path := range []string{"/e/" + inventedSlug + "/pits?q=41", "/e/" + inventedSlug + "/pits"} {
		assert.Contains(t, anybody.get(path).header.Get("Link"), "<"+f.address+"/e/"+inventedSlug+`/pits>; rel="canonical"`, "an answer to a question is no page of its own")
	}
	assert.Empty(t, anybody.get("/enter/none").header.Get("Link"), "what is no public page has none")
	secure := anybody.send(http.MethodGet, s.path(""), http.NoBody, "X-Forwarded-Proto", "https")
	assert.Contains(t, secure.header.Get("Link"), "<"+strings.Replace(s.address, "http:", "https:", 1)+s.path("")+`>; rel="canonical"`)
}

// What a page tells search engines is data: the policy refuses a script in the page, and has nothing to say about that.
func TestThePolicyPassesDataAndNoScript(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := newBrowser(t, 390, 844)
	b.scripts(true)
	b.do(chromedp.Navigate(s.address+"/e/"+inventedSlug), chromedp.WaitVisible(chromedp.CSS("h1")))
	require.Equal(t, "SportsEvent", evaluate[string](b, `JSON.parse(document.querySelector("script[type='application/ld+json']").textContent)["@type"]`))
	// The script comes last, so that a refusal of the data would be heard before its own.
	evaluate[bool](b, `(() => {
		window.refused = [];
		document.addEventListener("securitypolicyviolation", e => { window.refused.push(e.violatedDirective); document.body.dataset.refused = window.refused.length; });
		for (const type of ["application/ld+json", ""]) {
			const element = document.createElement("script");
			element.type = type;
			element.textContent = "{}";
			document.head.append(element);
		}
		return true;
	})()`)
	b.do(chromedp.WaitVisible(chromedp.CSS("body[data-refused]")))
	require.Equal(t, 1, evaluate[int](b, "window.refused.length"), "the script alone is refused")
}
