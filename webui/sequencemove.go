//go:build !js

package webui

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/sequence"
	"clayline/webui/templates"
)

// move is a class that goes to another session or track, by its address in the event.
type move struct {
	slug           string
	session, track uuid.UUID
}

// String writes a move as its form has it: "farm-stock SESSION TRACK".
func (m move) String() string { return m.slug + " " + m.session.String() + " " + m.track.String() }

// movesOf reads the moves of a form, three words each.
func movesOf(values url.Values) (list []move, err error) {
	words := strings.Fields(values.Get(templates.FieldMoves))
	for part := range slices.Chunk(words, 3) {
		m := move{slug: part[0]}
		if len(part) == 3 {
			m.session, err = uuid.Parse(part[1])
		}
		if err == nil && len(part) == 3 {
			m.track, err = uuid.Parse(part[2])
		}
		if err != nil || len(part) != 3 {
			return nil, incomplete(err)
		}
		list = append(list, m)
	}
	return list, nil
}

// incomplete refuses a form that no page of ours has sent.
func incomplete(cause error) error {
	return &domain.Error{Kind: domain.Invalid, Message: "the form is not complete", Fix: "reload the page and send it again", Cause: cause}
}

// move moves classes, a line of the journal each. The ids follow from the form's, so that the form sent again moves nothing
// twice. The first that cannot be moved ends it: what was moved before it stays so, and the page shows it.
func (s *Site) move(ctx context.Context, by desk.By, event string, action uuid.UUID, list []move) error {
	for i, m := range list {
		to := domain.MoveClass{Session: m.session, Track: m.track}
		if _, err := s.desk.Act(ctx, by, desk.Ref{Event: event, Class: m.slug}, partOf(action, "move", i), to); err != nil {
			return ofClass(m.slug, err)
		}
	}
	return nil
}

// ofClass says of which class a refusal is; what is none stays as it is.
func ofClass(slug string, err error) error {
	e, ok := errors.AsType[*domain.Error](err)
	if !ok {
		return fmt.Errorf("moving %s: %w", slug, err)
	}
	told := *e
	told.Field, told.Message = "", "of class "+slug+": "+e.Message
	return &told
}

// readPlaces makes the classes as the address asks for them: copies of those that it puts into another session or onto
// another track. What names none of the event is said at its field.
func (q *sequenced) readPlaces() {
	q.placed = slices.Clone(q.classes)
	for i, c := range q.classes {
		_, asked := q.within(c)
		session := q.chosen(templates.PrefixSession+c.Slug, asked, c.Session, "session", func(id uuid.UUID) bool {
			return slices.ContainsFunc(q.event.Sessions, func(s domain.Session) bool { return s.ID == id })
		})
		track := q.chosen(templates.PrefixTrack+c.Slug, q.asked.Get(templates.PrefixTrack+c.Slug), c.Track, "track", func(id uuid.UUID) bool {
			return slices.ContainsFunc(q.event.Tracks, func(t domain.Track) bool { return t.ID == id })
		})
		if c.Movable() && (session != c.Session || track != c.Track) {
			moved := *c
			if session != c.Session {
				moved.Fixed = time.Time{} // left behind with the session
			}
			moved.Session, moved.Track = session, track
			q.placed[i] = &moved
		}
	}
}

// within finds the session that is asked for a class: the name of its field has the one in which the page showed it.
func (q *sequenced) within(c *domain.Class) (shown, asked string) {
	for field, values := range q.asked {
		middle, found := strings.CutPrefix(field, templates.PrefixSession)
		middle, ends := strings.CutSuffix(middle, "-"+c.Slug)
		if _, err := uuid.Parse(middle); found && ends && err == nil {
			return middle, values[0]
		}
	}
	return c.Session.String(), ""
}

// chosen reads which session or track a class is to have; the one that it has where nothing is asked for.
func (q *sequenced) chosen(field, typed string, has uuid.UUID, what string, known func(uuid.UUID) bool) uuid.UUID {
	q.form.Values[field] = cmp.Or(typed, has.String())
	if typed == "" {
		return has
	}
	id, err := uuid.Parse(typed)
	if err != nil || !known(id) {
		q.wrong(field, "The event has no such "+what+". Choose one of the list.")
		return has
	}
	return id
}

// stays tells whether a class is in the session in which the page last showed it. One that is not comes last in its new one,
// whatever its number was.
func (q *sequenced) stays(i int) bool {
	shown, _ := q.within(q.classes[i])
	return q.placed[i].Session.String() == shown
}

// showSession fills the field of a class's session, with what was asked for where that is none.
func (q *sequenced) showSession(row templates.SequenceClass) {
	q.form.Values[row.Within()] = q.form.Values[templates.PrefixSession+row.Slug]
	if words := q.form.Error(templates.PrefixSession + row.Slug); words != "" {
		q.wrong(row.Within(), words)
	}
}

// moved lists what is to be moved.
func (q *sequenced) moved() (list []string) {
	for i, c := range q.placed {
		if c != q.classes[i] {
			list = append(list, move{c.Slug, c.Session, c.Track}.String())
		}
	}
	return list
}

// inUse is what the order in use costs, each class in the session and on the track that it has. A start that is asked for
// in another session is none of it.
func (q *sequenced) inUse() (sequence.Order, error) {
	wishes := q.wishes
	wishes.Classes = make(map[uuid.UUID]domain.ClassWish)
	list := make([]domain.Class, len(q.classes))
	for i, c := range q.classes {
		list[i] = *c
		if wish, ok := q.wishes.Classes[c.ID]; ok && q.placed[i].Session == c.Session {
			wishes.Classes[c.ID] = domain.ClassWish{Starts: wish.Starts}
		}
	}
	asks, err := domain.SequenceOf(q.event, list, wishes)
	if err != nil {
		return sequence.Order{}, err
	}
	return asks.InUse()
}

// sessionOptions and trackOptions are what a class can be moved to; none where there is nothing to choose.
func (q *sequenced) sessionOptions() (list []templates.Option) {
	if len(q.event.Sessions) < 2 {
		return nil
	}
	for _, s := range q.event.Sessions {
		list = append(list, templates.Option{Value: s.ID.String(), Text: s.Name, Typed: true})
	}
	return list
}

func (q *sequenced) trackOptions() (list []templates.Option) {
	if len(q.event.Tracks) < 2 {
		return nil
	}
	for _, t := range q.event.Tracks {
		list = append(list, templates.Option{Value: t.ID.String(), Text: t.Name, Typed: true})
	}
	return list
}
