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

// does says what each role may do, to who is about to enter and to the desk that makes the link.
var does = map[domain.Role]string{
	domain.Desk:  "Plans, enters, draws, sets the sled and opens rounds; may do what the booth does.",
	domain.Booth: "Stores results, choices and corrections.",
	domain.Cab:   "Reads the setting.",
	domain.Scale: "Writes down what the scale shows.",
	domain.Lane:  "Says who is in the line-up, and what the flags showed.",
}

// who returns who acts in this request; the zero By for nobody, which is no error. A pass that has ended is Forbidden,
// and the page of that refusal says how to get in again.
func (s *Site) who(c echo.Context) (desk.By, error) {
	return s.desk.Who(c.Request().Context(), secretOf(c), desk.Browser)
}

// secretOf reads the secret in the cookie, "" where there is none, which is nobody's.
func secretOf(c echo.Context) string {
	cookie, err := c.Cookie(desk.Cookie)
	if err != nil {
		return ""
	}
	return cookie.Value
}

// enterPage shows where an entry link leads. Looking uses nothing up, so that a preview in a chat cannot.
func (s *Site) enterPage(c echo.Context) error {
	c.Response().Header().Set("Cache-Control", "no-store")
	pass, err := s.desk.PassForLink(c.Request().Context(), c.Param("secret"))
	if err == nil {
		err = s.desk.Usable(pass)
	}
	page := templates.Enter{Frame: bare(c), Role: pass.Role.String(), Does: does[pass.Role]}
	page.Event = "this server"
	if err == nil && pass.Event != uuid.Nil {
		if page.Event, err = s.eventName(c, pass.Event); err != nil {
			return err
		}
	}
	// 410 and not 404: the link was one, and whoever holds it should ask for another rather than type it again.
	if refused := refusal("enter", nil, err); refused != nil {
		page.Wrong, page.Do = sentence(refused.err.Message), sentence(refused.err.Fix)
		return show(c, http.StatusGone, page)
	}
	if err != nil {
		return err
	}
	// As if it were used now: the page says until when the pass would last.
	pass.Used = s.now()
	page.Until = pass.Lasts().UTC().Format("2 January 15:04 UTC")
	page.Form = (*refused)(nil).make("enter", c.Request().URL.Path, nil)
	return show(c, http.StatusOK, page)
}

// enter uses the link up and lets the device in. A link that was used meanwhile is refused by the desk.
func (s *Site) enter(c echo.Context) error {
	values, action, err := sent(c)
	if err != nil {
		return err
	}
	pass, secret, err := s.desk.Enter(c.Request().Context(), action, c.Param("secret"), values.Get(templates.FieldDevice), desk.Browser)
	if err != nil {
		return err
	}
	s.setCookie(c, secret, int(pass.Lasts().Sub(pass.Used).Seconds()))
	address, err := s.homeOf(c, pass)
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, address)
}

// leave ends the pass of the device, in the database too: a copy of the cookie is worth nothing from then on. A device
// whose pass had ended, or that had none, just forgets its cookie.
func (s *Site) leave(c echo.Context) error {
	_, action, err := sent(c)
	if err != nil {
		return err
	}
	_, err = s.desk.LeavePass(c.Request().Context(), action, secretOf(c), desk.Browser)
	if kind := domain.KindOf(err); err != nil && kind != domain.Forbidden && kind != domain.NotFound {
		return err
	}
	s.setCookie(c, "", -1)
	return c.Redirect(http.StatusSeeOther, "/")
}

// setCookie gives the device its secret, or takes it away with a negative age. No script can read it. It is
// sent along when a link from elsewhere is followed, and not with what another site posts.
func (s *Site) setCookie(c echo.Context, value string, maxAge int) {
	c.SetCookie(&http.Cookie{ // #nosec G124 -- Secure follows the connection: a fairground network may have no TLS
		Name: desk.Cookie, Value: value, Path: "/", MaxAge: maxAge,
		HttpOnly: true, Secure: c.Scheme() == "https", SameSite: http.SameSiteLaxMode,
	})
}

// homeOf is the page on which a pass begins: its role's page at its event, or the desk of the server.
func (s *Site) homeOf(c echo.Context, pass desk.Pass) (string, error) {
	events, err := s.desk.Events(c.Request().Context())
	if err != nil {
		return "", err
	}
	for _, e := range events {
		if pass.Event == e.ID || pass.Event == uuid.Nil && len(events) == 1 {
			return eventHref(e) + "/" + pass.Role.String(), nil
		}
	}
	return "/desk", nil
}

// eventName returns the name of an event by its id, "" when it is not there.
func (s *Site) eventName(c echo.Context, event uuid.UUID) (string, error) {
	events, err := s.desk.Events(c.Request().Context())
	for _, e := range events {
		if e.ID == event {
			return e.Name, err
		}
	}
	return "", err
}

// EnterPath is the path of an entry link. The secret is in it, so that the page behind it sends no referrer.
func EnterPath(secret string) string { return "/enter/" + secret }
