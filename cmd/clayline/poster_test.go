package main

import (
	"bytes"
	"fmt"
	"image/png"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// scanned is the address that a phone finds in a part of the page that is open.
func (b *browser) scanned(css string) string {
	b.t.Helper()
	shot, err := chromedp.Run(b.ctx, chromedp.Screenshot(chromedp.CSS(css)))
	require.NoError(b.t, err)
	img, err := png.Decode(bytes.NewReader(shot))
	require.NoError(b.t, err)
	bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
	require.NoError(b.t, err)
	found, err := qrcode.NewQRCodeReader().Decode(bitmap, nil)
	require.NoError(b.t, err)
	return found.GetText()
}

// A reader that is not ours finds the address that stands below each code, by day and by night, and the address is there.
func TestThePostersLeadAPhoneToThePages(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := newBrowser(t, 1280, 800)
	b.enter(s.link(domain.Desk))
	b.do(chromedp.Navigate(s.address+"/e/"+inventedSlug+"/desk/poster"), chromedp.WaitVisible(chromedp.CSS(".poster")))
	count := evaluate[int](b, `document.querySelectorAll(".poster").length`)
	page, err := s.desk.EventPage(s.ctx, inventedSlug)
	require.NoError(t, err)
	require.Equal(t, 1+len(page.Classes), count)
	for _, scheme := range []string{"light", "dark"} {
		_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		require.NoError(t, err)
		for i := range 3 {
			poster := fmt.Sprintf("main .poster:nth-of-type(%d)", i+1)
			assert.Equal(t, b.text(poster+" .address"), b.scanned(poster+" .code"), scheme)
		}
	}
	assert.Equal(t, s.address+"/e/"+inventedSlug+"/pits", b.scanned(".poster .code"))
	require.Contains(t, b.text("main"), "lead nowhere for a phone", "this server is at a name that it alone knows")

	// Each is a sheet of its own on the paper of either side of the ocean.
	for _, paper := range []chromedp.PaperSize{chromedp.PaperA4, chromedp.PaperLetter} {
		assert.Equal(t, count, b.pagesOn(paper))
	}
	b.do(chromedp.Navigate(b.scanned(".poster:last-of-type .code")), chromedp.WaitVisible(chromedp.CSS("h1")))
	require.Equal(t, page.Classes[len(page.Classes)-1].Name, b.text("h1"))
}
