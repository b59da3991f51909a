package language

import (
	"net/url"
	"regexp"
	"strings"
)

// typed is a number with decimals after a comma, and a unit behind it or none. Three digits behind it may be thousands, as
// fields are filled in with them.
var typed = regexp.MustCompile(`^\s*\d+,(?:\d{1,2}|\d{4,})(?:\s*[a-zA-Z/]+)?\s*$`)

// Typed reads a number as somebody types it who reads the language: where the language has a comma before the decimals, it
// becomes the point of English. Elsewhere a comma may group thousands, and is left for the field to refuse; so is every
// other text, whatever has more than one comma, and three digits behind one, which may be thousands in any language.
//
//	German  "150,50" is "150.50", "21,6 kg" is "21.6 kg"; "21,600 lb" and "41, 7" stay
//	English "150,50" stays
func (l *Language) Typed(text string) string {
	if l == nil || l.rules.Decimal != "," || !typed.MatchString(text) {
		return text
	}
	return strings.Replace(text, ",", ".", 1)
}

// Retyped is how numbers of a form were typed that were read in a language, by the field and by what was read, so that a page
// that shows the form again can give them back: {"result": {"287.5": "287,5"}}.
type Retyped map[string]map[string]string

// typed is how something was typed that was read so in any field.
func (r Retyped) typed(read string) string {
	for _, field := range r {
		if typed, ok := field[read]; ok {
			return typed
		}
	}
	return read
}

// TypedValues reads all values of a form so, in place, and returns how those were typed that it changed; nil for none.
func (l *Language) TypedValues(form url.Values) Retyped {
	var was Retyped
	for field, values := range form {
		for i, v := range values {
			read := l.Typed(v)
			if read == v {
				continue
			}
			if was == nil {
				was = Retyped{}
			}
			if was[field] == nil {
				was[field] = map[string]string{}
			}
			values[i], was[field][read] = read, v
		}
	}
	return was
}
