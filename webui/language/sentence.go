package language

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// hole finds the holes of a sentence: {n}, {x2}, {s}.
var hole = regexp.MustCompile(`\{([nxs])(\d?)\}`)

// number is what a hole for numbers takes: digits with what parts them, and a sign. A range is two numbers.
var number = regexp.MustCompile(`^[+\-−]?\d+(?:[.,]\d+)*(?:[–-]\d+(?:[.,]\d+)*)?$`)

// sentence is a line of the catalogue that has holes. Its literals stand around them, one more than there are holes, the
// first and the last possibly empty.
type sentence struct {
	english  string
	literals []string
	holes    []string // "n", "x2": what the translation calls them by
	other    string   // the translation, with the same holes
	weight   int      // bytes of the literals: of two sentences that fit, the one that says more counts
}

// newSentence reads a line of the catalogue.
func newSentence(english, other string) (*sentence, error) {
	s := &sentence{english: english, other: other}
	at := 0
	for _, m := range hole.FindAllStringSubmatchIndex(english, -1) {
		s.literals = append(s.literals, english[at:m[0]])
		s.holes = append(s.holes, english[m[2]:m[5]])
		at = m[1]
	}
	s.literals = append(s.literals, english[at:])
	var there []string
	for _, m := range hole.FindAllStringSubmatch(other, -1) {
		there = append(there, m[1]+m[2])
	}
	if !slices.Equal(slices.Sorted(slices.Values(s.holes)), slices.Sorted(slices.Values(there))) {
		return nil, fmt.Errorf("%q has the holes %v and its translation %v", english, s.holes, there)
	}
	for i, l := range s.literals {
		if l == "" && i > 0 && i < len(s.holes) {
			return nil, fmt.Errorf("%q has two holes with nothing between them", english)
		}
		s.weight += len(l)
	}
	if len(s.holes) > 0 && strings.TrimSpace(strings.Join(s.literals, "")) == "" {
		return nil, fmt.Errorf("%q is nothing but holes", english)
	}
	return s, nil
}

// match finds what stands in the sentence's holes when it is to be text; nil when it cannot be.
func (s *sentence) match(text string) []string {
	rest, ok := strings.CutPrefix(text, s.literals[0])
	if !ok || !strings.HasSuffix(rest, s.literals[len(s.literals)-1]) {
		return nil
	}
	return s.fill(rest, 0)
}

// fill finds what stands in the holes from the i-th on, where rest begins with that hole. A hole takes as little as leaves
// the rest of the sentence possible.
func (s *sentence) fill(rest string, i int) []string {
	next := s.literals[i+1]
	if i == len(s.holes)-1 {
		taken, ok := strings.CutSuffix(rest, next)
		if ok && s.takes(i, taken) {
			return []string{taken}
		}
		return nil
	}
	for from := 0; ; {
		at := strings.Index(rest[from:], next)
		if at < 0 {
			return nil
		}
		taken := rest[:from+at]
		if s.takes(i, taken) {
			if more := s.fill(rest[from+at+len(next):], i+1); more != nil {
				return append([]string{taken}, more...)
			}
		}
		from += at + 1
	}
}

// takes reports whether the i-th hole may hold the text.
func (s *sentence) takes(i int, text string) bool {
	if text == "" || text != strings.TrimSpace(text) {
		return false
	}
	return s.holes[i][0] != 'n' || number.MatchString(text)
}

// say writes the translation with what each hole takes in the other language.
func (s *sentence) say(filled []string, in func(hole, text string) string) string {
	return hole.ReplaceAllStringFunc(s.other, func(h string) string {
		name := h[1 : len(h)-1]
		return in(name, filled[slices.Index(s.holes, name)])
	})
}
