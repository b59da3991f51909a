package language

import (
	"bytes"
	"slices"
	"strings"

	"golang.org/x/net/html"
)

// spoken are the attributes of HTML that people read or hear; data-label stands before a cell where a table is too wide.
var spoken = []string{"alt", "aria-label", "aria-description", "aria-valuetext", "placeholder", "title", "label", "data-say", "data-label"}

// leads are the attributes that lead to another page of this server.
var leads = []string{"href", "action", "formaction"}

// unread are the elements whose text is no language: programs, data, elements that are read as text, and what somebody typed.
var unread = []string{"script", "style", "textarea", "noscript"}

// void are the elements that have no end.
var void = []string{"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}

// Page writes a page of HTML in the language: its texts and the attributes that people read, and its links so that they lead
// on in the language. It returns the texts that the catalogue does not know. What the page marks with translate="no", or
// within a picture with the class "notranslate", is left as it is; so are links with hreflang, which say the language that they lead to.
//
// The nil Language returns the page as it is.
func (l *Language) Page(page []byte) (said []byte, unknown []string) { return l.page(page, nil) }

// page writes a page whose forms give back numbers as they were typed.
func (l *Language) page(page []byte, was Retyped) (said []byte, unknown []string) {
	if l == nil {
		return page, nil
	}
	w := writer{language: l, was: was, page: page, in: html.NewTokenizer(bytes.NewReader(page)), rest: page}
	w.out.Grow(len(page) + len(page)/8)
	for w.next() {
	}
	return w.out.Bytes(), w.unknown
}

// writer is a page on its way into the language.
type writer struct {
	language *Language
	in       *html.Tokenizer
	page     []byte
	rest     []byte // what of the page is still to come
	out      bytes.Buffer
	unknown  []string
	was      Retyped  // how numbers in its forms were typed
	title    bool     // within the title of the page
	left     []string // open elements from the one on that is left as it is; empty where there is none
}

// next writes the next piece of the page; false at its end.
func (w *writer) next() bool {
	kind := w.in.Next()
	if kind == html.ErrorToken {
		// A page that ends within a tag is none of ours; its end is kept as it is.
		w.out.Write(w.rest)
		return false
	}
	// Raw is good until the token is looked at.
	raw := slices.Clone(w.in.Raw())
	w.rest = w.rest[len(raw):]
	switch kind {
	case html.TextToken:
		w.text(raw)
	case html.StartTagToken, html.SelfClosingTagToken:
		w.tag(kind, raw)
	case html.EndTagToken:
		w.out.Write(raw)
		w.title = false
		if n := len(w.left); n > 0 {
			if name, _ := w.in.TagName(); string(name) == w.left[n-1] {
				w.left = w.left[:n-1]
			}
		}
	default:
		w.out.Write(raw)
	}
	return true
}

// text writes a text of the page.
func (w *writer) text(raw []byte) {
	if len(w.left) > 0 {
		w.out.Write(raw)
		return
	}
	text := html.UnescapeString(string(raw))
	say := w.say
	if w.title {
		say = w.sayHead
	}
	said := say(text)
	if said == text {
		w.out.Write(raw)
		return
	}
	w.out.WriteString(html.EscapeString(said))
}

// say says a text and remembers what of it is unknown.
func (w *writer) say(text string) string {
	said, unknown := w.language.text(text, w.was)
	w.unknown = append(w.unknown, unknown...)
	return said
}

// sayHead says the title of the page or its description, where nothing can be marked: a name there is one that the page
// itself marks.
func (w *writer) sayHead(text string) string {
	said, unknown := w.language.text(text, w.was)
	for _, u := range unknown {
		name := html.EscapeString(u) + "<"
		if !bytes.Contains(w.page, []byte(`translate="no">`+name)) && !bytes.Contains(w.page, []byte(`translate="no">· `+name)) {
			w.unknown = append(w.unknown, u)
		}
	}
	return said
}

// tag writes the beginning of an element.
func (w *writer) tag(kind html.TokenType, raw []byte) {
	token := w.in.Token()
	n := len(w.left)
	w.title = token.Data == "title"
	begins := kind == html.StartTagToken && !slices.Contains(void, token.Data)
	leave := slices.Contains(unread, token.Data) || asItIs(token)
	if begins && (n == 0 && leave || n > 0 && token.Data == w.left[n-1]) {
		w.left = append(w.left, token.Data)
	}
	changed := false
	for i := range token.Attr {
		if said := w.attribute(token, token.Attr[i], n > 0); said != token.Attr[i].Val {
			token.Attr[i].Val, changed = said, true
		}
	}
	if !changed {
		w.out.Write(raw)
		return
	}
	w.out.WriteString(token.String())
}

// attribute says an attribute; left is set within what is left as it is, where links still lead on in the language.
func (w *writer) attribute(of html.Token, a html.Attribute, left bool) string {
	switch {
	case slices.Contains(leads, a.Key) && attribute(of, "hreflang") == "":
		return w.language.Href(a.Val)
	case of.Data == "input" && a.Key == "value":
		if typed, ok := w.was[attribute(of, "name")][a.Val]; ok {
			return typed
		}
		return a.Val
	case of.Data == "html" && a.Key == "lang":
		return w.language.Tag()
	case left || asItIs(of) || a.Val == "":
		return a.Val
	case slices.Contains(spoken, a.Key):
		return w.say(a.Val)
	case of.Data == "meta" && a.Key == "content" && described(of):
		return w.sayHead(a.Val)
	default:
		return a.Val
	}
}

// asItIs reports whether what people typed is marked on the element. SVG has no attribute for that; the class is the one that
// browsers' own translators know.
func asItIs(of html.Token) bool {
	return attribute(of, "translate") == "no" || slices.Contains(strings.Fields(attribute(of, "class")), "notranslate")
}

// described reports whether a meta element says something to people.
func described(of html.Token) bool {
	name := attribute(of, "name") + attribute(of, "property")
	return name == "description" || name == "og:title" || name == "og:description"
}

// attribute is the value of an attribute, "" where the element has none.
func attribute(of html.Token, name string) string {
	for _, a := range of.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// Href is the address of a page in the language: "/de/e/tarn-hollow" of "/e/tarn-hollow". Addresses of other servers, of
// files and of the interface for programs are the same in all languages.
func (l *Language) Href(address string) string {
	if l == nil || !strings.HasPrefix(address, "/") || strings.HasPrefix(address, "//") {
		return address
	}
	for _, same := range []string{"/static/", "/api", "/worker.js", "/remind.js", "/" + l.tag + "/"} {
		if strings.HasPrefix(address, same) {
			return address
		}
	}
	return "/" + l.tag + address
}
