package api

import (
	"bytes"
	_ "embed"
	"html/template"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"
)

// OpenAPI is the description of this interface, in OpenAPI 3.1.
//
//go:embed openapi.yaml
var OpenAPI []byte

//go:embed reference.css
var referenceCSS []byte

//go:embed reference.html
var referenceHTML string

// document serves the description. It is the file itself, with the comments of whoever wrote it.
func (s *Server) document(c echo.Context) error {
	c.Response().Header().Set("Cache-Control", "no-cache")
	return c.Blob(http.StatusOK, "application/yaml", OpenAPI)
}

// referenceStyle serves the style of the page. It has an address of its own because [policy] allows no style in the
// page.
func (s *Server) referenceStyle(c echo.Context) error {
	c.Response().Header().Set("Cache-Control", "no-cache")
	return c.Blob(http.StatusOK, "text/css; charset=utf-8", referenceCSS)
}

// referencePage serves the description as a page to read. It needs no script and nothing from elsewhere. A ring without
// the internet can read it.
func (s *Server) referencePage(c echo.Context) error {
	page, err := s.reference()
	if err != nil {
		return err
	}
	c.Response().Header().Set("Cache-Control", "no-cache")
	return c.Blob(http.StatusOK, "text/html; charset=utf-8", page)
}

// braced writes a route as the description does: "/events/{event}".
func braced(path string) string {
	parts := strings.Split(path, "/")
	for i, p := range parts {
		if name, ok := strings.CutPrefix(p, ":"); ok {
			parts[i] = "{" + name + "}"
		}
	}
	return strings.Join(parts, "/")
}

// reference is what the page shows.
type reference struct {
	Title, Summary, Version string
	Intro                   [][]words
	Tags                    []referenceTag
	Shapes                  []shape
	Problems                []problemLine
}

// words are a part of a paragraph in one style. Both may be true.
type words struct {
	Text         string
	Strong, Code bool
}

// problemLine is a sort of problem as the page lists it; its name is the anchor to which the type of a problem leads.
type problemLine struct {
	Name, Title string
	Status      int
}

// referenceTag is a section of the page: the operations with one tag of the description.
type referenceTag struct {
	Name, Description string
	Operations        []operation
}

// renderReference makes the page from the description. It is done once, since nothing in it changes while the program
// runs. Escaping is left to html/template.
func renderReference() ([]byte, error) {
	d, err := readDescription()
	if err != nil {
		return nil, err
	}
	page := reference{
		Title: d.Info.Title, Summary: d.Info.Summary, Version: d.Info.Version, Intro: paragraphs(d.Info.Description),
	}
	if page.Shapes, err = d.shapes(); err != nil {
		return nil, err
	}
	for _, t := range d.Tags {
		operations, err := d.operations(t.Name)
		if err != nil {
			return nil, err
		}
		page.Tags = append(page.Tags, referenceTag{Name: t.Name, Description: t.Description, Operations: operations})
	}
	for _, k := range sorts() {
		page.Problems = append(page.Problems, problemLine{Name: k.name, Title: k.title, Status: k.status})
	}
	layout, err := template.New("reference").Parse(referenceHTML)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = layout.Execute(&out, page)
	return out.Bytes(), err
}

// paragraphs reads the little of Markdown that the description uses: blank lines, ** and `. Pieces between a pair of
// marks are those with an odd number, so that a mark without its pair reaches to the end of its paragraph.
//
//	"send **one** `GET`"     "send ", "one" strong, " ", "GET" code
func paragraphs(text string) [][]words {
	var list [][]words
	for paragraph := range strings.SplitSeq(strings.TrimSpace(text), "\n\n") {
		var line []words
		for i, part := range strings.Split(paragraph, "**") {
			for j, piece := range strings.Split(part, "`") {
				line = append(line, words{Text: piece, Strong: i%2 == 1, Code: j%2 == 1})
			}
		}
		list = append(list, line)
	}
	return list
}
