package webui

import (
	"fmt"
	"net/url"
	"slices"
	"strings"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/doc"
	"clayline/webui/templates"
)

// photosOf shows the photos of readings of a class, without the form to attach one.
func photosOf(e domain.Event, c *domain.Class) templates.Photos {
	var view templates.Photos
	for _, p := range slices.Backward(c.Photos) {
		round, h := c.Find(p.Hook)
		view.Seen = append(view.Seen, templates.Photo{
			Href: photoHref(e, c, p.ID), Reading: p.Reading.String(), Who: named(c.Entry(h.Entry)), Where: whichHook(round, h), Time: clock(e, p.At),
		})
	}
	return view
}

// attachable adds the form that attaches a photo: to any reading of the class that may have another, while it is not signed.
func attachable(e domain.Event, c *domain.Class, no *refused) templates.Photos {
	view := photosOf(e, c)
	if !c.Official.Made.IsZero() {
		return view
	}
	for i := range slices.Backward(c.Rounds) {
		r := &c.Rounds[i]
		for j := range slices.Backward(r.Hooks) {
			h := &r.Hooks[j]
			if h.Result.Counts() && !h.Result.Distance.IsZero() && len(c.PhotosOf(h.ID)) < domain.MaxPhotos {
				view.Hooks = append(view.Hooks, templates.Option{Value: h.ID.String() + " " + h.Result.Distance.String(), Text: hookOption(c, r, h)})
			}
		}
	}
	if len(view.Hooks) > 0 {
		view.Attach = no.make("photo", classHref(e, *c)+"/booth/photo", []string{templates.FieldReading, templates.FieldPhoto}, fresh(fieldShot))
	}
	return view
}

// hookOption is a hook in a list to choose from: "41 Maud Farrow: 281.36 ft, hook 1, round 1".
func hookOption(c *domain.Class, r *domain.Round, h *domain.Hook) string {
	return fmt.Sprintf("%s %s: %s, %s", c.Entry(h.Entry).Number, c.Entry(h.Entry).Details.Puller, resultWords(h.Result), whichHook(r, h))
}

// whichHook says which hook of which round: "hook 1, round 1".
func whichHook(r *domain.Round, h *domain.Hook) string {
	return fmt.Sprintf("hook %d, %s", h.Number, roundName(r.Name))
}

// photoHref is the address of a photo, for the staff.
func photoHref(e domain.Event, c *domain.Class, id uuid.UUID) string {
	return classHref(e, *c) + "/photo/" + id.String()
}

// photoOfLine is the address of the photo that a line of the journal is about, "" for any other line.
func photoOfLine(e domain.Event, c domain.Class, kind string, payload []byte) string {
	action, err := doc.DecodeAction(kind, payload)
	if a, ok := action.(domain.AttachPhoto); ok && err == nil {
		return photoHref(e, &c, a.Photo)
	}
	return ""
}

// photoAct reads to which reading a photo goes: the hook and the distance that the page showed beside it, so that a photo of
// a reading which was replaced meanwhile is not taken for one of the next. shot is the photo, wrong why it is none.
func photoAct(shot domain.AttachPhoto, wrong error) readForm {
	return func(_ *domain.Class, values url.Values) (domain.Action, error) {
		if wrong != nil {
			return nil, wrong
		}
		made, err := id(values, fieldShot)
		if err != nil {
			return nil, err
		}
		hook, reading, _ := strings.Cut(values.Get(templates.FieldReading), " ")
		a := shot
		a.Photo = made
		if a.Hook, err = uuid.Parse(hook); err == nil {
			a.Reading, err = domain.ParseDistance(reading, 0)
		}
		if err != nil {
			return nil, &domain.Error{Kind: domain.Invalid, Field: templates.FieldReading, Message: "the form is not complete", Fix: "reload the page and send it again", Cause: err}
		}
		return a, nil
	}
}
