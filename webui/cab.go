package webui

import (
	"fmt"
	"net/http"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// cab shows the setting in big letters, and before a hook the ready list. While a vehicle pulls there is nothing to press
// on it: the operator's hands are on the sled.
func (s *Site) cab(c echo.Context) error {
	by, page, err := s.classPage(c.Request().Context(), c, domain.Cab|domain.Desk)
	if err != nil {
		return err
	}
	return show(c, http.StatusOK, s.cabOf(c, by, page, nil))
}

// cabOf lays the cab page out. It shows the newest revision, a draft too, and says since when it is frozen:
// what is being agreed on is shown while it is. no is the form that was refused, or nil.
func (s *Site) cabOf(c echo.Context, by desk.By, page desk.ClassPage, no *refused) templates.Cab {
	class := &page.Class
	h := hooking(class)
	view := templates.Cab{
		Frame: s.classFrame(c, page, by), Class: class.Name, OnTrack: h.OnTrack, Next: h.Next,
		Choice: readChoice(class), Advice: advice(class), Facts: facts(class), Trend: trendOf(class),
		Ready:    readyOf(page.Event, class, classHref(page.Event, *class)+"/cab/", no),
		Differed: differedOf(class, classHref(page.Event, *class)+"/cab/", no),
		Speeds:   speedsOf(class, classHref(page.Event, *class)+"/cab/", no),
	}
	view.Stream = classStream(page.Event, class)
	if class.OnTrack() == nil {
		view.Links = []templates.Link{
			{Text: "What another setting would do", Href: classHref(page.Event, *class) + "/cab/estimate"},
			{Text: "Log and inspection of the sled", Href: sledLogHref(page.Event, class.Sled.ID)},
		}
	}
	r := class.Current()
	if r == nil || len(r.Revisions) == 0 {
		view.Quiet = &templates.Quiet{Text: "There is no setting for this class yet.", Next: awaited(class) + "."}
		return view
	}
	rev := r.Revisions[len(r.Revisions)-1]
	view.Setting, view.Round = fmt.Sprintf("Setting %d", rev.Number), roundTitle(r.Name)
	view.Frozen, view.Hook = clock(page.Event, rev.Frozen), hookOf(class)
	// While a vehicle pulls there is nothing to press.
	if on := class.OnTrack(); on == nil || on.Started.IsZero() {
		view.Earlier = templates.Link{Text: "Settings of earlier classes", Href: classHref(page.Event, *class) + "/earlier"}
	}
	view.Box = boxOf(rev.Setting, class.Sled.Card)
	view.Gauges, view.Note = gauges(rev.Setting, class.Sled), rev.Setting.Note
	return view
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
