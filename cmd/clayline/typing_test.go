package main

import (
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// Two booths of one class: while one types, the other sees what, keeps what it has typed itself, and sees nothing more once
// the typing ends.
func TestABoothSeesThatAnotherIsTyping(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	page := s.address + "/e/" + inventedSlug + "/" + domain.Slug(inventedClass) + "/booth"
	first, second := newBrowser(t, 1280, 800), newBrowser(t, 390, 844)
	for _, b := range []*browser{first, second} {
		b.scripts(true)
		b.enter(s.link(domain.Booth))
		b.do(chromedp.Navigate(page), chromedp.WaitVisible(chromedp.CSS("#result")))
	}
	second.press("31")
	first.press("287.3")
	require.Eventually(t, func() bool {
		if strings.Contains(second.text("#typing"), "Another booth is typing: 287.3") {
			return true
		}
		// The second may not have followed the stream yet, and a sign is soon over: the first goes on typing.
		evaluate[bool](first, `document.getElementById("result").dispatchEvent(new Event("input", { bubbles: true }))`)
		return false
	}, deadline, 2*time.Second)
	typed, err := chromedp.Run(second.ctx, chromedp.Value(chromedp.CSS("#result")))
	require.NoError(t, err)
	require.Equal(t, "31", typed, "what is typed there stays")
	second.picture("booth-typing-phone")
	require.NotContains(t, first.text("#typing"), "287.3", "a page tells nothing about itself")
	require.Eventually(t, func() bool { return strings.TrimSpace(second.text("#typing")) == "" }, deadline, poll, "over by itself")
}

// until reads a stream until it has told the words, and returns all that it told.
func (l *listener) until(words string) (seen string) {
	l.t.Helper()
	text := make([]byte, 1<<10)
	for !strings.Contains(seen, words) {
		n, err := l.response.Body.Read(text)
		require.NoError(l.t, err)
		seen += string(text[:n])
	}
	return seen
}

// What is being typed is told to the pages of the booth and the desk of the event, and to nobody else; it has no number, and
// nothing of it is stored. A pass that ended since its page was opened hears no more.
func TestOnlyBoothsAreToldWhatIsBeingTyped(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s, v := hooking(p.fair), p.as(domain.Booth)
	typing := func(figures string) *form {
		sent := v.get(s.path("booth")).form("result").fill(map[string]string{"result": figures})
		sent.action = strings.TrimSuffix(sent.action, "result") + "typing"
		sent.values.Set("from", uuid.NewString())
		return sent
	}
	hears := map[string]*listener{}
	for name, who := range callers(p.fair) {
		hears[name] = p.listen(s.api("/stream"), "Cookie", desk.Cookie+"="+who.cookie)
	}
	sent, lines := typing("287.3"), p.lines()
	require.Equal(t, http.StatusNoContent, v.submit(sent).status)
	require.Equal(t, lines, p.lines())
	for name := range strings.SplitSeq(boothOrDesk, ", ") {
		told := hears[name].until("\n\n" + "event: typing\ndata: {")
		assert.NotContains(t, told[strings.Index(told, "event: typing"):], "id:", name)
		told += hears[name].until("\n\n")
		assert.Contains(t, told, `"text":"287.3"`, name)
	}
	s.pull("281.36")
	for name, to := range hears {
		if !slices.Contains(strings.Split(boothOrDesk, ", "), name) {
			assert.NotContains(t, to.until("event: change"), "typing", name)
		}
	}
	by, cookie := p.pass(inventedSlug, domain.Booth)
	ended, goesOn := p.listen(s.api("/stream"), "Cookie", desk.Cookie+"="+cookie), p.listen(s.api("/stream"), "Cookie", desk.Cookie+"="+v.cookie)
	require.Equal(t, passesPage, p.as(domain.Desk).revoke(by.Pass).place())
	require.Equal(t, http.StatusNoContent, v.submit(typing("264.2")).status)
	goesOn.until(`"text":"264.2"`)
	s.pull("264.2")
	require.NotContains(t, ended.until("event: change"), "typing")

	stale := v.submit(sent)
	require.Equal(t, http.StatusConflict, stale.status, "that hook is over")
	require.Contains(t, stale.says(), "That hook is not on the track.")
}
