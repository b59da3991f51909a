//go:build !js

package webui

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/webui/templates"
)

// fieldFrom names the page that is being typed on, by an id that its script makes each time the page is loaded.
const fieldFrom = "from"

// typing takes the sign of a booth's page that somebody pauses in typing a result, and tells the other booths of the class;
// see [desk.Sign]. Nothing is stored, and there is nothing to answer. Without scripts nobody sends it.
func (s *Site) typing(c echo.Context) error {
	by, err := s.may(c, domain.Booth|domain.Desk)
	if err != nil {
		return err
	}
	values, err := posted(c)
	if err != nil {
		return err
	}
	list, err := ids(values, templates.FieldHook, fieldFrom)
	if err != nil {
		return err
	}
	if err := s.desk.Typing(c.Request().Context(), by, ref(c), list[0], list[1], values.Get(templates.FieldResult)); err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}
