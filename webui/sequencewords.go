//go:build !js

package webui

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"clayline/domain/sequence"
	"clayline/webui/templates"
)

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
func minutes(d time.Duration) string { return inMinutes(d) + " min" }

// inMinutes writes minutes without their unit, to a tenth.
func inMinutes(d time.Duration) string {
	return strconv.FormatFloat(d.Round(6*time.Second).Minutes(), 'f', -1, 64)
}

// signed writes minutes with their sign.
func signed(d time.Duration) string {
	if d > 0 {
		return "+" + inMinutes(d)
	}
	return "−" + inMinutes(-d)
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
	return templates.SequenceSum{Name: name, Box: inMinutes(c.Box), Track: inMinutes(c.Track), Wait: inMinutes(c.Wait), Late: inMinutes(c.Late), Beyond: inMinutes(c.Overrun), Total: inMinutes(c.Total)}
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
