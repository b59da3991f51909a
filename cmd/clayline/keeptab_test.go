package main

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// pressKept presses the button among what is told as kept that begins with the words.
func (b *keptBooth) pressKept(words string) {
	b.t.Helper()
	require.Eventually(b.t, func() bool {
		return evaluate[bool](b.browser, `((b) => b ? (b.click(), true) : false)([...document.querySelectorAll("#kept button")].find((b) => b.textContent.startsWith("`+words+`")))`)
	}, deadline, poll, "there is a button %s", words)
}

// tab opens the same page in another tab of the same browser.
func (b *keptBooth) tab() *keptBooth {
	b.t.Helper()
	ctx, cancel := chromedp.NewContext(b.ctx)
	b.t.Cleanup(cancel)
	other := *b
	other.browser = &browser{t: b.t, ctx: ctx, kill: b.kill}
	other.look()
	return &other
}

// Two tabs of one browser keep what is typed in one place: both tell of it, both ask for the same puller, and it is stored
// once, whichever sends it.
func TestTwoTabsKeepInOnePlace(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	w := newWire(t, s.address)
	class := domain.Slug(inventedClass)
	b := openBooth(s, w, class)
	to := order(s.class(class))
	hooks := len(s.class(class).Current().Hooks)
	other := b.tab()
	other.asksFor(to[0])
	w.cut()
	b.press("287.34\r")
	b.asksFor(to[1])
	other.look()
	other.asksFor(to[1])
	other.tells("1 form is kept here")
	other.press("271.05\r")
	other.asksFor(to[2])
	other.tells("2 forms are kept here")
	w.mend(s.address)
	require.Eventually(t, func() bool { return len(s.class(class).Current().Hooks) == hooks+2 }, deadline, poll, "sent by themselves, each once")
	for _, page := range []*keptBooth{b, other} {
		require.Eventually(t, func() bool { return page.says() == "" }, deadline, poll)
		page.asksFor(to[2])
	}
	require.Equal(t, "287.34 ft", hookOf(s.class(class), to[0]).Result.Distance.String())
	require.Equal(t, "271.05 ft", hookOf(s.class(class), to[1]).Result.Distance.String())
	require.Equal(t, to[2], order(s.class(class))[0])
}

// Of two versions the server's is let stand. What was typed here is told as set aside, over a reload too, until somebody has
// downloaded it and takes it off the page; the server's stays as it is.
func TestAKeptFormIsSetAside(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	w := newWire(t, s.address)
	class := domain.Slug(inventedClass)
	b := openBooth(s, w, class)
	to := order(s.class(class))
	w.cut()
	b.press("287.34\r")
	b.asksFor(to[1])
	other, err := domain.ParseDistance("285.34", domain.Foot)
	require.NoError(t, err)
	_, err = s.desk.Act(s.ctx, desk.Program(), desk.Ref{Event: inventedSlug, Class: class}, uuid.New(), domain.Record{
		Hook: s.class(class).OnTrack().ID, Result: domain.Result{Outcome: domain.Measured, Distance: other}, Next: uuid.New(),
	})
	require.NoError(t, err)
	w.mend(s.address)
	b.tells("Not taken by the server: " + to[0])
	b.pressKept("Let the server")
	b.tells("Set aside here: " + to[0])
	b.tells("The server has: " + to[0])
	b.look()
	b.tells("287.34")
	require.NotContains(t, b.says(), "Take it off", "it is downloaded before")
	require.True(t, evaluate[bool](b.browser, `((link) => (link.click(), link.download.startsWith("set-aside-")))(document.querySelector("#kept a"))`))
	b.pressKept("Take it off this page")
	require.Eventually(t, func() bool { return b.says() == "" }, deadline, poll)
	require.Equal(t, "285.34 ft", hookOf(s.class(class), to[0]).Result.Distance.String())
	require.Empty(t, hookOf(s.class(class), to[0]).Corrected)
	b.asksFor(to[1])
}

// The cab is cut off from the server before a hook. That its crew holds is kept on the page, which shows it as said, and
// the server has it when the network is back.
func TestTheCabGoesOnWithoutItsNetwork(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	w := newWire(t, s.address)
	class := domain.Slug(inventedClass)
	b := &keptBooth{browser: openBrowser(t, 4*time.Minute), wire: w, class: class, page: w.address + "/e/" + inventedSlug + "/" + class + "/cab"}
	b.enter(strings.Replace(s.link(domain.Cab), s.address, w.address, 1))
	b.look()
	b.stands()
	require.NotEqual(t, "cable frayed", s.class(class).OnTrack().Ready.Words)
	w.cut()
	b.do(chromedp.SendKeys(chromedp.CSS("#hold-words"), "cable frayed\r"))
	b.tells("1 form is kept here")
	b.tells("cable frayed")
	require.Contains(t, b.text("main .ready"), "cable frayed")
	w.mend(s.address)
	require.Eventually(t, func() bool { return b.says() == "" }, deadline, poll, "sent by itself")
	ready := s.class(class).OnTrack().Ready
	require.True(t, ready.Held)
	require.Equal(t, "cable frayed", ready.Words)
}
