package main

import (
	"bytes"
	"image/png"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/gallery"
)

// galleryServer serves the gallery and names its pages whose names begin so.
func galleryServer(t *testing.T, prefixes ...string) (address string, names []string) {
	t.Helper()
	for _, page := range gallery.Pages() {
		if slices.ContainsFunc(prefixes, func(prefix string) bool { return strings.HasPrefix(page.Name, prefix) }) {
			names = append(names, page.Name)
		}
	}
	server := httptest.NewServer(gallery.Handler())
	t.Cleanup(server.Close)
	return server.URL, names
}

// outside lists the words that reach over the edge of the window or of the part that they stand in.
const outside = `(() => {
	const cut = [];
	for (const e of document.querySelectorAll("main *, .screen .top *, .screen .bottom")) {
		const r = e.getBoundingClientRect();
		const words = Array.from(e.childNodes).some((n) => n.nodeType === 3 && n.data.trim());
		if (!words || e.closest(".vh, title, desc") || getComputedStyle(e.closest(".strip") || e).display === "none" || r.width === 0) {
			continue;
		}
		const part = e.closest(".screen-now, .screen-figures, .bare-line");
		const bottom = part ? part.getBoundingClientRect().bottom + 1 : innerHeight;
		if (r.left < 0 || r.top < 0 || r.right > innerWidth + 1 || r.bottom > Math.min(innerHeight + 1, bottom)) {
			cut.push(e.textContent.trim());
		}
	}
	return cut.join(" | ");
})()`

// A display has nobody who scrolls: every word of every state is inside the window.
func TestTheBigScreenFitsItsPages(t *testing.T) {
	t.Parallel()
	address, names := galleryServer(t, "screen", "strip")
	require.Len(t, names, 9)
	for _, size := range []struct {
		name          string
		width, height int64
	}{{"1080", 1920, 1080}, {"720", 1280, 720}, {"phone", 390, 844}, {"tablet", 768, 1024}, {"upright", 1080, 1920}} {
		t.Run(size.name, func(t *testing.T) {
			t.Parallel()
			b := newBrowser(t, size.width, size.height)
			for _, name := range names {
				b.do(chromedp.Navigate(address+"/"+name), chromedp.WaitVisible(chromedp.CSS("main")))
				b.picture(name + "-" + size.name)
				cut, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](outside))
				require.NoError(t, err)
				require.Empty(t, cut, name)
			}
		})
	}
}

// A window that is taller than wide is used over its height: the number is read from afar, and the figures stand under it.
func TestTheBigScreenUsesATallWindow(t *testing.T) {
	t.Parallel()
	address, _ := galleryServer(t, "screen")
	b := newBrowser(t, 390, 844)
	b.do(chromedp.Navigate(address+"/screen"), chromedp.WaitVisible(chromedp.CSS("main")))
	require.Greater(t, evaluate[float64](b, `document.querySelector(".screen-number").getBoundingClientRect().height / innerHeight`), 0.1)
	require.Greater(t, evaluate[float64](b, `document.querySelector(".screen-figures").getBoundingClientRect().top - document.querySelector(".screen-now").getBoundingClientRect().bottom`), 0.0)
}

// The line lies over a moving picture: what is not a word or its plate lets the picture through.
func TestTheLineLetsThePictureThrough(t *testing.T) {
	t.Parallel()
	address, _ := galleryServer(t, "strip")
	b := newBrowser(t, 1280, 720)
	// An alpha of 0 would be left out of the message and mean 1; this one is 0 of 255.
	_, err := chromedp.Call(b.ctx, emulation.SetDefaultBackgroundColorOverride, emulation.SetDefaultBackgroundColorOverrideParams{Color: &cdp.RGBA{A: 0.001}})
	require.NoError(t, err)
	b.do(chromedp.Navigate(address+"/strip"), chromedp.WaitVisible(chromedp.CSS(".bare-line")))
	shot, err := chromedp.Run(b.ctx, chromedp.Screenshot(chromedp.CSS("html")))
	require.NoError(t, err)
	picture, err := png.Decode(bytes.NewReader(shot))
	require.NoError(t, err)
	_, _, _, nothing := picture.At(640, 100).RGBA()
	require.Zero(t, nothing, "the middle of the picture is free")
	_, _, _, plate := picture.At(640, picture.Bounds().Dy()-60).RGBA()
	require.NotZero(t, plate, "the line is there")
}

// The big screen follows the booth without anybody, and follows the tracks of its address alone.
func TestTheBigScreenFollowsTheBooth(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := newBrowser(t, 1920, 1080)
	_, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: false})
	require.NoError(t, err)
	b.do(chromedp.Navigate(s.address+"/e/"+inventedSlug+"/screen"), chromedp.WaitVisible(chromedp.CSS(".screen-number")))
	require.Eventually(t, func() bool { return b.text(".asof [data-live]") == "live" }, deadline, poll)
	slug := domain.Slug(inventedClass)
	on := s.class(slug).OnTrack()
	require.Equal(t, s.class(slug).Entry(on.Entry).Number, b.text(".screen-number"))
	distance, err := domain.ParseDistance("299.91", domain.Foot)
	require.NoError(t, err)
	_, err = s.desk.Act(s.ctx, desk.Program(), desk.Ref{Event: inventedSlug, Class: slug}, uuid.New(), domain.Record{
		Hook: on.ID, Result: domain.Result{Outcome: domain.Measured, Distance: distance}, Next: uuid.New(),
	})
	require.NoError(t, err)
	next := s.class(slug)
	require.Eventually(t, func() bool {
		return b.text(".screen-number") == next.Entry(next.OnTrack().Entry).Number && strings.Contains(b.text("main"), "299.91")
	}, deadline, poll, "the next number and the last distance stand there by themselves")
}

// After an update of the server an open screen is made of old files: it loads itself anew, once it is a minute old.
func TestTheBigScreenLoadsItselfAnewAfterAnUpdate(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := newBrowser(t, 1280, 720)
	_, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: false})
	require.NoError(t, err)
	run := func(script string) string {
		said, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](script))
		require.NoError(t, err)
		return said
	}
	change := func() {
		_, err := s.desk.Act(s.ctx, desk.Program(), desk.Ref{Event: inventedSlug, Class: domain.Slug(inventedClass)}, uuid.New(), domain.Record{
			Hook: s.class(domain.Slug(inventedClass)).OnTrack().ID, Result: domain.Result{Outcome: domain.FullPull}, Next: uuid.New(),
		})
		require.NoError(t, err)
	}
	b.do(chromedp.Navigate(s.address+"/e/"+inventedSlug+"/screen"), chromedp.WaitVisible(chromedp.CSS(".screen-number")))
	require.Eventually(t, func() bool { return b.text(".asof [data-live]") == "live" }, deadline, poll)
	run(`(document.querySelector("link[rel=icon]").setAttribute("href", "/static/favicon.000000000000.svg"), window.mark = "kept")`)
	before := b.text(".screen-number")
	change()
	require.Eventually(t, func() bool { return b.text(".screen-number") != before }, deadline, poll)
	require.Equal(t, "kept", run("window.mark"), "a page that is younger than a minute only takes the change over")

	run(`(performance.now = () => 60001, "later")`)
	change()
	require.Eventually(t, func() bool { return run(`String(window.mark)`) == "undefined" }, deadline, poll)
	require.NotContains(t, run(`document.querySelector("link[rel=icon]").href`), "000000000000")
}
