//go:build !js

package webui

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
	"clayline/webui/templates"
)

// Hidden fields of the forms of the programme.
const (
	fieldPart    = "part"    // id of the session, track or sled
	fieldVersion = "version" // of the description that the page shows
)

// readProgramme turns a form of the programme into an action on the event, as it was when the page was shown.
type readProgramme func(domain.Event, url.Values) (domain.EventAction, error)

// programmeActs are the forms of the programme, by the last part of the address.
var programmeActs = map[string]readProgramme{
	"session": func(e domain.Event, v url.Values) (domain.EventAction, error) {
		s, err := sessionOf(e, v)
		return domain.AddSession{Session: s.ID, Name: s.Name, Starts: s.Starts, Curfew: s.Curfew, Breaks: s.Breaks}, err
	},
	"session-change": func(e domain.Event, v url.Values) (domain.EventAction, error) {
		s, err := sessionOf(e, v)
		return domain.ChangeSession{Session: s.ID, Name: s.Name, Starts: s.Starts, Curfew: s.Curfew, Breaks: s.Breaks}, err
	},
	"session-remove": func(_ domain.Event, v url.Values) (domain.EventAction, error) {
		part, err := id(v, fieldPart)
		return domain.RemoveSession{Session: part}, err
	},
	"track": func(_ domain.Event, v url.Values) (domain.EventAction, error) {
		part, err := id(v, fieldPart)
		return domain.AddTrack{Track: part, Name: v.Get(templates.FieldName)}, err
	},
	"track-change": func(_ domain.Event, v url.Values) (domain.EventAction, error) {
		part, err := id(v, fieldPart)
		return domain.RenameTrack{Track: part, Name: v.Get(templates.FieldName)}, err
	},
	"track-remove": func(_ domain.Event, v url.Values) (domain.EventAction, error) {
		part, err := id(v, fieldPart)
		return domain.RemoveTrack{Track: part}, err
	},
	"sled": func(_ domain.Event, v url.Values) (domain.EventAction, error) {
		sled, err := sledOf(v)
		return domain.AddSled{Sled: sled}, err
	},
	"sled-change": func(_ domain.Event, v url.Values) (domain.EventAction, error) {
		sled, err := sledOf(v)
		if err != nil {
			return nil, err
		}
		version, err := number(v, fieldVersion, "the version")
		return domain.DescribeSled{Sled: sled, Version: version}, err
	},
}

// sessionOf reads a session, its times on the clock of the place.
func sessionOf(e domain.Event, values url.Values) (domain.Session, error) {
	part, err := id(values, fieldPart)
	if err != nil {
		return domain.Session{}, err
	}
	typed := strings.TrimSpace(values.Get(templates.FieldStarts))
	starts, err := time.ParseInLocation(sessionFormat, typed, e.Location())
	if err != nil {
		return domain.Session{}, &domain.Error{Kind: domain.Invalid, Field: templates.FieldStarts, Message: fmt.Sprintf("%q is no start", typed), Fix: "write day and time, such as 2026-09-19 18:00", Cause: err}
	}
	curfew, err := curfewOf(values, starts)
	if err != nil {
		return domain.Session{}, err
	}
	breaks, err := breaksOf(values.Get(templates.FieldBreaks), starts)
	return domain.Session{ID: part, Name: values.Get(templates.FieldName), Starts: starts.UTC(), Curfew: curfew, Breaks: breaks}, err
}

// curfewOf reads the time of day at which a session that starts then must be over: the first one after the start, so that
// 0:30 is after midnight. What would be more than [latestCurfew] after the start was meant for before it, and is refused.
func curfewOf(values url.Values, starts time.Time) (time.Time, error) {
	typed := strings.TrimSpace(values.Get(templates.FieldCurfew))
	if typed == "" {
		return time.Time{}, nil
	}
	of, err := clockOf(typed)
	if err != nil {
		return time.Time{}, &domain.Error{Kind: domain.Invalid, Field: templates.FieldCurfew, Message: fmt.Sprintf("%q is no time of day", typed), Fix: "write one such as 23:00, or nothing", Cause: err}
	}
	curfew := time.Date(starts.Year(), starts.Month(), starts.Day(), of.Hour(), of.Minute(), 0, 0, starts.Location())
	if !curfew.After(starts) {
		curfew = time.Date(starts.Year(), starts.Month(), starts.Day()+1, of.Hour(), of.Minute(), 0, 0, starts.Location())
	}
	if curfew.Sub(starts) > latestCurfew {
		return time.Time{}, &domain.Error{Kind: domain.Invalid, Field: templates.FieldCurfew, Message: fmt.Sprintf("the curfew %s is not after the start at %s", typed, starts.Format(clockFormat)), Fix: "write a time after the start, or nothing"}
	}
	return curfew.UTC(), nil
}

// sledOf reads the description of a sled. What is wrong in it is said with its line.
func sledOf(values url.Values) (domain.Sled, error) {
	part, err := id(values, fieldPart)
	if err != nil {
		return domain.Sled{}, err
	}
	document := []byte(values.Get(templates.FieldDescription))
	sled, err := doc.ParseSledCard(document)
	if e, ok := errors.AsType[*domain.Error](err); ok {
		at := *e
		at.Field, at.Message = templates.FieldDescription, fmt.Sprintf("line %d: %s", doc.LineOf(document, e.Field), e.Message)
		if e.Field != "" && !strings.Contains(e.Message, e.Field) {
			at.Message = fmt.Sprintf("line %d, %s: %s", doc.LineOf(document, e.Field), e.Field, e.Message)
		}
		err = &at
	}
	sled.ID = part
	return sled, err
}

// programmePage shows the sessions, tracks and sleds of an event to its desk.
func (s *Site) programmePage(c echo.Context) error {
	by, err := s.may(c, domain.Desk)
	if err != nil {
		return err
	}
	return s.showProgramme(c, http.StatusOK, by, nil)
}

// programmeAct does what a form of the programme sent, and leads back to the page.
func (s *Site) programmeAct(c echo.Context) error {
	by, err := s.may(c, domain.Desk)
	if err != nil {
		return err
	}
	read, ok := programmeActs[c.Param("act")]
	if !ok {
		return echo.ErrNotFound
	}
	values, action, err := sent(c)
	if err != nil {
		return err
	}
	page, err := s.desk.EventPage(c.Request().Context(), c.Param("event"))
	if err != nil {
		return err
	}
	if err := mayAt(by, page.Event.ID); err != nil {
		return err
	}
	asked, err := read(page.Event, values)
	if err == nil {
		_, err = s.desk.ChangeEvent(c.Request().Context(), by, c.Param("event"), action, desk.AnyVersion, asked)
	}
	if no := refusal(c.Param("act"), values, err); no != nil {
		if strings.HasPrefix(no.form, "sled") {
			at := *no.err
			at.Field = templates.FieldDescription
			no.err = &at
		}
		return s.showProgramme(c, statuses[no.err.Kind], by, no)
	}
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, eventHref(page.Event)+"/desk/programme")
}

// showProgramme shows the page; no is the form that was refused, or nil.
func (s *Site) showProgramme(c echo.Context, status int, by desk.By, no *refused) error {
	page, err := s.desk.EventPage(c.Request().Context(), c.Param("event"))
	if err != nil {
		return err
	}
	if err := mayAt(by, page.Event.ID); err != nil {
		return err
	}
	view, err := programmeOf(page, no)
	if err != nil {
		return err
	}
	view.Frame = s.frame(c, page.Event, by)
	c.Response().Header().Set("Cache-Control", "no-store")
	return show(c, status, view)
}

// programmeOf lays the page out.
func programmeOf(page desk.EventPage, no *refused) (templates.Programme, error) {
	e, used := page.Event, domain.InUse{}
	for _, class := range page.Classes {
		used[class.Session]++
		used[class.Track]++
	}
	f := programmeForms{base: eventHref(e) + "/desk/programme/", no: no}
	view := templates.Programme{
		AddSession: f.add("session", templates.FieldName, templates.FieldStarts, templates.FieldCurfew, templates.FieldBreaks), AddTrack: f.add("track", templates.FieldName),
		AddSled: f.add("sled", templates.FieldDescription),
	}
	for _, s := range e.Sessions {
		starts := s.Starts.In(e.Location()).Format(sessionFormat)
		part := templates.ProgrammePart{ID: s.ID.String(), Name: s.Name, Detail: starts + ", " + classCount(used[s.ID])}
		curfew := clock(e, s.Curfew)
		if curfew != "" {
			part.Detail += ", curfew " + curfew
		}
		part.Breaks = breakWords(e, s)
		part.Change = f.change("session-change", s.ID, map[string]string{
			templates.FieldName: s.Name, templates.FieldStarts: starts, templates.FieldCurfew: curfew, templates.FieldBreaks: typedBreaks(e, s),
		})
		if used[s.ID] == 0 && len(e.Sessions) > 1 {
			part.Remove = f.change("session-remove", s.ID, nil)
		}
		view.Sessions = append(view.Sessions, part)
	}
	for _, t := range e.Tracks {
		part := templates.ProgrammePart{ID: t.ID.String(), Name: t.Name, Detail: classCount(used[t.ID])}
		part.Change = f.change("track-change", t.ID, map[string]string{templates.FieldName: t.Name})
		if used[t.ID] == 0 && len(e.Tracks) > 1 {
			part.Remove = f.change("track-remove", t.ID, nil)
		}
		view.Tracks = append(view.Tracks, part)
	}
	for _, sled := range e.Sleds {
		document, err := doc.WriteSledCard(sled)
		if err != nil {
			return view, err
		}
		view.Sleds = append(view.Sleds, templates.ProgrammePart{
			ID: sled.ID.String(), Name: sled.Name, Detail: sledWords(sled), Log: sledLogHref(e, sled.ID),
			Change: f.change("sled-change", sled.ID, map[string]string{templates.FieldDescription: string(document)},
				templates.Hidden{Name: fieldVersion, Value: strconv.Itoa(sled.Version())}),
		})
	}
	if no != nil && !f.told {
		view.Notice = no.told()
	}
	return view, nil
}

// programmeForms makes the forms of the page. told is whether one of them says what was refused.
type programmeForms struct {
	base string
	no   *refused
	told bool
}

// add makes the form of something new.
func (f *programmeForms) add(act string, fields ...string) *templates.Form {
	made := f.no.make(act, f.base+act, fields, fresh(fieldPart))
	if act == "sled" && !made.Refused() {
		made.Values = map[string]string{templates.FieldDescription: "{\n  \"name\": \"\",\n  \"gears\": 4,\n  \"start_holes\": 3\n}"}
	}
	f.told = f.told || made.Refused()
	return made
}

// change makes a form about a part, filled with what it says now. Only the form of the part that was meant tells a
// refusal.
func (f *programmeForms) change(act string, part uuid.UUID, values map[string]string, hidden ...templates.Hidden) *templates.Form {
	mine := f.no
	if mine != nil && mine.values.Get(fieldPart) != part.String() {
		mine = nil
	}
	var fields []string
	for name := range values {
		fields = append(fields, name)
	}
	made := mine.make(act, f.base+act, fields, append(hidden, templates.Hidden{Name: fieldPart, Value: part.String()})...)
	if !made.Refused() {
		made.Values = values
	}
	f.told = f.told || made.Refused()
	return made
}

// classCount counts classes: "no class", "1 class", "3 classes".
func classCount(n int) string {
	switch n {
	case 0:
		return "no class"
	case 1:
		return "1 class"
	default:
		return fmt.Sprintf("%d classes", n)
	}
}

// sledWords says what is known of a sled, and what the estimate lacks.
func sledWords(sled domain.Sled) string {
	words := fmt.Sprintf("%s, %s, version %d of its description", counted(sled.Gears, "gear"), counted(sled.StartHoles, "start hole"), sled.Version())
	if missing := sled.Missing(); len(missing) > 0 {
		words += "; for the estimate it lacks " + strings.Join(missing, ", ")
	}
	return words
}

// placeAct reads where a class moves.
func placeAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	list, err := ids(values, templates.FieldSession, templates.FieldTrack)
	if err != nil {
		return nil, err
	}
	return domain.MoveClass{Session: list[0], Track: list[1]}, nil
}

// sessionPast remarks that the time of the session of a class that has not begun is past, as a date that was mistyped, or a
// programme that was put off and not written anew, would have it.
func sessionPast(e domain.Event, class *domain.Class, now time.Time) []templates.Message {
	for _, s := range e.Sessions {
		if s.ID == class.Session && class.Movable() && s.Over(now) {
			return []templates.Message{{
				Text: fmt.Sprintf("Its session, %s, was to start %s, and its time is past.", s.Name, s.Starts.In(e.Location()).Format(dateFormat+" "+clockFormat)),
				Do:   "If the programme is right, nothing is to be done; else change the session, or put the class into another one.",
			}}
		}
	}
	return nil
}

// deskPlace offers to move a class that has not begun to another session or track, where the event has one.
func deskPlace(view *templates.DeskClass, e domain.Event, class *domain.Class, base string, no *refused) {
	if !class.Movable() || len(e.Sessions)+len(e.Tracks) < 3 {
		return
	}
	view.Place = no.make("place", base+"place", []string{templates.FieldSession, templates.FieldTrack})
	if !view.Place.Refused() {
		view.Place.Values = map[string]string{templates.FieldSession: class.Session.String(), templates.FieldTrack: class.Track.String()}
	}
	for _, s := range e.Sessions {
		view.Sessions = append(view.Sessions, templates.Option{Value: s.ID.String(), Text: s.Name, Typed: true})
	}
	for _, t := range e.Tracks {
		view.Tracks = append(view.Tracks, templates.Option{Value: t.ID.String(), Text: t.Name, Typed: true})
	}
}
