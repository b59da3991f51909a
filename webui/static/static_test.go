package static_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/webui/language"
	"clayline/webui/static"
)

// stylesheet is the stylesheet's text.
func stylesheet(t *testing.T) string {
	t.Helper()
	f, ok := static.Lookup(strings.TrimPrefix(static.Href("clayline.css"), static.Prefix))
	require.True(t, ok)
	return string(f.Body)
}

func TestHrefLeadsToTheFile(t *testing.T) {
	t.Parallel()
	for name, kind := range map[string]string{"clayline.css": "text/css; charset=utf-8", "favicon.svg": "image/svg+xml"} {
		href := static.Href(name)
		f, ok := static.Lookup(strings.TrimPrefix(href, static.Prefix))
		require.True(t, ok, href)
		require.Equal(t, name, f.Name)
		require.Equal(t, kind, f.Type)
		require.NotEmpty(t, f.Body)
		require.Contains(t, href, f.Hash)
	}
}

func TestOnlyTheExactAddressIsFound(t *testing.T) {
	t.Parallel()
	for _, wrong := range []string{"", "clayline.css", "clayline.000000000000.css", "../static.go", "static.go", "."} {
		_, ok := static.Lookup(wrong)
		require.False(t, ok, wrong)
	}
	require.Panics(t, func() { static.Href("nothing.css") })
}

// A page's policy allows nothing from elsewhere.
func TestTheStylesheetFetchesNothing(t *testing.T) {
	t.Parallel()
	css := stylesheet(t)
	require.NotContains(t, css, "url(")
	require.NotContains(t, css, "@import")
}

// The stylesheet is one file for the browser, and each of its sheets is in it once, in an order in which paper has the
// last word.
func TestTheStylesheetIsJoinedOfItsSheets(t *testing.T) {
	t.Parallel()
	css := stylesheet(t)
	sheets, err := filepath.Glob("css/*.css")
	require.NoError(t, err)
	require.NotEmpty(t, sheets)
	whole := 0
	for _, name := range sheets {
		text, err := os.ReadFile(name) // #nosec G304 -- a file of this folder
		require.NoError(t, err)
		require.Equal(t, 1, strings.Count(css, string(text)), name)
		require.LessOrEqual(t, strings.Count(string(text), "\n"), 200, name)
		whole += len(text)
		require.Panics(t, func() { static.Href(filepath.Base(name)) }, "a sheet has no address of its own")
	}
	require.Len(t, css, whole)
	last, err := os.ReadFile("css/paper.css")
	require.NoError(t, err)
	require.True(t, strings.HasSuffix(css, string(last)))
	require.True(t, strings.HasPrefix(css, "/* Clayline"))
}

// The script of the pages that go on without the server is one module for the browser, and each of its parts is in it once.
func TestTheKeepingScriptIsJoinedOfItsParts(t *testing.T) {
	t.Parallel()
	f, ok := static.Lookup(strings.TrimPrefix(static.Href("keep.js"), static.Prefix))
	require.True(t, ok)
	parts, err := filepath.Glob("keep/*.js")
	require.NoError(t, err)
	require.NotEmpty(t, parts)
	say, err := os.ReadFile("say.js")
	require.NoError(t, err)
	require.True(t, strings.HasPrefix(string(f.Body), string(say)))
	whole := len(say)
	for _, name := range parts {
		text, err := os.ReadFile(name) // #nosec G304 -- a file of this folder
		require.NoError(t, err)
		require.Equal(t, 1, strings.Count(string(f.Body), string(text)), name)
		whole += len(text)
		require.Panics(t, func() { static.Href(filepath.Base(name)) }, "a part has no address of its own")
	}
	require.Len(t, string(f.Body), whole)
}

// Whoever is made ill by what moves sees nothing move, and nobody else does: there is no motion to reduce.
func TestNothingMoves(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"clayline.css", "screen.css"} {
		f, ok := static.Lookup(strings.TrimPrefix(static.Href(name), static.Prefix))
		require.True(t, ok)
		require.NotRegexp(t, `transition|animation|@keyframes|scroll-behavior`, string(f.Body), name)
	}
}

// tokens are the colours of the n-th block of tokens: 0 by day, 1 by night, 2 on paper.
func tokens(t *testing.T, n int) map[string]string {
	t.Helper()
	blocks := regexp.MustCompile(`(?s):root \{(.*?)\}`).FindAllStringSubmatch(stylesheet(t), -1)
	require.Greater(t, len(blocks), n)
	found := map[string]string{}
	for _, m := range regexp.MustCompile(`--(\w+): (#[0-9a-f]{3,6});`).FindAllStringSubmatch(blocks[n][1], -1) {
		found[m[1]] = m[2]
	}
	return found
}

// contrast is the contrast of two colours, by WCAG 2.2, "contrast ratio".
func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	la, lb := luminance(t, a), luminance(t, b)
	return (math.Max(la, lb) + 0.05) / (math.Min(la, lb) + 0.05)
}

// luminance is the relative luminance of a colour, by WCAG 2.2.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	hex = strings.TrimPrefix(hex, "#")
	if len(hex) == 3 {
		hex = fmt.Sprintf("%c%c%c%c%c%c", hex[0], hex[0], hex[1], hex[1], hex[2], hex[2])
	}
	var sum float64
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		require.NoError(t, err)
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

func TestContrast(t *testing.T) {
	t.Parallel()
	for n, name := range []string{"day", "night", "paper"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			token := tokens(t, n)
			for _, text := range []string{"ink", "soft", "clay", "red"} {
				for _, ground := range []string{"paper", "track", "now"} {
					require.GreaterOrEqual(t, contrast(t, token[text], token[ground]), 4.5, "%s on %s", text, ground)
				}
			}
			for _, ground := range []string{"ink", "clay"} {
				require.GreaterOrEqual(t, contrast(t, token["paper"], token[ground]), 4.5, "paper on %s", ground)
			}
		})
	}
}

func TestContrastKnowsBlackOnWhite(t *testing.T) {
	t.Parallel()
	require.InDelta(t, 21, contrast(t, "#000", "#ffffff"), 0.001)
}

// What a script says is said in every language: each sentence that it hands to say is in the part of the catalogue that the
// page gives it, with the same holes.
func TestWhatScriptsSayIsInTheCatalogue(t *testing.T) {
	t.Parallel()
	said := regexp.MustCompile(`\bsay\(\s*"((?:[^"\\]|\\.)*)"`)
	names, err := filepath.Glob("*.js")
	require.NoError(t, err)
	found := 0
	for _, name := range names {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		for _, m := range said.FindAllStringSubmatch(string(text), -1) {
			found++
			for _, l := range language.Others() {
				require.Contains(t, l.Part(language.Scripts), m[1], "%s, language %s", name, l.Tag())
			}
		}
	}
	require.Greater(t, found, 10)
}
