package main

import (
	"net/http"
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

const passesPage = "/e/" + inventedSlug + "/desk/pass"

// revoke takes a pass away on the desk's page.
func (v visitor) revoke(pass uuid.UUID) answer {
	v.t.Helper()
	sent := v.get(passesPage).form("revoke")
	require.NotNil(v.t, sent)
	return v.submit(sent.fill(map[string]string{"pass": pass.String()}))
}

// What the desk takes away is closed at once, also on a server process that served the device a moment ago, and neither
// the page nor a form that was open gets anything out of it. What everybody may read stays open, the stream too.
func TestAPassThatIsTakenAwayIsClosedAtOnceEverywhere(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s, f := hooking(p.fair), p.fair
	by, cookie := f.pass(inventedSlug, domain.Booth)
	other := f.later(time.Second) // another process, with a memory of its own
	booth, elsewhere := visitor{f, cookie}, visitor{other, cookie}
	open := booth.get(s.path("booth")).form("result").fill(map[string]string{"result": "250"})
	there := elsewhere.get(s.path("booth")).form("result").fill(map[string]string{"result": "250"})
	broken := elsewhere.get(s.path("booth")).form("result").fill(map[string]string{"result": "soon"})
	stream := p.listen("/api/v1/events/" + inventedSlug + "/stream")

	require.Equal(t, passesPage, f.as(domain.Desk).revoke(by.Pass).place())

	before := f.lines()
	for name, a := range map[string]answer{
		"the page": booth.get(s.path("booth")), "the page elsewhere": elsewhere.get(s.path("booth")),
		"a form": booth.submit(open), "a form elsewhere": elsewhere.submit(there), "a form that is wrong anyhow": elsewhere.submit(broken),
	} {
		assert.Equal(t, http.StatusForbidden, a.status, name)
		assert.Contains(t, a.says(), "The desk took the pass of this device away.", name)
		assert.Contains(t, a.says(), "If it should go on, ask the desk for a new entry link.", name)
		assert.NotContains(t, a.body, "<form", name)
	}
	require.Equal(t, before, f.lines())
	for _, path := range []string{s.path(""), s.path("result"), "/e/" + inventedSlug} {
		require.Equal(t, http.StatusOK, booth.get(path).status, path)
	}
	s.pull("250")
	require.Equal(t, "result", stream.read().kind, "the stream goes on, and tells nobody who was let in or out")
	stream.cut()
}

// A program is told in the same words, as a pass that is none.
func TestAProgramWhosePassWasTakenAwayIsToldSo(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s := hooking(p.fair)
	_, link, err := p.desk.IssuePass(p.ctx, desk.Program(), inventedSlug, uuid.New(), domain.Booth)
	require.NoError(t, err)
	pass, secret, err := p.desk.Enter(p.ctx, uuid.New(), link, "van", desk.Client)
	require.NoError(t, err)
	me := call{method: http.MethodGet, path: "/api/v1/me", as: secret}
	write := call{method: http.MethodPost, path: s.hookPath("start"), as: secret}
	p.ask(me).is(http.StatusOK)
	p.ask(write).is(http.StatusOK)
	other := call{method: http.MethodPost, path: "/api/v1/events/" + otherSlug + "/passes/" + pass.ID.String() + "/revoke", as: p.secret("", domain.Desk)}
	require.Contains(t, p.ask(other).is(http.StatusNotFound).at("detail"), "There is no such pass here.")
	p.post(domain.Desk, "/api/v1/events/"+inventedSlug+"/passes/"+pass.ID.String()+"/revoke", "").is(http.StatusOK)
	for _, c := range []call{me, write} {
		r := p.ask(c).is(http.StatusUnauthorized)
		require.Equal(t, []string{"/api/problems/no-pass", "The desk took the pass of this device away.", "Authorization"}, []string{r.at("type"), r.at("detail"), r.at("field")})
		require.Contains(t, r.at("fix"), "/api/v1/passes/enter")
	}
	again := p.post(domain.Desk, "/api/v1/events/"+inventedSlug+"/passes/"+pass.ID.String()+"/revoke", "").is(http.StatusConflict)
	require.Equal(t, "That pass has ended already.", again.at("detail"))
}

// Giving a pass back ends it in every copy. Pressing twice, or with a pass that ended otherwise, does no harm.
func TestAPassThatIsGivenBackIsWorthNothingToWhoCopiedIt(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := frozen(f)
	_, cookie := f.pass(inventedSlug, domain.Cab)
	device, copied := visitor{f, cookie}, visitor{f.later(time.Second), cookie}
	leave := device.get(s.path("cab")).form("leave")
	require.Equal(t, http.StatusOK, copied.get(s.path("cab")).status)
	before := f.lines()
	var pressing sync.WaitGroup
	for range 4 {
		pressing.Go(func() {
			a := device.submit(leave)
			assert.Equal(t, http.StatusSeeOther, a.status)
			assert.Empty(t, a.pass().Value)
		})
	}
	pressing.Wait()
	require.Equal(t, before+1, f.lines())
	a := copied.get(s.path("cab"))
	require.Equal(t, http.StatusForbidden, a.status)
	require.Contains(t, a.says(), "The pass of this device was given back.")
	require.Equal(t, http.StatusSeeOther, copied.post("/leave", url.Values{"action": {uuid.NewString()}}).status)
	require.Equal(t, before+1, f.lines())
}

// The same sending of an entry form is answered again for a minute, but not once the pass has ended.
func TestAnEntryFormLetsNobodyBackIn(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	anybody := visitor{fair: f}
	sent := anybody.enterForm(webui.EnterPath(f.newSecret(inventedSlug, domain.Booth)))
	in := anybody.submit(sent)
	require.Equal(t, in.pass().Value, anybody.submit(sent).pass().Value, "a double press is answered again")
	by, err := f.desk.Who(f.ctx, in.pass().Value, desk.Browser)
	require.NoError(t, err)
	f.as(domain.Desk).revoke(by.Pass)
	for _, v := range []visitor{anybody, {f, in.pass().Value}} {
		a := v.submit(sent)
		require.Equal(t, http.StatusConflict, a.status)
		require.Nil(t, a.pass())
		require.Contains(t, a.says(), "This link was used already")
	}
}

// A new link in the place of another kills that one, used or not; the desk sees all of it.
func TestANewLinkTakesThePlaceOfAnother(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	v := f.as(domain.Desk)
	waiting, old, err := f.desk.IssuePass(f.ctx, desk.Program(), inventedSlug, uuid.New(), domain.Booth)
	require.NoError(t, err)
	replaced := func(pass uuid.UUID) string {
		t.Helper()
		a := v.submit(v.get(passesPage).form("replace").fill(map[string]string{"pass": pass.String()}))
		require.Equal(t, http.StatusOK, a.status, a.says())
		require.Equal(t, "no-store", a.header.Get("Cache-Control"))
		require.Contains(t, a.says(), "New link for the booth")
		_, rest, _ := strings.Cut(a.body, "/enter/")
		link, _, _ := strings.Cut(rest, `"`)
		return link
	}
	link := replaced(waiting.ID)
	dead := visitor{fair: f}.get(webui.EnterPath(old))
	require.Equal(t, http.StatusGone, dead.status)
	require.Contains(t, dead.says(), "This link was withdrawn by the desk. Ask the desk for a new one.")
	require.Equal(t, http.StatusConflict, visitor{fair: f}.post(webui.EnterPath(old), url.Values{"action": {uuid.NewString()}}).status)

	in := visitor{fair: f}.submit(visitor{fair: f}.enterForm(webui.EnterPath(link)).fill(map[string]string{"device": "the old laptop"}))
	require.Equal(t, http.StatusSeeOther, in.status)
	list := v.get(passesPage)
	require.Contains(t, list.says(), "Booth · the old laptop In since ")
	require.Contains(t, list.says(), "Desk · the desk's laptop this device")
	require.Contains(t, list.says(), "The link was withdrawn ")
	by, err := f.desk.Who(f.ctx, in.pass().Value, desk.Browser)
	require.NoError(t, err)
	replaced(by.Pass)
	require.Equal(t, http.StatusForbidden, visitor{f, in.pass().Value}.get(entering(f).path("booth")).status, "the device is out")
	replaced(by.Pass) // and a device that is out may get another
}

// The desk cannot shut itself out by a slip of the hand, and hears of what ended meanwhile.
func TestTheDeskKeepsItsOwnPass(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	by, cookie := f.pass(inventedSlug, domain.Desk)
	spare := f.newPass(inventedSlug)
	v := visitor{f, cookie}
	a := v.revoke(by.Pass)
	require.Equal(t, http.StatusConflict, a.status)
	require.Contains(t, a.says(), "That is the pass you act with. Give it back instead.")
	require.Equal(t, http.StatusSeeOther, v.revoke(spare).status)
	f.newPass(inventedSlug)
	gone := v.revoke(spare)
	require.Equal(t, http.StatusConflict, gone.status)
	require.Contains(t, gone.says(), "That pass has ended already.")
	require.Equal(t, http.StatusNotFound, v.revoke(uuid.New()).status)
	require.Equal(t, http.StatusUnprocessableEntity, v.post(passesPage+"/revoke", url.Values{"action": {uuid.NewString()}}).status)
}

// A link that is withdrawn at the moment when it is used either let its device in or did not, and ends in both cases.
func TestALinkIsWithdrawnWhileItIsUsed(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	for range 5 {
		pass, link, err := f.desk.IssuePass(f.ctx, desk.Program(), inventedSlug, uuid.New(), domain.Booth)
		require.NoError(t, err)
		var secret string
		var entered, revoked error
		var racing sync.WaitGroup
		racing.Go(func() { _, secret, entered = f.desk.Enter(f.ctx, uuid.New(), link, "phone", desk.Browser) })
		racing.Go(func() { _, revoked = f.desk.RevokePass(f.ctx, desk.Program(), inventedSlug, uuid.New(), pass.ID) })
		racing.Wait()
		require.NoError(t, revoked)
		if entered != nil {
			require.Equal(t, domain.WrongState, domain.KindOf(entered), "%v", entered)
			require.ErrorContains(t, entered, "this link was withdrawn by the desk")
			continue
		}
		_, err = f.desk.Who(f.ctx, secret, desk.Browser)
		require.Equal(t, domain.Forbidden, domain.KindOf(err), "%v", err)
	}
}

// Whoever gave the only pass of the server's desk back finds a new link when the program starts again.
func TestAServerWithoutADeskPrintsALinkAgain(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	in := func() bool {
		t.Helper()
		entered, err := f.desk.DeskEntered(f.ctx)
		require.NoError(t, err)
		return entered
	}
	require.False(t, in())
	_, cookie := f.pass("", domain.Desk)
	require.True(t, in())
	_, err := f.desk.LeavePass(f.ctx, uuid.New(), cookie, desk.Browser)
	require.NoError(t, err)
	require.False(t, in())
}
