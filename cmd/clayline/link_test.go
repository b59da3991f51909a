package main

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui"
)

// enterForm finds the form of an entry link's page. Its address ends in the secret.
func (v visitor) enterForm(path string) *form {
	v.t.Helper()
	sent := v.get(path).form(path[strings.LastIndexByte(path, '/')+1:])
	require.NotNil(v.t, sent, "the link can be used")
	return sent
}

// pass returns the cookie that an answer gives, or nil.
func (a answer) pass() *http.Cookie {
	for _, cookie := range (&http.Response{Header: a.header}).Cookies() {
		if cookie.Name == "clayline_pass" {
			return cookie
		}
	}
	return nil
}

func TestAnEntryLinkLetsOneDeviceInOnce(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := entering(f)
	path := webui.EnterPath(f.newSecret(inventedSlug, domain.Booth))
	anybody := visitor{fair: f}

	// A preview in a chat looks at it, as often as it likes.
	before := f.lines()
	for _, method := range []string{http.MethodHead, http.MethodGet, http.MethodGet} {
		a := anybody.send(method, path, http.NoBody)
		require.Equal(t, http.StatusOK, a.status)
		require.Nil(t, a.pass())
		require.Equal(t, "no-store", a.header.Get("Cache-Control"))
		require.Equal(t, "same-origin", a.header.Get("Referrer-Policy"), "the link is told to no other server; told to nobody at all, a browser would hide where the form comes from")
	}
	require.Contains(t, anybody.get(path).says(), "Enter as booth for "+inventedEvent)
	require.Equal(t, before, f.lines())

	sent := anybody.enterForm(path).fill(map[string]string{"device": "laptop by the tower"})
	a := anybody.submit(sent)
	require.Equal(t, http.StatusSeeOther, a.status)
	require.Equal(t, "/e/"+inventedSlug+"/booth", a.place())
	require.Equal(t, before+1, f.lines())
	cookie := a.pass()
	require.NotNil(t, cookie)
	assert.True(t, cookie.HttpOnly, "no script reads it")
	assert.Equal(t, http.SameSiteLaxMode, cookie.SameSite)
	assert.Equal(t, "/", cookie.Path)
	assert.Equal(t, int((96 * time.Hour).Seconds()), cookie.MaxAge)
	assert.Contains(t, visitor{f, cookie.Value}.get(s.path("booth")).says(), "This device: Booth · laptop by the tower")

	// A double press, whose first answer the browser threw away, is let in with the same pass.
	twice := anybody.submit(sent)
	require.Equal(t, http.StatusSeeOther, twice.status)
	require.Equal(t, cookie.Value, twice.pass().Value)

	// The second device is told what to do, and so is who only looks.
	again := anybody.post(path, url.Values{"action": {uuid.NewString()}})
	require.Equal(t, http.StatusConflict, again.status)
	require.Contains(t, again.says(), "This link was used already, and a link lets one device in.")
	require.Contains(t, again.says(), "Ask the desk for a new one.")
	require.Nil(t, again.pass())
	look := anybody.get(path)
	require.Equal(t, http.StatusGone, look.status)
	require.Contains(t, look.says(), "This link does not enter")
	require.Contains(t, look.says(), "This link was used already, and a link lets one device in. Ask the desk for a new one.")
	require.Equal(t, before+1, f.lines())

	// Given back, the pass is gone from the device.
	device := visitor{f, cookie.Value}
	left := device.submit(device.get(s.path("booth")).form("leave"))
	require.Equal(t, http.StatusSeeOther, left.status)
	require.NotNil(t, left.pass())
	require.Empty(t, left.pass().Value)
	require.Negative(t, left.pass().MaxAge)
}

func TestTheCookieKeepsToTheSecureLine(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	for _, address := range []string{"http://fair.example", "https://fair.example"} {
		request := httptest.NewRequest(http.MethodPost, address+webui.EnterPath(f.newSecret(inventedSlug, domain.Cab)),
			strings.NewReader(url.Values{"action": {uuid.NewString()}}.Encode()))
		request.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		recorded := httptest.NewRecorder()
		f.handler.ServeHTTP(recorded, request)
		cookie := answer{t: t, header: recorded.Header()}.pass()
		require.NotNil(t, cookie)
		require.Equal(t, strings.HasPrefix(address, "https"), cookie.Secure, address)
	}
}

func TestALinkThatIsNoGoodSaysSo(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	old := webui.EnterPath(f.newSecret(inventedSlug, domain.Desk))
	late := f.later(49 * time.Hour)
	for _, link := range []struct {
		what         string
		fair         *fair
		path         string
		looked, sent int
		says         string
	}{
		{"an old link", late, old, http.StatusGone, http.StatusConflict, "This link is too old."},
		{"an unknown link", f, webui.EnterPath(strings.Repeat("y", 32)), http.StatusNotFound, http.StatusNotFound, "This link is not known here."},
		{"the link of nothing", f, webui.EnterPath("%00"), http.StatusNotFound, http.StatusNotFound, "There is no such page."},
	} {
		t.Run(link.what, func(t *testing.T) {
			before := f.lines()
			v := visitor{fair: link.fair}
			looked, sent := v.get(link.path), v.post(link.path, url.Values{"action": {uuid.NewString()}})
			assert.Equal(t, link.looked, looked.status)
			assert.Equal(t, link.sent, sent.status)
			for _, a := range []answer{looked, sent} {
				assert.Contains(t, a.says(), link.says)
				assert.Nil(t, a.pass())
			}
			assert.Equal(t, before, f.lines())
		})
	}
	require.Equal(t, http.StatusOK, visitor{fair: f}.get(old).status, "in time the old link was good")
}

func TestAPassEndsAfterItsTime(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := frozen(f)
	_, cookie := f.pass(inventedSlug, domain.Cab)
	require.Equal(t, http.StatusOK, visitor{f.later(95 * time.Hour), cookie}.get(s.path("cab")).status)
	late := visitor{f.later(97 * time.Hour), cookie}.get(s.path("cab"))
	require.Equal(t, http.StatusForbidden, late.status)
	require.Contains(t, late.says(), "Open the entry link that the desk gave you.")
}

// A secret that a program was given is no cookie.
func TestTheSecretOfAProgramIsNoCookie(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := frozen(f)
	_, secret, err := f.desk.Enter(f.ctx, uuid.New(), f.newSecret(inventedSlug, domain.Desk), "timing gate", desk.Client)
	require.NoError(t, err)
	require.Equal(t, http.StatusForbidden, visitor{f, secret}.get(s.path("desk")).status)
}

func TestTwoDevicesRaceOnOneLink(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	const devices = 6
	for range 3 {
		path := webui.EnterPath(f.newSecret(inventedSlug, domain.Booth))
		before := f.lines()
		var racing sync.WaitGroup
		answers := make([]answer, devices)
		begin := make(chan struct{})
		for i := range devices {
			sent := visitor{fair: f}.enterForm(path)
			racing.Go(func() {
				<-begin
				answers[i] = visitor{fair: f}.submit(sent)
			})
		}
		close(begin)
		racing.Wait()
		in := 0
		for _, a := range answers {
			if a.status == http.StatusSeeOther {
				in++
				continue
			}
			assert.Equal(t, http.StatusConflict, a.status)
			assert.Contains(t, a.says(), "This link was used already")
			assert.Nil(t, a.pass())
		}
		require.Equal(t, 1, in, "exactly one device gets in")
		require.Equal(t, before+1, f.lines())
	}
}

// A link that the desk makes on its page is shown once, and sending the form again makes no second one.
func TestALinkIsShownOnce(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	v := f.as(domain.Desk)
	page := "/e/" + inventedSlug + "/desk"
	sent := v.get(page).form("pass").fill(map[string]string{"role": "cab", "device": "the sled"})
	made := v.submit(sent)
	require.Equal(t, http.StatusOK, made.status)
	require.Equal(t, "no-store", made.header.Get("Cache-Control"))
	_, rest, shown := strings.Cut(made.body, `href="`+f.address+"/enter/")
	require.True(t, shown, "the address is on the page")
	secret, _, _ := strings.Cut(rest, `"`)

	before := f.lines()
	again := v.submit(sent)
	require.Equal(t, http.StatusConflict, again.status)
	require.Contains(t, again.form("pass").wrong, "This link was made already and is shown only once. Make another.")
	require.NotContains(t, again.body, "/enter/")
	require.NotContains(t, v.get(page).body, "/enter/")
	require.Equal(t, before, f.lines())

	in := visitor{fair: f}.submit(visitor{fair: f}.enterForm(webui.EnterPath(secret)))
	require.Equal(t, "/e/"+inventedSlug+"/cab", in.place())
}

// What the database holds lets nobody in: of the secrets of links and cookies it has only the hashes.
func TestTheDatabaseHoldsNoSecret(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	link := f.newSecret(inventedSlug, domain.Booth)
	a := visitor{fair: f}.submit(visitor{fair: f}.enterForm(webui.EnterPath(link)))
	cookie := a.pass().Value
	held := f.dump()
	for what, secret := range map[string]string{"link": link, "cookie": cookie} {
		raw, err := base64.RawURLEncoding.DecodeString(secret)
		require.NoError(t, err)
		require.Len(t, raw, 24, "long enough that nobody guesses it")
		hash := sha256.Sum256([]byte(secret))
		require.Equal(t, 1, strings.Count(held, hex.EncodeToString(hash[:])), "the hash of the %s is held once", what)
		for form, text := range map[string]string{"as it is": secret, "as bytes": hex.EncodeToString([]byte(secret)), "decoded": hex.EncodeToString(raw)} {
			require.NotContains(t, held, text, "the %s %s", what, form)
		}
	}
}

// dump is everything that the database holds, as text; bytes are in hexadecimal digits.
func (f *fair) dump() string {
	f.t.Helper()
	rows, err := f.sql.Query(f.ctx, "SELECT table_name FROM information_schema.tables WHERE table_schema = 'public'")
	require.NoError(f.t, err)
	var tables []string
	for rows.Next() {
		var name string
		require.NoError(f.t, rows.Scan(&name))
		tables = append(tables, name)
	}
	require.NoError(f.t, rows.Err())
	require.Contains(f.t, tables, "pass")
	require.Contains(f.t, tables, "journal")
	var held strings.Builder
	for _, name := range tables {
		var text string
		require.NoError(f.t, f.sql.QueryRow(f.ctx, `SELECT coalesce(string_agg(t::text, E'\n'), '') FROM public."`+name+`" t`).Scan(&text))
		held.WriteString(text)
	}
	return held.String()
}
