//go:build !js

package webui

import (
	"clayline/domain"
	"clayline/domain/day"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// outlook is when a class is likely pulled, as the day of its event runs: what comes before it on its track counts too. It is
// made of the journal's times alone, so that a page stays as it is until something is stored. That without a class says nothing.
type outlook struct {
	event domain.Event
	track day.Track
	class day.Class
}

// outlookOf finds what the day says of a class; of one that is over or stopped, or that nobody is entered in, it says nothing.
func outlookOf(e domain.Event, d day.Day, c *domain.Class) outlook {
	track, class, found := d.Of(c.ID)
	if !found || class.Ends.IsZero() {
		return outlook{event: e}
	}
	return outlook{e, track, class}
}

// call says when an entry is likely called in the round at hand: "19:05–19:12"; "" for one of which nothing is known.
func (o outlook) call(entry domain.Entry) string {
	for _, call := range o.class.Calls {
		if call.Entry == entry.ID {
			return o.words(call.Window)
		}
	}
	return ""
}

// words writes a window, in minutes once the class is pulled, and widened to five minutes before: so far ahead a minute says
// nothing, and a page that changes by less is not worth telling anybody of.
func (o outlook) words(w day.Window) string {
	if o.class.State == day.ToCome && !atOnce(w) {
		w = w.Widened()
	}
	return windowWords(o.event, w)
}

// begins says when a class that has not begun likely does: "Likely begins about 19:35–20:05"; "" for others.
func (o outlook) begins() string {
	if o.class.Starts.IsZero() {
		return ""
	}
	return "Likely begins about " + o.words(o.class.Starts)
}

// left says when the class likely begins and the round is likely over, with the caution that goes with every such time;
// none where nothing is known.
func (o outlook) left() (sentences []string) {
	if begins := o.begins(); begins != "" {
		sentences = append(sentences, begins+".")
	}
	if !o.class.RoundEnds.IsZero() {
		sentences = append(sentences, "This round is likely over about "+o.words(o.class.RoundEnds)+".")
	}
	switch {
	case len(sentences) == 0:
		return nil
	case !o.track.Begun:
		return append(sentences, "Times are estimates from the programme; the call in the pits counts.")
	default:
		return append(sentences, "Times are estimates as of "+clock(o.event, o.track.AsOf)+"; the call in the pits counts.")
	}
}

// asOf is what a page with the outlook is as of: the last change of its class, or what moved its times where that is later.
// Lines are those about the class.
func (o outlook) asOf(lines []desk.Line) string {
	at := lastChange(lines).At
	if o.track.Begun && o.track.AsOf.After(at) && len(o.left()) > 0 {
		at = o.track.AsOf
	}
	return at.In(o.event.Location()).Format(secondsFormat)
}

// foretold writes into the round at hand, which comes first, when each entry that waits is likely called. A word that
// stands there already, such as next, stays and has the time beside it.
func (o outlook) foretold(c *domain.Class, rounds []templates.Round) {
	if len(o.class.Calls) == 0 {
		return
	}
	for i, slot := range c.Current().Lineup {
		row, words := &rounds[0].Order[i], o.call(c.Entry(slot.Entry))
		switch {
		case words == "":
		case row.Text == "":
			row.Text = words
		default:
			row.Remarks = append([]string{words}, row.Remarks...)
		}
	}
}
