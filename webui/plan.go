//go:build !js

package webui

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/doc"
	"clayline/webui/templates"
)

// planFields and planClassFields are what the two planning forms send.
var (
	planFields = []string{
		templates.FieldName, templates.FieldPlace, templates.FieldZone, templates.FieldTracks, templates.FieldSled,
		templates.FieldGears, templates.FieldHoles, templates.FieldSessions,
	}
	planClassFields = []string{templates.FieldName, templates.FieldRules, templates.FieldKind, templates.FieldSession, templates.FieldTrack, templates.FieldSled}
)

// sessionFormat is how a line of the sessions field begins, on the clock of the place.
const sessionFormat = "2006-01-02 15:04"

// planned reads the plan of an event. Tracks and sessions are one a line. All ids follow from the action's, so
// that the same form sent again plans the same event. The zone is looked at before the sessions, whose times
// are read in it.
func planned(action uuid.UUID, values url.Values) (domain.Event, error) {
	name := strings.TrimSpace(values.Get(templates.FieldName))
	e := domain.Event{
		ID: action, Name: name, Slug: domain.Slug(name), Place: strings.TrimSpace(values.Get(templates.FieldPlace)),
		Zone: strings.TrimSpace(values.Get(templates.FieldZone)),
	}
	for _, line := range lines(values.Get(templates.FieldTracks)) {
		e.Tracks = append(e.Tracks, domain.Track{ID: partOf(action, "track", len(e.Tracks)), Name: line})
	}
	sled := domain.Sled{ID: partOf(action, "sled", 0), Name: strings.TrimSpace(values.Get(templates.FieldSled))}
	var err error
	if sled.Gears, err = number(values, templates.FieldGears, "the number of gears"); err != nil {
		return e, err
	}
	if sled.StartHoles, err = number(values, templates.FieldHoles, "the number of start holes"); err != nil {
		return e, err
	}
	e.Sleds = []domain.Sled{sled}
	if _, err := time.LoadLocation(e.Zone); err != nil {
		return e, &domain.Error{Kind: domain.Invalid, Field: templates.FieldZone, Message: fmt.Sprintf("%q is not a time zone", e.Zone),
			Fix: "write one such as Europe/Amsterdam or America/Chicago", Cause: err}
	}
	for _, line := range lines(values.Get(templates.FieldSessions)) {
		session, err := readSession(line, e.Location())
		if err != nil {
			return e, err
		}
		session.ID = partOf(action, "session", len(e.Sessions))
		e.Sessions = append(e.Sessions, session)
	}
	return e, e.Check()
}

// partOf is the id of the nth part of what an action makes: the same for the same action, and no other's.
func partOf(action uuid.UUID, part string, n int) uuid.UUID {
	return uuid.NewSHA1(action, []byte(part+" "+strconv.Itoa(n)))
}

// readSession reads "2026-09-19 18:00 Evening session".
func readSession(line string, zone *time.Location) (domain.Session, error) {
	if len(line) > len(sessionFormat) {
		starts, err := time.ParseInLocation(sessionFormat, line[:len(sessionFormat)], zone)
		// A session without a name could not be told from another on the programme.
		if name := strings.TrimSpace(line[len(sessionFormat):]); err == nil && name != "" {
			return domain.Session{Name: name, Starts: starts.UTC()}, nil
		}
	}
	return domain.Session{}, &domain.Error{Kind: domain.Invalid, Field: templates.FieldSessions,
		Message: fmt.Sprintf("%q is not a session", line), Fix: "write its start and its name, such as 2026-09-19 18:00 Evening session"}
}

// lines returns the lines of a text that say something, without spaces around.
func lines(text string) []string {
	var list []string
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); line != "" {
			list = append(list, line)
		}
	}
	return list
}

// number reads a whole number; empty is 0, for the domain to judge. what names it in the refusal.
func number(values url.Values, field, what string) (int, error) {
	text := strings.TrimSpace(values.Get(field))
	if text == "" {
		return 0, nil
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		return 0, &domain.Error{Kind: domain.Invalid, Field: field, Message: fmt.Sprintf("%q is not a number", text), Fix: "write " + what + " in figures", Cause: err}
	}
	return n, nil
}

// plannedClass reads the plan of a class, whose id is the action's. Here a class can have the ready-made rule
// sets; a set of a club's own comes in through the interface for programs.
func plannedClass(action uuid.UUID, values url.Values) (domain.PlanClass, error) {
	rules, err := doc.ReadyMadeRuleSet(values.Get(templates.FieldRules))
	if err != nil {
		return domain.PlanClass{}, &domain.Error{Kind: domain.Invalid, Field: templates.FieldRules, Message: "the rule set is missing", Fix: "choose one", Cause: err}
	}
	if err := ownLimits(&rules, values); err != nil {
		return domain.PlanClass{}, err
	}
	list, err := ids(values, templates.FieldSession, templates.FieldTrack, templates.FieldSled)
	if err != nil {
		return domain.PlanClass{}, err
	}
	return domain.PlanClass{
		Class: action, Name: values.Get(templates.FieldName), Rules: rules, Kind: values.Get(templates.FieldKind),
		Session: list[0], Track: list[1], Sled: domain.Sled{ID: list[2]},
	}, nil
}

// ownLimits reads the two rules that a ready-made set cannot know of a class: its weight limit, and how long this event
// waits for protests. What else the groups can say is what a file says that leaves it out.
func ownLimits(rules *domain.RuleSet, values url.Values) error {
	limit, err := typedWeight(values.Get(templates.FieldWeight))
	if err != nil {
		return atField(templates.FieldWeight, err)
	}
	if !limit.IsZero() {
		rules.Weight = domain.WeightRule{Limit: limit, When: domain.WeighBefore, Over: domain.OverDisqualified, WithDriver: true}
	}
	minutes, err := number(values, templates.FieldMinutes, "the minutes")
	if err != nil {
		return err
	}
	if minutes != 0 {
		rules.Protest = domain.ProtestRule{Minutes: minutes}
	}
	return nil
}

// ruleSets are the ready-made rule sets, by name.
func ruleSets() []domain.RuleSet {
	var list []domain.RuleSet
	for _, name := range doc.ReadyMade() {
		if rules, err := doc.ReadyMadeRuleSet(name); err == nil {
			list = append(list, rules)
		}
	}
	return list
}

// ruleOptions lists rule sets with what they say.
func ruleOptions(sets []domain.RuleSet) []templates.Option {
	list := make([]templates.Option, len(sets))
	for i, rules := range sets {
		list[i] = templates.Option{Value: rules.Name, Text: firstUpper(rules.Title)}
	}
	return list
}
