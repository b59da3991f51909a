package api

import (
	"bytes"
	"encoding/json"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
)

// keyHeader carries the id of a write's action. It is asked for and not made here, because only the program knows
// whether it sends something new or the same again.
const keyHeader = "Idempotency-Key"

// sent is a write as it came in. Its readers take fields from the body and ids from the address; what is wrong with
// either is kept in the body.
type sent struct {
	by     desk.By
	key    uuid.UUID // the id of the action
	body   *object
	scope  string // what its derived ids are for: the event and the class of the address
	params func(string) string
}

// receive reads what every write of the desk must have: its pass, a key and a body that can be read. They are
// looked at in that order, so that who has no pass learns nothing from a refusal about the rest. Whether the pass is
// good at the event of the address, the desk asks.
func (s *Server) receive(c echo.Context) (*sent, error) {
	by, err := s.who(c)
	return s.receiveBy(c, domain.Desk, by, err)
}

// receiveBy is [Server.receive] once it is known who acts; err is why that is not known.
func (s *Server) receiveBy(c echo.Context, roles domain.Role, by desk.By, err error) (*sent, error) {
	if err := inRoles(by, roles, err); err != nil {
		return nil, err
	}
	return s.receiveOpen(c, by)
}

// inRoles refuses who acts without one of the roles; err is why it is not known who acts.
func inRoles(by desk.By, roles domain.Role, err error) error {
	if err == nil && by.Role&roles == 0 {
		return by.May(roles, by.Event)
	}
	return err
}

// receiveOpen reads a write that needs no pass.
func (s *Server) receiveOpen(c echo.Context, by desk.By) (*sent, error) {
	in, err := keyed(c, by)
	if err != nil {
		return nil, err
	}
	fields, err := readBody(c)
	if err != nil {
		return nil, err
	}
	in.body = newObject(fields)
	return in, nil
}

// keyed reads a write up to its body, which is left as it is and told to be an empty object. The key may stand in quotes, as
// a structured field does (RFC 9651), and without.
func keyed(c echo.Context, by desk.By) (*sent, error) {
	key, err := parseID(strings.Trim(c.Request().Header.Get(keyHeader), `"`))
	if err != nil {
		return nil, &refusal{noKeySort, "every write carries the id of its action in the header " + keyHeader,
			"send " + keyHeader + " with a new UUID, and the same one when you send the same again", keyHeader}
	}
	return &sent{by: by, key: key, body: newObject(nil), scope: c.Param("event") + "/" + c.Param("class"), params: c.Param}, nil
}

// derive makes the id of something new out of the key, so that the same write names the same thing. With an id made at
// random, a write whose answer was lost would make a second thing when it is sent again, and be answered with other
// bytes. The scope keeps apart what a key that was used at two addresses would name. It is a UUID of version 5 (RFC
// 9562).
func (in *sent) derive(what string) uuid.UUID { return uuid.NewSHA1(in.key, []byte(in.scope+"/"+what)) }

// fresh reads the id of something new, which is derived from the key when the program gives none. An id that the
// program gives is taken as it is; whether it is in use already, the domain says.
func (in *sent) fresh(field string) uuid.UUID { return in.body.idOr(field, in.derive(field)) }

// param reads an id in the address. What is no UUID names nothing. So it is 404 and not 422: the address is at fault
// and not a field.
func (in *sent) param(name string) uuid.UUID {
	id, err := parseID(in.params(name))
	if err != nil && *in.body.wrong == nil {
		*in.body.wrong = &domain.Error{Kind: domain.NotFound, Field: name, Message: "there is no such " + name, Fix: "read the class; it has the ids of everything in it"}
	}
	return id
}

// deed is what a write on a class asks for. It holds all that came with the request, and nothing of the class: it may
// be done more than once, each time on the class as it is then.
type deed struct {
	action domain.Action
	named  named
	// sure says that a figure which is hardly possible was looked at.
	sure bool
	// fields says where a field of the domain stands in the body, where that differs.
	fields map[string]string
}

// named are the things that an answer names: those that the write is about, and those that are new. All of it comes
// from the address, the body and the key, and is the same when they are.
type named struct {
	Event   string     `json:"event,omitempty"`
	Class   string     `json:"class,omitempty"`
	Season  string     `json:"season,omitempty"`
	ID      *uuid.UUID `json:"id,omitempty"`
	Entry   *uuid.UUID `json:"entry,omitempty"`
	Round   *uuid.UUID `json:"round,omitempty"`
	Hook    *uuid.UUID `json:"hook,omitempty"`
	Next    *uuid.UUID `json:"next,omitempty"`
	Pass    *uuid.UUID `json:"pass,omitempty"`
	Protest *uuid.UUID `json:"protest,omitempty"`
	Reading *uuid.UUID `json:"reading,omitempty"`
	Photo   *uuid.UUID `json:"photo,omitempty"`
}

// stored is the answer to a write: the journal line and what it names. There is nothing in it that could differ when
// the same is sent again. The class as it is afterwards would: by the time a lost answer is asked for again, others
// have acted. A program that wants the class reads it, and a number below the one it was told says that it is an older
// one.
type stored struct {
	Number int64     `json:"number"`
	Kind   string    `json:"kind"`
	At     time.Time `json:"at"`
	named
}

// reading turns the body and the address of a write into what it asks for. It fails by what it keeps in the body; its
// deed is not looked at then.
type reading func(*sent) deed

// act makes the handler of an action on a class. The zero action says who may do it, status is what a stored one is
// answered with, and read makes the deed. If-Match is looked at last, so that a body which cannot be right is told so
// whatever the class has become (RFC 9110, section 13.2.1, has preconditions come after the other checks).
func (s *Server) act(zero domain.Action, status int, read reading) echo.HandlerFunc {
	roles := domain.KindOfAction(zero).Roles
	return func(c echo.Context) error {
		by, err := s.holder(c, s.desk.Acting)
		in, err := s.receiveBy(c, roles, by, err)
		if err != nil {
			return err
		}
		return s.do(c, in, status, read(in))
	}
}

// do does what a write asks for, unless something was wrong with it.
func (s *Server) do(c echo.Context, in *sent, status int, asked deed) error {
	if err := in.body.done(); err != nil {
		return err
	}
	version, err := ifMatch(c)
	if err != nil {
		return err
	}
	receipt, err := s.desk.ActOn(c.Request().Context(), in.by, ref(c), in.key, version, func(class *domain.Class) (domain.Action, error) {
		return asked.action, asked.likely(class)
	})
	if err != nil {
		return asked.moved(err)
	}
	asked.named.Class = c.Param("class")
	return answer(c, status, receipt, asked.named)
}

// likely asks once about a figure that is hardly possible. 281.36 typed as 2813.6 is caught here: sent again with "confirmed":
// true it is stored. The class says what is hardly possible, so that it is asked as it is when the write is done.
func (d deed) likely(class *domain.Class) error {
	doubts := class.Unlikely(d.action)
	if d.sure || len(doubts) == 0 {
		return nil
	}
	return invalid(doubts[0].Field, doubts[0].Message, `look again; if it is right, send it with "confirmed": true`)
}

// moved says at which field of the body a refusal of the domain stands. What is no refusal of the domain comes back as
// it is.
func (d deed) moved(err error) error {
	if e, ok := domainError(err); ok {
		if field, differs := d.fields[e.Field]; differs {
			return placed(err, field)
		}
	}
	return err
}

// answer answers a write. The same write sent again gets the same status too: a program need not know whether it was
// the first.
func answer(c echo.Context, status int, receipt desk.Receipt, names named) error {
	return send(c, status, stored{Number: receipt.Number, Kind: receipt.Kind, At: receipt.At, named: names})
}

// send answers with JSON, which is complete before the first byte leaves. So a document that cannot be written is a 500
// and not half an answer.
func send(c echo.Context, status int, document any) error {
	body, err := encode(document)
	if err != nil {
		return err
	}
	return c.Blob(status, jsonType, body)
}

// encode writes JSON as it is sent: one line with a line feed at its end. Signs of HTML are left as they are: nobody
// reads "R\u0026B" aloud, and the type of the answer keeps a browser from taking it for a page.
func encode(document any) ([]byte, error) {
	var body bytes.Buffer
	encoder := json.NewEncoder(&body)
	encoder.SetEscapeHTML(false)
	err := encoder.Encode(document)
	return body.Bytes(), err
}

// ifMatch reads which version of the class the program has seen; without the header any will do, since an action names
// the hook it is about, and that is guard enough at most times.
//
// Of the tag the version alone is compared, in whatever coding the class was read and by whatever program it was
// rendered: the guard is against acting on a class that has changed. A program may also make the tag, "57", of the
// number that a write was answered with. A list of tags is refused, since a program has seen one, and so is a weak tag,
// which RFC 9110, section 13.1.1, lets match nothing.
func ifMatch(c echo.Context) (int64, error) {
	header := strings.TrimSpace(c.Request().Header.Get("If-Match"))
	if header == "" || header == "*" {
		return desk.AnyVersion, nil
	}
	if strings.HasPrefix(header, "W/") {
		return 0, &refusal{changedSort, "a weak ETag matches no version", "send the ETag without W/, as the class was answered with", "If-Match"}
	}
	inner, quoted := strings.CutPrefix(header, `"`)
	inner, closed := strings.CutSuffix(inner, `"`)
	figures, _, _ := strings.Cut(inner, "-")
	version, err := strconv.ParseUint(figures, 10, 63)
	if err != nil || !quoted || !closed || version < 1 {
		return 0, invalid("If-Match", "that is not the ETag of a class", `send one ETag as the class was read with, or its version in quotes, such as "57"`)
	}
	return int64(version), nil
}

// created answers with what is new under an address of its own. RFC 9110, section 15.3.2: Location is where it is from
// now on.
func created(c echo.Context, location string, receipt desk.Receipt, names named) error {
	c.Response().Header().Set("Location", location)
	return answer(c, http.StatusCreated, receipt, names)
}
