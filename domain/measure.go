package domain

// MeasureRule says how distances are read.
type MeasureRule struct {
	// From is the point that is measured to, in the words of the book: the forward-most point of the pan (NK 3), the
	// front centre of the skid plate (MICRO 7). It stands on every result.
	From string
	// Decimals is how many the device has, 1 to 3; 0 where the rules do not say. A figure with more is asked about
	// once. Published results have three of a foot (NTPA), two (PPL), one (garden), and two of a metre.
	Decimals int
	// Minimum is the shortest measurable pull (1 inch: ASTTQ 2, VTPA 3); less is no pull and has no place. Zero: "any
	// attempt to move the sled is considered measurable" (GSRT 12).
	Minimum Distance
}

// check says whether the rule contradicts the set that it stands in.
func (m MeasureRule) check(r RuleSet) error {
	if m.Decimals < 0 || m.Decimals > 3 {
		return invalid("measure.decimals", "a distance has up to three decimals", "write 1, 2 or 3, or leave it out")
	}
	if err := (TrackMark{Distance: m.Minimum}).check("measure.minimum", r.Line); err != nil {
		return err
	}
	_, err := text("measure.from", m.From)
	return err
}

// short reports whether a distance is less than a measurable pull.
func (m MeasureRule) short(d Distance) bool {
	return !m.Minimum.IsZero() && d.Compare(m.Minimum) < 0
}

// LineRule lets the officials move the full-pull line when they have seen the sled at work.
type LineRule struct {
	// Choices are the lines there are beside that of the set; empty where it does not move. 300 or 320 ft: NSTT 8.
	Choices []Distance
	// After is the number of hooks of the first round by which it must be set: after the first official hook (NSTT 8), at
	// latest after the first three (DK-2012, a proposal).
	After int
}

// check says whether the rule contradicts the set that it stands in.
func (l LineRule) check(r RuleSet) error {
	if len(l.Choices) == 0 {
		if l.After != 0 {
			return contradiction("moving_line.by", "moving_line.choices", "a line that has nowhere to go is not moved", "give the choices, or leave moving_line out")
		}
		return nil
	}
	if l.After < 1 || l.After > 9 {
		return invalid("moving_line.by", "the number of hooks cannot be right", "write 1 to 9")
	}
	for _, d := range l.Choices {
		switch {
		case d.Milli() == 0 || d.Unit().metric() != r.Line.Unit().metric():
			return contradiction("moving_line.choices", "line", "a choice is no line on this track", "give it in "+r.Line.Unit().String())
		case r.RestartMark().Distance.Compare(d) >= 0:
			return contradiction("moving_line.choices", "restart", d.String()+" lies before the restart line", "move it past the restart line")
		case !r.PullOff.Line.IsZero() && r.PullOff.Line.Compare(d) < 0:
			return contradiction("moving_line.choices", "pull_off.line", d.String()+" lies past the line of the pull-off", "move one of them")
		}
	}
	return nil
}
