package webui

import (
	"context"
	"errors"
	"strconv"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/doc"
	"clayline/webui/templates"
)

// Preview is what a result that is being typed would become if it were sent now.
//
//	287.3      {Result: "287.3 ft", Who: "41 Maud Farrow", Place: "2"}
//	28l.36     {Wrong: "\"28l.36\" is no distance. Type the distance, such as 281.36, …"}
//	2873       {Wrong: "2873 ft is hardly possible: … Enter asks once before it is stored."}
type Preview struct {
	Result string // as it would stand, with its unit and its digits
	Who    string // whose hook it is
	// Place is the place that the result would give now, "2=" for one that is shared; "" for none, and while the distance is
	// kept back.
	Place string
	Wrong string // the sentences that would refuse it, or ask once; the rest is "" then
}

// GoOnPreview says what a form with a result would become, on the copy of the class with what is kept. It decides as the
// server and [GoOn] do, and stores and draws nothing. What it says is in the language of the context.
func GoOnPreview(ctx context.Context, c doc.ClassCopy, kept []KeptForm, at KeptForm) (Preview, error) {
	ctx = at.typing(ctx)
	class, _ := onCopy(ctx, c, kept, func(KeptForm, error) {})
	after, values, err := at.on(ctx, class)
	if e, ok := errors.AsType[*domain.Error](err); ok {
		if len(doubtsOf(e)) > 0 {
			return Preview{Wrong: inText(ctx, sentence(e.Message)+" Enter asks once before it is stored.")}, nil
		}
		return Preview{Wrong: inText(ctx, refusalWords(e))}, nil
	}
	if err != nil {
		return Preview{}, err
	}
	hook, err := id(values, templates.FieldHook)
	if err != nil {
		return Preview{}, err
	}
	_, h := after.Find(hook)
	if h == nil {
		return Preview{}, &domain.Error{Kind: domain.NotFound, Field: templates.FieldHook, Message: "there is no such hook", Fix: "reload the page"}
	}
	e := after.Entry(h.Entry)
	return Preview{Result: inText(ctx, resultWords(h.Result)), Who: named(e), Place: placeNow(after.Told(), h.Entry)}, nil
}

// placeNow is the place of an entry as everybody may be told it.
func placeNow(told domain.Class, entry uuid.UUID) string {
	for _, p := range told.Standing() {
		if told.Entries[p.Row].ID != entry || p.Place == 0 {
			continue
		}
		if p.Shared {
			return strconv.Itoa(p.Place) + "="
		}
		return strconv.Itoa(p.Place)
	}
	return ""
}
