package doc

import (
	"fmt"
	"strings"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/draw"
)

// Verify draws again from what a proof says and compares. It returns in sentences what was looked at and found in
// order; the error is a [draw.Problem] with the first thing that is not. It trusts nothing in the proof but the
// public text, the secret text and the rules.
func (d Drawing) Verify() (checked []string, err error) {
	if d.Draw == nil {
		return nil, &draw.Problem{Field: "draw", Message: "the document has no draw in it", Fix: "make one with clayline draw make, or name the proof"}
	}
	again, err := d.Make()
	if err != nil {
		return nil, err
	}
	if d.Commitment != "" {
		checked = append(checked, fmt.Sprintf("The secret text %q has the hash that was committed to, %s.", again.Reveal, again.Commitment))
	}
	for _, c := range []struct{ what, is, should string }{
		{"the text that was drawn from", d.Draw.From, again.Draw.From},
		{"the way to the order", d.Draw.way(), again.Draw.way()},
		{"what the groups keep", fmt.Sprint(d.Draw.Kept), fmt.Sprint(again.Draw.Kept)},
		{"what is proven of the groups", fmt.Sprint(d.Draw.Proven), fmt.Sprint(again.Draw.Proven)},
		{"the number of places", fmt.Sprint(len(d.Draw.Order)), fmt.Sprint(len(again.Draw.Order))},
	} {
		if c.is != c.should {
			return checked, differs(c.what, c.is, c.should)
		}
	}
	checked = append(checked, fmt.Sprintf("The draw was made from %q.", d.Draw.From))
	for i, turn := range d.Draw.Order {
		should := again.Draw.Order[i]
		switch {
		case turn.Entry != should.Entry:
			return checked, differs(fmt.Sprintf("place %d", i+1), turn.Entry, should.Entry)
		case turn.Hash != should.Hash:
			return checked, differs("the hash of "+turn.Entry, turn.Hash, should.Hash)
		}
	}
	checked = append(checked, again.WayTold())
	for _, g := range again.Told() {
		checked = append(checked, g.Sentence+".")
	}
	for _, f := range again.Fixed {
		checked = append(checked, fmt.Sprintf("%s has place %d, which an official gave.", f.Entry, f.Place))
	}
	if len(again.Late) > 0 {
		checked = append(checked, strings.Join(again.Late, ", ")+" came too late to be drawn, and last in the order.")
	}
	return append(checked, "The order is the one that the draw gives: "+strings.Join(again.order(), ", ")+"."), nil
}

// differs is the refusal of a proof: what the draw gives is right, whatever the document says.
func differs(what, is, should string) error {
	return &draw.Problem{Field: "draw", Message: fmt.Sprintf("%s is %q in the document and %q by the draw", what, is, should), Fix: "the document does not prove its order; ask who published it"}
}

// way says in short how an order was found.
func (o *DrawOutcome) way() string {
	if o.List != nil {
		return fmt.Sprintf("number %s of a list of %s", o.List.Place, o.List.Orders)
	}
	return fmt.Sprintf("try %d", o.Try)
}

// WayTold says in a sentence how the order of a draw that was made was found.
func (d Drawing) WayTold() string {
	switch o := d.Draw; {
	case o.List != nil:
		return fmt.Sprintf("None of %d plain draws kept the rules; it is number %s, from 0, in the list of all %s orders that do.", draw.Tries, o.List.Place, o.List.Orders)
	case o.Try == 1:
		return "It is the plain draw of that text."
	default:
		return fmt.Sprintf("It is try %d: the first plain draw that keeps the rules, from the text with #%d behind it.", o.Try, o.Try)
	}
}

// order are the numbers in drawn order.
func (d Drawing) order() []string {
	list := make([]string, len(d.Draw.Order))
	for i, turn := range d.Draw.Order {
		list[i] = turn.Entry
	}
	return list
}

// DrawingOf writes a draw of a class down as its document, with the numbers of the entries and the names of who pulls
// each group. It is false before the draw. Entries that came late are not in it, and places that were changed since stay
// as drawn.
func DrawingOf(c *domain.Class) (Drawing, bool) {
	if c.Draw.Times == 0 {
		return Drawing{}, false
	}
	how := c.Draw.How
	d := Drawing{Seed: how.Public, Commitment: how.Promise.Hash, Reveal: how.Reveal, Apart: []DrawApart{}, Fixed: []DrawPlace{}, Late: []string{}}
	if d.Seed == "" {
		d.Seed, how.Try = c.Draw.Seed, 1 // drawn before there were rules
	}
	number := func(id uuid.UUID) string { return c.Entry(id).Number }
	for _, seat := range how.Fixed {
		d.Fixed = append(d.Fixed, DrawPlace{Entry: number(seat.Entry), Place: seat.Place})
	}
	d.Draw = &DrawOutcome{From: c.Draw.Seed, Try: how.Try, Kept: []int{}, Proven: []bool{}}
	if how.Try == 0 {
		d.Draw.List = &DrawListed{Place: how.Place, Orders: how.Listed}
	}
	for _, g := range how.Groups {
		apart := DrawApart{Name: c.Entry(g.Entries[0]).Details.Puller, Between: g.Between}
		for _, id := range g.Entries {
			apart.Entries = append(apart.Entries, number(id))
		}
		d.Apart = append(d.Apart, apart)
		d.Draw.Kept, d.Draw.Proven = append(d.Draw.Kept, g.Kept), append(d.Draw.Proven, g.Proven)
	}
	for _, id := range c.Draw.Order {
		d.Entries = append(d.Entries, number(id))
		d.Draw.Order = append(d.Draw.Order, d.Draw.turn(d, number(id)))
	}
	return d, true
}

// ToldGroup is what a draw did for a group, in words.
type ToldGroup struct {
	Sentence string // without its point
	Broken   bool   // less is kept than was asked for
}

// Told says of each group of a draw that was made what it keeps. Less than was asked for is said with the reason.
func (d Drawing) Told() []ToldGroup {
	told := make([]ToldGroup, len(d.Apart))
	for i, g := range d.Apart {
		kept := d.Draw.Kept[i]
		name := strings.Join(g.Entries, " and ")
		if g.Name != "" {
			name += " (" + g.Name + ")"
		}
		told[i] = ToldGroup{Sentence: fmt.Sprintf("%s are at least %s apart", name, hooks(kept))}
		if kept < g.Between {
			why := "no order keeps more beside the other rules"
			if !d.Draw.Proven[i] {
				why = "no order that keeps more was found before the search was given up"
			}
			told[i] = ToldGroup{Sentence: fmt.Sprintf("%s are only %s apart instead of %d: %s", name, hooks(kept), g.Between, why), Broken: true}
		}
	}
	return told
}

// hooks counts hooks in words.
func hooks(n int) string {
	if n == 1 {
		return "1 hook"
	}
	return fmt.Sprintf("%d hooks", n)
}
