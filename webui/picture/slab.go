package picture

import (
	"fmt"
	"math"

	"clayline/domain"
)

// Box is the box of a sled from above with the slabs in it. Balance compares its sides in words.
type Box struct {
	Load    domain.BoxLoad
	Balance string
}

// Measures of the box in SVG's own units: each place is a strip, with the front of the sled on top. A phone shows them
// about as they are.
const (
	boxWidth, boxTop, boxDeep = 330., 30., 168.
	strip, stripGap           = 98., 6.
	slabMost, slabReadable    = 26., 12.
)

// shades are the fill of a slab and of the words on it, by the place of its weight among those in the box. They differ
// in print and in the sun; the words and the table beside the picture say the same.
var shades = [...][2]string{{"#555", "#fff"}, {"#ccc", "#000"}, {"#fff", "#000"}}

// SVG draws the box. It is a whole document without scripts, links or styles of its own, and says in words what it shows.
// Where in a place a slab lies nobody said; they are drawn from the rear.
func (b Box) SVG() string {
	c := &canvas{}
	c.text(boxWidth/2, 18, "middle", "small", "front of the sled ↑")
	c.add(`<rect x="8" y="%s" width="%s" height="%s" fill="none" stroke="#000" stroke-width="2.5"/>`, num(boxTop), num(boxWidth-16), num(boxDeep+8))
	weights := b.weights()
	for i, place := range b.Load.Places {
		c.place(12+float64(i)*(strip+stripGap), place, weights)
	}
	y := boxTop + boxDeep + 30
	for i, place := range b.Load.Places {
		c.under(12+strip/2+float64(i)*(strip+stripGap), y, place)
	}
	y += 38
	for _, words := range b.Lines() {
		y += lines
		c.text(12, y, "start", "", words)
	}
	return c.document("The box from above", b.words(), boxWidth, y+10)
}

// weights lists the weights of the slabs in the box, each once, from left to right.
func (b Box) weights() map[domain.Weight]int {
	seen := make(map[domain.Weight]int)
	for _, place := range b.Load.Places {
		for _, layer := range place.Layers {
			if _, ok := seen[layer.Weight]; !ok {
				seen[layer.Weight] = len(seen)
			}
		}
	}
	return seen
}

// place draws the slabs of one place and the room that is left there.
func (c *canvas) place(x float64, p domain.PlaceLoad, weights map[domain.Weight]int) {
	slots := max(p.Room, p.Slabs)
	if slots == 0 {
		return
	}
	deep := math.Min(slabMost, boxDeep/float64(slots))
	y := boxTop + 4 + boxDeep
	for _, layer := range p.Layers {
		shade := shades[weights[layer.Weight]%len(shades)]
		for range layer.Count {
			y -= deep
			c.add(`<rect x="%s" y="%s" width="%s" height="%s" fill="%s" stroke="#000"/>`, num(x), num(y+1), num(strip), num(math.Max(deep-2, 0.5)), shade[0])
			if deep >= slabReadable && !layer.Weight.IsZero() {
				c.add(`<text x="%s" y="%s" text-anchor="middle" font-size="11" fill="%s">%s</text>`, num(x+strip/2), num(y+deep/2+4), shade[1], layer.Weight)
			}
		}
	}
	for range slots - p.Slabs {
		y -= deep
		c.add(`<rect x="%s" y="%s" width="%s" height="%s" fill="none" stroke="#000" stroke-width="0.8" stroke-dasharray="3 3"/>`, num(x), num(y+1), num(strip), num(math.Max(deep-2, 0.5)))
	}
}

// under writes what lies in a place below it.
func (c *canvas) under(x, y float64, p domain.PlaceLoad) {
	c.text(x, y, "middle", "bold", p.Name)
	c.text(x, y+lines, "middle", "", p.Count())
	if !p.Weight.IsZero() {
		c.text(x, y+2*lines, "middle", "", p.Weight.String())
	}
}

// Lines say what lies in the box altogether: its weight, its room, how its sides compare.
func (b Box) Lines() []string {
	l := b.Load
	list := []string{fmt.Sprintf("in the box: %s, %s", count(l.Slabs), l.Weight)}
	if l.Weight.IsZero() {
		list[0] = "in the box: " + count(l.Slabs)
	}
	if !l.WithBox.IsZero() {
		list = append(list, "with the empty box: "+l.WithBox.String())
	}
	if !l.Most.IsZero() {
		list = append(list, "the description allows "+l.Most.String()+" in the box")
	}
	return append(list, b.Balance)
}

// count counts slabs in words.
func count(n int) string {
	if n == 1 {
		return "1 slab"
	}
	return fmt.Sprintf("%d slabs", n)
}

// words say what the picture shows, for those who do not see it.
func (b Box) words() string {
	words := ""
	for _, p := range b.Load.Places {
		words += p.Name + " " + p.Count() + ". "
	}
	return words + b.Balance
}
