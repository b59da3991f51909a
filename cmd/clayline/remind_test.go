package main

import (
	"context"
	"crypto/ecdh"
	"crypto/rand"
	"encoding/base64"
	"errors"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"

	browsers "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/serviceworker"
	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/remind"
	"clayline/webui"
)

// sentNotices is a pusher that keeps what it was to send. fails is what it answers.
type sentNotices struct {
	mu    sync.Mutex
	list  []string
	fails error
}

func (p *sentNotices) Push(_ context.Context, to remind.Phone, n remind.Notice) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.list = append(p.list, strings.Join([]string{to.Endpoint, to.Language, n.Entry.Number, string(rune('0' + n.Ahead)), n.Href}, " "))
	return p.fails
}

// got is what was sent so far.
func (p *sentNotices) got() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return append([]string{}, p.list...)
}

// reminding serves pages with reminders, by as many programs at once as there are pushers; the first one serves the pages.
func reminding(t *testing.T, d *desk.Desk, store remind.Store, pushers ...*sentNotices) (address string) {
	t.Helper()
	ctx, stop := context.WithCancel(t.Context())
	var all sync.WaitGroup
	t.Cleanup(func() { stop(); all.Wait() })
	for i, p := range pushers {
		service := remind.New(d, store, p, slog.New(slog.DiscardHandler))
		all.Go(func() { service.Run(ctx) })
		if i == 0 {
			server := httptest.NewServer(webui.New(d, clock, slog.New(slog.DiscardHandler)).Reminding(service, "key").Handler())
			t.Cleanup(server.Close)
			address = server.URL
		}
	}
	return address
}

// phoneForm is what the page of an entry sends for a phone.
func phoneForm(t *testing.T, endpoint string) url.Values {
	t.Helper()
	key, err := ecdh.P256().GenerateKey(rand.Reader)
	require.NoError(t, err)
	return url.Values{
		"endpoint": {endpoint}, "key": {base64.RawURLEncoding.EncodeToString(key.PublicKey().Bytes())},
		"secret": {base64.RawURLEncoding.EncodeToString(make([]byte, 16))},
	}
}

// post sends a form to the server and returns the status and what it said.
func post(t *testing.T, address string, values url.Values) (int, string) {
	t.Helper()
	answer, err := http.PostForm(address, values)
	require.NoError(t, err)
	defer func() { require.NoError(t, answer.Body.Close()) }()
	var body strings.Builder
	_, err = io.Copy(&body, answer.Body)
	require.NoError(t, err)
	return answer.StatusCode, body.String()
}

// A puller far back in the order asks; whoever is three hooks away is told at once, the other when it is time, each once,
// though two programs see every hook.
func TestAPhoneIsToldThreeHooksBefore(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	store := s.store.(remind.Store)
	slug := domain.Slug(inventedClass)
	path := "/e/" + inventedSlug + "/" + slug
	first, second := &sentNotices{}, &sentNotices{}
	address := reminding(t, s.desk, store, first, second)
	waiting := s.class(slug).Current().Waiting()
	near, far := s.class(slug).Entry(waiting[2]), s.class(slug).Entry(waiting[3])
	both := func() []string { return append(first.got(), second.got()...) }
	pull := func(figures string) {
		distance, err := domain.ParseDistance(figures, domain.Foot)
		require.NoError(t, err)
		_, err = s.desk.Act(s.ctx, desk.Program(), desk.Ref{Event: inventedSlug, Class: slug}, uuid.New(), domain.Record{
			Hook: s.class(slug).OnTrack().ID, Result: domain.Result{Outcome: domain.Measured, Distance: distance}, Next: uuid.New(),
		})
		require.NoError(t, err)
	}

	farPath, nearPath := path+"/entry/"+strings.ToLower(far.Number), path+"/entry/"+strings.ToLower(near.Number)
	status, said := post(t, address+farPath+"/remind", phoneForm(t, "https://push.example.org/far"))
	require.Equal(t, http.StatusNoContent, status, said)
	status, said = post(t, address+"/de"+nearPath+"/remind", phoneForm(t, "https://push.example.org/near"))
	require.Equal(t, http.StatusNoContent, status, said)
	nearTold := "https://push.example.org/near de " + near.Number + " 3 " + nearPath
	require.Eventually(t, func() bool { return len(both()) == 1 }, deadline, poll)
	require.Equal(t, []string{nearTold}, both(), "the far one has four hooks ahead")

	pull("250.01")
	require.Eventually(t, func() bool { return len(both()) == 2 }, deadline, poll)
	require.ElementsMatch(t, []string{nearTold, "https://push.example.org/far en " + far.Number + " 3 " + farPath}, both())
	pull("250.02")
	status, _ = post(t, address+farPath+"/forget", url.Values{"endpoint": {"https://push.example.org/far"}})
	require.Equal(t, http.StatusNoContent, status)
	wishes, err := store.Reminders(s.ctx, s.class(slug).ID)
	require.NoError(t, err)
	require.Len(t, wishes, 1)
	require.Equal(t, s.class(slug).Current().ID, wishes[0].Told)
	require.Len(t, both(), 2, "nobody is told twice in a round")
}

// A phone that wants no more is forgotten; one that could not be reached is told with the next hook.
func TestAPhoneThatCannotBeTold(t *testing.T) {
	t.Parallel()
	for name, row := range map[string]struct {
		fails  error
		wishes int
		sent   int
	}{
		"gone":              {remind.ErrGone, 0, 1},
		"no line to it now": {errors.New("no line"), 1, 2},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			f := newFair(t)
			s := testHook(f)
			pusher := &sentNotices{fails: row.fails}
			service := remind.New(f.desk, f.store, pusher, slog.New(slog.DiscardHandler))
			entry := s.class().Entry(s.class().Current().Waiting()[1])
			require.NoError(t, f.store.AddReminder(f.ctx, remind.Reminder{Class: s.class().ID, Entry: entry.ID, Phone: remind.Phone{Endpoint: "https://push.example.org/x"}}))
			require.NoError(t, service.Tell(f.ctx, s.ref))
			wishes, err := f.store.Reminders(f.ctx, s.class().ID)
			require.NoError(t, err)
			require.Len(t, wishes, row.wishes)
			require.NoError(t, service.Tell(f.ctx, s.ref))
			require.Len(t, pusher.got(), row.sent)
		})
	}
}

func TestReminderThatCannotBe(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := testHook(f)
	address := reminding(t, f.desk, f.store, &sentNotices{}) + s.path("")
	number := strings.ToLower(s.class().Entries[0].Number)
	good := phoneForm(t, "https://push.example.org/x")
	for name, row := range map[string]struct {
		path   string
		values url.Values
		status int
		says   string
	}{
		"no such entry": {"/entry/nobody/remind", good, http.StatusNotFound, "No entry of this class has the number nobody. Look at the class."},
		"no address":    {"/entry/" + number + "/remind", url.Values{}, http.StatusUnprocessableEntity, "The browser gave no address to remind it at. Allow notices for this page and press again."},
	} {
		status, said := post(t, address+row.path, row.values)
		require.Equal(t, row.status, status, name)
		require.Equal(t, row.says, said, name)
	}
	for i := range 20 {
		require.NoError(t, f.store.AddReminder(f.ctx, remind.Reminder{Class: s.class().ID, Entry: s.class().Entries[0].ID, Phone: remind.Phone{Endpoint: "https://push.example.org/" + string(rune('a'+i))}}))
	}
	status, said := post(t, address+"/entry/"+number+"/remind", good)
	require.Equal(t, http.StatusConflict, status)
	require.Equal(t, "As many phones as can be are reminded of this hook already. Look at the page of the pits.", said)

	status, _ = post(t, f.address+s.path("")+"/entry/"+number+"/remind", good)
	require.Equal(t, http.StatusNotFound, status, "a server that reminds nobody offers it to nobody")
	require.NotContains(t, visitor{fair: f}.get(s.path("")+"/entry/"+number).body, `id="remind"`)
}

func TestAContactThatNobodyCanTurnTo(t *testing.T) {
	t.Parallel()
	for _, contact := range []string{"", "mailto:office@example.org", "https://example.org/about"} {
		require.NoError(t, house{Reminders: contact}.contact(), contact)
	}
	for _, contact := range []string{"office@example.org", "mailto:office", "http://example.org", "https://", "://"} {
		require.ErrorContains(t, house{Reminders: contact}.contact(), "write mailto:NAME@PLACE", contact)
	}
}

// On the page of an entry, in a real browser: the button asks the person, the browser and the server, says what became of
// it, and takes it back. The browser's own push service is out of reach of a test, so that the page gets a subscription made
// up here.
func TestThePageOfAnEntryOffersAReminder(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	store := s.store.(remind.Store)
	address := reminding(t, s.desk, store, &sentNotices{})
	slug := domain.Slug(inventedClass)
	c := s.class(slug)
	last := c.Current().Lineup[len(c.Current().Lineup)-1].Entry
	path := "/e/" + inventedSlug + "/" + slug + "/entry/" + strings.ToLower(c.Entry(last).Number)
	b := newBrowser(t, 390, 844)
	b.scripts(true)
	b.do(chromedp.Navigate(address+path), chromedp.WaitVisible(chromedp.CSS("#remind button")))
	require.Equal(t, "Remind me 3 hooks before", b.text("#remind button"))

	phone := phoneForm(t, "https://push.example.org/browser")
	evaluate[bool](b, `(() => {
		Notification.requestPermission = async () => "granted";
		const made = { unsubscribe: async () => true, toJSON: () => ({ endpoint: "`+phone.Get("endpoint")+`", keys: { p256dh: "`+phone.Get("key")+`", auth: "`+phone.Get("secret")+`" } }) };
		PushManager.prototype.subscribe = async () => made;
		PushManager.prototype.getSubscription = async () => made;
		return true;
	})()`)
	b.do(chromedp.Click(chromedp.CSS("#remind button")))
	require.Eventually(t, func() bool { return b.text("#remind button") == "Remind me no more" }, deadline, poll)
	require.Contains(t, b.text("#remind"), "the call in the pits counts")
	b.picture("entry-reminder-phone")
	wishes, err := store.Reminders(s.ctx, c.ID)
	require.NoError(t, err)
	require.Len(t, wishes, 1)
	require.Equal(t, last, wishes[0].Entry)

	b.do(chromedp.Click(chromedp.CSS("#remind button")))
	require.Eventually(t, func() bool { return b.text("#remind button") == "Remind me 3 hooks before" }, deadline, poll)
	wishes, err = store.Reminders(s.ctx, c.ID)
	require.NoError(t, err)
	require.Empty(t, wishes)
}

// What was pushed is shown, with no page of the event open, and leads to the page of the entry.
func TestTheWorkerShowsWhatWasPushed(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := newBrowser(t, 390, 844)
	b.scripts(true)
	_, err := chromedp.Call(b.ctx, browsers.SetPermission, browsers.SetPermissionParams{
		Permission: &browsers.PermissionDescriptor{Name: "notifications"}, Setting: browsers.PermissionSettingGranted, Origin: s.address,
	})
	require.NoError(t, err)
	b.do(chromedp.Navigate(s.address + "/"))
	registered := make(chan string, 16)
	require.NoError(t, chromedp.Listen(b.ctx, func(event any) {
		if e, ok := event.(*serviceworker.EventWorkerRegistrationUpdated); ok {
			for _, r := range e.Registrations {
				registered <- string(r.RegistrationID)
			}
		}
	}))
	_, err = chromedp.Call(b.ctx, serviceworker.Enable, cdp.Empty{})
	require.NoError(t, err)
	_, err = chromedp.Run(b.ctx, chromedp.Evaluate[bool](`navigator.serviceWorker.register("/remind.js").then(() => navigator.serviceWorker.ready).then((r) => new Promise((done) => {
		const look = () => r.active.state === "activated" && done(true);
		r.active.addEventListener("statechange", look);
		look();
	}))`, chromedp.EvalAwaitPromise))
	require.NoError(t, err)
	worker := serviceworker.RegistrationID(<-registered)
	// Delivered again until it is there: on a machine that has much to do the browser drops one now and then. All have one tag,
	// so that one is shown.
	require.Eventually(t, func() bool {
		_, err := chromedp.Call(b.ctx, serviceworker.DeliverPushMessage, serviceworker.DeliverPushMessageParams{
			Origin: s.address, RegistrationID: worker, Data: `{"Title":"41 Brindle Ox: 3 hooks ahead","Text":"The call in the pits counts.","Href":"/e/x"}`,
		})
		require.NoError(t, err)
		shown, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](`navigator.serviceWorker.ready.then((r) => r.getNotifications()).then((l) => l.map((n) => [n.title, n.body, n.data].join("|")).join())`, chromedp.EvalAwaitPromise))
		require.NoError(t, err)
		return shown == "41 Brindle Ox: 3 hooks ahead|The call in the pits counts.|/e/x"
	}, deadline, poll)
}
