package webui

import (
	"net/url"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// cabActs are what the cab may send, by the last part of the address.
var cabActs = acts{
	"ready": readyAct,
	"hold":  holdAct,
}

// cabAct does what the cab sent.
func (s *Site) cabAct(c echo.Context) error {
	return s.act(c, domain.Cab|domain.Desk, "cab", cabActs, func(by desk.By, page desk.ClassPage, no *refused) templates.Page {
		view := s.cabOf(c, by, page, no)
		if !tells(cabFormsOf(view)...) {
			view.Notice = no.told()
		}
		return view
	})
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

// hookField is the hidden field that names the hook of a form which calls nobody.
func hookField(hook uuid.UUID) templates.Hidden {
	return templates.Hidden{Name: templates.FieldHook, Value: hook.String()}
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
		view.Confirm = no.make("ready", base+"ready", nil, hookField(h.ID))
		view.Hold = no.make("hold", base+"hold", []string{templates.FieldWords}, hookField(h.ID))
	}
	return view
}

// cabFormsOf lists the forms of the cab, to find out whether one tells a refusal.
func cabFormsOf(view templates.Cab) []*templates.Form {
	if view.Ready == nil {
		return nil
	}
	return []*templates.Form{view.Ready.Confirm, view.Ready.Hold}
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
