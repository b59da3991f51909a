//go:build !js

package webui

import (
	"net/url"
	"slices"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// hours are the curfew and the breaks that are asked for a session which has others, as they are typed; none where all are
// those in use.
func (q *sequenced) hours() (list []templates.Hidden) {
	for _, s := range q.event.Sessions {
		asked := s
		if curfew, ok := q.wishes.Curfews[s.ID]; ok {
			asked.Curfew = curfew
		}
		if breaks, ok := q.wishes.Breaks[s.ID]; ok {
			asked.Breaks = breaks
		}
		if !asked.Equal(s) {
			id := s.ID.String()
			list = append(list, templates.Hidden{Name: templates.PrefixCurfew + id, Value: clock(q.event, asked.Curfew)},
				templates.Hidden{Name: templates.PrefixBreaks + id, Value: typedBreaks(q.event, asked)})
		}
	}
	return list
}

// hoursOf reads the sessions of a form that are to have another curfew or other breaks.
func hoursOf(e domain.Event, values url.Values) (list []domain.ChangeSession, err error) {
	for _, s := range e.Sessions {
		id := s.ID.String()
		if !values.Has(templates.PrefixCurfew+id) || !values.Has(templates.PrefixBreaks+id) {
			continue
		}
		starts := s.Starts.In(e.Location())
		typed := url.Values{templates.FieldCurfew: values[templates.PrefixCurfew+id]}
		to := domain.ChangeSession{Session: s.ID, Name: s.Name, Starts: s.Starts}
		if to.Curfew, err = curfewOf(typed, starts); err != nil {
			return nil, err
		}
		if to.Breaks, err = breaksOf(values.Get(templates.PrefixBreaks+id), starts); err != nil {
			return nil, err
		}
		list = append(list, to)
	}
	return list, nil
}

// useHours stores other curfews and breaks, a line of the journal for each session, with ids that follow from the form's.
// It tells whether there were any.
func (s *Site) useHours(c echo.Context, by desk.By, values url.Values, action uuid.UUID) (bool, error) {
	page, err := s.desk.EventPage(c.Request().Context(), c.Param("event"))
	if err != nil {
		return false, err
	}
	list, err := hoursOf(page.Event, values)
	if err != nil {
		return false, err
	}
	for _, to := range list {
		i := slices.IndexFunc(page.Event.Sessions, func(o domain.Session) bool { return o.ID == to.Session })
		if _, err := s.desk.ChangeEvent(c.Request().Context(), by, page.Event.Slug, partOf(action, "hours", i), desk.AnyVersion, to); err != nil {
			return false, err
		}
	}
	return len(list) > 0, nil
}
