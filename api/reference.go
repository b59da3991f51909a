package api

import (
	"net/http"
	"strings"

	_ "embed"

	"github.com/labstack/echo/v4"
)

// OpenAPI is the description of this interface, in OpenAPI 3.1.
//
//go:embed openapi.yaml
var OpenAPI []byte

//go:embed reference.css
var referenceCSS []byte

// document serves the description.
func (s *Server) document(c echo.Context) error {
	c.Response().Header().Set("Cache-Control", "no-cache")
	return c.Blob(http.StatusOK, "application/yaml", OpenAPI)
}

func (s *Server) referenceStyle(c echo.Context) error {
	c.Response().Header().Set("Cache-Control", "no-cache")
	return c.Blob(http.StatusOK, "text/css; charset=utf-8", referenceCSS)
}

// referencePage serves the description as a page to read.
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

func renderReference() ([]byte, error) { return nil, nil }
