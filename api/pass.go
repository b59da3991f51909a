package api

import (
	"context"
	"errors"
	"net/http"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
)

// enterPath is where the pages let a device in with an entry link. A program that is given such a link uses its last
// part; see [Server.enter].
const enterPath = "/enter/"

// maxDevice bounds the name of a device, in characters. It is a column of the desk's list: "scoreboard at the gate".
const maxDevice = 40

// who returns whose pass the request carries, in its header alone: a cookie is nobody here, so that no page elsewhere
// can make a browser act. Nobody is refused. The scheme is RFC 6750's and its name is read in any case, as RFC 9110,
// section 11.1, says of all.
func (s *Server) who(c echo.Context) (desk.By, error) { return s.holder(c, s.desk.Who) }

// holder is [Server.who], asked of the desk in one way or the other: who reads, or who acts on a class.
func (s *Server) holder(c echo.Context, ask func(context.Context, string, desk.Holder) (desk.By, error)) (desk.By, error) {
	by, err := ask(c.Request().Context(), secretOf(c), desk.Client)
	if err == nil && by.Role == 0 {
		err = noPass()
	}
	return by, err
}

// staffClass reads the class of the address for a pass with one of the roles at its event. It comes from the store and not
// from the shelf, where only what is public lies. Who has no such role learns nothing, not even whether there is the class.
func (s *Server) staffClass(c echo.Context, roles domain.Role) (page desk.ClassPage, err error) {
	by, err := s.inRole(c, roles)
	if err != nil {
		return page, err
	}
	if page, err = s.desk.ClassPage(c.Request().Context(), ref(c)); err != nil {
		return page, err
	}
	return page, by.May(roles, page.Event.ID)
}

// staffEvent is [Server.staffClass] for the event of the address, with who asks.
func (s *Server) staffEvent(c echo.Context, roles domain.Role) (by desk.By, page desk.EventPage, err error) {
	if by, err = s.inRole(c, roles); err != nil {
		return by, page, err
	}
	if page, err = s.desk.EventPage(c.Request().Context(), c.Param("event")); err != nil {
		return by, page, err
	}
	return by, page, by.May(roles, page.Event.ID)
}

// inRole returns who asks, where their pass has one of the roles at some event.
func (s *Server) inRole(c echo.Context, roles domain.Role) (desk.By, error) {
	by, err := s.who(c)
	return by, inRoles(by, roles, err)
}

// secretOf reads the secret in the header, "" where there is none.
func secretOf(c echo.Context) string {
	scheme, secret, _ := strings.Cut(c.Request().Header.Get("Authorization"), " ")
	if !strings.EqualFold(scheme, "Bearer") {
		return ""
	}
	return strings.TrimSpace(secret)
}

// domainError finds the refusal of the domain in an error; ok is false for nil and for errors that are none.
func domainError(err error) (*domain.Error, bool) { return errors.AsType[*domain.Error](err) }

// holder says what a pass allows. Event is left out for a pass that is good at every event.
type holder struct {
	Pass   uuid.UUID `json:"pass"`
	Role   string    `json:"role"`
	Event  string    `json:"event,omitempty"`
	Device string    `json:"device,omitempty"`
}

// me tells a program what its pass allows.
func (s *Server) me(c echo.Context) error {
	by, err := s.who(c)
	if err != nil {
		return err
	}
	told := holder{Pass: by.Pass, Role: by.Role.String(), Device: by.Device}
	if told.Event, err = s.slugOf(c, by.Event); err != nil {
		return err
	}
	return send(c, http.StatusOK, told)
}

// slugOf returns the address of an event by its id, "" for the nil UUID. An event that is not found gives "" too:
// events are not deleted.
func (s *Server) slugOf(c echo.Context, event uuid.UUID) (string, error) {
	if event == uuid.Nil {
		return "", nil
	}
	events, err := s.desk.Events(c.Request().Context())
	for _, e := range events {
		if e.ID == event {
			return e.Slug, nil
		}
	}
	return "", err
}

// link is a new entry link, told once. Only a hash of its secret is kept, so that nobody who reads the database can
// enter.
type link struct {
	Pass    uuid.UUID `json:"pass"`
	Role    string    `json:"role"`
	Link    string    `json:"link"`
	Expires time.Time `json:"expires"`
}

// issue makes an entry link for a role at the event.
func (s *Server) issue(c echo.Context) error {
	in, err := s.receive(c)
	if err != nil {
		return err
	}
	role, err := domain.ParseRole(in.body.text("role", maxText))
	if *in.body.wrong == nil {
		in.body.keep("role", err)
	}
	if err := in.body.done(); err != nil {
		return err
	}
	pass, secret, err := s.desk.IssuePass(c.Request().Context(), in.by, c.Param("event"), in.key, role)
	return tellLink(c, pass, secret, err)
}

// replace makes an entry link in place of a pass of the event, which ends.
func (s *Server) replace(c echo.Context) error {
	in, err := s.receive(c)
	if err != nil {
		return err
	}
	old := in.param("pass")
	if err := in.body.done(); err != nil {
		return err
	}
	pass, secret, err := s.desk.ReplacePass(c.Request().Context(), in.by, c.Param("event"), in.key, old)
	return tellLink(c, pass, secret, err)
}

// tellLink tells a new link, or why there is none. The same key sent again is refused with 409, which is the one answer
// that is not repeated: the secret in it is not kept anywhere, and a lost link is replaced by another.
func tellLink(c echo.Context, pass desk.Pass, secret string, err error) error {
	if domain.KindOf(err) == domain.Stale {
		return &refusal{toldSort, "this link was made and told already", "make another, with a new UUID", keyHeader}
	}
	if err != nil {
		return err
	}
	return send(c, http.StatusCreated, link{
		Pass: pass.ID, Role: pass.Role.String(), Link: c.Scheme() + "://" + c.Request().Host + enterPath + secret, Expires: pass.Expires,
	})
}

// passLine is a pass as the desk's list has it. What has not happened is left out.
type passLine struct {
	Pass    uuid.UUID  `json:"pass"`
	Role    string     `json:"role"`
	State   string     `json:"state"` // open, in, given-back, taken-away
	Device  string     `json:"device,omitempty"`
	Program bool       `json:"program"`
	Issued  time.Time  `json:"issued"`
	Expires time.Time  `json:"expires"`
	Entered *time.Time `json:"entered,omitempty"`
	Until   *time.Time `json:"until,omitempty"`
	Last    *time.Time `json:"last,omitempty"`
	Ended   *time.Time `json:"ended,omitempty"`
}

// passList is a part of the list of passes.
type passList struct {
	Passes []passLine `json:"passes"`
	Next   string     `json:"next,omitempty"`
}

// passes lists the passes of an event for its desk, the newest first.
func (s *Server) passes(c echo.Context) error {
	by, err := s.who(c)
	if err != nil {
		return err
	}
	limit, err := limitOf(c)
	if err != nil {
		return err
	}
	place, err := cursorOf(c)
	if err != nil {
		return err
	}
	_, all, err := s.desk.Passes(c.Request().Context(), by, c.Param("event"))
	if err != nil {
		return err
	}
	cut, next, err := part(all, place, limit, func(p desk.PassUse) string { return p.ID.String() })
	if err != nil {
		return err
	}
	list := passList{Passes: make([]passLine, len(cut)), Next: next}
	for i, p := range cut {
		list.Passes[i] = passLineOf(p)
	}
	return send(c, http.StatusOK, list)
}

// passLineOf writes a pass as the list has it. One that is too old is still in, until when is said; a link that is too
// old is still open.
func passLineOf(p desk.PassUse) passLine {
	line := passLine{
		Pass: p.ID, Role: p.Role.String(), State: "open", Device: p.Device, Program: p.Bearer, Issued: p.Issued, Expires: p.Expires,
		Entered: moment(p.Used), Last: moment(p.Last), Ended: moment(p.Ended),
	}
	if !p.Used.IsZero() {
		line.State, line.Until = "in", moment(p.Lasts())
	}
	switch {
	case p.Revoked:
		line.State = "taken-away"
	case !p.Ended.IsZero():
		line.State = "given-back"
	}
	return line
}

// revoke takes a pass of the event away.
func (s *Server) revoke(c echo.Context) error {
	in, err := s.receive(c)
	if err != nil {
		return err
	}
	pass := in.param("pass")
	if err := in.body.done(); err != nil {
		return err
	}
	receipt, err := s.desk.RevokePass(c.Request().Context(), in.by, c.Param("event"), in.key, pass)
	if err != nil {
		return err
	}
	return answer(c, http.StatusOK, receipt, named{Event: c.Param("event"), Pass: &pass})
}

// leave gives the pass of the request back. Sent again with the same key it is answered again, though the pass is none
// any more.
func (s *Server) leave(c echo.Context) error {
	in, err := s.receiveOpen(c, desk.By{})
	if err != nil {
		return err
	}
	if err := in.body.done(); err != nil {
		return err
	}
	receipt, err := s.desk.LeavePass(c.Request().Context(), in.key, secretOf(c), desk.Client)
	if domain.KindOf(err) == domain.NotFound {
		return noPass()
	}
	if err != nil {
		return err
	}
	return answer(c, http.StatusOK, receipt, named{})
}

// entered is what an entry link gave, told once. Until is when the pass ends by itself.
type entered struct {
	Pass   uuid.UUID `json:"pass"`
	Role   string    `json:"role"`
	Event  string    `json:"event,omitempty"`
	Secret string    `json:"secret"`
	Until  time.Time `json:"until"`
}

// enter uses an entry link up and tells the secret with which the program acts from then on. It needs no pass, because
// the link is what lets in. The link may be given whole or as its last part alone.
//
//	{"link": "http://192.0.2.7:8080/enter/q3…", "device": "scoreboard"}
func (s *Server) enter(c echo.Context) error {
	in, err := s.receiveOpen(c, desk.By{})
	if err != nil {
		return err
	}
	written, device := in.body.text("link", maxText), in.body.text("device", maxDevice)
	if err := in.body.done(); err != nil {
		return err
	}
	secret := written[strings.LastIndex(written, "/")+1:]
	pass, bearer, err := s.desk.Enter(c.Request().Context(), in.key, secret, device, desk.Client)
	if err != nil {
		return placed(err, "link")
	}
	told := entered{Pass: pass.ID, Role: pass.Role.String(), Secret: bearer, Until: pass.Lasts()}
	if told.Event, err = s.slugOf(c, pass.Event); err != nil {
		return err
	}
	return send(c, http.StatusCreated, told)
}
