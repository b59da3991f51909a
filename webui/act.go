//go:build !js

package webui

import (
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/language"
	"clayline/webui/templates"
)

// act does what a form of a class's staff page sent, and leads back to the page. What cannot be done is shown
// on the same page, with the typing kept; layout lays that page out, given the refused form. The page is read
// anew for it, because what refused the form is often that the class has moved on.
func (s *Site) act(c echo.Context, roles domain.Role, page string, known acts, layout func(desk.By, desk.ClassPage, *refused) templates.Page) error {
	// Whether the pass has ended meanwhile is asked under the lock of the class, and again before anything is shown.
	by, err := s.desk.Acting(c.Request().Context(), secretOf(c), desk.Browser)
	if by, err = inRole(by, err, roles); err != nil {
		return err
	}
	read, ok := known[c.Param("act")]
	if !ok {
		return echo.ErrNotFound
	}
	values, err := posted(c)
	if err != nil {
		return err
	}
	return s.acted(c, by, sentForm{roles, page, formOf(c.Param("act"), values), read, values}, layout)
}

// sentForm is a form that came in: who may send it, from which page of the class, by which name it stands there, how it is
// read and what was typed.
type sentForm struct {
	roles      domain.Role
	page, name string
	read       readForm
	values     url.Values
}

// acted does what the form asks for and answers; see [Site.act].
func (s *Site) acted(c echo.Context, by desk.By, f sentForm, layout func(desk.By, desk.ClassPage, *refused) templates.Page) error {
	values := f.values
	receipt, err := s.do(c, by, f.read, values)
	if err == nil && asksJSON(c) {
		return tellStored(c, values, receipt)
	}
	// The number leads to the line of the journal that says what was done. A page reloaded then shows it again
	// and does nothing again.
	if err == nil {
		return c.Redirect(http.StatusSeeOther, "/e/"+ref(c).Event+"/"+ref(c).Class+"/"+f.page+"?stored="+strconv.FormatInt(receipt.Number, 10))
	}
	no := refusal(f.name, values, err)
	if no == nil {
		return err
	}
	if asksJSON(c) {
		return s.tellRefused(c, no)
	}
	if by, err = s.may(c, f.roles); err != nil {
		return err
	}
	current, err := s.desk.ClassPage(c.Request().Context(), ref(c))
	if err != nil {
		return err
	}
	// The desk refused a pass of another event already; this keeps its page from being shown along with the
	// refusal.
	if err := mayAt(by, current.Event.ID); err != nil {
		return err
	}
	c.Response().Header().Set("Cache-Control", "no-store")
	return show(c, statuses[no.err.Kind], layout(by, current, no))
}

// do turns the form into an action and does it, in one transaction. Any state of the class will do: the form
// names the hook, round or entry it is about, and the decision refuses what no longer fits.
func (s *Site) do(c echo.Context, by desk.By, read readForm, values url.Values) (desk.Receipt, error) {
	action, err := id(values, fieldAction)
	if err != nil {
		return desk.Receipt{}, err
	}
	return s.desk.ActOn(c.Request().Context(), by, ref(c), action, desk.AnyVersion, func(class *domain.Class) (domain.Action, error) {
		return readGuarded(read, class, values)
	})
}

// posted reads the form of a request. Text that is not UTF-8, or has a zero byte, is refused for all forms: no database
// keeps it, and no person types it. Numbers are read as the language of the page writes them; a page that answers gives them
// back as they were typed.
func posted(c echo.Context) (url.Values, error) {
	values, err := c.FormParams()
	if tooLong, ok := errors.AsType[*echo.HTTPError](err); ok {
		return nil, tooLong
	}
	if err != nil {
		return nil, &domain.Error{Kind: domain.Invalid, Message: "the form cannot be read", Fix: "go back and send it again", Cause: err}
	}
	return cleaned(c, values)
}

// cleaned reads numbers as the language of the page writes them, and refuses what is no text.
func cleaned(c echo.Context, values url.Values) (url.Values, error) {
	ctx := c.Request().Context()
	c.SetRequest(c.Request().WithContext(language.WithTyped(ctx, language.Of(ctx).TypedValues(values))))
	for field, list := range values {
		if slices.ContainsFunc(list, noText) {
			return nil, &domain.Error{Kind: domain.Invalid, Field: field, Message: "the form holds what is no text", Fix: "go back and type it again"}
		}
	}
	return values, nil
}

// sent reads the form of a request and the id of its action, which every form carries.
func sent(c echo.Context) (values url.Values, action uuid.UUID, err error) {
	if values, err = posted(c); err != nil {
		return nil, uuid.Nil, err
	}
	action, err = id(values, fieldAction)
	return values, action, err
}
