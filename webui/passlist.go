//go:build !js

package webui

import (
	"net/http"
	"net/url"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// fieldPass is the id of the pass that a form is about.
const fieldPass = "pass"

// passPage lists the passes of an event to its desk; without an event in the address, those that are good at every one.
func (s *Site) passPage(c echo.Context) error {
	by, err := s.may(c, domain.Desk)
	if err != nil {
		return err
	}
	return s.showPasses(c, http.StatusOK, by, nil, nil)
}

// showPasses shows the list. issued is the link that was just made, shown this once, since only its hash is kept.
func (s *Site) showPasses(c echo.Context, status int, by desk.By, no *refused, issued *templates.Issued) error {
	e, passes, err := s.desk.Passes(c.Request().Context(), by, c.Param("event"))
	if err != nil {
		return err
	}
	c.Response().Header().Set("Cache-Control", "no-store")
	return show(c, status, s.passesOf(c, by, e, passes, no, issued))
}

// linkMaker makes a link for what a form sent.
type linkMaker func(values url.Values, action uuid.UUID) (desk.Pass, string, error)

// issue makes an entry link and shows it once. It answers with the page and not by leading to it, since the
// secret must not stand in an address that a browser remembers.
func (s *Site) issue(c echo.Context) error {
	return s.link(c, "pass", func(by desk.By) linkMaker {
		return func(values url.Values, action uuid.UUID) (desk.Pass, string, error) {
			role, err := domain.ParseRole(values.Get(templates.FieldRole))
			if err != nil {
				return desk.Pass{}, "", err
			}
			return s.desk.IssuePass(c.Request().Context(), by, c.Param("event"), action, role)
		}
	})
}

// replace makes an entry link in place of a pass, which ends, and shows it once.
func (s *Site) replace(c echo.Context) error {
	return s.link(c, "replace", func(by desk.By) linkMaker {
		return func(values url.Values, action uuid.UUID) (desk.Pass, string, error) {
			old, err := id(values, fieldPass)
			if err != nil {
				return desk.Pass{}, "", err
			}
			return s.desk.ReplacePass(c.Request().Context(), by, c.Param("event"), action, old)
		}
	})
}

// link makes a link for the desk, and shows it or the form that was refused. The address has the name under which this
// request came, which a device on the same network reaches too.
func (s *Site) link(c echo.Context, form string, maker func(desk.By) linkMaker) error {
	by, err := s.may(c, domain.Desk)
	if err != nil {
		return err
	}
	values, action, err := sent(c)
	if err != nil {
		return err
	}
	pass, secret, err := maker(by)(values, action)
	if no := refusal(strings.TrimSpace(form+" "+values.Get(fieldPass)), values, err); no != nil {
		return s.showPasses(c, statuses[no.err.Kind], by, no, nil)
	}
	if err != nil {
		return err
	}
	return s.showPasses(c, http.StatusOK, by, nil, &templates.Issued{
		Role: pass.Role.String(), Address: server(c) + EnterPath(secret),
		Until: pass.Expires.Format("2 January 15:04 UTC"),
	})
}

// revoke takes a pass away, and leads back to the list.
func (s *Site) revoke(c echo.Context) error {
	by, err := s.may(c, domain.Desk)
	if err != nil {
		return err
	}
	values, action, err := sent(c)
	if err != nil {
		return err
	}
	pass, err := id(values, fieldPass)
	if err == nil {
		_, err = s.desk.RevokePass(c.Request().Context(), by, c.Param("event"), action, pass)
	}
	if no := refusal("revoke "+values.Get(fieldPass), values, err); no != nil {
		return s.showPasses(c, statuses[no.err.Kind], by, no, nil)
	}
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, passesHref(c.Param("event")))
}

// passesHref is the address of the list of passes of an event, "" for this server.
func passesHref(event string) string {
	if event == "" {
		return "/desk/pass"
	}
	return "/e/" + event + "/desk/pass"
}

// roleOptions are the roles that a link can be made for.
func roleOptions() []templates.Option {
	var list []templates.Option
	for _, role := range []domain.Role{domain.Booth, domain.Cab, domain.Scale, domain.Lane, domain.Desk} {
		list = append(list, templates.Option{Value: role.String(), Text: firstUpper(role.String()) + ": " + does[role]})
	}
	return list
}

// passesOf lays the list out: who is in, links that wait, and what has ended.
func (s *Site) passesOf(c echo.Context, by desk.By, e domain.Event, passes []desk.PassUse, no *refused, issued *templates.Issued) templates.Passes {
	base := passesHref(c.Param("event"))
	view := templates.Passes{
		Frame: s.frame(c, e, by), For: e.Name, Issued: issued, Roles: roleOptions(),
		Issue: no.make("pass", base, []string{templates.FieldRole}), Back: templates.Link{Text: "Back to the desk", Href: strings.TrimSuffix(base, "/pass")},
	}
	if e.ID == uuid.Nil {
		view.EventHref = "/desk"
	}
	told := tells(view.Issue)
	for _, p := range passes {
		line := templates.PassLine{Who: firstUpper(p.Role.String()), Device: p.Device, Program: p.Bearer, Here: p.ID == by.Pass, Says: passWords(e, p, s.now())}
		hidden := templates.Hidden{Name: fieldPass, Value: p.ID.String()}
		over := passOver(p.Pass, s.now())
		if !line.Here {
			line.Replace = no.make("replace "+p.ID.String(), base+"/replace", nil, hidden)
		}
		if !line.Here && !over {
			line.Revoke = no.make("revoke "+p.ID.String(), base+"/revoke", nil, hidden)
		}
		told = told || tells(line.Revoke, line.Replace)
		switch {
		case over:
			view.Over = append(view.Over, line)
		case p.Used.IsZero():
			view.Open = append(view.Open, line)
		default:
			view.In = append(view.In, line)
		}
	}
	// A pass that ended meanwhile has no form any more that could say so.
	if no != nil && !told {
		view.Notice = no.told()
	}
	return view
}

// passOver reports whether the pass, or the link that was not used, lets nobody act any more.
func passOver(p desk.Pass, now time.Time) bool {
	switch {
	case !p.Ended.IsZero():
		return true
	case p.Used.IsZero():
		return now.After(p.Expires)
	default:
		return now.After(p.Lasts())
	}
}

// momentFormat writes a day and a time of day.
const momentFormat = "2 January 15:04"

// passWords says what became of a pass: "In since 19 September 17:02, last stored something 19 September 18:40." Reading
// leaves no trace, so that nothing is said of it.
func passWords(e domain.Event, p desk.PassUse, now time.Time) string {
	at := func(t time.Time) string { return t.In(e.Location()).Format(momentFormat) }
	switch {
	case p.Revoked && p.Used.IsZero():
		return "The link was withdrawn " + at(p.Ended) + "."
	case p.Revoked:
		return "Taken away " + at(p.Ended) + "."
	case !p.Ended.IsZero():
		return "Given back " + at(p.Ended) + "."
	case p.Used.IsZero() && now.After(p.Expires):
		return "The link was not used until " + at(p.Expires) + "."
	case p.Used.IsZero():
		return "Made " + at(p.Issued) + ", can be used until " + at(p.Expires) + "."
	case now.After(p.Lasts()):
		return "Ended by itself " + at(p.Lasts()) + "."
	}
	words := "In since " + at(p.Used)
	if p.Last.After(p.Used) {
		words += ", last stored something " + at(p.Last)
	}
	return words + ". Lasts until " + at(p.Lasts()) + "."
}
