package webui

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// boothOf lays the booth page out; no is the form that was refused, or nil. Exactly one of three things stands
// at its head:
//
//	Hooking       the field for the hook on the track
//	ChoiceOpen    a button for each option
//	Ready         a button to call the next puller
//	otherwise     a sentence that says what is waited for, and whom
//
// Below are the rarer acts and the last results. A refused form that has no place on the page any more is told
// above it, so that what was typed is not lost without a word.
func boothOf(frame templates.Frame, page desk.ClassPage, no *refused) templates.Booth {
	class := &page.Class
	// A form about a hook that is over is told above the page and not put back into a field: what was typed for
	// 41 must not wait where Enter would store it for 7.
	sent := no
	if no.ofAnotherHook(class) {
		no = nil
	}
	view := templates.Booth{
		Frame: frame, Hooking: hooking(class), Class: class.Name, ClassHref: classHref(page.Event, *class),
		Links:    []templates.Link{{Text: "Announcer's card", Href: classHref(page.Event, *class) + "/booth/announcer"}, {Text: "How the day runs", Href: eventHref(page.Event) + "/day"}},
		Sentence: stateSentence(class), Unit: class.Rules.Unit().String(), Words: fieldWords(class),
		Strip: strip(class), Stored: justStored(class), Acts: boothForms(page, no), Call: callOf(page.Event, class), Advice: advice(class),
		Again: remeasureOf(page.Event, class, no), Crew: crewSays(page.Event, class), Seen: seenOf(page.Event, class), Flags: flagsTold(page.Event, class),
		Photos: attachable(page.Event, class, no),
	}
	// Only what the crew, the steward and the flagmen say is kept current: the rest of the page is typed into.
	view.Stream, view.Parts = classStream(page.Event, class), "#crew,#in-line,#flag"
	view.Scripts = []string{"typing.js", "measure.js"}
	if len(page.Journal) > 0 {
		view.Number = strconv.FormatInt(page.Journal[0].Number, 10)
	}
	base := classHref(page.Event, *class) + "/booth/"
	switch class.Phase() {
	case domain.Hooking:
		view.Store = no.make("result", base+"result", []string{templates.FieldResult}, hookHidden(class.OnTrack())...)
		view.Confirm = no.asks("result", view.Store)
	case domain.ChoiceOpen:
		view.Choice = choiceOf(class, base, no)
	case domain.Ready:
		view.Choice = callChoice(class, base, no)
	default:
		view.Quiet = &templates.Quiet{Text: stateSentence(class) + ".", Next: awaited(class) + ".",
			Link: templates.Link{Text: "The class as everybody sees it", Href: classHref(page.Event, *class)}}
	}
	view.Rehook = rehookOf(class, base, sent)
	if sent != nil && view.Confirm == "" && !tells(boothFormsOf(view)...) {
		view.Notice = sent.told()
	}
	return view
}

// ofAnotherHook reports whether the form was about a hook that is over by now. What was typed into it must not wait in
// the field of the next puller, where Enter would store it.
func (r *refused) ofAnotherHook(class *domain.Class) bool {
	if r != nil && r.form == measuredAgain {
		last := remeasurable(class)
		return last == nil || last.ID.String() != r.values.Get(templates.FieldHook)
	}
	if r == nil || r.form == "correct" || r.form == "speed" || !r.values.Has(templates.FieldHook) {
		return false
	}
	current := class.OnTrack()
	if choice := class.Pending(); choice != nil {
		current = &choice.Hook
	}
	return current == nil || current.ID.String() != r.values.Get(templates.FieldHook)
}

// boothFormsOf lists the forms of the page, nil for those that are not there, to find out whether one tells a
// refusal.
func boothFormsOf(view templates.Booth) []*templates.Form {
	a := view.Acts
	forms := []*templates.Form{view.Store, view.Rehook, a.FullPull, a.Start, a.Disqualified, a.SecondAttempt, a.Again, a.Drop, a.Absent, a.Correct}
	if view.Again != nil {
		forms = append(forms, view.Again.Form)
	}
	forms = append(forms, view.Photos.Attach)
	if a.Speeds != nil {
		forms = append(forms, a.Speeds.Form)
	}
	if view.Choice != nil {
		for i := range view.Choice.Options {
			forms = append(forms, &view.Choice.Options[i].Form)
		}
	}
	return forms
}

// hookHidden are the hidden fields of a form about a hook: which hook and whose, and a fresh id for the one called next.
func hookHidden(h *domain.Hook) []templates.Hidden {
	return []templates.Hidden{{Name: templates.FieldHook, Value: h.ID.String()}, ofWhom(h.Entry), fresh(fieldNext)}
}

// choiceOf shows the choice that the rules leave, one button an option, in the order of the rules. It relies on
// a choice being open.
func choiceOf(c *domain.Class, base string, no *refused) *templates.Choice {
	pending := c.Pending()
	e := c.Entry(pending.Hook.Entry)
	what := "about the test hook"
	switch {
	case pending.Restart && pending.Test:
		what = "about the test hook, which stopped before the restart line"
	case pending.Restart:
		what = "about a second attempt: the sled stopped before the restart line"
	}
	choice := &templates.Choice{
		Who: puller(e), Text: fmt.Sprintf("%s decides %s: %s.", strings.TrimSpace(e.Number+" "+e.Details.Puller), what, resultWords(pending.Hook.Result)),
		Until: pending.Until, Silence: silenceWords(pending), Kept: keptWords(c),
	}
	for _, o := range pending.Options {
		form := no.make("choice", base+"choice", nil, append(hookHidden(&pending.Hook), templates.Hidden{Name: fieldOption, Value: o.String()})...)
		choice.Options = append(choice.Options, templates.ChoiceOption{Text: firstUpper(optionWords(o)), Detail: optionDetail(o, pending), Form: *form})
		if o == pending.Silence && len(pending.Options) > 1 {
			choice.Options[len(choice.Options)-1].Detail += " This is what saying nothing means."
		}
	}
	return choice
}

// optionDetail says what becomes of the hook, which is what is at stake.
func optionDetail(o domain.Option, pending *domain.Choice) string {
	if o == domain.Keep {
		return resultWords(pending.Hook.Result) + " stands, and the next puller is called."
	}
	return "The hook does not count."
}

// callChoice offers to call the next puller, when nobody was called by itself. It relies on somebody waiting.
func callChoice(c *domain.Class, base string, no *refused) *templates.Choice {
	next := c.Entry(c.Current().Waiting()[0])
	form := no.make("call", base+"call", nil, fresh(fieldNext), ofWhom(next.ID))
	return &templates.Choice{
		Who: puller(next), Text: "Nobody is on the track.",
		Options: []templates.ChoiceOption{{
			Text: "Call " + strings.TrimSpace(next.Number+" "+next.Details.Puller), Detail: "The flagmen and the sled operator give the go.", Form: *form,
		}},
	}
}

// firstUpper begins a sentence with a text of the program, which begins with a letter of the Latin alphabet
// without an accent.
func firstUpper(s string) string {
	if s == "" {
		return s
	}
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

// fieldWords say what the field understands beside a distance: in a round that does not end at the line, a full
// pull needs its figure.
func fieldWords(c *domain.Class) []templates.Term {
	full := templates.Term{Label: "F", Value: "full pull"}
	if r := c.Current(); r != nil && !c.Rules.EndsAtLine(r.Name) {
		full = templates.Term{Label: "F 312.44", Value: "full pull, with its figure"}
	}
	return []templates.Term{full, {Label: "Q reason", Value: "disqualified"}, {Label: "A", Value: "absent"}}
}

// boothForms are the rarer acts, each only where it can be done now. A button that would be refused is not
// shown; the domain refuses it all the same.
func boothForms(page desk.ClassPage, no *refused) templates.BoothActs {
	class := &page.Class
	base := classHref(page.Event, *class) + "/booth/"
	acts := templates.BoothActs{Causes: causeOptions(class.Rules), Advice: causeAdvice(class.Rules), Throttle: class.Rules.Restarts.Throttle, Cooling: cooling(class.Rules)}
	if on := class.OnTrack(); on != nil {
		hidden := func(word string) []templates.Hidden {
			h := hookHidden(on)
			if word != "" {
				h = append(h, templates.Hidden{Name: fieldWord, Value: word})
			}
			return h
		}
		if class.Rules.EndsAtLine(class.Current().Name) {
			acts.FullPull = no.make("FP", base+"result", nil, hidden("FP")...)
		}
		acts.Disqualified = no.make("DQ", base+"result", []string{templates.FieldWhatWent, templates.FieldReason, templates.FieldAt}, hidden("DQ")...)
		if on.Started.IsZero() {
			acts.Start = no.make("start", base+"start", nil, hookField(on)...)
		}
		acts.Absent = no.make("absent", base+"result", []string{templates.FieldReason}, hidden("absent")...)
		if class.MayRestart() {
			acts.SecondAttempt = no.make("second", base+"second", []string{templates.FieldAt}, hidden("")...)
		}
		acts.Again = no.make("again", base+"again", []string{templates.FieldCause, templates.FieldMove, templates.FieldPlaces, templates.FieldReason}, hidden("")...)
		if len(class.Current().Waiting()) > 0 {
			acts.Drop = no.make("drop", base+"drop", []string{templates.FieldMove, templates.FieldPlaces, templates.FieldReason}, hidden("")...)
		}
	}
	acts.Speeds = speedsOf(class, base, no)
	if acts.Hooks = correctable(class); len(acts.Hooks) > 0 {
		acts.Correct = no.make("correct", base+"correct", []string{templates.FieldHook, templates.FieldResult, templates.FieldReason}, fresh(fieldNext))
	}
	return acts
}

// correctable lists the hooks whose result can be corrected, newest first, of all rounds: the last is the one
// most often mistyped.
func correctable(c *domain.Class) []templates.Option {
	var list []templates.Option
	for i := range slices.Backward(c.Rounds) {
		r := &c.Rounds[i]
		for _, h := range slices.Backward(r.Hooks) {
			if h.Result.Counts() {
				list = append(list, templates.Option{Value: h.ID.String(), Text: hookOption(c, r, &h)})
			}
		}
	}
	return list
}

// storedShown is how many stored hooks the booth sees: enough to find a slip that was noticed a hook later.
const storedShown = 5

// justStored shows the last hooks of the current round that ended, newest first, those that do not count too.
func justStored(c *domain.Class) []templates.Stored {
	var list []templates.Stored
	r := c.Current()
	if r == nil {
		return nil
	}
	for _, h := range slices.Backward(r.Hooks) {
		if h.Result.IsZero() || len(list) == storedShown {
			continue
		}
		o := outcome(h.Result)
		if !h.Result.Counts() {
			o = templates.Outcome{Text: h.Result.Outcome.String(), Kind: templates.Absent, Remarks: []string{voidWords(h)}}
		} else if h.Result.Reason != "" {
			o.Remarks = append(o.Remarks, h.Result.Reason)
		}
		if h.Corrected != "" {
			o.Remarks = append(o.Remarks, "corrected: "+h.Corrected)
		}
		if !h.Difference.IsZero() {
			o.Remarks = append(o.Remarks, h.Difference.String())
		}
		if read := h.Speeds.String(); read != "" {
			o.Remarks = append(o.Remarks, read)
		}
		list = append(list, templates.Stored{Puller: puller(c.Entry(h.Entry)), Outcome: o, Hook: strconv.Itoa(h.Number)})
	}
	return list
}
