//go:build !js

package webui

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/webui/templates"
)

// latestCurfew is how long after the start of a session a time of day is still read as one of that session; what is
// later was meant for before its start.
const latestCurfew = 18 * time.Hour

// lastPlace is behind every place that can be typed.
const lastPlace = 1001

// read reads what the address asks for into the wishes, the typed order and the form. What cannot be read is said at its
// field, and taken as not asked for.
func (q *sequenced) read() {
	q.readWork()
	q.wishes.Classes, q.wishes.Curfews, q.wishes.Breaks = map[uuid.UUID]domain.ClassWish{}, map[uuid.UUID]time.Time{}, map[uuid.UUID][]domain.Pause{}
	for _, s := range q.event.Sessions {
		q.readSession(s)
	}
	q.readPlaces()
	q.readOrder()
	places := make(map[[2]uuid.UUID]int)
	for _, c := range q.typed {
		at := [2]uuid.UUID{c.Session, c.Track}
		places[at]++
		wish := domain.ClassWish{Starts: q.fixed(c)}
		if q.asked.Get(templates.PrefixPin+c.Slug) != "" {
			wish.Place = places[at]
		}
		if c.Movable() && (wish != (domain.ClassWish{}) || !c.Fixed.IsZero()) {
			q.wishes.Classes[c.ID] = wish
		}
	}
}

// readWork reads how long the work takes; what is not typed is as usual.
func (q *sequenced) readWork() {
	q.wishes.Work = domain.UsualWork()
	w := &q.wishes.Work
	for field, into := range map[string]*time.Duration{
		templates.FieldPerHook: &w.Hook, templates.FieldSlab: &w.Slab, templates.FieldNewGear: &w.Gear, templates.FieldNewHole: &w.Hole,
		templates.FieldUnknown: &w.Unknown, templates.FieldDragging: &w.Track, templates.FieldRest: &w.Rest,
	} {
		typed := strings.TrimSpace(q.asked.Get(field))
		q.form.Values[field] = cmp.Or(typed, inMinutes(*into))
		if typed == "" {
			continue
		}
		n, err := strconv.ParseFloat(strings.ReplaceAll(typed, ",", "."), 64)
		switch {
		case err != nil || !(n >= 0 && n <= 240):
			q.wrong(field, fmt.Sprintf("%q is no time. Write minutes from 0 to 240, such as 5.", typed))
		case n == 0 && field == templates.FieldPerHook:
			q.wrong(field, "A hook takes some time. Write its minutes, such as 5.")
		default:
			*into = time.Duration(n*60) * time.Second
		}
	}
}

// wrong says what is wrong at a field.
func (q *sequenced) wrong(field, words string) { q.form.Errors[field] = words }

// readSession reads the breaks and the curfew of a session in place of its own.
func (q *sequenced) readSession(s domain.Session) {
	id := s.ID.String()
	if q.asked.Has(templates.PrefixCurfew + id) {
		q.wishes.Curfews[s.ID] = q.moment(templates.PrefixCurfew+id, s.ID)
	} else {
		q.form.Values[templates.PrefixCurfew+id] = clock(q.event, s.Curfew)
	}
	field := templates.PrefixBreaks + id
	if !q.asked.Has(field) {
		q.form.Values[field] = typedBreaks(q.event, s)
		return
	}
	typed := strings.TrimSpace(q.asked.Get(field))
	q.form.Values[field] = typed
	breaks, err := breaksOf(typed, s.Starts.In(q.event.Location()))
	if err != nil {
		q.wrong(field, refusal("order", q.asked, err).told())
		return
	}
	q.wishes.Breaks[s.ID] = breaks
}

// fixed reads the fixed start that a class is to have: its own where the address says nothing of it.
func (q *sequenced) fixed(c *domain.Class) time.Time {
	field := templates.PrefixStarts + c.Slug
	if q.asked.Has(field) {
		return q.moment(field, c.Session)
	}
	q.form.Values[field] = clock(q.event, c.Fixed)
	return c.Fixed
}

// moment reads a time of day of a session; zero where none is typed, or none can be read.
func (q *sequenced) moment(field string, session uuid.UUID) time.Time {
	typed := strings.TrimSpace(q.asked.Get(field))
	q.form.Values[field] = typed
	i := slices.IndexFunc(q.event.Sessions, func(s domain.Session) bool { return s.ID == session })
	if typed == "" || i < 0 {
		return time.Time{}
	}
	at, err := q.after(q.event.Sessions[i], typed)
	if err != nil {
		q.wrong(field, fmt.Sprintf("%q is no time of day. Write one such as 19:30.", typed))
	}
	return at
}

// after reads a time of day on the clock of the place as the first such moment of a session, also past midnight.
func (q *sequenced) after(s domain.Session, typed string) (time.Time, error) {
	return clockAfter(s.Starts.In(q.event.Location()), typed)
}

// place finds what is typed as the place of a class: the name of its field has the place that the page showed, since
// numbers are typed beside others that stay as they are.
func (q *sequenced) place(c *domain.Class) (was int, typed string) {
	for field, values := range q.asked {
		middle, found := strings.CutPrefix(field, templates.PrefixAt)
		middle, ends := strings.CutSuffix(middle, "-"+c.Slug)
		if n, err := strconv.Atoi(middle); found && ends && err == nil {
			return n, strings.TrimSpace(values[0])
		}
	}
	return 0, ""
}

// readOrder puts the classes into the order of the numbers typed at them. A number that was changed goes before the one
// that has it when it was made smaller, and behind it when larger; then one class may go a place up or down.
func (q *sequenced) readOrder() {
	at := make(map[*domain.Class]float64, len(q.classes))
	q.noPlace = make(map[string]string)
	places := make(map[uuid.UUID]int)
	for i, c := range q.placed {
		places[q.classes[i].Session]++
		at[c] = float64(places[q.classes[i].Session])
		was, typed := q.place(c)
		if !q.stays(i) {
			at[c] = lastPlace
			continue
		}
		if typed == "" {
			continue
		}
		at[c] = float64(was)
		n, err := strconv.Atoi(typed)
		if err != nil || n < 1 || n >= lastPlace {
			q.noPlace[c.Slug] = typed
			continue
		}
		at[c] = float64(n) + 0.5*float64(cmp.Compare(n, was))
	}
	q.typed = slices.Clone(q.placed)
	slices.SortStableFunc(q.typed, func(a, b *domain.Class) int {
		return cmp.Or(cmp.Compare(q.session(a), q.session(b)), cmp.Compare(at[a], at[b]))
	})
	for i, c := range q.typed {
		switch {
		case q.asked.Get(templates.FieldUp) == c.Slug && i > 0 && q.typed[i-1].Session == c.Session:
			q.typed[i-1], q.typed[i] = q.typed[i], q.typed[i-1]
			return
		case q.asked.Get(templates.FieldDown) == c.Slug && i+1 < len(q.typed) && q.typed[i+1].Session == c.Session:
			q.typed[i+1], q.typed[i] = q.typed[i], q.typed[i+1]
			return
		}
	}
}
