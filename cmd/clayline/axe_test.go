package main

import (
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"fmt"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// axeScript is axe-core 4.14.1 as it is published, with its licences beside it (MPL-2.0); webui/package.json says where from.
//
//go:embed testdata/axe/axe.min.js
var axeScript string

// axeHash is the SHA-256 of the script that was published.
const axeHash = "29348999450cdf2849a8e70b7912fc2da85a849da39c0d0d5394f51d4a9ed95c"

// audits are one run of axe for each colour scheme, all in one visit: every rule that is on by default, the best practices
// among them, in light; in dark those that look at colours, because nothing else differs. Each answers what is
// wrong, one finding a paragraph with the elements below it, and "" for nothing.
var audits = []struct{ scheme, rules string }{
	{"light", ``},
	{"dark", `runOnly: {type: "rule", values: ["color-contrast", "link-in-text-block"]},`},
}

const audit = `axe.run(document, {%s resultTypes: ["violations"]}).then(found => found.violations.map(v =>
	v.id + ": " + v.help + "\n" + v.nodes.map(n => "  " + n.target.join(" ") + " — " + n.failureSummary.replace(/\s+/g, " ")).join("\n")).join("\n"))`

// newAuditor opens a tab of that size with scripts switched on, which axe needs.
func newAuditor(t *testing.T, width, height int64) *browser {
	t.Helper()
	b := openBrowser(t, 5*time.Minute)
	b.do(chromedp.EmulateViewport(width, height))
	return b
}

// open shows a page with that body, for what a test must find.
func (b *browser) open(body string) {
	b.t.Helper()
	page := `<!doctype html><html lang="en"><title>Made up</title><main><h1>Made up</h1>` + body + `</main></html>`
	b.do(chromedp.Navigate("data:text/html,"+url.PathEscape(page)), chromedp.WaitVisible(chromedp.CSS("h1")))
}

// unfold opens all that is folded on the page.
func (b *browser) unfold() {
	b.t.Helper()
	evaluate[bool](b, "document.querySelectorAll('details').forEach(d => d.open = true) === undefined")
}

// faults is what axe finds on the page that is open, unfolded, in both colour schemes, and "" for nothing.
func (b *browser) faults() string {
	b.t.Helper()
	b.unfold()
	b.do(chromedp.Evaluate[chromedp.Void](axeScript))
	var all strings.Builder
	for _, a := range audits {
		_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: a.scheme}},
		})
		require.NoError(b.t, err)
		found, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](fmt.Sprintf(audit, a.rules), chromedp.EvalAwaitPromise))
		require.NoError(b.t, err)
		if found != "" {
			fmt.Fprintf(&all, "%s: %s\n", a.scheme, found)
		}
	}
	return all.String()
}

// tabful is how many pages one tab looks at: several tabs share the work, and none outlives its time.
const tabful = 20

func TestAxeIsAsItWasPublished(t *testing.T) {
	t.Parallel()
	sum := sha256.Sum256([]byte(axeScript))
	require.Equal(t, axeHash, hex.EncodeToString(sum[:]))
}

// What axe is there for is found: a picture without words, a field without a name, and words that are too pale in the dark
// scheme alone.
func TestAxeFindsWhatIsWrong(t *testing.T) {
	t.Parallel()
	b := newAuditor(t, 390, 844)
	for _, row := range []struct{ what, body, says string }{
		{"a picture without words", `<img src="none.svg">`, "light: image-alt"},
		{"a field without a name", `<input>`, "light: label"},
		{"words that are pale in the dark", `<style>@media (prefers-color-scheme: dark) { p { color: #777; background: #666 } }</style><p>Words</p>`, "dark: color-contrast"},
	} {
		b.open(row.body)
		require.Regexp(t, "^"+row.says, b.faults(), row.what)
	}
}

// Every state of every page is one that axe finds no fault with, on a phone in both colour schemes.
func TestAxeFindsNothingInTheGallery(t *testing.T) {
	t.Parallel()
	address, names := galleryServer(t, "")
	for some := range slices.Chunk(names, tabful) {
		t.Run(some[0], func(t *testing.T) {
			t.Parallel()
			b := newAuditor(t, 390, 844)
			for _, name := range some {
				b.do(chromedp.Navigate(address+"/"+name), chromedp.WaitVisible(chromedp.CSS("main")))
				assert.Empty(t, b.faults(), name)
			}
		})
	}
}

// The pages of an event with all that happens there, as the desk's laptop has them.
func TestAxeFindsNothingInTheEvent(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	for some := range slices.Chunk(fairPages(t, s), tabful) {
		t.Run(some[0].name, func(t *testing.T) {
			t.Parallel()
			b := newAuditor(t, 1280, 800)
			b.enter(s.link(domain.Desk))
			for _, p := range some {
				b.do(chromedp.Navigate(s.address+p.path), chromedp.WaitVisible(chromedp.CSS("h1")))
				assert.Empty(t, b.faults(), p.name)
			}
		})
	}
}
