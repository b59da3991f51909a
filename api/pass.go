package api

import (
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
func (s *Server) who(c echo.Context) (desk.By, error) {
	scheme, secret, _ := strings.Cut(c.Request().Header.Get("Authorization"), " ")
	if !strings.EqualFold(scheme, "Bearer") {
		return desk.By{}, noPass()
	}
	by, err := s.desk.Who(c.Request().Context(), strings.TrimSpace(secret), desk.Client)
	if err == nil && by.Role == 0 {
		err = noPass()
	}
	return by, err
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

// issue makes an entry link for a role at the event. The same key sent again is refused with 409, which is the one
// answer that is not repeated: the secret in it is not kept anywhere, and a lost link is replaced by another.
func (s *Server) issue(c echo.Context) error {
	in, err := s.receive(c, domain.Desk)
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
	if domain.KindOf(err) == domain.Stale {
		return &refusal{toldSort, "this link was made and told already", "make another, with a new UUID", keyHeader}
	}
	if err != nil {
		return err
	}
	return send(c, http.StatusCreated, link{
		Pass: pass.ID, Role: role.String(), Link: c.Scheme() + "://" + c.Request().Host + enterPath + secret, Expires: pass.Expires,
	})
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
