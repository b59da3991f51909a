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

// TypedValues reads all values of a form so, in place.
func (l *Language) TypedValues(form url.Values) {
	for _, values := range form {
		for i, v := range values {
			values[i] = l.Typed(v)
		}
	}
}
