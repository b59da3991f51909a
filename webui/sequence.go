package webui

import (
	"cmp"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

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
	var order domain.OrderClasses
	for _, word := range strings.Fields(values.Get(templates.FieldClasses)) {
		id, err := uuid.Parse(word)
		if err != nil {
			return &domain.Error{Kind: domain.Invalid, Message: "the form is not complete", Fix: "reload the page and send it again", Cause: err}
		}
		order.Classes = append(order.Classes, id)
	}
	_, err = s.desk.ChangeEvent(c.Request().Context(), by, c.Param("event"), action, desk.AnyVersion, order)
	if no := refusal("order", values, err); no != nil {
		return s.showSequence(c, statuses[no.err.Kind], by, nil, no)
	}
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/e/"+c.Param("event")+"/desk/order")
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
	typed   []*domain.Class // the same as they are asked for
	wishes  domain.Wishes
	form    templates.Form
	asked   url.Values
	asks    domain.Sequence
}

// sequenceOf lays the page out.
func sequenceOf(page desk.EventPage, asked url.Values) templates.Sequence {
	q := sequenced{event: page.Event, all: page.Classes, asked: asked}
	q.form = templates.Form{Action: eventHref(page.Event) + "/desk/order", Values: map[string]string{}, Errors: map[string]string{}}
	for i := range page.Classes {
		open := func(o domain.Class) bool { return o.Session == page.Classes[i].Session && o.Movable() }
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
	list := make([]domain.Class, len(q.classes))
	for i, c := range q.classes {
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
	now, err := q.asks.Evaluate(idsOf(q.classes))
	mine, mineErr := q.asks.Evaluate(idsOf(q.typed))
	best, bestErr := q.asks.Propose()
	if err := cmp.Or(err, mineErr, bestErr); err != nil {
		view.Notice = sentence(err.Error())
		return view
	}
	view.Sums = []templates.SequenceSum{sumOf("In use", now.Cost)}
	if !slices.Equal(q.classes, q.typed) {
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

// class finds one of the classes by its id.
func (q *sequenced) class(id string) *domain.Class {
	i := slices.IndexFunc(q.classes, func(c *domain.Class) bool { return c.ID.String() == id })
	return q.classes[i]
}

// use makes the form that stores an order: the places that these classes have now are given out anew, and all others
// keep theirs.
func (q *sequenced) use(order []*domain.Class) *templates.Form {
	var ids []string
	next := 0
	for i := range q.all {
		id := q.all[i].ID.String()
		if slices.ContainsFunc(q.classes, func(c *domain.Class) bool { return c.ID == q.all[i].ID }) {
			id = order[next].ID.String()
			next++
		}
		ids = append(ids, id)
	}
	return (*refused)(nil).make("order", q.form.Action, nil, templates.Hidden{Name: templates.FieldClasses, Value: strings.Join(ids, " ")})
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
		if q.form.Error(templates.PrefixAt+c.Slug) == "" && slices.Equal(order, q.typed) {
			q.form.Values[templates.PrefixAt+c.Slug] = row.Place
		}
		s.Classes = append(s.Classes, row)
	}
	return list
}

// row is the class at an index of an order.
func (q *sequenced) row(order []*domain.Class, i int, o *sequence.Order) templates.SequenceClass {
	c := order[i]
	at := slices.IndexFunc(q.asks.Classes, func(k sequence.Class) bool { return k.ID == c.ID.String() })
	row := templates.SequenceClass{
		Slug: c.Slug, Name: c.Name, Begun: !c.Movable(), Pinned: q.asked.Get(templates.PrefixPin+c.Slug) != "",
		Detail: plural(len(entered(c)), "entry", "entries"), Shares: q.shares(c),
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
func (q *sequenced) shares(c *domain.Class) string {
	var words []string
	for _, o := range q.classes {
		if o == c || o.Session != c.Session {
			continue
		}
		if both := c.Both(o); len(both) > 0 {
			words = append(words, strings.Join(both, ", ")+" also in "+o.Name)
		}
	}
	return strings.Join(words, "; ")
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
		moved, err := q.asks.Evaluate(idsOf(order))
		if err != nil {
			continue
		}
		words = append(words, step.name+": "+difference(o.Cost, moved.Cost)+".")
	}
	return strings.Join(words, " ")
}

// difference says what an order costs more than another: "6 min more (box 4, waiting 2)".
func difference(from, to sequence.Cost) string {
	d := to.Total - from.Total
	var parts []string
	for _, p := range []struct {
		name string
		d    time.Duration
	}{{"box", to.Box - from.Box}, {"track", to.Track - from.Track}, {"waiting", to.Wait - from.Wait}, {"late start", to.Late - from.Late}, {"past the curfew", to.Overrun - from.Overrun}} {
		if p.d != 0 {
			parts = append(parts, p.name+" "+signed(p.d))
		}
	}
	words := "costs the same"
	switch {
	case d > 0:
		words = minutes(d) + " more"
	case d < 0:
		words = minutes(-d) + " less"
	}
	if len(parts) > 0 {
		words += " (" + strings.Join(parts, ", ") + ")"
	}
	return words
}

// minutes writes a time: "6 min", "6.5 min".
func minutes(d time.Duration) string { return figure(d) + " min" }

// figure writes minutes without their unit, to a tenth.
func figure(d time.Duration) string {
	return strconv.FormatFloat(d.Round(6*time.Second).Minutes(), 'f', -1, 64)
}

// signed writes minutes with their sign.
func signed(d time.Duration) string {
	if d > 0 {
		return "+" + figure(d)
	}
	return "−" + figure(-d)
}

// plural counts things: "1 entry", "14 entries".
func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// sumOf is a line of the comparison.
func sumOf(name string, c sequence.Cost) templates.SequenceSum {
	return templates.SequenceSum{Name: name, Box: figure(c.Box), Track: figure(c.Track), Wait: figure(c.Wait), Late: figure(c.Late), Beyond: figure(c.Overrun), Total: figure(c.Total)}
}

// bestWords compares the order that was typed with the proposal, and says how good that is.
func bestWords(mine, best sequence.Order) string {
	words := "The proposal costs as much as your order."
	switch d := mine.Cost.Total - best.Cost.Total; {
	case d > 0:
		words = "The proposal saves " + minutes(d) + " of your order."
	case d < 0:
		words = "Your order saves " + minutes(-d) + " of the proposal, which keeps what is pinned."
	}
	if best.Exact {
		words += " No order that keeps what is asked for costs less."
	} else {
		words += fmt.Sprintf(" No order costs less than %s, so that it may be %s above the best.", minutes(best.Bound), minutes(best.Cost.Total-best.Bound))
	}
	return words + " A minute past the curfew, or after a fixed start, counts as ten."
}

// clashes names what the proposal cannot keep: it is the nearest there is.
func (q *sequenced) clashes(o sequence.Order) []string {
	var list []string
	for _, id := range o.Loosened {
		list = append(list, q.class(id).Name+" cannot keep its place together with the others that are pinned; here it is free.")
	}
	ends := make(map[int]time.Duration)
	for _, t := range o.Turns {
		ends[t.Session] = max(ends[t.Session], t.End)
		if t.Late > 0 {
			list = append(list, fmt.Sprintf("%s cannot begin at its fixed start: it begins %s later, at %s.", q.class(t.Class).Name, minutes(t.Late), clock(q.event, q.asks.Zero.Add(t.Start))))
		}
	}
	for i, s := range q.asks.Problem.Sessions {
		if s.Curfew > 0 && ends[i] > s.Curfew {
			list = append(list, fmt.Sprintf("%s ends %s past its curfew, at %s. Take a class out, give it another session, or begin earlier.", q.asks.Sessions[i].Name, minutes(ends[i]-s.Curfew), clock(q.event, q.asks.Zero.Add(ends[i]))))
		}
	}
	return list
}
