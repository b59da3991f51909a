package language_test

import (
	"bytes"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
	"pgregory.net/rapid"

	"clayline/webui/language"
)

// small is a language with the few sentences that the tests need. Its figures are German.
func small(t require.TestingT) *language.Language {
	german := language.Rules{Decimal: ",", Group: "\u202f", DateDot: true, Calendar: map[string]string{"Saturday": "Samstag", "September": "September", "October": "Oktober"}}
	l, err := language.Read("de", "Deutsch", german, fstest.MapFS{
		"de/a.yaml": {Data: []byte(`
Hook order: Startfolge
next: der Nächste
full pull: volle Distanz
"1 hook ahead": noch 1 Zug davor
"{n} hooks ahead": noch {n} Züge davor
"{x} leads with {s}": "{x} führt mit {s}"
"{x} leads": "{x} führt"
"hook {n1} of {n2}": Zug {n1} von {n2}
"the setting is frozen": die Einstellung ist festgeschrieben
"reset it, with a reason": setze sie zurück, mit Grund
"won by {x} over {x2}": "{x2} unterlag {x}"
`)},
	}, "de")
	require.NoError(t, err)
	return l
}

func TestATextIsSaidByTheCatalogueAndTheRules(t *testing.T) {
	t.Parallel()
	for english, german := range map[string]string{
		"Hook order":                    "Startfolge",
		" Hook\n\torder ":               " Startfolge ",
		"3 hooks ahead":                 "noch 3 Züge davor",
		"1 hook ahead":                  "noch 1 Zug davor",
		"hook 9 of 14":                  "Zug 9 von 14",
		"Hook 9 of 14":                  "Zug 9 von 14",
		"Round · hook 9 of 14":          "Round · Zug 9 von 14",
		"41 Maud leads with 281.36 ft":  "41 Maud führt mit 281,36 ft",
		"41 Maud leads with full pull":  "41 Maud führt mit volle Distanz",
		"won by Ox over Bull":           "Bull unterlag Ox",
		"281.36 ft":                     "281,36 ft",
		"281.36":                        "281,36",
		"8,200 lb":                      "8\u202f200 lb",
		"1,281.5 × 2":                   "1\u202f281,5 × 2",
		"18:57:12":                      "18:57:12",
		"2nd":                           "2.",
		"Saturday 19 September":         "Samstag, 19. September",
		"19 – 20 September 2026":        "19. – 20. September 2026",
		"30 September – 1 October 2026": "30. September – 1. Oktober 2026",
		"19 September 18:40":            "19. September 18:40",
		"Saturday 19 September 9:05":    "Samstag, 19. September 9:05",
		"The setting is frozen.":        "Die Einstellung ist festgeschrieben.",
		"the setting is frozen; reset it, with a reason":  "die Einstellung ist festgeschrieben; setze sie zurück, mit Grund",
		"The setting is frozen. Reset it, with a reason.": "Die Einstellung ist festgeschrieben. Setze sie zurück, mit Grund.",
	} {
		said, unknown := small(t).Text(english)
		require.Equal(t, german, said, english)
		if !strings.HasPrefix(english, "Round") {
			require.Empty(t, unknown, english)
		}
	}
}

// A title is one text and nothing in it can be marked: a name in it is known by the page, which marks it.
func TestANameInATitleIsOneThatThePageMarks(t *testing.T) {
	t.Parallel()
	const head = `<title>Hook order · Rook &amp; Co</title><meta name="description" content="next · Barn · Elm"/>`
	said, unknown := small(t).Page([]byte(head + `<h1 translate="no">Rook &amp; Co</h1><p>next <span translate="no">· Barn</span></p>`))
	require.Contains(t, string(said), `<title>Startfolge · Rook &amp; Co</title><meta name="description" content="der Nächste · Barn · Elm"/>`)
	require.Equal(t, []string{"Elm"}, unknown)
}

func TestWhatIsUnknownStaysAndIsNamed(t *testing.T) {
	t.Parallel()
	said, unknown := small(t).Text("Round 1 · hook 9 of 14")
	require.Equal(t, "Round 1 · Zug 9 von 14", said)
	require.Equal(t, []string{"Round 1"}, unknown)

	said, unknown = small(t).Text("Maud leads with luck")
	require.Equal(t, "Maud führt mit luck", said, "the sentence is said all the same")
	require.Equal(t, []string{"luck"}, unknown)
}

// A message that ends with what somebody typed is followed by what to do, which is no part of that.
func TestAHoleAtTheEndOfAMessageLeavesWhatFollows(t *testing.T) {
	t.Parallel()
	l, err := language.Read("de", "Deutsch", language.Rules{}, fstest.MapFS{"de/a.yaml": {Data: []byte(`
"the class is stopped: {x}": "die Klasse ist angehalten: {x}"
go on with it first: setze sie erst fort
`)}}, "de")
	require.NoError(t, err)
	for english, german := range map[string]string{
		"the class is stopped: rain":                                   "die Klasse ist angehalten: rain",
		"the class is stopped: rain; go on with it first":              "die Klasse ist angehalten: rain; setze sie erst fort",
		"The class is stopped: rain. Go on with it first.":             "Die Klasse ist angehalten: rain. Setze sie erst fort.",
		"The class is stopped: rain, by St. Ann. Go on with it first.": "Die Klasse ist angehalten: rain, by St. Ann. Setze sie erst fort.",
	} {
		said, unknown := l.Text(english)
		require.Equal(t, german, said)
		require.Empty(t, unknown)
	}
}

// What somebody typed may hold any number of sentences that are known, and is given up without trying all their parts.
func TestManyKnownPartsTakeNoTime(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"luck; 1. 1; " + strings.Repeat("1. 1; ", 90) + "1", strings.Repeat("next. ", 90) + "luck.", strings.Repeat("luck; 1. ", 60)} {
		_, unknown := small(t).Text(text)
		require.Contains(t, strings.Join(unknown, " "), "luck")
	}
}

// Of two sentences that fit, the one with more words of its own is meant: "{x} leads" would take the whole front.
func TestTheSentenceThatSaysMoreIsMeant(t *testing.T) {
	t.Parallel()
	l, err := language.Read("de", "Deutsch", language.Rules{}, fstest.MapFS{"de/a.yaml": {Data: []byte(`
"{x} is out": "{x} ist raus"
"entry {n} is out": Meldung {n} ist raus
`)}}, "de")
	require.NoError(t, err)
	said, _ := l.Text("entry 7 is out")
	require.Equal(t, "Meldung 7 ist raus", said)
	said, _ = l.Text("entry seven is out")
	require.Equal(t, "entry seven ist raus", said, "a hole for a number takes nothing else")
}

func TestACatalogueThatContradictsItselfIsRefused(t *testing.T) {
	t.Parallel()
	for problem, files := range map[string]fstest.MapFS{
		"de/b.yaml: \"next\" stands in de/a.yaml too":              {"de/a.yaml": {Data: []byte("next: nächster")}, "de/b.yaml": {Data: []byte("next: danach")}},
		"\"next\" has no translation":                              {"de/a.yaml": {Data: []byte("next: ''")}},
		"\"{n} ahead\" has the holes [n] and its translation []":   {"de/a.yaml": {Data: []byte(`"{n} ahead": davor`)}},
		"\"{n}{x} ahead\" has two holes with nothing between them": {"de/a.yaml": {Data: []byte(`"{n}{x} ahead": "{n}{x} davor"`)}},
		"\"{x} {n}\" is nothing but holes":                         {"de/a.yaml": {Data: []byte(`"{x} {n}": "{n} {x}"`)}},
		"already defined":                                          {"de/a.yaml": {Data: []byte("next: a\nnext: b")}},
	} {
		_, err := language.Read("de", "Deutsch", language.Rules{}, files, "de")
		require.ErrorContains(t, err, problem)
	}
}

func TestAPageIsSaidWithItsLinks(t *testing.T) {
	t.Parallel()
	const page = `<!doctype html><html lang="en"><head><title>Hook order</title><meta name="description" content="3 hooks ahead"/><meta name="viewport" content="next"/>` +
		`<link rel="stylesheet" href="/static/a.css"/><link rel="canonical" href="/e/x"/><link rel="alternate" hreflang="en" href="/e/x"/></head>` +
		`<body data-stream="/e/x/stream"><h1 translate="no">next <b>Hook order</b></h1><p>next</p><input translate="no" value="next" placeholder="next"/><p>Hook order</p><svg><text class="word notranslate">next</text><text class="word">next</text></svg>` +
		`<a href="/e/x" title="next">3 hooks ahead</a><a href="/api/v1">next</a><a href="https://example.org/">next</a><a href="#next">next</a>` +
		`<form action="/e/x/booth/result"><button>next</button></form><textarea>next</textarea><script>next</script><p>1 &amp; 2.5</p></body></html>`
	const said = `<!doctype html><html lang="de"><head><title>Startfolge</title><meta name="description" content="noch 3 Züge davor"/><meta name="viewport" content="next"/>` +
		`<link rel="stylesheet" href="/static/a.css"/><link rel="canonical" href="/de/e/x"/><link rel="alternate" hreflang="en" href="/e/x"/></head>` +
		`<body data-stream="/e/x/stream"><h1 translate="no">next <b>Hook order</b></h1><p>der Nächste</p><input translate="no" value="next" placeholder="next"/><p>Startfolge</p><svg><text class="word notranslate">next</text><text class="word">der Nächste</text></svg>` +
		`<a href="/de/e/x" title="der Nächste">noch 3 Züge davor</a><a href="/api/v1">der Nächste</a><a href="https://example.org/">der Nächste</a><a href="#next">der Nächste</a>` +
		`<form action="/de/e/x/booth/result"><button>der Nächste</button></form><textarea>next</textarea><script>next</script><p>1 &amp; 2,5</p></body></html>`
	got, unknown := small(t).Page([]byte(page))
	require.Equal(t, said, string(got))
	require.Empty(t, unknown)

	var english *language.Language
	got, unknown = english.Page([]byte(page))
	require.Equal(t, page, string(got))
	require.Empty(t, unknown)
}

// What stands in a name cannot become a sign of HTML on its way.
func TestNothingTypedBecomesHTML(t *testing.T) {
	t.Parallel()
	got, _ := small(t).Page([]byte(`<p>&lt;script&gt; leads with 2.5 m</p><a title="&#34;&gt;&lt;b&gt; leads">next</a>`))
	require.Equal(t, `<p>&lt;script&gt; führt mit 2,5 m</p><a title="&#34;&gt;&lt;b&gt; führt">der Nächste</a>`, string(got))
}

func TestAnAddressNamesItsLanguage(t *testing.T) {
	t.Parallel()
	german := language.German()
	for address, there := range map[string]string{
		"/": "/de/", "/e/x?q=1": "/de/e/x?q=1", "/de/e/x": "/de/e/x", "/static/a.css": "/static/a.css", "/api/v1": "/api/v1", "#next": "#next", "//else/": "//else/",
	} {
		require.Equal(t, there, german.Href(address))
	}
	for address, rest := range map[string]string{"/de/e/x": "/e/x", "/de": "/", "/de/": "/"} {
		l, path := language.Cut(address)
		require.Equal(t, german, l)
		require.Equal(t, rest, path)
	}
	for _, address := range []string{"/", "/e/de", "/desk", "/den"} {
		l, path := language.Cut(address)
		require.Nil(t, l)
		require.Equal(t, address, path)
	}
}

// Whatever a page holds, saying it in a language loses none of it: a page without any sentence of the catalogue stays, byte
// for byte.
func TestAPageWithoutSentencesStays(t *testing.T) {
	t.Parallel()
	l, err := language.Read("de", "Deutsch", language.Rules{Decimal: ".", Group: ","}, fstest.MapFS{}, "de")
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		page := []byte(rapid.StringMatching(`(<p( class="[a-z]*")?>|</p>|[a-zü <&;.]{0,8}|<!-- x -->|<br/>)*`).Draw(t, "page"))
		said, _ := l.Page(page)
		require.Equal(t, string(page), string(said))
	})
}

// FuzzPage looks for a page whose elements are not the same any more once it is said.
func FuzzPage(f *testing.F) {
	f.Add([]byte(`<p translate="no">next</p><a href="/e">Hook order</a>`))
	f.Add([]byte(`</p><textarea>`))
	f.Add([]byte(`<a title='"' href=/e/x >&lt;b&gt; leads</a`))
	f.Fuzz(func(t *testing.T, page []byte) {
		said, _ := small(t).Page(page)
		require.Equal(t, elements(page), elements(said))
	})
}

// elements are the names of the elements of a page, as they begin and end.
func elements(page []byte) (list []string) {
	in := html.NewTokenizer(bytes.NewReader(page))
	for kind := in.Next(); kind != html.ErrorToken; kind = in.Next() {
		if name, _ := in.TagName(); kind != html.TextToken && kind != html.CommentToken && kind != html.DoctypeToken {
			list = append(list, kind.String()+string(name))
		}
	}
	return list
}

// What a catalogue is written as makes the same language again where it is not part of the program.
func TestALanguageIsMadeOfItsCatalogue(t *testing.T) {
	t.Parallel()
	german := language.German()
	written, err := german.Catalogue()
	require.NoError(t, err)
	given, err := language.Given("de", written)
	require.NoError(t, err)
	require.Equal(t, german.Sentences(), given.Sentences())
	page := []byte(`<a href="/e/x" title="live">281.36 ft</a><p>2 hooks ahead · Saturday 19 September</p>`)
	want, _ := german.Page(page)
	said, _ := given.Page(page)
	require.Equal(t, string(want), string(said))

	for name, c := range map[string][2]string{
		"a language without rules":            {"xx", `{}`},
		"what is no catalogue":                {"de", `[]`},
		"a sentence without its translation":  {"de", `{"live": ""}`},
		"a translation that misses its holes": {"de", `{"{n} hooks ahead": "Züge davor"}`},
	} {
		_, err := language.Given(c[0], []byte(c[1]))
		require.Error(t, err, name)
	}
	_, err = language.Given("de", []byte(`{}`))
	require.NoError(t, err, "what a catalogue does not have stays English")
}
