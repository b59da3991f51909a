//go:build !js

package webui

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// deskClass shows the organiser's page of a class, from the first entry to the signature.
func (s *Site) deskClass(c echo.Context) error {
	by, page, err := s.classPage(c.Request().Context(), c, domain.Desk)
	if err != nil {
		return err
	}
	return show(c, http.StatusOK, s.deskClassOf(c, by, page, nil))
}

// deskActs are what the desk may send about a class, by the last part of the address. What the booth may send
// besides is on the booth's page, which the desk may open.
var deskActs = acts{
	"place":   placeAct,
	"entry":   entryAct,
	"scratch": scratchAct,
	"commit":  commitAct,
	"attend":  attendAct,
	"draw":    drawAct,
	"swap":    swapAct,
	"setting": settingAct,
	"freeze":  freezeAct,
	"reset":   resetAct,
	"round":   roundAct,
	"bring":   bringAct,
	"call":    callAct,
	"sign":    signAct,
	"reopen":  reopenAct,
	"test":    testAct,
	"line":    lineAct,
	"stop":    stopAct,
	"resume":  resumeAct,
	"protest": protestAct,
	"ruling":  rulingAct,
	"correct": correctAct,
}

// deskAct does what the desk sent.
func (s *Site) deskAct(c echo.Context) error {
	return s.act(c, domain.Desk, "desk", deskActs, func(by desk.By, page desk.ClassPage, no *refused) templates.Page {
		return s.deskClassOf(c, by, page, no)
	})
}

// entryAct reads an entry. What people typed about it is checked here and not by the decision, because the
// journal that is replayed has none of it.
func entryAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	entry, err := id(values, fieldEntry)
	if err != nil {
		return nil, err
	}
	same, err := sameVehicle(values)
	if err != nil {
		return nil, err
	}
	number, err := domain.NewNumber(values.Get(templates.FieldNumber))
	if err != nil {
		return nil, err
	}
	details, err := domain.NewDetails(values.Get(templates.FieldPuller), values.Get(templates.FieldVehicle), values.Get(templates.FieldHome))
	return domain.AddEntry{Entry: entry, Number: number, Same: same, Details: details}, err
}

// scratchAct reads that an entry is withdrawn.
func scratchAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	entry, err := id(values, fieldEntry)
	return domain.Scratch{Entry: entry, Reason: values.Get(templates.FieldReason)}, err
}

// freezeAct reads which draft is to be frozen.
func freezeAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	round, err := id(values, fieldRound)
	if err != nil {
		return nil, err
	}
	revision, err := number(values, fieldRevision, "the revision")
	if err != nil {
		return nil, err
	}
	drafted, err := time.Parse(time.RFC3339Nano, values.Get(fieldDrafted))
	if err != nil {
		return nil, &domain.Error{Kind: domain.Invalid, Message: "the form is not complete", Fix: "reload the page and send it again", Cause: err}
	}
	return domain.FreezeSetting{Round: round, Revision: revision, Drafted: drafted}, nil
}

// resetAct reads why the setting is reset.
func resetAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	round, err := id(values, fieldRound)
	return domain.ResetSetting{Round: round, Reason: values.Get(templates.FieldReason)}, err
}

// roundAct reads which round is to be opened. The name is sent along so that two who press at once do not open
// two.
func roundAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	round, err := id(values, fieldRound)
	if err != nil {
		return nil, err
	}
	name, err := domain.ParseRoundName(values.Get(fieldName))
	return domain.OpenRound{Round: round, Name: name}, err
}

// bringAct reads who is brought into the pull-off that is being pulled, and why.
func bringAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	list, err := ids(values, fieldRound, fieldEntry)
	if err != nil {
		return nil, err
	}
	return domain.BringIn{Round: list[0], Entry: list[1], Reason: values.Get(templates.FieldReason)}, nil
}

// fieldName carries the name of the round that is to be opened. It is not "name", which the form for a
// signature has.
const fieldName = "round_name"

// deskClassOf lays the organiser's page of a class out; no is the form that was refused, or nil. Each section
// shows the forms that can be sent now; a form is nil where its time is over or has not come.
func (s *Site) deskClassOf(c echo.Context, by desk.By, page desk.ClassPage, no *refused) templates.DeskClass {
	class := &page.Class
	base := classHref(page.Event, *class) + "/desk/"
	view := templates.DeskClass{
		Frame: s.classFrame(c, page, by), Name: class.Name, Sentence: stateSentence(class), Awaited: awaited(class),
		PublicHref: classHref(page.Event, *class),
		Links: []templates.Link{
			{Text: "Class sheet to print", Href: classHref(page.Event, *class) + "/sheet"},
			{Text: "Result to print", Href: classHref(page.Event, *class) + "/result"},
			{Text: "Booth", Href: classHref(page.Event, *class) + "/booth"},
			{Text: "Cab", Href: classHref(page.Event, *class) + "/cab"},
			{Text: "Estimate", Href: classHref(page.Event, *class) + "/cab/estimate"},
			{Text: "Scale", Href: classHref(page.Event, *class) + "/scale"},
			{Text: "Line-up", Href: classHref(page.Event, *class) + "/lane"},
			{Text: "Flag", Href: classHref(page.Event, *class) + "/flag"},
			{Text: "All classes", Href: eventHref(page.Event) + "/desk"},
		},
		Entries: deskEntries(class, base, no), Drawn: drawFile(page.Event, class), Setting: deskSetting(page, base, no, c.QueryParams()),
		Journal: journalLines(page.Event, []domain.Class{page.Class}, page.Journal),
		Add:     no.make("entry", base+"entry", []string{templates.FieldNumber, templates.FieldPuller, templates.FieldVehicle, templates.FieldHome, templates.FieldSame}, fresh(fieldEntry)),
		Again:   sameVehicles(class), Advice: deskAdvice(class), Course: courseOf(page.Event, class, base, no),
		Attendance: attendanceOf(class, base, no), Points: pointsOf(page.Event, class), Trend: trendOf(class),
	}
	if class.Rules.Purse.Given() {
		view.Links = append(view.Links, templates.Link{Text: "Fees and purse to print", Href: base + "purse"})
	}
	deskPlace(&view, page.Event, class, base, no)
	view.Messages, view.Scale = append(sessionPast(page.Event, class, s.now()), weightMessages(class)...), scaleState(class)
	if view.Setting.Write != nil {
		view.Scripts = []string{"slab.js"}
	}
	view.Official, view.Photos = deskOfficial(page.Event, class, base, no), photosOf(page.Event, class)
	deskDraw(&view, page.Event, class, base, no)
	s.deskRound(&view, class, base, no)
	deskMissed(&view, class, base, no)
	if no != nil && !tells(deskForms(view)...) {
		view.Notice = no.told()
	}
	return view
}

// deskForms lists the forms of the page, nil for those that are not there, to find out whether one tells a
// refusal.
func deskForms(view templates.DeskClass) []*templates.Form {
	forms := []*templates.Form{view.Place, view.Add, view.Attendance.Form, view.Draw, view.Redraw, view.Swap, view.Commit, view.Setting.Write, view.Setting.Freeze, view.Setting.Reset, view.Start}
	for i := range view.Entries {
		forms = append(forms, view.Entries[i].Scratch)
	}
	for i := range view.Missed {
		forms = append(forms, view.Missed[i].Form)
	}
	forms = append(forms, view.Course.Test, view.Course.Line, view.Course.Stop, view.Course.Resume)
	forms = append(forms, view.Official.Forms()...)
	if view.PullOff != nil {
		forms = append(forms, view.PullOff.Form)
	}
	return forms
}

// deskMissed offers to bring in who missed an earlier pull-off, in a form for each.
func deskMissed(view *templates.DeskClass, class *domain.Class, base string, no *refused) {
	for _, id := range class.Missed() {
		r, sent := class.Current(), no
		if no != nil && no.values.Get(fieldEntry) != id.String() {
			sent = nil
		}
		view.Missed = append(view.Missed, templates.DeskMissed{
			Puller: puller(class.Entry(id)), Round: roundName(r.Name),
			Form: sent.make("bring", base+"bring", []string{templates.FieldReason},
				templates.Hidden{Name: fieldRound, Value: r.ID.String()}, templates.Hidden{Name: fieldEntry, Value: id.String()}),
		})
	}
}

// deskRound offers what starts a round: the first call, or opening the round that is due. Only one of them is
// possible at a time.
func (s *Site) deskRound(view *templates.DeskClass, class *domain.Class, base string, no *refused) {
	if class.Phase() == domain.Ready {
		view.Round = roundTitle(class.Current().Name)
		view.Start = no.make("call", base+"call", nil, fresh(fieldNext))
	}
	name, in := class.RoundDue()
	if name.Number == 0 {
		return
	}
	due := &templates.DeskPullOff{
		Name: roundTitle(name), Order: "in the order of the draw",
		Before: beforePullOff(class.Rules),
		Form:   no.make("round", base+"round", nil, fresh(fieldRound), templates.Hidden{Name: fieldName, Value: name.String()}),
	}
	for _, id := range in {
		due.Pullers = append(due.Pullers, puller(class.Entry(id)))
	}
	view.PullOff = due
}

// deskEntries lists the entries, each with a form to withdraw it. Only the form of the entry that was meant
// tells a refusal, although all of them have one name.
func deskEntries(class *domain.Class, base string, no *refused) []templates.DeskEntry {
	list := make([]templates.DeskEntry, len(class.Entries))
	for i, e := range class.Entries {
		list[i] = templates.DeskEntry{Puller: puller(e), Scratched: e.Scratched}
		if e.Scratched != "" {
			continue
		}
		list[i].Scratch = no.of(fieldEntry, e.ID).make("scratch", base+"scratch", []string{templates.FieldReason}, templates.Hidden{Name: fieldEntry, Value: e.ID.String()})
	}
	return list
}

// settingFields are what the setting form sends.
var settingFields = []string{
	templates.FieldBox, templates.FieldLeft, templates.FieldMiddle, templates.FieldRight, templates.FieldGear, templates.FieldHole,
	templates.FieldTrip, templates.FieldPan, templates.FieldBlade, templates.FieldPushDown, templates.FieldMeasure, templates.FieldLimit, templates.FieldNote,
}

// deskSetting shows the setting of the current round and what can be done about it. A new round's form begins
// with what the last one was pulled against: a pull-off changes a gear or a few slabs, not everything.
// The address may fill the form too; see [deskFilled].
func deskSetting(page desk.ClassPage, base string, no *refused, query url.Values) templates.DeskSetting {
	class := &page.Class
	u := unitsOf(class)
	view := templates.DeskSetting{
		Weight: u.weight, Length: u.length, Depth: u.depth, Speed: u.speed, Gears: class.Sled.Gears, Holes: class.Sled.StartHoles,
		Kinds: slabKinds(class), Known: len(class.Sled.Card.Slabs.Kinds) > 0,
	}
	r := class.Current()
	if r == nil {
		return view
	}
	view.Round = roundTitle(r.Name)
	hidden := templates.Hidden{Name: fieldRound, Value: r.ID.String()}
	draft := domain.Setting{}
	if n := len(r.Revisions); n > 0 {
		rev := r.Revisions[n-1]
		draft = rev.Setting
		view.Name, view.Lines = fmt.Sprintf("Setting %d", rev.Number), settingLines(rev.Setting, class.Sled)
		view.State = "not frozen yet"
		if rev.Draft() {
			view.Freeze = no.make("freeze", base+"freeze", nil, hidden, templates.Hidden{Name: fieldRevision, Value: strconv.Itoa(rev.Number)},
				templates.Hidden{Name: fieldDrafted, Value: rev.Drafted.Format(time.RFC3339Nano)})
		} else {
			view.State = "frozen " + clock(page.Event, rev.Frozen)
		}
	} else if n := len(class.Rounds); n > 1 {
		// A first round has nothing to begin from: the sled was at another class before.
		draft = lastSetting(&class.Rounds[n-2])
	}
	switch open := r.Open(); {
	case open != nil:
		view.Reset = no.make("reset", base+"reset", []string{templates.FieldReason}, hidden)
		view.Effect = resetEffect(class)
	// A round that is over needs no setting, though a reset may have left a draft in it.
	case len(r.Waiting()) > 0 || len(r.Hooks) == 0:
		view.Write = no.make("setting", base+"setting", settingFieldsOf(class), hidden)
		view.Look = strings.TrimSuffix(base, "/")
		view.Earlier = templates.Link{Text: "Copy from an earlier class", Href: classHref(page.Event, *class) + "/earlier"}
	}
	view.Box = boxOf(draft, class.Sled.Card)
	switch {
	case view.Write == nil:
	case view.Write.Refused():
		view.Box = typedBox(class, no.values)
	default:
		view.Write.Values = settingValues(class, draft)
		deskFilled(class, &view, query)
	}
	return view
}

// lastSetting is what a round was pulled against last, from which the next round's setting is written; the zero
// Setting when it had none.
func lastSetting(r *domain.Round) domain.Setting {
	if n := len(r.Revisions); n > 0 {
		return r.Revisions[n-1].Setting
	}
	return domain.Setting{}
}

// resetEffect says what a reset would do under the rules of the class, before anybody presses it.
func resetEffect(class *domain.Class) string {
	switch class.Rules.Reset {
	case domain.KeepHooks:
		return "Hooks already made are kept under these rules, and an open choice about one is stored first; every page then says that the round was pulled on two settings."
	case domain.PreviousAgain:
		return "Under these rules hooks already made are kept but the last one, whose puller hooks again after the next."
	case domain.NoReset:
		return "Under these rules the setting is not changed once a round has begun."
	default:
		return "Under these rules every hook made in this round becomes void and the line-up starts again."
	}
}
