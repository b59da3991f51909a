package main

import (
	"bytes"
	"fmt"
	"regexp"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// A4 between the margins that the stylesheet asks for, in the pixels of a page.
const (
	paperWidth  = 688
	paperHeight = 1017
)

// onPaper shows pages as they are printed, on a window as wide as the paper.
func (b *browser) onPaper() *browser {
	b.t.Helper()
	b.do(chromedp.EmulateViewport(paperWidth, paperHeight))
	_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
	require.NoError(b.t, err)
	return b
}

// pages prints the page and returns how many sheets of A4 it takes.
func (b *browser) pages() int { return b.pagesOn(chromedp.PaperA4) }

// pagesOn prints the page on paper of a size and returns how many sheets it takes.
func (b *browser) pagesOn(paper chromedp.PaperSize) int {
	b.t.Helper()
	pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper)))
	require.NoError(b.t, err)
	require.True(b.t, bytes.HasPrefix(pdf, []byte("%PDF-")))
	return len(regexp.MustCompile(`/Type\s*/Page\b`).FindAll(pdf, -1))
}

// evaluate asks the page.
func evaluate[T any](b *browser, expression string) T {
	b.t.Helper()
	value, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression))
	require.NoError(b.t, err)
	return value
}

// full is a class of forty, some with very long names.
func full(f *fair) *scene {
	s := f.plan("capped-300ft")
	for i := range 36 {
		s.do(domain.AddEntry{Entry: uuid.New(), Number: fmt.Sprint(100 + i), Details: domain.Details{
			Puller: []string{"Pia Holm", "Wilhelmina van den Featherstone"}[i%2], Vehicle: []string{"Sunday Plough", "Second Mortgage on the Barn"}[i/2%2], Home: "Sallow Creek",
		}})
	}
	return s
}

// Sheets and results can be printed: nothing is cut off, everybody is on them, and there is room to write.
func TestPaperHoldsEverything(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	b := newBrowser(t, paperWidth, paperHeight).onPaper()
	forty := full(f)
	undrawn := forty.path("sheet")
	for _, paper := range []struct {
		what  string
		scene *scene
		page  string
		least int // pages
		most  int
	}{
		{"the sheet of a class of four", frozen(f), "sheet", 1, 1},
		{"the sheet of a pull-off", pullOff(f), "sheet", 1, 1},
		{"the result of a class of four", decided(f), "result", 1, 1},
		{"the result of a class that is being pulled", hooking(f), "result", 1, 1},
		{"the sheet of a class of forty", forty, "sheet", 2, 3},
		{"the result of a class of forty", begunFull(f), "result", 2, 5},
	} {
		t.Run(paper.what, func(t *testing.T) {
			b.do(chromedp.Navigate(f.address + paper.scene.path(paper.page)))
			b.reads(paper.scene.class().Name)
			n := b.pages()
			assert.GreaterOrEqual(t, n, paper.least)
			assert.LessOrEqual(t, n, paper.most)
			assert.LessOrEqual(t, evaluate[int](b, "document.documentElement.scrollWidth"), paperWidth, "nothing is cut off at the side")
			text := b.page()
			in := paper.scene.class().Rounds
			for _, e := range paper.scene.class().Entries {
				if len(in) > 1 && paper.page == "sheet" {
					continue // only those in the pull-off
				}
				assert.Contains(t, text, e.Number+" "+e.Details.Puller)
			}
			b.isPaper(t)
		})
	}
	b.do(chromedp.Navigate(f.address + undrawn))
	b.reads("Not drawn yet: in the order of entry")
}

// The print of an event has every class with all its rounds, reasons and settings, says which is official, and fits A4 and
// letter; a class that fits on a sheet is not torn.
func TestTheResultsOfAnEventOnPaper(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	empty := visitor{fair: f}.get("/e/" + otherSlug + "/results")
	require.Contains(t, empty.says(), "No class is planned yet.")
	pulled, signed, running, forty := pullOff(f).pull("FP 312.44", "FP 309.1"), official(f), choiceOpen(f), begunFull(f)
	b := newBrowser(t, paperWidth, paperHeight).onPaper()
	b.do(chromedp.Navigate(f.address + "/e/" + inventedSlug + "/results"))
	b.reads(
		inventedEvent, "1 of 4 classes official", "As of ",
		pulled.class().Name, "Provisional", "Round 1", "Pull-off", "312.44", "Round 1, setting 1 Box 12 slabs", "Pull-off, setting 1",
		signed.class().Name, "Official", "signed Ada Flagg",
		running.class().Name, "41 decides about 281.36 ft", forty.class().Name, "with seed dice 4 2 6",
	)
	text := b.page()
	for _, e := range forty.class().Entries {
		assert.Contains(t, text, e.Number+" "+e.Details.Puller)
	}
	b.isPaper(t)
	for _, paper := range []chromedp.PaperSize{chromedp.PaperA4, chromedp.PaperLetter} {
		n := b.pagesOn(paper)
		assert.GreaterOrEqual(t, n, 4)
		assert.LessOrEqual(t, n, 8)
	}
	for _, inside := range evaluate[[]string](b, `[...document.querySelectorAll(".class-result")].map(r => getComputedStyle(r).breakInside)`) {
		assert.Equal(t, "avoid", inside)
	}
}

// begunFull is a class of forty of which the first two have hooked.
func begunFull(f *fair) *scene { return full(f).draw().write().freeze().call().pull("FP", "281.36") }

// isPaper checks what holds for every printed page.
func (b *browser) isPaper(t *testing.T) {
	t.Helper()
	assert.Zero(t, evaluate[int](b, `[...document.querySelectorAll("form, button, .links, footer, .skip")].filter(n => n.getClientRects().length > 0).length`),
		"there is nothing to press on paper")
	assert.Equal(t, []string{}, evaluate[[]string](b, `[...document.querySelectorAll("th, td")].filter(c => { const r = c.getBoundingClientRect(); return r.right > innerWidth + 1 || r.left < -1 || r.width < 1 }).map(c => c.innerText)`),
		"every column is on the paper")
	assert.Equal(t, []string{}, evaluate[[]string](b, `[...document.querySelectorAll("main *:not(.vh)")].filter(n => n.clientWidth > 0 && n.scrollWidth > n.clientWidth + 1 && getComputedStyle(n).overflowX != "visible").map(n => n.tagName + ": " + n.innerText)`),
		"nothing is hidden at the side of a box")
	heads := evaluate[[]string](b, `[...document.querySelectorAll("table.rows thead, table.sheet thead")].map(h => getComputedStyle(h).display)`)
	assert.NotEmpty(t, heads)
	for _, display := range heads {
		assert.Equal(t, "table-header-group", display, "the head of a table is repeated on every page")
	}
	for _, inside := range evaluate[[]string](b, `[...document.querySelectorAll("tbody tr")].map(r => getComputedStyle(r).breakInside)`) {
		assert.Equal(t, "avoid", inside, "no line is torn between two pages")
	}
	assert.Equal(t, []string{}, evaluate[[]string](b, `[...document.querySelectorAll("thead th")].filter(h => h.innerText.trim() == "").map(h => h.outerHTML)`),
		"every column says what it is")
}

// A sheet has room to write a distance, a second attempt and a note beside everybody, and a few lines for late entries.
func TestASheetHasRoomToWrite(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := full(f).draw()
	b := newBrowser(t, paperWidth, paperHeight).onPaper()
	b.do(chromedp.Navigate(f.address + s.path("sheet")))
	b.reads("Hook No. Puller, vehicle Distance ft Second attempt Flags, notes", "Sled operator", "Scorer", "Flagman", "seed dice 4 2 6")
	const millimetre = 96 / 25.4
	assert.Equal(t, 40+spare, evaluate[int](b, `document.querySelectorAll(".sheet tbody tr").length`))
	assert.GreaterOrEqual(t, evaluate[float64](b, `Math.min(...[...document.querySelectorAll(".sheet tbody tr")].map(r => r.getBoundingClientRect().height))`), 7.5*millimetre)
	for i, width := range evaluate[[]float64](b, `[...document.querySelectorAll(".sheet thead .room")].map(h => h.getBoundingClientRect().width)`) {
		assert.GreaterOrEqual(t, width, 15*millimetre, "column %d", i)
	}
	assert.Len(t, evaluate[[]string](b, `[...document.querySelectorAll(".write-in dt")].map(n => n.innerText)`), 7, "the setting, and who signs")
}

// spare are the empty lines of a sheet.
const spare = 4
