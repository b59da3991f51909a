package main

import (
	"strconv"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui"
)

// fits looks at pages in every width, as the desk of the server, and requires that none scrolls sideways.
func (s *site) fits(pages map[string]string) {
	s.t.Helper()
	for _, width := range []int64{360, 390, 768, 1280, 1920} {
		b := newBrowser(s.t, width, 844)
		_, secret, err := s.desk.IssuePass(s.ctx, desk.Program(), "", uuid.New(), domain.Desk)
		require.NoError(s.t, err)
		b.enter(s.address + webui.EnterPath(secret))
		for name, path := range pages {
			b.do(chromedp.Navigate(s.address+path), chromedp.WaitVisible(chromedp.CSS("h1")))
			wide, err := chromedp.Run(b.ctx, chromedp.Evaluate[int64]("document.documentElement.scrollWidth"))
			require.NoError(s.t, err)
			require.LessOrEqual(s.t, wide, width, "%s has no sideways scroll", name)
			b.picture(name + "-" + strconv.FormatInt(width, 10))
		}
	}
}

func TestPagesOfTheServerFitEveryScreen(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	_, _, err := s.desk.KeepSeason(s.ctx, desk.Program(), "", uuid.New(), 0, `{"name": "Valley series 2026", "points": {"places": [20, 18, 16], "step": 2, "hook": 20},
		"events": [{"name": "Tarn Hollow", "classes": [{"series": "5,500 lb Antique", "class": "`+inventedSlug+`/5500-lb-antique"}, {"series": "6,200 lb Hill Stock", "class": "`+inventedSlug+`/6200-lb-hill-stock"}]}]}`)
	require.NoError(t, err)
	s.fits(map[string]string{
		"home": "/", "seasons": "/season", "season": "/season/valley-series-2026", "records": "/records", "seasons-desk": "/desk/season", "season-desk": "/desk/season/valley-series-2026",
		"entry": "/e/" + inventedSlug + "/5500-lb-antique/entry/14", "entry-waiting": "/e/" + inventedSlug + "/8200-lb-field-stock/entry/48", "puller": "/p/Ellis%20Tarrant/Lower%20Marsh",
		"class-linked": "/e/" + inventedSlug + "/5500-lb-antique", "pits-linked": "/e/" + inventedSlug + "/pits",
	})
}
