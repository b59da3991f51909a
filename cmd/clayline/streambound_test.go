package main

import (
	"io"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"testing"

	"github.com/alecthomas/kong"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"clayline/api"
	"clayline/domain"
	"clayline/domain/desk"
)

// told reads a stream up to a number and returns its lines, the numbers of which grow.
func (p *programs) told(l *listener, last int64) (lines []toldLine) {
	p.t.Helper()
	for len(lines) == 0 || lines[len(lines)-1].number < last {
		line := l.read()
		if len(lines) > 0 {
			require.Greater(p.t, line.number, lines[len(lines)-1].number)
		}
		lines = append(lines, line)
	}
	return lines
}

// A database that was restored from a backup has a shorter journal than the phones remember. A reader with a number
// beyond its end is told so at once and goes on from the end, on every stream.
func TestAReaderBeyondTheJournalBeginsAtItsEnd(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	p.open(quick())
	s := longClass(p, 3)
	head, err := strconv.ParseInt(p.get("/api/v1/events/"+inventedSlug).at("version"), 10, 64)
	require.NoError(t, err)
	beyond := strconv.FormatInt(head+40, 10)
	readers := []*listener{
		p.listen(eventStream, "Last-Event-ID", beyond), p.listen(eventStream + "?after=" + beyond), p.listen(s.api("/stream"), "Last-Event-ID", beyond),
	}
	for _, l := range readers {
		require.Equal(t, toldLine{number: head, kind: desk.Restored}, l.read())
		require.Equal(t, strconv.FormatInt(head, 10), l.source.lastID, "it comes back with a number that is there")
	}
	s.act()
	for _, l := range readers {
		require.Equal(t, head+1, l.read().number)
	}
	for _, k := range domain.Kinds() {
		require.NotEqual(t, desk.Restored, k.Name)
	}
}

// Who was let in, and when, is the desk's business. The lines of it move a reader's number and tell nothing else.
func TestTheStreamTellsNobodyWhoWasLetIn(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	p.open(quick())
	s := longClass(p, 3)
	whole, one := p.listen(eventStream), p.listen(s.api("/stream"))
	s.act()
	first := whole.read()
	require.Equal(t, first, one.read())
	p.secret(inventedSlug, domain.Booth) // a link is made, and used: two lines
	s.act()
	for _, l := range []*listener{whole, one} {
		next := l.read()
		require.Equal(t, first.number+3, next.number, "the two lines between are not told")
		require.Equal(t, s.ref.Class, next.class)
	}
	journal := p.ask(call{method: http.MethodGet, path: "/api/v1/events/" + inventedSlug + "/journal?limit=200", as: p.secrets[domain.Desk]}).is(http.StatusOK)
	require.Contains(t, journal.body, `"kind":"enter"`, "the desk reads them")
}

// from serves the interface so that every connection seems to come from an address that the header names.
func (p *programs) from(pace api.Pace) {
	p.t.Helper()
	p.open(pace)
	inner := p.http.Config.Handler
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		r.RemoteAddr = r.Header.Get("X-Test-Address")
		inner.ServeHTTP(w, r)
	}))
	p.t.Cleanup(func() { p.server.Close(); server.Close() })
	p.address = server.URL
}

// One address holds a share of the streams and no more; who comes from elsewhere finds room, until there is none for
// anybody. A place that is left is free.
func TestOneAddressCannotTakeEveryStream(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	pace := quick()
	pace.Streams, pace.PerAddress = 5, 2
	p.from(pace)
	at := func(address string) (*listener, int) { return p.tryListen(eventStream, "X-Test-Address", address) }
	first, status := at("198.51.100.7:4001")
	require.Equal(t, http.StatusOK, status)
	_, status = at("198.51.100.7:4002")
	require.Equal(t, http.StatusOK, status)
	third, status := at("198.51.100.7:4003")
	require.Equal(t, http.StatusTooManyRequests, status)
	require.Equal(t, "10", third.response.Header.Get("Retry-After"))
	for _, address := range []string{"[2001:db8:1:2::7]:50312", "[2001:db8:1:2:3::9]:50312"} {
		_, status = at(address)
		require.Equal(t, http.StatusOK, status)
	}
	_, status = at("[2001:db8:1:2:ffff::1]:50312")
	require.Equal(t, http.StatusTooManyRequests, status, "a household of IPv6 is one address")
	_, status = at("[2001:db8:1:3::7]:50312")
	require.Equal(t, http.StatusOK, status)
	_, status = at("203.0.113.4:80")
	require.Equal(t, http.StatusServiceUnavailable, status, "all places are taken")
	first.cut()
	require.Eventually(t, func() bool { _, status := at("198.51.100.7:4004"); return status == http.StatusOK }, deadline, poll, "what is left is free")
}

// Whoever comes from this machine itself is a proxy that brings everybody: the whole bounds it, and not the share.
func TestAProxyOnThisMachineIsBoundByTheWholeAlone(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	pace := quick()
	pace.Streams, pace.PerAddress = 3, 1
	p.from(pace)
	for _, address := range []string{"127.0.0.1:1", "127.0.0.1:2", "[::1]:3"} {
		_, status := p.tryListen(eventStream, "X-Test-Address", address)
		require.Equal(t, http.StatusOK, status)
	}
	_, status := p.tryListen(eventStream, "X-Test-Address", "127.0.0.1:4")
	require.Equal(t, http.StatusServiceUnavailable, status)
}

// A page that finds no place for a stream says so by not saying "live", looks by itself every while, and follows the
// stream once there is a place.
func TestAPageWithoutAStreamLooksByItself(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	pace := quick()
	pace.Streams = 1
	p.open(pace)
	s := floating(p.fair)
	taken := p.listen(eventStream)
	b := newBrowser(t, 390, 844)
	_, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: false})
	require.NoError(t, err)
	// The page's clock runs a hundred times as fast, so that its 20 seconds are over soon.
	_, err = chromedp.Call(b.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `
		for (const timer of ["setTimeout", "setInterval"]) { const slow = window[timer]; window[timer] = (f, ms) => slow(f, ms / 100); }`})
	require.NoError(t, err)
	b.do(chromedp.Navigate(p.address+"/e/"+inventedSlug+"/"+s.ref.Class), chromedp.WaitVisible(chromedp.CSS("h1")))
	shows := func(figures string) bool {
		text, err := chromedp.Run(b.ctx, chromedp.Evaluate[string]("document.querySelector('main').innerText"))
		require.NoError(t, err)
		return strings.Contains(text, figures)
	}
	s.pull("299.91")
	require.Eventually(t, func() bool { return shows("299.91") }, deadline, poll)
	require.Equal(t, "as of", b.text(".asof [data-live]"))
	taken.cut()
	require.Eventually(t, func() bool { return b.text(".asof [data-live]") == "live" }, deadline, poll, "the stream is had once there is a place")
	s.act()
	s.pull("288.07")
	require.Eventually(t, func() bool { return shows("288.07") }, deadline, poll)
}

// The bounds are the program's arguments; those that it has without any are the usual pace.
func TestTheBoundsOfStreamsAreArguments(t *testing.T) {
	t.Parallel()
	usual := api.UsualPace()
	pace, err := house{Streams: usual.Streams, PerAddress: usual.PerAddress}.pace(1 << 20)
	require.NoError(t, err)
	require.Equal(t, usual, pace)
	require.Less(t, usual.PerAddress, usual.Streams, "a share")
	var c commands
	parser, err := kong.New(&c)
	require.NoError(t, err)
	_, err = parser.Parse([]string{"serve"})
	require.NoError(t, err)
	require.Equal(t, []int{usual.Streams, usual.PerAddress}, []int{c.Serve.Streams, c.Serve.PerAddress}, "the defaults are the usual ones")
	for _, wrong := range []house{{Streams: 0, PerAddress: 1}, {Streams: 1}, {Streams: -1, PerAddress: 3}} {
		_, err := wrong.pace(1 << 20)
		require.ErrorContains(t, err, "--streams-per-address")
	}
	for files, want := range map[int]int{20_000: 8000, 8256: 8000, 8255: 7999, 4096: 3840, 1024: 768, 512: 256, 256: 256, 10: 256} {
		pace, err := house{Streams: 8000, PerAddress: 1}.pace(files)
		require.NoError(t, err)
		require.Equal(t, want, pace.Streams, "%d open files", files)
	}
	require.Positive(t, openFiles())
}

// A program that is told to stop ends its streams as streams end. Were they cut after the draining, the reader would see
// a fault.
func TestAProgramThatStopsEndsItsStreams(t *testing.T) {
	t.Parallel()
	p := newProgram(t)
	p.start("demo")
	request, err := http.NewRequestWithContext(t.Context(), http.MethodGet, p.address+eventStream, http.NoBody)
	require.NoError(t, err)
	answer, err := http.DefaultClient.Do(request)
	require.NoError(t, err)
	defer func() { _ = answer.Body.Close() }()
	p.interrupt()
	_, err = io.ReadAll(answer.Body)
	require.NoError(t, err)
}
