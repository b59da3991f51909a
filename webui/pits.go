//go:build !js

package webui

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/day"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// maxFound bounds how many entries the answer to a question shows: more than that, and the question says too little.
const maxFound = 30

// maxAsked bounds a question, in bytes. No number or name is longer than what is left of it.
const maxAsked = 200

// pits shows every entry of an event with its hook. The whole page is one for all readers, from the shelf. With a
// question in the address it shows what was found, made of the same rows without asking the database; an answer is
// on no shelf, so that inventing questions fills nothing.
func (s *Site) pits(c echo.Context) error {
	build := func(ctx context.Context) (templates.Pits, error) {
		page, err := s.desk.Live().Day(ctx, c.Param("event"))
		if err != nil {
			return templates.Pits{}, err
		}
		view := templates.Pits{
			Frame: s.publicFrame(c, page.Event, page.Journal), Action: eventHref(page.Event) + "/pits", Classes: pitsClasses(page.Event, page.Classes, page.Day),
		}
		view.Stream, view.Scripts = "/api/v1/events/"+page.Event.Slug+"/stream", []string{"pits.js"}
		return view, nil
	}
	asked := question(c.QueryParam("q"))
	if asked == "" {
		return s.public(c, func(ctx context.Context) (templates.Page, error) { return build(ctx) })
	}
	view, err := s.pitsRows(c, build)
	if err != nil {
		return err
	}
	// A question is no page for a search engine.
	c.Response().Header().Set("X-Robots-Tag", "noindex")
	sayAddress(c)
	return show(c, http.StatusOK, answered(view, asked))
}

// pitsRows returns the rows of the page from the shelf, where they lie beside the page that is drawn of them. Their
// key is no path, so that no address leads to them.
func (s *Site) pitsRows(c echo.Context, build func(context.Context) (templates.Pits, error)) (view templates.Pits, err error) {
	key := "rows of " + keyOf(c)
	page, err := s.desk.Live().Page(c.Request().Context(), c.Param("event"), key, func(ctx context.Context) (desk.Rendered, error) {
		view, err := build(ctx)
		if err != nil {
			return desk.Rendered{}, err
		}
		body, err := json.Marshal(view)
		return desk.Rendered{Type: "application/json", Body: body}, err
	})
	if err != nil {
		return view, err
	}
	answer, err := page.Answer("", "")
	if err != nil {
		return view, err
	}
	err = json.Unmarshal(answer.Body, &view)
	return view, err
}

// question is what was typed, as far as it is text and not too long; "" asks nothing.
func question(typed string) string {
	typed = strings.TrimSpace(typed)
	return strings.TrimSpace(strings.ToValidUTF8(typed[:min(len(typed), maxAsked)], ""))
}

// answered leaves of the page the entries that were asked for: those whose number begins with what was typed, and
// those with it in the name of the puller or the vehicle, capitals or not. What was asked is not empty. The typing stays in the field.
func answered(view templates.Pits, asked string) templates.Pits {
	wanted := strings.ToLower(asked)
	found := 0
	var classes []templates.PitsClass
	for _, class := range view.Classes {
		var rows []templates.PitsRow
		for _, row := range class.Rows {
			if !matches(row.Puller, wanted) {
				continue
			}
			if found++; found <= maxFound {
				rows = append(rows, row)
			}
		}
		if class.Rows = rows; len(rows) > 0 {
			classes = append(classes, class)
		}
	}
	view.Asked, view.Query, view.Classes, view.Found = true, asked, classes, foundWords(found)
	return view
}

// matches reports whether an entry is one that was asked for, in small letters. A question that begins with a figure is
// for a number alone: many vehicles have figures in their names.
func matches(p templates.Puller, wanted string) bool {
	if wanted[0] >= '0' && wanted[0] <= '9' {
		return strings.HasPrefix(strings.ToLower(p.Number), wanted)
	}
	return strings.HasPrefix(strings.ToLower(p.Number), wanted) || strings.Contains(strings.ToLower(p.Name+" "+p.Vehicle), wanted)
}

// foundWords says how many entries were found, and what to do where that is none or too many.
func foundWords(n int) string {
	switch {
	case n == 0:
		return "Nobody found. Type the number on the vehicle, or a part of a name."
	case n == 1:
		return "1 entry found."
	case n > maxFound:
		return fmt.Sprintf("%d entries found, the first %d are here. Type more of the number or name.", n, maxFound)
	default:
		return fmt.Sprintf("%d entries found.", n)
	}
}

// pitsClasses lists the classes that have entries, in programme order. The first entry with a number has the anchor
// n and the number, so that /pits#n7 leads to 7; where the number comes again, the anchor counts on.
func pitsClasses(e domain.Event, classes []domain.Class, run day.Day) []templates.PitsClass {
	var list []templates.PitsClass
	taken := map[string]int{}
	for i := range classes {
		class := &classes[i]
		told, outlook := class.Told(), outlookOf(e, run, class)
		view := templates.PitsClass{
			ID: "class-" + class.Slug, Name: class.Name, Href: classHref(e, *class), Where: where(e, *class), State: lineState(e, class),
			Likely: outlook.begins(), Bring: bring(class), Rows: pitsRows(outlook, class, &told),
		}
		for j := range view.Rows {
			id := "n" + domain.Slug(view.Rows[j].Number)
			if taken[id]++; taken[id] > 1 {
				id += fmt.Sprintf("--%d", taken[id]) // no slug has two hyphens in a row
			}
			view.Rows[j].ID = id
			view.Rows[j].Href = entryHref(e, *class, view.Rows[j].Number)
		}
		if len(view.Rows) > 0 {
			list = append(list, view)
		}
	}
	return list
}

// bring is what the rules of a class ask for before its pull-off, while there may be one.
func bring(c *domain.Class) []string {
	if c.Phase() == domain.Decided {
		return nil
	}
	list := beforePullOff(c.Rules)
	if len(list) > 0 {
		list[0] = "Before a pull-off: " + strings.ToLower(list[0][:1]) + list[0][1:]
	}
	return list
}

// pitsRows shows the entries of a class, those of the current round in their order and then the others as they were
// entered. What is foretold is asked of the day, and every figure of the class as it is told.
func pitsRows(o outlook, c, told *domain.Class) []templates.PitsRow {
	var rows []templates.PitsRow
	r := told.Current()
	if r == nil {
		for _, p := range entered(told) {
			rows = append(rows, templates.PitsRow{Puller: p, Outcome: templates.Outcome{Text: "not drawn yet", Kind: templates.Waiting}})
		}
		return rows
	}
	round := []templates.Round{{Order: order(told, r)}}
	o.foretold(c, round)
	stand := told.Standing()
	for i, slot := range r.Lineup {
		rows = append(rows, pitsRow(told, stand, told.Entry(slot.Entry), &round[0].Order[i]))
	}
	for _, entry := range told.Entries {
		if !slices.ContainsFunc(r.Lineup, func(s domain.Slot) bool { return s.Entry == entry.ID }) {
			rows = append(rows, pitsRow(told, stand, entry, nil))
		}
	}
	return rows
}

// pitsRow shows an entry of a class that is drawn: its row of the current round, or nil where it is not in that, and
// what it stands with.
func pitsRow(c *domain.Class, stand []domain.Placing, e domain.Entry, now *templates.OrderRow) templates.PitsRow {
	row := templates.PitsRow{Puller: puller(e), PullOff: inPullOff(c, e)}
	stands, place := standsWith(c, stand, e)
	switch {
	case now == nil:
		row.Outcome, row.So = stands, place
	case now.Kind == templates.Waiting:
		row.Outcome, row.Hook = now.Outcome, hookWords(c, e)
		if stands.Text != "" {
			row.So = strings.TrimSuffix("so far "+stands.Text+", "+place, ", ")
		}
	default:
		row.Outcome, row.So = now.Outcome, place
	}
	// Said beside the place in the order, and not twice.
	row.Remarks = slices.DeleteFunc(slices.Clone(row.Remarks), func(s string) bool { return s == row.PullOff })
	return row
}

// standsWith returns what an entry stands with, and its place in words: "place 3", "place 1, shared", "" for none.
func standsWith(c *domain.Class, stand []domain.Placing, e domain.Entry) (o templates.Outcome, place string) {
	i := slices.IndexFunc(stand, func(p domain.Placing) bool { return c.Entries[p.Row].ID == e.ID })
	if i < 0 {
		return o, ""
	}
	if p := stand[i]; p.Place > 0 {
		place = fmt.Sprintf("place %d", p.Place)
		if p.Shared {
			place += ", shared"
		}
	}
	return standingOutcome(c, e, stand[i]), place
}

// hookWords say where in the current round an entry is that waits, and how many hooks are ahead of it, that on the
// track among them: "puller 9 of 14 · 3 hooks ahead". While somebody chooses nothing is counted: the choice may move the
// line-up.
func hookWords(c *domain.Class, e domain.Entry) string {
	r := c.Current()
	at := slices.IndexFunc(r.Lineup, func(s domain.Slot) bool { return s.Entry == e.ID })
	words := fmt.Sprintf("%s, puller %d of %d", roundTitle(r.Name), pullersOf(r, at+1), pullersOf(r, len(r.Lineup)))
	ahead, waits := c.HooksAhead(e.ID)
	switch {
	case !waits:
		return words
	case ahead == 0:
		return words + " · nobody ahead"
	case ahead == 1:
		return words + " · 1 hook ahead"
	default:
		return fmt.Sprintf("%s · %d hooks ahead", words, ahead)
	}
}

// inPullOff says whether an entry is in the pull-off, as soon as that is certain; "" before, and where there is none.
// Whoever became a full puller by a correction too late is for the officials.
func inPullOff(c *domain.Class, e domain.Entry) string {
	if c.Stopped != (domain.Stopped{}) || c.Phase() == domain.Decided {
		return ""
	}
	name, in := c.RoundDue()
	r := c.Current()
	switch {
	case slices.Contains(c.Missed(), e.ID):
		return "the officials decide about the pull-off"
	case name.PullOff:
	case r.Name.PullOff:
		for _, s := range r.Lineup {
			if !s.Out {
				in = append(in, s.Entry)
			}
		}
	default:
		return ""
	}
	if slices.Contains(in, e.ID) {
		return "in the pull-off"
	}
	return "not in the pull-off"
}
