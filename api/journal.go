package api

import (
	"encoding/hex"
	"encoding/json"
	"net/http"
	"strconv"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
)

// journalList is a part of a journal, oldest line first. There is a next part where this one is full; it may turn out
// to be empty.
type journalList struct {
	Lines []line `json:"lines"`
	Next  string `json:"next,omitempty"`
}

// line is one line of a journal. Its payload has ids and never personal data. Names are in the entries, from which they
// can be deleted without touching what was done. Pass and role are those of who acted, device the name by which the
// desk knows it.
type line struct {
	Number  int64     `json:"number"`
	Action  uuid.UUID `json:"action"`
	Kind    string    `json:"kind"`
	At      time.Time `json:"at"`
	Subject uuid.UUID `json:"subject"`
	Pass    uuid.UUID `json:"pass"`
	Role    string    `json:"role,omitempty"`
	Device  string    `json:"device,omitempty"`
	// Previous and Hash chain the lines; the payload's bytes go over the wire as they were hashed.
	Previous string          `json:"previous"`
	Hash     string          `json:"hash"`
	Payload  json.RawMessage `json:"payload"`
}

// lineOf writes a line of a journal as it was stored.
func lineOf(l desk.Line) line {
	return line{
		Number: l.Number, Action: l.Action, Kind: l.Kind, At: l.At, Subject: l.Subject, Pass: l.Pass, Role: l.Role, Device: l.Device,
		Previous: hex.EncodeToString(l.Previous), Hash: hex.EncodeToString(l.Hash), Payload: l.Payload,
	}
}

// journal shows the desk what was done, by whom and when. The cursor is the number of the last line that was told. It
// needs no place in a list, because a journal only grows.
func (s *Server) journal(c echo.Context) error {
	by, err := s.who(c)
	if err != nil {
		return err
	}
	if by.Role&domain.Desk == 0 {
		return by.May(domain.Desk, by.Event)
	}
	limit, err := limitOf(c)
	if err != nil {
		return err
	}
	place, err := cursorOf(c)
	if err != nil {
		return err
	}
	// The beginning, "", becomes 0, and a number stays what it is.
	after, err := strconv.ParseUint("0"+place, 10, 63)
	if err != nil {
		return badCursor()
	}
	lines, err := s.desk.Journal(c.Request().Context(), by, c.Param("event"), int64(after), limit)
	if err != nil {
		return err
	}
	list := journalList{Lines: make([]line, len(lines))}
	for i, l := range lines {
		list.Lines[i] = lineOf(l)
	}
	if n := len(lines); n == limit {
		list.Next = cursorTo(strconv.FormatInt(lines[n-1].Number, 10))
	}
	return send(c, http.StatusOK, list)
}
