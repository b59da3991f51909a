package webui

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"testing"

	"github.com/labstack/echo/v4"
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

// A proxy beside the server says by which way a reader came, and nobody from elsewhere does; nothing but the two ways of the
// web comes into an address.
func TestTheAddressOfTheServerIsThatOfTheRequest(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ from, way, address string }{
		{"127.0.0.1:4711", "", "http://pull.example"},
		{"127.0.0.1:4711", "https", "https://pull.example"},
		{"127.0.0.1:4711", "javascript", "http://pull.example"},
		{"192.0.2.1:4711", "https", "http://pull.example"},
	} {
		r := httptest.NewRequest(http.MethodGet, "http://pull.example/robots.txt", http.NoBody)
		r.RemoteAddr = row.from
		r.Header.Set("X-Forwarded-Proto", row.way)
		assert.Equal(t, row.address, server(echo.New().NewContext(r, httptest.NewRecorder())), row)
	}
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
