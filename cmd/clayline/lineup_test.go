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

	// Nothing to press is smaller than a fingertip, or next to another without room between.
	small := evaluate[int](phone, `[...document.querySelectorAll(".line button")].filter((b) => b.offsetHeight < 48 || b.offsetWidth < 48).length`)
	require.Zero(t, small)
}
