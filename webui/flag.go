//go:build !js

package webui

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// flagActs are what the flagman may send, by the last part of the address.
var flagActs = acts{"say": flagAct, "noted": notedAct}

// askNoted is the question about the light and a breakaway; the other questions are called as what they lead to.
const askNoted = "noted"

// flag shows the hook at hand to the flagman, or the question that was pressed for: ?hook=ID&ask=disqualified.
func (s *Site) flag(c echo.Context) error {
	by, page, err := s.classPage(c.Request().Context(), c, domain.Lane|domain.Desk)
	if err != nil {
		return err
	}
	return show(c, http.StatusOK, s.flagOf(c, by, page, c.QueryParams(), nil))
}

// flagAct does what the flagman sent.
func (s *Site) flagAct(c echo.Context) error {
	return s.act(c, domain.Lane|domain.Desk, "flag", flagActs, func(by desk.By, page desk.ClassPage, no *refused) templates.Page {
		return s.flagOf(c, by, page, no.values, no)
	})
}

// flagAct reads what was decided. What is pressed is the reason's first words, and what is typed stands behind them.
func flagAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	hook, err := id(values, templates.FieldHook)
	if err != nil {
		return nil, err
	}
	call, err := domain.ParseFlagCall(values.Get(templates.FieldAsk))
	reason := strings.Trim(values.Get(templates.FieldPress)+": "+strings.TrimSpace(values.Get(templates.FieldReason)), ": ")
	return domain.SayFlag{Hook: hook, Call: call, Reason: reason}, err
}

// notedAct adds what was pressed to what is noted of the hook, so that a note of the cab stays.
func notedAct(class *domain.Class, values url.Values) (domain.Action, error) {
	hook, err := id(values, templates.FieldHook)
	if err != nil {
		return nil, err
	}
	what, err := domain.ParseDifferences(values.Get(templates.FieldPress))
	note := domain.NoteDifference{Hook: hook, What: what}
	if _, h := class.Find(hook); h != nil {
		note.What, note.Words = h.Difference.What|what, h.Difference.Words
	}
	return note, err
}

// flagOf lays the page out; asked says which question of which hook was pressed for, and no is the form that was refused,
// or nil. A question is a page of its own that does not change by itself: what is pressed there is about the hook that it
// names, whoever is called meanwhile.
func (s *Site) flagOf(c echo.Context, by desk.By, page desk.ClassPage, asked url.Values, no *refused) templates.Flag {
	class := &page.Class
	base := classHref(page.Event, *class) + "/flag"
	view := templates.Flag{Frame: s.classFrame(c, page, by), Class: class.Name}
	view.Awake = true
	for _, h := range class.FlagHooks() {
		if h.ID.String() == asked.Get(templates.FieldHook) {
			if view.Ask = flagAsk(class, h, base, asked.Get(templates.FieldAsk), no); view.Ask != nil {
				view.Ask.Leave = templates.Link{Text: "Say nothing", Href: base}
				return view
			}
		}
		view.Hooks = append(view.Hooks, flagHook(page.Event, class, h, base, no))
	}
	view.Stream = classStream(page.Event, class)
	view.Links = []templates.Link{
		{Text: "The class that is pulled now", Href: eventHref(page.Event) + "/flag"}, {Text: "Line-up", Href: classHref(page.Event, *class) + "/lane"},
		{Text: "The class as everybody sees it", Href: classHref(page.Event, *class)},
	}
	if len(view.Hooks) == 0 {
		view.Quiet = &templates.Quiet{Text: "Nobody is on the track.", Next: awaited(class) + "."}
	}
	if no != nil {
		view.Notice = no.told()
	}
	return view
}

// flagHook is one hook with what may be said of it, each a way to its question.
func flagHook(e domain.Event, c *domain.Class, h *domain.Hook, base string, no *refused) templates.FlagHook {
	view := templates.FlagHook{Puller: puller(c.Entry(h.Entry)), Title: fmt.Sprintf("Hook %d · called %s", h.Number, clock(e, h.Called))}
	switch {
	case !h.Result.IsZero():
		view.Title, view.Over = fmt.Sprintf("Hook %d · stored %s", h.Number, clock(e, h.Ended)), true
	case !h.Started.IsZero():
		view.Title = fmt.Sprintf("Hook %d · started %s", h.Number, clock(e, h.Started))
	}
	if h.Flag.Call != 0 {
		view.Told = append(view.Told, fmt.Sprintf("Told %s: %s.", clock(e, h.Flag.At), flagWords(h.Flag.Call, h.Flag.Reason)))
		view.Back = no.make("back", base+"/say", nil, hookField(h)...)
	}
	if !h.Difference.IsZero() {
		view.Told = append(view.Told, fmt.Sprintf("Noted: %s.", h.Difference))
	}
	for _, q := range flagQuestions(c, h) {
		query := url.Values{templates.FieldHook: {h.ID.String()}, templates.FieldAsk: {q.Value}}
		view.Says = append(view.Says, templates.Link{Text: q.Text, Href: base + "?" + query.Encode()})
	}
	return view
}

// flagQuestions are what may be said of a hook under the rules, as the value of the question and its words.
func flagQuestions(c *domain.Class, h *domain.Hook) (list []templates.Option) {
	if h.Result.IsZero() && c.MayRestart() {
		list = append(list, templates.Option{Value: domain.FlagStartAgain.String(), Text: "Starts again"})
	}
	return append(list, templates.Option{Value: domain.FlagRehook.String(), Text: "Re-hook"},
		templates.Option{Value: askNoted, Text: "Light red, breakaway"}, templates.Option{Value: domain.FlagDisqualified.String(), Text: "Disqualified"})
}

// flagAsk is the question about a hook; nil where nothing of the kind may be said of it.
func flagAsk(c *domain.Class, h *domain.Hook, base, ask string, no *refused) *templates.FlagAsk {
	at := slices.IndexFunc(flagQuestions(c, h), func(o templates.Option) bool { return o.Value == ask })
	if at < 0 {
		return nil
	}
	view := &templates.FlagAsk{Puller: puller(c.Entry(h.Entry)), Title: fmt.Sprintf("Hook %d: %s", h.Number, flagQuestions(c, h)[at].Text)}
	act := "say"
	switch ask {
	case askNoted:
		act = askNoted
		for _, what := range []domain.Differences{domain.RedByOfficial, domain.RedByOperator, domain.RedByItself, domain.Breakaway} {
			view.Press = append(view.Press, templates.Press{Value: what.String(), Text: firstUpper(what.String())})
		}
	case domain.FlagRehook.String():
		view.Press = []templates.Press{
			{Value: causes[templates.CauseSled], Text: "Because of the sled"}, {Value: causes[templates.CauseOfficial], Text: "Because of an official"},
		}
	case domain.FlagStartAgain.String():
		view.Press = []templates.Press{{Text: "Starts again", Detail: "Under these rules another attempt is left before " + c.Rules.RestartMark().String() + "."}}
	default:
		// The first button is what Enter sends, and so the one that takes the words alone.
		view.Words, view.Press = "In words, if a hand is free", []templates.Press{{Text: "As typed", Detail: sentence(c.Rules.Advice(""))}}
		for _, cause := range domain.Causes() {
			view.Press = append(view.Press, templates.Press{Value: string(cause), Text: firstUpper(string(cause)), Detail: sentence(c.Rules.Advice(cause))})
		}
	}
	view.Form = no.make(act, base+"/"+act, []string{templates.FieldReason}, append(hookField(h), templates.Hidden{Name: templates.FieldAsk, Value: ask})...)
	return view
}
