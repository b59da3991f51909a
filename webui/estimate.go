//go:build !js

package webui

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
	"clayline/domain/sled"
	"clayline/webui/language"
	"clayline/webui/picture"
	"clayline/webui/templates"
)

// estimate shows what the sled does under the setting of a round and, where the address asks for another one, what that
// would have done to its hooks. It is for the cab and the desk, is never kept, and writes nothing.
func (s *Site) estimate(c echo.Context) error {
	by, page, err := s.classPage(c.Request().Context(), c, domain.Cab|domain.Desk)
	if err != nil {
		return err
	}
	asked := c.QueryParams()
	language.Of(c.Request().Context()).TypedValues(asked)
	view, status := s.estimateOf(c, by, page, draftAsked(&page.Class, asked))
	return show(c, status, view)
}

// draftAsked asks for the draft of the current round where the address asks for no other setting and a round before it
// tells something: what was written down and not frozen yet is what people want to look at.
func draftAsked(class *domain.Class, asked url.Values) url.Values {
	basis, ok := class.EstimateBasis(domain.RoundName{})
	r := class.Current()
	if !ok || len(basis.Runs) == 0 || r == nil || len(r.Revisions) == 0 || asked.Has(templates.FieldFrom) {
		return asked
	}
	draft := r.Revisions[len(r.Revisions)-1]
	for name := range askedFor(draft.Setting) {
		if asked.Has(name) || !draft.Draft() {
			return asked
		}
	}
	all := maps.Clone(asked)
	for name, value := range askedFor(draft.Setting) {
		all.Set(name, value)
	}
	return all
}

// askedFor are the fields of the form that ask for a setting.
func askedFor(s domain.Setting) map[string]string {
	return map[string]string{
		templates.FieldBox: s.Box.String(), templates.FieldGear: strconv.Itoa(s.Gear), templates.FieldStartHole: strconv.Itoa(s.StartHole),
		templates.FieldTrip: s.Trip.String(), templates.FieldPan: s.Pan.String(),
	}
}

// estimateOf lays the page out. What was asked and cannot be stands in the form, with what is wrong at its field, and the
// curves of the round's setting are shown all the same.
func (s *Site) estimateOf(c echo.Context, by desk.By, page desk.ClassPage, asked url.Values) (templates.Estimate, int) {
	class := &page.Class
	u := unitsOf(class)
	view := templates.Estimate{
		Frame: s.classFrame(c, page, by), Class: class.Name, Cautions: doc.SledCautions(),
		Weight: u.weight, Length: u.length, Speed: u.speed, Gears: class.Sled.Gears, Holes: class.Sled.StartHoles,
	}
	view.Context = where(page.Event, *class)
	question, err := doc.ParseEstimateQuestion(class, asked.Get)
	made := doc.Estimate{}
	if err == nil {
		made, err = doc.NewEstimate(class, question)
	}
	wrong, status := err, http.StatusOK
	if domain.KindOf(wrong) == domain.Invalid {
		status = http.StatusUnprocessableEntity
		made, err = doc.NewEstimate(class, doc.EstimateQuestion{Round: question.Round, Ground: doc.InventedGround(), Drift: doc.AssumedDrift})
	}
	if refusal, ok := errors.AsType[*domain.Error](err); ok {
		view.Quiet = &templates.Quiet{Text: sentence(refusal.Message), Next: sentence(refusal.Fix)}
		return view, status
	}
	laid := estimatePage{page: page, class: class, href: classHref(page.Event, *class) + "/cab/estimate", asked: asked, made: made, by: by, units: doc.EstimateUnitsOf(class)}
	laid.fill(&view, wrong)
	return view, status
}

// estimatePage is what the page of an estimate is made from.
type estimatePage struct {
	page  desk.ClassPage
	class *domain.Class
	href  string // the address of the page, without what it asks
	asked url.Values
	made  doc.Estimate
	by    desk.By
	units doc.EstimateUnits
}

// fill lays out what was computed; wrong is what the form could not be asked, or nil.
func (p estimatePage) fill(view *templates.Estimate, wrong error) {
	basis := p.made.Basis
	view.Sentence = fmt.Sprintf("%s · Setting %d · %s", roundTitle(basis.Round), basis.Revision.Number, counted(len(basis.Runs), "hook"))
	if basis.Revision.Draft() {
		view.Sentence += " · not frozen yet"
	}
	view.Pulls = "Full pulls"
	if !basis.EndsAtLine {
		view.Pulls = "Past " + basis.Line.String()
	}
	view.Form = p.form(wrong)
	for _, name := range []string{templates.FieldMuUp, templates.FieldMuDown, templates.FieldRolling, templates.FieldDig, templates.FieldDigRamp, templates.FieldDrift} {
		view.Ground = view.Ground || view.Form.Value(name) != inventions()[name]
	}
	for _, r := range p.class.Rounds {
		if len(r.Revisions) > 0 {
			view.Rounds = append(view.Rounds, templates.Option{Value: r.Name.String(), Text: roundTitle(r.Name)})
		}
	}
	view.Notes, view.Fits = append([]string{sentence("Ground: " + p.made.Ground())}, p.made.Notes...), p.fits()
	every := 50.
	if p.units.Metric() {
		every = 15 / sled.Foot
	}
	curves := p.made.Curves(every)
	view.Other = len(curves) > 1
	view.Facts, view.Points = p.facts(curves), p.points(curves)
	if sheet, ok := picture.Of(p.made.Job, p.units); ok {
		p.pictures(view, sheet)
	}
	if result := p.made.Job.Run(); result.WhatIf != nil {
		p.stops(view, result.WhatIf)
	} else {
		view.Advice = append(sentences(result.Curves.Warnings), sentences(result.Curves.Advice)...)
	}
	view.Table = p.table()
}

// pictures draws the curves and the track, for a laptop and for a phone. Advice stands on the page and not in the picture a
// second time.
func (p estimatePage) pictures(view *templates.Estimate, sheet picture.Sheet) {
	sheet.Title, sheet.Notes = p.class.Name+": "+sheet.Title, nil
	sheet.Settings[0].Label = roundTitle(p.made.Basis.Round) + ": " + settingWords(p.made.Basis.Revision.Setting)
	if len(sheet.Settings) > 1 {
		sheet.Settings[1].Label = "the other: " + settingWords(p.made.Other())
	}
	if result := p.made.Job.Run().WhatIf; result != nil && !p.made.Basis.EndsAtLine {
		for i, row := range result.Rows {
			lane := picture.LaneOf(row.PastLine(), sheet.Lanes[i].Today, p.units)
			sheet.Lanes[i], sheet.Far = lane, max(sheet.Far, lane.Today)
			if lane.High != nil {
				sheet.Far = max(sheet.Far, min(*lane.High, 2*sheet.Line)) // a pull that nothing stops has no end to draw
			}
		}
	}
	view.Curves.Wide, view.Track.Wide = sheet.Curves(), sheet.Track()
	// On a phone the settings have their short names: what they are stands above the picture.
	for i, name := range []string{roundTitle(p.made.Basis.Round), "The other"}[:len(sheet.Settings)] {
		sheet.Settings[i].Label = name
	}
	view.Curves.Phone, view.Track.Phone = sheet.ForPhone().Curves(), sheet.ForPhone().Track()
	view.Curves.Cautions, view.Track.Cautions, view.Track.Signs = picture.Cautions(), picture.Cautions(), sentence(picture.Signs)
}

// inventions are what the form says of the ground when nobody said otherwise.
func inventions() map[string]string {
	g := doc.InventedGround()
	return map[string]string{
		templates.FieldMuUp: figure(g.MuUp), templates.FieldMuDown: figure(g.MuDown), templates.FieldRolling: figure(g.CRR),
		templates.FieldDig: figure(g.Dig), templates.FieldDigRamp: figure(g.DigRamp), templates.FieldDrift: figure(100 * doc.AssumedDrift),
	}
}

// figure writes a number as short as it is.
func figure(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// form fills the form in: with what was asked, else with the setting that it starts from and what we invented.
func (p estimatePage) form(wrong error) *templates.Form {
	values := inventions()
	values[templates.FieldFrom] = p.made.Basis.Round.String()
	maps.Copy(values, askedFor(p.made.Basis.Revision.Setting))
	for _, name := range doc.EstimateFields() {
		if p.asked.Has(name) {
			values[name] = p.asked.Get(name)
		}
	}
	form := &templates.Form{Action: p.href, Values: values}
	if refusal, ok := errors.AsType[*domain.Error](wrong); ok {
		field := refusal.Field
		if _, asks := values[field]; !asks && field != templates.FieldSpeeds {
			field = ""
		}
		form.Errors = map[string]string{field: sentence(refusal.Message) + " " + sentence(refusal.Fix)}
	}
	return form
}

// fits offer what vehicles of the class that hooked twice tell of the ground: under two settings the ratio of friction, under
// one how far the track was off.
func (p estimatePage) fits() []templates.Fit {
	var list []templates.Fit
	if ratio, pairs, ok := p.made.Ratio(); ok {
		up := doc.InventedGround().MuUp
		if x, err := strconv.ParseFloat(p.asked.Get(templates.FieldMuUp), 64); err == nil {
			up = x
		}
		down := figure(math.Round(up*ratio*100) / 100)
		list = append(list, templates.Fit{
			Text: fmt.Sprintf("%s stopped under two settings of this class: friction after the drop fits best at %.2f times that before it. A track that dried between the two shows in the same way.",
				counted(pairs, "vehicle"), ratio),
			Use: templates.Link{Text: "Take " + down, Href: p.at(map[string]string{templates.FieldMuDown: down})},
		})
	}
	if drift, pairs, ok := p.made.Repeats(); ok {
		percent := figure(math.Min(math.Ceil(100*drift), 50))
		list = append(list, templates.Fit{
			Text: fmt.Sprintf("%s stopped twice under one setting of this class: their pulls differ by %.1f %%.", counted(pairs, "vehicle"), 100*drift),
			Use:  templates.Link{Text: "Take " + percent + " %", Href: p.at(map[string]string{templates.FieldDrift: percent})},
		})
	}
	return list
}

// at is the address of the page with other values of some fields.
func (p estimatePage) at(change map[string]string) string {
	values := url.Values{}
	for _, name := range doc.EstimateFields() {
		if p.asked.Get(name) != "" {
			values.Set(name, p.asked.Get(name))
		}
	}
	for name, value := range change {
		values.Set(name, value)
	}
	return p.href + "?" + values.Encode()
}

// stops lays out what the other setting would have done to each hook.
func (p estimatePage) stops(view *templates.Estimate, r *doc.SledWhatIf) {
	setting := p.made.Other()
	view.Words = settingWords(setting)
	view.Advice = append(sentences(r.Warnings), sentences(r.Advice)...)
	view.EndDrag = p.made.SpeedLimited()
	n := r.FullPulls
	view.Counts = fmt.Sprintf("%s under the other setting: at least %d, about %d, at most %d of %s.", view.Pulls, n.AtLeast, n.Nominal, n.AtMost, counted(len(r.Rows), "hook"))
	if len(r.Rows) == 0 {
		view.Counts = "No hook of this round tells anything yet: only the curves can be compared."
	}
	for i, row := range r.Rows {
		if !p.made.Basis.EndsAtLine {
			row = row.PastLine()
		}
		line := templates.EstimateLine{
			Puller: puller(p.class.Entry(p.made.Basis.Runs[i].Entry)), Says: row.SaysIn(p.units, p.made.Job.Stops()[i]), Strength: row.Reads + " " + p.heavy(row.Pull),
		}
		if by := row.ByEndDrag; by != nil {
			line.EndDrag = map[string]string{"full": "full", "indeterminate": "not known"}[by.Status]
			if by.Status == "stops" {
				line.EndDrag = p.long(by.Distance)
			}
		}
		view.Rows = append(view.Rows, line)
	}
	p.draft(view, setting)
}

// draft offers to fill the desk's form in. The cab is told what to tell the desk: only the desk writes settings.
func (p estimatePage) draft(view *templates.Estimate, s domain.Setting) {
	switch {
	case !p.class.Drafting():
		view.DraftWords = "It can be taken as a draft once the next round is opened, or the setting of this one is reset: a frozen setting is never changed from here."
	case p.by.Role&domain.Desk == 0:
		view.DraftWords = "To use it, tell the desk: " + settingWords(s) + ". The desk writes it down, and freezes it."
	default:
		view.DraftWords = "It fills the form in at the desk and writes nothing. What is frozen there was looked at by people."
		view.Draft = &templates.Link{Text: "Use this as a draft", Href: settingFill(p.page, drafted(p.made.Basis.Revision.Setting, s))}
	}
}

// drafted is the setting that the estimate starts from with what was asked for in its place. Where the weight in the box is
// another, the slabs are to be counted anew.
func drafted(from, other domain.Setting) domain.Setting {
	s := from
	s.Gear, s.StartHole, s.Trip, s.Pan, s.Note = other.Gear, other.StartHole, other.Trip, other.Pan, ""
	if other.Box != from.Box {
		s.Box, s.Slabs, s.Piles = other.Box, domain.Slabs{}, domain.Piles{}
	}
	return s
}

// table lays out every gear from every start hole.
func (p estimatePage) table() []templates.EstimateChoice {
	var list []templates.EstimateChoice
	for _, r := range p.made.Table() {
		s := r.Setting
		n := r.FullPulls
		choice := templates.EstimateChoice{
			Gear: strconv.Itoa(s.Gear), Hole: strconv.Itoa(s.StartHole), Trip: s.Trip.String(), TopOut: p.long(r.TopOut), Mean: whole(p.units.Heavy(r.MeanFull)),
			Pulls: fmt.Sprintf("%d (%d to %d)", n.Nominal, n.AtLeast, n.AtMost), Here: r.Here,
			Look: templates.Link{Text: fmt.Sprintf("Gear %d, hole %d", s.Gear, s.StartHole), Href: p.at(askedFor(s)) + "#stops"},
		}
		if len(p.made.Basis.Runs) == 0 {
			choice.Pulls = "–"
		}
		list = append(list, choice)
	}
	return list
}

// facts are the figures of one curve, or of two beside each other.
func (p estimatePage) facts(curves []*doc.SledCurves) []templates.EstimateFact {
	var list []templates.EstimateFact
	for _, f := range []struct {
		label string
		of    func(*doc.SledCurves) string
	}{
		{"Trip", func(c *doc.SledCurves) string { return p.long(c.Trip) }}, {"Top-out", func(c *doc.SledCurves) string { return p.long(c.TopOut) }},
		{"Push-down begins", func(c *doc.SledCurves) string { return p.long(c.PushDown) }}, {"Sled with its load", func(c *doc.SledCurves) string { return p.heavy(c.Weight) }},
		{"Drag at the line", func(c *doc.SledCurves) string { return p.heavy(c.Full.Drag) }}, {"Mean drag to the line", func(c *doc.SledCurves) string { return p.heavy(c.Full.Mean) }},
	} {
		fact := templates.EstimateFact{Label: f.label, Now: f.of(curves[0])}
		if len(curves) > 1 {
			fact.Other = f.of(curves[1])
		}
		list = append(list, fact)
	}
	return list
}

// points are the curves in figures.
func (p estimatePage) points(curves []*doc.SledCurves) []templates.EstimatePoint {
	var list []templates.EstimatePoint
	heavy := func(lb float64) string { return whole(p.units.Heavy(lb)) }
	box := func(ft float64) string { return fmt.Sprintf("%.1f", p.units.Long(ft)) }
	for i, now := range curves[0].Points {
		at := templates.EstimatePoint{Travel: whole(p.units.Long(now.Travel)), Drag: heavy(now.Drag), Pan: heavy(now.Pan), Box: box(now.Box)}
		if len(curves) > 1 {
			to := curves[1].Points[i]
			at.DragTo, at.PanTo, at.BoxTo = heavy(to.Drag), heavy(to.Pan), box(to.Box)
		}
		list = append(list, at)
	}
	return list
}

// settingWords says a setting in a line: "23,400 lb, gear 4, hole 2, trip 176 ft".
func settingWords(s domain.Setting) string {
	words := fmt.Sprintf("%s, gear %d, hole %d, trip %s", s.Box, s.Gear, s.StartHole, s.Trip)
	if !s.Pan.IsZero() {
		words += ", pan " + s.Pan.String()
	}
	return words
}

// sentences makes sentences of what the estimate says in words, which name the fields of a job.
func sentences(list []string) []string {
	fields := strings.NewReplacer("setup_to: ", "the other setting: ", "setup: ", "the round’s setting: ", "under setup_to", "under the other setting", "under setup", "under the round’s",
		"mu_down", "friction after the drop", "mu_up", "friction before the drop", "c_rr", "rolling resistance")
	var made []string
	for _, words := range list {
		made = append(made, sentence(strings.TrimSuffix(fields.Replace(words), ".")))
	}
	return made
}

// long writes a distance of an estimate in the unit of the class, "never" where it is not reached.
func (p estimatePage) long(ft *float64) string {
	if ft == nil {
		return "never"
	}
	return p.units.Figure(*ft) + " " + p.units.Length
}

// heavy writes a force or a weight of an estimate in the unit of the class.
func (p estimatePage) heavy(lb float64) string {
	return whole(p.units.Heavy(lb)) + " " + p.units.Weight
}

// whole writes a figure without decimals, thousands grouped.
func whole(x float64) string {
	w, err := domain.ParseWeight(fmt.Sprintf("%.0f lb", math.Abs(x)))
	if err != nil || x <= -0.5 {
		return fmt.Sprintf("%.0f", x)
	}
	return w.Figures()
}
