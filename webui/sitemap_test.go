package webui

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain/desk"
)

func TestTheListOfThePublicPages(t *testing.T) {
	t.Parallel()
	paths := publicPaths(desk.Addresses{Events: []string{"tarn-hollow"}, Classes: []desk.Ref{{Event: "tarn-hollow", Class: "field-stock"}}, Seasons: []string{"season-2026"}})
	assert.Equal(t, []string{"/", "/season", "/records", "/season/season-2026", "/e/tarn-hollow", "/e/tarn-hollow/day", "/e/tarn-hollow/pits", "/e/tarn-hollow/results", "/e/tarn-hollow/field-stock"}, paths)
	body, err := sitemapOf("https://pull.example", []string{"/", "/e/a&b"})
	require.NoError(t, err)
	assert.Equal(t, `<?xml version="1.0" encoding="UTF-8"?>
<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9"><url><loc>https://pull.example/</loc></url><url><loc>https://pull.example/e/a&amp;b</loc></url></urlset>
`, string(body))
}

// The protocol takes 50,000 addresses in one file and no more.
func TestTheListIsNoLongerThanItIsRead(t *testing.T) {
	t.Parallel()
	var all desk.Addresses
	for i := range desk.MostAddresses {
		all.Classes = append(all.Classes, desk.Ref{Event: "e", Class: fmt.Sprint(i)})
	}
	assert.Len(t, publicPaths(all), 50000)
}
