package doc

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"clayline/domain"
)

// ruleValues reads the values of a rule set's fields and keeps the first refusal, so that a group is read in one
// expression. Unit is the unit of the set's figures.
type ruleValues struct {
	unit domain.Unit
	err  error
}

// refuse keeps the first refusal.
func (f *ruleValues) refuse(err error) {
	if f.err == nil {
		f.err = err
	}
}

// length reads a figure in the unit of the set; the zero Distance where it is left out. JSON's own spellings that no
// tape has, such as 3e2 or -1, are refused by the domain.
func (f *ruleValues) length(field string, n json.Number) domain.Distance {
	if n == "" {
		return domain.Distance{}
	}
	d := f.distance(field, n.String(), "write figures such as 300")
	if f.err == nil && d.Unit() != f.unit {
		f.refuse(ruleError(field, fmt.Sprintf("%q has a unit of its own", n), "write the figures alone; they are in "+f.unit.String()))
	}
	return d
}

// distance reads a distance that may name its unit; the zero Distance for an empty text.
func (f *ruleValues) distance(field, s, fix string) domain.Distance {
	if s == "" {
		return domain.Distance{}
	}
	d, err := domain.ParseDistance(s, f.unit)
	if err != nil {
		f.refuse(&domain.Error{Kind: domain.Invalid, Field: field, Cause: err, Message: fmt.Sprintf("%q is not a distance", s), Fix: fix})
	}
	return d
}

// option reads an option; the zero Option for an empty text.
func (f *ruleValues) option(field, s string) domain.Option {
	if s == "" {
		return 0
	}
	option, err := domain.ParseOption(s)
	f.named(field, err)
	return option
}

// options reads a list of options, nil where it has none.
func (f *ruleValues) options(field string, list []string) []domain.Option {
	var options []domain.Option
	for _, s := range list {
		options = append(options, f.option(field, s))
		if s == "" {
			f.refuse(ruleError(field, "an option is empty", "take it out, or write a word such as last"))
		}
	}
	if err := doubled(field, options); err != nil {
		f.refuse(err)
	}
	return options
}

// optionWords writes options.
func optionWords(options []domain.Option) []string {
	var words []string
	for _, o := range options {
		words = append(words, o.String())
	}
	return words
}

// share reads a share of the track; the zero Share for an empty text.
func (f *ruleValues) share(field, s string) domain.TrackShare {
	share, err := domain.ParseTrackShare(s)
	f.named(field, err)
	return share
}

// mark reads a place on the track: a share such as 1/3, or figures such as 75.
func (f *ruleValues) mark(field, s string) domain.TrackMark {
	if strings.Contains(s, "/") {
		return domain.TrackMark{Share: f.share(field, s)}
	}
	return domain.TrackMark{Distance: f.length(field, json.Number(s))}
}

// named keeps a refusal of the domain under the field's name in the document.
func (f *ruleValues) named(field string, err error) {
	if refusal, ok := errors.AsType[*domain.Error](err); ok {
		f.refuse(&domain.Error{Kind: domain.Invalid, Field: field, Message: refusal.Message, Fix: refusal.Fix, Cause: err})
	}
}

// word looks a word up; empty means the default. A word that is not known is refused with all that are.
func word[T any](f *ruleValues, field, s, byDefault string, words map[string]T) T {
	value, err := wordOf(field, s, byDefault, words)
	if err != nil {
		f.refuse(err)
	}
	return value
}

// wordOf is [word] for a document that is read value by value.
func wordOf[T any](field, s, byDefault string, words map[string]T) (T, error) {
	value, ok := words[cmp.Or(s, byDefault)]
	if !ok {
		return value, ruleError(field, fmt.Sprintf("%q is not known", s), "write "+strings.Join(slices.Sorted(maps.Keys(words)), " or "))
	}
	return value, nil
}

// wordFor returns the word for a value, "" where there is none. The words are few, and each has its own value.
func wordFor[T comparable](words map[string]T, value T) string {
	for w, v := range words {
		if v == value {
			return w
		}
	}
	return ""
}

// number writes a distance of the set's unit as figures, "" for none.
func number(d domain.Distance) json.Number { return json.Number(d.Decimal()) }

// withUnit writes a distance with its unit, inches as inches: "1 in".
func withUnit(d domain.Distance) string {
	if d.IsZero() {
		return ""
	}
	return d.Decimal() + " " + d.Unit().String()
}

// numbers writes distances of the set's unit.
func numbers(list []domain.Distance) []json.Number {
	var written []json.Number
	for _, d := range list {
		written = append(written, number(d))
	}
	return written
}

// said returns a group for a document, or nil where it says nothing: an empty group would be read as a choice that
// somebody made.
func said[T comparable](group T) *T {
	if group == *new(T) {
		return nil
	}
	return &group
}
