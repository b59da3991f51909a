package main

import (
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// order lists the classes of the invented event as its programme has them.
func (s *site) order() (names []string) {
	s.t.Helper()
	page, err := s.desk.EventPage(s.ctx, inventedSlug)
	require.NoError(s.t, err)
	for _, c := range page.Classes {
		names = append(names, c.Name)
	}
	return names
}

// A class is drawn to another place of the last session with the mouse. That alone stores nothing; a press does, once.
func TestTheOrderOfTheClassesIsDrawnAndUsed(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := newBrowser(t, 1280, 800)
	b.enter(s.link(domain.Desk))
	_, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: false})
	require.NoError(t, err)
	before := s.order()
	b.do(chromedp.Navigate(s.address+"/e/"+inventedSlug+"/desk/order"), chromedp.WaitVisible(chromedp.CSS(".grip")))
	evaluate[bool](b, `(() => {
		const rows = [...document.querySelectorAll(".sequence-rows")].at(-1).querySelectorAll(".sequence-row");
		const event = (type, row) => new PointerEvent(type, {bubbles: true, clientX: 60, clientY: row.getBoundingClientRect().bottom - 5});
		rows[0].scrollIntoView();
		rows[0].querySelector(".grip").dispatchEvent(event("pointerdown", rows[0]));
		document.dispatchEvent(event("pointermove", rows[1]));
		document.dispatchEvent(event("pointerup", rows[1]));
		return true;
	})()`)
	b.do(chromedp.WaitVisible(chromedp.CSS("#use-typed")))
	require.Equal(t, before, s.order(), "nothing is stored yet")
	b.picture("order-drawn")
	b.click("Use your order")
	b.do(chromedp.WaitVisible(chromedp.CSS("h1")))
	n := len(before)
	want := append(append([]string{}, before[:n-2]...), before[n-1], before[n-2])
	assert.Eventually(t, func() bool { return assert.ObjectsAreEqual(want, s.order()) }, deadline, poll)
	page, err := s.desk.EventPage(s.ctx, inventedSlug)
	require.NoError(t, err)
	assert.Equal(t, "order", page.Journal[0].Kind)
}
