package webui

import (
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/webui/templates"
)

// Hidden fields of the forms of this package. Ids of what a form makes are made when the form is shown, so that
// the same form sent again makes the same.
const (
	fieldAction   = "action"   // id of the action, so that a form sent twice does its work once
	fieldNext     = "next"     // id for the hook that is called next
	fieldWord     = "word"     // the word of a result that has a form of its own: FP, DQ, absent, measured again
	fieldConfirm  = "confirm"  // a question that was asked about an unlikely value; once for each
	fieldOption   = "option"   // the option of a choice
	fieldEntry    = "entry"    // id of an entry
	fieldRound    = "round"    // id or name of a round
	fieldRevision = "revision" // number of a setting revision
	fieldShot     = "shot"     // id of a photo that is attached
	fieldDrafted  = "drafted"  // when the draft that the page shows was written
)

// refused is a form that came in and could not be done: which one, what was typed, and why. A nil *refused is
// "nothing was refused", and its methods can be called.
type refused struct {
	form   string
	values url.Values
	err    *domain.Error
}

// refusal returns the refused form for an error that the person can mend on the page, or nil. What is forbidden
// or not there cannot be mended by typing, and is an error page.
func refusal(form string, values url.Values, err error) *refused {
	e, ok := errors.AsType[*domain.Error](err)
	if !ok || e.Kind == domain.Forbidden || e.Kind == domain.NotFound {
		return nil
	}
	return &refused{form: form, values: values, err: e}
}

// otherNames are what forms call the fields that the domain calls something else, by the domain's name.
var otherNames = map[string]string{
	"start_hole": templates.FieldHole, "slabs": templates.FieldLeft, "blades": templates.FieldBlade, "device": templates.FieldMeasure,
	"sleds": templates.FieldGears, "result": templates.FieldAt, "speed_limit": templates.FieldLimit, "slabs.left": templates.FieldLeft, "slabs.middle": templates.FieldMiddle, "slabs.right": templates.FieldRight,
}

// make makes a form that posts to an address, with a fresh action id; when it is the refused one it keeps what
// was typed and says what was wrong, at the field if the form has it, else at the form. fields are those that a
// person fills in; hidden come back with fresh values.
func (r *refused) make(name, action string, fields []string, hidden ...templates.Hidden) *templates.Form {
	f := &templates.Form{Action: action, Hidden: append([]templates.Hidden{{Name: fieldAction, Value: uuid.NewString()}}, hidden...)}
	if r == nil || r.form != name {
		return f
	}
	f.Values, f.Errors = map[string]string{}, map[string]string{}
	// "" is the form as a whole, where a refusal stands that is about no field of this form.
	field := ""
	for _, name := range fields {
		f.Values[name] = r.values.Get(name)
		if name == r.err.Field || name == otherNames[r.err.Field] {
			field = name
		}
	}
	f.Errors[field] = sentence(r.err.Message) + " " + sentence(r.err.Fix)
	r.asked(f)
	return f
}

// told says what was refused where the form is not on the page any more, with what had been typed into it, so
// that a distance can be stored again by hand.
func (r *refused) told() string {
	words := sentence(r.err.Message) + " " + sentence(r.err.Fix)
	if typed := r.values.Get(templates.FieldResult); typed != "" {
		words = fmt.Sprintf("%q was not stored. ", typed) + words
	}
	return words
}

// tells reports whether one of the forms says what was wrong with it. nil stands for a form that is not on the
// page.
func tells(forms ...*templates.Form) bool {
	return slices.ContainsFunc(forms, func(f *templates.Form) bool { return f != nil && f.Refused() })
}

// noText reports what nobody can type and no database keeps.
func noText(s string) bool { return !utf8.ValidString(s) || strings.ContainsRune(s, 0) }

// id reads an id that a form carries. A form without it was not sent by a page of ours, or by half of one.
func id(values url.Values, field string) (uuid.UUID, error) {
	parsed, err := uuid.Parse(values.Get(field))
	if err != nil {
		return uuid.Nil, &domain.Error{Kind: domain.Invalid, Field: field, Message: "the form is not complete", Fix: "reload the page and send it again", Cause: err}
	}
	return parsed, nil
}

// ids reads several ids at once, in the order of the fields.
func ids(values url.Values, fields ...string) ([]uuid.UUID, error) {
	list := make([]uuid.UUID, len(fields))
	for i, field := range fields {
		parsed, err := id(values, field)
		if err != nil {
			return nil, err
		}
		list[i] = parsed
	}
	return list, nil
}

// fresh is a hidden field with a new id, at random.
func fresh(name string) templates.Hidden {
	return templates.Hidden{Name: name, Value: uuid.NewString()}
}

// atField says at which field of a form a refused value stands. The error is copied: others may hold it.
func atField(field string, err error) error {
	if e, ok := errors.AsType[*domain.Error](err); ok {
		at := *e
		at.Field = field
		return &at
	}
	return err
}

// readForm turns what a form sent into an action on the class as it is. It runs under the class's lock and
// perhaps more than once, and must do nothing but read.
type readForm func(*domain.Class, url.Values) (domain.Action, error)

// acts are the forms of a page, by the last part of the address. What is not in the map is not found: the booth
// cannot send what is the desk's by another address.
type acts map[string]readForm

// formOf names the form that an act came from: results and corrections have several, told apart by their word. What was
// refused is shown in the form in which it was typed.
func formOf(act string, values url.Values) string {
	if word := values.Get(fieldWord); word != "" && (act == "result" || act == "correct") {
		return word
	}
	return act
}

// quantity reads a field that may leave its unit to the form; empty is none. What was typed with a unit keeps
// it.
func quantity[T any](values url.Values, field, unit string, parse func(string) (T, error)) (T, error) {
	text := strings.TrimSpace(values.Get(field))
	if text != "" && strings.Trim(text, "0123456789., \u00a0\u202f") == "" {
		text += " " + unit
	}
	v, err := parse(text)
	return v, atField(field, err)
}

// units are the units in which the setting form is filled in, so that figures can be typed without one: those
// of the side of the world that the class is measured on.
type units struct{ weight, length, depth, speed string }

// unitsOf returns the units that go with the class's unit of length.
func unitsOf(class *domain.Class) units {
	if class.Rules.Unit() == domain.Metre {
		return units{"kg", "m", "cm", "km/h"}
	}
	return units{"lb", "ft", "in", "mph"}
}
