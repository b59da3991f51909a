package webui

import (
	"net/http"
	"net/url"
	"strconv"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// readForm turns what a form sent into an action on the class as it is. It runs under the class's lock and
// perhaps more than once, and must do nothing but read.
type readForm func(*domain.Class, url.Values) (domain.Action, error)

// acts are the forms of a page, by the last part of the address. What is not in the map is not found: the booth
// cannot send what is the desk's by another address.
type acts map[string]readForm

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
	receipt, err := s.do(c, by, read, values)
	// The number leads to the line of the journal that says what was done. A page reloaded then shows it again
	// and does nothing again.
	if err == nil {
		return c.Redirect(http.StatusSeeOther, "/e/"+ref(c).Event+"/"+ref(c).Class+"/"+page+"?stored="+strconv.FormatInt(receipt.Number, 10))
	}
	no := refusal(formOf(c.Param("act"), values), values, err)
	if no == nil {
		return err
	}
	if by, err = s.may(c, roles); err != nil {
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
		return read(class, values)
	})
}

// formOf names the form that an act came from: results have several, told apart by their word. What was refused
// is shown in the form in which it was typed.
func formOf(act string, values url.Values) string {
	if word := values.Get(fieldWord); act == "result" && word != "" {
		return word
	}
	return act
}
