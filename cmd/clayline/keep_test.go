package main

import (
	"crypto/rand"
	"fmt"
	"io"
	"net"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui"
)

// wire is a network between a browser and a server that can be cut and mended. Its own address stays, whatever becomes of
// the server.
type wire struct {
	address  string
	listener net.Listener
	mutex    sync.Mutex
	target   string // where it leads; "" while it is cut
	open     map[net.Conn]bool
}

// newWire makes a wire to a server.
func newWire(t testing.TB, address string) *wire {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	w := &wire{address: "http://" + listener.Addr().String(), listener: listener, open: map[net.Conn]bool{}}
	w.mend(address)
	go func() {
		for {
			conn, err := listener.Accept()
			if err != nil {
				return
			}
			go w.carry(conn)
		}
	}()
	t.Cleanup(func() { _ = listener.Close(); w.cut() })
	return w
}

// carry joins a connection to the server, or ends it while the wire is cut.
func (w *wire) carry(conn net.Conn) {
	defer func() { _ = conn.Close() }()
	w.mutex.Lock()
	target := w.target
	w.mutex.Unlock()
	if target == "" {
		return
	}
	server, err := net.Dial("tcp", target)
	if err != nil {
		return
	}
	defer func() { _ = server.Close() }()
	w.mutex.Lock()
	if w.target == "" {
		w.mutex.Unlock()
		return
	}
	w.open[conn], w.open[server] = true, true
	w.mutex.Unlock()
	go func() { _, _ = io.Copy(server, conn); _ = server.Close() }()
	_, _ = io.Copy(conn, server)
	w.mutex.Lock()
	delete(w.open, conn)
	delete(w.open, server)
	w.mutex.Unlock()
}

// cut ends all that goes over the wire, and lets nothing over it.
func (w *wire) cut() {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	w.target = ""
	for conn := range w.open {
		_ = conn.Close()
	}
	w.open = map[net.Conn]bool{}
}

// mend leads the wire to a server.
func (w *wire) mend(address string) {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	w.target = strings.TrimPrefix(address, "http://")
}

// keptBooth is a browser with the booth of a class open over a wire.
type keptBooth struct {
	*browser
	wire  *wire
	page  string
	class string
}

// openBooth enters over the wire, opens the booth of a class, and waits until the page can go on alone.
func openBooth(s *site, w *wire, class string, more ...chromedp.ExecAllocatorOption) *keptBooth {
	s.t.Helper()
	b := &keptBooth{browser: openBrowser(s.t, 4*time.Minute, more...), wire: w, class: class, page: w.address + "/e/" + inventedSlug + "/" + class + "/booth"}
	_, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool]("true"))
	require.NoError(s.t, err)
	b.enter(strings.Replace(s.link(domain.Booth), s.address, w.address, 1))
	b.look()
	b.stands()
	return b
}

// look opens the booth's page.
func (b *keptBooth) look() {
	b.t.Helper()
	b.do(chromedp.Navigate(b.page), chromedp.WaitVisible(chromedp.CSS("h1")))
}

// stands waits until the browser has the page and its files.
func (b *keptBooth) stands() {
	b.t.Helper()
	require.Eventually(b.t, func() bool {
		return evaluate[bool](b.browser, `(caches.open("clayline pages").then((c) => c.match(location.pathname)).then((p) => (window.stands = p !== undefined)), document.readyState === "complete" && window.stands === true)`)
	}, deadline, poll, "the browser has kept the page")
}

// says is what the page says about what is kept.
func (b *keptBooth) says() string {
	b.t.Helper()
	return evaluate[string](b.browser, `document.getElementById("kept")?.innerText ?? ""`)
}

// tells waits until the page says the words about what is kept.
func (b *keptBooth) tells(words string) {
	b.t.Helper()
	if !assert.Eventually(b.t, func() bool { return strings.Contains(b.says(), words) }, deadline, poll, "the page tells: %s", words) {
		b.t.Fatal(evaluate[string](b.browser, "location.href + document.body.innerText"))
	}
}

// asksFor waits until the page asks for the result of the puller with the number.
func (b *keptBooth) asksFor(number string) {
	b.t.Helper()
	asks := assert.Eventually(b.t, func() bool {
		return strings.HasPrefix(evaluate[string](b.browser, `document.querySelector("h1.on-track b")?.textContent ?? ""`), number+" · ")
	}, deadline, poll, "the page asks for %s", number)
	if !asks {
		b.t.Fatal(evaluate[string](b.browser, "location.href + document.body.innerText"))
	}
}

// previews types into the field and waits until the page says the words of what Enter will do.
func (b *keptBooth) previews(typed, words string) {
	b.t.Helper()
	b.press(typed)
	require.Eventually(b.t, func() bool { return strings.Contains(b.text("#preview"), words) }, deadline, poll, "the page says before: %s", words)
}

// clear takes out what stands in the field.
func (b *keptBooth) clear() {
	b.t.Helper()
	require.True(b.t, evaluate[bool](b.browser, `(document.getElementById("result").value = "", true)`))
}

// order lists the numbers of who is on the track and who waits.
func order(c *domain.Class) []string {
	list := []string{c.Entry(c.OnTrack().Entry).Number}
	for _, e := range c.Current().Waiting() {
		list = append(list, c.Entry(e).Number)
	}
	return list
}

// The network goes in the middle of a class, and the booth goes on: it asks for the right puller, and keeps what is typed,
// over a reload too. When the network is back everything is stored, in order, each once.
func TestTheBoothGoesOnWithoutItsNetwork(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	w := newWire(t, s.address)
	class := domain.Slug(inventedClass)
	b := openBooth(s, w, class)
	to := order(s.class(class))
	require.Greater(t, len(to), 4)
	hooks := len(s.class(class).Current().Hooks)

	b.press("287.34\r")
	b.asksFor(to[1])
	require.Eventually(t, func() bool { return len(s.class(class).Current().Hooks) == hooks+1 && b.says() == "" }, deadline, poll, "stored on the server")
	b.look() // the page may be on its way to what was stored, and a key pressed in the old one would be lost with it
	b.stands()
	w.cut()
	b.press("271.05\r")
	b.asksFor(to[2])
	b.tells("1 form is kept here")
	b.press("28l.36\r")
	b.do(chromedp.WaitVisible(chromedp.CSS("#result-wrong")))
	b.tells("1 form is kept here") // what cannot be understood is said at once, and not kept
	b.look()
	b.asksFor(to[2])
	b.tells("1 form is kept here")
	b.press("264.2\r")
	b.asksFor(to[3])
	require.Contains(t, b.text("main"), "264.2")
	b.picture("booth-cut-laptop")
	require.Len(t, s.class(class).Current().Hooks, hooks+1, "the server has none of it")

	w.mend(s.address)
	require.Eventually(t, func() bool { return len(s.class(class).Current().Hooks) == hooks+3 }, deadline, poll, "sent by themselves")
	require.Eventually(t, func() bool { return b.says() == "" }, deadline, poll)
	b.asksFor(to[3])
	var stored []string
	for _, h := range s.class(class).Current().Hooks[hooks-1 : hooks+2] {
		stored = append(stored, s.class(class).Entry(h.Entry).Number+" "+h.Result.Distance.String())
	}
	require.Equal(t, []string{to[0] + " 287.34 ft", to[1] + " 271.05 ft", to[2] + " 264.2 ft"}, stored)
}

// hookOf is the last hook of the puller with the number in the current round.
func hookOf(c *domain.Class, number string) *domain.Hook {
	var last *domain.Hook
	for i := range c.Current().Hooks {
		if h := &c.Current().Hooks[i]; c.Entry(h.Entry).Number == number {
			last = h
		}
	}
	return last
}

// The browser ends at once while the booth is cut off, and is started again with nothing but its own folder, still cut off.
// It goes on where it was, and what it had kept is stored once, be it with a new pass.
func TestWhatIsKeptOutlivesTheBrowser(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	w := newWire(t, s.address)
	class := domain.Slug(inventedClass)
	folder := chromedp.UserDataDir(t.TempDir())
	b := openBooth(s, w, class, folder)
	to := order(s.class(class))
	hooks := len(s.class(class).Current().Hooks)
	w.cut()
	b.press("287.34\r")
	b.asksFor(to[1])
	b.press("271.05\r")
	b.asksFor(to[2])
	b.tells("2 forms are kept here")
	b.kill()

	again := &keptBooth{browser: openBrowser(t, 4*time.Minute, folder), wire: w, class: class, page: b.page}
	again.look()
	again.asksFor(to[2])
	again.tells("2 forms are kept here")
	w.mend(s.address)
	// A browser writes its cookies down after half a minute. One that ended before lets the device in by a new link.
	again.enter(strings.Replace(s.link(domain.Booth), s.address, w.address, 1))
	again.look()
	require.Eventually(t, func() bool { return len(s.class(class).Current().Hooks) == hooks+2 }, deadline, poll, "sent by themselves")
	require.Eventually(t, func() bool { return again.says() == "" }, deadline, poll)
	require.Equal(t, "287.34 ft", hookOf(s.class(class), to[0]).Result.Distance.String())
	require.Equal(t, "271.05 ft", hookOf(s.class(class), to[1]).Result.Distance.String())
	require.Equal(t, to[2], order(s.class(class))[0])
}

// While the booth was cut off the desk stored another distance for the same hook. Both are shown, nothing is stored over the
// other, and what stands behind waits. A person corrects the server's, then stores the next for the hook that the server has.
func TestTwoVersionsAreAPersonsToDecide(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	w := newWire(t, s.address)
	class := domain.Slug(inventedClass)
	b := openBooth(s, w, class)
	to := order(s.class(class))
	w.cut()
	b.press("287.34\r")
	b.asksFor(to[1])
	b.press("271.05\r")
	b.asksFor(to[2])
	b.tells("2 forms are kept here")
	other, err := domain.ParseDistance("285.34", domain.Foot)
	require.NoError(t, err)
	_, err = s.desk.Act(s.ctx, desk.Program(), desk.Ref{Event: inventedSlug, Class: class}, uuid.New(), domain.Record{
		Hook: s.class(class).OnTrack().ID, Result: domain.Result{Outcome: domain.Measured, Distance: other}, Next: uuid.New(),
	})
	require.NoError(t, err)
	w.mend(s.address)

	b.tells("Not taken by the server: " + to[0])
	b.tells("A result for that hook is stored already.")
	b.tells("285.34 ft")
	b.tells("Behind it 1 form is kept here")
	b.picture("booth-conflict-laptop")
	require.Equal(t, "285.34 ft", hookOf(s.class(class), to[0]).Result.Distance.String(), "the server's stands until somebody decides")
	b.pressKept("Correct the server")
	b.tells("A correction needs its reason")
	require.True(t, evaluate[bool](b.browser, `((field) => (field.value = "misread tape", field.dispatchEvent(new Event("input")), field.blur(), true))(document.querySelector("#kept [id$=-reason]"))`))
	b.pressKept("Correct the server")
	require.Eventually(t, func() bool { return hookOf(s.class(class), to[0]).Corrected == "misread tape" }, deadline, poll)
	require.Equal(t, "287.34 ft", hookOf(s.class(class), to[0]).Result.Distance.String())

	b.tells("Not taken by the server: " + to[1])
	b.pressKept("Store “271.05” for the hook on the track")
	require.Eventually(t, func() bool { return order(s.class(class))[0] == to[2] }, deadline, poll)
	require.Equal(t, "271.05 ft", hookOf(s.class(class), to[1]).Result.Distance.String())
	require.Eventually(t, func() bool { return b.says() == "" }, deadline, poll)
	b.asksFor(to[2])
}

// A whole class is stored from the booth while the server is killed in the middle of it, stays away for some hooks, and is
// started again. Every distance is in the database, once and for its puller, and the replay of the journal is what is stored.
func TestAWholeClassOverAKilledServer(t *testing.T) {
	t.Parallel()
	p := newProgram(t)
	p.start("serve")
	twenty := newCrashBooth(p)
	store := p.store()
	_, secret, err := desk.New(store, clock, rand.Reader).IssuePass(t.Context(), desk.Program(), inventedSlug, uuid.New(), domain.Booth)
	require.NoError(t, err)
	store.Close()
	w := newWire(t, p.address)
	b := &keptBooth{browser: openBrowser(t, 4*time.Minute), wire: w, class: twenty.ref.Class, page: w.address + "/e/" + inventedSlug + "/" + twenty.ref.Class + "/booth"}
	b.enter(w.address + webui.EnterPath(secret))
	b.look()

	class := twenty.class()
	to := order(&class)
	typed := map[string]string{}
	for i, number := range to {
		b.asksFor(number)
		if i < 8 {
			b.stands()
		}
		switch i {
		case 7:
			require.NoError(t, p.command.Process.Kill())
			<-p.ended
		case 13:
			b.tells("6 forms are kept here")
			p.start("serve")
			w.mend(p.address)
		}
		typed[number] = fmt.Sprintf("%d.%02d", 250+i, i)
		b.press(typed[number] + "\r")
	}
	require.Eventually(t, func() bool { return b.says() == "" }, 2*deadline, poll, "all of it is sent")
	// The page says nothing of a form either that is on its way for the first time, as the last may be.
	require.Eventually(t, func() bool {
		class = twenty.class()
		return len(class.Current().Waiting()) == 0 && class.OnTrack() == nil
	}, deadline, poll, "the last is stored")
	for _, h := range class.Current().Hooks {
		if distance := typed[class.Entry(h.Entry).Number]; distance != "" && h.Result.Outcome == domain.Measured {
			twenty.acked[h.ID] = distance
		}
	}
	twenty.verify()
}

// While somebody types, the page says what Enter will store and which place it gives, or what will be refused; with the
// server and without it in the same words.
func TestTheBoothSaysWhatEnterWillStore(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	w := newWire(t, s.address)
	class := domain.Slug(inventedClass)
	b := openBooth(s, w, class)
	to := order(s.class(class))
	b.previews("28l", "is not a result.")
	b.clear()
	b.previews("299.91", "Enter stores 299.91 ft for "+to[0]+" ")
	told := b.text("#preview")
	b.picture("booth-preview-laptop")
	b.press("\r")
	b.asksFor(to[1])
	for _, p := range s.class(class).Standing() {
		if s.class(class).Entries[p.Row].Number == to[0] {
			require.Regexp(t, fmt.Sprintf(`, place %d=? now\.`, p.Place), told, "the place that it then has")
		}
	}
	require.Empty(t, strings.TrimSpace(b.text("#preview")))
	b.stands()
	w.cut()
	b.press("298\r")
	b.asksFor(to[2])
	b.previews("297.5", "Enter stores 297.5 ft for "+to[2]+" ")
	b.press("\r")
	b.asksFor(to[3])
	w.mend(s.address)
	require.Eventually(t, func() bool { return b.says() == "" }, deadline, poll)
	require.Equal(t, "297.5 ft", hookOf(s.class(class), to[2]).Result.Distance.String())
}
