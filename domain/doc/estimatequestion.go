package doc

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"clayline/domain"
)

// The fields of a question about the sled estimate, as they stand in an address.
const (
	AskRound   = "round"
	AskBox     = "box"
	AskGear    = "gear"
	AskHole    = "start_hole"
	AskTrip    = "trip"
	AskPan     = "pan"
	AskMuUp    = "mu_up"
	AskMuDown  = "mu_down"
	AskCRR     = "c_rr"
	AskDig     = "dig_lb"
	AskDigRamp = "dig_ramp_ft"
	AskDrift   = "drift"
	AskSpeeds  = "speeds"
)

// EstimateFields lists the fields of a question.
func EstimateFields() []string {
	return []string{AskRound, AskBox, AskGear, AskHole, AskTrip, AskPan, AskMuUp, AskMuDown, AskCRR, AskDig, AskDigRamp, AskDrift, AskSpeeds}
}

// ParseEstimateQuestion reads a question about a class from the values of an address; each may be empty. What is not given
// of the other setting is as in the setting it starts from, and if nothing of it is given there is no other. Weights and
// lengths without a unit are in that of the class; drift is in percent. It refuses with a domain error of kind Invalid at
// the field.
//
//	gear=4&trip=176&mu_down=0.45&drift=5&speeds=7 12.5, 23 11.8
func ParseEstimateQuestion(c *domain.Class, value func(field string) string) (EstimateQuestion, error) {
	f := askFields{class: c, value: func(name string) string { return strings.TrimSpace(value(name)) }}
	q := EstimateQuestion{Round: f.round(), Ground: InventedGround(), Drift: f.number(AskDrift, 100*AssumedDrift) / 100}
	for _, g := range []struct {
		field string
		into  *float64
	}{{AskMuUp, &q.Ground.MuUp}, {AskMuDown, &q.Ground.MuDown}, {AskCRR, &q.Ground.CRR}, {AskDig, &q.Ground.Dig}, {AskDigRamp, &q.Ground.DigRamp}} {
		*g.into = f.number(g.field, *g.into)
	}
	q.Speeds = f.speeds()
	q.Other = f.other(q.Round)
	return q, f.wrong
}

// askFields reads the fields of a question and keeps the first that is wrong.
type askFields struct {
	class *domain.Class
	value func(string) string
	wrong error
}

// refuse keeps a refusal.
func (f *askFields) refuse(field, message, fix string) {
	if f.wrong == nil {
		f.wrong = &domain.Error{Kind: domain.Invalid, Field: field, Message: message, Fix: fix}
	}
}

// keep keeps an error of the domain, at the field of the question.
func (f *askFields) keep(field string, err error) {
	if e, ok := errors.AsType[*domain.Error](err); ok {
		f.refuse(field, e.Message, e.Fix)
	}
}

// round reads the round to start from.
func (f *askFields) round() domain.RoundName {
	if f.value(AskRound) == "" {
		return domain.RoundName{}
	}
	name, err := domain.ParseRoundName(f.value(AskRound))
	f.keep(AskRound, err)
	return name
}

// number reads a number that may be left out.
func (f *askFields) number(field string, byDefault float64) float64 {
	text := f.value(field)
	if text == "" {
		return byDefault
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		f.refuse(field, fmt.Sprintf("%q is not a number", text), "write figures such as 0.35, with a point for the decimals")
	}
	return x
}

// count reads a whole number that may be left out.
func (f *askFields) count(field string, byDefault int) int {
	text := f.value(field)
	if text == "" {
		return byDefault
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		f.refuse(field, fmt.Sprintf("%q is not a whole number", text), "write figures such as 3")
	}
	return n
}

// withUnit is a value with the unit that it may leave to the class.
func (f *askFields) withUnit(field, unit string) string {
	text := f.value(field)
	if text != "" && strings.Trim(text, "0123456789.,") == "" {
		text += " " + unit
	}
	return text
}

// other reads the setting beside the one of the round; the zero Setting where nothing of it is given.
func (f *askFields) other(round domain.RoundName) domain.Setting {
	basis, ok := f.class.EstimateBasis(round)
	if !ok || f.value(AskBox)+f.value(AskGear)+f.value(AskHole)+f.value(AskTrip)+f.value(AskPan) == "" {
		return domain.Setting{}
	}
	from := basis.Revision.Setting
	s := domain.Setting{Box: from.Box, Gear: f.count(AskGear, from.Gear), StartHole: f.count(AskHole, from.StartHole), Trip: from.Trip, Pan: from.Pan}
	unit := map[bool]string{true: "kg", false: "lb"}[f.class.Rules.Unit() == domain.Metre]
	for _, w := range []struct {
		field string
		into  *domain.Weight
	}{{AskBox, &s.Box}, {AskPan, &s.Pan}} {
		if f.value(w.field) != "" {
			var err error
			*w.into, err = domain.ParseWeight(f.withUnit(w.field, unit))
			f.keep(w.field, err)
		}
	}
	if text := f.value(AskTrip); text != "" {
		var err error
		s.Trip, err = domain.ParseDistance(text, f.class.Rules.Unit())
		f.keep(AskTrip, err)
	}
	return s
}

// speedParts parts "7 12.5, 23 11.8" at its commas, and at semicolons. What stands behind a comma and is one word is no number with
// a speed but the decimals of the one before it, as people type them where the comma is the decimal sign: "7 12,5; 23 11,8".
func speedParts(text string) (parts []string) {
	for _, half := range strings.Split(text, ";") {
		for i, part := range strings.Split(half, ",") {
			words := strings.Fields(strings.TrimSuffix(strings.TrimSuffix(part, "mph"), "km/h"))
			if i > 0 && len(words) == 1 && strings.Trim(words[0], "0123456789") == "" && strings.HasPrefix(part, words[0]) {
				parts[len(parts)-1] += "." + part
				continue
			}
			parts = append(parts, part)
		}
	}
	return parts
}

// speeds reads "7 12.5, 23 11.8 mph": a number and its speed at the line, in miles an hour or, in a class in metres, in
// kilometres an hour.
func (f *askFields) speeds() map[string]domain.Speed {
	if f.value(AskSpeeds) == "" {
		return nil
	}
	unit := map[bool]string{true: "km/h", false: "mph"}[f.class.Rules.Unit() == domain.Metre]
	speeds := map[string]domain.Speed{}
	for _, part := range speedParts(f.value(AskSpeeds)) {
		words := strings.Fields(part)
		if last := len(words) - 1; last > 0 && (words[last] == "mph" || words[last] == "km/h") {
			unit, words = words[last], words[:last]
		}
		last := len(words) - 1
		if last < 1 {
			f.refuse(AskSpeeds, fmt.Sprintf("%q is not a number with its speed", strings.TrimSpace(part)), "write them such as 7 12.5, 23 11.8")
			return nil
		}
		number := strings.Join(words[:last], " ")
		if _, twice := speeds[number]; twice {
			f.refuse(AskSpeeds, "number "+number+" stands twice", "keep one of its speeds")
		}
		speed, err := domain.ParseSpeed(words[last] + " " + unit)
		f.keep(AskSpeeds, err)
		speeds[number] = speed
	}
	return speeds
}
