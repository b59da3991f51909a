package main

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// Bounds of waiting for a page in a busy browser.
const (
	deadline = 30 * time.Second
	poll     = 20 * time.Millisecond
)

// press sends keys to whatever has the focus and waits for the page that follows.
func (b *browser) press(keys string) {
	b.t.Helper()
	b.do(chromedp.KeyEvent(keys))
}

// enter follows an entry link and lets the device in.
func (b *browser) enter(link string) {
	b.t.Helper()
	b.do(chromedp.Navigate(link), chromedp.Click(chromedp.CSS("main form button")), chromedp.WaitVisible(chromedp.CSS("footer .pass")))
}

// awaits waits until the booth page asks for the result of the puller who is on the track.
func (b *browser) awaits(s *site, class string) {
	b.t.Helper()
	next := s.class(class).Entry(s.class(class).OnTrack().Entry)
	want := fmt.Sprintf("%s · %s %s, %s", next.Number, next.Details.Puller, next.Details.Vehicle, next.Details.Home)
	b.do(chromedp.WaitVisible(chromedp.CSS("h1.on-track")))
	require.Eventually(b.t, func() bool { return b.text("h1") == want }, deadline, poll, "the next puller is up")
}

func TestBoothStoresADistanceFromTheKeyboardAlone(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := newBrowser(t, 1280, 800)
	b.enter(s.link(domain.Booth))
	class := domain.Slug(inventedClass)
	before := s.class(class)
	onTrack := before.OnTrack()
	require.NotNil(t, onTrack, "the demo's class is being pulled")

	b.press("287.34\r") // seven key presses: the cursor is in the field already
	require.Eventually(t, func() bool { return s.class(class).OnTrack().ID != onTrack.ID }, deadline, poll)
	_, stored := s.class(class).Find(onTrack.ID)
	require.Equal(t, "287.34 ft", stored.Result.Distance.String())
	b.awaits(s, class)

	// A comma from the key beside the figures is a point.
	second := s.class(class).OnTrack().ID
	b.press("271,05\r")
	require.Eventually(t, func() bool { return s.class(class).OnTrack().ID != second }, deadline, poll)
	_, stored = s.class(class).Find(second)
	require.Equal(t, "271.05 ft", stored.Result.Distance.String())
	b.awaits(s, class)

	// What cannot be understood stays in the field, with what to do.
	b.press("28l.36\r")
	b.do(chromedp.WaitVisible(chromedp.CSS("#result-wrong")))
	require.Contains(t, b.text("#result-wrong"), "is not a result")
	typed, err := chromedp.Run(b.ctx, chromedp.Value(chromedp.CSS("#result")))
	require.NoError(t, err)
	require.Equal(t, "28l.36", typed)

	// An unlikely value is asked about once.
	b.do(chromedp.Navigate(s.address+"/e/"+inventedSlug+"/"+class+"/booth"), chromedp.WaitVisible(chromedp.CSS("#result")))
	hook := s.class(class).OnTrack().ID
	b.press("2873.4\r")
	b.do(chromedp.WaitVisible(chromedp.CSS("#result-confirm")))
	require.Equal(t, hook, s.class(class).OnTrack().ID, "nothing is stored before the second Enter")
}

// addressed is a page of the event, by its address and a name for its picture.
type addressed struct{ name, path string }

// fairPages makes the event one where all that can happen has happened, and lists its pages. Those whose names end in "-open" are
// looked at with all that is folded.
func fairPages(t *testing.T, s *site) []addressed {
	t.Helper()
	event, class := "/e/"+inventedSlug, "/e/"+inventedSlug+"/"+domain.Slug(inventedClass)
	// Under rules that leave much to people a class has more to show.
	page, err := s.desk.EventPage(s.ctx, inventedSlug)
	require.NoError(t, err)
	f := &fair{site: s, loader: &loader{desk: s.desk, event: page.Event}}
	course, called, kept := free(f), free(f).write().freeze().call(), free(f).write().freeze().call().pull("281.36")
	rain := hooking(f)
	rain.do(domain.StopClass{Reason: "rain"})
	paid := paying(f)
	paid.do(domain.Attend{Entries: []domain.Attended{{Entry: paid.class().Entries[0].ID, Attendance: domain.Attendance{Guest: true, Came: true, Fee: 2000, Paid: true}}}})
	paid.pull("250", "260", "240", "240")
	return []addressed{
		{"home", "/"}, {"event", event}, {"pits", event + "/pits"}, {"day", event + "/day"}, {"pits-found", event + "/pits?q=7"}, {"class", class}, {"class-decided", event + "/6200-lb-hill-stock"},
		{"class-floating", event + "/5500-lb-antique"}, {"class-drawn", event + "/6200-lb-four-wheel-trucks"},
		{"class-entries", event + "/36-t-visiting-tractors"},
		{"sheet", event + "/6200-lb-four-wheel-trucks/sheet"}, {"result", event + "/6200-lb-hill-stock/result"},
		{"result-revised", event + "/5500-lb-antique/result"}, {"desk-protest", event + "/6200-lb-hill-stock/desk"}, {"desk-official", event + "/5500-lb-antique/desk"},
		{"scale", class + "/scale"}, {"booth", class + "/booth"}, {"lineup", class + "/lane"}, {"flag", class + "/flag"}, {"posters", event + "/desk/poster"}, {"announcer", class + "/booth/announcer"}, {"booth-decided", event + "/6200-lb-hill-stock/booth"}, {"cab", class + "/cab"}, {"earlier", course.path("earlier") + "?track=on&search=on"}, {"desk-filled", course.path("desk") + "?gear=3&hole=2&trip=198&left=5&middle=1&right=6"}, {"estimate", event + "/6200-lb-hill-stock/cab/estimate?round=1&gear=4&trip=176"}, {"desk", event + "/desk"},
		{"desk-class", class + "/desk"}, {"desk-drawn", event + "/6200-lb-four-wheel-trucks/desk"}, {"desk-entries", event + "/36-t-visiting-tractors/desk"},
		{"desk-course", course.path("desk")}, {"class-rules", course.path("")}, {"booth-called", called.path("booth")},
		{"class-kept", kept.path("")}, {"booth-kept", kept.path("booth")}, {"cab-kept", kept.path("cab")},
		{"class-stopped", rain.path("")}, {"desk-stopped", rain.path("desk")}, {"result-stopped", rain.path("result")},
		{"class-points", paid.path("")}, {"result-points", paid.path("result")}, {"desk-points", paid.path("desk")}, {"desk-list-open", entering(f).path("desk")}, {"purse", paid.path("desk/purse")},
		{"results", event + "/results"}, {"passes", event + "/desk/pass"}, {"plan-class", event + "/desk/class"}, {"programme", event + "/desk/programme"}, {"order", event + "/desk/order"}, {"sled-log-open", event + "/cab/sled/" + page.Event.Sleds[0].ID.String()}, {"sled-list", event + "/cab/sled/" + page.Event.Sleds[0].ID.String() + "/list"}, {"screen", event + "/screen"}, {"strip", event + "/strip/1"}, {"reference", "/api"}, {"problem", event + "/no-such-class"},
	}
}
