// Package language says the pages of Clayline in other languages than English, in which they are written.
//
// # One catalogue
//
// Pages, decisions and refusals are written in English where they are made, as whole sentences. A catalogue holds each of
// them once with what it is in the other language, and a page is put into that language as it is written out:
//
//	The sled is back.: Der Bremswagen ist zurück.
//	"{n} hooks ahead": noch {n} Züge davor
//	"{x} leads with {s}": "{x} führt mit {s}"
//
// What stands in braces is a hole: {n} takes a number, which is written as the language writes numbers; {x} takes what
// people have typed, a name or a reason, and leaves it as it is; {s} takes something that the catalogue, or the rules for
// figures and dates, can say in turn. A figure tells holes of one kind apart: {n1}, {n2}. The translation has the same
// holes, in the order that suits it.
//
// # What is not in the catalogue
//
// Figures, times and dates follow rules of the language (see [Language.Text]). Parts set apart by " · ", sentences that
// follow one another, and a message of the domain that stands as a sentence ("the setting is frozen" as "The setting is
// frozen.") are found by their parts. Whatever is then still unknown is shown as it is, in English or as it was typed: a
// page with an English sentence is better than none. The tests of the program's pages see to it that none is left.
//
// What people typed is never looked up where the page marks it with HTML's translate="no" or, within a picture,
// with the class "notranslate".
//
// # Why so
//
// A message passes through the domain, the desk and the pages before anybody reads it, and is stored nowhere in another
// form; were each of them to know in which language it will be read, every function would carry that along for the sake
// of the last. At the edge there is one place that knows, and a snapshot of a page is translated once for all its readers.
package language

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Language is English said in another language. It does not change once it is made and serves any number of readers at
// once. The nil Language is English itself.
type Language struct {
	tag   string
	name  string
	whole map[string]string      // sentences without holes
	begin map[string][]*sentence // those with holes, by their first word; "" where that is not the same each time
	rules Rules
}

// Tag is the language's tag as in RFC 5646; "en" for English.
func (l *Language) Tag() string {
	if l == nil {
		return "en"
	}
	return l.tag
}

// Name is the language's own name for itself.
func (l *Language) Name() string {
	if l == nil {
		return "English"
	}
	return l.name
}

// New makes a language of English sentences and what they are in it. It refuses a sentence without a translation, and a
// translation whose holes are not those of its sentence.
func New(tag, name string, rules Rules, sentences map[string]string) (*Language, error) {
	l := &Language{tag: tag, name: name, whole: map[string]string{}, begin: map[string][]*sentence{}, rules: rules}
	for _, english := range slices.Sorted(maps.Keys(sentences)) {
		if err := l.add(english, sentences[english]); err != nil {
			return nil, err
		}
	}
	return l, nil
}

// Given makes the language of a tag from its catalogue as [Language.Catalogue] writes it, where that is not part of the
// program. It refuses a tag whose figures and dates it has no rules for, and what [New] does.
func Given(tag string, catalogue []byte) (*Language, error) {
	rules, known := rulesOf[tag]
	if !known {
		return nil, fmt.Errorf("there are no rules for figures and dates of the language %q", tag)
	}
	var sentences map[string]string
	if err := json.Unmarshal(catalogue, &sentences); err != nil {
		return nil, fmt.Errorf("reading the catalogue of the language %q: %w", tag, err)
	}
	return New(tag, "", rules(), sentences)
}

// Catalogue writes all sentences as a JSON object of English sentences and what they are in the language, for [Given] and
// for scripts.
func (l *Language) Catalogue() ([]byte, error) { return json.Marshal(l.Sentences()) }

// add takes a sentence into the catalogue.
func (l *Language) add(english, other string) error {
	if strings.TrimSpace(other) == "" {
		return fmt.Errorf("%q has no translation", english)
	}
	s, err := newSentence(english, other)
	switch {
	case err != nil:
		return err
	case len(s.holes) == 0:
		l.whole[english] = other
	default:
		// Where the first word ends with a hole it is another each time.
		first, _, ends := strings.Cut(s.literals[0], " ")
		if !ends {
			first = ""
		}
		l.begin[first] = append(l.begin[first], s)
	}
	return nil
}

// Sentences are the sentences of the catalogue with what they are in the language.
func (l *Language) Sentences() map[string]string {
	list := maps.Clone(l.whole)
	for _, some := range l.begin {
		for _, s := range some {
			list[s.english] = s.other
		}
	}
	return list
}
