//go:build !js

package webui

import (
	"net/http"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// deskPage shows the organiser's page of an event: what each class waits for, entry links, and the end of the
// journal.
func (s *Site) deskPage(c echo.Context) error {
	by, err := s.may(c, domain.Desk)
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
	c.Response().Header().Set("Cache-Control", "no-store")
	return show(c, http.StatusOK, s.deskOf(c, by, page))
}

// deskOf lays the organiser's page out.
func (s *Site) deskOf(c echo.Context, by desk.By, page desk.EventPage) templates.Desk {
	e := page.Event
	view := templates.Desk{
		Frame: s.frame(c, e, by), Name: e.Name, Journal: journalLines(e, page.Classes, page.Journal),
		Issue: (*refused)(nil).make("pass", passesHref(e.Slug), []string{templates.FieldRole}), Roles: roleOptions(),
		Passes: templates.Link{Text: "Who is in, and taking a pass away", Href: passesHref(e.Slug)},
		Links: []templates.Link{
			{Text: "How the day runs", Href: eventHref(e) + "/day"},
			{Text: "Posters for the pits", Href: eventHref(e) + "/desk/poster"},
			{Text: "Plan another class", Href: eventHref(e) + "/desk/class"},
			{Text: "Programme and sleds", Href: eventHref(e) + "/desk/programme"},
			{Text: "Order of the classes, with a proposal", Href: eventHref(e) + "/desk/order"},
			{Text: "Results to print", Href: eventHref(e) + "/results"},
			{Text: "The event as everybody sees it", Href: eventHref(e)},
			{Text: "Booth", Href: eventHref(e) + "/booth"},
			{Text: "Cab", Href: eventHref(e) + "/cab"},
			{Text: "Scale", Href: eventHref(e) + "/scale"},
			{Text: "Line-up", Href: eventHref(e) + "/lane"},
			{Text: "Flag", Href: eventHref(e) + "/flag"},
		},
	}
	for i := range page.Classes {
		class := &page.Classes[i]
		view.Classes = append(view.Classes, templates.DeskLine{
			Name: class.Name, Href: classHref(e, *class) + "/desk", State: stateWords(class), Awaited: awaited(class),
		})
	}
	return view
}

// mayPlan refuses everybody but the desk of the whole server: a pass for one event must not put another beside
// it.
func (s *Site) mayPlan(c echo.Context) (desk.By, error) {
	by, err := s.may(c, domain.Desk)
	if err == nil && by.Event != uuid.Nil {
		err = &domain.Error{Kind: domain.Forbidden, Message: "your pass is for one event", Fix: "ask the desk of this server to plan another"}
	}
	return by, err
}

// planPage shows the events of this server to its desk, and the form for another.
func (s *Site) planPage(c echo.Context) error {
	by, err := s.mayPlan(c)
	if err != nil {
		return err
	}
	return s.showPlan(c, http.StatusOK, by, nil)
}

// plan puts another event on this server, and leads to planning its first class.
func (s *Site) plan(c echo.Context) error {
	by, err := s.mayPlan(c)
	if err != nil {
		return err
	}
	values, action, err := sent(c)
	if err != nil {
		return err
	}
	event, err := planned(action, values)
	if err == nil {
		_, err = s.desk.PlanEvent(c.Request().Context(), by, action, event)
	}
	if no := refusal("plan", values, err); no != nil {
		return s.showPlan(c, statuses[no.err.Kind], by, no)
	}
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, eventHref(event)+"/desk/class")
}

// showPlan shows the planning page with the events there are. A fresh form has suggestions in it; a refused one
// has what was typed.
func (s *Site) showPlan(c echo.Context, status int, by desk.By, no *refused) error {
	events, err := s.desk.Events(c.Request().Context())
	if err != nil {
		return err
	}
	view := templates.Plan{
		Frame: s.frame(c, domain.Event{}, by), Form: *no.make("plan", "/desk", planFields),
		Passes: templates.Link{Text: "Passes for every event: who is in, and taking one away", Href: passesHref("")},
		More:   []templates.Link{{Text: "Seasons", Href: seasonDeskHref("")}},
	}
	view.EventHref = "/desk"
	for _, e := range events {
		view.Events = append(view.Events, templates.Link{Name: e.Name, Text: dates(e), Href: eventHref(e) + "/desk"})
	}
	if no == nil {
		view.Form.Values = map[string]string{
			templates.FieldTracks: "Track 1", templates.FieldGears: "4", templates.FieldHoles: "3",
			templates.FieldSessions: s.now().Format("2006-01-02") + " 18:00 Evening session",
		}
	}
	c.Response().Header().Set("Cache-Control", "no-store")
	return show(c, status, view)
}

// planClassPage shows the form for another class.
func (s *Site) planClassPage(c echo.Context) error {
	by, err := s.may(c, domain.Desk)
	if err != nil {
		return err
	}
	return s.showPlanClass(c, http.StatusOK, by, nil)
}

// planClass puts another class on the programme, and leads to its desk.
func (s *Site) planClass(c echo.Context) error {
	by, err := s.may(c, domain.Desk)
	if err != nil {
		return err
	}
	values, action, err := sent(c)
	if err != nil {
		return err
	}
	plan, err := plannedClass(action, values)
	if err == nil {
		_, err = s.desk.PlanClass(c.Request().Context(), by, c.Param("event"), action, plan)
	}
	if no := refusal("class", values, err); no != nil {
		return s.showPlanClass(c, statuses[no.err.Kind], by, no)
	}
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/e/"+c.Param("event")+"/"+domain.Slug(plan.Name)+"/desk")
}

// showPlanClass shows the form for another class, with what the event has to choose from.
func (s *Site) showPlanClass(c echo.Context, status int, by desk.By, no *refused) error {
	page, err := s.desk.EventPage(c.Request().Context(), c.Param("event"))
	if err != nil {
		return err
	}
	e := page.Event
	if err := mayAt(by, e.ID); err != nil {
		return err
	}
	view := templates.PlanClass{Frame: s.frame(c, e, by), Form: *no.make("class", eventHref(e)+"/desk/class", planClassFields)}
	sets := ruleSets()
	view.Rules, view.Kinds = ruleOptions(sets), kindOptions(sets)
	for _, session := range e.Sessions {
		view.Sessions = append(view.Sessions, templates.Option{Value: session.ID.String(), Text: session.Name, Typed: true})
	}
	for _, t := range e.Tracks {
		view.Tracks = append(view.Tracks, templates.Option{Value: t.ID.String(), Text: t.Name, Typed: true})
	}
	for _, sled := range e.Sleds {
		view.Sleds = append(view.Sleds, templates.Option{Value: sled.ID.String(),
			Text: sled.Name + ", " + counted(sled.Gears, "gear") + ", " + counted(sled.StartHoles, "start hole")})
	}
	c.Response().Header().Set("Cache-Control", "no-store")
	return show(c, status, view)
}
