package language_test

import (
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"clayline/webui/language"
)

// refusing are the packages that refuse what people do on pages.
var refusing = []string{"domain", "domain/desk", "domain/doc", "domain/draw", "domain/sequence", "postgres", "webui"}

// terminal are files whose refusals are read at a terminal, where everything is English.
var terminal = []string{"domain/doc/drawing.go", "domain/doc/drawproof.go", "domain/doc/rulecheck.go"}

// Every refusal that a person can meet on a page is in the catalogue of every language. The failure names where the refusal is
// made and what it is in English, with Xyz and 7 for what only the running program knows.
func TestEveryRefusalIsSaidInEveryLanguage(t *testing.T) {
	t.Parallel()
	for _, l := range language.Others() {
		for _, folder := range refusing {
			t.Run(l.Tag()+"/"+folder, func(t *testing.T) {
				t.Parallel()
				s := readSource(t, "../../"+folder)
				var unknown []string
				for _, r := range s.refusals() {
					r.at = strings.TrimPrefix(filepath.ToSlash(r.at), "../../")
					if !slices.ContainsFunc(terminal, func(file string) bool { return strings.HasPrefix(r.at, file+":") }) {
						unknown = append(unknown, r.unknown(l)...)
					}
				}
				slices.Sort(unknown)
				require.Empty(t, strings.Join(slices.Compact(unknown), "\n"), "put them into webui/language/%s, each as one line", l.Tag())
			})
		}
	}
}

// The test above must not pass because it has found nothing.
func TestRefusalsAreFoundInTheSource(t *testing.T) {
	t.Parallel()
	var found []string
	for _, folder := range refusing {
		s := readSource(t, "../../"+folder)
		list := s.refusals()
		require.GreaterOrEqual(t, len(list), s.grepped, folder)
		for _, r := range list {
			found = append(found, r.messages...)
			found = append(found, r.fixes...)
		}
	}
	for what, text := range map[string]string{
		"a literal":                            "no setting is frozen for this round",
		"its fix":                              "write the setting and freeze it first",
		"what is joined":                       "number Xyz is on the track",
		"what is formatted":                    "the sled has box gears 1 to 7",
		"what a variable holds":                "ask the desk for a new one",
		"what a helper is given by its caller": "the name of the puller is missing",
		"what a helper joins":                  "a beginning without a time says nothing (call.from against call.minutes)",
		"what a helper returns":                "describe its slabs, or give the weight in the box alone",
		"one of several results":               "the break has no length",
		"one":                                  "protests are taken for 7 more minute",
		"several":                              "protests are taken for 7 more minutes",
		"a list without names of fields":       "a frozen setting is not changed",
		"a function in a variable":             "a programme has 1 to 7 tracks",
		"what is assigned to the message":      "a Xyz cannot stand here",
		"what a page refuses":                  "the form is not complete",
	} {
		require.Contains(t, found, text, what)
	}
}

// unknown are the wordings of a refusal that a language does not have, alone and as a page shows both sentences.
func (r refusedAt) unknown(l *language.Language) (list []string) {
	report := func(text string) string {
		said, left := l.Text(text)
		if slices.ContainsFunc(left, worded) || taken(l, text, said) {
			list = append(list, r.at+": "+text)
		}
		return said
	}
	for i, message := range r.messages {
		for j, fix := range append([]string{""}, r.fixes...) {
			if i > 0 && j > 1 || !worded(message) && !worded(fix) {
				continue
			}
			both := strings.TrimSpace(sentence(message) + " " + sentence(fix))
			apart := strings.TrimSpace(report(sentence(message)) + " " + report(sentence(fix)))
			if said, _ := l.Text(both); said != apart {
				list = append(list, r.at+": a hole takes too much of: "+both)
			}
		}
	}
	for _, fix := range r.fixes {
		report(sentence(fix))
	}
	return list
}

// taken reports whether a hole for what somebody typed takes a word of the text itself: the word is still in what is said, and
// another in its place would be as welcome.
func taken(l *language.Language, text, said string) bool {
	for _, at := range wordIn.FindAllStringIndex(against.ReplaceAllString(text, ""), -1) {
		word := text[at[0]:at[1]]
		if word == madeUp || strings.ContainsAny(word, "_./") || !slices.Contains(wordIn.FindAllString(said, -1), word) {
			continue
		}
		_, left := l.Text(text[:at[0]] + "qqq" + text[at[1]:])
		if !strings.Contains(strings.Join(left, " "), "qqq") {
			return true
		}
	}
	return false
}

// wordIn finds the words of a text, and the names of fields and files, which are the same in every language; against is where a
// message names two fields.
var (
	wordIn  = regexp.MustCompile(`\pL[\pL_./]*`)
	against = regexp.MustCompile(` \([a-z_.A-Z]+ against [a-z_.]+\)`)
)

// open is what a language need not know: what was made up, and figures.
var open = regexp.MustCompile(madeUp + `|[^\pL]`)

// worded reports whether a text has words that were not made up.
func worded(text string) bool { return open.ReplaceAllString(text, "") != "" }

// sentence is a message as pages show it.
func sentence(message string) string {
	if message == "" {
		return ""
	}
	first, size := utf8.DecodeRuneInString(message)
	return string(unicode.ToUpper(first)) + message[size:] + "."
}
