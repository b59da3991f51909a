package domain

import (
	"fmt"
	"strconv"
	"strings"
)

// TrackShare is a part of the track up to the full-pull line, such as a third (NATPA 21) or a half (SOAT 15). It is
// comparable; the zero TrackShare means "none". A share is kept as it is written: a third of 100 m is no figure that a tape
// has, and is compared exactly all the same.
type TrackShare struct {
	part, of int64
}

// ParseTrackShare reads "1/3" or "1/2": a whole number of parts, fewer than all of them, and of at most 100. Empty text is
// the zero TrackShare, without an error.
func ParseTrackShare(s string) (TrackShare, error) {
	if s = strings.TrimSpace(s); s == "" {
		return TrackShare{}, nil
	}
	above, below, ok := strings.Cut(s, "/")
	part, err := strconv.ParseInt(above, 10, 8)
	of, err2 := strconv.ParseInt(below, 10, 8)
	if !ok || err != nil || err2 != nil || part < 1 || part >= of || of > 100 {
		return TrackShare{}, invalid("share", fmt.Sprintf("%q is not a share of the track", s), "write it as 1/3")
	}
	return TrackShare{part: part, of: of}, nil
}

// IsZero reports whether no share was given.
func (s TrackShare) IsZero() bool { return s.of == 0 }

// String writes the share as [ParseTrackShare] reads it, "" for none.
func (s TrackShare) String() string {
	if s.IsZero() {
		return ""
	}
	return fmt.Sprintf("%d/%d", s.part, s.of)
}

// beyond reports whether the share of the line lies beyond the distance: whether whoever stopped there was short of
// it. 33.333 m is short of a third of 100 m, and 33.334 m is not.
func (s TrackShare) beyond(d, line Distance) bool {
	return d.nanometres()*s.of < line.nanometres()*s.part
}

// TrackMark is a place on the track: a distance from the start, a share of the track, or neither. It is comparable.
type TrackMark struct {
	Distance Distance
	Share    TrackShare
}

// IsZero reports whether no place was given.
func (m TrackMark) IsZero() bool { return m == TrackMark{} }

// String writes the place: "75 ft", "1/3 of the track", "" for none.
func (m TrackMark) String() string {
	if m.Share.IsZero() {
		return m.Distance.String()
	}
	return m.Share.String() + " of the track"
}

// beyond reports whether the place lies beyond the distance on a track with the given full-pull line.
func (m TrackMark) beyond(d, line Distance) bool {
	if m.Share.IsZero() {
		return d.Compare(m.Distance) < 0
	}
	return m.Share.beyond(d, line)
}

// On returns the place as a distance for a drawing or a sentence, in the unit of the line and cut to its thousandths;
// the zero Distance for none. It is not for deciding.
func (m TrackMark) On(line Distance) Distance {
	if m.Share.IsZero() {
		return m.Distance
	}
	return Distance{value: decimal{milli: line.Milli() * m.Share.part / m.Share.of, digits: 3}, unit: line.Unit()}
}

// check refuses a place that is not on the track before the line, naming the field that says it and the line.
func (m TrackMark) check(field string, line Distance) error {
	d := m.Distance
	switch {
	case d.IsZero():
		return nil
	case d.Milli() == 0:
		return invalid(field, "the place lies at the start", "move it down the track, or leave it out")
	case d.Unit().metric() != line.Unit().metric():
		return contradiction(field, "line", "the two are in different units", "give both in "+line.Unit().String())
	case d.Compare(line) >= 0:
		return contradiction(field, "line", fmt.Sprintf("%s lies at or beyond the full-pull line %s", d, line), "move it before the full-pull line")
	}
	return nil
}
