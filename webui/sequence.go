//go:build !js

package webui

import (
	"cmp"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/sequence"
	"clayline/webui/templates"
)

// sequencePage shows the order of the classes to the desk, as the address asks for it.
func (s *Site) sequencePage(c echo.Context) error {
	by, err := s.may(c, domain.Desk)
	if err != nil {
		return err
	}
	return s.showSequence(c, http.StatusOK, by, c.QueryParams(), nil)
}

// sequenceAct stores an order, and leads back to the page.
func (s *Site) sequenceAct(c echo.Context) error {
	by, err := s.may(c, domain.Desk)
	if err != nil {
		return err
	}
	values, action, err := sent(c)
	if err != nil {
		return err
	}
	err = s.useSequence(c, by, values, action)
	if no := refusal("order", values, err); no != nil {
		return s.showSequence(c, statuses[no.err.Kind], by, nil, no)
	}
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/e/"+c.Param("event")+"/desk/order")
}

// useSequence stores what a form of the page asks for: first what moves to another session or track, then the curfews, breaks and fixed starts, then the order.
func (s *Site) useSequence(c echo.Context, by desk.By, values url.Values, action uuid.UUID) error {
	var order domain.OrderClasses
	for _, word := range strings.Fields(values.Get(templates.FieldClasses)) {
		id, err := uuid.Parse(word)
		if err != nil {
			return incomplete(err)
		}
		order.Classes = append(order.Classes, id)
	}
	moves, err := movesOf(values)
	if err != nil {
		return err
	}
	if err := s.move(c.Request().Context(), by, c.Param("event"), action, moves); err != nil {
		return err
	}
	hours, err := s.useTimes(c, by, values, action)
	if err != nil || (hours || len(moves) > 0) && len(order.Classes) == 0 {
		return err
	}
	_, err = s.desk.ChangeEvent(c.Request().Context(), by, c.Param("event"), action, desk.AnyVersion, order)
	return err
}

// showSequence shows the page; no is an order that was refused, or nil.
func (s *Site) showSequence(c echo.Context, status int, by desk.By, asked url.Values, no *refused) error {
	page, err := s.desk.EventPage(c.Request().Context(), c.Param("event"))
	if err != nil {
		return err
	}
	if err := mayAt(by, page.Event.ID); err != nil {
		return err
	}
	view := sequenceOf(page, asked)
	view.Frame = s.frame(c, page.Event, by)
	view.Scripts = []string{"sequence.js"}
	if no != nil {
		view.Notice = no.told()
	}
	if view.Form.Refused() || view.Notice != "" && status == http.StatusOK {
		status = http.StatusUnprocessableEntity
	}
	c.Response().Header().Set("Cache-Control", "no-store")
	return show(c, status, view)
}

// sequenced is an event with the classes that can be put in order, and what is asked for.
type sequenced struct {
	event   domain.Event
	all     []domain.Class
	classes []*domain.Class // of the sessions in which one has not begun, in the order of the programme
	placed  []*domain.Class // the same in the sessions and on the tracks that are asked for
	typed   []*domain.Class // those in the order that is asked for
	wishes  domain.Wishes
	form    templates.Form
	asked   url.Values
	asks    domain.Sequence
	orders  *sequence.Orders           // of asks; the typed order and its moves are evaluated with it
	noPlace map[string]string          // what is typed for a place and is none, by the address of the class
	shared  map[*domain.Class][]string // in words, with which others a class has somebody in common
}

// sequenceOf lays the page out.
func sequenceOf(page desk.EventPage, asked url.Values) templates.Sequence {
	q := sequenced{event: page.Event, all: page.Classes, asked: asked, shared: make(map[*domain.Class][]string)}
	q.form = templates.Form{Action: eventHref(page.Event) + "/desk/order", Values: map[string]string{}, Errors: map[string]string{}}
	for i := range page.Classes {
		// A class that may move can come to any session.
		open := func(o domain.Class) bool {
			_, asked := q.within(&o)
			return o.Movable() && (o.Session == page.Classes[i].Session || asked == page.Classes[i].Session.String())
		}
		if slices.ContainsFunc(page.Classes, open) {
			q.classes = append(q.classes, &page.Classes[i])
		}
	}
	slices.SortStableFunc(q.classes, func(a, b *domain.Class) int { return cmp.Compare(q.session(a), q.session(b)) })
	q.read()
	view := templates.Sequence{Form: q.form}
	if len(q.classes) == 0 {
		return view
	}
	view.InSessions, view.OnTracks = q.sessionOptions(), q.trackOptions()
	list := make([]domain.Class, len(q.placed))
	for i, c := range q.placed {
		list[i] = *c
	}
	var err error
	if q.asks, err = domain.SequenceOf(q.event, list, q.wishes); err != nil {
		view.Notice = refusal("order", asked, err).told()
	}
	view.Sessions = q.sessions(q.typed, nil)
	if view.Form.Refused() {
		view.Notice = cmp.Or(view.Notice, "Something that was typed is not understood; it is said at its field.")
	}
	if view.Notice != "" {
		return view
	}
	return q.solved(view)
}

// session is the index of a class's session by the day.
func (q *sequenced) session(c *domain.Class) int {
	sorted := slices.Clone(q.event.Sessions)
	slices.SortStableFunc(sorted, func(a, b domain.Session) int { return a.Starts.Compare(b.Starts) })
	return slices.IndexFunc(sorted, func(s domain.Session) bool { return s.ID == c.Session })
}

// solved adds what the orders cost, and the proposal. The checks of the problem have held.
func (q *sequenced) solved(view templates.Sequence) templates.Sequence {
	var err, mineErr error
	var mine sequence.Order
	if q.orders, err = q.asks.Orders(); err == nil {
		mine, mineErr = q.orders.Evaluate(idsOf(q.typed))
	}
	now, nowErr := q.inUse()
	best, bestErr := q.asks.Propose()
	if err := cmp.Or(err, nowErr, mineErr, bestErr); err != nil {
		view.Notice = sentence(err.Error())
		return view
	}
	view.Sums = []templates.SequenceSum{sumOf("In use", now.Cost)}
	view.Hours = len(q.hours()) > 0
	if view.Hours || !slices.Equal(q.classes, q.typed) {
		view.Sums = append(view.Sums, sumOf("Yours", mine.Cost))
		view.UseTyped = q.use(q.typed)
	}
	view.Sums = append(view.Sums, sumOf("The proposal", best.Cost))
	view.Sentence = bestWords(mine, best)
	view.Clashes = q.clashes(best)
	view.Sessions = q.sessions(q.typed, &mine)
	proposed := q.inOrder(best)
	view.Proposal = q.sessions(proposed, &best)
	if !slices.Equal(proposed, q.classes) {
		view.Use = q.use(proposed)
	}
	return view
}

// idsOf lists classes as package sequence knows them.
func idsOf(classes []*domain.Class) []string {
	list := make([]string, len(classes))
	for i, c := range classes {
		list[i] = c.ID.String()
	}
	return list
}

// inOrder lists the classes of an order by session, start and track. Where two tracks are used, those at the same time
// stand beside one another.
func (q *sequenced) inOrder(o sequence.Order) []*domain.Class {
	turns := slices.Clone(o.Turns)
	slices.SortStableFunc(turns, func(a, b sequence.Turn) int {
		return cmp.Or(cmp.Compare(a.Session, b.Session), cmp.Compare(a.Start, b.Start), cmp.Compare(a.Track, b.Track))
	})
	list := make([]*domain.Class, len(turns))
	for i, t := range turns {
		list[i] = q.class(t.Class)
	}
	return list
}

// class finds one of the classes by its id, as it is asked for.
func (q *sequenced) class(id string) *domain.Class {
	i := slices.IndexFunc(q.placed, func(c *domain.Class) bool { return c.ID.String() == id })
	return q.placed[i]
}

// use makes the form that stores an order, with what moves to another session or track and the times that are
// asked for: the places that these classes have now are given out anew, and all others keep theirs. The order is left out where it is the one in use.
func (q *sequenced) use(order []*domain.Class) *templates.Form {
	ids, same := make([]string, len(q.all)), true
	next := 0
	for i := range q.all {
		ids[i] = q.all[i].ID.String()
		if slices.ContainsFunc(q.classes, func(c *domain.Class) bool { return c.ID == q.all[i].ID }) {
			ids[i] = order[next].ID.String()
			next++
		}
		same = same && ids[i] == q.all[i].ID.String()
	}
	var hidden []templates.Hidden
	moved, hours := q.moved(), q.hours()
	if len(moved)+len(hours) == 0 || !same {
		hidden = append(hidden, templates.Hidden{Name: templates.FieldClasses, Value: strings.Join(ids, " ")})
	}
	if len(moved) > 0 {
		hidden = append(hidden, templates.Hidden{Name: templates.FieldMoves, Value: strings.Join(moved, " ")})
	}
	return (*refused)(nil).make("order", q.form.Action, nil, append(hidden, hours...)...)
}

// sessions lays classes out by session; o has their times, or is nil where they cannot be computed.
func (q *sequenced) sessions(order []*domain.Class, o *sequence.Order) []templates.SequenceSession {
	var list []templates.SequenceSession
	for i, c := range order {
		if i == 0 || order[i-1].Session != c.Session {
			in := q.event.Sessions[slices.IndexFunc(q.event.Sessions, func(s domain.Session) bool { return s.ID == c.Session })]
			list = append(list, templates.SequenceSession{ID: in.ID.String(), Name: in.Name, Starts: in.Starts.In(q.event.Location()).Format(dayFormat + " " + clockFormat)})
		}
		s := &list[len(list)-1]
		row := q.row(order, i, o)
		row.Place = strconv.Itoa(len(s.Classes) + 1)
		row.First = len(s.Classes) == 0 || !order[i-1].Movable()
		row.Last = i+1 == len(order) || order[i+1].Session != c.Session
		if slices.Equal(order, q.typed) {
			q.showPlace(row)
			q.showSession(row)
		}
		s.Classes = append(s.Classes, row)
	}
	return list
}

// showPlace fills the field of a class's place, with what was typed where that is none.
func (q *sequenced) showPlace(row templates.SequenceClass) {
	q.form.Values[row.At()] = row.Place
	if typed, no := q.noPlace[row.Slug]; no {
		q.form.Values[row.At()] = typed
		q.wrong(row.At(), "Write a place from 1.")
	}
}

// row is the class at an index of an order.
func (q *sequenced) row(order []*domain.Class, i int, o *sequence.Order) templates.SequenceClass {
	c := order[i]
	at := slices.IndexFunc(q.asks.Classes, func(k sequence.Class) bool { return k.ID == c.ID.String() })
	row := templates.SequenceClass{
		Slug: c.Slug, Name: c.Name, Begun: !c.Movable(), Pinned: q.asked.Get(templates.PrefixPin+c.Slug) != "",
		Detail: plural(len(entered(c)), "entry", "entries"), Shares: q.shares(c), In: c.Session.String(),
	}
	if at >= 0 {
		row.Detail += ", about " + minutes(q.asks.Classes[at].Length)
	}
	if len(q.event.Tracks) > 1 {
		row.Track = q.event.Tracks[slices.IndexFunc(q.event.Tracks, func(t domain.Track) bool { return t.ID == c.Track })].Name
	}
	if o == nil {
		return row
	}
	turn := o.Turns[slices.IndexFunc(o.Turns, func(t sequence.Turn) bool { return t.Class == c.ID.String() })]
	row.Time = clock(q.event, q.asks.Zero.Add(turn.Start))
	row.Before = q.before(order[:i], c, turn)
	if slices.Equal(order, q.typed) {
		row.Moves = q.moves(i, *o)
	}
	return row
}

// shares says with which other classes of its session a class has somebody in common.
func (q *sequenced) shares(c *domain.Class) []string {
	if words, known := q.shared[c]; known {
		return words
	}
	var words []string
	for _, o := range q.placed {
		if o == c || o.Session != c.Session {
			continue
		}
		if both := c.Both(o); len(both) > 0 {
			words = append(words, strings.Join(both, ", ")+" also in "+o.Name)
		}
	}
	q.shared[c] = words
	return words
}

// before says what lies between a class and the one before it on its track.
func (q *sequenced) before(earlier []*domain.Class, c *domain.Class, t sequence.Turn) string {
	var parts []string
	for _, last := range slices.Backward(earlier) {
		if last.Session == c.Session && last.Track == c.Track {
			_, words := q.wishes.Change(last, c)
			parts = append(parts, minutes(t.Change.Box)+" box: "+words, minutes(t.Change.Track)+" track")
			break
		}
	}
	if t.Wait > 0 {
		parts = append(parts, minutes(t.Wait)+" waiting")
	}
	return strings.Join(parts, "; ")
}

// moves says what it costs to move a class of the typed order up or down by one, with the part that costs most.
func (q *sequenced) moves(i int, o sequence.Order) string {
	var words []string
	for _, step := range []struct {
		by   int
		name string
	}{{-1, "One up"}, {1, "One down"}} {
		j := i + step.by
		if j < 0 || j >= len(q.typed) || q.typed[j].Session != q.typed[i].Session || !q.typed[j].Movable() || !q.typed[i].Movable() {
			continue
		}
		order := slices.Clone(q.typed)
		order[i], order[j] = order[j], order[i]
		moved, err := q.orders.Evaluate(idsOf(order))
		if err != nil {
			continue
		}
		words = append(words, step.name+": "+difference(o.Cost, moved.Cost)+".")
	}
	return strings.Join(words, " ")
}
