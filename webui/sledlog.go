//go:build !js

package webui

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// sledLog shows the log of a sled to its crew and the desk.
func (s *Site) sledLog(c echo.Context) error {
	by, err := s.may(c, domain.Cab|domain.Desk)
	if err != nil {
		return err
	}
	return s.showSledLog(c, http.StatusOK, by, nil)
}

// showSledLog shows the page; no is the form that was refused, or nil.
func (s *Site) showSledLog(c echo.Context, status int, by desk.By, no *refused) error {
	sled, err := uuid.Parse(c.Param("sled"))
	if err != nil {
		return echo.ErrNotFound
	}
	log, err := s.desk.SledLog(c.Request().Context(), by, c.Param("event"), sled)
	if err != nil {
		return err
	}
	if err := mayAt(by, log.Event.ID); err != nil {
		return err
	}
	view := sledLogOf(log, by, no)
	view.Frame = s.frame(c, log.Event, by)
	c.Response().Header().Set("Cache-Control", "no-store")
	return show(c, status, view)
}

// sledLogOf lays the log out.
func sledLogOf(log desk.SledLog, by desk.By, no *refused) templates.SledLog {
	view := templates.SledLog{Name: log.Sled.Name, Scope: logScope(log, by), Print: templates.Link{Text: "Lists to print and fill in by hand", Href: sledLogHref(log.Event, log.Sled.ID) + "/list"}, Back: templates.Link{Text: "The event", Href: eventHref(log.Event)}}
	// What was typed stays where a vehicle began to pull meanwhile.
	if !log.Pulling || no != nil {
		view.Ask = inspectionOf(log.Event, log.Sled, no)
	}
	for _, e := range log.Events {
		view.Events = append(view.Events, sledEventOf(e))
	}
	return view
}

// logScope says over which events the log goes, and what two events have to do with each other.
func logScope(log desk.SledLog, by desk.By) string {
	switch {
	case by.Event != uuid.Nil:
		return "Of this event. A pass for every event of this server shows the others too."
	case log.More:
		return fmt.Sprintf("Of the newest %d events that have a sled of this name; there are more.", len(log.Events))
	default:
		return "Of all events of this server that have a sled of this name."
	}
}

// sledEventOf tells a sled at one event.
func sledEventOf(e desk.SledEvent) templates.SledEvent {
	view := templates.SledEvent{ID: "at-" + e.Event.Slug, Name: e.Event.Name, When: dates(e.Event), Where: e.Event.Place}
	var total domain.SledWork
	for i := range e.Classes {
		c := &e.Classes[i]
		work := c.SledWork()
		total = total.Plus(work)
		view.Classes = append(view.Classes, templates.SledClass{
			Name: c.Name, Href: classHref(e.Event, *c), Hooks: work.Hooks, FullPulls: work.FullPulls, HandDrops: work.HandDrops, Faults: len(work.Faults), Resets: len(work.Resets),
		})
		for _, f := range work.Faults {
			view.Faults = append(view.Faults, templates.SledLine{Class: c.Name, At: fmt.Sprintf("hook %d of %s, %s", f.Hook, roundName(f.Round), f.Entry), Words: faultWords(f)})
		}
		for _, r := range work.Resets {
			view.Resets = append(view.Resets, templates.SledLine{Class: c.Name, At: fmt.Sprintf("%s, setting %d, %s", roundName(r.Round), r.Revision, clock(e.Event, r.At)), Words: r.Reason, Typed: true})
		}
	}
	view.Total = strings.Join([]string{counted(total.Hooks, "hook"), counted(total.FullPulls, "full pull"), counted(total.HandDrops, "hand drop"),
		counted(len(total.Faults), "fault"), counted(len(total.Resets), "reset")}, ", ")
	for _, i := range e.Inspections {
		view.Inspections = append(view.Inspections, inspectedOf(e.Event, i))
	}
	return view
}

// faultWords tell what was noted of a hook, and that it was made again.
func faultWords(f domain.SledFault) string {
	var parts []string
	if !f.Difference.IsZero() {
		parts = append(parts, f.Difference.String())
	}
	if f.Rehook != "" {
		parts = append(parts, "made again: "+f.Rehook)
	}
	return strings.Join(parts, "; ")
}

// inspectedOf tells an inspection as it was signed, on the clock of the place.
func inspectedOf(e domain.Event, i domain.Inspection) templates.Inspected {
	view := templates.Inspected{Text: fmt.Sprintf("%s %s, signed %s", i.At.In(e.Location()).Format(dayFormat), clock(e, i.At), i.By)}
	count := map[domain.PointState]int{}
	for _, p := range i.Points {
		count[p.State]++
		view.Points = append(view.Points, templates.InspectedPoint{Point: p.Point, State: p.State.String(), Note: p.Note, Wrong: p.State == domain.PointNotOK})
	}
	var says []string
	for _, state := range []domain.PointState{domain.PointOK, domain.PointNotOK, domain.NotLookedAt} {
		if count[state] > 0 {
			says = append(says, strconv.Itoa(count[state])+" "+state.String())
		}
	}
	view.Says = strings.Join(says, ", ")
	return view
}
