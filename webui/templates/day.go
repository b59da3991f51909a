package templates

import (
	"fmt"
	"strconv"
	"time"
)

// DayBoard is the page on which a day is held against its plan, for the booth and for everybody.
type DayBoard struct {
	Frame
	Name    string
	Tracks  []DayTrack // empty while no class is planned
	Caution string
	Links   []Link
}

// DayTrack is the day on one track.
type DayTrack struct {
	Name     string // "Track 1"; empty where there is one alone
	Sentence string // for the announcer
	Known    string // what was known beforehand, where it is the same for all classes: "5 min a hook, the usual"
	Curfews  []string
	Sessions []DaySession
}

// DaySession is a session on a track: the picture and the table say the same.
type DaySession struct {
	ID     string   // unique on the page
	Name   string   // "Saturday evening"
	Start  string   // "Saturday 19 September, from 18:00"
	Breaks []string // "Break at about 19:30, 20 min"
	Rows   []DayRow
	Chart  DayChart
}

// DayRow is a class of the day. Times are of the place; empty where there is none.
type DayRow struct {
	Name, Href string
	State      string // "hooking: puller 9 of 14"
	Planned    string // "18:00–19:10"
	Begins     string // "18:05", or "19:40–20:05"
	Over       string
	Remark     string // "middle 19:52 to 20:40; 4.3 min a hook, as this class took before"
}

// DayChart is the picture of a session: for each class what was planned, and below it what was pulled or is expected. It is
// drawn on the server; a place along it is a share of its width, so that words are never scaled.
type DayChart struct {
	Title  string
	Place  *time.Location
	Bars   []DayBar
	AsOf   time.Time // the line of now; zero where it lies outside
	Curfew time.Time // zero for none
}

// DayBar is a class in the picture.
type DayBar struct {
	Name           string
	Start, End     time.Time // planned; zero for none
	From, To       time.Time // pulled, or expected in the middle; zero for none
	Pulled         bool      // it is over
	Early, Late    time.Time // the window of its end; zero for none
	Likely, Latest time.Time // the window of its beginning; zero for none
}

// Measures of the picture, in pixels.
const (
	dayHead = 38 // over the first row, for the words of the two lines, where there is one
	dayBare = 4  // and where there is none
	dayRow  = 46
	dayFoot = 24 // under the last, for the hours
)

// height is that of the picture.
func (c DayChart) height() int { return c.ground() + dayFoot }

// head is where the first row begins.
func (c DayChart) head() int {
	if c.AsOf.IsZero() && c.Curfew.IsZero() {
		return dayBare
	}
	return dayHead
}

// ground is where the axis lies.
func (c DayChart) ground() int { return c.head() + len(c.Bars)*dayRow }

// y is the place of something in a row, so many pixels below its top.
func (c DayChart) y(row, below int) string { return strconv.Itoa(c.head() + row*dayRow + below) }

// ends are the first and the last time of the picture, to the half hour around all that is on it.
func (c DayChart) ends() (first, last time.Time) {
	see := func(times ...time.Time) {
		for _, t := range times {
			if t.IsZero() {
				continue
			}
			if first.IsZero() || t.Before(first) {
				first = t
			}
			if t.After(last) {
				last = t
			}
		}
	}
	for _, b := range c.Bars {
		see(b.Start, b.End, b.From, b.To, b.Early, b.Late, b.Likely, b.Latest)
	}
	see(c.AsOf, c.Curfew)
	const half = 30 * time.Minute
	first = first.Truncate(half)
	if last = last.Add(half - 1).Truncate(half); !last.After(first) {
		last = first.Add(half)
	}
	return first, last
}

// share is the place of a time along the picture, from 0 to 100.
func (c DayChart) share(t time.Time) float64 {
	first, last := c.ends()
	return 100 * float64(t.Sub(first)) / float64(last.Sub(first))
}

// x is the place of a time, and width how wide a span is.
func (c DayChart) x(t time.Time) string { return percent(c.share(t)) }

func (c DayChart) width(from, to time.Time) string {
	return percent(max(c.share(to)-c.share(from), 0.3))
}

// percent writes a share of the width.
func percent(share float64) string { return strconv.FormatFloat(share, 'f', 2, 64) + "%" }

// anchor keeps a word at a time within the picture.
func (c DayChart) anchor(t time.Time) string {
	switch share := c.share(t); {
	case share < 12:
		return "start"
	case share > 88:
		return "end"
	default:
		return "middle"
	}
}

// clock writes a time of the place.
func (c DayChart) clock(t time.Time) string { return t.In(c.Place).Format("15:04") }

// hours are the times that are marked under the picture: whole steps of the clock of the place, six or fewer.
func (c DayChart) hours() (marks []time.Time) {
	first, last := c.ends()
	step := 30 * time.Minute
	for last.Sub(first) > 6*step {
		step *= 2
	}
	from := first.In(c.Place)
	mark := time.Date(from.Year(), from.Month(), from.Day(), 0, 0, 0, 0, c.Place)
	for ; !mark.After(last); mark = mark.Add(step) {
		if !mark.Before(first) {
			marks = append(marks, mark)
		}
	}
	return marks
}

// tell says in words what the picture shows; the table has the times.
func (c DayChart) tell() string {
	words := fmt.Sprintf("On an axis of time what was planned of each class (%d) and what was pulled or is expected", len(c.Bars))
	if !c.AsOf.IsZero() {
		words += ", as of " + c.clock(c.AsOf)
	}
	if !c.Curfew.IsZero() {
		words += "; curfew " + c.clock(c.Curfew)
	}
	return words + "."
}
