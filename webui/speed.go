package webui

import (
	"fmt"
	"net/url"
	"slices"
	"strings"

	"clayline/domain"
	"clayline/webui/templates"
)

// speedFields are what a person fills in of a reading.
var speedFields = []string{templates.FieldHook, templates.FieldTop, templates.FieldAtLine}

// speedAct reads what the device read of a hook. A figure without a unit has that of the class.
func speedAct(class *domain.Class, values url.Values) (domain.Action, error) {
	hook, err := id(values, templates.FieldHook)
	if err != nil {
		return nil, err
	}
	action := domain.ReadSpeed{Hook: hook}
	if action.Top, err = typedSpeed(class, values, templates.FieldTop); err != nil {
		return nil, err
	}
	action.AtLine, err = typedSpeed(class, values, templates.FieldAtLine)
	return action, err
}

// typedSpeed reads one of the two figures. The key beside them has a comma in many countries.
func typedSpeed(class *domain.Class, values url.Values, field string) (domain.Speed, error) {
	typed := url.Values{field: {strings.Replace(values.Get(field), ",", ".", 1)}}
	return quantity(typed, field, speedUnit(class), domain.ParseSpeed)
}

// speedUnit is the unit in which a speed is typed: that of the limit, else the one that goes with the class's distances.
func speedUnit(class *domain.Class) string {
	if _, unit, found := strings.Cut(class.Rules.Speed.Limit.String(), " "); found {
		return unit
	}
	return unitsOf(class).speed
}

// speedsOf asks what was read of a hook of the round that ended, nil where none has, and while a vehicle pulls.
func speedsOf(class *domain.Class, base string, no *refused) *templates.Speeds {
	on, r := class.OnTrack(), class.Current()
	if r == nil || on != nil && !on.Started.IsZero() || !class.Official.Made.IsZero() {
		return nil
	}
	view := &templates.Speeds{Unit: speedUnit(class)}
	if limit := class.Rules.Speed.String(); limit != "" {
		view.Limit = "Limit " + limit + "."
	}
	for _, h := range slices.Backward(r.Hooks) {
		if h.Result.IsZero() || h.Result.Outcome == domain.Absent {
			continue
		}
		words := fmt.Sprintf("%s, hook %d", named(class.Entry(h.Entry)), h.Number)
		if read := h.Speeds.String(); read != "" {
			words += ": " + read
		}
		view.Hooks = append(view.Hooks, templates.Option{Value: h.ID.String(), Text: words})
	}
	if len(view.Hooks) == 0 {
		return nil
	}
	view.Form = no.make("speed", base+"speed", speedFields)
	return view
}

// speedAdvice says that more than the limit was read, and what these rules have for it; nil where it was not.
func speedAdvice(c *domain.Class) []templates.Message {
	over := c.OverLimit()
	if over == nil {
		return nil
	}
	advice := ""
	if !c.Rules.Speed.Limit.IsZero() {
		advice = firstUpper(c.Rules.SpeedAdvice()) + ". "
	}
	return []templates.Message{{
		Text: fmt.Sprintf("Hook %d, %s: %s, over the limit of %s.", over.Hook.Number, named(c.Entry(over.Hook.Entry)), over.Hook.Speeds, over.Limit),
		Do:   advice + "The reading says neither where on the track it was nor how often a warning was given, and nothing follows by itself: the officials decide.",
	}}
}

// speedWords tell a reading for the journal; one without a speed took it back.
func speedWords(s domain.Speeds) string {
	if s == (domain.Speeds{}) {
		return "no speed"
	}
	return s.String()
}
