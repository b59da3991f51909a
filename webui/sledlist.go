//go:build !js

package webui

import (
	"net/http"
	"slices"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/webui/templates"
)

// tickColumns is how many hooks a sheet of the ready list has room for, on A4 and on Letter.
const tickColumns = 8

// sledList shows the lists of a sled to print, empty: what is looked at before the event, and before each hook. They are for a
// crew that has no device at hand, and nothing of them is stored.
func (s *Site) sledList(c echo.Context) error {
	by, err := s.may(c, domain.Cab|domain.Desk)
	if err != nil {
		return err
	}
	page, err := s.desk.EventPage(c.Request().Context(), c.Param("event"))
	if err != nil {
		return err
	}
	if err := mayAt(by, page.Event.ID); err != nil {
		return err
	}
	id, err := uuid.Parse(c.Param("sled"))
	i := slices.IndexFunc(page.Event.Sleds, func(sled domain.Sled) bool { return sled.ID == id })
	if err != nil || i < 0 {
		return echo.ErrNotFound
	}
	view := sledListOf(page.Event, page.Event.Sleds[i])
	view.Frame = s.frame(c, page.Event, by)
	c.Response().Header().Set("Cache-Control", "no-store")
	return show(c, http.StatusOK, view)
}

// sledListOf lays the sheet out. The ready list is that of the sled alone: what the rules of a class add to it stands on the
// page of the cab.
func sledListOf(e domain.Event, sled domain.Sled) templates.SledList {
	class := domain.Class{Sled: sled}
	return templates.SledList{
		Name: sled.Name, Event: e.Name, When: dates(e), Where: e.Place, Inspection: sled.InspectionList(), Ready: class.ReadyList(), Columns: tickColumns,
		Back: templates.Link{Text: "Log and inspection of the sled", Href: sledLogHref(e, sled.ID)},
	}
}
