package main

import (
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/static"
)

// pitsPath is the address of the page of the pits.
const pitsPath = "/e/" + inventedSlug + "/pits"

// firstFlight is what a server sends before it hears from the reader: ten segments of 1,460 bytes, RFC 6928. A page within it
// is there after one round trip on a phone with one bar.
const firstFlight = 14600

// crowded enters pullers until the event has sixty entries, half of them in a class that is being pulled.
func crowded(f *fair) *scene {
	entries := func(s *scene, n int) {
		have := len(s.class().Entries)
		for i := range n - have {
			s.do(domain.AddEntry{Entry: uuid.New(), Number: fmt.Sprint(200 + i), Details: domain.Details{
				Puller: names(i) + " " + names(i*7+3) + "sen", Vehicle: names(i*11+5) + " " + names(i*3+1), Home: names(i)}})
		}
	}
	first, second := entering(f), entering(f)
	entries(first, 30)
	entries(second, 30)
	second.draw() // each of them has a time by now
	return first.draw().write().freeze().call().pull("FP")
}

// names are words that differ, so that a page of them packs no better than one of people.
func names(i int) string {
	const vowels, consonants = "aeiouyea", "bdfgklmnprstvwzh"
	var b strings.Builder
	for n := i*2654435 + 977; b.Len() < 6; n = n/3 + 41 {
		b.WriteByte(consonants[n%len(consonants)])
		b.WriteByte(vowels[n/5%len(vowels)])
	}
	return strings.ToUpper(b.String()[:1]) + b.String()[1:]
}

func TestThePageOfThePitsIsThereAfterOneRoundTrip(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	crowded(f)
	for _, path := range []string{pitsPath, "/de" + pitsPath} {
		for _, coding := range []string{"gzip", "br"} {
			a := visitor{fair: f}.send(http.MethodGet, path, http.NoBody, "Accept-Encoding", coding)
			require.Equal(t, http.StatusOK, a.status)
			require.Equal(t, coding, a.header.Get("Content-Encoding"))
			t.Logf("%s in %s: %d bytes", path, coding, len(a.body))
			require.LessOrEqual(t, len(a.body), firstFlight)
		}
	}
	plain := visitor{fair: f}.send(http.MethodGet, pitsPath, http.NoBody, "Accept-Encoding", "identity")
	require.Len(t, regexp.MustCompile(`<tr id="n`).FindAllString(plain.body, -1), 60)
}

// Without scripts the field is a form whose answer holds what was asked for, live as the page itself; it asks the
// database nothing, and the page without a question stays the same bytes for all.
func TestAQuestionIsAnsweredWithoutScripts(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := hooking(f)
	v := visitor{fair: f}
	whole := v.get(pitsPath)
	number := s.class().Entry(s.class().Current().Waiting()[1]).Number
	a := v.get(pitsPath + "?q=" + number)
	require.Equal(t, http.StatusOK, a.status)
	assert.Equal(t, "noindex", a.header.Get("X-Robots-Tag"))
	assert.Contains(t, a.body, `value="`+number+`"`)
	assert.Contains(t, a.says(), "1 entry found.")
	assert.Contains(t, a.says(), "hooks ahead")
	assert.Contains(t, a.says(), "Windows are estimates; the call in the pits counts.")
	assert.Contains(t, a.body, "data-stream=")

	assert.Contains(t, v.get(pitsPath+"?q=%3Cscript%3Ealert(1)%3C/script%3E").body, "&lt;script&gt;")
	assert.Contains(t, v.get(pitsPath+"?q=%ff%00").says(), "Nobody found.")
	assert.Equal(t, whole.body, v.get(pitsPath+"?q=++").body, "nothing asked is the whole page")
	assert.Equal(t, http.StatusNotFound, v.get("/e/no-such-event/pits?q=7").status)

	before := s.class().OnTrack().ID
	s.pull("270.02")
	require.NotEqual(t, before, s.class().OnTrack().ID)
	after := v.get(pitsPath + "?q=" + number)
	assert.Contains(t, after.says(), "next", "an answer is as of the last line")
}

// The other pages of an event lead to it.
func TestEveryPageOfAnEventLeadsToThePits(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := hooking(f)
	for _, path := range []string{"/e/" + inventedSlug, s.path("")} {
		require.Contains(t, visitor{fair: f}.get(path).body, `<a href="`+pitsPath+`">Find me</a>`)
	}
}

// With scripts the page filters while somebody types, and keeps who is followed on top, over a reload and while results
// come in; at most ten are followed.
func TestThePitsFilterAndFollow(t *testing.T) {
	t.Parallel()
	site := newSite(t)
	page, err := site.desk.EventPage(site.ctx, inventedSlug)
	require.NoError(t, err)
	f := &fair{site: site, loader: &loader{desk: site.desk, event: page.Event}}
	s := hooking(f)
	b := newBrowser(t, 390, 844)
	_, err = chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: false})
	require.NoError(t, err)
	b.do(chromedp.Navigate(f.address+pitsPath), chromedp.WaitVisible(chromedp.CSS(".follow")))
	count := func(css string) int {
		return evaluate[int](b, `[...document.querySelectorAll("`+css+`")].filter(n => n.getClientRects().length > 0).length`)
	}
	all := count(".pits-class tbody tr")
	require.Greater(t, all, 20)
	b.do(chromedp.Click(chromedp.CSS("#q")))
	b.press("7b")
	require.Eventually(t, func() bool { return count(".pits-class tbody tr") < all }, deadline, poll)
	require.Positive(t, count(".pits-class tbody tr"))
	require.Contains(t, b.text("#found"), " found.")
	b.press("\b\b")
	require.Eventually(t, func() bool { return count(".pits-class tbody tr") == all }, deadline, poll)

	press := func(n int) {
		evaluate[bool](b, fmt.Sprintf(`document.querySelectorAll(".pits-class .follow")[%d].click() || true`, n))
	}
	for i := range 11 {
		press(i)
	}
	require.Equal(t, 10, count("#followed tbody tr"))
	require.Contains(t, b.text("#found"), "Ten entries are followed already.")
	press(9)
	require.Equal(t, 9, count("#followed tbody tr"))
	b.do(chromedp.Navigate(f.address+pitsPath), chromedp.WaitVisible(chromedp.CSS("#followed")))
	require.Equal(t, 9, count("#followed tbody tr"), "kept in the browser")

	// A result comes in.
	s.pull("270.02")
	require.Eventually(t, func() bool { return strings.Contains(b.text("main"), "270.02") }, deadline, poll)
	require.Equal(t, 9, count("#followed tbody tr"))
	require.Equal(t, all, count(".pits-class .follow"), "one button an entry")
	b.picture("pits-followed-phone")
}

// The script of the page is there and its address changes with it.
func TestTheScriptOfThePitsIsServed(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	entering(f)
	require.Contains(t, visitor{fair: f}.get(pitsPath).body, static.Href("pits.js"))
	require.Equal(t, http.StatusOK, visitor{fair: f}.get(static.Href("pits.js")).status)
}

// The buttons to follow take a place that is kept for them: nothing moves when the script puts them there, in either
// language, and paper keeps no empty place.
func TestNothingMovesWhenThePitsCanBeFollowed(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	hooking(f)
	const places = `[...document.querySelectorAll(".pits-class tbody tr, .pits-class tbody th")].map((e) => {
		const r = e.getBoundingClientRect();
		return [r.left, r.top, r.width, r.height].map(Math.round).join(" ");
	}).join("\n")`
	b := openBrowser(t, 2*time.Minute)
	for _, size := range []int64{390, 1280} {
		b.do(chromedp.EmulateViewport(size, 844))
		for _, path := range []string{pitsPath, "/de" + pitsPath} {
			b.do(chromedp.Navigate(f.address+path), chromedp.WaitVisible(chromedp.CSS(".follow")))
			with := evaluate[string](b, places)
			evaluate[bool](b, `document.querySelectorAll(".follow").forEach((e) => e.remove()) === undefined`)
			require.Equal(t, evaluate[string](b, places), with, "%s at %d", path, size)
		}
	}
	b.onPaper()
	require.Equal(t, "none", evaluate[string](b, `getComputedStyle(document.querySelector(".pits-class .outcome"), "::after").content`))
}
