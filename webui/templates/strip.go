package templates

import (
	"fmt"
	"strconv"
)

// Strip is the track lying left to right, with every stop marked on it.
//
// Positions are whole thousandths of the unit: 296.41 ft is 296410. A strip knows no rules: whoever fills it
// says which stops are full pulls and which of them leads.
//
// It is drawn as SVG on the server, twice, and the width of the window chooses; a phone without scripts sees
// where everybody stopped. Labels never cover each other: they are stacked in a few rows, and where those are
// full a stop keeps a tick without a label. What is drawn is also told in words; see [Strip.Tell].
type Strip struct {
	ID      string // unique on the page: "strip"
	Name    string // what the strip shows, for those who cannot see it: "8,200 lb Field Stock"
	Unit    string // "ft"
	Line    int    // the full-pull line; 0 if the finish floats
	Restart int    // the line before which a stopped attempt may be repeated; 0 if there is none
	Step    int    // distance between marks; 0 picks one
	Max     int    // the least to show; the strip grows to hold every stop
	Lanes   []Lane // the rounds, first on top
}

// Lane is one round on the strip.
type Lane struct {
	Name  string // "Round 1", "Pull-off"
	Stops []Stop
}

// StopKind says how a stop is drawn.
type StopKind int

const (
	// StopAt is a measured stop.
	StopAt StopKind = iota
	// StopFull is a full pull: past the line, At is not looked at.
	StopFull
	// StopLeads is the stop that leads the lane: it carries the flag.
	StopLeads
)

// Stop is where a vehicle came to rest.
type Stop struct {
	Label string // number of the vehicle
	Text  string // the distance as measured: "296.41"
	At    int
	Kind  StopKind
}

// Pixels of the strip. Positions along the track are in percent, so that the
// strip takes any width; everything else is in pixels, so that words are never
// scaled down.
const (
	stripTop      = 24 // words over the lines
	stripAxis     = 24 // marks under the track
	stripLanePad  = 18 // room over the labels of a lane, where the flag flies
	stripRow      = 25 // a row of labels
	stripLabel    = 21 // a label's height
	stripFoot     = 8  // from the ground line to the lowest label
	stripRows     = 4  // rows of labels a lane can have
	stripTick     = 7  // a stop without a label
	stripPastLine = 7  // from the full-pull line to the full pulls
	stripColumns  = 2  // columns of full pulls
	stripCrowded  = 24 // with more stops than this in a lane only the best have labels
	stripFlag     = 16 // a flag's width
	stripBest     = 5  // how many those are
)

// stripWidths are the two ways a strip is drawn, and the least width in pixels
// at which each is: labels that keep apart there keep apart at any greater width.
func stripWidths() []stripWidth {
	return []stripWidth{{"narrow", 316, 42}, {"wide", 640, 42}}
}

// stripWidth is one way to draw a strip.
type stripWidth struct {
	name   string
	pixels int
	mark   int // least pixels between marks
}

// stripView is a strip ready to be drawn at one width.
type stripView struct {
	Variant string
	Height  int
	Ground  int        // y of the lowest ground line
	Track   string     // width of the track up to the line
	Marks   []textView // under the track
	Line    *lineView
	Restart *lineView
	Lanes   []laneView
}

// lineView is a line across the track with words over it.
type lineView struct {
	X    string
	Word textView
}

// textView is a word at a place along the track.
type textView struct {
	X      string
	Anchor string
	Text   string
}

// laneView is one lane: a ground line, stems on it, labels over it.
type laneView struct {
	Name   string
	Top    int
	Base   int
	Stems  []stemView
	Flags  []flagView
	Labels []labelView
}

// stemView is an upright line at a stop.
type stemView struct {
	X      string
	Y1, Y2 int
}

// flagView is the leader's flag on its pole.
type flagView struct {
	stemView
	Back bool // flies to the left, where there is no room to the right
}

// turn is the transformation that lets the flag fly its way.
func (f flagView) turn() string {
	if f.Back {
		return "scale(-1 1)"
	}
	return "scale(1 1)"
}

// labelView is a number in its small frame, Left pixels from the place X.
type labelView struct {
	X     string
	Left  int
	Y     int
	Width int
	Text  string
	Kind  string // "at", "full" or "leads"
}

// Middle is where the label's word is centred.
func (l labelView) Middle() int { return l.Left + l.Width/2 }

// views is the strip at both widths.
func (s Strip) views() []stripView {
	var out []stripView
	for _, w := range stripWidths() {
		out = append(out, s.view(w))
	}
	return out
}

// view is the strip at one width, lanes from top to bottom, each on a ground line of its own.
func (s Strip) view(w stripWidth) stripView {
	sc := s.scale(w)
	v := stripView{Variant: w.name, Track: sc.percent(sc.end), Marks: s.marks(sc, w)}
	top := stripTop
	for _, lane := range s.Lanes {
		l := lane.view(sc, top, s.leastRows())
		v.Lanes = append(v.Lanes, l)
		top = l.Base
	}
	if len(s.Lanes) == 0 {
		top += stripLanePad + s.leastRows()*stripRow
	}
	v.Ground, v.Height = top, top+stripAxis
	if s.Line > 0 {
		v.Track = sc.percent(s.Line)
		v.Line = sc.across(s.Line, "full pull "+thousandths(s.Line))
	}
	if s.Restart > 0 {
		v.Restart = sc.across(s.Restart, "restart "+thousandths(s.Restart))
	}
	return v
}

// leastRows gives a lane a body even if it holds nothing yet, so that the page does not jump with the first
// stop.
func (s Strip) leastRows() int {
	if len(s.Lanes) > 1 {
		return 2
	}
	return 3
}

// scale maps positions on the track to pixels and percents of one width.
type scale struct {
	end    int // position at the right edge
	line   int
	pixels int
}

// scale picks the end so that every stop, the full pulls and their labels fit. A stop past the line needs room
// on that side for its label too, since a label never crosses the line.
func (s Strip) scale(w stripWidth) scale {
	end := max(s.Max, s.Line, 1000)
	for _, lane := range s.Lanes {
		for _, stop := range lane.Stops {
			if stop.Kind == StopFull {
				continue
			}
			end = max(end, stretch(stop.At, w.pixels, labelWidth(stop.Label)/2+1))
			if s.Line > 0 && stop.At >= s.Line {
				end = max(end, stretch(s.Line, w.pixels, labelWidth(stop.Label)+4))
			}
		}
		if room := lane.fullRoom(); s.Line > 0 && room > 0 {
			end = max(end, stretch(s.Line, w.pixels, room))
		}
	}
	return scale{end: end, line: s.Line, pixels: w.pixels}
}

// stretch is the end at which the position leaves that much room to its right, in whole thousandths, rounded
// up. The position is at*pixels/end; the end grows until pixels less that are room.
func stretch(at, pixels, room int) int {
	return (at*pixels + pixels - room - 1) / (pixels - room)
}

// x is the position in pixels.
func (sc scale) x(at int) int { return at * sc.pixels / sc.end }

// percent is the position as SVG takes it.
func (sc scale) percent(at int) string {
	p := (at*10000 + sc.end/2) / sc.end
	return fmt.Sprintf("%d.%02d%%", p/100, p%100)
}

// across is a line across the track; its word stays inside the strip.
func (sc scale) across(at int, word string) *lineView {
	half := len(word) * 4
	t := textView{X: sc.percent(at), Anchor: "middle", Text: word}
	switch {
	case sc.x(at)+half > sc.pixels:
		t.X, t.Anchor = "100%", "end"
	case sc.x(at) < half:
		t.X, t.Anchor = "0", "start"
	}
	return &lineView{X: sc.percent(at), Word: t}
}

// marks are the numbers under the track.
func (s Strip) marks(sc scale, w stripWidth) []textView {
	step := s.step(sc, w)
	var out []textView
	for at := 0; at <= sc.end; at += step {
		anchor := "middle"
		if at == 0 {
			anchor = "start"
		} else if sc.x(at) > sc.pixels-14 {
			anchor = "end"
		}
		out = append(out, textView{X: sc.percent(at), Anchor: anchor, Text: thousandths(at)})
	}
	return out
}

// step is the distance between marks: as asked, or the next round number (1, 2 or 5 and zeros) at which the
// marks are not too close. An asked distance that is too close is taken times a whole number, so that its marks
// stay where they were.
func (s Strip) step(sc scale, w stripWidth) int {
	if s.Step > 0 && sc.x(s.Step) >= w.mark {
		return s.Step
	}
	for unit := 1; ; unit *= 10 {
		for _, n := range []int{1, 2, 5} {
			step := n * unit * 1000
			if step >= s.Step && (s.Step == 0 || step%s.Step == 0) && sc.x(step) >= w.mark {
				return step
			}
		}
		if unit > sc.end {
			return sc.end
		}
	}
}

// thousandths is a position in words, without digits that say nothing: 75000 is "75". It is for marks and
// lines; a stop is told with the digits it was given.
func thousandths(at int) string {
	return strconv.FormatFloat(float64(at)/1000, 'f', -1, 64)
}

// labelWidth is the width of a label in pixels, counted in characters: the figures of the font are 8 wide, with
// a margin.
func labelWidth(text string) int { return 8*len([]rune(text)) + 12 }
