package main

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// A stranger at home has the class page open while the booth stores a distance: the page shows it, nobody touched it,
// and what the stranger had in hand stays as it was.
func TestAnOpenClassPageFollowsTheBooth(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := newBrowser(t, 390, 844)
	_, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: false})
	require.NoError(t, err)
	slug := domain.Slug(inventedClass)
	b.do(chromedp.Navigate(s.address+"/e/"+inventedSlug+"/"+slug), chromedp.WaitVisible(chromedp.CSS("h1")))
	require.Eventually(t, func() bool { return b.text(".asof [data-live]") == "live" }, deadline, poll, "the page says that it is live")
	_, err = chromedp.Run(b.ctx, chromedp.Evaluate[bool](`(window.mark = "kept", document.querySelector("main a").focus(), true)`))
	require.NoError(t, err)

	for _, figures := range []string{"299.91", "288.07"} {
		distance, err := domain.ParseDistance(figures, domain.Foot)
		require.NoError(t, err)
		_, err = s.desk.Act(s.ctx, desk.Program(), desk.Ref{Event: inventedSlug, Class: slug}, uuid.New(), domain.Record{
			Hook: s.class(slug).OnTrack().ID, Result: domain.Result{Outcome: domain.Measured, Distance: distance}, Next: uuid.New(),
		})
		require.NoError(t, err)
		require.Eventually(t, func() bool {
			text, err := chromedp.Run(b.ctx, chromedp.Evaluate[string]("document.querySelector('main').innerText"))
			require.NoError(t, err)
			return strings.Contains(text, figures)
		}, deadline, poll, "the page shows %s by itself", figures)
	}
	mark, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](`window.mark + " " + document.activeElement.tagName`))
	require.NoError(t, err)
	require.Equal(t, "kept A", mark, "the page was changed, not loaded again, and the focus stays")
}

// Between two changes a public page is the same bytes for everybody, and a reader who has it is sent nothing.
func TestAPublicPageIsRenderedOnceAChange(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	address := s.address + "/e/" + inventedSlug + "/" + domain.Slug(inventedClass)
	get := func(tag string) *http.Response {
		request, err := http.NewRequestWithContext(t.Context(), http.MethodGet, address, http.NoBody)
		require.NoError(t, err)
		request.Header.Set("If-None-Match", tag)
		answer, err := http.DefaultClient.Do(request)
		require.NoError(t, err)
		require.NoError(t, answer.Body.Close())
		return answer
	}
	first := get("")
	require.Equal(t, http.StatusOK, first.StatusCode)
	require.Equal(t, first.Header.Get("ETag"), get("").Header.Get("ETag"))
	require.Equal(t, http.StatusNotModified, get(first.Header.Get("ETag")).StatusCode)

	_, err := s.desk.Act(s.ctx, desk.Program(), desk.Ref{Event: inventedSlug, Class: domain.Slug(inventedClass)}, uuid.New(), domain.Record{
		Hook: s.class(domain.Slug(inventedClass)).OnTrack().ID, Result: domain.Result{Outcome: domain.FullPull}, Next: uuid.New(),
	})
	require.NoError(t, err)
	require.Equal(t, http.StatusOK, get(first.Header.Get("ETag")).StatusCode, "the next reader gets the change")
}

// A browser has six connections to a server. With six streams open nothing else is answered; a page that nobody looks
// at lets its stream go, and the others go on.
func TestAHiddenPageLetsItsStreamGo(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := newBrowser(t, 1280, 800)
	_, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: false})
	require.NoError(t, err)
	run := func(script string) string {
		said, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](script))
		require.NoError(t, err)
		return said
	}
	ask := func() string {
		run(`(() => { window.got = ""; const c = new AbortController(); setTimeout(() => c.abort(), 1500);
			fetch("/", {signal: c.signal, cache: "no-store"}).then(() => window.got = "answered").catch(() => window.got = "hung"); return "" })()`)
		said := ""
		require.Eventually(t, func() bool { said = run(`window.got`); return said != "" }, deadline, poll)
		return said
	}
	b.do(chromedp.Navigate(s.address+"/e/"+inventedSlug), chromedp.WaitVisible(chromedp.CSS("h1")))
	require.Eventually(t, func() bool { return b.text(".asof [data-live]") == "live" }, deadline, poll)
	require.Equal(t, "answered", ask())
	run(`(() => { window.others = [1, 2, 3, 4, 5].map(() => new EventSource(document.body.dataset.stream)); return "" })()`)
	require.Eventually(t, func() bool { return run(`String(window.others.every((o) => o.readyState === 1))`) == "true" }, deadline, poll)
	require.Equal(t, "hung", ask(), "six streams are all that a browser has")
	run(`(() => { Object.defineProperty(document, "hidden", {value: true, configurable: true});
		document.dispatchEvent(new Event("visibilitychange")); return "" })()`)
	require.Equal(t, "answered", ask())
}

// A page says as of the last change and not as of the clock. So another process, hours later and after others were let
// in, serves the same bytes, and nobody is sent a page again for nothing.
func TestTheClockAloneChangesNoPage(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := hooking(f)
	late := f.later(3 * time.Hour)
	late.pass(inventedSlug, domain.Booth)
	class := "/e/" + inventedSlug + "/" + s.ref.Class
	for _, path := range []string{"/e/" + inventedSlug, class, class + "/sheet", class + "/result", "/e/" + inventedSlug + "/screen", "/e/" + inventedSlug + "/strip"} {
		now, then := visitor{fair: f}.get(path), visitor{fair: late}.get(path)
		require.Equal(t, now.body, then.body, path)
		require.Equal(t, now.header.Get("ETag"), then.header.Get("ETag"), path)
	}
	before := visitor{fair: late}.get(class)
	s.pull("250")
	require.NotEqual(t, before.header.Get("ETag"), visitor{fair: late}.get(class).header.Get("ETag"))
}
