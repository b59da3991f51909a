package main

import (
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// listen notes each element that gets the focus, and whether a frame around it or a thicker line under it shows that. It answers how many places the Tab
// key has to go to. Of the radio buttons of one question Tab goes to one, and the arrows to the others.
const listen = `(() => {
	window.reached = new Set();
	window.unseen = new Set();
	window.stops = Array.from(document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex='0']"))
		.filter((e) => !e.disabled && e.checkVisibility({visibilityProperty: true}));
	window.told = (e) => e.tagName.toLowerCase() + " " + (e.id || e.name || e.textContent.trim() || e.value);
	document.activeElement.blur();
	const edge = (e) => parseFloat(getComputedStyle(e.parentElement).borderBottomWidth);
	const before = new Map(stops.map((e) => [e, edge(e)]));
	document.addEventListener("focusin", (event) => {
		const e = event.target, style = getComputedStyle(e), place = e.getBoundingClientRect();
		reached.add(e);
		if (e.type === "radio") {
			stops.filter((other) => other.type === "radio" && other.name === e.name && other.form === e.form).forEach((other) => reached.add(other));
		}
		const framed = style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
		if (!framed && edge(e) < before.get(e) + 3 || place.width < 8 || place.height < 8) {
			unseen.add(told(e));
		}
	});
	return stops.length;
})()`

// lost lists where Tab did not go, and where nobody sees that it went.
const lost = `[...stops.filter((e) => !reached.has(e)).map((e) => "not reached: " + told(e)), ...Array.from(unseen, (e) => "not seen: " + e)].join("\n")`

// tab goes through the open page with the Tab key, all of it unfolded, and returns what it missed, "" for nothing.
func (b *browser) tab() string {
	b.t.Helper()
	b.unfold()
	stops := evaluate[int](b, listen)
	b.press(strings.Repeat("\t", stops+2))
	return evaluate[string](b, lost)
}

// A page that hides the focus, or keeps a control from the keyboard, is noticed.
func TestTheKeyboardIsMissedWhereItIsKeptOut(t *testing.T) {
	t.Parallel()
	b := newAuditor(t, 390, 844)
	for body, says := range map[string]string{
		`<a href="/" style="outline: none">Away</a>`:                  "not seen: a Away",
		`<button tabindex="-1">Store</button><a href="/">Away</a>`:    "not reached: button Store",
		`<a href="/" style="outline: 3px solid">Away</a><input id=a>`: "",
	} {
		b.open(`<style>:focus-visible { outline: 2px solid }</style>` + body)
		require.Equal(t, says, b.tab())
	}
}

// Whoever has no mouse gets everywhere with the Tab key, on every page, and sees where they are (WCAG 2.2, 2.1.1 Keyboard, 2.1.2 No
// Keyboard Trap and 2.4.7 Focus Visible).
func TestEverythingIsReachedFromTheKeyboard(t *testing.T) {
	t.Parallel()
	address, names := galleryServer(t, "")
	for some := range slices.Chunk(names, 2*tabful) {
		t.Run(some[0], func(t *testing.T) {
			t.Parallel()
			b := newAuditor(t, 1280, 800)
			for _, name := range some {
				b.do(chromedp.Navigate(address+"/"+name), chromedp.WaitVisible(chromedp.CSS("main")))
				assert.Empty(t, b.tab(), name)
			}
		})
	}
}
