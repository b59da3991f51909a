//go:build !js

package webui

import (
	"context"
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/day"
	"clayline/domain/desk"
	"clayline/domain/doc"
	"clayline/webui/language"
	"clayline/webui/templates"
)

// entryHref is the permanent address of an entry: its number in small letters, because 7b and 7B are one.
func entryHref(e domain.Event, c domain.Class, number string) string {
	return classHref(e, c) + "/entry/" + url.PathEscape(strings.ToLower(number))
}

// pullerHref is the address of everybody who is written so; "" for an entry without a name.
func pullerHref(d domain.Details) string {
	if d.Puller == "" {
		return ""
	}
	return pathOf("/p/", d.Puller, d.Home)
}

// vehicleHref is the address of every vehicle that is written so; "" for an entry whose vehicle has no name.
func vehicleHref(d domain.Details) string {
	if d.Vehicle == "" {
		return ""
	}
	return pathOf("/v/", d.Vehicle, d.Home)
}

// pathOf is an address of a name, and of a home where there is one.
func pathOf(before, name, home string) string {
	href := before + url.PathEscape(name)
	if home != "" {
		href += "/" + url.PathEscape(home)
	}
	return href
}

// entry shows one entry of a class: where it stands in the order, its hooks and what came of them.
func (s *Site) entry(c echo.Context) error {
	return s.public(c, func(ctx context.Context) (templates.Page, error) {
		run, page, err := s.classOfDay(ctx, ref(c))
		if err != nil {
			return nil, err
		}
		for _, entry := range page.Class.Entries {
			if strings.ToLower(entry.Number) == asWritten(c, "number") {
				return s.entryOf(c, page, run, entry), nil
			}
		}
		return nil, &domain.Error{Kind: domain.NotFound, Message: "no entry of this class has the number " + asWritten(c, "number"), Fix: "look at the class"}
	})
}

// asWritten is a part of the address as it was written before it was made one. The router leaves it as it is where it has
// characters that an address may have and this one does not mean: the stroke in 5/8.
func asWritten(c echo.Context, name string) string {
	if c.Request().URL.RawPath == "" {
		return c.Param(name)
	}
	text, err := url.PathUnescape(c.Param(name))
	if err != nil || noText(text) {
		return ""
	}
	return text
}

// entryOf lays the page of an entry out. What is foretold is asked of the day, and every figure of the class as it is told.
func (s *Site) entryOf(c echo.Context, page desk.ClassPage, run day.Day, entry domain.Entry) templates.Entry {
	e, class, told := page.Event, &page.Class, page.Class.Told()
	outlook := outlookOf(e, run, class)
	view := templates.Entry{
		Frame: s.classView(c, page), Puller: puller(entry), State: lineState(e, class), Scratched: entry.Scratched,
		Class: templates.Link{Text: class.Name, Href: classHref(e, *class)},
		Links: []templates.Link{{Text: "Find me", Href: eventHref(e) + "/pits#n" + domain.Slug(entry.Number)}},
	}
	view.Stream, view.AsOf = classStream(e, class), outlook.asOf(page.Journal)
	if href := pullerHref(entry.Details); href != "" {
		view.Links = append(view.Links, templates.Link{Text: "All hooks of " + entry.Details.Puller, Href: href})
	}
	if href := vehicleHref(entry.Details); href != "" {
		view.Links = append(view.Links, templates.Link{Text: "All hooks with " + entry.Details.Vehicle, Href: href})
	}
	for _, row := range pitsRows(outlook, class, &told) {
		if row.Number == entry.Number {
			view.Stands = strings.TrimSuffix(row.Text+", "+row.So, ", ")
			for _, words := range []string{row.Hook, row.So, row.PullOff} {
				if words != "" {
					view.Words = append(view.Words, firstUpper(words))
				}
			}
		}
	}
	if entry.Scratched == "" {
		view.Words = append(view.Words, outlook.left()...)
	}
	view.Hooks = entryHooks(e, outlook, class, &told, entry)
	if view.Remind = s.remindOf(class, entry); view.Remind != nil {
		view.Scripts = []string{"reminder.js"}
	}
	if points := pointsOf(e, class); points != nil && !class.Official.Made.IsZero() {
		for _, row := range points.Rows {
			if row.Number == entry.Number {
				view.Points = row.Total
			}
		}
	}
	return view
}

// entryHooks are the rounds that an entry is in, as they were pulled.
func entryHooks(e domain.Event, o outlook, class, told *domain.Class, entry domain.Entry) []templates.EntryHook {
	all := rounds(e, told)
	o.foretold(class, all)
	var hooks []templates.EntryHook
	for i := range all {
		round := &all[len(all)-1-i] // the current one comes first there
		for _, row := range round.Order {
			if row.Number == entry.Number {
				hooks = append(hooks, templates.EntryHook{Outcome: row.Outcome, Round: round.Name, Order: fmt.Sprintf("place %s of %d in the order", row.Position, len(round.Order))})
			}
		}
	}
	return hooks
}

// pullerPage shows every class that somebody is entered in, at any event of this server.
func (s *Site) pullerPage(c echo.Context) error {
	// It is one click from every entry; a search engine need not gather it.
	c.Response().Header().Set("X-Robots-Tag", "noindex")
	who := domain.Details{Puller: asWritten(c, "puller"), Home: asWritten(c, "home")}
	return s.serverPageOf(c, nameKey(c, "puller", who.Puller, who.Home), func(ctx context.Context) (templates.Page, error) {
		entered, err := s.desk.PulledBy(ctx, who.Puller, who.Home)
		if err != nil {
			return nil, err
		}
		view := templates.PullerPage{Frame: bare(c), Name: who.Puller, Home: who.Home}
		view.Entries = pulledLines(entered,
			func(d domain.Details) bool { return d.Puller == who.Puller && d.Home == who.Home }, func(d domain.Details) string { return d.Vehicle })
		return view, nil
	})
}

// vehiclePage shows every class that a vehicle is entered in, at any event of this server, and with whom.
func (s *Site) vehiclePage(c echo.Context) error {
	// As the page of a puller: it leads to the same entries.
	c.Response().Header().Set("X-Robots-Tag", "noindex")
	what := domain.Details{Vehicle: asWritten(c, "vehicle"), Home: asWritten(c, "home")}
	return s.serverPageOf(c, nameKey(c, "vehicle", what.Vehicle, what.Home), func(ctx context.Context) (templates.Page, error) {
		entered, err := s.desk.EnteredWith(ctx, what.Vehicle, what.Home)
		if err != nil {
			return nil, err
		}
		view := templates.VehiclePage{Frame: bare(c), Name: what.Vehicle, Home: what.Home}
		view.Entries = pulledLines(entered,
			func(d domain.Details) bool { return d.Vehicle == what.Vehicle && d.Home == what.Home }, func(d domain.Details) string { return d.Puller })
		return view, nil
	})
}

// nameKey is the key of the page of a name and a home in the language of the request. The path would not tell A/B from A of B.
func nameKey(c echo.Context, kind, name, home string) string {
	return strings.Join([]string{kind, strconv.Quote(name), strconv.Quote(home), language.Of(c.Request().Context()).Tag()}, " ")
}

// pulledLines are the entries of those classes that are meant, each with what is said beside it.
func pulledLines(entered []doc.HeldClass, meant func(domain.Details) bool, with func(domain.Details) string) (lines []templates.PulledLine) {
	for i := range entered {
		class := entered[i].Class.Told()
		for _, entry := range class.Entries {
			if meant(entry.Details) {
				line := pulledLine(entered[i].Event, &entered[i].Class, &class, entry)
				line.With = with(entry.Details)
				lines = append(lines, line)
			}
		}
	}
	return lines
}

// pulledLine is one class that an entry is in, and what came of it.
func pulledLine(e domain.Event, class, told *domain.Class, entry domain.Entry) templates.PulledLine {
	line := templates.PulledLine{
		Event: templates.Link{Text: e.Name, Href: eventHref(e)}, Class: templates.Link{Text: class.Name, Href: entryHref(e, *class, entry.Number)},
		Date: dates(e), Number: entry.Number,
	}
	stands, place := standsWith(told, told.Standing(), entry)
	line.Outcome, line.Place = stands, firstUpper(place)
	if class.Official.Made.IsZero() {
		line.Place = firstUpper(strings.TrimPrefix(place+", not official", ", "))
	}
	return line
}
