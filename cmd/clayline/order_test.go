package main

import (
	"net/http"
	"net/url"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
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

// Breaks and a fixed start that are typed at the order of the classes are stored with it, once, and the breaks stand
// on the programme for everybody.
func TestTimesAreUsedFromTheOrderOfTheClasses(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	_, cookie := f.pass("", domain.Desk)
	v, s := visitor{f, cookie}, entering(f)
	session := s.class().Session.String()
	page, err := f.desk.EventPage(f.ctx, inventedSlug)
	require.NoError(t, err)
	starts := page.Event.Sessions[slices.IndexFunc(page.Event.Sessions, func(o domain.Session) bool { return o.ID.String() == session })].Starts
	typed := starts.Add(time.Hour).In(page.Event.Location()).Format("15:04")
	asked := v.get("/e/" + inventedSlug + "/desk/order?breaks-" + session + "=" + url.QueryEscape(typed+" 20") + "&starts-" + s.class().Slug + "=" + url.QueryEscape(typed))
	require.Equal(t, http.StatusOK, asked.status, asked.says())
	sent := asked.form("order")
	require.Equal(t, typed+" 20", sent.values.Get("breaks-"+session))
	require.Contains(t, asked.says(), "Use your order and times")
	lines := f.lines()
	for range 2 {
		require.Equal(t, http.StatusSeeOther, v.submit(sent).status)
		require.Equal(t, lines+2, f.lines(), "a line for the breaks and one for the start, sent once or twice")
	}
	assert.True(t, s.class().Fixed.Equal(starts.Add(time.Hour)))
	for _, place := range []string{"", "/desk/programme", "/day"} {
		assert.Contains(t, v.get("/e/"+inventedSlug+place).says(), "Break at about "+typed+", 20 min", place)
	}
	refused := v.post("/e/"+inventedSlug+"/desk/order", url.Values{"action": {uuid.NewString()}, "curfew-" + session: {""}, "breaks-" + session: {"19:30"}})
	assert.Equal(t, http.StatusUnprocessableEntity, refused.status)
	assert.Contains(t, refused.says(), `"19:30" is no break. Write its start and its minutes, such as 19:30 20.`)
}

// A class is moved to Sunday from the order of the classes: the question stores nothing, the press does, and sent again it
// moves nothing more. A class that was called meanwhile stays, and the page says which.
func TestAClassIsMovedFromTheOrderOfTheClasses(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	by, cookie := f.pass("", domain.Desk)
	v, s := visitor{f, cookie}, frozen(f)
	sunday := uuid.New()
	_, err := f.desk.ChangeEvent(f.ctx, by, inventedSlug, uuid.New(), desk.AnyVersion, domain.AddSession{Session: sunday, Name: "Sunday", Starts: time.Date(2026, 9, 20, 16, 0, 0, 0, time.UTC)})
	require.NoError(t, err)
	slug, first := s.class().Slug, s.class().Session
	asked := v.get("/e/" + inventedSlug + "/desk/order?session-" + first.String() + "-" + slug + "=" + sunday.String())
	require.Equal(t, http.StatusOK, asked.status)
	sent := asked.form("order")
	require.Contains(t, sent.values.Get("moves"), slug+" "+sunday.String())
	require.NotEqual(t, sunday, s.class().Session)
	require.Equal(t, http.StatusSeeOther, v.submit(sent).status)
	assert.Equal(t, sunday, s.class().Session)
	lines := f.lines()
	require.Equal(t, http.StatusSeeOther, v.submit(sent).status)
	assert.Equal(t, lines, f.lines())

	back := v.get("/e/" + inventedSlug + "/desk/order?session-" + sunday.String() + "-" + slug + "=" + first.String()).form("order")
	s.call()
	refused := v.submit(back)
	assert.Equal(t, http.StatusConflict, refused.status)
	assert.Contains(t, refused.says(), "Of class "+slug+": the first hook was called, and the class stays where it is pulled. Leave it where it is.")
	assert.Equal(t, sunday, s.class().Session)
	assert.Equal(t, http.StatusUnprocessableEntity, v.post("/e/"+inventedSlug+"/desk/order", url.Values{"action": {uuid.NewString()}, "moves": {"x"}}).status)
}
