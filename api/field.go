package api

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"

	"clayline/domain"
)

// maxText bounds every text, in characters. It is as much as an announcer reads aloud.
const maxText = 200

// object is a JSON object of a request that is being read, field by field. The first field that is wrong is kept, by
// the name of its place, and whatever is read after it is nothing; [object.done] then tells. Fields nobody asked for
// are wrong too: a misspelt field that may be left out would otherwise be lost in silence.
//
// Reading so leaves the functions that read a write without a branch for each field:
//
//	hook, option := in.param("hook"), in.body.text("option", maxText)
//	if err := in.body.done(); err != nil { … }
//
// What was read must not be used before done has returned nil.
type object struct {
	path   string
	fields map[string]any
	asked  map[string]bool
	wrong  *error // of the whole body
}

// newObject begins to read a body, the object whose path is "".
func newObject(fields map[string]any) *object {
	var wrong error
	return &object{fields: fields, asked: map[string]bool{}, wrong: &wrong}
}

// refuse keeps the first thing that is wrong. The name is of a field of this object; the refusal names its place in the
// body, "trip.figures".
func (o *object) refuse(name, message, fix string) {
	if *o.wrong == nil {
		*o.wrong = invalid(join(o.path, name), message, fix)
	}
}

// keep keeps the first error about a field, whatever field it names itself. The domain knows its own fields and not
// where they stand in a body. Nil is no error.
func (o *object) keep(name string, err error) {
	if err != nil && *o.wrong == nil {
		*o.wrong = placed(err, join(o.path, name))
	}
}

// done says what was wrong. It is called once the whole object has been read, before the objects in it are forgotten.
// Of several fields that nobody asked for it names the first by the alphabet, so that the same body is always told the
// same.
func (o *object) done() error {
	for _, name := range slices.Sorted(maps.Keys(o.fields)) {
		if !o.asked[name] {
			o.refuse(name, "there is no field "+name+" here", "leave it out, or write one of "+strings.Join(slices.Sorted(maps.Keys(o.asked)), ", "))
		}
	}
	return *o.wrong
}

// has reports whether the field is there. Asking makes the field known, so that done takes it for one that may stand
// here. A null is there, and is refused by whatever reads it.
func (o *object) has(name string) bool {
	_, there := o.fields[name]
	o.asked[name] = true
	return there
}

// get returns the value of a field of a type; what is not there, or of another type, is refused. Ok is false when the
// value must not be looked at; what says in words what should have been written.
func get[T any](o *object, name, what string) (value T, ok bool) {
	if !o.has(name) {
		o.refuse(name, "the field "+name+" is missing", "write it, as "+what)
		return value, false
	}
	if value, ok = o.fields[name].(T); !ok {
		o.refuse(name, nameOf(o.fields[name])+" cannot stand here", "write "+what)
	}
	return value, ok
}

// text reads a text that must be there, of at most the given number of characters, without the spaces around it.
// Refused are a text that is longer, one that is empty or blank, and one with characters that cannot be seen; see
// [domain.Shown].
func (o *object) text(name string, most int) string {
	text, ok := get[string](o, name, "a text")
	switch {
	case !ok:
		return ""
	case utf8.RuneCountInString(text) > most:
		o.refuse(name, fmt.Sprintf("the text is longer than %d characters", most), fmt.Sprintf("shorten it by %d", utf8.RuneCountInString(text)-most))
	case !domain.Shown(text):
		o.refuse(name, "the text holds a character that cannot be seen", "write it in one line of plain text")
	case strings.TrimSpace(text) == "":
		o.refuse(name, "the text is empty", "write something, or see whether the field may be left out")
	}
	return strings.TrimSpace(text)
}

// maybe reads a text that may be left out. Left out, empty and blank are the same, "": a form sends an empty text for
// what nobody typed.
func (o *object) maybe(name string) string {
	if !o.has(name) {
		return ""
	}
	if text, ok := o.fields[name].(string); ok && strings.TrimSpace(text) == "" && domain.Shown(text) {
		return ""
	}
	return o.text(name, maxText)
}

// truth reads true or false; what is left out is false.
func (o *object) truth(name string) bool {
	if !o.has(name) {
		return false
	}
	value, _ := get[bool](o, name, "true or false")
	return value
}

// whole reads a whole number from 0 on. A fraction, a sign, an exponent and a number in quotes are refused: 3.0 is not
// rewritten to 3 by guessing.
func (o *object) whole(name string) int {
	const what = "a whole number from 0 on, such as 3"
	number, ok := get[json.Number](o, name, what)
	if !ok {
		return 0
	}
	value, err := strconv.ParseUint(number.String(), 10, 31)
	if err != nil {
		o.refuse(name, number.String()+" cannot stand here", "write "+what)
	}
	return int(value)
}

// count reads a whole number that may be left out, and is 0 then.
func (o *object) count(name string) int {
	if !o.has(name) {
		return 0
	}
	return o.whole(name)
}

// id reads a UUID that must be there.
func (o *object) id(name string) uuid.UUID {
	text, ok := get[string](o, name, "a UUID")
	if !ok {
		return uuid.Nil
	}
	id, err := parseID(text)
	if err != nil {
		o.refuse(name, "that is not a UUID", "write one such as 0b9d3f3e-8c1f-4a56-9c4e-2f6f3a1d7b10")
	}
	return id
}

// idOr reads the UUID of something new; what is left out is derived. A program that works without a connection names
// new things itself, so that it can go on before the answer has come.
func (o *object) idOr(name string, derived uuid.UUID) uuid.UUID {
	if !o.has(name) {
		return derived
	}
	return o.id(name)
}

// parseID reads a UUID in its usual form; the nil UUID is none. The library would also read braces, a URN and 32 digits
// alone; one way of writing keeps ids comparable as text.
func parseID(text string) (uuid.UUID, error) {
	const usual = 36
	id, err := uuid.Parse(text)
	if err == nil && (len(text) != usual || id == uuid.Nil) {
		err = fmt.Errorf("%q is not a UUID in its usual form", text)
	}
	return id, err
}

// moment reads a time of RFC 3339, to the microsecond. The microsecond is what the database keeps, so that what is read
// again is equal. Refused are years that RFC 3339 cannot write.
func (o *object) moment(name string) time.Time {
	const what = "a time such as 2026-09-19T18:00:00Z"
	text, ok := get[string](o, name, what)
	if !ok {
		return time.Time{}
	}
	at, err := time.Parse(time.RFC3339, text)
	if err != nil || at.Year() < 1 || at.Year() > 9999 {
		o.refuse(name, "that is not a time", "write "+what)
	}
	return at.UTC().Truncate(time.Microsecond)
}

// maybeMoment reads a time that may be left out, and is zero then.
func (o *object) maybeMoment(name string) time.Time {
	if _, ok := o.fields[name]; !ok {
		return time.Time{}
	}
	return o.moment(name)
}

// inner reads an object that must be there. Its refusals are kept for the whole body. What is no object gives one
// without fields, whose fields are all missing; the first refusal is the one that is told.
func (o *object) inner(name string) *object {
	fields, _ := get[map[string]any](o, name, "an object")
	return &object{path: join(o.path, name), fields: fields, asked: map[string]bool{}, wrong: o.wrong}
}

// inners reads a list of objects, one at least and at most the given number. Items that are no objects are refused at
// tracks[1]; the others are read all the same.
func (o *object) inners(name string, most int) []*object {
	list, ok := get[[]any](o, name, "a list of objects")
	if ok && (len(list) == 0 || len(list) > most) {
		o.refuse(name, fmt.Sprintf("the list has %d items", len(list)), fmt.Sprintf("write 1 to %d", most))
		return nil
	}
	objects := make([]*object, len(list))
	for i, value := range list {
		place := fmt.Sprintf("%s[%d]", name, i)
		fields, ok := value.(map[string]any)
		if !ok {
			o.refuse(place, nameOf(value)+" cannot stand here", "write an object")
		}
		objects[i] = &object{path: join(o.path, place), fields: fields, asked: map[string]bool{}, wrong: o.wrong}
	}
	return objects
}
