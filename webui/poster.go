//go:build !js

package webui

import (
	"net"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/webui/language"
	"clayline/webui/picture"
	"clayline/webui/templates"
)

// posters shows the posters for the pits to print: one for the event, which leads to the page of the pits, and one for
// each class. The codes lead to the server by the name by which the desk opened the page.
func (s *Site) posters(c echo.Context) error {
	by, err := s.may(c, domain.Desk)
	if err != nil {
		return err
	}
	page, err := s.desk.EventPage(c.Request().Context(), c.Param("event"))
	if err != nil {
		return err
	}
	e := page.Event
	if err := mayAt(by, e.ID); err != nil {
		return err
	}
	// A poster leads to the page in the language in which it is printed.
	in := language.Of(c.Request().Context())
	view := templates.Posters{Frame: s.frame(c, e, by), Here: local(c.Request().Host)}
	pits, err := poster(server(c), in.Href(eventHref(e)+"/pits"), templates.Poster{Title: e.Name, When: dates(e), Text: "Find your hook: by number or by name."})
	if err != nil {
		return err
	}
	view.List = append(view.List, pits)
	for i := range page.Classes {
		class := &page.Classes[i]
		one, err := poster(server(c), in.Href(classHref(e, *class)), templates.Poster{Event: e.Name, Title: class.Name, When: dayOf(e, *class), Where: where(e, *class), Text: "Hook order and results of this class."})
		if err != nil {
			return err
		}
		view.List = append(view.List, one)
	}
	c.Response().Header().Set("Cache-Control", "no-store")
	return show(c, http.StatusOK, view)
}

// poster adds the address to a poster, in letters and as a code.
func poster(server, path string, p templates.Poster) (templates.Poster, error) {
	var err error
	p.Address = server + path
	p.Code, err = picture.Code(p.Address)
	return p, err
}

// local reports whether a host, with or without a port, is this machine and no name that a phone could find.
func local(host string) bool {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	ip := net.ParseIP(strings.Trim(host, "[]"))
	return host == "localhost" || ip != nil && ip.IsLoopback()
}
