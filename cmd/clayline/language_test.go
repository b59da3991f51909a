package main

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/static"
)

// A reader who has chosen German stays in it: the page that follows the booth, the way on to the pits, and what the scripts
// say there. Figures are written as German writes them.
func TestAReaderStaysInTheLanguage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := newBrowser(t, 390, 844)
	_, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: false})
	require.NoError(t, err)
	slug := domain.Slug(inventedClass)
	b.do(chromedp.Navigate(s.address+"/e/"+inventedSlug+"/"+slug), chromedp.Click(chromedp.CSS(`footer a[hreflang="de"]`)), chromedp.WaitVisible(chromedp.CSS(`html[lang="de"] h1`)))
	require.Equal(t, inventedClass, b.text("h1"), "a name is no sentence")
	require.Eventually(t, func() bool { return b.text(".asof [data-live]") == "live" }, deadline, poll)

	distance, err := domain.ParseDistance("299.91", domain.Foot)
	require.NoError(t, err)
	_, err = s.desk.Act(s.ctx, desk.Program(), desk.Ref{Event: inventedSlug, Class: slug}, uuid.New(), domain.Record{
		Hook: s.class(slug).OnTrack().ID, Result: domain.Result{Outcome: domain.Measured, Distance: distance}, Next: uuid.New(),
	})
	require.NoError(t, err)
	require.Eventually(t, func() bool { return strings.Contains(b.text("main"), "299,91") }, deadline, poll)
	require.NotContains(t, b.text("main"), "299.91")

	b.do(chromedp.Click(chromedp.CSS(`a[href="/de`+pitsPath+`"]`)), chromedp.WaitVisible(chromedp.CSS(".follow")))
	require.Equal(t, "Merken", b.text(".follow"))
	evaluate[bool](b, `document.querySelector(".follow").click() || true`)
	require.Contains(t, b.text("#found"), "ist gemerkt")
	require.Equal(t, "/de"+pitsPath, evaluate[string](b, "location.pathname"))
}

// A page lies on the shelf once in each language, under its own address, and each names the others.
func TestEveryLanguageHasItsOwnPage(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := hooking(f)
	v := visitor{fair: f}
	english, german := v.get(s.path("")), v.get("/de"+s.path(""))
	require.Contains(t, english.body, `<html lang="en"`)
	require.Contains(t, german.body, `<html lang="de"`)
	each := fmt.Sprintf(`<%[1]s%[2]s>; rel="alternate"; hreflang="en", <%[1]s/de%[2]s>; rel="alternate"; hreflang="de"`, s.address, s.path(""))
	require.Equal(t, "<"+s.address+s.path("")+`>; rel="canonical", `+each, english.header.Get("Link"))
	require.Equal(t, "<"+s.address+"/de"+s.path("")+`>; rel="canonical", `+each, german.header.Get("Link"))
	require.Equal(t, english.body, v.get(s.path("")).body, "asking for one changes nothing of the other")
	tree, err := html.Parse(strings.NewReader(german.body))
	require.NoError(t, err)
	for n := range tree.Descendants() {
		for _, a := range n.Attr {
			if n.Type == html.ElementNode && n.Data == "a" && a.Key == "href" && strings.HasPrefix(a.Val, "/e/") {
				require.Contains(t, n.Attr, html.Attribute{Key: "hreflang", Val: "en"}, "only the way to English leads out of German: %s", a.Val)
			}
		}
	}
	require.Equal(t, http.StatusNotFound, v.get("/de/e/nowhere").status)

	// The answer to a question is drawn of rows that lie on the shelf.
	english, german = v.get(pitsPath+"?q=7"), v.get("/de"+pitsPath+"?q=7")
	require.NotContains(t, english.body, "data-words")
	require.Contains(t, german.body, static.Href(static.Words("de")))
	require.Contains(t, german.body, `href="`+pitsPath+`"`, "the way back to English")
}

// A comma before the decimals is read, and the field of whichever form comes back as it was typed in.
func TestAGermanFormComesBackAsItWasTyped(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s, booth, office := hooking(f), f.as(domain.Booth), f.as(domain.Desk)
	hook := s.class().OnTrack().ID
	asked := booth.submit(booth.get("/de" + s.path("booth")).form("result").fill(map[string]string{"result": "2873,5"}))
	require.Equal(t, http.StatusUnprocessableEntity, asked.status)
	question := asked.form("result")
	require.Contains(t, question.says, "2873,5 ft liegt weit hinter der Bahn. Noch einmal Enter speichert es trotzdem.")
	require.Equal(t, "2873,5", question.values.Get("result"))
	stale := booth.get("/de" + s.path("booth")).form("result").fill(map[string]string{"result": "281,36"})
	require.Equal(t, http.StatusSeeOther, booth.submit(question).status)
	_, stored := s.class().Find(hook)
	require.Equal(t, "FP 2873.5", stored.Result.String())

	told := booth.submit(stale, "Accept", "application/json")
	require.Equal(t, http.StatusConflict, told.status)
	require.Contains(t, told.body, "Zu diesem Zug ist schon ein Ergebnis gespeichert.")
	require.Regexp(t, `"has":"7b [^"]*: Full Pull[^"]*2873,5`, told.body)

	setting := office.submit(office.get("/de" + drawn(f).path("desk")).form("setting").fill(map[string]string{"box": "", "gear": "3", "hole": "2", "trip": "198,5"}))
	require.Equal(t, http.StatusUnprocessableEntity, setting.status)
	require.Equal(t, "198,5", setting.form("setting").values.Get("trip"))

	address := "/de" + pitsPath[:strings.LastIndex(pitsPath, "/")] + "/desk/order?" + url.Values{"hook": {"4,5"}, "slab": {"23.00"}}.Encode()
	order := office.get(address)
	require.Equal(t, http.StatusOK, order.status)
	require.Equal(t, "4,5", order.form("order").values.Get("hook"), order.says())
}
