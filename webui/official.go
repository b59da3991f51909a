//go:build !js

package webui

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/webui/templates"
)

// Hidden fields of the forms about a result.
const (
	fieldProtest = "protest" // id of a protest
	fieldCase    = "case"    // id of what a correction follows from: a protest, or a reading of the scale
)

// revisions shows the signatures that were taken away, the newest first, each with what the next revision changed.
func revisions(e domain.Event, c *domain.Class) []templates.Revision {
	var list []templates.Revision
	for i, s := range slices.Backward(c.Earlier) {
		r := templates.Revision{Text: fmt.Sprintf("Revision %d was signed %s by %s and opened again %s: %s.",
			i+1, clock(e, s.Made), s.Name, clock(e, s.Reopened), s.Reason)}
		if s.Name == "" { // signed before names were kept
			r.Text = strings.Replace(r.Text, " by  and", " and", 1)
		}
		for _, change := range c.Changes(i + 2) {
			r.Changes = append(r.Changes, templates.PlaceChange{
				Puller: puller(c.Entry(change.Is.Entry)), Was: signedWords(change.Was), Is: signedWords(change.Is),
			})
		}
		list = append(list, r)
	}
	return list
}

// signedWords says where an entry stood: "1= · 281.36", "no place · DQ".
func signedWords(s domain.Signed) string {
	place := "no place"
	if s.Place > 0 {
		place = strconv.Itoa(s.Place)
	}
	if s.Shared {
		place += "="
	}
	if s.Results == "" {
		return place
	}
	return place + " · " + s.Results
}

// protests shows the protests against a result, in the order lodged.
func protests(e domain.Event, c *domain.Class) []templates.Protest {
	list := make([]templates.Protest, len(c.Protests))
	for i, p := range c.Protests {
		list[i] = protest(e, c, p)
	}
	return list
}

// resultNotes tell the protests and the earlier revisions of a result in sentences, for the print of a whole event.
func resultNotes(e domain.Event, c *domain.Class) []string {
	var notes []string
	for _, p := range protests(e, c) {
		notes = append(notes, fmt.Sprintf("Protest against %s: %s, %s (%s).", p.Number, p.Matter(), p.State, p.Remarks()))
	}
	for _, r := range revisions(e, c) {
		note := r.Text
		for _, change := range r.Changes {
			note += fmt.Sprintf(" %s: %s, before %s.", change.Number, change.Is, change.Was)
		}
		notes = append(notes, note)
	}
	return notes
}

// protest shows one protest, without who lodged it.
func protest(e domain.Event, c *domain.Class, p domain.Protest) templates.Protest {
	view := templates.Protest{Puller: puller(c.Entry(p.Entry)), About: p.About, State: "undecided", Lodged: "lodged " + clock(e, p.Lodged)}
	if round, hook := c.Find(p.Hook); hook != nil {
		view.Hook = fmt.Sprintf("hook %d, %s", hook.Number, roundName(round.Name))
	}
	if p.Late {
		view.Lodged += ", after the window"
	}
	if p.Open() {
		return view
	}
	view.State, view.Why = rulingWords(p.Ruling), p.Reason
	if p.Follows != domain.NothingFollows {
		done := "made"
		if slices.Contains(c.ToCorrect(), p) {
			done = "to be made"
		}
		view.Follows = p.Follows.String() + " " + done
	}
	return view
}

// deskOfficial offers what can be done about the result now: to write down and decide protests, to make the corrections
// that they ask for, to sign a decided result, or to open an official one again.
func deskOfficial(e domain.Event, class *domain.Class, base string, no *refused) templates.DeskOfficial {
	view := templates.DeskOfficial{State: officialWords(e, class), Revisions: revisions(e, class)}
	for _, p := range class.Protests {
		shown := templates.DeskProtest{Protest: protest(e, class, p), ID: p.ID.String(), By: p.By}
		if p.Open() {
			shown.Rule = no.of(fieldProtest, p.ID).make("ruling", base+"ruling", []string{templates.FieldRuling, templates.FieldFollows, templates.FieldReason},
				templates.Hidden{Name: fieldProtest, Value: p.ID.String()})
		}
		view.Protests = append(view.Protests, shown)
	}
	if !class.Official.Made.IsZero() {
		view.Reopen = no.make("reopen", base+"reopen", []string{templates.FieldReason})
		return view
	}
	view.Corrections = corrections(class, base, no)
	if class.Phase() == domain.Decided {
		view.Sign = no.make("sign", base+"sign", []string{templates.FieldName})
		if until := class.ProtestsUntil(); !until.IsZero() {
			view.Window = "Protests are taken until " + clock(e, until) + "; the result can be signed from then on."
		}
	}
	if r := class.Current(); r != nil && class.Rules.Protest != (domain.ProtestRule{}) {
		view.Lodge = no.make("protest", base+"protest", []string{templates.FieldAgainst, templates.FieldAbout, templates.FieldFee, templates.FieldBy}, fresh(fieldProtest))
		view.Against, view.Terms = against(class), protestTerms(class.Rules.Protest)
	}
	return view
}

// of keeps a refusal to the form that carries the id in the field, where several forms have one name.
func (r *refused) of(field string, id uuid.UUID) *refused {
	if r != nil && r.values.Get(field) != id.String() {
		return nil
	}
	return r
}

// against lists what can be protested: each entry, and each of its hooks that counts.
func against(c *domain.Class) []templates.Option {
	list := make([]templates.Option, 0, len(c.Entries))
	for _, e := range c.Entries {
		list = append(list, templates.Option{Value: e.ID.String(), Text: strings.TrimSpace(e.Number + " " + e.Details.Puller), Typed: true})
	}
	return append(list, correctable(c)...)
}

// protestTerms are the rules on protests in their own words.
func protestTerms(r domain.ProtestRule) []templates.Term {
	var list []templates.Term
	for _, t := range []templates.Term{{Label: "Fee", Value: r.Fee, Typed: true}, {Label: "Until", Value: r.Until}, {Label: "Decided by", Value: r.Decides, Typed: true}} {
		if t.Value != "" {
			list = append(list, t)
		}
	}
	return list
}

// corrections lays out a form for each correction that an upheld protest asks for, and for each vehicle that was too heavy
// after its hook where the rules disqualify it. Hook and reason are filled in, and of a disqualification the word; what to
// correct a result to otherwise is for people to say.
func corrections(c *domain.Class, base string, no *refused) []templates.DeskCorrection {
	var list []templates.DeskCorrection
	for _, p := range c.ToCorrect() {
		result := ""
		if p.Follows == domain.DisqualificationFollows {
			result = domain.Disqualified.String()
		}
		text := "The protest against " + c.Entry(p.Entry).Number + " was upheld: " + p.Reason + "."
		list = append(list, correction(base, no, p.ID, text, hooksOf(c, p.Entry, p.Hook), result, "protest upheld: "+p.Reason))
	}
	for _, o := range c.OffWeights() {
		if o.Reading.After && c.Rules.Weight.Over == domain.OverDisqualified {
			off := c.Entry(o.Entry).Number + " is " + o.Says(c.Rules.Weight) + ". The officials decide."
			reason := map[bool]string{true: "underweight: ", false: "overweight: "}[o.Light] + o.Reading.Weight.String()
			list = append(list, correction(base, no, o.Reading.ID, off, hooksOf(c, o.Entry, uuid.Nil), domain.Disqualified.String(), reason))
		}
	}
	// Where nothing that counts is left, there is nothing to correct.
	return slices.DeleteFunc(list, func(d templates.DeskCorrection) bool { return len(d.Hooks) == 0 })
}

// hooksOf lists what can be corrected of an entry, or the one hook alone.
func hooksOf(c *domain.Class, entry, only uuid.UUID) []templates.Option {
	return slices.DeleteFunc(correctable(c), func(o templates.Option) bool {
		_, hook := c.Find(uuid.MustParse(o.Value))
		return hook.Entry != entry || only != uuid.Nil && hook.ID != only
	})
}

// correction lays out one form; the id is of what it follows from.
func correction(base string, no *refused, id uuid.UUID, text string, hooks []templates.Option, result, reason string) templates.DeskCorrection {
	form := no.of(fieldCase, id).make("correct", base+"correct", []string{templates.FieldHook, templates.FieldResult, templates.FieldReason},
		fresh(fieldNext), templates.Hidden{Name: fieldCase, Value: id.String()})
	if len(form.Values) == 0 && len(hooks) > 0 {
		form.Values = map[string]string{templates.FieldHook: hooks[0].Value, templates.FieldResult: result, templates.FieldReason: reason}
	}
	return templates.DeskCorrection{ID: id.String(), Text: text, Form: form, Hooks: hooks}
}

// signAct reads the name under a result.
func signAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	return domain.Sign(values.Get(templates.FieldName))
}

// reopenAct reads why an official result is opened again.
func reopenAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	return domain.Reopen{Reason: values.Get(templates.FieldReason)}, nil
}

// protestAct reads a protest. What it is against is the id of an entry, or of a hook of one.
func protestAct(class *domain.Class, values url.Values) (domain.Action, error) {
	list, err := ids(values, fieldProtest, templates.FieldAgainst)
	if err != nil {
		return nil, err
	}
	by, err := domain.Lodger(values.Get(templates.FieldBy))
	a := domain.LodgeProtest{
		Protest: list[0], Entry: list[1], About: values.Get(templates.FieldAbout), Fee: values.Get(templates.FieldFee) != "", By: by,
	}
	if _, hook := class.Find(list[1]); hook != nil {
		a.Entry, a.Hook = hook.Entry, hook.ID
	}
	return a, err
}

// rulingAct reads what was decided about a protest.
func rulingAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	protest, err := id(values, fieldProtest)
	if err != nil {
		return nil, err
	}
	ruling, err := domain.ParseRuling(values.Get(templates.FieldRuling))
	if err != nil {
		return nil, err
	}
	follows, err := domain.ParseFollows(values.Get(templates.FieldFollows))
	return domain.DecideProtest{Protest: protest, Ruling: ruling, Follows: follows, Reason: values.Get(templates.FieldReason)}, err
}
