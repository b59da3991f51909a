package webui

import (
	"clayline/domain"
	"clayline/webui/templates"
)

// strip lays the track out with every stop on it, a lane for each kind of round that has one; nil before the
// draw. Without a cap there is no line to draw, and its length is only how much of the track to show.
func strip(c *domain.Class) *templates.Strip {
	if c.Current() == nil {
		return nil
	}
	s := &templates.Strip{
		ID: "strip", Name: c.Name, Unit: c.Rules.Unit().String(), Line: int(c.Rules.Line.Milli()),
		Restart: int(c.Rules.RestartLine.Milli()),
	}
	// A floating set has a line in its rules, as the length of the track, and none on it.
	if !c.Rules.Capped {
		s.Line, s.Max = 0, int(c.Rules.Line.Milli())
	}
	for i := range c.Rounds {
		r := &c.Rounds[i]
		if i == 0 || len(r.Hooks) > 0 {
			s.Lanes = append(s.Lanes, lane(c, r))
		}
	}
	return s
}

// lane lays one round out. Hooks that do not count have no stop. The leader's flag flies only where no full
// pull leads.
func lane(c *domain.Class, r *domain.Round) templates.Lane {
	l := templates.Lane{Name: roundTitle(r.Name)}
	best, full := bestOf(c, r)
	for i := range r.Hooks {
		h := &r.Hooks[i]
		if !h.Result.Reached() {
			continue
		}
		stop := templates.Stop{Label: c.Entry(h.Entry).Number, Text: h.Result.Distance.Figures(), At: position(c, h.Result.Distance)}
		switch {
		case c.Rules.EndsAtLine(r.Name) && h.Result.Outcome == domain.FullPull:
			stop.Kind = templates.StopFull
		case h == best && full == 0:
			stop.Kind = templates.StopLeads
		}
		l.Stops = append(l.Stops, stop)
	}
	return l
}

// position is a distance in thousandths of the class's unit, for drawing: inches are put on a track of feet.
func position(c *domain.Class, d domain.Distance) int {
	return int(d.In(c.Rules.Unit(), 3).Milli())
}
