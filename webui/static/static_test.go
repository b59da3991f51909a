package static_test

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
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

// The catalogue that a page goes on with is all of it, packed.
func TestTheCatalogueIsAFile(t *testing.T) {
	t.Parallel()
	for _, l := range language.Others() {
		f, ok := static.Lookup(strings.TrimPrefix(static.Href(static.Catalogue(l.Tag())), static.Prefix))
		require.True(t, ok)
		require.Equal(t, "application/json", f.Type)
		require.Equal(t, "gzip", f.Coding)
		reader, err := gzip.NewReader(bytes.NewReader(f.Body))
		require.NoError(t, err)
		text, err := io.ReadAll(reader)
		require.NoError(t, err)
		given, err := language.Given(l.Tag(), text)
		require.NoError(t, err)
		require.Equal(t, l.Sentences(), given.Sentences())
		require.Less(t, len(f.Body), 150_000, "a phone with one bar loads it with the page")
	}
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

// scriptTexts are the sentences that a script hands to say, and those that it has for people and does not hand to it. A text that
// begins with a word in a capital, or ends as a sentence does, is for people; scripts have no other of that kind in quotes.
func scriptTexts(script string) (said, bare []string) {
	script = regexp.MustCompile(`(?m)(?:^|\s)//.*$|\bkey === "\w+"`).ReplaceAllString(script, "") // the name of a key of the keyboard is compared
	literal := regexp.MustCompile("\"((?:[^\"\\\\]|\\\\.)*)\"|`([^`]*)`")
	texts := func(code string) (list []string) {
		for _, m := range literal.FindAllStringSubmatch(code, -1) {
			list = append(list, m[1]+m[2])
		}
		return list
	}
	call := regexp.MustCompile(`\bsay\(`)
	for {
		at := call.FindStringIndex(script)
		if at == nil {
			break
		}
		sentences, rest := firstArgument(script[at[1]:])
		said = append(said, texts(sentences)...)
		script = script[:at[0]] + rest
	}
	for _, text := range texts(script) {
		if regexp.MustCompile(`^\P{L}*\p{Lu}\p{Ll}+(?:\P{L}|$)| \p{Ll}+[.!?]$`).MatchString(text) {
			bare = append(bare, text)
		}
	}
	return said, bare
}

// firstArgument is the first argument of a call, and what follows it.
func firstArgument(code string) (argument, rest string) {
	deep, quoted := 0, false
	for i, sign := range code {
		switch {
		case sign == '"':
			quoted = !quoted
		case quoted:
		case strings.ContainsRune("([{", sign):
			deep++
		case deep == 0 && strings.ContainsRune(",)", sign):
			return code[:i], code[i:]
		case strings.ContainsRune(")]}", sign):
			deep--
		}
	}
	return code, ""
}

func TestTextsOfAScriptAreFound(t *testing.T) {
	t.Parallel()
	said, bare := scriptTexts(`
// A comment says "This is no text."
add(panel, "p", say(kept.length === 1 ? "1 form, kept (here)." : "{n} forms.", { n: kept.length, x: "Nobody" }));
field(into, "Reason"); add(panel, ` + "`Not taken: ${who}`" + `); ask({ method: "POST", mode: "same-origin" });`)
	require.Equal(t, []string{"1 form, kept (here).", "{n} forms."}, said)
	require.Equal(t, []string{"Nobody", "Reason", "Not taken: ${who}"}, bare)
}

// What a script says is said in every language: each sentence that it hands to say is in the part of the catalogue that the
// page gives it, and it has none that it does not hand to say. Pages that go on without the server have the whole catalogue.
func TestWhatScriptsSayIsInTheCatalogue(t *testing.T) {
	t.Parallel()
	names, err := filepath.Glob("*.js")
	require.NoError(t, err)
	parts, err := filepath.Glob("keep/*.js")
	require.NoError(t, err)
	found := map[string]int{}
	for _, name := range slices.Concat(names, parts) {
		text, err := os.ReadFile(name) // #nosec G304 -- a file of this folder
		require.NoError(t, err)
		said, bare := scriptTexts(string(text))
		require.Empty(t, bare, "%s says it in English alone", name)
		for _, sentence := range said {
			found[filepath.Dir(name)]++
			for _, l := range language.Others() {
				given := l.Part(language.Scripts)
				if filepath.Dir(name) == "keep" {
					given = l.Sentences()
				}
				_, there := given[sentence]
				require.True(t, there, "%s: %q, language %s", name, sentence, l.Tag())
			}
		}
	}
	require.Greater(t, found["."], 10)
	require.Greater(t, found["keep"], 20)
}
