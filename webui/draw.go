//go:build !js

package webui

import (
	"context"
	"fmt"
	"io"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/doc"
	"clayline/domain/draw"
	"clayline/webui/templates"
)

// drawFields are what the form of a draw sends; a further draw has a reason too.
var drawFields = []string{templates.FieldSeed, templates.FieldBetween, templates.FieldFixed, templates.FieldReveal, templates.FieldReason}

// notDrawn says at the text to draw from why it may be left empty, by where the order comes from.
var notDrawn = map[domain.OrderSource]string{
	domain.AsEntered:   "Under these rules the order is that of the entries. Nothing is drawn.",
	domain.ByOrganiser: "Under these rules the organiser gives every entry its place: write them all at Fixed places. Nothing is drawn.",
}

// deskDraw offers the draw, or a further one before the class has begun, and what goes with it: a commitment to half of
// the seed, and places that change. The order shown is as drawn, whatever was moved since.
func deskDraw(view *templates.DeskClass, e domain.Event, class *domain.Class, base string, no *refused) {
	view.NotDrawn = notDrawn[class.Rules.Order.By]
	r := class.Current()
	if r != nil && (len(class.Rounds) > 1 || len(r.Hooks) > 0) {
		view.Order = drawnOrder(class)
		return
	}
	form := no.make("draw", base+"draw", drawFields, fresh(fieldRound))
	if form.Values == nil {
		form.Values = map[string]string{templates.FieldBetween: strconv.Itoa(domain.BetweenUsual)}
	}
	view.Commit = no.make("commit", base+"commit", []string{templates.FieldPromise, templates.FieldReason})
	if p := class.Promise; p.Hash != "" {
		view.Promised = "The commitment of " + clock(e, p.Made) + " stands: " + p.Hash
	}
	if r == nil {
		view.Draw = form
		return
	}
	view.Order, view.Redraw = drawnOrder(class), form
	view.Swap = no.make("swap", base+"swap", []string{templates.FieldNumber, templates.FieldWith, templates.FieldReason})
	for _, id := range r.Waiting() {
		e := class.Entry(id)
		view.InLine = append(view.InLine, templates.Option{Value: id.String(), Text: strings.TrimSpace(e.Number + " " + e.Details.Puller), Typed: true})
	}
	if n := len(view.InLine); view.Swap.Values == nil && n > 1 {
		view.Swap.Values = map[string]string{templates.FieldNumber: view.InLine[0].Value, templates.FieldWith: view.InLine[1].Value}
	}
}

// drawnOrder lists the entries as they were drawn.
func drawnOrder(class *domain.Class) (list []templates.Puller) {
	for _, id := range class.Draw.Order {
		list = append(list, puller(class.Entry(id)))
	}
	return list
}

// drawAct reads a draw, the first or a further one; a further one needs a reason.
func drawAct(class *domain.Class, values url.Values) (domain.Action, error) {
	round, err := id(values, fieldRound)
	if err != nil {
		return nil, err
	}
	a := domain.DrawClass{Round: round, Seed: values.Get(templates.FieldSeed), Reason: values.Get(templates.FieldReason), Reveal: values.Get(templates.FieldReveal)}
	if a.Between, err = number(values, templates.FieldBetween, "it"); err != nil {
		return nil, err
	}
	a.Fixed, err = seats(class, values.Get(templates.FieldFixed))
	return a, err
}

// seats reads fixed places, "41 on 1, 7 on 3". The word between, and commas, may be left out where that is clear:
// numbers of vehicles hold no spaces here.
func seats(class *domain.Class, text string) ([]domain.Seat, error) {
	refuse := func(message, fix string) ([]domain.Seat, error) {
		return nil, &domain.Error{Kind: domain.Invalid, Field: templates.FieldFixed, Message: message, Fix: fix}
	}
	var list []domain.Seat
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == '\n' }) {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		who, where, ok := strings.Cut(part, " on ")
		place, err := strconv.Atoi(strings.TrimSpace(where))
		if !ok || err != nil {
			return refuse(fmt.Sprintf("%q is no fixed place", part), "write the number and its place, such as 41 on 1")
		}
		at := slices.IndexFunc(class.Entries, func(e domain.Entry) bool {
			return strings.EqualFold(e.Number, strings.TrimSpace(who)) && e.Scratched == ""
		})
		if at < 0 {
			return refuse(strings.TrimSpace(who)+" is not entered", "enter it first, or correct the number")
		}
		list = append(list, domain.Seat{Entry: class.Entries[at].ID, Place: place})
	}
	return list, nil
}

// commitAct reads a commitment to half of the seed.
func commitAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	return domain.Commit{Hash: values.Get(templates.FieldPromise), Reason: values.Get(templates.FieldReason)}, nil
}

// swapAct reads which two change places.
func swapAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	list, err := ids(values, templates.FieldNumber, templates.FieldWith)
	if err != nil {
		return nil, err
	}
	return domain.Swap{Entry: list[0], With: list[1], Reason: values.Get(templates.FieldReason)}, nil
}

// quoted writes text as one word of a shell, whatever is in it: people paste the command.
func quoted(s string) string { return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'" }

// drawProof shows how the order came about: the seed, the time, what was to be kept and was not, and a command that
// anybody can type to check the first place. Before the draw it shows the commitment that stands, or is nil.
func drawProof(e domain.Event, c *domain.Class) *templates.Draw {
	var notes []string
	if p := c.Promise; p.Hash != "" {
		notes = append(notes, joined("A commitment to the next draw was published "+clock(e, p.Made)+": "+p.Hash, p.Reason)+
			". The secret text that has this hash, and words said aloud at the draw, make the seed.")
	}
	d := c.Draw
	told, drawn := doc.DrawingOf(c)
	switch {
	case !drawn && notes == nil:
		return nil
	case !drawn:
		return &templates.Draw{Notes: notes}
	}
	proof := &templates.Draw{Seed: d.Seed, Time: clock(e, d.Drawn), Notes: append(notes,
		"Anyone can compute the order again: each number is placed by the SHA-256 of the seed, a bar and the number, the smallest first.")}
	if h := d.How; h.Promise.Hash != "" {
		proof.Notes = append(proof.Notes, fmt.Sprintf("Published %s, before the draw: %s, the SHA-256 of %s. Said at the draw: %s.",
			joined(clock(e, h.Promise.Made), h.Promise.Reason), h.Promise.Hash, quoted(h.Reveal), quoted(h.Public)))
	}
	proof.Notes = append(proof.Notes, drawRulesTold(told)...)
	if d.Times > 1 {
		proof.Notes = append(proof.Notes, fmt.Sprintf("Drawn %d times; the last time because: %s", d.Times, d.Reason))
	}
	for _, entry := range c.Entries {
		if entry.Late {
			proof.Notes = append(proof.Notes, entry.Number+" was entered after the draw and is last in the order.")
		}
	}
	return proof
}

// drawFile is drawProof with the way to the proof as a file, which has no place on paper.
func drawFile(e domain.Event, c *domain.Class) *templates.Draw {
	proof := drawProof(e, c)
	if proof != nil && proof.Time != "" {
		proof.How = templates.Link{Text: "The proof as a file, for clayline draw verify", Href: classHref(e, *c) + "/draw.json"}
	}
	return proof
}

// drawExport serves the proof of a draw, which anybody can verify with the program and without it.
func (s *Site) drawExport(c echo.Context) error {
	kept := jsonExport
	kept.how = "attachment"
	return s.file(c, kept, c.Param("event")+"-"+c.Param("class")+"-draw", func(ctx context.Context, w io.Writer) error {
		page, err := s.desk.ClassPage(ctx, ref(c))
		if err != nil {
			return err
		}
		proof, drawn := doc.DrawingOf(&page.Class)
		if !drawn {
			return &domain.Error{Kind: domain.NotFound, Message: "the class is not drawn, and there is no proof of a draw", Fix: "come back after the draw; the class page tells of it"}
		}
		return proof.Write(w)
	})
}

// drawRulesTold says which try it was, who is first by which hash, and what became of the rules; broken ones come first.
func drawRulesTold(d doc.Drawing) (notes []string) {
	var kept []string
	for _, g := range d.Told() {
		if g.Broken {
			notes = append(notes, "Not kept: "+g.Sentence+".")
		} else {
			kept = append(kept, g.Sentence+".")
		}
	}
	notes = append(notes, kept...)
	for _, f := range d.Fixed {
		notes = append(notes, fmt.Sprintf("%s has place %d, given by an official.", f.Entry, f.Place))
	}
	if d.Draw.Try != 1 {
		notes = append(notes, d.WayTold())
	}
	at := slices.IndexFunc(d.Draw.Order, func(t doc.DrawnTurn) bool { return t.Hash != "" })
	if at < 0 {
		return notes
	}
	turn := d.Draw.Order[at]
	which := "First is " + turn.Entry
	if at > 0 {
		which = "First of those drawn is " + turn.Entry
	}
	return append(notes, fmt.Sprintf("%s, whose hash begins with %s: printf '%%s|%%s' %s %s | sha256sum",
		which, turn.Hash[:12], quoted(draw.TrySeed(d.Draw.From, d.Draw.Try)), quoted(turn.Entry)))
}
