//go:build !js

package webui

import (
	"bytes"
	"context"
	"encoding/xml"
	"net/http"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain/desk"
)

// gathered is how long a search engine may keep the list of the public pages, and what it is asked not to read.
const gathered = "public, max-age=3600"

// sitemap lists the public pages for search engines, https://www.sitemaps.org/protocol.html . What a server has that can be
// listed is read once for all who ask until its journals grow; an entry is one click from its class and a puller asks not to
// be found, so that neither is listed.
func (s *Site) sitemap(c echo.Context) error {
	page, err := s.desk.Live().ServerPage(c.Request().Context(), "paths of the sitemap", func(ctx context.Context) (desk.Rendered, error) {
		all, err := s.desk.Addresses(ctx)
		return desk.Rendered{Type: "text/plain; charset=utf-8", Body: []byte(strings.Join(publicPaths(all), "\n"))}, err
	})
	if err != nil {
		return err
	}
	paths, err := page.Answer("", "")
	if err != nil {
		return err
	}
	body, err := sitemapOf(server(c), strings.Split(string(paths.Body), "\n"))
	if err != nil {
		return err
	}
	c.Response().Header().Set("Cache-Control", gathered)
	return c.Blob(http.StatusOK, "application/xml; charset=utf-8", body)
}

// server is the address by which a request found this server: "https://pull.example". Whatever else a proxy names as the
// way is HTTP, so that no other kind of address comes into a page.
func server(c echo.Context) string {
	if c.Scheme() == "https" {
		return "https://" + c.Request().Host
	}
	return "http://" + c.Request().Host
}

// publicPaths are the paths of the pages that are listed, those of the whole server first, then the newest events.
func publicPaths(all desk.Addresses) []string {
	paths := []string{"/", "/season", "/records"}
	for _, slug := range all.Seasons {
		paths = append(paths, seasonHref(slug))
	}
	for _, slug := range all.Events {
		for _, more := range []string{"", "/day", "/pits", "/results"} {
			paths = append(paths, "/e/"+slug+more)
		}
	}
	for _, ref := range all.Classes {
		paths = append(paths, "/e/"+ref.Event+"/"+ref.Class)
	}
	return paths[:min(len(paths), desk.MostAddresses)]
}

// listed is one address of a sitemap.
type listed struct {
	Loc string `xml:"loc"`
}

// sitemapOf writes the paths as addresses of a server.
func sitemapOf(server string, paths []string) ([]byte, error) {
	list := struct {
		XMLName xml.Name `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 urlset"`
		URL     []listed `xml:"url"`
	}{}
	for _, path := range paths {
		list.URL = append(list.URL, listed{server + path})
	}
	body, err := xml.Marshal(list)
	return slices.Concat([]byte(xml.Header), body, []byte("\n")), err
}

// closed are the paths that are not for search engines, as RFC 9309 reads them: what needs a pass, and what programs read.
// A page and what is below it are two rules, so that a class that is called Scale Models stays open. The pages of pullers
// are read, and say themselves that they are not to be listed.
func closed() []string {
	paths := []string{"/desk$", "/desk/", "/enter/", "/leave$", "/api/", "/e/*?q="}
	for _, page := range []string{"booth", "cab", "desk", "flag", "lane", "scale", "screen", "strip"} {
		paths = append(paths, "/e/*/"+page+"$", "/e/*/"+page+"/")
	}
	return paths
}

// robots tells search engines what to leave alone, and where the list of the pages is.
func (s *Site) robots(c echo.Context) error {
	var body bytes.Buffer
	body.WriteString("User-agent: *\n")
	for _, path := range closed() {
		body.WriteString("Disallow: " + path + "\n")
	}
	body.WriteString("\nSitemap: " + server(c) + "/sitemap.xml\n")
	c.Response().Header().Set("Cache-Control", gathered)
	return c.Blob(http.StatusOK, "text/plain; charset=utf-8", body.Bytes())
}
