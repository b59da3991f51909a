package templates

import (
	"cmp"
	"slices"
	"strconv"
)

// full are the lane's full pulls in the order given, each as a label; where they are too many for the room past
// the line, the last says how many more: "+5".
func (l Lane) full() []string {
	var out []string
	for _, s := range l.Stops {
		if s.Kind == StopFull {
			out = append(out, s.Label)
		}
	}
	if most := stripRows * stripColumns; len(out) > most {
		more := len(out) - most + 1
		out = append(out[:most-1], "+"+strconv.Itoa(more))
	}
	return out
}

// fullRoom is the room in pixels that the full pulls need past the line.
func (l Lane) fullRoom() int {
	full := l.full()
	if len(full) == 0 {
		return 0
	}
	columns := (len(full) + stripRows - 1) / stripRows
	return stripPastLine + columns*(widest(full)+3)
}

// widest is the width of the widest label.
func widest(labels []string) int {
	w := 0
	for _, l := range labels {
		w = max(w, labelWidth(l))
	}
	return w
}

// measured are the stops on the track in the order in which they get their labels: the leader first, then the
// farther before the shorter, because where labels run out the best should keep theirs.
func (l Lane) measured() []Stop {
	var out []Stop
	for _, s := range l.Stops {
		if s.Kind != StopFull {
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b Stop) int {
		return cmp.Or(
			cmp.Compare(b.Kind, a.Kind),
			cmp.Compare(b.At, a.At),
			cmp.Compare(a.Label, b.Label),
		)
	})
	return out
}

// view lays the lane out below top: labels stack upwards where they would
// cover each other, and a stop that finds no row keeps its tick only.
func (l Lane) view(sc scale, top, least int) laneView {
	rows := &rowSet{}
	full := l.placeFull(sc, rows)
	stops, labels := l.placeMeasured(sc, rows)
	v := laneView{Name: l.Name, Top: top}
	v.Base = top + stripLanePad + stripFoot + max(least, rows.used())*stripRow
	for i, s := range stops {
		v.add(sc, s, labels[i])
	}
	for _, p := range full {
		v.Labels = append(v.Labels, p.label(v.Base, sc.percent(sc.line), "full"))
	}
	return v
}

// add draws one measured stop.
func (v *laneView) add(sc scale, s Stop, p placed) {
	x := sc.percent(s.At)
	if s.Kind == StopLeads {
		v.Flags = append(v.Flags, flagView{stemView{X: x, Y1: v.Top + 5, Y2: v.Base}, sc.back(s)})
	}
	if p.row < 0 {
		v.Stems = append(v.Stems, stemView{X: x, Y1: v.Base - stripTick, Y2: v.Base})
		return
	}
	kind := "at"
	if s.Kind == StopLeads {
		kind = "leads"
	}
	label := p.label(v.Base, x, kind)
	v.Stems = append(v.Stems, stemView{X: x, Y1: label.Y + stripLabel, Y2: v.Base})
	v.Labels = append(v.Labels, label)
}

// placed is a label with its row, -1 for none, and its offset in pixels.
type placed struct {
	text string
	left int
	row  int
}

// label is the placed label over the ground line.
func (p placed) label(base int, x, kind string) labelView {
	return labelView{
		X: x, Left: p.left, Y: base - stripFoot - p.row*stripRow - stripLabel,
		Width: labelWidth(p.text), Text: p.text, Kind: kind,
	}
}

// placeFull stacks the full pulls past the line, in columns from the lowest row up, before any other label is
// placed. Without a line there is nothing to be past.
func (l Lane) placeFull(sc scale, rows *rowSet) []placed {
	if sc.line == 0 {
		return nil
	}
	full := l.full()
	var out []placed
	for i, text := range full {
		left := stripPastLine + i/stripRows*(widest(full)+3)
		p := placed{text: text, left: left, row: i % stripRows}
		rows.take(p.row, sc.x(sc.line)+left, labelWidth(text))
		out = append(out, p)
	}
	return out
}

// placeMeasured finds a row for every stop that can have a label. In a crowded lane only the best and the
// leader get one; the stops are returned in the order of the places.
func (l Lane) placeMeasured(sc scale, rows *rowSet) ([]Stop, []placed) {
	stops := l.measured()
	var out []placed
	for i, s := range stops {
		p := placed{text: s.Label, left: sc.left(s), row: -1}
		if len(l.Stops) <= stripCrowded || i < stripBest || s.Kind == StopLeads {
			p.row = rows.find(sc.x(s.At)+p.left, labelWidth(s.Label))
		}
		out = append(out, p)
	}
	return stops, out
}

// left is how far left of its stop a label begins. It is centred, but stays
// inside the strip, and on its own side of the full-pull line.
func (sc scale) left(s Stop) int {
	width, x := labelWidth(s.Label), sc.x(s.At)
	left := -width / 2
	switch {
	case s.At < sc.line:
		left = min(left, max(sc.x(sc.line)-2-width-x, -width+1))
	case sc.line > 0:
		left = max(left, min(sc.x(sc.line)+3-x, -1))
	}
	return max(left, -x)
}

// back tells whether the flag of a stop has to fly to the left: at the right
// edge, and where it would reach over a line that the stop did not.
func (sc scale) back(s Stop) bool {
	to := sc.x(s.At) + stripFlag
	return to > sc.pixels || s.At < sc.line && to > sc.x(sc.line)
}

// rowSet knows which pixels of which row are taken, for one lane.
type rowSet struct {
	rows [stripRows][]span
}

// span is a taken stretch of a row.
type span struct{ from, to int }

// find takes the lowest row with room, or gives -1 when there is none: the label is left out then.
func (r *rowSet) find(from, width int) int {
	for i := range r.rows {
		if r.free(i, from, width) {
			r.take(i, from, width)
			return i
		}
	}
	return -1
}

// free tells whether a row has room there, with a pixel between labels.
func (r *rowSet) free(row, from, width int) bool {
	for _, s := range r.rows[row] {
		if from <= s.to+1 && s.from <= from+width+1 {
			return false
		}
	}
	return true
}

// take marks a stretch of a row as taken.
func (r *rowSet) take(row, from, width int) {
	r.rows[row] = append(r.rows[row], span{from, from + width})
}

// used is how many rows hold anything.
func (r *rowSet) used() int {
	n := 0
	for i, row := range r.rows {
		if len(row) > 0 {
			n = i + 1
		}
	}
	return n
}
