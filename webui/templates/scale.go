package templates

import "github.com/a-h/templ"

// Names of the fields that the forms of the scale send, and those of a plan that are about it.
const (
	FieldAfter   = "after"   // before or after the hook
	FieldEntry   = "entry"   // the number of the vehicle on the scale
	FieldMinutes = "minutes" // plan: minutes for protests
	FieldWeight  = "weight"  // what the scale showed; plan: the limit
)

// Scale is the page of the person at the scale: a phone in the rain. One vehicle, one field, one button.
type Scale struct {
	Frame
	Class    string
	Rule     string // "8,500 lb, 10 lb over allowed, with the driver"
	Unit     string // of the field: "lb"
	Weigh    *Form  // FieldEntry, FieldWeight, FieldAfter; nil where nothing is weighed
	Entries  []ScaleEntry
	First    []Option // the two buttons, the likelier first: FieldAfter
	Heavy    []Message
	Due      []ScaleDue // who is to go over the scale after the hook
	Practice string     // why these: "common practice …"; empty where the rules want it
	Readings []ScaleReading
	Quiet    *Quiet // set when nothing is weighed
}

// ScaleEntry is a vehicle to choose.
type ScaleEntry struct {
	Puller
	State string // "not weighed", "8,480 lb", "8,620 lb, too heavy, 1 try left"
}

// ScaleDue is a vehicle that is to go over the scale.
type ScaleDue struct {
	Puller
	Href string // the page with the vehicle chosen
}

// ScaleReading is what the scale showed.
type ScaleReading struct {
	Puller
	Weight  string
	State   string // "before the hook, 18:20", "not counted: that was 7"
	ID      string
	Misread *Form // FieldReason; nil once it does not count
}

// ScaleState is what a class's own pages say about the scale.
type ScaleState struct {
	Lines []Term // the limit, who is weighed and who is not
	Link  Link   // to the scale's page, for staff
}

// wrong is what is wrong with a field of the form.
func (p Scale) wrong(field string) string {
	if p.Weigh == nil {
		return ""
	}
	return p.Weigh.Error(field)
}

// weightAttributes tie what is wrong to the field.
func (p Scale) weightAttributes() templ.Attributes {
	if p.wrong(FieldWeight) == "" {
		return nil
	}
	return templ.Attributes{"aria-invalid": "true", "aria-describedby": "weight-wrong"}
}
