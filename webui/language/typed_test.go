package language_test

import (
	"bytes"
	"context"
	"net/url"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
	"pgregory.net/rapid"

	"clayline/webui/language"
)

func TestANumberIsReadAsTheLanguageWritesIt(t *testing.T) {
	t.Parallel()
	var english *language.Language
	for typed, read := range map[string]string{
		"150,50": "150.50", " 21,6 kg ": " 21.6 kg ", "8,200": "8,200", "21,600 lb": "21,600 lb", "0,3333": "0.3333", "287.34": "287.34", "41, 7": "41, 7", "1,250,50": "1,250,50",
		"left rear, 3,5 turns": "left rear, 3,5 turns", "": "", "7,5b 2": "7,5b 2",
	} {
		require.Equal(t, read, language.German().Typed(typed), typed)
		require.Equal(t, typed, english.Typed(typed))
	}
}

// A form that is shown again gives numbers back as they were typed, at the field in which they were, and nothing else so.
func TestANumberIsGivenBackAsItWasTyped(t *testing.T) {
	t.Parallel()
	form := url.Values{"result": {"287,50"}, "reason": {"wet track"}, "weight": {"8,200", "3,5 kg"}}
	ctx := language.With(t.Context(), language.German())
	ctx = language.WithTyped(ctx, language.German().TypedValues(form))
	require.Equal(t, url.Values{"result": {"287.50"}, "reason": {"wet track"}, "weight": {"8,200", "3.5 kg"}}, form)
	for page, want := range map[string]string{
		`<input name="result" value="287.50">`:                `<input name="result" value="287,50">`,
		`<input type="text" name="weight" value="3.5 kg"/>`:   `<input type="text" name="weight" value="3,5 kg"/>`,
		`<p>"287.50" is not a result.</p>`:                    `<p>„287,50“ ist kein Ergebnis.</p>`,
		`<input name="result" value="288">`:                   `<input name="result" value="288">`,
		`<input name="other" value="287.50">`:                 `<input name="other" value="287.50">`,
		`<p title="live" value="287.50">live</p>`:             `<p title="live" value="287.50">live</p>`,
		`<input name="result" placeholder="287.50" value="">`: `<input name="result" placeholder="287,50" value="">`,
	} {
		said, unknown := language.Say(ctx, []byte(page))
		require.Equal(t, want, string(said))
		require.Empty(t, unknown)
	}
	said, _ := language.Say(t.Context(), []byte(`<input name="result" value="287.50">`))
	require.Equal(t, `<input name="result" value="287.50">`, string(said), "English reads a comma as it stands")
	var english *language.Language
	require.Nil(t, english.TypedValues(url.Values{"result": {"287,50"}}))
	require.Nil(t, language.German().TypedValues(url.Values{"result": {"287.50"}}))
}

// Whatever is typed into a field: what a page gives back is what was typed, and what is read is the same each time.
func TestWhatIsTypedComesBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		typed := rapid.OneOf(rapid.StringMatching(`[0-9]{1,4}[,.]?[0-9]{0,4}( ?(kg|lb|ft))?`), rapid.StringMatching(`[ -~]{0,12}`)).Draw(t, "typed")
		form := url.Values{"result": {typed}}
		ctx := language.WithTyped(language.With(context.Background(), language.German()), language.German().TypedValues(form))
		page := `<input name="result" value="` + html.EscapeString(form.Get("result")) + `">`
		said, _ := language.Say(ctx, []byte(page))
		node, err := html.Parse(bytes.NewReader(said))
		require.NoError(t, err)
		for n := range node.Descendants() {
			for _, a := range n.Attr {
				if a.Key == "value" {
					require.Equal(t, typed, a.Val)
				}
			}
		}
		require.Nil(t, language.German().TypedValues(form), "what was read is read the same")
	})
}
