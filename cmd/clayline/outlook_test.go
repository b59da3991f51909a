package main

import (
	"crypto/rand"
	"net/http"
	"regexp"
	"strconv"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"clayline/domain/desk"
)

// slowly serves the desk of the fair on a clock that the returned function puts forward.
func (p *programs) slowly() (wait func(time.Duration)) {
	p.t.Helper()
	var ahead atomic.Int64
	p.desk = desk.New(p.store, func() time.Time { return clock().Add(time.Duration(ahead.Load())) }, rand.Reader)
	p.open(quick())
	return func(d time.Duration) { ahead.Add(int64(d)) }
}

// likely is when a class likely begins, as its page says.
var likely = regexp.MustCompile(`Likely begins about \d\d:\d\d–\d\d:\d\d`)

// Two classes on one track. A hook of the first moves the times of those who wait for the second, with the same journal
// line: on its page, for its entries, and in the pits. The stream of the second says so; of a class that is over nothing moves.
func TestAHookMovesTheTimesOfTheNextClass(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	wait := p.slowly()
	over, first, second := hooking(p.fair).pull("250", "260", "270"), hooking(p.fair), drawn(p.fair)
	public := visitor{fair: p.fair}
	number := second.class().Entry(second.class().Draw.Order[2]).Number
	pages := []string{second.path(""), second.path("entry/" + number), pitsPath}
	read := func() (said []string, tags []string) {
		for _, page := range pages {
			a := public.get(page)
			require.Equal(t, http.StatusOK, a.status)
			require.Contains(t, a.says(), "the call in the pits counts", page)
			says := likely.FindString(a.says())
			require.NotEmpty(t, says, a.says())
			said, tags = append(said, says), append(tags, a.header.Get("ETag"))
		}
		return said, tags
	}
	require.Contains(t, public.get(pages[0]).body, `data-stream="`+second.api("/stream")+`"`)
	stream, done := p.listen(second.api("/stream")), public.get(over.path(""))
	before, _ := read()
	for _, result := range []string{"250", "260"} {
		was := p.lines()
		wait(20 * time.Minute)
		first.pull(result)
		require.Equal(t, was+1, p.lines())
		after, tags := read()
		for i := range pages {
			require.NotEqual(t, before[i], after[i])
			same := public.send(http.MethodGet, pages[i], http.NoBody, "If-None-Match", tags[i])
			require.Equal(t, http.StatusNotModified, same.status, "until something is stored, it stays")
		}
		told := stream.moved()
		require.Equal(t, []string{p.get("/api/v1/events/" + inventedSlug + "/day").at("version"), second.ref.Class, "forecast"},
			[]string{strconv.FormatInt(told.number, 10), told.class, told.kind})
		before = after
	}
	again := public.send(http.MethodGet, over.path(""), http.NoBody, "If-None-Match", done.header.Get("ETag"))
	require.Equal(t, http.StatusNotModified, again.status)
	require.Equal(t, http.StatusNotFound, public.get("/e/"+inventedSlug+"/no-such-class").status)
}

// A phone in the pits has the page of a class that waits open: a hook of the class before it changes the times on it.
func TestAnOpenPageFollowsTheClassBefore(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	wait := p.slowly()
	first, second := hooking(p.fair), drawn(p.fair)
	b := newBrowser(t, 390, 844)
	_, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: false})
	require.NoError(t, err)
	b.do(chromedp.Navigate(p.address+second.path("")), chromedp.WaitVisible(chromedp.CSS("h1")))
	require.Eventually(t, func() bool { return b.text(".asof [data-live]") == "live" }, deadline, poll)
	before := likely.FindString(b.text("main"))
	require.NotEmpty(t, before)
	wait(20 * time.Minute)
	first.pull("250")
	require.Eventually(t, func() bool { return likely.FindString(b.text("main")) != before }, deadline, poll)
}
