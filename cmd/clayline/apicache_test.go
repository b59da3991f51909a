package main

import (
	"compress/gzip"
	"context"
	"io"
	"net/http"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// plain asks without any help of the client, which would ask for gzip and unpack it by itself.
func (p *programs) plain(path string, headers ...string) (*http.Response, string) {
	p.t.Helper()
	request, err := http.NewRequestWithContext(p.ctx, http.MethodGet, p.address+path, http.NoBody)
	require.NoError(p.t, err)
	for i := 0; i < len(headers); i += 2 {
		request.Header.Set(headers[i], headers[i+1])
	}
	response, err := (&http.Transport{DisableCompression: true, DisableKeepAlives: true}).RoundTrip(request)
	require.NoError(p.t, err)
	defer response.Body.Close()
	body, err := io.ReadAll(response.Body)
	require.NoError(p.t, err)
	return response, string(body)
}

func TestPublicDocumentsAreKeptUntilSomethingHappens(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s := hooking(p.fair)
	event := "/api/v1/events/" + inventedSlug
	for _, path := range []string{event, event + "/day", event + "/classes", s.api(""), s.api("/standing")} {
		r, body := p.plain(path)
		tag := r.Header.Get("ETag")
		require.Regexp(t, `^"[0-9]+-[0-9a-f]{24}"$`, tag, path)
		require.Equal(t, "no-cache", r.Header.Get("Cache-Control"))
		require.Equal(t, "Accept-Encoding", r.Header.Get("Vary"))
		require.Empty(t, r.Header.Get("Content-Encoding"))
		require.True(t, strings.HasPrefix(body, `{"version":`+strings.Trim(tag[:strings.Index(tag, "-")], `"`)+","), body)

		packed, bytes := p.plain(path, "Accept-Encoding", "br;q=0.4, gzip;q=0.5")
		require.Equal(t, "gzip", packed.Header.Get("Content-Encoding"))
		require.Equal(t, strings.TrimSuffix(tag, `"`)+`-gzip"`, packed.Header.Get("ETag"), "two encodings are not the same bytes")
		unpack, err := gzip.NewReader(strings.NewReader(bytes))
		require.NoError(t, err)
		unpacked, err := io.ReadAll(unpack)
		require.NoError(t, err)
		require.Equal(t, body, string(unpacked))
		r, bytes = p.plain(path, "Accept-Encoding", "gzip, deflate, br, zstd")
		require.Equal(t, "br", r.Header.Get("Content-Encoding"), "what a browser sends over HTTPS")
		unpacked, err = io.ReadAll(brotli.NewReader(strings.NewReader(bytes)))
		require.NoError(t, err)
		require.Equal(t, body, string(unpacked))

		for _, have := range []string{tag, packed.Header.Get("ETag"), r.Header.Get("ETag"), "W/" + tag, `"1", ` + tag, "*"} {
			r, body := p.plain(path, "If-None-Match", have)
			require.Equal(t, http.StatusNotModified, r.StatusCode, have)
			require.Empty(t, body)
			require.Equal(t, tag, r.Header.Get("ETag"))
		}
		version, _, _ := strings.Cut(tag, "-")
		for _, have := range []string{`"1"`, version + `"`, version + `-0123456789abcdef01234567"`, strings.Trim(tag, `"`)} {
			r, _ = p.plain(path, "If-None-Match", have)
			require.Equal(t, http.StatusOK, r.StatusCode, "another rendering of the same version: %s", have)
		}
	}
	r, _ := p.plain(s.api(""))
	seen := r.Header.Get("ETag")
	s.pull("250")
	r, body := p.plain(s.api(""), "If-None-Match", seen)
	require.Equal(t, http.StatusOK, r.StatusCode, "what was stored is seen at once")
	require.Contains(t, body, `"250"`)
	seen = r.Header.Get("ETag")
	hooking(p.fair)
	r, _ = p.plain(s.api(""), "If-None-Match", seen)
	require.Equal(t, http.StatusNotModified, r.StatusCode, "another class is none of its business")
}

// Lists that are of no event have a tag too, and who has one is sent nothing.
func TestListsAreKeptUntilTheyChange(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	for _, path := range []string{"/api/v1/events", "/api/v1/events?limit=1", "/api/v1/rule-sets", "/api/v1/rule-sets/capped-300ft"} {
		r, body := p.plain(path, "Accept-Encoding", "gzip")
		require.Regexp(t, `^"[0-9a-f]{24}-gzip"$`, r.Header.Get("ETag"), path)
		require.Equal(t, "no-cache", r.Header.Get("Cache-Control"))
		require.Equal(t, "gzip", r.Header.Get("Content-Encoding"))
		require.NotEmpty(t, body)
		again := p.ask(call{method: http.MethodGet, path: path, more: []string{"If-None-Match", r.Header.Get("ETag")}}).is(http.StatusNotModified)
		require.Empty(t, again.body)
	}
	before, _ := p.plain("/api/v1/events")
	_, err := p.desk.PlanEvent(p.ctx, desk.Program(), uuid.New(), domain.Event{
		ID: uuid.New(), Name: "One More Pull", Zone: "UTC", Tracks: []domain.Track{{ID: uuid.New(), Name: "A"}},
		Sleds: []domain.Sled{{ID: uuid.New(), Name: "B", Gears: 1, StartHoles: 1}}, Sessions: []domain.Session{{ID: uuid.New(), Name: "C", Starts: clock()}},
	})
	require.NoError(t, err)
	after, body := p.plain("/api/v1/events", "If-None-Match", before.Header.Get("ETag"))
	require.Equal(t, http.StatusOK, after.StatusCode)
	require.Contains(t, body, "One More Pull")
}

func TestHEADIsGETWithoutTheBody(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s := hooking(p.fair)
	request, err := http.NewRequestWithContext(context.Background(), http.MethodHead, p.address+s.api(""), http.NoBody)
	require.NoError(t, err)
	r, err := http.DefaultClient.Do(request)
	require.NoError(t, err)
	require.NoError(t, r.Body.Close())
	require.Equal(t, http.StatusOK, r.StatusCode)
	require.NotEmpty(t, r.Header.Get("ETag"))
}

// Addresses that are not there, and methods that they do not take, are answered in the same shape.
func TestWhatIsNotThereIsAProblemToo(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	for _, path := range []string{"/api/v1", "/api/v1/nothing", "/api/v2/events", "/api/problems/none", "/api/v1/events/no-such-pull", "/api/v1/events/no-such-pull/classes/none",
		"/api/v1/events/" + inventedSlug + "/classes/none/standing", "/api/v1/rule-sets/none"} {
		r, body := p.plain(path)
		require.Equal(t, http.StatusNotFound, r.StatusCode, path)
		conforms(t, path, reply{t: t, status: r.StatusCode, header: r.Header, body: body})
	}
	r, body := p.send(http.MethodDelete, "/api/v1/events")
	require.Equal(t, http.StatusMethodNotAllowed, r.StatusCode)
	require.Contains(t, r.Header.Get("Allow"), "POST")
	conforms(t, "DELETE", reply{t: t, status: r.StatusCode, header: r.Header, body: body})
	r, _ = p.plain("/api/problems/stale")
	require.Equal(t, "/api#problem-stale", r.Header.Get("Location"))
	unauthorised := p.ask(call{method: http.MethodGet, path: "/api/v1/me", wrong: true}).is(http.StatusUnauthorized)
	require.Contains(t, unauthorised.header.Get("WWW-Authenticate"), "Bearer")
	conforms(t, "me", unauthorised)
	for what, secret := range map[string]string{"the booth": p.secrets[domain.Booth], "another event's desk": p.secret(otherSlug, domain.Desk)} {
		conforms(t, what, p.ask(call{method: http.MethodGet, path: "/api/v1/events/" + inventedSlug + "/journal", as: secret}).is(http.StatusForbidden))
	}
	s := written(p.fair)
	require.NotContains(t, p.get(s.api("")).body, "21600", "what is not frozen is not public")
	p.ask(call{method: http.MethodGet, path: s.roundPath("setting"), wrong: true}).is(http.StatusUnauthorized)
	p.ask(call{method: http.MethodGet, path: s.roundPath("setting"), as: p.secret(otherSlug, domain.Cab)}).is(http.StatusForbidden)
	p.ask(call{method: http.MethodGet, path: s.roundPath("setting"), as: p.secrets[domain.Cab]}).is(http.StatusOK)
	p.ask(call{method: http.MethodGet, path: entering(p.fair).roundPath("setting"), as: p.secrets[domain.Cab]}).is(http.StatusNotFound)
}

// send sends a request that is not held against the description.
func (p *programs) send(method, path string) (*http.Response, string) {
	p.t.Helper()
	request, err := http.NewRequestWithContext(p.ctx, method, p.address+path, http.NoBody)
	require.NoError(p.t, err)
	r, err := direct().Do(request)
	require.NoError(p.t, err)
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	require.NoError(p.t, err)
	return r, string(body)
}
