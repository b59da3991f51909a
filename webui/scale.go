//go:build !js

package webui

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// fieldReading carries the id of a reading of the scale.
const fieldReading = "reading"

// The values of the two buttons of the scale.
const (
	weighedBefore = "before"
	weighedAfter  = "after"
)

// scaleActs are what the scale may send, by the last part of the address.
var scaleActs = acts{"weigh": weighAct, "misread": misreadAct}

// scale shows the page of the person at the scale. The address may choose a vehicle and say that it has hooked, which
// is how the list of who must be weighed leads here.
func (s *Site) scale(c echo.Context) error {
	by, page, err := s.classPage(c.Request().Context(), c, domain.Scale|domain.Desk)
	if err != nil {
		return err
	}
	view := s.scaleOf(c, by, page, nil)
	if view.Weigh != nil {
		view.Weigh.Values = map[string]string{templates.FieldEntry: c.QueryParam(templates.FieldEntry)}
	}
	if c.QueryParam(templates.FieldAfter) == weighedAfter {
		view.First = scaleButtons(weighedAfter)
	}
	return show(c, http.StatusOK, view)
}

// scaleAct does what the scale sent.
func (s *Site) scaleAct(c echo.Context) error {
	return s.act(c, domain.Scale|domain.Desk, "scale", scaleActs, func(by desk.By, page desk.ClassPage, no *refused) templates.Page {
		return s.scaleOf(c, by, page, no)
	})
}

// weighAct reads what the scale showed. The vehicle goes by its number, which is unique in the class. Figures without a unit are in that of the limit.
func weighAct(class *domain.Class, values url.Values) (domain.Action, error) {
	reading, err := id(values, fieldReading)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(class.Entries, func(e domain.Entry) bool { return e.Number == values.Get(templates.FieldEntry) })
	if i < 0 {
		return nil, &domain.Error{Kind: domain.Invalid, Field: templates.FieldEntry, Message: "no vehicle is chosen", Fix: "choose who stands on the scale"}
	}
	weight, err := quantity(values, templates.FieldWeight, class.Rules.Weight.Limit.Unit(), typedWeight)
	return domain.Weigh{Reading: reading, Entry: class.Entries[i].ID, Weight: weight, After: values.Get(templates.FieldAfter) == weighedAfter}, err
}

// misreadAct reads why a reading does not count.
func misreadAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	reading, err := id(values, fieldReading)
	return domain.Misread{Reading: reading, Reason: values.Get(templates.FieldReason)}, err
}

// readingsShown is how many readings the scale sees: enough to find one that was mistyped.
const readingsShown = 8

// scaleOf lays the page of the scale out; no is the form that was refused, or nil.
func (s *Site) scaleOf(c echo.Context, by desk.By, page desk.ClassPage, no *refused) templates.Scale {
	class := &page.Class
	base := classHref(page.Event, *class) + "/scale/"
	view := templates.Scale{Frame: s.classFrame(c, page, by), Class: class.Name, Rule: limitWords(class.Rules.Weight), Unit: class.Rules.Weight.Limit.Unit()}
	if class.Rules.Weight == (domain.WeightRule{}) {
		view.Rule = ""
		view.Quiet = &templates.Quiet{Text: "Nothing is weighed in this class.", Next: "Its rule set has no weight limit."}
		return view
	}
	view.Heavy = weightMessages(class)
	for _, id := range class.ToWeigh() {
		view.Due = append(view.Due, templates.ScaleDue{Puller: puller(class.Entry(id)),
			Href: strings.TrimSuffix(base, "/") + "?" + url.Values{templates.FieldEntry: {class.Entry(id).Number}, templates.FieldAfter: {weighedAfter}}.Encode()})
	}
	if !class.Rules.Weight.WantsAfter() {
		view.Practice = "The first puller, and whoever took the lead: so that whoever wins was weighed. Common practice; these rules do not ask for it."
	}
	for _, r := range slices.Backward(class.Readings) {
		if len(view.Readings) < readingsShown {
			view.Readings = append(view.Readings, scaleReading(page.Event, class, r, base, no))
		}
	}
	if !class.Official.Made.IsZero() {
		view.Quiet = &templates.Quiet{Text: "The result is official.", Next: "It is opened again at the desk."}
		return view
	}
	view.Weigh = no.make("weigh", base+"weigh", []string{templates.FieldEntry, templates.FieldWeight}, fresh(fieldReading))
	view.Entries = scaleEntries(class)
	view.First = scaleButtons(weighedBefore)
	if class.Rules.Weight.When == domain.WeighAfter {
		view.First = scaleButtons(weighedAfter)
	}
	if no != nil && !tells(view.Weigh) && !slices.ContainsFunc(view.Readings, func(r templates.ScaleReading) bool { return tells(r.Misread) }) {
		view.Notice = no.told()
	}
	return view
}

// scaleButtons are the two buttons, the likelier first.
func scaleButtons(first string) []templates.Option {
	buttons := []templates.Option{{Value: weighedBefore, Text: "Store: before the hook"}, {Value: weighedAfter, Text: "Store: after the hook"}}
	if first == weighedAfter {
		slices.Reverse(buttons)
	}
	return buttons
}

// scaleEntries lists the vehicles to choose from, those not weighed first, in the order of the draw or of entry.
func scaleEntries(c *domain.Class) []templates.ScaleEntry {
	var due, done []templates.ScaleEntry
	order := c.Draw.Order
	for _, e := range c.Entries {
		if !slices.Contains(order, e.ID) {
			order = append(slices.Clone(order), e.ID)
		}
	}
	for _, id := range order {
		e := c.Entry(id)
		if e.Scratched != "" {
			continue
		}
		shown := templates.ScaleEntry{Puller: puller(e), State: scaleWords(c, id)}
		if c.Weighing(id).Before.Weight.IsZero() && c.Weighing(id).After.Weight.IsZero() {
			due = append(due, shown)
		} else {
			done = append(done, shown)
		}
	}
	return append(due, done...)
}

// scaleWords says how an entry stands at the scale: "not weighed", "8,480 lb", "8,620 lb, too heavy, 1 try left",
// "3,480 lb, too light".
func scaleWords(c *domain.Class, entry uuid.UUID) string {
	w := c.Weighing(entry)
	last := w.After
	if last.Weight.IsZero() {
		last = w.Before
	}
	if last.Weight.IsZero() {
		return "not weighed"
	}
	words := last.Weight.String()
	if last.After {
		words += " after the hook"
	}
	if c.Rules.Weight.Within(last.Weight) {
		return words
	}
	off := ", too heavy"
	if c.Rules.Weight.Light(last.Weight) {
		off = ", too light"
	}
	words += off
	switch left := c.TriesLeft(entry); {
	case last.After || left < 0:
	case left == 1:
		words += ", 1 try left"
	default:
		words += fmt.Sprintf(", %d tries left", left)
	}
	return words
}

// scaleReading shows one reading, with a form to take it back.
func scaleReading(e domain.Event, c *domain.Class, r domain.Reading, base string, no *refused) templates.ScaleReading {
	shown := templates.ScaleReading{Puller: puller(c.Entry(r.Entry)), Weight: r.Weight.String(), ID: r.ID.String()}
	shown.State = map[bool]string{false: "before the hook, ", true: "after the hook, "}[r.After] + clock(e, r.At)
	if r.Misread != "" {
		shown.State = "not counted: " + r.Misread
	} else if c.Official.Made.IsZero() {
		shown.Misread = no.of(fieldReading, r.ID).make("misread", base+"misread", []string{templates.FieldReason}, templates.Hidden{Name: fieldReading, Value: r.ID.String()})
	}
	return shown
}

// limitWords say what the rules want: "8,500 lb, 10 lb over allowed, with the driver, before the hook".
func limitWords(r domain.WeightRule) string {
	words := []string{r.Limit.String()}
	if !r.Tolerance.IsZero() {
		words = append(words, r.Tolerance.String()+" over allowed")
	}
	if !r.Least.IsZero() {
		words = append(words, "not under "+r.Least.String())
	}
	words = append(words, map[bool]string{true: "with the driver", false: "without the driver"}[r.WithDriver], map[domain.WeighTime]string{
		domain.WeighBefore: "before the hook", domain.WeighAfter: "after the hook", domain.WeighBoth: "before and after the hook", domain.WeighOnRequest: "on request",
	}[r.When])
	return strings.Join(words, ", ")
}

// weightMessages say who is too heavy or too light and what these rules advise. They are for staff: the public page says it once the
// officials have decided.
func weightMessages(c *domain.Class) []templates.Message {
	var list []templates.Message
	for _, o := range c.OffWeights() {
		list = append(list, templates.Message{
			Text: fmt.Sprintf("%s is %s.", c.Entry(o.Entry).Number, o.Says(c.Rules.Weight)),
			Do:   firstUpper(o.Advice(c.Rules.Weight)) + ". The officials decide.",
		})
	}
	return list
}

// scaleState shows on a class's own pages who is weighed, where the rules want everybody to be; nil where nothing is
// weighed.
func scaleState(c *domain.Class) *templates.ScaleState {
	rule := c.Rules.Weight
	if rule == (domain.WeightRule{}) {
		return nil
	}
	state := &templates.ScaleState{Lines: []templates.Term{{Label: "Limit", Value: limitWords(rule)}}}
	if rule.When == domain.WeighOnRequest {
		return state
	}
	var yes, no []string
	for _, e := range c.Entries {
		switch {
		case e.Scratched != "":
		case c.Weighed(e.ID):
			yes = append(yes, e.Number)
		default:
			no = append(no, e.Number)
		}
	}
	for _, t := range []templates.Term{{Label: "Weighed", Value: strings.Join(yes, ", "), Typed: true}, {Label: "Not yet", Value: strings.Join(no, ", "), Typed: true}} {
		if t.Value != "" {
			state.Lines = append(state.Lines, t)
		}
	}
	return state
}
