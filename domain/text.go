package domain

import "unicode"

// Shown reports whether a text is only what can be seen, in one line. It must be: a name is called out, printed and
// pasted into other programs, and what nobody sees can turn the text behind it round, break a line, or make two names
// look like one. Refused are the control characters and the format characters of Unicode (general categories Cc, Cf, Zl
// and Zp), among them line feeds, escapes, marks of byte order and of the direction of writing.
//
// Two format characters are part of how some scripts spell, the zero width non-joiner and joiner (U+200C and U+200D;
// Unicode Standard, section 23.2): they may stand behind a letter or a mark, before another. Between pictures, where they
// make one of several, they may not.
//
//	"Käthe O'Brien 🚜"       shown
//	"نامه‌ای" with a U+200C    shown
//	"Ox" with a U+202E       not shown
func Shown(s string) bool {
	runes := []rune(s)
	for i, r := range runes {
		if (r == '\u200c' || r == '\u200d') && i > 0 && i < len(runes)-1 && spells(runes[i-1]) && spells(runes[i+1]) {
			continue
		}
		if unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) {
			return false
		}
	}
	return true
}

// spells reports whether a character is a letter or a mark on one.
func spells(r rune) bool { return unicode.In(r, unicode.L, unicode.M) }
