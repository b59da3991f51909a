package domain

import (
	"fmt"
	"strconv"
	"strings"
)

// maxSlabs is more than any box holds.
const maxSlabs = 200

// Slabs says how many slabs lie on each side of the box and in its middle; their weight is in [Setting].Box.
type Slabs struct {
	Left, Middle, Right int
}

// Total is the number of slabs in the box.
func (s Slabs) Total() int { return s.Left + s.Middle + s.Right }

// plus adds the slabs of two piles, place by place.
func (s Slabs) plus(o Slabs) Slabs {
	return Slabs{Left: s.Left + o.Left, Middle: s.Middle + o.Middle, Right: s.Right + o.Right}
}

// check refuses a number of slabs that no box can hold.
func (s Slabs) check() error {
	if min(s.Left, s.Middle, s.Right) < 0 || max(s.Left, s.Middle, s.Right) > maxSlabs || s.Total() > maxSlabs {
		return invalid("slabs", "the number of slabs cannot be right", "count them from 0")
	}
	return nil
}

// Pile is how many slabs of one weight lie where.
type Pile struct {
	Weight Weight // of one slab
	Slabs  Slabs
}

// Piles says which slabs lie in the box and where, weight by weight. The zero Piles is none: the slabs are counted, if
// at all, and nobody said what one weighs. It is comparable, and kept as the text that people read:
//
//	1,800 lb: 6 left, 6 right; 900 lb: 2 middle
type Piles struct{ text string }

// NewPiles makes piles of a list and leaves out those without a slab. A pile without a weight, two of one weight, and
// more slabs than a box holds are refused at "slabs".
func NewPiles(list []Pile) (Piles, error) {
	var all Slabs
	var parts []string
	seen := make(map[int64]bool)
	for _, p := range list {
		if err := p.Slabs.check(); err != nil {
			return Piles{}, err
		}
		if p.Slabs.Total() == 0 {
			continue
		}
		switch all = all.plus(p.Slabs); {
		case p.Weight.IsZero():
			return Piles{}, invalid("slabs", "the weight of a slab is missing", "give it with its unit, such as 1800 lb")
		case seen[p.Weight.exact()]:
			return Piles{}, invalid("slabs", "slabs of "+p.Weight.String()+" stand twice", "count all of one weight together")
		}
		seen[p.Weight.exact()] = true
		parts = append(parts, p.String())
	}
	return Piles{text: strings.Join(parts, "; ")}, all.check()
}

// ParsePiles reads what [Piles.String] writes. Places may stand in any order, each once; a place that is neither left,
// middle nor right is refused. Empty text is the zero Piles.
func ParsePiles(text string) (Piles, error) {
	var list []Pile
	for part := range strings.SplitSeq(text, ";") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		p, err := parsePile(part)
		if err != nil {
			return Piles{}, err
		}
		list = append(list, p)
	}
	return NewPiles(list)
}

// parsePile reads "1,800 lb: 6 left, 6 right".
func parsePile(text string) (p Pile, err error) {
	weight, places, _ := strings.Cut(text, ":")
	if p.Weight, err = ParseWeight(weight); err != nil {
		return Pile{}, invalid("slabs", fmt.Sprintf("%q is no weight of a slab", strings.TrimSpace(weight)), "give it with its unit, such as 1800 lb")
	}
	for place := range strings.SplitSeq(places, ",") {
		count, name, _ := strings.Cut(strings.TrimSpace(place), " ")
		into, known := map[string]*int{"left": &p.Slabs.Left, "middle": &p.Slabs.Middle, "right": &p.Slabs.Right}[name]
		n, err := strconv.Atoi(count)
		if !known || err != nil || *into != 0 {
			return Pile{}, invalid("slabs", fmt.Sprintf("%q is no place of the box with its slabs", strings.TrimSpace(place)), "write left, middle and right once each, such as 6 left, 6 right")
		}
		*into = n
	}
	return p, nil
}

// IsZero reports whether nobody said which slabs lie where.
func (p Piles) IsZero() bool { return p.text == "" }

// String writes the piles as people read them; [ParsePiles] reads it back.
func (p Piles) String() string { return p.text }

// MarshalText writes [Piles.String].
func (p Piles) MarshalText() ([]byte, error) { return []byte(p.text), nil }

// UnmarshalText reads what MarshalText wrote.
func (p *Piles) UnmarshalText(text []byte) (err error) {
	*p, err = ParsePiles(string(text))
	return err
}

// List returns the piles one by one, in the order in which they were given.
func (p Piles) List() []Pile {
	var list []Pile
	for part := range strings.SplitSeq(p.text, "; ") {
		// The text was written by NewPiles, so that reading it cannot fail; the empty one has no pile.
		if pile, err := parsePile(part); err == nil {
			list = append(list, pile)
		}
	}
	return list
}

// Slabs counts the slabs of all piles, place by place.
func (p Piles) Slabs() (all Slabs) {
	for _, pile := range p.List() {
		all = all.plus(pile.Slabs)
	}
	return all
}

// String writes a pile: "1,800 lb: 6 left, 6 right".
func (p Pile) String() string {
	var where []string
	for i, n := range p.Slabs.places() {
		if n > 0 {
			where = append(where, strconv.Itoa(n)+" "+placeNames[i])
		}
	}
	return p.Weight.String() + ": " + strings.Join(where, ", ")
}

// placeNames are the places of a box from left to right, as somebody sees them who looks along the pull.
var placeNames = [...]string{"left", "middle", "right"}

// places lists the counts from left to right.
func (s Slabs) places() [len(placeNames)]int { return [...]int{s.Left, s.Middle, s.Right} }

// On returns the setting as it is on a sled: what follows from its slabs is filled in. Slabs that are counted without
// a weight have the only weight that the sled has; the weight in the box is the sum of them all. A weight that was given
// and is another, and slabs that the sled does not have, are refused. On a sled whose slabs nobody described it
// stays as it was written. What a box weighs is added up over its places (common practice, no published source).
func (s Setting) On(sled Sled) (Setting, error) {
	kinds := sled.Card.Slabs.Kinds
	if s.Piles.IsZero() {
		var err error
		switch {
		case len(kinds) == 0 || s.Slabs == Slabs{}:
			return s, nil
		case len(kinds) > 1:
			return s, invalid("slabs", "the slabs of this sled have more than one weight", "say how many of which weight lie where")
		}
		if s.Piles, err = NewPiles([]Pile{{Weight: kinds[0].Weight, Slabs: s.Slabs}}); err != nil {
			return s, err
		}
	}
	sum, err := sled.Card.weigh(s.Piles)
	if err != nil {
		return s, err
	}
	counted := s.Piles.Slabs()
	switch {
	case s.Slabs != Slabs{} && s.Slabs != counted:
		return s, invalid("slabs", "the slabs are not as many as there are of each weight", "count them again, or leave the sum of a place out")
	case s.Box.IsZero():
		s.Box = sum
	case s.Box.exact() != sum.exact():
		return s, invalid("box", s.Box.String()+" is not what the slabs weigh: "+sum.String(), "correct the slabs, or leave the weight out: it is computed")
	}
	s.Slabs = counted
	return s, nil
}

// weigh adds up the weight of piles, and refuses a slab that the sled does not have, or not so often.
func (c SledCard) weigh(piles Piles) (sum Weight, err error) {
	list := piles.List()
	sum = Weight{metric: list[0].Weight.metric, given: true}
	for _, p := range list {
		there := 0
		for _, k := range c.Slabs.Kinds {
			if k.Weight.exact() == p.Weight.exact() {
				there += k.Count
			}
		}
		switch n := p.Slabs.Total(); {
		case there == 0:
			return sum, invalid("slabs", "this sled has no slabs of "+p.Weight.String(), c.slabWords())
		case n > there:
			return sum, invalid("slabs", fmt.Sprintf("this sled has %d slabs of %s, and %d lie in the box", there, p.Weight, n), "count them again")
		case p.Weight.metric != sum.metric:
			return sum, invalid("slabs", "these slabs are described in pounds and in kilograms, and cannot be added up exactly", "leave them out and give the weight in the box")
		}
		sum = sum.plus(p.Weight, p.Slabs.Total())
		if sum.value.milli > maxDecimal {
			return sum, invalid("slabs", "the slabs weigh more than any box holds", "count them again, or correct the description of the sled")
		}
	}
	return sum, nil
}

// slabWords says which slabs there are: "it has 14 of 1,800 lb".
func (c SledCard) slabWords() string {
	if len(c.Slabs.Kinds) == 0 {
		return "describe its slabs, or give the weight in the box alone"
	}
	var kinds []string
	for _, k := range c.Slabs.Kinds {
		kinds = append(kinds, fmt.Sprintf("%d of %s", k.Count, k.Weight))
	}
	return "it has " + strings.Join(kinds, ", ")
}

// plus adds a weight so many times; both are in one unit. The sum has as many decimals as the finer of the two.
func (w Weight) plus(v Weight, times int) Weight {
	w.value.milli += v.value.milli * int64(times)
	w.value.digits = max(w.value.digits, v.value.digits)
	return w
}

// BoxLoad is what lies in the box under a setting, place by place. It is a record of what was set and says nothing of
// what is safe.
type BoxLoad struct {
	Places  []PlaceLoad // left, middle and right
	Slabs   int
	Weight  Weight // in the box, as the setting says
	WithBox Weight // with the empty box; zero where the description does not have it in the same unit
	Most    Weight // that the description allows; zero where it says nothing
}

// PlaceLoad is what lies in one place of the box.
type PlaceLoad struct {
	Name   string // left, middle or right
	Slabs  int
	Room   int    // how many slabs find room there, 0 where that is not known
	Weight Weight // zero where nobody said what the slabs weigh
	Layers []Layer
}

// Count says how many slabs lie there, and for how many there is room: "6 of 6 slabs".
func (p PlaceLoad) Count() string {
	if p.Room > 0 {
		return fmt.Sprintf("%d of %d slabs", p.Slabs, p.Room)
	}
	if p.Slabs == 1 {
		return "1 slab"
	}
	return fmt.Sprintf("%d slabs", p.Slabs)
}

// Layer is so many slabs of one weight in one place; the weight is zero where nobody said it.
type Layer struct {
	Weight Weight
	Count  int
}

// Load lays a setting out, place by place, on a sled that is described as far as it is.
func (s Setting) Load(card SledCard) BoxLoad {
	l := BoxLoad{Slabs: s.Slabs.Total(), Weight: s.Box, Most: card.Slabs.Most}
	if !card.Box.IsZero() && !s.Box.IsZero() && card.Box.metric == s.Box.metric {
		l.WithBox = s.Box.plus(card.Box, 1)
	}
	piles := s.Piles.List()
	room := [...]int{card.Slabs.Left, card.Slabs.Middle, card.Slabs.Right}
	for i, n := range s.Slabs.places() {
		place := PlaceLoad{Name: placeNames[i], Slabs: n, Room: room[i]}
		for _, p := range piles {
			if here := p.Slabs.places()[i]; here > 0 {
				place.Layers = append(place.Layers, Layer{Weight: p.Weight, Count: here})
				place.Weight = Weight{metric: p.Weight.metric, given: true, value: place.Weight.value}.plus(p.Weight, here)
			}
		}
		if len(piles) == 0 && n > 0 {
			place.Layers = []Layer{{Count: n}}
		}
		l.Places = append(l.Places, place)
	}
	return l
}

// Balance compares the two sides of the box. Heavier is "left", "right", or "" where both are the same; by is how much
// more lies there, zero where nobody said what the slabs weigh, and then slabs is how many more there are.
func (l BoxLoad) Balance() (heavier string, by Weight, slabs int) {
	left, right := l.Places[0], l.Places[len(l.Places)-1]
	heavy, light := left, right
	if left.Weight.value.milli < right.Weight.value.milli || left.Weight.value.milli == right.Weight.value.milli && left.Slabs < right.Slabs {
		heavy, light = right, left
	}
	slabs = heavy.Slabs - light.Slabs
	if heavy.Weight.value.milli > light.Weight.value.milli {
		return heavy.Name, heavy.Weight.plus(light.Weight, -1), slabs
	}
	if heavy.Weight.IsZero() && slabs > 0 {
		return heavy.Name, Weight{}, slabs
	}
	return "", Weight{}, 0
}
