package main

import (
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// The flagman presses twice, and booth and cab read it at once; what is being typed at the booth is left alone, and nothing
// is stored but the word.
func TestBoothAndCabReadWhatTheFlagmanPressed(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	class := "/e/" + inventedSlug + "/" + domain.Slug(inventedClass)
	booth, cab, phone := newBrowser(t, 1280, 800), newBrowser(t, 1024, 768), newBrowser(t, 390, 844)
	for _, b := range []*browser{booth, cab, phone} {
		b.scripts(true)
	}
	booth.enter(s.link(domain.Booth))
	booth.do(chromedp.Navigate(s.address+class+"/booth"), chromedp.WaitVisible(chromedp.CSS("#result")))
	booth.press("28")
	cab.enter(s.link(domain.Cab))
	cab.do(chromedp.Navigate(s.address+class+"/cab"), chromedp.WaitVisible(chromedp.CSS(".gauges")))
	on := s.class(domain.Slug(inventedClass)).OnTrack()

	phone.enter(s.link(domain.Lane))
	phone.do(chromedp.Navigate(s.address+"/e/"+inventedSlug+"/flag"), chromedp.WaitVisible(chromedp.CSS(".flag-says")))
	require.Empty(t, phone.missed())
	phone.do(chromedp.Click(chromedp.CSS(".at-hand .flag-says li:last-child a")), chromedp.WaitVisible(chromedp.CSS(".flag-ask")))
	require.Empty(t, phone.missed())
	require.False(t, evaluate[bool](phone, `"stream" in document.body.dataset`), "a question does not change under the finger")
	phone.do(chromedp.Click(chromedp.CSS(`.flag-ask button[value="out of bounds"]`)), chromedp.WaitVisible(chromedp.CSS(".at-hand .message")))
	for _, b := range []*browser{booth, cab} {
		require.Eventually(t, func() bool { return strings.Contains(b.text("#flag"), "disqualification proposed: out of bounds") }, deadline, poll)
	}
	typed, err := chromedp.Run(booth.ctx, chromedp.Value(chromedp.CSS("#result")))
	require.NoError(t, err)
	require.Equal(t, "28", typed)
	after := s.class(domain.Slug(inventedClass)).OnTrack()
	require.Equal(t, on.ID, after.ID)
	require.True(t, after.Result.IsZero())
	require.Equal(t, domain.FlagDisqualified, after.Flag.Call)
	require.Empty(t, phone.missed())
	require.NotContains(t, strings.ToLower(phone.text("body")), "green")
}

// missed lists what is to be pressed in the page and is lower or narrower than 64 pixels, or nearer than 8 to the next.
func (b *browser) missed() string {
	return evaluate[string](b, `(() => {
		const all = [...document.querySelectorAll("main button, main a.button, main summary")].filter((e) => e.checkVisibility());
		const small = all.filter((e) => e.offsetHeight < 64 || e.offsetWidth < 64);
		const near = all.filter((e, i) => i > 0 && (() => {
			const a = all[i - 1].getBoundingClientRect(), c = e.getBoundingClientRect();
			return c.top - a.bottom < 8 && c.left - a.right < 8;
		})());
		return [...small, ...near].map((e) => e.textContent.trim() + " " + e.offsetWidth + "x" + e.offsetHeight).join(", ");
	})()`)
}

// Without scripts as well: what is refused keeps the words and the question, what was noted by the cab stays, and the word
// is taken back.
func TestTheFlagmanWithoutScripts(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := testHook(f)
	lane := f.as(domain.Lane)
	on := s.class().OnTrack()
	ask := func(what string) *form {
		return lane.get(s.path("flag?hook=" + on.ID.String() + "&ask=" + what)).form(map[bool]string{true: "noted", false: "say"}[what == "noted"])
	}

	a := lane.submit(ask("disqualified"))
	assert.Equal(t, http.StatusUnprocessableEntity, a.status)
	assert.Contains(t, a.says(), "The reason of the disqualification is missing.")
	a = lane.submit(ask("disqualified").fill(map[string]string{"press": "lost part", "reason": "fender"}))
	require.Equal(t, http.StatusSeeOther, a.status)
	require.Equal(t, "lost part: fender", s.class().OnTrack().Flag.Reason)
	assert.Contains(t, f.as(domain.Booth).get(s.path("booth")).says(), "disqualification proposed: lost part: fender.")
	assert.Contains(t, f.as(domain.Cab).get(s.path("cab")).says(), "disqualification proposed: lost part: fender.")
	assert.NotContains(t, visitor{fair: f}.get(s.path("")).says(), "proposed", "it is on no public page")

	s.do(domain.NoteDifference{Hook: on.ID, What: domain.HandDrop, Words: "pan hung"})
	require.Equal(t, http.StatusSeeOther, lane.submit(ask("noted").fill(map[string]string{"press": "red by official"})).status)
	require.Equal(t, "hand drop, red by official: pan hung", s.class().OnTrack().Difference.String())
	require.Equal(t, http.StatusSeeOther, lane.submit(ask("re-hook").fill(map[string]string{"press": "official"})).status)
	require.Equal(t, "official", s.class().OnTrack().Flag.Reason)
	require.Equal(t, http.StatusSeeOther, lane.submit(ask("start+again").fill(map[string]string{})).status)
	require.Equal(t, domain.FlagStartAgain, s.class().OnTrack().Flag.Call)
	require.Equal(t, http.StatusSeeOther, lane.submit(lane.get(s.path("flag")).form("say")).status)
	require.Zero(t, s.class().OnTrack().Flag)

	late := ask("disqualified").fill(map[string]string{"press": "front end"})
	s.do(domain.Again{Hook: on.ID, Reason: "sled", Next: uuid.New()})
	a = lane.submit(late)
	assert.Equal(t, http.StatusConflict, a.status)
	assert.Contains(t, a.says(), "That hook is settled, and no flag is told of it any more. Tell the booth, which can correct it.")
}
