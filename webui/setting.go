//go:build !js

package webui

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"clayline/domain"
	"clayline/webui/templates"
)

// settingLines shows a setting as terms, in the order in which a crew sets a sled; lesser values only where
// there are any.
func settingLines(s domain.Setting, sled domain.Sled) []templates.Term {
	lines := []templates.Term{
		{Label: "Box", Value: strings.TrimPrefix(slabs(s.Slabs)+", ", ", ") + s.Box.String()},
		{Label: "Gear", Value: fmt.Sprintf("%d of %d", s.Gear, sled.Gears)},
		{Label: "Start hole", Value: fmt.Sprintf("%d of %d", s.StartHole, sled.StartHoles)},
		{Label: "Trip", Value: s.Trip.String()},
	}
	for _, t := range []templates.Term{
		{Label: "Pan", Value: s.Pan.String()}, {Label: "Blades", Value: s.Blades, Typed: true}, {Label: "Push-down", Value: s.PushDown, Typed: true},
		{Label: "Measured by", Value: s.Device, Typed: namedDevice(s.Device)}, {Label: "Speed limit", Value: s.SpeedLimit.String()}, {Label: "Note", Value: s.Note, Typed: true},
	} {
		if t.Value != "" {
			lines = append(lines, t)
		}
	}
	return lines
}

// settings shows the frozen revisions of a round, oldest first. A draft is not public: nothing is pulled
// against it.
func settings(e domain.Event, c *domain.Class, r *domain.Round) []templates.Setting {
	var list []templates.Setting
	for _, rev := range r.Revisions {
		if rev.Draft() {
			continue
		}
		list = append(list, templates.Setting{
			Name: fmt.Sprintf("Setting %d", rev.Number), Scope: scope(e, r, rev), Reason: rev.Reason, Lines: settingLines(rev.Setting, c.Sled),
			Box: boxOf(rev.Setting, c.Sled.Card),
		})
	}
	return list
}

// scope says for which hooks a revision holds: all, or from which to which, by their numbers in the round.
func scope(e domain.Event, r *domain.Round, rev domain.Revision) string {
	if len(r.Revisions) == 1 {
		return "the same for every hook since " + clock(e, rev.Frozen)
	}
	first, last := 0, 0
	for _, h := range r.Hooks {
		if h.Revision == rev.Number {
			if first == 0 {
				first = h.Number
			}
			last = h.Number
		}
	}
	switch first {
	case 0:
		return "no hook yet"
	case last:
		return fmt.Sprintf("hook %d", first)
	default:
		return fmt.Sprintf("hooks %d to %d", first, last)
	}
}

// mixed says so when hooks that count were pulled against two settings; "" when they were not. It must be on
// every page of such a round, because its distances do not compare.
func mixed(r *domain.Round) string {
	if !r.TwoSettings() {
		return ""
	}
	return "This round was pulled on two settings: hooks made before the reset were kept under the rules."
}

// settingValues fills the setting form from a setting, in the words that settingAct reads back; nil for the
// zero Setting.
func settingValues(class *domain.Class, s domain.Setting) map[string]string {
	if s.Box.IsZero() {
		return nil
	}
	values := map[string]string{
		templates.FieldGear: strconv.Itoa(s.Gear), templates.FieldHole: strconv.Itoa(s.StartHole),
		templates.FieldTrip: s.Trip.String(), templates.FieldPan: s.Pan.String(), templates.FieldBlade: s.Blades, templates.FieldPushDown: s.PushDown,
		templates.FieldMeasure: s.Device, templates.FieldLimit: s.SpeedLimit.String(), templates.FieldNote: s.Note,
	}
	slabValues(class, s, values)
	return values
}

// settingAct reads for which round the setting form is, and the setting.
func settingAct(class *domain.Class, values url.Values) (domain.Action, error) {
	round, err := id(values, fieldRound)
	if err != nil {
		return nil, err
	}
	s, err := readSetting(class, values)
	return domain.DraftSetting{Round: round, Setting: s}, err
}

// readSetting reads the setting form. Figures without a unit are in the units that the form shows. Counts that
// are left out are 0; whether that can be is the domain's to say, for this sled.
func readSetting(class *domain.Class, values url.Values) (s domain.Setting, err error) {
	u := unitsOf(class)
	s = domain.Setting{
		Blades: strings.TrimSpace(values.Get(templates.FieldBlade)), PushDown: strings.TrimSpace(values.Get(templates.FieldPushDown)),
		Device: strings.TrimSpace(values.Get(templates.FieldMeasure)), Note: strings.TrimSpace(values.Get(templates.FieldNote)),
	}
	if s.Box, err = quantity(values, templates.FieldBox, u.weight, typedWeight); err != nil {
		return s, err
	}
	if s.Pan, err = quantity(values, templates.FieldPan, u.weight, typedWeight); err != nil {
		return s, err
	}
	if s.SpeedLimit, err = quantity(values, templates.FieldLimit, u.speed, domain.ParseSpeed); err != nil {
		return s, err
	}
	if text := strings.TrimSpace(values.Get(templates.FieldTrip)); text != "" {
		if s.Trip, err = domain.ParseDistance(text, class.Rules.Unit()); err != nil {
			return s, atField(templates.FieldTrip, err)
		}
	}
	for _, n := range []struct {
		into  *int
		field string
	}{
		{&s.Gear, templates.FieldGear}, {&s.StartHole, templates.FieldHole},
	} {
		if *n.into, err = number(values, n.field, "it"); err != nil {
			return s, err
		}
	}
	s.Slabs, s.Piles, err = readSlabs(class, values)
	return s, err
}
