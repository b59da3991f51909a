package language

import (
	"slices"
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

// stop parts sentences.
const stop = ". "

// Text says a text of a page in the language, and returns the parts of it that it does not know, none when it knows them
// all. A text that is only figures and signs is known. The nil Language returns the text as it is.
//
//	"2 hooks ahead · about 18:40"   "noch 2 Züge davor · etwa 18:40"
//	"281.36 ft"                     "281,36 ft"
//	"19 September 2026"             "19. September 2026"
func (l *Language) Text(text string) (said string, unknown []string) { return l.text(text, nil) }

// text says a text that quotes numbers as they were typed.
func (l *Language) text(text string, was Retyped) (said string, unknown []string) {
	if l == nil {
		return text, nil
	}
	t := telling{language: l, was: was}
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
	was      Retyped // how numbers were typed that it may quote
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
	if depth <= deep {
		if parts := strings.Split(text, apart); len(parts) > 1 {
			return t.parts(parts, apart, depth), true
		}
	}
	if said, ok := t.message(text, depth); ok || depth > deep {
		return said, ok
	}
	if parts := strings.Split(text, fix); len(parts) > 1 {
		return t.parts(parts, fix, depth), true
	}
	return t.following(text, depth)
}

// message says a text that the catalogue has as one message, with what to do behind it or not, or that the rules know.
func (t *telling) message(text string, depth int) (string, bool) {
	if said, ok := t.language.wholeOf(text); ok {
		return said, true
	}
	if said, ok := t.language.rules.Figure(text); ok {
		return said, true
	}
	if depth > deep {
		return "", false
	}
	if said, ok := t.shed(text, depth); ok {
		return said, true
	}
	return t.sentence(text, depth)
}

// shed says what follows a message, and then the message: the hole at the end of a message would take both. It does so where
// both are messages, for what somebody typed may have several sentences itself.
func (t *telling) shed(text string, depth int) (string, bool) {
	if len(text) > long {
		return "", false
	}
	ends := []string{fix, stop}
	if strings.LastIndex(text, stop) > strings.LastIndex(text, fix) {
		slices.Reverse(ends)
	}
	before := len(t.unknown)
	for _, end := range ends {
		at := strings.LastIndex(text, end)
		if at < 0 {
			continue
		}
		if behind, ok := t.message(text[at+len(end):], depth+1); ok {
			// The full stop is the message's own, the semicolon is not.
			cut := at + len(strings.Trim(end, "; "))
			said, ok := t.message(text[:cut], depth)
			if ok {
				return said + text[cut:at+len(end)] + behind, true
			}
			// Parting it elsewhere as well would take time without end where somebody typed a long text of many parts.
			t.unknown = t.unknown[:before]
			return "", false
		}
		t.unknown = t.unknown[:before]
	}
	return "", false
}

// stands are the ways in which a message of the domain may stand in a text: as it is, or as a sentence, with the other letter
// in front or with a full stop behind. The message itself is first, and what is behind it second.
func stands(text string) (list [][2]string) {
	if core, ok := strings.CutSuffix(text, "."); ok && core != "" {
		list = append(list, [2]string{core, "."}, [2]string{turnedFirst(core), "."})
	}
	return append(list, [2]string{text}, [2]string{turnedFirst(text)})
}

// wholeOf says a text that the catalogue has without holes.
func (l *Language) wholeOf(text string) (string, bool) {
	if said, ok := l.whole[text]; ok {
		return said, true
	}
	for _, as := range stands(text) {
		if said, ok := l.whole[as[0]]; ok {
			return raised(said, text) + as[1], true
		}
	}
	return "", false
}

// sentence says a text by the sentence with holes that fits it and has most to say itself.
func (t *telling) sentence(text string, depth int) (string, bool) {
	if len(text) > long {
		return "", false
	}
	var best *sentence
	var filled []string
	var behind string
	for _, as := range stands(text) {
		first, _, _ := strings.Cut(as[0], " ")
		for _, s := range slices.Concat(t.language.begin[""], t.language.begin[first]) {
			if best != nil && s.weight <= best.weight {
				continue
			}
			if f := s.match(as[0]); f != nil {
				best, filled, behind = s, f, as[1]
			}
		}
	}
	if best == nil {
		return "", false
	}
	said := best.say(filled, func(hole, inside string) string { return t.hole(hole, inside, depth) }) + behind
	if strings.HasPrefix(text, best.literals[0]) {
		return said, true
	}
	return raised(said, text), true
}

// hole says what a hole of a sentence takes.
func (t *telling) hole(hole, inside string, depth int) string {
	switch hole[0] {
	case 'n':
		return t.language.rules.Number(inside)
	case 's':
		return t.text(inside, depth+1)
	default:
		return t.was.typed(inside)
	}
}

// parts says each part by itself.
func (t *telling) parts(parts []string, sign string, depth int) string {
	said := make([]string, len(parts))
	for i, p := range parts {
		said[i] = t.text(p, depth+1)
	}
	return strings.Join(said, sign)
}

// turnedFirst is a text that begins with the other of the capital and the small letter.
func turnedFirst(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if unicode.IsUpper(first) {
		return string(unicode.ToLower(first)) + text[size:]
	}
	return string(unicode.ToUpper(first)) + text[size:]
}

// raised begins with a capital letter where the text does. It takes none away: in some languages that letter is the word's own.
func raised(said, text string) string {
	if first, _ := utf8.DecodeRuneInString(text); !unicode.IsUpper(first) {
		return said
	}
	first, size := utf8.DecodeRuneInString(said)
	return string(unicode.ToUpper(first)) + said[size:]
}

// following says sentences that follow one another, each by itself.
func (t *telling) following(text string, depth int) (string, bool) {
	parts := strings.SplitAfter(text, stop)
	if len(parts) < 2 {
		return "", false
	}
	for i, p := range parts {
		core := strings.TrimSuffix(p, " ")
		parts[i] = t.text(core, depth+1) + p[len(core):]
	}
	return strings.Join(parts, ""), true
}
