package api

import (
	"strings"
	"time"

	"clayline/domain"
)

// measure is a distance, weight or speed on the wire: decimal figures as they were written, and their unit. It is never
// a floating number. 281.36 has no exact value in binary, and 281.4 and 281.40 say how exactly somebody read: both
// would be lost.
//
//	{"figures": "281.36", "unit": "ft"}
type measure struct {
	Figures string `json:"figures"`
	Unit    string `json:"unit"`
}

// distanceOf writes a distance, nil for none. Inches are not split into feet. A reader that wants feet divides, and
// ours would have to put them together again.
func distanceOf(d domain.Distance) *measure {
	if d.IsZero() {
		return nil
	}
	return &measure{Figures: d.Decimal(), Unit: d.Unit().String()}
}

// weightOf writes a weight, nil for none. The domain's commas are for people.
func weightOf(w domain.Weight) *measure {
	if w.IsZero() {
		return nil
	}
	return &measure{Figures: strings.ReplaceAll(w.Figures(), ",", ""), Unit: w.Unit()}
}

// speedOf writes a speed, nil for none.
func speedOf(v domain.Speed) *measure {
	if v.IsZero() {
		return nil
	}
	figures, unit, _ := strings.Cut(v.String(), " ")
	return &measure{Figures: figures, Unit: unit}
}

// maxFigures bounds the figures of a measure: seven digits, a point and three decimals.
const maxFigures = 11

// measured reads a measure in one of the units; it is "" when there was something wrong with it. What names the measure
// in a refusal, "distance". The text is that which the domain's own parsers read, "281.36 ft", so that there is one
// place that knows how many figures a measure may have.
func (o *object) measured(name, what string, units ...string) string {
	m := o.inner(name)
	if *o.wrong != nil {
		return ""
	}
	figures, unit := m.text("figures", maxFigures), m.text("unit", maxFigures)
	if *o.wrong == nil && strings.Trim(figures, "0123456789.") != "" {
		m.refuse("figures", figures+" is not a decimal number", "write digits with at most three decimals after a point, such as 281.36")
	}
	known := false
	for _, u := range units {
		known = known || u == unit
	}
	if !known && *o.wrong == nil {
		m.refuse("unit", unit+" is not a unit of "+what, "write "+strings.Join(units, " or "))
	}
	if m.done() != nil {
		return ""
	}
	return figures + " " + unit
}

// distance reads a distance that must be there. Units are ft, in and m.
func (o *object) distance(name string) (d domain.Distance) {
	if text := o.measured(name, "distance", "ft", "in", "m"); text != "" {
		var err error
		d, err = domain.ParseDistance(text, 0)
		o.keep(join(name, "figures"), err)
	}
	return d
}

// weight reads a weight that must be there. Units are lb and kg.
func (o *object) weight(name string) (w domain.Weight) {
	if text := o.measured(name, "weight", "lb", "kg"); text != "" {
		var err error
		w, err = domain.ParseWeight(text)
		o.keep(join(name, "figures"), err)
	}
	return w
}

// speed reads a speed that must be there. Units are mph and km/h.
func (o *object) speed(name string) (v domain.Speed) {
	if text := o.measured(name, "speed", "mph", "km/h"); text != "" {
		var err error
		v, err = domain.ParseSpeed(text)
		o.keep(join(name, "figures"), err)
	}
	return v
}

// moment is a time on the wire, RFC 3339 in UTC; nil for none.
func moment(at time.Time) *time.Time {
	if at.IsZero() {
		return nil
	}
	at = at.UTC()
	return &at
}
