//go:build !js

package webui

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/day"
	"clayline/domain/desk"
	"clayline/domain/doc"
	"clayline/webui/templates"
)

// class shows the public page of a class, from open entries to the result. It is rendered for all readers at
// once, and must show nothing that depends on who reads.
func (s *Site) class(c echo.Context) error {
	return s.public(c, func(ctx context.Context) (templates.Page, error) {
		run, page, err := s.classOfDay(ctx, ref(c))
		if err != nil {
			return nil, err
		}
		// What the class waits for is asked of the class, and every figure of the class as it is told.
		class, told := &page.Class, page.Class.Told()
		view := templates.Class{
			Frame: s.classView(c, page), Hooking: hooking(&told), Name: class.Name, Sentence: stateSentence(class),
			Messages: append(course(page.Event, class), messages(class)...), Winner: winner(class), Strip: strip(&told),
			Rounds: rounds(page.Event, &told), Standing: standing(page.Event, &told), Points: pointsOf(page.Event, class), Draw: drawFile(page.Event, class),
			Facts: facts(class), Rules: doc.DescribeRuleSet(class.Rules),
			Protests: protests(page.Event, class), Revisions: revisions(page.Event, class),
			Find:  eventHref(page.Event) + "/pits",
			Scale: scaleState(class),
			Links: []templates.Link{
				{Text: "Class sheet to print", Href: classHref(page.Event, *class) + "/sheet"},
				{Text: "Result to print", Href: classHref(page.Event, *class) + "/result"},
				{Text: "Result as CSV", Href: classHref(page.Event, *class) + "/result.csv"},
				{Text: "Result as JSON", Href: classHref(page.Event, *class) + "/result.json"},
			},
		}
		outlook := outlookOf(page.Event, run, class)
		view.Left, view.AsOf = outlook.left(), outlook.asOf(page.Journal)
		outlook.foretold(class, view.Rounds)
		// The stream tells a browser that there is something new; without JavaScript, the link "look again"
		// does.
		view.Stream = classStream(page.Event, class)
		view.Data = doc.ClassPreview(page.Event, class, eventHref(page.Event), classHref(page.Event, *class))
		if class.Current() == nil {
			view.Entries = entered(class)
		}
		return view, nil
	})
}

// classOfDay is how the day of an event runs, and what the public pages of one of its classes show of it.
func (s *Site) classOfDay(ctx context.Context, ref desk.Ref) (day.Day, desk.ClassPage, error) {
	whole, err := s.desk.Live().Day(ctx, ref.Event)
	if err != nil {
		return day.Day{}, desk.ClassPage{}, err
	}
	page, err := whole.Class(ref.Class)
	return whole.Day, page, err
}

// entered lists who is entered and was not scratched, in the order of entry.
func entered(c *domain.Class) []templates.Puller {
	list := make([]templates.Puller, 0, len(c.Entries))
	for _, e := range c.Entries {
		if e.Scratched == "" {
			list = append(list, puller(e))
		}
	}
	return list
}

// rounds shows every round, the current one first: what happens now is at the top, and how it came to that
// below.
func rounds(e domain.Event, c *domain.Class) []templates.Round {
	var list []templates.Round
	for i := range slices.Backward(c.Rounds) {
		r := &c.Rounds[i]
		list = append(list, templates.Round{
			ID: "round-" + strings.ToLower(r.Name.String()), Name: roundTitle(r.Name), State: roundState(e, c, r),
			Order: order(c, r), Settings: settings(e, c, r), Mixed: mixed(r),
		})
	}
	return list
}

// roundState says how far a round is: not begun, at which hook, or when it was done.
func roundState(e domain.Event, c *domain.Class, r *domain.Round) string {
	switch {
	case r == c.Current() && (c.Phase() == domain.Hooking || c.Phase() == domain.ChoiceOpen):
		return turnOf(c)
	case len(r.Hooks) == 0:
		return "not begun"
	case len(r.Waiting()) == 0:
		return "done " + clock(e, r.Hooks[len(r.Hooks)-1].Ended)
	default:
		return turnOf(c)
	}
}

// order shows the line-up of a round with what came of each hook. An entry that is out stays at its place, with
// the reason. While somebody chooses, nobody is next: the choice may move the line-up.
func order(c *domain.Class, r *domain.Round) []templates.OrderRow {
	rows := make([]templates.OrderRow, len(r.Lineup))
	waiting := r.Waiting()
	for i, slot := range r.Lineup {
		hook := r.HookOf(slot.Entry)
		row := templates.OrderRow{Puller: puller(c.Entry(slot.Entry)), Position: fmt.Sprint(i + 1)}
		place := slices.Index(waiting, slot.Entry)
		switch {
		case slot.Out:
			row.Outcome = templates.Outcome{Text: "out", Kind: templates.Absent}
		case hook != nil && hook.Result.IsZero():
			row.Now, row.Outcome = true, templates.Outcome{Text: "on the track", Kind: templates.Waiting}
			if chooses(c) {
				row.Text = "chooses"
			}
		case hook != nil && hook.Result.Counts():
			row.Outcome = outcome(hook.Result)
		// Who is next must be sure of it: nothing but the hook on the track stands before them.
		case c.Phase() == domain.Hooking && !chooses(c) && place == 0:
			row.Outcome = templates.Outcome{Text: "next", Kind: templates.Waiting}
		case c.Phase() == domain.Hooking && !chooses(c) && place == 1:
			row.Outcome = templates.Outcome{Text: "after next", Kind: templates.Waiting}
		default:
			row.Outcome = templates.Outcome{Kind: templates.Waiting}
		}
		row.Remarks = remarks(r, slot)
		rows[i] = row
	}
	return rows
}

// remarks say what a reader should know about an entry's hooks in a round, in the order in which it happened,
// each said once: hooks that did not count and why, choices, corrections, and last why the entry stands where
// it does. A puller who was re-hooked, stopped short and was corrected has
//
//	re-hooked: sled, light went red by itself
//	second attempt
//	corrected: misread
func remarks(r *domain.Round, slot domain.Slot) []string {
	var list []string
	add := func(s string) {
		if s != "" && !slices.Contains(list, s) {
			list = append(list, s)
		}
	}
	for _, h := range r.Hooks {
		if h.Entry != slot.Entry {
			continue
		}
		switch {
		case h.Result.Outcome == domain.Rehooked:
			add("re-hooked: " + h.Result.Reason)
		case h.Result.Outcome == domain.Void && h.Choice == domain.AtOnce && h.Result.Distance.IsZero():
			// the second attempt says it
		// A dropped call is told by the note of the place that the entry dropped to.
		case h.Result.Outcome == domain.Void && (h.Choice != 0 || slot.Note == ""):
			add(voidWords(h))
		case h.Result.Outcome == domain.Disqualified || h.Result.Outcome == domain.Absent || h.Result.Outcome == domain.Measured:
			add(h.Result.Reason)
			add(placeOf(h.Result))
		case h.Result.Outcome == domain.FullPull && !h.Result.Distance.IsZero():
			add("measured " + h.Result.Distance.String())
		}
		if !h.Difference.IsZero() {
			add(sledNoted)
		}
		add(h.Speeds.String())
		if h.Test && h.Choice == domain.Keep {
			add("kept as test hook")
		}
		if h.Attempt > 1 {
			add("second attempt")
		}
		if h.Corrected != "" {
			add("corrected: " + h.Corrected)
		}
	}
	add(slot.Note)
	return list
}

// placeOf says where a disqualification happened, where that was measured: it counts for nothing, and is on record.
func placeOf(r domain.Result) string {
	if r.Outcome != domain.Disqualified || r.Distance.IsZero() {
		return ""
	}
	return "at " + r.Distance.String()
}
