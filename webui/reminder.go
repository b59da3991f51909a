//go:build !js

package webui

import (
	"errors"
	"net/http"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/remind"
	"clayline/webui/language"
	"clayline/webui/templates"
)

// Reminding returns the same site with pages of entries that offer reminders; key is the one by which push services know
// this server. A site without them offers none.
func (s *Site) Reminding(r *remind.Service, key string) *Site {
	with := *s
	with.reminders, with.pushKey = r, key
	return &with
}

// remindOf is the offer of a reminder on the page of an entry; nil where there is nothing to be reminded of, or nobody to do
// it.
func (s *Site) remindOf(class *domain.Class, entry domain.Entry) *templates.Remind {
	if s.reminders == nil || entry.Scratched != "" || class.Phase() == domain.Decided {
		return nil
	}
	return &templates.Remind{Key: s.pushKey}
}

// remind keeps the wish of a phone to be told of an entry. It needs no pass: the page is public, and so is what is told.
func (s *Site) remind(c echo.Context) error {
	phone, err := remind.ParsePhone(c.FormValue("endpoint"), c.FormValue("key"), c.FormValue("secret"), language.Of(c.Request().Context()).Tag())
	return s.wished(c, err, func(to desk.Ref, number string) error {
		return s.reminders.Add(c.Request().Context(), to, number, phone)
	})
}

// forget takes the wish back.
func (s *Site) forget(c echo.Context) error {
	return s.wished(c, nil, func(to desk.Ref, number string) error {
		return s.reminders.Remove(c.Request().Context(), to, number, c.FormValue("endpoint"))
	})
}

// wished answers a script: nothing where its wish is kept, a sentence where it is refused.
func (s *Site) wished(c echo.Context, err error, do func(desk.Ref, string) error) error {
	if s.reminders == nil {
		return echo.ErrNotFound
	}
	if err == nil {
		err = do(ref(c), asWritten(c, "number"))
	}
	if no, ok := errors.AsType[*domain.Error](err); ok {
		said := inText(c.Request().Context(), refusalWords(no))
		return c.String(statuses[no.Kind], said)
	}
	if err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}
