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

// keyHeader carries the id of a write's action.
const keyHeader = "Idempotency-Key"

// sent is a write as it came in.
type sent struct {
	by     desk.By
	key    uuid.UUID // the id of the action
	body   *object
	scope  string // what its derived ids are for: the event and the class of the address
	params func(string) string
}

// receive reads what every write must have: a pass in one of the roles, a key and a body that can be read.
func (s *Server) receive(c echo.Context, roles domain.Role) (*sent, error) {
	by, err := s.who(c)
	if err != nil {
		return nil, err
	}
	if by.Role&roles == 0 {
		return nil, by.May(roles, by.Event)
	}
	return s.receiveOpen(c, by)
}

// receiveOpen reads a write that needs no pass.
func (s *Server) receiveOpen(c echo.Context, by desk.By) (*sent, error) {
	key, err := parseID(strings.Trim(c.Request().Header.Get(keyHeader), `"`))
	if err != nil {
		return nil, &refusal{noKeySort, "every write carries the id of its action in the header " + keyHeader,
			"send " + keyHeader + " with a new UUID, and the same one when you send the same again", keyHeader}
	}
	fields, err := readBody(c)
	if err != nil {
		return nil, err
	}
	return &sent{by: by, key: key, body: newObject(fields), scope: c.Param("event") + "/" + c.Param("class"), params: c.Param}, nil
}

// derive makes the id of something new out of the key, so that the same write names the same thing.
func (in *sent) derive(what string) uuid.UUID { return uuid.NewSHA1(in.key, []byte(in.scope+"/"+what)) }

// fresh reads the id of something new, which is derived from the key when the program gives none.
func (in *sent) fresh(field string) uuid.UUID { return in.body.idOr(field, in.derive(field)) }

// param reads an id in the address. What is no UUID names nothing.
func (in *sent) param(name string) uuid.UUID {
	id, err := parseID(in.params(name))
	if err != nil && *in.body.wrong == nil {
		*in.body.wrong = &domain.Error{Kind: domain.NotFound, Field: name, Message: "there is no such " + name, Fix: "read the class; it has the ids of everything in it"}
	}
	return id
}

// deed is what a write on a class asks for.
type deed struct {
	action domain.Action
	named  named
	// check asks once about something that is hardly possible; nil where there is nothing to ask.
	check func(*domain.Class) error
	// fields says where a field of the domain stands in the body, where that differs.
	fields map[string]string
}

// named are the things that an answer names: those that the write is about, and those that are new.
type named struct {
	Event string     `json:"event,omitempty"`
	Class string     `json:"class,omitempty"`
	ID    *uuid.UUID `json:"id,omitempty"`
	Entry *uuid.UUID `json:"entry,omitempty"`
	Round *uuid.UUID `json:"round,omitempty"`
	Hook  *uuid.UUID `json:"hook,omitempty"`
	Next  *uuid.UUID `json:"next,omitempty"`
}

// stored is the answer to a write: the journal line and what it names. There is nothing in it that could differ when
// the same is sent again.
type stored struct {
	Number int64     `json:"number"`
	Kind   string    `json:"kind"`
	At     time.Time `json:"at"`
	named
}

// reading turns the body and the address of a write into what it asks for.
type reading func(*sent) deed

// act makes the handler of an action on a class.
func (s *Server) act(zero domain.Action, status int, read reading) echo.HandlerFunc {
	roles := domain.KindOfAction(zero).Roles
	return func(c echo.Context) error {
		in, err := s.receive(c, roles)
		if err != nil {
			return err
		}
		asked := read(in)
		if err := in.body.done(); err != nil {
			return err
		}
		version, err := ifMatch(c)
		if err != nil {
			return err
		}
		receipt, err := s.desk.ActOn(c.Request().Context(), in.by, ref(c), in.key, version, func(class *domain.Class) (domain.Action, error) {
			if asked.check != nil {
				return asked.action, asked.check(class)
			}
			return asked.action, nil
		})
		if err != nil {
			return asked.moved(err)
		}
		asked.named.Class = c.Param("class")
		return answer(c, status, receipt, asked.named)
	}
}

// moved says at which field of the body a refusal of the domain stands.
func (d deed) moved(err error) error {
	if e, ok := domainError(err); ok {
		if field, differs := d.fields[e.Field]; differs {
			return placed(err, field)
		}
	}
	return err
}

// answer answers a write.
func answer(c echo.Context, status int, receipt desk.Receipt, names named) error {
	return send(c, status, stored{Number: receipt.Number, Kind: receipt.Kind, At: receipt.At, named: names})
}

// send answers with JSON, which is complete before the first byte leaves.
func send(c echo.Context, status int, document any) error {
	body, err := encode(document)
	if err != nil {
		return err
	}
	return c.Blob(status, jsonType, body)
}

// encode writes JSON as it is sent: one line.
func encode(document any) ([]byte, error) {
	var body bytes.Buffer
	encoder := json.NewEncoder(&body)
	encoder.SetEscapeHTML(false)
	err := encoder.Encode(document)
	return body.Bytes(), err
}

// ifMatch reads which version of the class the program has seen; without the header any will do.
func ifMatch(c echo.Context) (int64, error) {
	header := strings.TrimSpace(c.Request().Header.Get("If-Match"))
	if header == "" || header == "*" {
		return desk.AnyVersion, nil
	}
	version, err := strconv.ParseInt(versionIn(header), 10, 64)
	if err != nil || version < 1 {
		return 0, invalid("If-Match", "that is not the ETag of a class", `send one ETag as the class was read with, such as "57"`)
	}
	return version, nil
}

// created answers with what is new under an address of its own.
func created(c echo.Context, location string, receipt desk.Receipt, names named) error {
	c.Response().Header().Set("Location", location)
	return answer(c, http.StatusCreated, receipt, names)
}
