package main

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"

	"clayline/domain"
)

// widths are the windows that every page must fit, the smallest phone first. Pictures are kept of those with a name.
var widths = []struct {
	name          string
	width, height int64
}{{"", 360, 780}, {"phone", 390, 844}, {"", 640, 400}, {"", 768, 1024}, {"laptop", 1280, 800}, {"", 1920, 1080}}

// fits looks at the open page in every window from the least width on, with all that is folded open: nothing reaches over its side. A page that can be moved sideways
// hides what stands there from whoever does not think of trying.
func (b *browser) fits(name string, least int64) {
	b.t.Helper()
	b.unfold()
	for _, w := range widths {
		if w.width < least {
			continue
		}
		b.do(chromedp.EmulateViewport(w.width, w.height))
		assert.LessOrEqual(b.t, evaluate[int64](b, "document.documentElement.scrollWidth"), w.width, "%s is no wider than its window of %d", name, w.width)
	}
}

// shots keeps the pictures of the open page, all folded unless its name says that it is to be open.
func (b *browser) shots(name string) {
	b.t.Helper()
	if strings.HasSuffix(name, "-open") {
		b.unfold()
	}
	for _, w := range widths {
		if w.name != "" {
			b.do(chromedp.EmulateViewport(w.width, w.height))
			b.picture(name + "-" + w.name)
		}
	}
}

// The pages of an event with all that happens there fit every window, without scripts.
func TestPagesFitTheirWindow(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	for some := range slices.Chunk(fairPages(t, s), tabful) {
		t.Run(some[0].name, func(t *testing.T) {
			t.Parallel()
			b := openBrowser(t, 5*time.Minute)
			b.scripts(false)
			b.enter(s.link(domain.Desk))
			for _, p := range some {
				b.do(chromedp.Navigate(s.address+p.path), chromedp.WaitVisible(chromedp.CSS("h1")))
				b.shots(p.name)
				b.fits(p.name, 0)
			}
		})
	}
}

// Every state of every page fits, also for people who have their letters twice as large (WCAG 2.2, 1.4.4 Resize Text). To them
// a window of 640 is one of 320, the least that WCAG asks of a page (1.4.10 Reflow); on a phone a table may then be wider.
func TestPagesFitWithTheLettersOfTheirReader(t *testing.T) {
	t.Parallel()
	address, names := galleryServer(t, "")
	for _, row := range []struct {
		letters string // in pixels
		least   int64
	}{{"16", 0}, {"32", 640}} {
		for some := range slices.Chunk(names, 2*tabful) {
			t.Run(row.letters+" "+some[0], func(t *testing.T) {
				t.Parallel()
				b := openBrowser(t, 5*time.Minute, chromedp.Flag("blink-settings", "defaultFontSize="+row.letters))
				b.scripts(false)
				for _, name := range some {
					b.do(chromedp.Navigate(address+"/"+name), chromedp.WaitVisible(chromedp.CSS("main")))
					b.fits(name, row.least)
				}
			})
		}
	}
}
