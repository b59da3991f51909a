package main

import (
	"bytes"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"path"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

// visitor is a device: it keeps its cookie and follows no redirect by itself.
type visitor struct {
	*fair
	cookie string
}

// answer is what a visitor gets.
type answer struct {
	t      testing.TB
	path   string // that was asked for
	status int
	header http.Header
	body   string
}

// direct follows no redirect, so that a test sees it.
func direct() *http.Client {
	return &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
}

// send sends a request; headers are names and values in turn.
func (v visitor) send(method, path string, body io.Reader, headers ...string) answer {
	v.t.Helper()
	request, err := http.NewRequestWithContext(v.ctx, method, v.address+path, body)
	require.NoError(v.t, err)
	if v.cookie != "" {
		request.AddCookie(&http.Cookie{Name: "clayline_pass", Value: v.cookie})
	}
	for i := 0; i < len(headers); i += 2 {
		request.Header.Set(headers[i], headers[i+1])
	}
	response, err := direct().Do(request)
	require.NoError(v.t, err)
	defer response.Body.Close()
	read, err := io.ReadAll(response.Body)
	require.NoError(v.t, err)
	return answer{t: v.t, path: request.URL.Path, status: response.StatusCode, header: response.Header, body: string(read)}
}

func (v visitor) get(path string) answer {
	v.t.Helper()
	return v.send(http.MethodGet, path, http.NoBody)
}

// post sends a form.
func (v visitor) post(path string, values url.Values, headers ...string) answer {
	v.t.Helper()
	return v.send(http.MethodPost, path, strings.NewReader(values.Encode()), append(headers, "Content-Type", "application/x-www-form-urlencoded")...)
}

// submit sends a form as it was found on a page, filled in.
func (v visitor) submit(f *form, headers ...string) answer {
	v.t.Helper()
	if f.file == "" {
		return v.post(f.action, f.values, headers...)
	}
	var body bytes.Buffer
	parts := multipart.NewWriter(&body)
	for name, list := range f.values {
		for _, value := range list {
			if name != f.file {
				require.NoError(v.t, parts.WriteField(name, value))
			}
		}
	}
	part, err := parts.CreateFormFile(f.file, "display.jpg")
	require.NoError(v.t, err)
	_, err = io.WriteString(part, f.values.Get(f.file))
	require.NoError(v.t, err)
	require.NoError(v.t, parts.Close())
	return v.send(http.MethodPost, f.action, &body, append(headers, "Content-Type", parts.FormDataContentType())...)
}

// document parses the page.
func (a answer) document() *html.Node {
	a.t.Helper()
	tree, err := html.Parse(strings.NewReader(a.body))
	require.NoError(a.t, err)
	return tree
}

// says is the text of the page, its words apart by single spaces.
func (a answer) says() string {
	a.t.Helper()
	for n := range a.document().Descendants() {
		if n.Data == "body" {
			return textOf(n)
		}
	}
	return ""
}

// place is where a redirect leads, without the number of what was stored.
func (a answer) place() string {
	place, _, _ := strings.Cut(a.header.Get("Location"), "?")
	return place
}

// form is a form of a page with what would be sent.
type form struct {
	method string // "post" stores, "get" or "" asks
	action string
	values url.Values
	says   string // its text, refusals included
	wrong  string // the refusals, at fields and of the form as a whole
	at     string // the field that is marked as wrong
	file   string // the field that has a file; its bytes are among the values
}

// form finds a form by the last part of its address. Where several go to the same one, the word of its hidden field
// follows after a space: "result DQ"; without a word it is the one without that field. One that stores goes before one that
// only asks. Nil when the page has no such form.
func (a answer) form(name string) *form {
	a.t.Helper()
	var asks *form
	last, word, _ := strings.Cut(name, " ")
	for n := range a.document().Descendants() {
		if n.Type != html.ElementNode || n.Data != "form" {
			continue
		}
		f := readFormNode(n)
		switch {
		case path.Base(f.action) != last || f.values.Get("word")+f.values.Get("option") != word:
		case f.method == "post":
			return f
		case asks == nil:
			asks = f
		}
	}
	return asks
}

// fill types into the form's fields.
func (f *form) fill(typed map[string]string) *form {
	for name, value := range typed {
		f.values.Set(name, value)
	}
	return f
}

// readFormNode reads what a browser would send.
func readFormNode(top *html.Node) *form {
	f := &form{method: attribute(top, "method"), action: attribute(top, "action"), values: url.Values{}, says: textOf(top)}
	for n := range top.Descendants() {
		name := attribute(n, "name")
		if attribute(n, "aria-invalid") == "true" {
			f.at = name
		}
		switch {
		case n.Type != html.ElementNode:
		case n.Data == "p" && attribute(n, "class") == "wrong":
			f.wrong += textOf(n)
		case n.Data == "input" && (attribute(n, "type") == "radio" || attribute(n, "type") == "checkbox"):
			if has(n, "checked") {
				f.values.Set(name, attribute(n, "value"))
			}
		case n.Data == "input" && attribute(n, "type") == "file":
			f.file = name
		case n.Data == "input":
			f.values.Set(name, attribute(n, "value"))
		case n.Data == "textarea":
			f.values.Set(name, typedLines(n))
		case n.Data == "select":
			f.values.Set(name, selected(n))
		}
	}
	return f
}

// typedLines is what stands in a field of several lines.
func typedLines(field *html.Node) string {
	if field.FirstChild == nil {
		return ""
	}
	return strings.TrimSpace(field.FirstChild.Data)
}

// selected is the value of the option that is chosen, else of the first.
func selected(list *html.Node) string {
	value, found := "", false
	for n := range list.Descendants() {
		if n.Data == "option" && (!found || has(n, "selected")) {
			value, found = attribute(n, "value"), true
		}
	}
	return value
}

func attribute(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

func has(n *html.Node, name string) bool {
	for _, a := range n.Attr {
		if a.Key == name {
			return true
		}
	}
	return false
}

// textOf is the text below a node, its words apart by single spaces.
func textOf(top *html.Node) string {
	var words []string
	for n := range top.Descendants() {
		if n.Type == html.TextNode {
			words = append(words, strings.Fields(n.Data)...)
		}
	}
	return strings.Join(words, " ")
}
