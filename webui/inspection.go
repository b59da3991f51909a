//go:build !js

package webui

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// inspectionOf is the form of an inspection, with a row for each point of the list. The version of the description goes with
// it: rows are told apart by their numbers.
func inspectionOf(e domain.Event, sled domain.Sled, no *refused) *templates.Inspection {
	list := sled.InspectionList()
	fields := []string{templates.FieldBy}
	for i := range list {
		fields = append(fields, rowField(templates.FieldPoint, i), rowField(templates.FieldNote, i))
	}
	form := no.make("inspect", sledLogHref(e, sled.ID)+"/inspect", fields, fresh(fieldPart), templates.Hidden{Name: fieldVersion, Value: strconv.Itoa(sled.Version())})
	return &templates.Inspection{Points: list, Form: form}
}

// inspectAct reads the form of an inspection of a sled of the event.
func inspectAct(e domain.Event, sled uuid.UUID, values url.Values) (domain.EventAction, error) {
	made, err := id(values, fieldPart)
	if err != nil {
		return nil, err
	}
	action := domain.InspectSled{Inspection: made, Sled: sled}
	for _, s := range e.Sleds {
		if s.ID != sled {
			continue
		}
		if values.Get(fieldVersion) != strconv.Itoa(s.Version()) {
			return nil, &domain.Error{Kind: domain.Stale, Message: "the list of the sled was written anew meanwhile", Fix: "look at the points again, and send it again"}
		}
		for i, point := range s.InspectionList() {
			state, err := domain.ParsePointState(values.Get(rowField(templates.FieldPoint, i)))
			if err != nil {
				return nil, atField(rowField(templates.FieldPoint, i), err)
			}
			action.Points = append(action.Points, domain.Inspected{Point: point, State: state, Note: values.Get(rowField(templates.FieldNote, i))})
		}
	}
	return domain.SignInspection(action, values.Get(templates.FieldBy))
}

// inspect writes an inspection down and leads back to the log.
func (s *Site) inspect(c echo.Context) error {
	by, err := s.may(c, domain.Cab|domain.Desk)
	if err != nil {
		return err
	}
	sled, err := uuid.Parse(c.Param("sled"))
	if err != nil {
		return echo.ErrNotFound
	}
	values, action, err := sent(c)
	if err != nil {
		return err
	}
	page, err := s.desk.EventPage(c.Request().Context(), c.Param("event"))
	if err != nil {
		return err
	}
	if err := mayAt(by, page.Event.ID); err != nil {
		return err
	}
	asked, err := inspectAct(page.Event, sled, values)
	if err == nil {
		_, err = s.desk.ChangeEvent(c.Request().Context(), by, c.Param("event"), action, desk.AnyVersion, asked)
	}
	if no := refusal("inspect", values, atRow(err)); no != nil {
		return s.showSledLog(c, statuses[no.err.Kind], by, no)
	}
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, sledLogHref(page.Event, sled))
}

// atRow names the field of a row where the domain names a point: points[3].note is the note of the fourth row.
func atRow(err error) error {
	e, ok := errors.AsType[*domain.Error](err)
	if !ok {
		return err
	}
	var row int
	var part string
	if _, scanErr := fmt.Sscanf(strings.Replace(e.Field, "].", " ", 1), "points[%d %s", &row, &part); scanErr != nil {
		return err
	}
	return atField(rowField(part, row), err)
}
