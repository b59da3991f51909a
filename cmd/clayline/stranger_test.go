package main

import (
	"crypto/rand"
	"log/slog"
	"net/http/httptest"
	"regexp"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/draw"
	"clayline/postgres/pgtest"
	"clayline/webui"
)

// newEmptySite is a server as it is when it was started for the first time.
func newEmptySite(t testing.TB) *site {
	t.Helper()
	s := &site{t: t, ctx: t.Context()}
	s.desk = desk.New(pgtest.Store(t), clock, rand.Reader)
	server := httptest.NewServer(webui.New(s.desk, clock, slog.New(slog.DiscardHandler)).Handler())
	t.Cleanup(server.Close)
	s.address = server.URL
	return s
}

// page is what a person reads: the text that the page shows, its words apart by single spaces.
func (b *browser) page() string {
	text, err := chromedp.Run(b.ctx, chromedp.Evaluate[string]("document.body.innerText"))
	if err != nil {
		return "" // between two pages
	}
	return strings.Join(strings.Fields(text), " ")
}

// reads waits until the page says all of it.
func (b *browser) reads(words ...string) {
	b.t.Helper()
	var said atomic.Value
	said.Store("")
	missing := func(word string) bool { return !strings.Contains(said.Load().(string), word) }
	if !assert.Eventually(b.t, func() bool {
		said.Store(b.page())
		return !slices.ContainsFunc(words, missing)
	}, deadline, poll) {
		require.Failf(b.t, "the page says something else", "%q is not in:\n%s", slices.DeleteFunc(words, func(w string) bool { return !missing(w) }), said.Load())
	}
}

// click clicks the button, link or fold with the text.
func (b *browser) click(text string) {
	b.t.Helper()
	b.do(chromedp.Click(chromedp.Search(`//*[self::button or self::a or self::summary][normalize-space(.)="` + text + `"]`)))
}

// fill puts the cursor into the field with the label and types over what is in it.
func (b *browser) fill(label, typed string) {
	b.t.Helper()
	b.do(chromedp.Click(chromedp.Search(labelled(label))),
		chromedp.KeyEvent("a", chromedp.KeyModifiers(chromedp.ModifierCtrl)), chromedp.KeyEvent(typed))
}

// types types a result and Enter: the cursor is in the field by itself as soon as the page is there.
func (b *browser) types(keys string) {
	b.t.Helper()
	require.Eventually(b.t, func() bool {
		field, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](`document.activeElement.id`))
		return err == nil && field == "result"
	}, deadline, poll, "the cursor is in the field")
	b.press(keys)
}

// choose puts the cursor into the list with the label and types the beginning of a choice.
func (b *browser) choose(label, typed string) {
	b.t.Helper()
	b.do(chromedp.Click(chromedp.Search(`//label[normalize-space(.)="`+label+`"]`)), chromedp.KeyEvent(typed))
}

// labelled finds the field that a label is for.
func labelled(label string) string {
	return `//*[@id=//label[normalize-space(.)="` + label + `"]/@for]`
}

// rows are the rows of the table that a heading names, each as its words.
func (b *browser) rows(heading string) []string {
	b.t.Helper()
	rows, err := chromedp.Run(b.ctx, chromedp.Evaluate[[]string](
		`[...document.querySelectorAll('table[aria-labelledby="`+heading+`"] tbody tr')].map(row => row.innerText.replace(/\s+/g, " ").trim())`))
	require.NoError(b.t, err)
	return rows
}

// A stranger with an empty server and one link runs a whole class, by clicks and keys alone, in a browser without
// scripts: what is to be done next is on the page, and at the end everybody reads who won.
func TestAStrangerRunsAClass(t *testing.T) {
	t.Parallel()
	s := newEmptySite(t)
	_, secret, err := s.desk.IssuePass(s.ctx, desk.Program(), "", uuid.New(), domain.Desk)
	require.NoError(t, err)
	org := newBrowser(t, 1280, 900)
	org.enter(s.address + webui.EnterPath(secret))
	order := org.plansAClass(t)
	org.setsTheSled()
	org.click("Start round 1")
	org.reads("called "+order[0]+" (hook 1, round 1)", "Next: Booth: the result of "+order[0])
	class, err := chromedp.Run(org.ctx, chromedp.Location())
	require.NoError(t, err)
	class = strings.TrimSuffix(regexp.MustCompile(`\?.*`).ReplaceAllString(class, ""), "/desk")

	scorer := org.letsTheBoothIn(t)
	scorer.pullsTheFirstRound(org, class, order)

	org.do(chromedp.Navigate(class + "/desk"))
	org.reads("Next: Desk: start the pull-off", "Pull-off in the order of the draw "+order[1])
	org.click("Start the pull-off")
	org.reads("opened the pull-off", "Next: Desk: write the setting and freeze it")
	org.fill("Gear", "2") // the card begins as the last one was
	org.click("Write the setting down")
	org.reads("setting written", "Gear 2 of 4", "Box 12 slabs, 21,600 lb", "not frozen yet")
	org.click("Freeze setting 1")
	org.reads("setting frozen")
	org.click("Start pull-off")
	org.reads("called " + order[1] + " (hook 1, the pull-off)")

	scorer.click("Look again")
	scorer.reads(order[1]+" · ", "Pull-off · puller 1 of 2", "F 312.44 full pull, with its figure")
	scorer.types("305.5\r")
	scorer.reads("305.5 ft for "+order[1], order[2]+" · ", "To beat: "+order[1])
	scorer.types("311.25\r")
	scorer.reads("311.25 ft for "+order[2], "Decided, provisional until the officials make it official")

	org.do(chromedp.Navigate(class))
	org.reads("Won by "+order[2], "provisional")
	standing := org.rows("standing")
	require.Len(t, standing, 4)
	for i, number := range []string{order[2], order[1], order[3], order[0]} {
		require.Regexp(t, "^"+string(rune('1'+i))+" "+number+" ", standing[i])
	}
	require.Contains(t, standing[0], "311.25")
	require.Contains(t, standing[2], "299.99")
	org.click("Result to print")
	org.reads("Result · ", "Won by "+order[2], "The order is computed from this text: dice 4 2 6")
	pdf, err := chromedp.Run(org.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperA4)))
	require.NoError(t, err)
	require.Equal(t, "%PDF-", string(pdf[:5]))
}

// plansAClass plans an event and a class of four, draws it, and returns the order.
func (b *browser) plansAClass(t *testing.T) []string {
	t.Helper()
	b.reads("Events of this server", "Plan an event", "Sessions")
	b.fill("Name", "Wrenfield Plough Day")
	b.fill("Place of the event", "Wrenfield")
	b.fill("Time zone", "Europe/Amsterdam")
	b.fill("Sled", "Old Anchor")
	b.click("Plan the event")
	b.reads("Plan a class", "Wrenfield Plough Day", "With its weight limit")
	b.fill("Name of the class", "8,200 lb Field Stock")
	b.choose("Rules", "300")
	b.click("Plan the class")
	b.reads("8,200 lb Field Stock 0 entered, not drawn yet · 300 ft, full pulls return for a pull-off", "Next: Desk: enter the pullers, then draw", "Nobody is entered yet.")

	numbers := []string{"41", "7", "23", "12"}
	for i, number := range numbers {
		b.click("Add an entry")
		b.fill("Number", number)
		b.fill("Puller", []string{"Maud Farrow", "Ellis Tarrant", "Jonas Weir", "Pia Holm"}[i])
		b.fill("Vehicle", []string{"Brindle Ox", "Late Hay", "Stone Boat", "Sunday Plough"}[i]+"\r")
		b.reads("entered "+number, "Entries "+string(rune('1'+i)))
	}
	b.fill("Text to draw from", "dice 4 2 6\r")
	b.reads("drawn with seed dice 4 2 6", "Hook order drawn ", "Next: Desk: write the setting and freeze it")
	order := make([]string, len(numbers))
	for i, n := range draw.Order("dice 4 2 6", numbers) {
		order[i] = numbers[n]
	}
	b.reads("Hook order drawn", "The order is computed from this text: dice 4 2 6")
	list, err := chromedp.Run(b.ctx, chromedp.Evaluate[[]string](`[...document.querySelectorAll("ol.drawn li b")].map(n => n.innerText)`))
	require.NoError(t, err)
	require.Equal(t, order, list, "anybody computes the same order")
	return order
}

// setsTheSled writes the setting of round 1 and freezes it.
func (b *browser) setsTheSled() {
	b.t.Helper()
	for label, typed := range map[string]string{"Weight in the box": "21600", "Slabs left": "6", "Slabs right": "6", "Gear": "3", "Start hole": "2", "Trip point": "198", "Measuring device": "laser"} {
		b.fill(label, typed)
	}
	b.click("Write the setting down")
	b.reads("setting written", "Sled setting Round 1 · Setting 1 · not frozen yet", "Box 12 slabs, 21,600 lb", "Gear 3 of 4")
	b.click("Freeze setting 1")
	b.reads("setting frozen", "Next: Desk or booth: call the next puller", "Calls the first puller to the track.")
}

// letsTheBoothIn makes a link on the desk and opens it on another device.
func (b *browser) letsTheBoothIn(t *testing.T) *browser {
	t.Helper()
	b.click("All classes")
	b.reads("Let a device in", "Booth: the result of ")
	b.click("Make a link")
	b.reads("New link for the booth", "It is shown this once and lets one device in.")
	scorer := newBrowser(t, 1280, 900)
	scorer.do(chromedp.Navigate(b.text(".issued .address a")))
	scorer.reads("Enter as booth for Wrenfield Plough Day", "Stores results, choices and corrections.")
	scorer.fill("Name of this device, if you like", "laptop by the tower\r")
	scorer.reads("This device: Booth · laptop by the tower")
	return scorer
}

// pullsTheFirstRound stores what happens in round 1, while another device reads the class's public page.
func (b *browser) pullsTheFirstRound(reader *browser, class string, order []string) {
	b.t.Helper()
	b.reads(order[0]+" · ", "Round 1 · puller 1 of 4", "Nobody has a distance yet", "This screen is no signal.")
	b.types("281.36\r")
	b.reads("281.36 ft for "+order[0], "decides about the test hook: 281.36 ft.", "To be said before unhooking. Saying nothing keeps the result.", "Keeps it", "Drops to last and hooks again", "Nobody is next.")
	require.NotContains(b.t, b.page(), order[1]+" · ", "nobody is called before the choice is stored")
	reader.do(chromedp.Navigate(class))
	reader.reads(order[0]+" decides about 281.36 ft: keeps it or drops to last and hooks again, before unhooking.", "Nobody is called before the choice is stored.", "Round 1 · puller 1 of 4, a choice is open")
	require.NotContains(b.t, strings.ToLower(reader.page()), "on the track")

	b.do(chromedp.Click(chromedp.Search(`//button[b="Keeps it"]`)))
	b.reads("chose: keeps it", order[1]+" · ", "puller 2 of 4", "To beat: "+order[0])
	b.click("Hooks again…")
	b.fill("What happened", "light went red")
	b.click("Hooks again")
	b.reads(order[1]+" (hook 2, round 1) hooks again: sled, light went red", order[1]+" · ", "puller 2 of 4")
	b.click("Full pull")
	b.click("Store a full pull")
	b.reads("full pull for "+order[1], order[2]+" · ", "puller 3 of 4", "One full pull · best short of the line")

	b.types("60\r")
	b.reads("decides about a second attempt: the sled stopped before the restart line: 60 ft.", "Starts again at once")
	b.do(chromedp.Click(chromedp.Search(`//button[b="Starts again at once"]`)))
	b.reads("chose: starts again at once", order[2]+" · ", "puller 3 of 4")
	b.types("f\r")
	b.reads("full pull for "+order[2], order[3]+" · ", "puller 4 of 4", "Two full pulls · best short of the line")
	b.types("299.99\r")
	b.reads("299.99 ft for "+order[3], "done, full pulls return for a pull-off", "Desk: start the pull-off.")
}
