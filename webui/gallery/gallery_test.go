package gallery_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"clayline/webui/gallery"
)

// render is the page's text and its parsed tree.
func render(t *testing.T, p gallery.Page) (string, *html.Node) {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, p.Body.Render(t.Context(), &b))
	doc, err := html.Parse(bytes.NewReader(b.Bytes()))
	require.NoError(t, err)
	return b.String(), doc
}

// attr is the value of an attribute.
func attr(n *html.Node, key string) (string, bool) {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val, true
		}
	}
	return "", false
}

// elements are all elements of the page with one of the names.
func elements(doc *html.Node, names ...string) []*html.Node {
	var found []*html.Node
	for n := range doc.Descendants() {
		for _, name := range names {
			if n.Type == html.ElementNode && n.Data == name {
				found = append(found, n)
			}
		}
	}
	return found
}

// each runs a check over every page of the gallery.
func each(t *testing.T, check func(t *testing.T, text string, doc *html.Node)) {
	t.Helper()
	for _, p := range gallery.Pages() {
		t.Run(p.Name, func(t *testing.T) {
			t.Parallel()
			text, doc := render(t, p)
			check(t, text, doc)
		})
	}
}

func TestNamesAreUnique(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for _, p := range gallery.Pages() {
		require.False(t, seen[p.Name], p.Name)
		require.NotEmpty(t, p.Title)
		seen[p.Name] = true
	}
}

func TestEveryPageHasItsLandmarks(t *testing.T) {
	t.Parallel()
	each(t, func(t *testing.T, _ string, doc *html.Node) {
		require.Len(t, elements(doc, "h1"), 1)
		require.Len(t, elements(doc, "main"), 1)
		require.Len(t, elements(doc, "header"), 1)
		require.Len(t, elements(doc, "footer"), 1)
		lang, _ := attr(elements(doc, "html")[0], "lang")
		require.NotEmpty(t, lang)
		require.NotEmpty(t, elements(doc, "title")[0].FirstChild.Data)
	})
}

func TestEveryFieldHasALabel(t *testing.T) {
	t.Parallel()
	each(t, func(t *testing.T, _ string, doc *html.Node) {
		labelled := map[string]bool{}
		for _, l := range elements(doc, "label") {
			id, _ := attr(l, "for")
			labelled[id] = true
		}
		for _, field := range elements(doc, "input", "select", "textarea") {
			kind, _ := attr(field, "type")
			id, _ := attr(field, "id")
			wrapped := field.Parent.Data == "label"
			require.True(t, kind == "hidden" || wrapped || labelled[id], "%v", field.Attr)
		}
	})
}

func TestIDsAreUniqueAndReferencesResolve(t *testing.T) {
	t.Parallel()
	each(t, func(t *testing.T, _ string, doc *html.Node) {
		ids := map[string]bool{}
		for n := range doc.Descendants() {
			if id, ok := attr(n, "id"); ok {
				require.False(t, ids[id], "twice: %s", id)
				require.NotEmpty(t, id)
				ids[id] = true
			}
		}
		for n := range doc.Descendants() {
			for _, key := range []string{"for", "list", "aria-labelledby", "aria-describedby"} {
				value, _ := attr(n, key)
				for id := range strings.FieldsSeq(value) {
					require.True(t, ids[id], "%s of %s leads nowhere: %s", key, n.Data, id)
				}
			}
		}
	})
}

// Whoever has the screen read out is interrupted by what is refused alone. Of a page they are told the answer to what they
// sent, and of what changes by itself one part at most, when it is quiet.
func TestOnePartOfAPageIsSaidAloudByItself(t *testing.T) {
	t.Parallel()
	each(t, func(t *testing.T, _ string, doc *html.Node) {
		said := map[string]int{}
		for n := range doc.Descendants() {
			role, _ := attr(n, "role")
			live, is := attr(n, "aria-live")
			require.Contains(t, []string{"", "polite"}, live, n.Data)
			if is {
				said["by itself"]++
			}
			said[role]++
		}
		require.LessOrEqual(t, said["by itself"], 1)
		require.LessOrEqual(t, said["status"], 1)
		require.LessOrEqual(t, said["alert"], 2, "one for the page and one at the field")
		require.Zero(t, said["log"]+said["timer"]+said["marquee"])
	})
}

// A Content-Security-Policy without unsafe-inline would drop these.
func TestNothingIsInline(t *testing.T) {
	t.Parallel()
	each(t, func(t *testing.T, _ string, doc *html.Node) {
		require.Empty(t, elements(doc, "script", "style"))
		for n := range doc.Descendants() {
			for _, a := range n.Attr {
				require.NotEqual(t, "style", a.Key, n.Data)
				require.False(t, strings.HasPrefix(a.Key, "on"), a.Key)
			}
		}
	})
}

// A form that changes anything carries its action id and is sent by POST; one that only asks sends nothing but the
// question, which is a single field where it is a search.
func TestFormsPost(t *testing.T) {
	t.Parallel()
	each(t, func(t *testing.T, _ string, doc *html.Node) {
		for _, f := range elements(doc, "form") {
			method, _ := attr(f, "method")
			if role, _ := attr(f, "role"); role == "search" {
				require.Equal(t, "get", method)
				require.Len(t, elements(f, "input"), 1)
			} else if method == "get" {
				for _, field := range elements(f, "input") {
					kind, _ := attr(field, "type")
					require.NotEqual(t, "hidden", kind, "it carries no action")
				}
			} else {
				require.Equal(t, "post", method)
			}
			action, _ := attr(f, "action")
			require.NotEmpty(t, action)
			require.NotEmpty(t, elements(f, "button"))
		}
	})
}

func TestPicturesHaveWords(t *testing.T) {
	t.Parallel()
	each(t, func(t *testing.T, _ string, doc *html.Node) {
		for _, svg := range elements(doc, "svg") {
			if role, _ := attr(svg, "role"); role == "img" {
				require.NotEmpty(t, elements(svg, "title"))
				require.NotEmpty(t, elements(svg, "desc"))
			}
		}
	})
}

// Refused typing stays: the booth's scorer puts one digit right and goes on.
func TestTypingStays(t *testing.T) {
	t.Parallel()
	for name, typed := range map[string]string{
		"booth-error": "28t.34", "booth-confirm": "2873.4", "booth-act-error": "299.10", "desk-class-errors": "heavy", "estimate-error": "0,3",
	} {
		for _, p := range gallery.Pages() {
			if p.Name == name {
				text, _ := render(t, p)
				require.Contains(t, text, `value="`+typed+`"`, name)
			}
		}
	}
}

// The program gives no green and calls nothing safe: that is for officials.
func TestNoPageGivesASignal(t *testing.T) {
	t.Parallel()
	each(t, func(t *testing.T, text string, _ *html.Node) {
		require.NotRegexp(t, `(?i)\b(safe|safely|go ahead|green)\b`, text)
	})
}
