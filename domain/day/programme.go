package day

import (
	"slices"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/forecast"
)

// programme turns classes into what the forecast is told. A class's kind is its index.
type programme struct {
	sessions []domain.Session // by their start
	prior    forecast.Prior
	items    []forecast.Item
	// first and last are the items with which each class begins and ends, -1 where it has none.
	first, last []int
	// taken counts the breaks of each session that lie behind.
	taken map[uuid.UUID]int
}

// session returns the session of a class, or the zero Session.
func (p *programme) session(c *domain.Class) domain.Session {
	if i := slices.IndexFunc(p.sessions, func(s domain.Session) bool { return s.ID == c.Session }); i >= 0 {
		return p.sessions[i]
	}
	return domain.Session{}
}

// soonest is when a class can begin: with its session, or at its fixed start.
func (p *programme) soonest(c *domain.Class) time.Time {
	if starts := p.session(c).Starts; starts.After(c.Fixed) {
		return starts
	}
	return c.Fixed
}

// plan sets what was to be expected of each class beforehand, session by session.
func (p *programme) plan(classes []*domain.Class, told []Class) {
	for _, s := range p.sessions {
		p.begin(len(classes))
		day := forecast.New(p.prior)
		// As planned: what is over by now was to come then, in the order of the programme, which the turns have changed.
		for _, i := range p.inSession(classes, s) {
			p.pause(day, forecast.Now{}, classes[i], s.Starts)
			items, _ := p.whole(classes[i], i)
			items[0].NotBefore = max(classes[i].Fixed.Sub(s.Starts), 0)
			p.add(i, items, len(p.items) > 0)
		}
		windows := day.Plan(forecast.Now{}, p.items).Windows
		for i := range classes {
			if p.first[i] >= 0 {
				told[i].Planned = Times{s.Starts.Add(windows[p.first[i]].Start.Middle), s.Starts.Add(windows[p.last[i]].End.Middle)}
			}
		}
	}
}

// inSession lists the classes of a session that somebody is entered in, by their index: those that were called by their
// first call, and then the others.
func (p *programme) inSession(classes []*domain.Class, s domain.Session) (list []int) {
	for i, c := range classes {
		if c.Session == s.ID && entered(c) > 0 {
			list = append(list, i)
		}
	}
	slices.SortStableFunc(list, func(a, b int) int {
		x, y := pulled(classes[a]).Start, pulled(classes[b]).Start
		switch {
		case x.IsZero() && y.IsZero():
			return 0
		case x.IsZero():
			return 1
		case y.IsZero():
			return -1
		default:
			return x.Compare(y)
		}
	})
	return list
}

// begin forgets the items.
func (p *programme) begin(classes int) {
	p.items, p.taken = nil, make(map[uuid.UUID]int)
	p.first, p.last = slices.Repeat([]int{-1}, classes), slices.Repeat([]int{-1}, classes)
}

// pause adds the breaks of a session that begin with the change of class which comes next: those whose time has come in the
// middle of all days, once the items so far are done, and those while its fixed start is waited for. There is none before
// the first class.
func (p *programme) pause(day *forecast.Day, now forecast.Now, c *domain.Class, from time.Time) {
	s := p.session(c)
	for len(p.items) > 0 && p.taken[s.ID] < len(s.Breaks) {
		b, windows := s.Breaks[p.taken[s.ID]], day.Plan(now, p.items).Windows
		item := forecast.Item{Pause: b.Length()}
		if from.Add(windows[len(windows)-1].End.Middle).Before(b.From) {
			if c.Fixed.Before(b.From) {
				return
			}
			item.NotBefore = max(b.From.Sub(from), 0)
		}
		p.items = append(p.items, item)
		p.taken[s.ID]++
	}
}

// behind counts the breaks that lie behind: a class of the session was called after the time of the break, or the next one
// is set and the break is over by then.
func (p *programme) behind(classes []*domain.Class, asOf time.Time) {
	for _, s := range p.sessions {
		for _, b := range s.Breaks {
			over := func(c *domain.Class) bool {
				set := !begun(c) && c.Current() != nil && c.Current().Open() != nil && !asOf.Before(b.From.Add(b.Length()))
				return c.Session == s.ID && (set || pulled(c).Start.After(b.From))
			}
			if slices.ContainsFunc(classes, over) {
				p.taken[s.ID]++
			}
		}
	}
}

// add adds the items of a class, after a change from the one before where there is one to make.
func (p *programme) add(i int, items []forecast.Item, change bool) {
	if len(items) == 0 {
		return
	}
	if change {
		p.items = append(p.items, forecast.Item{Pause: Change, PauseGive: changeGive})
	}
	p.first[i] = len(p.items)
	p.items = append(p.items, items...)
	p.last[i] = len(p.items) - 1
}

// hooks are so many hooks, the first after a pause.
func hooks(kind, n int, pause, give time.Duration) []forecast.Item {
	items := make([]forecast.Item, n)
	for i := range items {
		items[i] = forecast.Item{Kind: kind, Hooks: 1}
	}
	if n > 0 {
		items[0].Pause, items[0].PauseGive = pause, give
	}
	return items
}

// whole is a class as it was to come before its first hook; see [programme.left].
func (p *programme) whole(c *domain.Class, kind int) (items []forecast.Item, expected float64) {
	n := entered(c)
	items = hooks(kind, n, 0, 0)
	for range max(c.Rules.Rounds-1, 0) {
		items = append(items, hooks(kind, n, Set, setGive)...)
	}
	unseen := domain.Class{Rules: c.Rules, Entries: c.Entries}
	first, further := finalsOf(&unseen, n*max(c.Rules.Rounds, 1))
	return withPullOffs(items, kind, first, further)
}

// left is what is still to come of a class, and how many hooks of it are expected in pull-offs that are not open yet.
func (p *programme) left(c *domain.Class, kind int) (items []forecast.Item, expected float64) {
	r := c.Current()
	if r == nil || !begun(c) {
		return p.whole(c, kind)
	}
	n := len(r.Waiting())
	if c.OnTrack() != nil {
		n++
	}
	pause, give := time.Duration(0), time.Duration(0)
	if len(r.Hooks) == 0 && r.Open() == nil {
		pause, give = Set, setGive
	}
	items = hooks(kind, n, pause, give)
	if once, later := chosen(c); once {
		items = append([]forecast.Item{{Kind: kind, Hooks: perhaps, Give: perhaps}}, items...)
	} else if later {
		items = append(items, forecast.Item{Kind: kind, Hooks: perhaps, Give: perhaps})
	}
	due, in := c.RoundDue()
	switch {
	case due.PullOff:
		return withPullOffs(append(items, hooks(kind, len(in), Set, setGive)...), kind, again(c, 0, len(in)))
	case r.Name.PullOff:
		full, _ := results(r)
		return withPullOffs(items, kind, again(c, full, n))
	}
	rounds := 0
	for range c.Rules.Rounds - r.Name.Number {
		items = append(items, hooks(kind, entered(c), Set, setGive)...)
		rounds += entered(c)
	}
	first, further := finalsOf(c, n+rounds)
	return withPullOffs(items, kind, first, further)
}

// perhaps is how many hooks are expected of somebody who may hook again, and their standard deviation: as likely as not, with
// no published source.
const perhaps = 0.5

// chosen reports whether somebody chooses who may hook again at once, or may only later in the round.
func chosen(c *domain.Class) (once, later bool) {
	choice := c.Pending()
	if choice == nil {
		return false, false
	}
	once = slices.Contains(choice.Options, domain.AtOnce)
	return once, !once
}

// withPullOffs adds pull-offs that are expected, without those that cannot come, and tells how many hooks they are.
func withPullOffs(items []forecast.Item, kind int, finals ...final) (all []forecast.Item, expected float64) {
	for _, f := range finals {
		if item, comes := f.item(kind); comes {
			items, expected = append(items, item), expected+f.hooks
		}
	}
	return items, expected
}

// expect sets the windows of everything that is to come, and what becomes of the curfews.
func (p *programme) expect(classes []*domain.Class, told *Track) {
	learned := forecast.New(p.prior)
	p.begin(len(classes))
	p.behind(classes, told.AsOf)
	var now forecast.Now
	if told.Begun {
		p.items = append(p.items, forecast.Item{}) // what was pulled lies before all that comes
	}
	for i, c := range classes {
		for _, cycle := range Seen(c) {
			learned.Saw(i, cycle)
		}
		if told.Classes[i].State == Done || told.Classes[i].State == Empty {
			continue
		}
		if on := c.OnTrack(); on != nil && now.Since == 0 {
			now.Since = told.AsOf.Sub(on.Called)
		}
		items, expected := p.left(c, i)
		told.Classes[i].PullOff = expected
		if begun(c) || len(items) == 0 {
			p.add(i, items, false)
			continue
		}
		// The change is made where the setting is frozen and nothing else comes before.
		frozen := c.Current() != nil && c.Current().Open() != nil && len(p.items) == 1
		p.pause(learned, now, c, told.AsOf)
		items[0].NotBefore = max(p.soonest(c).Sub(told.AsOf), 0)
		p.add(i, items, len(p.items) > 0 && !frozen)
	}
	plan := learned.Plan(now, p.items)
	for i := range classes {
		class := &told.Classes[i]
		if p.first[i] < 0 {
			continue
		}
		if class.State == ToCome {
			class.Starts = window(told.AsOf, plan.Windows[p.first[i]].Start).from(p.soonest(classes[i]))
		}
		class.Ends = window(told.AsOf, plan.Windows[p.last[i]].End)
		class.round(classes[i], told.AsOf, plan.Windows[p.first[i]:p.last[i]+1], p.soonest(classes[i]))
	}
	for _, s := range p.sessions {
		if !s.Curfew.IsZero() {
			told.curfew(s, plan, p.last)
		}
	}
}

// round sets the windows of the round at hand, from those of all that is still to come of the class.
func (c *Class) round(class *domain.Class, asOf time.Time, windows []forecast.Window, soonest time.Time) {
	r := class.Current()
	if r == nil {
		return // the order is not drawn
	}
	once, later := chosen(class)
	ahead, behind := 0, 0
	if class.OnTrack() != nil || once {
		ahead = 1
	}
	if later {
		behind = 1
	}
	waiting := r.Waiting()
	for i, entry := range waiting {
		call := window(asOf, windows[ahead+i].Start)
		if c.State == ToCome {
			call = call.from(soonest)
		} else if call.Late.Equal(asOf) {
			continue // as soon as the track is ready or the choice is made, of which nothing is known
		}
		c.Calls = append(c.Calls, Call{entry, call})
	}
	if last := ahead + len(waiting) + behind - 1; last >= 0 {
		c.RoundEnds = window(asOf, windows[last].End)
	}
}

// window is a span as times.
func window(from time.Time, s forecast.Span) Window {
	return Window{from.Add(s.Early), from.Add(s.Middle), from.Add(s.Late)}
}

// from moves a window to a start that nothing comes before: what is fitted may be a minute ahead of it.
func (w Window) from(start time.Time) Window {
	later := func(t time.Time) time.Time {
		if t.Before(start) {
			return start
		}
		return t
	}
	return Window{later(w.Early), later(w.Middle), later(w.Late)}
}

// curfew adds what becomes of the curfew of a session that has a class to come.
func (t *Track) curfew(s domain.Session, plan forecast.Plan, last []int) {
	limit := s.Curfew.Sub(t.AsOf)
	c, found := Curfew{Session: s.ID, At: s.Curfew, Cut: -1}, false
	first := plan.Cut(limit)
	for i, class := range t.Classes {
		if class.Session != s.ID || last[i] < 0 {
			continue
		}
		past := min(max(plan.Past(last[i], limit), 0), 1)
		c.Past, found = max(c.Past, past), true
		if c.Cut < 0 && first >= 0 && last[i] >= first && past > 0.5 {
			c.Cut, c.CutPast = i, past
		}
	}
	if found {
		t.Curfews = append(t.Curfews, c)
	}
}
