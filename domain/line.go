package domain

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// MoveLine sets the full-pull line of a class to one of the choices that the rules leave to the officials ("if deemed
// necessary, after the first official hook, at 300 or 320 ft": NSTT 8).
type MoveLine struct {
	Line   Distance
	Reason string
}

// decide takes the line while no more hooks of the first round have counted than the rules allow. Results that stand
// are read again against the new line: 312.44 ft, a full pull at 300 ft, is a distance at 320 ft. A full pull without a
// figure cannot be, so that its figure is asked for first.
func (a MoveLine) decide(c *Class, _ time.Time) error {
	if _, err := required("reason", "the reason", a.Reason); err != nil {
		return err
	}
	r, choices := c.current(), append([]Distance{c.Rules.Line}, c.Rules.Moving.Choices...)
	switch {
	case len(choices) == 1:
		return wrongState("under these rules the line does not move", "leave it where it is")
	case r == nil || r.Name != RoundName{Number: 1}:
		return wrongState("the line is set in the first round", "leave it where it is")
	case !slices.ContainsFunc(choices, func(d Distance) bool { return d.Compare(a.Line) == 0 }):
		return invalid("line", a.Line.String()+" is not among the lines of these rules", "choose "+strings.Join(figures(choices), " or "))
	case a.Line.Compare(c.Rules.Line) == 0:
		return wrongState("the line is there already", "nothing is left to do")
	case len(c.LinesToMoveTo()) == 0:
		return wrongState(fmt.Sprintf("more hooks have been made than the %d after which the line is set", c.Rules.Moving.After), "leave it where it is")
	}
	c.moveLine(a.Line)
	return c.settleAgain(r)
}

// LinesToMoveTo returns where the full-pull line may be moved to now; nothing where it stays. A result that cannot be
// read against another line may still refuse the move.
func (c *Class) LinesToMoveTo() []Distance {
	r := c.current()
	if r == nil || r.Name != (RoundName{Number: 1}) || count(r.Hooks, func(h Hook) bool { return h.Result.Counts() }) > c.Rules.Moving.After {
		return nil
	}
	return c.Rules.Moving.Choices
}

// moveLine moves the line and keeps where it lay at the planning, unless it is moved back there.
func (c *Class) moveLine(line Distance) {
	if c.LineWas.IsZero() {
		c.LineWas = c.Rules.Line
	}
	if c.Rules = c.Rules.Moved(line); c.LineWas.Compare(line) == 0 {
		c.LineWas = Distance{}
	}
}

// Moved returns the rules with the line at another of their choices. The line that was stays a choice, so that a slip
// can be put right.
func (r RuleSet) Moved(line Distance) RuleSet {
	choices := append([]Distance{r.Line}, r.Moving.Choices...)
	choices = slices.DeleteFunc(choices, func(d Distance) bool { return d.Compare(line) == 0 })
	slices.SortFunc(choices, Distance.Compare)
	r.Moving.Choices, r.Line = choices, line
	return r
}

// settleAgain reads the results of a round again against rules that changed.
func (c *Class) settleAgain(r *Round) error {
	for i := range r.Hooks {
		h := &r.Hooks[i]
		if !h.Result.Reached() {
			continue
		}
		if h.Result.Distance.IsZero() {
			return wrongState("the full pull of number "+c.numberOf(h.Entry)+" has no figure to read against another line", "correct it to FP with its figure first")
		}
		again, err := c.Rules.Settle(r.Name, Result{Outcome: Measured, Distance: h.Result.Distance, Reason: h.Result.Reason})
		if err != nil {
			return err
		}
		h.Result = again
	}
	return nil
}

// figures writes distances with their units.
func figures(list []Distance) []string {
	written := make([]string, len(list))
	for i, d := range list {
		written[i] = d.String()
	}
	return written
}
