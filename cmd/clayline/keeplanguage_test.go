package main

import (
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/language"
)

// ids are the ids in a page, which are made each time that it is drawn.
var ids = regexp.MustCompile(`[0-9a-f]{8}-[0-9a-f-]{27}`)

// sameAs waits until the page is what the page in the English tab is in its language, by the catalogue of the server, which
// knows all that is said there.
func (b *keptBooth) sameAs(english *keptBooth) {
	b.t.Helper()
	const main = `document.getElementById("preview")?.removeAttribute("class"), document.getElementById("main").innerHTML`
	english.look()
	var unknown []string
	require.Eventually(b.t, func() bool {
		var want []byte
		want, unknown = language.German().Page([]byte(evaluate[string](english.browser, main)))
		return ids.ReplaceAllString(string(want), "") == ids.ReplaceAllString(evaluate[string](b.browser, main), "")
	}, deadline, poll, "the page is the English one in its language")
	require.Empty(b.t, unknown)
}

// A booth that reads another language keeps its forms as any other, over a reload too, and sends them in the end. What the page
// says while it is cut off is what it says in English, said in the language by the same catalogue, and nothing of it is left in
// English.
func TestTheBoothGoesOnInAnotherLanguage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	w := newWire(t, s.address)
	class := domain.Slug(inventedClass)
	b := openBooth(s, w, class)
	to := order(s.class(class))
	hooks := len(s.class(class).Current().Hooks)
	english := b.tab()
	b.page = strings.Replace(b.page, "/e/", "/de/e/", 1)
	b.look()
	b.stands()
	w.cut()
	b.press("287,34\r")
	b.asksFor(to[1])
	b.tells("1 Formular ist hier behalten, nicht auf dem Server: " + to[0])
	b.look()
	b.asksFor(to[1])
	b.tells("Der Server ist nicht zu erreichen")
	b.previews("271,5", "Enter speichert 271,5 ft für "+to[1])
	b.clear()
	b.previews("2715,5", "Enter fragt einmal nach, bevor es gespeichert wird.")
	b.picture("booth-cut-german-laptop")
	b.press("\r")
	b.do(chromedp.WaitVisible(chromedp.CSS("#result-confirm")))
	require.Contains(t, b.text("#result-confirm"), "Noch einmal Enter speichert es trotzdem.")
	require.Equal(t, "2715,5", evaluate[string](b.browser, `document.getElementById("result").value`), "as it was typed")
	b.clear()
	b.press("271.05\r")
	b.asksFor(to[2])
	b.tells("2 Formulare sind hier behalten")
	b.sameAs(english)
	w.mend(s.address)
	require.Eventually(t, func() bool { return len(s.class(class).Current().Hooks) == hooks+2 }, deadline, poll, "sent by themselves")
	require.Equal(t, "287.34 ft", hookOf(s.class(class), to[0]).Result.Distance.String())
	require.Equal(t, "271.05 ft", hookOf(s.class(class), to[1]).Result.Distance.String())
}

// Where the address is neither HTTPS nor the machine itself, a browser keeps nothing for a page. The page says so, in its
// language, and stores everything on the server as without scripts.
func TestTheBoothWorksWithoutHTTPS(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	class := domain.Slug(inventedClass)
	plain := func(address string) string { return strings.Replace(address, "127.0.0.1", "pull.example", 1) }
	require.NotEqual(t, s.address, plain(s.address))
	b := &keptBooth{browser: openBrowser(t, 4*time.Minute, chromedp.Flag("host-resolver-rules", "MAP pull.example 127.0.0.1")), class: class}
	_, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool]("true"))
	require.NoError(t, err)
	b.enter(plain(s.link(domain.Booth)))
	to := order(s.class(class))
	for i, c := range []struct{ in, says, typed, stored string }{
		{"", "Without HTTPS nothing can be kept in this browser: this page needs the server for everything it stores.", "287.34", "287.34 ft"},
		{"/de", "Ohne HTTPS kann dieser Browser nichts behalten: diese Seite braucht den Server für alles, was sie speichert.", "271,5", "271.5 ft"},
	} {
		b.page = plain(s.address) + c.in + "/e/" + inventedSlug + "/" + class + "/booth"
		b.look()
		b.asksFor(to[i])
		b.tells(c.says)
		require.False(t, evaluate[bool](b.browser, "isSecureContext"))
		b.picture("booth-without-https-laptop")
		b.press(c.typed + "\r")
		b.asksFor(to[i+1])
		require.Equal(t, c.stored, hookOf(s.class(class), to[i]).Result.Distance.String())
		b.tells(c.says)
		require.NotContains(t, b.says(), "Try now")
	}
}
