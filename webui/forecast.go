//go:build !js

package webui

import (
	"fmt"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/day"
	"clayline/domain/forecast"
	"clayline/webui/templates"
)

// outlook is when the hooks still to come in a round are likely called: by entry, and for the end of the round. It
// is made of the journal's times alone, so that a page stays as it is until something is stored.
type outlook struct {
	calls map[uuid.UUID]forecast.Span
	end   forecast.Span
	from  time.Time // what the spans count from
}

// outlookOf forecasts the current round while it is being pulled; before the first call, when nobody is left, and while the class is
// stopped, it is empty. Cycles are told from call to call, which on the whole is from green to green.
func outlookOf(c *domain.Class) outlook {
	r := c.Current()
	if r == nil || c.Stopped != (domain.Stopped{}) || len(r.Hooks) == 0 || len(r.Waiting()) == 0 && c.OnTrack() == nil {
		return outlook{}
	}
	learned := forecast.New(forecast.Usual())
	for _, cycle := range day.Seen(c) {
		learned.Saw(0, cycle)
	}
	last := r.Hooks[len(r.Hooks)-1]
	o := outlook{calls: make(map[uuid.UUID]forecast.Span), from: last.Ended}
	var items []forecast.Item
	if c.OnTrack() != nil {
		o.from = last.Called
		items = append(items, forecast.Item{Hooks: 1})
	}
	waiting := r.Waiting()
	for range waiting {
		items = append(items, forecast.Item{Hooks: 1})
	}
	windows := learned.Plan(forecast.Now{}, items).Windows
	for i, entry := range waiting {
		o.calls[entry] = windows[len(windows)-len(waiting)+i].Start
	}
	o.end = windows[len(windows)-1].End
	return o
}

// call says when an entry is likely called: "19:05–19:12"; "" for one of which nothing is known.
func (o outlook) call(e domain.Event, entry uuid.UUID) string {
	span, ok := o.calls[entry]
	if !ok || span.Late == 0 {
		return ""
	}
	return o.between(e, span)
}

// left says when the round is likely over, with the caution that goes with every such time; "" where nothing is known.
func (o outlook) left(e domain.Event) string {
	if o.from.IsZero() {
		return ""
	}
	return fmt.Sprintf("This round is likely over about %s. Times are estimates as of %s; the call in the pits counts.", o.between(e, o.end), clock(e, o.from))
}

// between writes a span in minutes, the early end rounded down and the late one up.
func (o outlook) between(e domain.Event, span forecast.Span) string {
	early, late := o.from.Add(span.Early).Truncate(time.Minute), o.from.Add(span.Late+time.Minute-1).Truncate(time.Minute)
	return clock(e, early) + "–" + clock(e, late)
}

// foretold writes into the current round, which comes first, when each entry that waits is likely called. A word that
// stands there already, such as next, stays and has the time beside it.
func (o outlook) foretold(e domain.Event, c *domain.Class, rounds []templates.Round) {
	if len(o.calls) == 0 {
		return
	}
	for i, slot := range c.Current().Lineup {
		row, words := &rounds[0].Order[i], o.call(e, slot.Entry)
		switch {
		case words == "":
		case row.Text == "":
			row.Text = words
		default:
			row.Remarks = append([]string{words}, row.Remarks...)
		}
	}
}
