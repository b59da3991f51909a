package doc

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"

	"clayline/domain"
)

// misnamed returns what package encoding/json passes over in the names of a document that is to be read into a type: a
// name that stands twice in one object, of which it keeps the last and forgets the first, and one that differs from a
// field's in its capital letters alone. Either would let a document say something else than it seems to: RFC 8259,
// section 4, leaves open what a reader makes of equal names. Each is refused at its place, test_puller.options, in the
// order of the document.
//
//	{"cap": true, "Cap": false}     there is no field Cap; write cap
//	{"cap": true, "cap": false}     the name cap stands twice; write it once
//
// What is not JSON, and names that no field is like, are left to the reader.
func misnamed(document []byte, of reflect.Type) []error {
	w := nameWalk{decoder: json.NewDecoder(bytes.NewReader(document))}
	w.value("", of)
	return w.faults
}

// nameWalk walks a document token by token beside the type that it is to be read into.
type nameWalk struct {
	decoder *json.Decoder
	faults  []error
}

// value walks one value; of is its type, nil where none is known. It reports whether the document goes on.
func (w *nameWalk) value(path string, of reflect.Type) bool {
	token, err := w.decoder.Token()
	if err != nil {
		return false
	}
	switch token {
	case json.Delim('{'):
		return w.object(path, inside(of, reflect.Struct))
	case json.Delim('['):
		items := inside(of, reflect.Slice)
		if items != nil {
			items = items.Elem()
		}
		for w.decoder.More() {
			if !w.value(path, items) {
				return false
			}
		}
		_, err = w.decoder.Token()
	}
	return err == nil
}

// object walks an object, whose opening brace was read, and its closing one.
func (w *nameWalk) object(path string, of reflect.Type) bool {
	seen := make(map[string]bool)
	for w.decoder.More() {
		token, err := w.decoder.Token()
		name, isName := token.(string)
		if err != nil || !isName {
			return false
		}
		at := strings.TrimPrefix(path+"."+name, ".")
		field, like := fieldLike(of, name)
		switch {
		case seen[name]:
			w.faults = append(w.faults, ruleError(at, "the name "+name+" stands twice", "write it once"))
		case like != "" && like != name:
			w.faults = append(w.faults, ruleError(strings.TrimPrefix(path+"."+like, "."), "there is no field "+name, "write "+like))
		}
		seen[name] = true
		if !w.value(at, field) {
			return false
		}
	}
	_, err := w.decoder.Token()
	return err == nil
}

// fieldLike returns the field of a type that a name is read into, and how its name is written; capital letters make no
// difference to package json, and so none here.
func fieldLike(of reflect.Type, name string) (field reflect.Type, written string) {
	if of == nil {
		return nil, ""
	}
	for i := range of.NumField() {
		written, _, _ := strings.Cut(of.Field(i).Tag.Get("json"), ",")
		if strings.EqualFold(written, name) {
			return of.Field(i).Type, written
		}
	}
	return nil, ""
}

// inside returns the type of the kind behind pointers, nil for another or for none.
func inside(of reflect.Type, kind reflect.Kind) reflect.Type {
	for of != nil && of.Kind() == reflect.Pointer {
		of = of.Elem()
	}
	if of == nil || of.Kind() != kind {
		return nil
	}
	return of
}

// doubled refuses an option that stands twice in a list: one of the two is a mistake for another.
func doubled(field string, options []domain.Option) error {
	seen := make(map[domain.Option]bool, len(options))
	for _, o := range options {
		if seen[o] {
			return ruleError(field, fmt.Sprintf("the option %s stands twice", o), "write each option once")
		}
		seen[o] = true
	}
	return nil
}
