package picture

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"

	"clayline/domain/doc"
)

// canvas collects the elements of a picture whose x-axis is distance in a unit of length, from 0 to most.
type canvas struct {
	layout
	unit doc.EstimateUnits
	most float64
	out  strings.Builder
}

// point is a place on a curve: distance in the unit of the axis, and a value.
type point struct{ x, y float64 }

// x returns where a distance in feet lies, the end of the axis for one beyond it.
func (c *canvas) x(ft float64) float64 { return c.at(min(c.unit.Long(ft), c.most)) }

// at returns where a distance in the unit of the axis lies.
func (c *canvas) at(x float64) float64 { return c.left + c.plot*x/c.most }

// document closes the picture with its measures and returns it.
func (c *canvas) document(title, words string, width, height float64) string {
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" role="img" font-family="system-ui, sans-serif" font-size="13" fill="#000" stroke="none">
<title>%s</title>
<desc>%s</desc>
<rect width="100%%" height="100%%" fill="#fff"/>
%s</svg>
`, num(width), num(height), html.EscapeString(title), html.EscapeString(words), c.out.String())
}

// num writes a measure with one decimal at most.
func num(x float64) string { return strconv.FormatFloat(math.Round(x*10)/10, 'f', -1, 64) }

// add writes an element.
func (c *canvas) add(format string, values ...any) { fmt.Fprintf(&c.out, format+"\n", values...) }

// line draws a line with dashes and a width.
func (c *canvas) line(x1, y1, x2, y2 float64, dash string, wide float64) {
	c.add(`<path d="M%s %sL%s %s" stroke="#000" stroke-width="%s" stroke-dasharray="%s"/>`, num(x1), num(y1), num(x2), num(y2), num(wide), dash)
}

// text writes words; anchor is start, middle or end, and style "", small or bold.
func (c *canvas) text(x, y float64, anchor, style, words string) {
	attributes := map[string]string{"small": ` font-size="11"`, "bold": ` font-weight="600"`}[style]
	c.add(`<text x="%s" y="%s" text-anchor="%s"%s>%s</text>`, num(x), num(y), anchor, attributes, html.EscapeString(words))
}

// mark writes words beside a place, to its left or to its right, and within the picture.
func (c *canvas) mark(x, y float64, before bool, words string) {
	const letter = 5.8 // about the width of a small one
	switch {
	case before:
		c.text(max(x-3, letter*float64(len(words))), y, "end", "small", words)
	case x+3+letter*float64(len(words)) > c.width:
		c.text(c.width-2, y, "end", "small", words)
	default:
		c.text(x+3, y, "start", "small", words)
	}
}

// name writes whose lane it is and what is said of it: beside the lane, or above it on a phone.
func (c *canvas) name(y float64, name, says string) {
	if c.phone {
		c.text(4, y-9, "start", "small", name)
		c.text(c.left, y-9, "start", "small", says)
		return
	}
	c.text(c.left-8, y+4, "end", "", name)
	c.text(c.left+c.plot+8, y+4, "start", "small", says)
}

// bar draws a range, which goes on past the end of the track when it has no end.
func (c *canvas) bar(y, low float64, high *float64) {
	from, to := c.x(low), c.left+c.plot
	if high != nil {
		to = c.x(*high)
	}
	c.add(`<rect x="%s" y="%s" width="%s" height="7" fill="#bbb" stroke="#000" stroke-width="0.6"/>`, num(from), num(y-3.5), num(max(to-from, 1)))
	if high == nil {
		c.add(`<path d="M%s %sl7 5l-7 5z"/>`, num(to-7), num(y-5))
	}
}

// dot draws where a vehicle stopped.
func (c *canvas) dot(ft, y float64) { c.add(`<circle cx="%s" cy="%s" r="4.2"/>`, num(c.x(ft)), num(y)) }

// diamond draws where it would have.
func (c *canvas) diamond(ft, y float64) {
	c.add(`<path d="M%s %sl6 6l-6 6l-6 -6z" fill="#fff" stroke="#000" stroke-width="1.3"/>`, num(c.x(ft)), num(y-6))
}

// axis draws the distances below a panel.
func (c *canvas) axis(y float64) {
	c.line(c.left, y, c.left+c.plot, y, "none", 1)
	parts := 8
	if c.phone {
		parts = 5
	}
	step := nice(c.most, parts)
	for x := 0.0; x <= c.most*(1+1e-9); x += step {
		c.line(c.at(x), y, c.at(x), y+4, "none", 1)
		c.text(c.at(x), y+16, "middle", "small", num(x))
	}
	c.text(c.left+c.plot+16, y+16, "start", "small", c.unit.Length)
}

// panel draws curves over distance, one of each setting, on a scale from 0 (or the least) to the most of all.
func (c *canvas) panel(top float64, title string, traces [][]point) {
	least, most := 0.0, 1e-9
	for _, trace := range traces {
		for _, p := range trace {
			least, most = min(least, p.y), max(most, p.y)
		}
	}
	step := nice(most-least, 4)
	least, most = math.Floor(least/step)*step, math.Ceil(most/step)*step
	at := func(v float64) float64 { return top + panel*(most-v)/(most-least) }
	for v := least; v <= most+step/2; v += step {
		c.line(c.left, at(v), c.left+c.plot, at(v), "1 3", 0.5)
		c.text(c.left-6, at(v)+4, "end", "small", thousands(v))
	}
	c.text(c.left+6, top+13, "start", "small", title)
	for i, trace := range traces {
		c.add(`<path d="%s" fill="none" stroke="#000" stroke-width="1.8" stroke-dasharray="%s"/>`, c.path(trace, at), dashes[i%MostSettings])
	}
	c.axis(top + panel)
}

// path writes a curve. Points on the straight line between their neighbours are left out, since curves are made of
// straight pieces.
func (c *canvas) path(trace []point, at func(float64) float64) string {
	var d strings.Builder
	for i, p := range trace {
		if i > 0 && i < len(trace)-1 {
			before, after := trace[i-1], trace[i+1]
			if math.Abs(at(before.y)+at(after.y)-2*at(p.y)) < 1e-3 {
				continue
			}
		}
		d.WriteString(map[bool]string{true: "M", false: "L"}[i == 0] + num(c.at(p.x)) + " " + num(at(p.y)))
	}
	return d.String()
}

// nice returns a step of 1, 2 or 5 and zeros that divides a length into about so many parts.
func nice(length float64, parts int) float64 {
	rough := length / float64(parts)
	unit := math.Pow(10, math.Floor(math.Log10(rough)))
	for _, factor := range []float64{1, 2, 5} {
		if rough <= factor*unit*(1+1e-9) {
			return factor * unit
		}
	}
	return 10 * unit
}

// thousands writes a figure with commas: 12,000.
func thousands(v float64) string {
	s := num(math.Abs(v))
	whole, rest, _ := strings.Cut(s, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if rest != "" {
		whole += "." + rest
	}
	if v < 0 {
		return "-" + whole
	}
	return whole
}
