package webui

import (
	"fmt"
	"strconv"
	"strings"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/picture"
	"clayline/webui/templates"
)

// cabOf lays the cab page out. It shows the newest revision, a draft too, and says since when it is frozen:
// what is being agreed on is shown while it is. no is the form that was refused, or nil.
func cabOf(frame templates.Frame, page desk.ClassPage, no *refused) templates.Cab {
	class := &page.Class
	h := hooking(class)
	view := templates.Cab{
		Frame: frame, Class: class.Name, OnTrack: h.OnTrack, Next: h.Next,
		Choice: readChoice(class), Advice: advice(class), Facts: facts(class), Trend: trendOf(class),
		Ready:    readyOf(page.Event, class, classHref(page.Event, *class)+"/cab/", no),
		Differed: differedOf(class, classHref(page.Event, *class)+"/cab/", no),
		Speeds:   speedsOf(class, classHref(page.Event, *class)+"/cab/", no),
	}
	view.Stream, view.Awake, view.Seen = classStream(page.Event, class), true, seenOf(page.Event, class)
	view.Flags = flagsTold(page.Event, class)
	if class.OnTrack() == nil {
		view.Links = []templates.Link{
			{Text: "What another setting would do", Href: classHref(page.Event, *class) + "/cab/estimate"},
			{Text: "Log and inspection of the sled", Href: sledLogHref(page.Event, class.Sled.ID)},
		}
	}
	if no != nil && !tells(cabFormsOf(view)...) {
		view.Notice = no.told()
	}
	r := class.Current()
	if r == nil || len(r.Revisions) == 0 {
		view.Quiet = &templates.Quiet{Text: "There is no setting for this class yet.", Next: awaited(class) + "."}
		return view
	}
	rev := r.Revisions[len(r.Revisions)-1]
	view.Setting, view.Round = fmt.Sprintf("Setting %d", rev.Number), roundTitle(r.Name)
	view.Frozen, view.Hook = clock(page.Event, rev.Frozen), turnOf(class)
	// While a vehicle pulls there is nothing to press.
	if on := class.OnTrack(); on == nil || on.Started.IsZero() {
		view.Earlier = templates.Link{Text: "Settings of earlier classes", Href: classHref(page.Event, *class) + "/earlier"}
	}
	view.Box = boxOf(rev.Setting, class.Sled.Card)
	view.Gauges, view.Note = gauges(rev.Setting, class.Sled), rev.Setting.Note
	return view
}

// gauges shows a setting in big letters: the four that decide first, and the lesser ones small and only where
// there are any.
func gauges(s domain.Setting, sled domain.Sled) []templates.Gauge {
	list := []templates.Gauge{
		{Label: "Box", Value: s.Box.Figures(), Unit: s.Box.Unit(), Detail: slabsWhere(s.Slabs)},
		{Label: "Gear", Value: fmt.Sprint(s.Gear), Unit: fmt.Sprintf("of %d", sled.Gears)},
		{Label: "Start hole", Value: fmt.Sprint(s.StartHole), Unit: fmt.Sprintf("of %d", sled.StartHoles)},
		{Label: "Trip", Value: s.Trip.Figures(), Unit: strings.TrimSpace(strings.TrimPrefix(s.Trip.String(), s.Trip.Figures()))},
	}
	for _, g := range []templates.Gauge{
		{Label: "Pan", Value: s.Pan.Figures(), Unit: s.Pan.Unit()}, {Label: "Blades", Value: s.Blades, Typed: true},
		{Label: "Push-down", Value: s.PushDown, Typed: true}, {Label: "Measured by", Value: s.Device, Typed: namedDevice(s.Device)}, {Label: "Speed limit", Value: s.SpeedLimit.String()},
	} {
		if g.Value != "" {
			g.Minor = true
			list = append(list, g)
		}
	}
	return list
}

// slabs counts the slabs: "12 slabs"; "" when there are none.
func slabs(s domain.Slabs) string {
	if s.Total() == 0 {
		return ""
	}
	if s.Total() == 1 {
		return "1 slab"
	}
	return fmt.Sprintf("%d slabs", s.Total())
}

// slabsWhere says how many slabs lie where: "12 slabs: 6 left, 6 right".
func slabsWhere(s domain.Slabs) string {
	if s.Total() == 0 {
		return ""
	}
	var where []string
	for _, side := range []struct {
		n    int
		name string
	}{{s.Left, "left"}, {s.Middle, "middle"}, {s.Right, "right"}} {
		if side.n > 0 {
			where = append(where, fmt.Sprintf("%d %s", side.n, side.name))
		}
	}
	return slabs(s) + ": " + strings.Join(where, ", ")
}

// boxOf draws what lies in the box under a setting; nil where no slab is counted, because a bare weight has no picture.
func boxOf(s domain.Setting, card domain.SledCard) *templates.Box {
	if s.Slabs.Total() <= 0 {
		return nil
	}
	load := s.Load(card)
	view := &templates.Box{
		Picture: picture.Box{Load: load, Balance: balance(load)}.SVG(),
		Total:   templates.BoxRow{Place: "all", Slabs: strconv.Itoa(s.Slabs.Total()), Weight: s.Box.String()},
	}
	for _, p := range load.Places {
		var which []string
		for _, l := range p.Layers {
			if !l.Weight.IsZero() {
				which = append(which, fmt.Sprintf("%d of %s", l.Count, l.Weight))
			}
		}
		view.Rows = append(view.Rows, templates.BoxRow{Place: p.Name, Slabs: strings.TrimSuffix(strings.TrimSuffix(p.Count(), "s"), " slab"), Which: strings.Join(which, ", "), Weight: p.Weight.String()})
	}
	return view
}

// balance compares the two sides of the box in words: "left has 1,800 lb more than right". It says what was set and
// nothing of what is right: a crew may mean to load one side.
func balance(l domain.BoxLoad) string {
	heavier, by, n := l.Balance()
	if heavier == "" {
		return "left and right the same"
	}
	lighter := map[string]string{"left": "right", "right": "left"}[heavier]
	if !by.IsZero() {
		return heavier + " has " + by.String() + " more than " + lighter
	}
	return fmt.Sprintf("%s has %d more than %s", heavier, n, lighter)
}
