package main

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// The steward presses once, and the booth reads it at once, with what is being typed there left alone. The phone's screen
// is asked to stay on, and the page says how that went.
func TestTheBoothReadsWhatTheStewardPressed(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	class := "/e/" + inventedSlug + "/" + domain.Slug(inventedClass)
	booth := newBrowser(t, 1280, 800)
	booth.scripts(true)
	booth.enter(s.link(domain.Booth))
	booth.do(chromedp.Navigate(s.address+class+"/booth"), chromedp.WaitVisible(chromedp.CSS("#result")))
	booth.press("28")
	next := s.class(domain.Slug(inventedClass)).Current().Waiting()[0]

	phone := newBrowser(t, 390, 844)
	phone.scripts(true)
	phone.enter(s.link(domain.Lane))
	phone.do(chromedp.Navigate(s.address+"/e/"+inventedSlug+"/lane"), chromedp.WaitVisible(chromedp.CSS(".line")))
	require.Eventually(t, func() bool { return evaluate[bool](phone, "!document.getElementById('awake').hidden") }, deadline, poll)
	require.Contains(t, phone.text("#awake"), "screen")
	phone.do(chromedp.Click(chromedp.CSS(".line li:nth-child(2) button.missing")), chromedp.WaitVisible(chromedp.CSS(`button.missing[aria-pressed="true"]`)))
	require.Equal(t, domain.Missing, s.class(domain.Slug(inventedClass)).InLine()[1].Where)
	require.Equal(t, next, s.class(domain.Slug(inventedClass)).InLine()[1].Entry)
	require.Eventually(t, func() bool { return strings.Contains(booth.text("#in-line"), "missing since") }, deadline, poll)
	typed, err := chromedp.Run(booth.ctx, chromedp.Value(chromedp.CSS("#result")))
	require.NoError(t, err)
	require.Equal(t, "28", typed)

	require.Empty(t, phone.small())
}

// small lists what is to be pressed in the page and is lower or narrower than 48 pixels, which a glove misses.
func (b *browser) small() string {
	return evaluate[string](b, `[...document.querySelectorAll("main button, main select, main summary, main .tick")]
		.filter((e) => e.checkVisibility() && (e.offsetHeight < 48 || e.offsetWidth < 48)).map((e) => e.textContent.trim() + " " + e.offsetHeight).join(", ")`)
}

// With gloves on, in the sun: the cab's page has nothing small to press either, and says whether the screen stays on.
func TestTheCabIsPressedWithGloves(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := newBrowser(t, 390, 844)
	b.scripts(true)
	b.enter(s.link(domain.Cab))
	b.do(chromedp.Navigate(s.address+"/e/"+inventedSlug+"/cab"), chromedp.WaitVisible(chromedp.CSS(".ready button")))
	require.Eventually(t, func() bool { return evaluate[bool](b, "!document.getElementById('awake').hidden") }, deadline, poll)
	require.Empty(t, b.small())
}
