package webui

import (
	"fmt"
	"net/url"
	"slices"
	"strings"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/webui/templates"
)

// cabActs are what the cab may send, by the last part of the address.
var cabActs = acts{
	"ready":    readyAct,
	"hold":     holdAct,
	"differed": differedAct,
	"speed":    speedAct,
}

// readyAct reads that the crew is ready for the hook that the form names.
func readyAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	hook, err := id(values, templates.FieldHook)
	return domain.SayReady{Hook: hook}, err
}

// holdAct reads that the crew holds, with what is wrong where somebody had a hand free to write it.
func holdAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	hook, err := id(values, templates.FieldHook)
	return domain.SayReady{Hook: hook, Held: true, Words: values.Get(templates.FieldWords)}, atField(templates.FieldWords, err)
}

// differedAct reads what differed on a hook: a field for each word, ticked or not, and the rest in words.
func differedAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	hook, err := id(values, templates.FieldHook)
	if err != nil {
		return nil, err
	}
	var ticked []string
	for _, word := range domain.DifferenceWords() {
		if values.Get(word) != "" {
			ticked = append(ticked, word)
		}
	}
	what, err := domain.ParseDifferences(strings.Join(ticked, ", "))
	return domain.NoteDifference{Hook: hook, What: what, Words: values.Get(templates.FieldWords)}, err
}

// differedOf asks what differed on the last hook that ended, nil where none has and while a vehicle pulls.
func differedOf(class *domain.Class, base string, no *refused) *templates.Differed {
	on, r := class.OnTrack(), class.Current()
	if r == nil || on != nil && !on.Started.IsZero() || !class.Official.Made.IsZero() {
		return nil
	}
	view := &templates.Differed{}
	for _, h := range slices.Backward(r.Hooks) {
		if !h.Result.IsZero() && h.Result.Outcome != domain.Absent {
			view.Hooks = append(view.Hooks, templates.Option{Value: h.ID.String(), Text: fmt.Sprintf("%s, hook %d", named(class.Entry(h.Entry)), h.Number)})
		}
		if !h.Difference.IsZero() {
			noted := fmt.Sprintf("Hook %d, %s: %s", h.Number, named(class.Entry(h.Entry)), h.Difference)
			if h.Difference.What.TurnsRed(class.Sled.Card) {
				noted += redWords(class.Sled.Card)
			}
			view.Noted = append(view.Noted, noted)
		}
	}
	if len(view.Hooks) == 0 {
		return nil
	}
	view.Words = domain.DifferenceWords()
	view.Form = no.make("differed", base+"differed", append(domain.DifferenceWords(), templates.FieldHook, templates.FieldWords))
	return view
}

// sledNoted is what the public reads of a difference; notedBelow is the same for a mark on paper. What it was is for staff.
const (
	sledNoted  = "sled noted a difference"
	notedBelow = "The sled's crew noted that something differed on this hook. It changes no result; the officials decide."
)

// notedOf reports whether something was noted of a hook that the entry made in a round.
func notedOf(r *domain.Round, entry uuid.UUID) bool {
	return slices.ContainsFunc(r.Hooks, func(h domain.Hook) bool { return h.Entry == entry && !h.Difference.IsZero() })
}

// marked turns what was noted of hooks from a remark into a mark, as paper has it, and says what the mark means; "" where
// there is none.
func marked(list []templates.Round) ([]templates.Round, string) {
	below := ""
	for i := range list {
		for j := range list[i].Order {
			o := &list[i].Order[j]
			if at := slices.Index(o.Remarks, sledNoted); at >= 0 {
				o.Remarks, o.Noted, below = slices.Delete(o.Remarks, at, at+1), true, notedBelow
			}
		}
	}
	return list, below
}

// redWords says that the light goes red for what was noted, and whence that is known.
func redWords(card domain.SledCard) string {
	if len(card.Red) > 0 {
		return " · the light of this sled goes red for it"
	}
	return " · on most sleds the light goes red for it"
}

// differenceWords tells what was noted; a note of nothing took one back.
func differenceWords(d domain.Difference) string {
	if d.IsZero() {
		return "nothing differed"
	}
	return d.String()
}

// rehookAdvice says that a re-hook is to be thought of, and what for; nil where it is not.
func rehookAdvice(c *domain.Class) []templates.Message {
	h := c.RehookOffered()
	if h == nil {
		return nil
	}
	because := ""
	if doing := rehookDoing(h); doing != "" {
		because = " because of the " + doing
	}
	return []templates.Message{{
		Text: fmt.Sprintf("Hook %d, %s: %s.", h.Number, named(c.Entry(h.Entry)), rehookWords(h)),
		Do:   "A re-hook" + because + " is possible under these rules. Nobody hooks again by itself: the officials decide, and the booth stores it.",
	}}
}

// rehookOf is the form of the re-hook that is offered about a hook which has ended; nil where there is none. About the hook
// on the track there is a form at any time.
func rehookOf(class *domain.Class, base string, no *refused) *templates.Form {
	h := class.RehookOffered()
	if h == nil || h.Result.IsZero() {
		return nil
	}
	if no != nil && no.values.Get(templates.FieldHook) != h.ID.String() {
		no = nil
	}
	form := no.make("again", base+"again", []string{templates.FieldCause, templates.FieldMove, templates.FieldPlaces, templates.FieldReason}, hookHidden(h)...)
	if form.Values == nil {
		cause := templates.CauseSled
		if rehookDoing(h) == causes[templates.CauseOfficial] {
			cause = templates.CauseOfficial
		}
		form.Values = map[string]string{templates.FieldCause: cause, templates.FieldReason: rehookWords(h)}
	}
	return form
}

// hookField are the hidden fields that name the hook of a form which calls nobody, and whose it is.
func hookField(h *domain.Hook) []templates.Hidden {
	return []templates.Hidden{{Name: templates.FieldHook, Value: h.ID.String()}, ofWhom(h.Entry)}
}

// readyOf is the ready list before the hook of the puller who was called, nil where nobody was or the hook has started.
// Who has said ready is asked nothing more: what changes then is told by the signals.
func readyOf(e domain.Event, class *domain.Class, base string, no *refused) *templates.Ready {
	h := class.OnTrack()
	if h == nil || !h.Started.IsZero() {
		return nil
	}
	view := &templates.Ready{Who: named(class.Entry(h.Entry)), Points: class.ReadyList(), Held: h.Ready.Held}
	if said := h.Ready; !said.At.IsZero() {
		view.Said = clock(e, said.At) + ": " + readyWords(domain.SayReady{Held: said.Held, Words: said.Words}) + "."
	}
	if view.Said == "" || view.Held {
		view.Confirm = no.make("ready", base+"ready", nil, hookField(h)...)
		view.Hold = no.make("hold", base+"hold", []string{templates.FieldWords}, hookField(h)...)
	}
	return view
}

// cabFormsOf lists the forms of the cab, to find out whether one tells a refusal.
func cabFormsOf(view templates.Cab) []*templates.Form {
	var forms []*templates.Form
	if view.Ready != nil {
		forms = append(forms, view.Ready.Confirm, view.Ready.Hold)
	}
	if view.Differed != nil {
		forms = append(forms, view.Differed.Form)
	}
	if view.Speeds != nil {
		forms = append(forms, view.Speeds.Form)
	}
	return forms
}

// readyWords says what the crew said: "the sled crew holds: cable frayed".
func readyWords(a domain.SayReady) string {
	words := "the sled crew is ready"
	if a.Held {
		words = "the sled crew holds"
	}
	if a.Words != "" {
		words += ": " + a.Words
	}
	return words
}

// crewSays is what the booth is told of the sled's crew before a hook; nil where nothing was said or the hook has
// started. It is no signal.
func crewSays(e domain.Event, class *domain.Class) *templates.Crew {
	h := class.OnTrack()
	if h == nil || !h.Started.IsZero() || h.Ready.At.IsZero() {
		return nil
	}
	said := domain.SayReady{Held: h.Ready.Held, Words: h.Ready.Words}
	return &templates.Crew{Held: said.Held, Text: clock(e, h.Ready.At) + ": " + readyWords(said) + "."}
}

// classStream is the address of the stream that tells when a class has changed.
func classStream(e domain.Event, class *domain.Class) string {
	return "/api/v1/events/" + e.Slug + "/classes/" + class.Slug + "/stream"
}
