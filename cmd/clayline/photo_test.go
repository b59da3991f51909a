package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/color"
	"image/png"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// photoOf is a photo of a display as a camera might have written it; another one for another shade.
func photoOf(t testing.TB, shade int) string {
	t.Helper()
	picture := image.NewGray(image.Rect(0, 0, 120, 80))
	for i := range picture.Pix {
		picture.Pix[i] = uint8(80 + i%40) // #nosec G115 -- a shade
	}
	picture.SetGray(0, 0, color.Gray{Y: uint8(shade)}) // #nosec G115 -- a shade
	var written bytes.Buffer
	require.NoError(t, png.Encode(&written, picture))
	return written.String()
}

// attachesAPhoto attaches a photo to a hook as a program does, and reads it back.
func (p *programs) attachesAPhoto(class, hook, booth string) {
	p.t.Helper()
	sent := call{method: http.MethodPost, path: class + "/hooks/" + hook + "/photos", body: photoOf(p.t, 1), kind: "image/jpeg", as: booth, key: "0b0c4d6e-52aa-4f3b-8c3e-1f0b0a9d8e7f"}
	first := p.ask(sent).is(http.StatusCreated)
	require.Equal(p.t, first.body, p.ask(sent).is(http.StatusCreated).body, "once")
	require.Equal(p.t, hook, first.at("hook"))
	list := p.ask(call{method: http.MethodGet, path: class + "/photos", as: booth}).is(http.StatusOK)
	sum := sha256.Sum256([]byte(sent.body))
	require.Equal(p.t, []string{first.at("photo"), hook, "281.36", "image/png", hex.EncodeToString(sum[:]), ""},
		[]string{list.at("photos.0.id"), list.at("photos.0.hook"), list.at("photos.0.reading.figures"), list.at("photos.0.type"), list.at("photos.0.sha256"), list.at("photos.1.id")},
		"it is what its bytes are, not what it was said to be")
	at := class + "/photos/" + first.at("photo")
	seen := p.ask(call{method: http.MethodGet, path: at, as: booth}).is(http.StatusOK)
	require.Equal(p.t, sent.body, seen.body)
	require.Equal(p.t, []string{"image/png", "nosniff", "default-src 'none'; sandbox", "private, no-cache"}, []string{seen.header.Get("Content-Type"),
		seen.header.Get("X-Content-Type-Options"), seen.header.Get("Content-Security-Policy"), seen.header.Get("Cache-Control")})
	p.ask(call{method: http.MethodGet, path: at, as: booth, more: []string{"If-None-Match", seen.header.Get("ETag")}}).is(http.StatusNotModified)
	p.ask(call{method: http.MethodGet, path: at, wrong: true}).is(http.StatusUnauthorized)
	p.ask(call{method: http.MethodGet, path: class + "/photos", wrong: true}).is(http.StatusUnauthorized)
	p.ask(call{method: http.MethodGet, path: class + "/photos/first", as: booth, wrong: true}).is(http.StatusNotFound)
	p.ask(call{method: http.MethodGet, path: class + "/photos/" + hook, as: booth}).is(http.StatusNotFound)
	for role, status := range map[domain.Role]int{domain.Scale: http.StatusForbidden, domain.Lane: http.StatusForbidden, domain.Cab: http.StatusOK} {
		p.ask(call{method: http.MethodGet, path: at, as: p.secret("", role)}).is(status)
	}
	require.NotContains(p.t, strings.ToLower(p.get(class).body), "photo", "the public class tells nothing of it")
}
