package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/color"
	"image/png"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// photoOfShade is a photo of a display as a camera might have written it; another one for another shade.
func photoOfShade(shade int) string {
	picture := image.NewGray(image.Rect(0, 0, 120, 80))
	for i := range picture.Pix {
		picture.Pix[i] = uint8(80 + i%40) // #nosec G115 -- a shade
	}
	picture.SetGray(0, 0, color.Gray{Y: uint8(shade)}) // #nosec G115 -- a shade
	var written bytes.Buffer
	if err := png.Encode(&written, picture); err != nil {
		panic(err) // a buffer takes everything
	}
	return written.String()
}

// shotOf is a photo for a hook.
func shotOf(t testing.TB, hook uuid.UUID, shade int) domain.AttachPhoto {
	t.Helper()
	shot, err := domain.ReadPhoto([]byte(photoOfShade(shade)))
	require.NoError(t, err)
	shot.Photo, shot.Hook = uuid.New(), hook
	return shot
}

// photographed is a class of whose second hook, the last so far with a distance, there is a photo.
func photographed(f *fair) *scene {
	s := second(f)
	s.do(shotOf(f.t, s.class().Current().Hooks[1].ID, 1))
	return s
}

// photo is the id of the first photo of the class, "" where it has none.
func (s *scene) photo() string {
	for _, p := range s.class().Photos {
		return p.ID.String()
	}
	return ""
}

// attachesAPhoto attaches a photo to a hook as a program does, and reads it back.
func (p *programs) attachesAPhoto(class, hook, booth string) {
	p.t.Helper()
	sent := call{method: http.MethodPost, path: class + "/hooks/" + hook + "/photos", body: photoOfShade(1), kind: "image/jpeg", as: booth, key: "0b0c4d6e-52aa-4f3b-8c3e-1f0b0a9d8e7f"}
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

// TestSlipsWithAPhoto: what is no photo, or goes to no reading, is refused on the booth's page. A browser does not give a file
// back, so that it has to be chosen again.
func TestSlipsWithAPhoto(t *testing.T) {
	t.Parallel()
	file := func(bytes string) map[string]string { return map[string]string{"photo": bytes} }
	good := photoOfShade(7)
	again := func(s *scene) {
		distance, err := domain.ParseDistance("250.5", domain.Foot)
		require.NoError(s.t, err)
		s.do(domain.Correct{Hook: s.class().Current().Hooks[1].ID, Result: domain.Result{Outcome: domain.Measured, Distance: distance}, Reason: "measured again", Next: uuid.New()})
	}
	tryAll(t, []slip{
		{what: "nothing chosen", class: second, form: "photo", sends: file(""), at: "photo", status: 422, says: "There is no photo. Take one, or choose a file."},
		{what: "a page", class: second, form: "photo", sends: file("<html><script>alert(1)</script>"), at: "photo", status: 422,
			says: "The file is no JPEG, PNG or WebP. Take the photo in one of these formats, or save it as one."},
		{what: "a drawing", class: second, form: "photo", sends: file(`<svg xmlns="http://www.w3.org/2000/svg"/>`), at: "photo", status: 422, says: "The file is no JPEG, PNG or WebP."},
		{what: "half a photo", class: second, form: "photo", sends: file(good[:20]), at: "photo", status: 422, says: "The photo is damaged. Send it again, or take another."},
		{what: "a large photo", class: second, form: "photo", sends: file(good + strings.Repeat("m", domain.MaxPhotoBytes)), at: "photo", status: 422,
			says: "The photo has more than 4 MB. Take it at a smaller size, or cut out the part with the reading."},
		{what: "a far larger one", class: second, form: "photo", sends: file(good + strings.Repeat("m", 5*domain.MaxPhotoBytes)), at: "photo", status: 422, says: "The photo has more than 4 MB."},
		{what: "a photo that is there already", class: photographed, form: "photo", sends: file(photoOfShade(1)), status: 409, says: "That photo is attached to the hook already."},
		{what: "a reading that was replaced meanwhile", class: second, form: "photo", sends: file(good), meanwhile: again, at: "reading", status: 409,
			says: "The reading is 250.5 ft by now, and not 250 ft. Look whether the photo shows it, and attach it then."},
		{what: "no reading", class: second, form: "photo", sends: map[string]string{"photo": good, "reading": ""}, at: "reading", status: 422, says: "The form is not complete."},
		{what: "no distance", class: second, form: "photo", sends: map[string]string{"photo": good, "reading": uuid.NewString()}, at: "reading", status: 422, says: "The form is not complete."},
		{what: "no id", class: second, form: "photo", sends: map[string]string{"photo": good, "shot": ""}, status: 422, says: "The form is not complete."},
		{what: "no action", class: second, form: "photo", sends: map[string]string{"photo": good, "action": ""}, status: 422, says: "The form is not complete."},
	}, "booth")
}

// A body that is no form with a file, or far too long, is refused as a whole; every other address keeps its own bound.
func TestABodyThatIsNoPhoto(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s, booth := second(f), f.as(domain.Booth)
	at := s.path("booth/photo")
	lines := f.lines()
	for what, row := range map[string]struct {
		body, kind string
		status     int
	}{
		"a form without a file":         {"action=" + uuid.NewString(), "application/x-www-form-urlencoded", http.StatusUnprocessableEntity},
		"no type":                       {"x", "", http.StatusUnprocessableEntity},
		"parts without a mark":          {"x", "multipart/form-data", http.StatusUnprocessableEntity},
		"parts that end":                {"--x\r\nContent-Disposition: form-data; name=\"photo\"\r\n\r\nabc", "multipart/form-data; boundary=x", http.StatusUnprocessableEntity},
		"more parts than a form has":    {strings.Repeat("--x\r\nContent-Disposition: form-data; name=\"a\"\r\n\r\nb\r\n", 99) + "--x--", "multipart/form-data; boundary=x", http.StatusUnprocessableEntity},
		"more than is read":             {"--x\r\nContent-Disposition: form-data; name=\"photo\"\r\n\r\n" + strings.Repeat("m", 33<<20), "multipart/form-data; boundary=x", http.StatusRequestEntityTooLarge},
		"a photo that is sent as it is": {photoOfShade(1), "image/png", http.StatusUnprocessableEntity},
	} {
		a := booth.send(http.MethodPost, at, strings.NewReader(row.body), "Content-Type", row.kind)
		require.Equal(t, row.status, a.status, "%s: %s", what, a.says())
	}
	require.Equal(t, http.StatusRequestEntityTooLarge, booth.send(http.MethodPost, s.path("booth/result"), strings.NewReader(strings.Repeat("m", 65<<10)), "Content-Type", "application/x-www-form-urlencoded").status)
	require.Equal(t, lines, f.lines())
}

// What was attached is shown to the staff as the picture that it is, and nowhere else.
func TestAPhotoIsShownToTheStaff(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s, booth := second(f), f.as(domain.Booth)
	sent := booth.get(s.path("booth")).form("photo").fill(map[string]string{"photo": photoOfShade(3)})
	a := booth.submit(sent)
	require.Equal(t, http.StatusSeeOther, a.status, a.says())
	require.Equal(t, a.header.Get("Location"), booth.submit(sent).header.Get("Location"), "sent twice, it is attached once")
	require.Len(t, s.class().Photos, 1)
	at := s.path("photo/" + s.photo())
	page := booth.get(a.header.Get("Location"))
	require.Contains(t, page.says(), "photo of the reading attached to "+s.class().Entry(s.class().Current().Hooks[1].Entry).Number+" (hook 2, round 1)")
	require.Contains(t, page.says(), "Photos of readings: 1")
	require.Contains(t, page.body, `src="`+at+`"`)
	desk := f.as(domain.Desk).get(s.path("desk"))
	require.Contains(t, desk.body, `<a href="`+at+`">Look at the photo</a>`, "in the journal")
	require.Contains(t, desk.says(), "Photos of readings: 1")

	seen := booth.get(at)
	require.Equal(t, photoOfShade(3), seen.body)
	for name, value := range map[string]string{
		"Content-Type": "image/png", "X-Content-Type-Options": "nosniff", "Content-Security-Policy": "default-src 'none'; sandbox",
		"Cache-Control": "private, no-cache", "Content-Disposition": `inline; filename="` + s.photo() + `.png"`,
	} {
		require.Equal(t, value, seen.header.Get(name), name)
	}
	require.Equal(t, http.StatusNotModified, booth.send(http.MethodGet, at, http.NoBody, "If-None-Match", seen.header.Get("ETag")).status)
	require.Equal(t, http.StatusForbidden, visitor{fair: f}.send(http.MethodGet, at, http.NoBody, "If-None-Match", seen.header.Get("ETag")).status, "who has it is asked for the pass again")
	require.Equal(t, http.StatusNotFound, booth.get(s.path("photo/first")).status)
	require.Equal(t, http.StatusNotFound, booth.get(s.path("photo/"+uuid.NewString())).status)
	require.Equal(t, http.StatusNotFound, booth.get("/e/"+s.ref.Event+"/"+second(f).ref.Class+"/photo/"+s.photo()).status, "another class has it not")
	for _, page := range []string{"", "sheet", "result", "result.json", "result.csv", "cab"} {
		public := visitor{fair: f}.get(s.path(page))
		require.NotContains(t, public.body, s.photo(), page)
		require.NotContains(t, public.body, "hoto of the reading", page)
	}
	for shade := range domain.MaxPhotos - 1 {
		s.do(shotOf(t, s.class().Current().Hooks[1].ID, 10+shade))
	}
	require.Nil(t, booth.get(s.path("booth")).form("photo"), "more are not kept of one reading")
}

// In a real browser: a photo is attached and looked at; what is none is said; and while the network is gone the page says that
// photos need the server, and what was chosen stays.
func TestABrowserAttachesAPhoto(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	w := newWire(t, s.address)
	class := domain.Slug(inventedClass)
	b := openBooth(s, w, class)
	to := order(s.class(class))
	b.press("287.34\r")
	b.asksFor(to[1])
	b.stands()
	choose := func(name, content string) {
		t.Helper()
		path := filepath.Join(t.TempDir(), name)
		require.NoError(t, os.WriteFile(path, []byte(content), 0o600))
		evaluate[bool](b.browser, `document.getElementById("photo-photo").closest("details").open = true`)
		b.do(chromedp.SetUploadFiles(chromedp.CSS("#photo-photo"), []string{path}))
	}
	attach := func() {
		t.Helper()
		b.do(chromedp.Click(chromedp.CSS(`form[enctype="multipart/form-data"] button`)))
	}
	choose("display.jpg", "<html><body>no photo</body></html>")
	attach()
	b.do(chromedp.WaitVisible(chromedp.CSS("#photo-photo-wrong")))
	require.Contains(t, b.text("#photo-photo-wrong"), "The file is no JPEG, PNG or WebP.")
	require.Empty(t, s.class(class).Photos)
	b.picture("booth-photo-wrong-laptop")

	choose("display.jpg", photoOfShade(1))
	attach()
	require.Eventually(t, func() bool { return len(s.class(class).Photos) == 1 }, deadline, poll)
	require.Equal(t, "287.34 ft", s.class(class).Photos[0].Reading.String())
	b.do(chromedp.WaitVisible(chromedp.CSS("details.photos summary")), chromedp.Click(chromedp.CSS("details.photos summary")))
	require.Eventually(t, func() bool {
		return evaluate[int](b.browser, `document.querySelector("details.photos img").naturalWidth`) == 120
	}, deadline, poll, "the photo is seen")
	b.picture("booth-photo-laptop")

	b.stands()
	choose("another.png", photoOfShade(2))
	w.cut()
	attach()
	b.do(chromedp.WaitVisible(chromedp.CSS("[data-cut]")))
	require.Contains(t, b.text("[data-cut]"), "Photos need the server, which cannot be reached now.")
	require.Equal(t, 1, evaluate[int](b.browser, `document.getElementById("photo-photo").files.length`), "what was chosen stays")
	w.mend(s.address)
	attach()
	require.Eventually(t, func() bool { return len(s.class(class).Photos) == 2 }, deadline, poll)

	// A photo takes its time on a slow network. What is typed meanwhile stays, and can be stored; the photo arrives all the same.
	b.look()
	b.stands()
	b.asksFor(to[1])
	evaluate[bool](b.browser, `((send) => {
		window.fetch = (to, how) => String(to).endsWith("/photo") ? new Promise((ok) => (window.arrives = ok)).then(() => send(to, how)) : send(to, how);
		return true;
	})(window.fetch)`)
	choose("third.png", photoOfShade(3))
	attach()
	b.do(chromedp.WaitVisible(chromedp.CSS("[data-going]")))
	b.do(chromedp.Focus(chromedp.CSS("#result")))
	b.press("281.3\r")
	b.asksFor(to[2])
	b.press("270")
	require.Len(t, s.class(class).Photos, 2, "it is on its way")
	evaluate[bool](b.browser, `(window.arrives(), true)`)
	require.Eventually(t, func() bool { return len(s.class(class).Photos) == 3 }, deadline, poll)
	require.Eventually(t, func() bool { return strings.Contains(b.text("#photos"), "Photos of readings: 3") }, deadline, poll)
	require.Equal(t, "270", evaluate[string](b.browser, `document.getElementById("result").value`))
	require.Equal(t, "281.3 ft", hookOf(s.class(class), to[1]).Result.Distance.String())
}

// A photo may take longer than any other request, both for a browser and for a program: here it is sent in two halves, and
// between them lies more than the time that a server gives.
func TestAPhotoMayTakeItsTime(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s := lastHook(p.fair)
	hook := s.class().Rounds[0].Hooks[1].ID.String()
	const short = 300 * time.Millisecond
	slow := httptest.NewUnstartedServer(p.http.Config.Handler)
	slow.Config.ReadTimeout, slow.Config.WriteTimeout = short, short
	slow.Start()
	t.Cleanup(slow.Close)
	send := func(path string, first, then string, header map[string]string) int {
		t.Helper()
		read, write := io.Pipe()
		go func() {
			_, _ = io.WriteString(write, first)
			time.AfterFunc(2*short, func() { _, _ = io.WriteString(write, then); _ = write.Close() })
		}()
		request, err := http.NewRequestWithContext(t.Context(), http.MethodPost, slow.URL+path, read)
		require.NoError(t, err)
		for name, value := range header {
			request.Header.Set(name, value)
		}
		response, err := direct().Do(request)
		require.NoError(t, err)
		require.NoError(t, response.Body.Close())
		return response.StatusCode
	}
	photo := photoOfShade(4)
	require.Equal(t, http.StatusCreated, send(s.api("/hooks/"+hook+"/photos"), photo[:40], photo[40:], map[string]string{
		"Content-Type": "image/png", "Authorization": "Bearer " + p.secrets[domain.Booth], "Idempotency-Key": uuid.NewString(),
	}))
	require.Len(t, s.class().Photos, 1)

	_, cookie := p.pass(inventedSlug, domain.Booth)
	visitor := visitor{fair: p.fair, cookie: cookie}
	sent := visitor.get(s.path("booth")).form("photo")
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	for name := range sent.values {
		require.NoError(t, form.WriteField(name, sent.values.Get(name)))
	}
	part, err := form.CreateFormFile("photo", "display.png")
	require.NoError(t, err)
	half := body.Len()
	_, err = io.WriteString(part, photoOfShade(5))
	require.NoError(t, err)
	require.NoError(t, form.Close())
	require.Equal(t, http.StatusSeeOther, send(s.path("booth/photo"), body.String()[:half], body.String()[half:], map[string]string{
		"Content-Type": form.FormDataContentType(), "Cookie": "clayline_pass=" + cookie, "Origin": slow.URL,
	}))
	require.Len(t, s.class().Photos, 2)
}
