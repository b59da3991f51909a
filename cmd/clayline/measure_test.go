package main

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// cursor is the id of the element that has the cursor.
func (b *keptBooth) cursor() string {
	b.t.Helper()
	return evaluate[string](b.browser, "document.activeElement.id")
}

// One key leads from the empty field to another measurement of the last hook, and one back. Typed with the network gone, it
// is kept as that hook's, and stored when the network is back.
func TestOneKeyMeasuresAgain(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	w := newWire(t, s.address)
	class := domain.Slug(inventedClass)
	b := openBooth(s, w, class)
	to := order(s.class(class))
	b.press("287.34\r")
	b.asksFor(to[1])
	b.stands()

	b.press("m")
	require.Equal(t, "measured-result", b.cursor())
	b.picture("booth-measured-laptop")
	b.do(chromedp.KeyEvent("\x1b"))
	require.Equal(t, "result", b.cursor())
	b.press("27m")
	require.Equal(t, "result", b.cursor(), "in the middle of a result it is a letter")
	b.press("\b\b\bM287.38\r")
	stored := func(distance string) {
		t.Helper()
		require.Eventually(t, func() bool { return hookOf(s.class(class), to[0]).Result.Distance.String() == distance }, deadline, poll, "%s is stored", distance)
		require.Equal(t, "measured again", hookOf(s.class(class), to[0]).Corrected)
		require.Equal(t, to[1], order(s.class(class))[0])
	}
	stored("287.38 ft")

	// The page goes to its answer by itself meanwhile, and a browser gives up one of two ways at once.
	require.Eventually(t, func() bool { return chromedp.Do(b.ctx, chromedp.Navigate(b.page)) == nil }, deadline, poll)
	b.asksFor(to[1])
	b.stands()
	w.cut()
	// That the server is away turns out in the middle of typing, and takes nothing out of somebody's hands.
	b.press("m287")
	evaluate[bool](b.browser, `new BroadcastChannel("clayline kept").postMessage("sent") === undefined`)
	b.tells("The server cannot be reached")
	require.Equal(t, "measured-result", b.cursor())
	b.press(".4\r")
	b.tells("1 form is kept here")
	b.tells(to[0] + " ")
	b.tells("Measured again 287.4")
	b.asksFor(to[1])
	require.Contains(t, b.text("main"), "corrected: measured again\nkept here")
	w.mend(s.address)
	stored("287.4 ft")
}
