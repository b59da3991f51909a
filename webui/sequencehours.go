//go:build !js

package webui

import (
	"fmt"
	"net/url"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// hours are the curfew and the breaks that are asked for a session which has others, and the fixed starts of classes that
// have others, as they are typed; none where all are those in use.
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
	for _, c := range q.placed {
		// A class without a wish has the start that is its own.
		if wish, ok := q.wishes.Classes[c.ID]; ok && !wish.Starts.Equal(c.Fixed) {
			list = append(list, templates.Hidden{Name: templates.PrefixStarts + c.Slug, Value: clock(q.event, wish.Starts)})
		}
	}
	return list
}

// startsOf reads the fixed starts of a form, by the address of the class: each on the clock of the session in which the class
// is by now.
func startsOf(page desk.EventPage, values url.Values) (map[string]time.Time, error) {
	starts := make(map[string]time.Time)
	for i := range page.Classes {
		c := &page.Classes[i]
		field := templates.PrefixStarts + c.Slug
		in := slices.IndexFunc(page.Event.Sessions, func(s domain.Session) bool { return s.ID == c.Session })
		typed := strings.TrimSpace(values.Get(field))
		if !values.Has(field) || in < 0 {
			continue
		}
		at := time.Time{}
		if typed != "" {
			var err error
			if at, err = clockAfter(page.Event.Sessions[in].Starts.In(page.Event.Location()), typed); err != nil {
				return nil, &domain.Error{Kind: domain.Invalid, Field: field, Message: fmt.Sprintf("%q is no time of day", typed), Fix: "write one such as 19:30", Cause: err}
			}
		}
		starts[c.Slug] = at
	}
	return starts, nil
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

// useTimes stores other curfews, breaks and fixed starts, a line of the journal for each session and class, with ids that
// follow from the form's. It tells whether there were any.
func (s *Site) useTimes(c echo.Context, by desk.By, values url.Values, action uuid.UUID) (bool, error) {
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
	starts, err := startsOf(page, values)
	if err != nil {
		return false, err
	}
	for slug, at := range starts {
		if _, err := s.desk.Act(c.Request().Context(), by, desk.Ref{Event: page.Event.Slug, Class: slug}, partOf(action, "start "+slug, 0), domain.FixStart{Starts: at}); err != nil {
			return false, ofClass(slug, err)
		}
	}
	return len(list)+len(starts) > 0, nil
}
