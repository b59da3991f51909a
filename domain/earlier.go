package domain

import "slices"

// Spread is how the hooks of a round went against one of its settings, so that a crew can compare days. Hooks that do not
// count and absences are not in it.
type Spread struct {
	Hooks        int // hooked, the disqualified among them
	FullPulls    int
	Disqualified int
	// Best is the longest distance that was read, of full pulls too; zero where none was read.
	Best Distance
	// Least, Median and Most are of the distances that were measured and are no full pull; zero where there are none.
	// Of an even number the median is the shorter one of the two in the middle, because that one was pulled.
	Least, Median, Most Distance
	Top                 Speed // the highest speed that was noted; zero where none was
}

// Spread tells how the hooks of the round went against a revision of its setting. A choice that keeps a distance back
// must have been taken out before; see [Class.Told].
func (r *Round) Spread(revision int) (s Spread) {
	var short []Distance
	for _, h := range r.Hooks {
		if h.Revision != revision || !h.Result.Counts() || h.Result.Outcome == Absent {
			continue
		}
		s.Hooks++
		if h.Speeds.Top.Compare(s.Top) > 0 {
			s.Top = h.Speeds.Top
		}
		switch h.Result.Outcome {
		case Disqualified:
			s.Disqualified++
			continue
		case FullPull:
			s.FullPulls++
		case Measured:
			short = append(short, h.Result.Distance)
		default: // the others do not count
		}
		if d := h.Result.Distance; !d.IsZero() && d.Compare(s.Best) > 0 {
			s.Best = d
		}
	}
	slices.SortStableFunc(short, Distance.Compare)
	if n := len(short); n > 0 {
		s.Least, s.Median, s.Most = short[0], short[(n-1)/2], short[n-1]
	}
	return s
}
