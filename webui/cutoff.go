package webui

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/a-h/templ"
	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
	"clayline/webui/language"
	"clayline/webui/templates"
)

// KeptForm is a form of the booth or the cab that a browser keeps until the server has it.
type KeptForm struct {
	Action uuid.UUID // id of its action, which makes it be done once however often it is sent
	Page   string    // "booth" or "cab"
	Act    string    // last part of the address it posts to: "result"
	Values string    // the fields, as a request has them: "hook=…&result=281.36"
	At     time.Time // when it was typed
}

// CutOff is a page of the booth or the cab as it goes on without the server.
type CutOff struct {
	// Main is what stands in the page's main part, as HTML.
	Main string
	// Refused says that the form at hand cannot be done; Main says why, with the typing kept. It is then not to be kept.
	Refused bool
	// Stands says for each kept form that cannot be done on the copy why, by the id of its action. The server may see
	// it otherwise; a person decides what becomes of it.
	Stands map[uuid.UUID]string
}

// GoOn lays out a page of a class that cannot reach its server: the copy that the server gave, with what was typed since.
// It is the work of the server without the server, done by the same decisions and the same pages: kept forms are done in
// order on the copy, then the form at hand, nil for none; the page is in the language of the context. A kept form that the copy has already, because its answer was
// lost, is passed over.
//
// The copy has 41 on the track, and 281.36 is kept for it. Then the page asks for the next puller, shows 281.36 as kept
// here, and ranks 41 by it.
func GoOn(ctx context.Context, page string, c doc.ClassCopy, kept []KeptForm, at *KeptForm) (CutOff, error) {
	alone := CutOff{Stands: map[uuid.UUID]string{}}
	class, done := onCopy(ctx, c, kept, func(form KeptForm, err error) { alone.Stands[form.Action] = inText(ctx, refusalWords(err)) })
	var no *refused
	if at != nil {
		after, values, err := at.on(ctx, class)
		if err != nil {
			ctx = at.typing(ctx)
			if no = refusal(formOf(at.Act, values), values, err); no == nil {
				return alone, err
			}
			alone.Refused = true
		} else {
			class, done = after, done+1
		}
	}
	var err error
	alone.Main, err = alonePage(ctx, page, c, class, done, no)
	return alone, err
}

// onCopy does kept forms on the class of a copy, in order, and counts those that were done. One that the copy has already is
// passed over, and one that cannot be done is told to refused.
func onCopy(ctx context.Context, c doc.ClassCopy, kept []KeptForm, refused func(KeptForm, error)) (class domain.Class, done int) {
	class = c.Class
	for _, form := range kept {
		if slices.Contains(c.Done, form.Action) {
			continue
		}
		after, _, err := form.on(ctx, class)
		if err != nil {
			refused(form, err)
			continue
		}
		class, done = after, done+1
	}
	return class, done
}

// read reads the fields of a form, numbers as the language writes them; was is how those were typed.
func (k KeptForm) read(ctx context.Context) (values url.Values, was language.Retyped, err error) {
	if values, err = url.ParseQuery(k.Values); err != nil {
		return values, nil, err
	}
	return values, language.Of(ctx).TypedValues(values), nil
}

// typing is the context in which a page gives back what the form has as it was typed.
func (k KeptForm) typing(ctx context.Context) context.Context {
	_, was, _ := k.read(ctx)
	return language.WithTyped(ctx, was)
}

// on does the form on a class, as the server would.
func (k KeptForm) on(ctx context.Context, class domain.Class) (after domain.Class, values url.Values, err error) {
	if values, _, err = k.read(ctx); err != nil {
		return class, values, err
	}
	read, known := map[string]acts{"booth": boothActs, "cab": cabActs}[k.Page][k.Act]
	if !known {
		return class, values, &domain.Error{Kind: domain.NotFound, Field: "act", Message: "there is no such form", Fix: "reload the page"}
	}
	action, err := readGuarded(read, &class, values)
	if err != nil {
		return class, values, err
	}
	after, err = domain.Decide(class, action, k.At)
	return after, values, err
}

// alonePage draws the main part of a page; class is the copy's class with what is kept, done says how many forms that are.
func alonePage(ctx context.Context, page string, c doc.ClassCopy, class domain.Class, done int, no *refused) (string, error) {
	shown := desk.ClassPage{Event: c.Event, Class: class}
	if page == "cab" {
		return inMain(ctx, cabOf(templates.Frame{}, shown, no).Main())
	}
	view := boothOf(templates.Frame{}, shown, no)
	here := keptHooks(&c.Class, &class)
	for i, s := range view.Stored {
		if here[s.Hook] {
			view.Stored[i].Remarks = append(s.Remarks, "kept here")
		}
	}
	view.Alone = &templates.Alone{
		Text: fmt.Sprintf("%s kept here, not on the server. The server had number %d.", firstUpper(counted(done, "form")), c.Number),
		Rank: standing(c.Event, &class), Order: waiting(&class),
	}
	view.ClassHref = ""
	return inMain(ctx, view.Main())
}

// inMain draws a main part in the language of the context.
func inMain(ctx context.Context, main templ.Component) (string, error) {
	var out bytes.Buffer
	if err := main.Render(ctx, &out); err != nil {
		return "", err
	}
	said, _ := language.Say(ctx, out.Bytes())
	return string(said), nil
}

// inText says a text in the language of the context.
func inText(ctx context.Context, text string) string {
	said, _ := language.SayText(ctx, text)
	return said
}

// waiting lists who has still to hook in the current round, in order.
func waiting(c *domain.Class) []templates.Puller {
	r := c.Current()
	if r == nil {
		return nil
	}
	var list []templates.Puller
	for _, entry := range r.Waiting() {
		list = append(list, puller(c.Entry(entry)))
	}
	return list
}

// keptHooks tells of which hooks of the current round, by number, the copy has another result or none.
func keptHooks(before, after *domain.Class) map[string]bool {
	here := map[string]bool{}
	r := after.Current()
	if r == nil {
		return here
	}
	for _, h := range r.Hooks {
		if _, was := before.Find(h.ID); was == nil || was.Result != h.Result {
			here[strconv.Itoa(h.Number)] = true
		}
	}
	return here
}

// refusalWords says in two sentences why something cannot be done, and what to do about it.
func refusalWords(err error) string {
	if e, ok := errors.AsType[*domain.Error](err); ok {
		return strings.TrimSpace(sentence(e.Message) + " " + sentence(e.Fix))
	}
	return sentence(err.Error())
}

// fieldWhose names the field that says about whom a form is: who was on the track, or next to be called, when it was shown.
const fieldWhose = "of"

// ofWhom is the hidden field that says about whom a form is.
func ofWhom(entry uuid.UUID) templates.Hidden {
	return templates.Hidden{Name: fieldWhose, Value: entry.String()}
}

// readGuarded reads a form, refuses one whose hook is another puller's by now, and asks once about what is hardly possible.
func readGuarded(read readForm, class *domain.Class, values url.Values) (domain.Action, error) {
	action, err := read(class, values)
	if err == nil {
		err = forWhom(class, action, values)
	}
	if err == nil {
		err = likely(class, action, values)
	}
	return action, err
}

// forWhom refuses a form whose hook is another puller's by now. A form that was kept for a while names its hook by an id that
// was made in the browser, and who hooks with that id follows from an order that may have been changed meanwhile: a distance
// must never be stored for whoever happened to be called instead.
func forWhom(class *domain.Class, action domain.Action, values url.Values) error {
	if !values.Has(fieldWhose) {
		return nil
	}
	meant, err := id(values, fieldWhose)
	if err != nil {
		return err
	}
	hooks := hookOfForm(class, values, action)
	if hooks == uuid.Nil || hooks == meant {
		return nil
	}
	return &domain.Error{Kind: domain.Stale, Field: templates.FieldHook,
		Message: fmt.Sprintf("this was typed for %s, and the hook is of %s now", named(class.Entry(meant)), named(class.Entry(hooks))),
		Fix:     "look at the order of the class, and decide for whom it is"}
}

// hookOfForm returns whose hook the form is about as the class is now, or whom a call would call; the nil UUID where that
// cannot be told, which the decision then refuses.
func hookOfForm(class *domain.Class, values url.Values, action domain.Action) uuid.UUID {
	name := templates.FieldHook
	_, call := action.(domain.Call)
	if call {
		name = fieldNext
	}
	hook, err := id(values, name)
	if err != nil {
		return uuid.Nil
	}
	if _, h := class.Find(hook); h != nil {
		return h.Entry
	}
	if r := class.Current(); call && class.Phase() == domain.Ready && len(r.Waiting()) > 0 {
		return r.Waiting()[0]
	}
	return uuid.Nil
}
