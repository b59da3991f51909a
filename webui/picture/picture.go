// Package picture draws what the sled estimate says, as SVG that can be printed in black and white: settings differ by
// their lines and not by colour alone. It needs no page, so that a command and a page can use it alike. Beside it are the
// box of a sled with its slabs, and the code of an address, which a library computes.
//
//	sheet, ok := picture.Of(job, doc.FeetAndPounds())     // ok is false for a job that has nothing to draw
//	svg := sheet.SVG()
//
// Every picture of an estimate carries the cautions in their short form, because pictures are passed on without their page.
package picture

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"clayline/domain/doc"
	"clayline/domain/sled"
)

// Sheet is one picture: drag, load on the pan and position of the box over distance for up to four settings, and below
// it a strip of the track a vehicle, where there are any.
type Sheet struct {
	Title    string
	Line     float64 // ft, where a full pull ends
	Far      float64 // ft, how far to draw where the line ends nothing; 0: to the line
	Settings []Setting
	Lanes    []Lane
	Notes    []string // warnings and advice, a sentence each
	// Units are those in which it is read; feet and pounds where they are left out. Everything else here is in feet.
	Units doc.EstimateUnits

	phone bool
}

// ForPhone returns the sheet as it is drawn for a screen as narrow as a phone: without its title, its notes and the cautions,
// which have no room to be read in it and must stand beside it on the page.
func (s Sheet) ForPhone() Sheet {
	s.phone, s.Notes = true, nil
	return s
}

// in returns the units of the sheet.
func (s Sheet) in() doc.EstimateUnits {
	if s.Units == (doc.EstimateUnits{}) {
		return doc.FeetAndPounds()
	}
	return s.Units
}

// Setting is one curve of the picture with the name it goes by.
type Setting struct {
	Label string
	Curve *sled.Curve
}

// Lane is one vehicle: where it stopped, and between which distances it would have under the last setting, in feet. Those
// that are not known are nil: a range without a High has no end.
type Lane struct {
	Name                 string
	Today                float64
	Predicted, Low, High *float64
	Says                 string // the same in words
}

// Cautions are what must be read with every picture, in short.
func Cautions() []string {
	return []string{
		"Estimate only. The sled operator decides; local rules and officials come first. Not for safety.",
		"Every hook in a class has the same setting. Full pulls count as at least. Not for the public board, never a result.",
	}
}

// Signs say what is drawn of each vehicle.
const Signs = "dot: where it stopped; bar: the range; diamond: the middle; arrow: no end is known; bold line: full pull"

// MostSettings is how many settings can be told apart by their lines.
const MostSettings = 4

// dashes are the lines of the settings, as SVG has them.
var dashes = [MostSettings]string{"none", "9 4", "2 3", "9 3 2 3"}

// Measures of the picture in SVG's own units, which are about pixels.
const (
	panel, gap    = 130., 46.
	header, lines = 34., 17.
)

// layout is how wide a picture is, and where its curves lie in it.
type layout struct {
	width, left, plot float64
	lane              float64 // from one vehicle to the next
	phone             bool
}

// The two layouts: on paper and on a laptop the words stand beside the lanes, on a phone above them.
var (
	sheetWide = layout{width: 820, left: 74, plot: 616, lane: 20}
	phoneWide = layout{width: 360, left: 50, plot: 282, lane: 32, phone: true}
)

// drawn is one of the three curves of a setting, with what one of its units is in SI.
type drawn struct {
	title string
	unit  float64
	of    func(*sled.Curve, float64) float64
}

// panels are the three curves, in the units of a class.
func panels(u doc.EstimateUnits) []drawn {
	return []drawn{
		{"drag, " + u.Weight, u.Newtons(), (*sled.Curve).Drag},
		{"load on the pan, " + u.Weight, u.Newtons(), func(c *sled.Curve, d float64) float64 { pan, _ := c.Loads(d); return pan }},
		{"box, " + u.Length + " ahead of the axle", u.Metres(), (*sled.Curve).Box},
	}
}

// SVG draws the sheet. It is a whole document without scripts, links or fonts of its own, and says in words what it
// shows, for those who do not see it.
func (s Sheet) SVG() string {
	c, y := s.begin()
	y = s.curves(c, y)
	if len(s.Lanes) > 0 {
		y = s.strip(c, y)
	}
	return s.end(c, y)
}

// Curves draws the sheet without its strip, for a page that has a table between the two.
func (s Sheet) Curves() string {
	s.Lanes = nil
	return s.SVG()
}

// Track draws the strip alone; "" where nobody stopped anywhere.
func (s Sheet) Track() string {
	if len(s.Lanes) == 0 {
		return ""
	}
	c, y := s.begin()
	y = s.strip(c, y+lines)
	s.Notes = nil // they stand under the curves
	return s.end(c, y)
}

// begin draws the title and the settings by their lines, and returns where that ends.
func (s Sheet) begin() (c *canvas, y float64) {
	u, round := s.in(), 50.
	if u.Metric() {
		round = 10
	}
	// Distances come in feet and are drawn on an axis in the unit, which ends at a round figure of it.
	c, y = &canvas{layout: sheetWide, unit: u, most: math.Ceil(u.Long(max(s.Line, s.Far))/round-1e-9) * round}, header
	if s.phone {
		c.layout, y = phoneWide, lines
	} else {
		c.text(c.left, y-12, "start", "bold", s.Title)
	}
	for i, setting := range s.Settings {
		c.line(c.left, y, c.left+40, y, dashes[i%MostSettings], 1.8)
		c.text(c.left+48, y+4, "start", "", setting.Label)
		y += lines
	}
	return c, y
}

// curves draws the three panels and returns where they end.
func (s Sheet) curves(c *canvas, y float64) float64 {
	y += lines * float64(1+len(s.Settings))
	s.marks(c, y)
	for _, p := range panels(s.in()) {
		c.panel(y, p.title, s.traces(c.most, p))
		y += panel + gap
	}
	return y
}

// end writes the notes and the cautions, and closes the picture.
func (s Sheet) end(c *canvas, y float64) string {
	notes := slices.Concat(s.Notes, Cautions())
	if s.phone {
		notes = nil
	}
	for _, note := range notes {
		for _, part := range wrap(note, 118) {
			c.text(c.left, y, "start", "small", part)
			y += lines - 2
		}
	}
	return c.document(s.Title, s.words(), c.width, y+6)
}

// words say what the picture shows.
func (s Sheet) words() string {
	var words []string
	for _, setting := range s.Settings {
		words = append(words, fmt.Sprintf("%s: %s.", setting.Label, strings.Join(s.places(setting.Curve), ", ")))
	}
	for _, l := range s.Lanes {
		words = append(words, l.Name+": "+l.Says+".")
	}
	return strings.Join(append(words, Cautions()...), " ")
}

// places says where the pan drops and the box tops out, as far as either happens.
func (s Sheet) places(c *sled.Curve) []string {
	list := []string{}
	for _, p := range []struct {
		name string
		at   float64
	}{{"trip", c.Trip()}, {"top-out", c.TopOut()}} {
		if math.IsInf(p.at, 1) {
			list = append(list, "no "+p.name)
			continue
		}
		list = append(list, p.name+" "+s.in().Figure(p.at/sled.Foot)+" "+s.in().Length)
	}
	return list
}

// marks draws the line and, for every setting, trip and top-out through all panels. Trips are written to the left and
// top-outs to the right of their places, so that they do not meet.
func (s Sheet) marks(c *canvas, top float64) {
	bottom := top + 3*panel + 2*gap
	for i := range 3 {
		from := top + float64(i)*(panel+gap)
		c.line(c.x(s.Line), from, c.x(s.Line), from+panel, "none", 3)
	}
	c.text(c.x(s.Line), bottom+30, "middle", "small", "line "+strings.TrimSuffix(s.in().Figure(s.Line), ".0")+" "+s.in().Length)
	for i, setting := range s.Settings {
		row := top - 6 - lines*float64(len(s.Settings)-1-i)
		words := s.places(setting.Curve)
		for j, at := range []float64{setting.Curve.Trip(), setting.Curve.TopOut()} {
			if ft := at / sled.Foot; s.in().Long(ft) <= c.most {
				c.line(c.x(ft), row, c.x(ft), bottom, dashes[i%MostSettings], 0.7)
				c.mark(c.x(ft), row+4, j == 0, words[j])
			}
		}
	}
}

// traces computes a curve of every setting as far as the picture goes, in the unit of length and the panel's.
func (s Sheet) traces(far float64, p drawn) [][]point {
	list := make([][]point, len(s.Settings))
	for i, setting := range s.Settings {
		for step := range 1501 { // a jump is a thousandth of the track wide and cannot be seen
			at := far * float64(step) / 1500
			list[i] = append(list[i], point{at, p.of(setting.Curve, at*s.in().Metres()) / p.unit})
		}
	}
	return list
}

// strip draws a lane a vehicle: a dot where it stopped, a bar over the range of the prediction, a diamond in it. It
// returns where it ends.
func (s Sheet) strip(c *canvas, y float64) float64 {
	top := y - 8
	if !s.phone {
		c.text(c.left, y, "start", "bold", "each stop, and its range under "+s.Settings[len(s.Settings)-1].Label)
		c.text(c.left, y+lines, "start", "small", Signs)
		top = y + lines + 8
	}
	y = top
	for _, l := range s.Lanes {
		y += c.lane
		c.name(y, clip(l.Name, 9), l.Says)
		c.line(c.left, y, c.left+c.plot, y, "none", 0.4)
		if l.Low != nil {
			c.bar(y, *l.Low, l.High)
		}
		if l.Predicted != nil {
			c.diamond(*l.Predicted, y)
		}
		c.dot(l.Today, y)
	}
	c.line(c.x(s.Line), top+6, c.x(s.Line), y+10, "none", 3)
	c.axis(y + 12)
	return y + 56
}

// wrap cuts a sentence into lines of up to that many letters.
func wrap(s string, most int) (list []string) {
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && len(line)+1+len(word) > most {
			list, line = append(list, line), ""
		}
		line = strings.TrimPrefix(line+" "+word, " ")
	}
	return append(list, line)
}

// clip shortens a name to that many letters.
func clip(s string, most int) string {
	if letters := []rune(s); len(letters) > most {
		return string(letters[:most-1]) + "…"
	}
	return s
}
