//go:build !js

package webui

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// booth shows the page on which results are stored, to a pass for the booth or the desk.
func (s *Site) booth(c echo.Context) error {
	by, page, err := s.classPage(c.Request().Context(), c, domain.Booth|domain.Desk)
	if err != nil {
		return err
	}
	return show(c, http.StatusOK, boothOf(s.kept(c, page, by), page, nil))
}

// boothAct does what the booth sent. Who may do which act is asked once more by the desk, from the kind of the
// action.
func (s *Site) boothAct(c echo.Context) error {
	return s.act(c, domain.Booth|domain.Desk, "booth", boothActs, s.boothPage(c))
}

// boothPage lays the booth out with a form that was refused.
func (s *Site) boothPage(c echo.Context) func(desk.By, desk.ClassPage, *refused) templates.Page {
	return func(by desk.By, page desk.ClassPage, no *refused) templates.Page {
		return boothOf(s.kept(c, page, by), page, no)
	}
}

// cab shows the setting in big letters, and before a hook the ready list. While a vehicle pulls there is nothing to press
// on it: the operator's hands are on the sled.
func (s *Site) cab(c echo.Context) error {
	by, page, err := s.classPage(c.Request().Context(), c, domain.Cab|domain.Desk)
	if err != nil {
		return err
	}
	return show(c, http.StatusOK, cabOf(s.kept(c, page, by), page, nil))
}

// toClass leads from an event to the page of the class that is being pulled, or comes next, so that a device in
// the booth or the cab needs one address for the day. It leads with 302, because tomorrow it leads elsewhere.
func (s *Site) toClass(page string) echo.HandlerFunc {
	return func(c echo.Context) error {
		read, err := s.desk.EventPage(c.Request().Context(), c.Param("event"))
		if err != nil {
			return err
		}
		if len(read.Classes) == 0 {
			return &domain.Error{Kind: domain.NotFound, Message: "this event has no class yet", Fix: "plan one on the desk page"}
		}
		return c.Redirect(http.StatusFound, classHref(read.Event, read.Classes[inHand(read.Classes)])+"/"+page)
	}
}

// inHand returns the index of the class that is being pulled, else of the next that is drawn, else of the first
// that is not decided, else of the last. It relies on there being one.
func inHand(classes []domain.Class) int {
	best, rank := len(classes)-1, 3
	for i := range classes {
		r := 0
		switch classes[i].Phase() {
		case domain.Hooking, domain.ChoiceOpen:
			r = 0
		case domain.SettingDue, domain.Ready, domain.RoundDue, domain.PullOffDue:
			r = 1
		case domain.Entering:
			r = 2
		case domain.Decided:
			r = 3
		}
		if r < rank {
			best, rank = i, r
		}
	}
	return best
}

// cabAct does what the cab sent.
func (s *Site) cabAct(c echo.Context) error {
	return s.act(c, domain.Cab|domain.Desk, "cab", cabActs, func(by desk.By, page desk.ClassPage, no *refused) templates.Page {
		return cabOf(s.kept(c, page, by), page, no)
	})
}
