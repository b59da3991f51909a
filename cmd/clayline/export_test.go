package main

import (
	"compress/gzip"
	"encoding/csv"
	"encoding/json"
	"io"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"clayline/domain"
	"clayline/domain/doc"
)

// atTheInvented is a visitor of the whole invented event without a pass.
func atTheInvented(t testing.TB) visitor {
	t.Helper()
	return visitor{fair: &fair{site: newSite(t)}}
}

// file reads an answer that is a file.
func (a answer) file(mediaType, how, name string) string {
	a.t.Helper()
	require.Equal(a.t, http.StatusOK, a.status)
	assert.Equal(a.t, mediaType, a.header.Get("Content-Type"))
	assert.Equal(a.t, how+"; filename="+name, a.header.Get("Content-Disposition"))
	assert.NotEmpty(a.t, a.header.Get("ETag"))
	return a.body
}

// result reads an answer that is a result, and holds it against the schema that it names.
func (v visitor) result(path, name string) (result doc.Result) {
	v.t.Helper()
	body := v.get(path).file("application/json", "inline", name)
	require.NoError(v.t, json.Unmarshal([]byte(body), &result))
	at, err := url.Parse(v.address + path)
	require.NoError(v.t, err)
	schema, err := at.Parse(result.Schema)
	require.NoError(v.t, err)
	served, err := jsonschema.UnmarshalJSON(strings.NewReader(v.get(schema.Path).body))
	require.NoError(v.t, err)
	compiler := jsonschema.NewCompiler()
	compiler.AssertFormat()
	require.NoError(v.t, compiler.AddResource(schema.String(), served))
	compiled, err := compiler.Compile(schema.String())
	require.NoError(v.t, err)
	decoded, err := jsonschema.UnmarshalJSON(strings.NewReader(body))
	require.NoError(v.t, err)
	require.NoError(v.t, compiled.Validate(decoded))
	return result
}

// lines reads an answer that is a result as CSV.
func (a answer) lines(name string) [][]string {
	a.t.Helper()
	lines, err := csv.NewReader(strings.NewReader(a.file("text/csv; charset=utf-8; header=present", "attachment", name))).ReadAll()
	require.NoError(a.t, err)
	return lines
}

// The whole event leaves, and each class of it leaves just so by itself.
func TestTheWholeEventLeavesAsFiles(t *testing.T) {
	t.Parallel()
	v := atTheInvented(t)
	event := "/e/" + inventedSlug
	whole := v.result(event+"/results.json", inventedSlug+"-results.json")
	require.Len(t, whole.Classes, len(inventedClasses()))
	all := v.get(event + "/results.csv").lines(inventedSlug + "-results.csv")
	header, all := all[0], all[1:]
	for _, class := range whole.Classes {
		one := v.result(event+"/"+class.Slug+"/result.json", inventedSlug+"-"+class.Slug+"-result.json")
		assert.Equal(t, []doc.ResultClass{class}, one.Classes)
		assert.Equal(t, whole.Event, one.Event)
		lines := v.get(event + "/" + class.Slug + "/result.csv").lines(inventedSlug + "-" + class.Slug + "-result.csv")
		require.Equal(t, header, lines[0])
		require.Equal(t, lines[1:], all[:len(lines)-1], class.Name)
		all = all[len(lines)-1:]
		v.tellsAsThePage(event+"/"+class.Slug+"/result", class)
	}
	require.Empty(t, all, "the file of the event is that of its classes one after the other")
}

// tellsAsThePage holds the standing of a class against the one on its page to print.
func (v visitor) tellsAsThePage(path string, class doc.ResultClass) {
	v.t.Helper()
	page := v.get(path).says()
	for _, p := range class.Standing {
		if p.Place == nil {
			continue
		}
		place := strconv.Itoa(*p.Place)
		if p.Shared {
			place += "="
		}
		assert.Contains(v.t, page, place+" "+p.Entry+" "+p.Puller, "the place in %s", class.Name)
		if !p.FullPull {
			assert.Contains(v.t, page, p.Total.Value, "the figure of %s", p.Entry)
		}
	}
	if class.Draw != nil {
		assert.Contains(v.t, page, class.Draw.Seed)
	}
}

// The links of the public pages lead to the files.
func TestThePagesLeadToTheFiles(t *testing.T) {
	t.Parallel()
	v := atTheInvented(t)
	for _, page := range []string{"/e/" + inventedSlug, "/e/" + inventedSlug + "/" + domain.Slug(inventedClass)} {
		var files []string
		for n := range v.get(page).document().Descendants() {
			if href := attribute(n, "href"); n.Type == html.ElementNode && (strings.HasSuffix(href, ".csv") || strings.HasSuffix(href, ".json")) {
				files = append(files, href)
				assert.Equal(t, http.StatusOK, v.get(href).status, href)
			}
		}
		assert.Len(t, files, map[bool]int{true: 3, false: 2}[page != "/e/"+inventedSlug], "%s: the result twice, and of a class the proof of its draw", page)
	}
}

// exports are the addresses of the files of an event and a class.
func exports(event, class string) []string {
	return []string{
		"/e/" + event + "/results.csv", "/e/" + event + "/results.json",
		"/e/" + event + "/" + class + "/result.csv", "/e/" + event + "/" + class + "/result.json",
	}
}

// A file is sent once, small, and again when something has changed.
func TestAFileIsSentAgainOnlyWhenItHasChanged(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := hooking(f)
	v := visitor{fair: f}
	tags := make(map[string]string)
	for _, path := range exports(s.ref.Event, s.ref.Class) {
		plain := v.send(http.MethodGet, path, http.NoBody, "Accept-Encoding", "identity")
		tags[path] = plain.header.Get("ETag")
		require.NotEmpty(t, tags[path])
		assert.Empty(t, plain.header.Get("Content-Encoding"))
		packed := v.send(http.MethodGet, path, http.NoBody, "Accept-Encoding", "gzip")
		assert.Equal(t, "gzip", packed.header.Get("Content-Encoding"))
		assert.Equal(t, "Accept-Encoding", packed.header.Get("Vary"))
		assert.Equal(t, strings.TrimSuffix(tags[path], `"`)+`-gzip"`, packed.header.Get("ETag"), "two codings are two tags")
		assert.Equal(t, plain.body, unpacked(t, packed.body))
		known := v.send(http.MethodGet, path, http.NoBody, "If-None-Match", tags[path])
		assert.Equal(t, http.StatusNotModified, known.status)
		assert.Empty(t, known.body)
		asked := v.send(http.MethodHead, path, http.NoBody)
		assert.Equal(t, http.StatusOK, asked.status)
		assert.Empty(t, asked.body)
	}
	s.pull("250.125")
	for path, tag := range tags {
		changed := v.send(http.MethodGet, path, http.NoBody, "If-None-Match", tag)
		assert.Equal(t, http.StatusOK, changed.status)
		assert.NotEqual(t, tag, changed.header.Get("ETag"))
		assert.Contains(t, changed.body, "250.125")
	}
}

func unpacked(t testing.TB, packed string) string {
	t.Helper()
	reader, err := gzip.NewReader(strings.NewReader(packed))
	require.NoError(t, err)
	body, err := io.ReadAll(reader)
	require.NoError(t, err)
	return string(body)
}

// What is not there has no file: the answer is a page with a sentence.
func TestWhatIsNotThereHasNoFile(t *testing.T) {
	t.Parallel()
	v := visitor{fair: newFair(t)}
	for _, path := range slices.Concat(exports("no-such-event", "x"), exports(inventedSlug, "no-such-class")[2:]) {
		a := v.get(path)
		assert.Equal(t, http.StatusNotFound, a.status, path)
		assert.Empty(t, a.header.Get("Content-Disposition"))
		assert.Contains(t, a.header.Get("Content-Type"), "text/html")
		assert.Regexp(t, "There is no (event no-such-event|class no-such-class)", a.says())
	}
	empty := v.result("/e/"+otherSlug+"/results.json", otherSlug+"-results.json")
	assert.Empty(t, empty.Classes, "an event without classes has a file without classes")
	assert.NotNil(t, empty.Classes)
	require.Len(t, v.get("/e/"+otherSlug+"/results.csv").lines(otherSlug+"-results.csv"), 1)
}
