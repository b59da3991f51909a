package language

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// deep bounds how far holes within holes are looked into; no sentence of the program is that deep.
const deep = 6

// long bounds the texts in which holes are looked for, in bytes: what somebody typed may be of any length, and trying
// where holes might end takes the longer the more there is.
const long = 600

// apart sets parts of a line apart that have nothing to do with one another; a hole never goes across it.
const apart = " · "

// fix parts what happened from what to do now; see domain.Error.
const fix = "; "

// Text says a text of a page in the language, and returns the parts of it that it does not know, none when it knows them
// all. A text that is only figures and signs is known. The nil Language returns the text as it is.
//
//	"2 hooks ahead · about 18:40"   "noch 2 Züge davor · etwa 18:40"
//	"281.36 ft"                     "281,36 ft"
//	"19 September 2026"             "19. September 2026"
func (l *Language) Text(text string) (said string, unknown []string) {
	if l == nil {
		return text, nil
	}
	t := telling{language: l}
	core := strings.TrimSpace(text)
	if core == "" {
		return text, nil
	}
	at, plain := strings.Index(text, core), strings.Join(strings.Fields(core), " ")
	if said = t.text(plain, 0); said == plain {
		return text, t.unknown
	}
	return text[:at] + said + text[at+len(core):], t.unknown
}

// telling is one text on its way into the language.
type telling struct {
	language *Language
	unknown  []string
}

// text says a text or, where it is not known, returns it and notes that.
func (t *telling) text(text string, depth int) string {
	if said, ok := t.known(text, depth); ok {
		return said
	}
	t.unknown = append(t.unknown, text)
	return text
}

// known says a text that the catalogue has, or whose parts it has.
func (t *telling) known(text string, depth int) (string, bool) {
	l := t.language
	if said, ok := l.whole[text]; ok {
		return said, true
	}
	if said, ok := l.rules.Figure(text); ok {
		return said, true
	}
	if depth > deep {
		return "", false
	}
	if parts := strings.Split(text, apart); len(parts) > 1 {
		return t.parts(parts, apart, depth), true
	}
	if said, ok := t.sentence(text, depth); ok {
		return said, true
	}
	if parts := strings.Split(text, fix); len(parts) > 1 {
		return t.parts(parts, fix, depth), true
	}
	if said, ok := t.turned(text, depth); ok {
		return said, true
	}
	return t.following(text, depth)
}

// sentence says a text by the sentence with holes that fits it and has most to say itself.
func (t *telling) sentence(text string, depth int) (string, bool) {
	if len(text) > long {
		return "", false
	}
	var best *sentence
	var filled []string
	try := func(list []*sentence) {
		for _, s := range list {
			if best != nil && s.weight <= best.weight {
				continue
			}
			if f := s.match(text); f != nil {
				best, filled = s, f
			}
		}
	}
	first, _, _ := strings.Cut(text, " ")
	try(t.language.begin[""])
	try(t.language.begin[first])
	if best == nil {
		return "", false
	}
	return best.say(filled, func(hole, inside string) string {
		switch hole[0] {
		case 'n':
			return t.language.rules.Number(inside)
		case 's':
			return t.text(inside, depth+1)
		default:
			return inside
		}
	}), true
}

// parts says each part by itself.
func (t *telling) parts(parts []string, sign string, depth int) string {
	said := make([]string, len(parts))
	for i, p := range parts {
		said[i] = t.text(p, depth+1)
	}
	return strings.Join(said, sign)
}

// turned says a message that stands as a sentence, with a capital letter in front or a full stop behind, by the message.
func (t *telling) turned(text string, depth int) (string, bool) {
	if core, ok := strings.CutSuffix(text, "."); ok && core != "" && !strings.Contains(core, ". ") {
		if said, ok := t.known(core, depth+1); ok {
			return said + ".", true
		}
	}
	first, size := utf8.DecodeRuneInString(text)
	for _, turn := range []func(rune) rune{unicode.ToLower, unicode.ToUpper} {
		if turn(first) == first {
			continue
		}
		other := string(turn(first)) + text[size:]
		if said, ok := t.language.whole[other]; ok {
			return raised(said, unicode.IsUpper(first)), true
		}
		if said, ok := t.sentence(other, depth+1); ok {
			return raised(said, unicode.IsUpper(first)), true
		}
	}
	return "", false
}

// raised begins with a capital letter where up is set. It takes none away: in some languages that letter is the word's own.
func raised(s string, up bool) string {
	first, size := utf8.DecodeRuneInString(s)
	if !up {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}

// following says sentences that follow one another, each by itself.
func (t *telling) following(text string, depth int) (string, bool) {
	parts := strings.SplitAfter(text, ". ")
	if len(parts) < 2 {
		return "", false
	}
	for i, p := range parts {
		core := strings.TrimSuffix(p, " ")
		parts[i] = t.text(core, depth+1) + p[len(core):]
	}
	return strings.Join(parts, ""), true
}
