package doc

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"

	"clayline/domain"
)

// SeasonError says what in a season file cannot be understood. Line and Column count from 1, in characters; they are 0 where
// the field is missing altogether. Field is the path to it, "events[1].classes[0].series", "" where the file as a whole
// cannot be read. What is wrong in a file that the season names is a [SheetError].
type SeasonError struct {
	File         string
	Line, Column int
	Field        string
	Message, Fix string
}

// Error writes the fault as one line: behind the place for what is no JSON, behind the field for everything else, because a
// path leads to it in any editor.
//
//	season.json:5:12: this is not JSON: …; look for a comma, a quote or a brace too many or too few
//	season.json: field season.drops: -1 lies outside 0 to 9999; write a whole number within
func (e *SeasonError) Error() string {
	switch {
	case e.Field != "":
		return fmt.Sprintf("%s: field %s: %s; %s", e.File, e.Field, e.Message, e.Fix)
	case e.Line > 0:
		return fmt.Sprintf("%s:%d:%d: %s; %s", e.File, e.Line, e.Column, e.Message, e.Fix)
	default:
		return fmt.Sprintf("%s: %s; %s", e.File, e.Message, e.Fix)
	}
}

// Refusal is the fault as a person is told who typed the season into a page: the line first, and the field.
//
//	line 7, season.drops: -1 lies outside 0 to 9999
func (e *SeasonError) Refusal(field string) *domain.Error {
	place := e.Field
	if e.Line > 0 {
		place = joinedBy(", ", "line "+strconv.Itoa(e.Line), e.Field)
	}
	return &domain.Error{Kind: domain.Invalid, Field: field, Message: joinedBy(": ", place, e.Message), Fix: e.Fix, Cause: e}
}

// seasonJSONError says where a season file stops being JSON.
func seasonJSONError(document []byte, file string, err error) error {
	fault := &SeasonError{File: file, Message: fmt.Sprintf("this is not JSON: %v", err), Fix: "look for a comma, a quote or a brace too many or too few"}
	at := int64(len(document))
	if syntax, ok := errors.AsType[*json.SyntaxError](err); ok {
		at = max(syntax.Offset-1, 0)
	}
	fault.Line, fault.Column = position(document, at)
	return fault
}

// maxSeasonText bounds a text of a season, in characters: the longest name there is.
const maxSeasonText = 200

// seasonWalk walks a season beside the type that it is read into. It notes where each value begins, by the path that faults
// have, and the first that cannot stand where it does: package encoding/json would say so without its place in a list, and
// passes over null, over names that stand twice, and over capital letters.
type seasonWalk struct {
	document []byte
	decoder  *json.Decoder
	at       map[string]int64
	fault    *SeasonError
}

// walkSeason walks a document that is JSON.
func walkSeason(document []byte) *seasonWalk {
	w := &seasonWalk{document: document, decoder: json.NewDecoder(bytes.NewReader(document)), at: make(map[string]int64)}
	w.decoder.UseNumber()
	w.value("", reflect.TypeFor[season]())
	return w
}

// refuse keeps the first refusal.
func (w *seasonWalk) refuse(path, message, fix string) {
	if w.fault == nil {
		w.fault = &SeasonError{Field: path, Message: message, Fix: fix}
	}
}

// value walks one value, which is to be of a type; nil is any. What lies in a list has its index in brackets behind the path.
func (w *seasonWalk) value(path string, of reflect.Type) {
	offset := w.decoder.InputOffset()
	rest := w.document[offset:]
	w.at[path] = offset + int64(len(rest)-len(bytes.TrimLeft(rest, " \t\r\n,:")))
	token, _ := w.decoder.Token() // the document was read before
	kind := reflect.Invalid
	if of != nil {
		kind = of.Kind()
	}
	switch token {
	case json.Delim('{'):
		w.object(path, of, kind)
	case json.Delim('['):
		w.list(path, of, kind)
	default:
		w.plain(path, kind, token)
	}
}

// object walks what is between braces; its names are those of a struct, each once.
func (w *seasonWalk) object(path string, of reflect.Type, kind reflect.Kind) {
	if kind != reflect.Struct && kind != reflect.Invalid {
		w.refuse(path, "an object cannot stand here", "compare it with docs/season.md")
	}
	seen := make(map[string]bool)
	for w.decoder.More() {
		token, _ := w.decoder.Token() // a name, because it stands in an object
		name := fmt.Sprint(token)
		inner := strings.TrimPrefix(path+"."+name, ".")
		var field reflect.Type
		if kind == reflect.Struct {
			known, written := fieldLike(of, name)
			if field = known; written != name {
				w.refuse(inner, "there is no such field", "compare it with docs/season.md")
				w.at[inner] = w.decoder.InputOffset()
			}
		}
		if seen[name] {
			w.refuse(inner, "it stands twice", "write it once")
		}
		seen[name] = true
		if field == reflect.TypeFor[json.RawMessage]() {
			field = nil // it is read as a part of a rule set
		}
		w.value(inner, field)
	}
	_, _ = w.decoder.Token() // the brace that More has seen
}

// list walks what is between brackets.
func (w *seasonWalk) list(path string, of reflect.Type, kind reflect.Kind) {
	var items reflect.Type
	switch kind {
	case reflect.Slice:
		items = of.Elem()
	case reflect.Invalid:
	default:
		w.refuse(path, "a list cannot stand here", "compare it with docs/season.md")
	}
	for i := 0; w.decoder.More(); i++ {
		w.value(fmt.Sprintf("%s[%d]", path, i), items)
	}
	_, _ = w.decoder.Token() // the bracket that More has seen
}

// plain looks at a text, a number, true, false or null.
func (w *seasonWalk) plain(path string, kind reflect.Kind, token json.Token) {
	fits := kind == reflect.Invalid
	switch v := token.(type) {
	case nil:
		fits = false
	case string:
		fits = fits || kind == reflect.String
		if !domain.Shown(v) || utf8.RuneCountInString(v) > maxSeasonText {
			w.refuse(path, "this text is too long or has characters that nobody sees", fmt.Sprintf("write one line of at most %d characters", maxSeasonText))
		}
	case json.Number:
		_, err := strconv.Atoi(v.String())
		fits = fits || kind == reflect.Int && err == nil
	case bool:
		fits = fits || kind == reflect.Bool
	}
	if !fits {
		written, _ := json.Marshal(token)
		w.refuse(path, string(written)+" cannot stand here", "compare it with docs/season.md")
	}
}
