package main

import (
	"io"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui"
	"clayline/webui/static"
)

func TestAFormOfAnotherSiteIsRefused(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := hooking(f)
	v := f.as(domain.Booth)
	sent := v.get(s.path("booth")).form("result").fill(map[string]string{"result": "281.36"})
	before := f.lines()
	for what, headers := range map[string][]string{
		"the browser says it is another site's":              {"Sec-Fetch-Site", "cross-site"},
		"the browser says it is a neighbour's":               {"Sec-Fetch-Site", "same-site"},
		"an old browser says where it comes from":            {"Origin", "https://elsewhere.example"},
		"the origin hides":                                   {"Origin", "null"},
		"the origin is right but the browser says otherwise": {"Sec-Fetch-Site", "cross-site", "Origin", f.address},
	} {
		t.Run(what, func(t *testing.T) {
			a := v.submit(sent, headers...)
			require.Equal(t, http.StatusForbidden, a.status)
			require.Contains(t, a.says(), "This form was sent by another site.")
			require.Contains(t, a.says(), "Nothing was changed. Open the page here and send it from there.")
			require.Equal(t, before, f.lines())
		})
	}
	for what, path := range map[string]string{"leaving": "/leave", "entering": webui.EnterPath(f.newSecret(inventedSlug, domain.Cab))} {
		a := v.post(path, nil, "Sec-Fetch-Site", "cross-site")
		assert.Equal(t, http.StatusForbidden, a.status, what)
		assert.Nil(t, a.pass(), what)
	}
	require.Equal(t, http.StatusOK, v.send(http.MethodGet, s.path("booth"), http.NoBody, "Sec-Fetch-Site", "cross-site").status, "a link from elsewhere may be followed")

	a := v.submit(sent, "Sec-Fetch-Site", "same-origin", "Origin", f.address)
	require.Equal(t, http.StatusSeeOther, a.status)
	require.Equal(t, before+2, f.lines(), "the link above, and the result")
}

func TestWhatIsTooLongIsRefused(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := hooking(f)
	v := f.as(domain.Booth)
	sent := v.get(s.path("booth")).form("result").fill(map[string]string{"result": "281.36"})
	before := f.lines()
	for what, size := range map[string]int{"just too long": 64 << 10, "much too long": 4 << 20} {
		sent.values.Set("more", strings.Repeat("m", size))
		a := v.submit(sent)
		require.Equal(t, http.StatusRequestEntityTooLarge, a.status, what)
		require.Contains(t, a.says(), "That was too much at once.", what)

		// Without its length told beforehand.
		body := io.MultiReader(strings.NewReader(sent.values.Encode()))
		a = v.send(http.MethodPost, sent.action, body, "Content-Type", "application/x-www-form-urlencoded")
		require.Equal(t, http.StatusRequestEntityTooLarge, a.status, what)
		require.Equal(t, before, f.lines(), what)
	}
	sent.values.Set("more", strings.Repeat("m", 60<<10))
	require.Equal(t, http.StatusSeeOther, v.submit(sent).status, "what is not too long is taken")
}

// What nobody can type is refused with a sentence, before it reaches a database that keeps text.
func TestWhatIsNoTextIsRefused(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := entering(f)
	v := f.as(domain.Desk)
	before := f.lines()
	for _, seed := range []string{"dice\x00", "dice\xff"} {
		a := v.submit(v.get(s.path("desk")).form("draw").fill(map[string]string{"seed": seed}))
		require.Equal(t, http.StatusUnprocessableEntity, a.status)
		require.Contains(t, a.says(), "The form holds what is no text.")
	}
	a := v.send(http.MethodPost, s.path("desk/draw"), strings.NewReader("seed=%zz"), "Content-Type", "application/x-www-form-urlencoded")
	require.Equal(t, http.StatusUnprocessableEntity, a.status)
	for _, path := range []string{"/e/%FF", "/e/%00", "/e/" + inventedSlug + "/%FF", s.path("%00")} {
		require.Equal(t, http.StatusNotFound, v.get(path).status, path)
		require.Equal(t, http.StatusNotFound, v.post(path+"/desk/draw", nil).status, path)
	}
	require.Equal(t, before, f.lines())
}

// Every answer, whatever it is, tells the browser what it may do with it; and HEAD is answered wherever GET is.
func TestEveryAnswerCarriesItsHeaders(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := frozen(f)
	v := f.as(domain.Desk)
	event, used := "/e/"+inventedSlug, webui.EnterPath(f.newSecret(inventedSlug, domain.Cab))
	require.Equal(t, http.StatusSeeOther, v.submit(v.enterForm(used)).status)
	for _, page := range []struct {
		path   string
		status int
	}{
		{"/", 200},
		{"/favicon.ico", 302},
		{static.Href("clayline.css"), 200},
		{"/static/clayline.000000000000.css", 404},
		{"/nowhere", 404},
		{"/desk", 403},
		{used, 410},
		{webui.EnterPath(f.newSecret(inventedSlug, domain.Cab)), 200},
		{webui.EnterPath("unknown"), 404},
		{event, 200},
		{"/e/nowhere", 404},
		{event + "/booth", 302},
		{event + "/cab", 302},
		{event + "/desk", 200},
		{event + "/desk/class", 200},
		{s.path(""), 200},
		{s.path("sheet"), 200},
		{s.path("result"), 200},
		{s.path("booth"), 200},
		{s.path("cab"), 200},
		{s.path("desk"), 200},
		{s.path("desk/draw"), 405},
		{"/e/" + otherSlug + "/desk", 403},
	} {
		t.Run(page.path, func(t *testing.T) {
			got, head := v.get(page.path), v.send(http.MethodHead, page.path, http.NoBody)
			assert.Equal(t, page.status, got.status)
			assert.Equal(t, page.status, head.status, "HEAD")
			assert.Empty(t, head.body)
			for _, a := range []answer{got, head} {
				a.carriesItsHeaders(t)
			}
		})
	}
	t.Run("forms", func(t *testing.T) {
		call := v.get(s.path("desk")).form("call")
		for _, a := range []answer{
			v.post(s.path("desk/draw"), nil),                                            // refused on the page
			v.post(s.path("desk/nothing"), nil),                                         // no such form
			v.post(event, nil),                                                          // nothing is sent there
			v.submit(call, "Sec-Fetch-Site", "cross-site"),                              // another site's
			v.submit(call.fill(map[string]string{"more": strings.Repeat("m", 70<<10)})), // too long
			visitor{fair: f}.submit(call),                                               // without a pass
			v.submit(v.get(s.path("desk")).form("call")),                                // done
			v.post("/leave", nil),
		} {
			a.carriesItsHeaders(t)
		}
	})
}

// carriesItsHeaders checks what every answer has to say.
func (a answer) carriesItsHeaders(t *testing.T) {
	t.Helper()
	policy := a.header.Get("Content-Security-Policy")
	for _, rule := range []string{"default-src 'self'", "base-uri 'none'", "form-action 'self'", "frame-ancestors 'none'", "object-src 'none'"} {
		assert.Contains(t, policy, rule)
	}
	// The pages that go on without the server run the domain's own code, which is no text that somebody could slip in.
	if !strings.HasSuffix(a.path, "/booth") && !strings.HasSuffix(a.path, "/cab") {
		assert.NotContains(t, policy, "wasm")
	}
	assert.NotContains(t, strings.ReplaceAll(policy, "'wasm-unsafe-eval'", ""), "unsafe")
	assert.Equal(t, "nosniff", a.header.Get("X-Content-Type-Options"))
	assert.Equal(t, "same-origin", a.header.Get("Referrer-Policy"))
	if a.body != "" {
		assert.NotEmpty(t, a.header.Get("Content-Type"))
	}
}

// Pages that a pass opens are kept by no cache; the public ones are asked for again each time.
func TestStaffPagesAreKeptByNoCache(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := frozen(f)
	v := f.as(domain.Desk)
	for path, kept := range map[string]string{
		s.path("booth"): "no-store", s.path("cab"): "no-store", s.path("desk"): "no-store", "/e/" + inventedSlug + "/desk": "no-store",
		"/e/" + inventedSlug + "/desk/class": "no-store", s.path(""): "no-cache", "/e/" + inventedSlug: "no-cache",
	} {
		assert.Equal(t, kept, v.get(path).header.Get("Cache-Control"), path)
	}
	refused := v.post(s.path("desk/draw"), nil)
	assert.Equal(t, "no-store", refused.header.Get("Cache-Control"))
}
