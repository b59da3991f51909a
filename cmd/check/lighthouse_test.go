package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// report is a report of Lighthouse with these ratings, in the order in which they are printed. One audit of SEO took from it.
func report(ratings ...string) string {
	categories := []string{"performance", "accessibility", "best-practices", "seo"}
	var list []string
	for i, r := range ratings {
		list = append(list, fmt.Sprintf(`%q: {"title": "Category %d", "score": %s, "auditRefs": [{"id": "a%d", "weight": 1}, {"id": "free", "weight": 0}]}`, categories[i], i+1, r, i+1))
	}
	return `{"categories": {` + strings.Join(list, ", ") + `}, "audits": {
		"a1": {"title": "fast", "score": 1}, "a2": {"title": "for all", "score": null}, "a4": {"title": "found", "score": 0.5}, "free": {"title": "unrated", "score": 0}}}`
}

func TestJudge(t *testing.T) {
	for _, row := range []struct{ name, report, err, prints string }{
		{
			name: "all that is asked for", report: report("0.95", "1", "1", "1"),
			prints: "Category 1       95 of 100\nCategory 2      100 of 100\nCategory 3      100 of 100\nCategory 4      100 of 100\n  found\n",
		},
		{
			name: "one too low", report: report("0.94", "1", "1", "1"), err: "too low: performance; mend what stands below each",
			prints: "Category 1       94 of 100\nCategory 2      100 of 100\nCategory 3      100 of 100\nCategory 4      100 of 100\n  found\n",
		},
		{
			name: "only speed has to do with the machine", report: report("1", "0.99", "1", "0.96"), err: "too low: accessibility, seo; mend what stands below each",
			prints: "Category 1      100 of 100\nCategory 2       99 of 100\nCategory 3      100 of 100\nCategory 4       96 of 100\n  found\n",
		},
		{
			name: "what was not rated is not passed over", report: report("1", "1", "null"), err: "too low: best-practices, seo; mend what stands below each",
			prints: "Category 1      100 of 100\nCategory 2      100 of 100\nbest-practices was not rated\nseo was not rated\n",
		},
		{name: "no page", report: `{"runtimeError": {"message": "the page did not load"}}`, err: "the page could not be rated: the page did not load"},
		{name: "nothing", report: `{}`, err: "the page could not be rated: "},
		{name: "no report", report: `{`, err: "the report of Lighthouse cannot be read: unexpected end of JSON input"},
	} {
		t.Run(row.name, func(t *testing.T) {
			var out bytes.Buffer
			err := judge(&out, []byte(row.report))
			if row.err == "" {
				require.NoError(t, err)
			} else {
				require.EqualError(t, err, row.err)
			}
			assert.Equal(t, row.prints, out.String())
		})
	}
}

// The program is built, its demo served, and the pages rated while that runs; then the demo is ended. A machine that is busy
// makes a page slow, so that it is rated again; one that stays too slow is too slow.
func TestLighthouse(t *testing.T) {
	rate := func(speeds ...string) ([]string, string, error) { return rateOnce(t, speeds) }
	ran, out, err := rate("1", "1", "1", "1")
	require.NoError(t, err)
	require.Len(t, ran, 1+len(rated()))
	assert.Equal(t, "go build", ran[0])
	for i, page := range rated() {
		assert.Regexp(t, `^/opt/lighthouse.js http://[0-9.:]+`+page+`$`, ran[1+i])
	}
	assert.Contains(t, out, "100 of 100")
	ran, out, err = rate("0.8", "0.97", "1", "1", "1")
	require.NoError(t, err)
	assert.Len(t, ran, 1+len(rated())+1)
	assert.Contains(t, out, "80 of 100")
	ran, _, err = rate("1", "0.8", "0.8", "0.94", "1")
	require.EqualError(t, err, rated()[1]+": too low: performance; mend what stands below each")
	assert.Len(t, ran, 5, "not for ever")
}

// rateOnce runs the step, in which pages are rated as fast as the speeds say, one after the other.
func rateOnce(t *testing.T, speeds []string) ([]string, string, error) {
	t.Helper()
	var ran []string
	var out bytes.Buffer
	served := make(chan struct{})
	b := bench{root: t.TempDir(), out: &out, env: []string{"CLAYLINE_CHROMIUM=/usr/bin/chromium", "CLAYLINE_LIGHTHOUSE=/opt/lighthouse.js"}}
	b.run = func(ctx context.Context, c command) error {
		switch c.args[0] {
		case "go":
			ran = append(ran, strings.Join(c.args[:2], " "))
		case "node":
			ran = append(ran, c.args[1]+" "+c.args[2])
			assert.Contains(t, c.env, "CHROME_PATH=/usr/bin/chromium")
			path, ok := strings.CutPrefix(c.args[5], "--output-path=")
			require.True(t, ok)
			speed := speeds[0]
			speeds = speeds[1:]
			return os.WriteFile(path, []byte(report(speed, "1", "1", "1")), 0o600)
		default:
			defer close(served)
			server := httptest.NewUnstartedServer(http.HandlerFunc(func(http.ResponseWriter, *http.Request) {}))
			require.NoError(t, server.Listener.Close())
			var err error
			server.Listener, err = listen(ctx, c.args[3])
			require.NoError(t, err)
			server.Start()
			<-ctx.Done()
			server.Close()
		}
		return nil
	}
	err := lighthouse(t.Context(), b)
	<-served
	return ran, out.String(), err
}

// A demo that does not start is said at once and not waited for.
func TestLighthouseSaysThatTheDemoHasEnded(t *testing.T) {
	b := bench{run: func(_ context.Context, c command) error {
		if filepath.Base(c.args[0]) == "clayline" {
			return errors.New("no database")
		}
		return nil
	}}
	require.EqualError(t, lighthouse(t.Context(), b), "what was to run meanwhile has ended\nno database")

	b, _, _ = calls(t.TempDir(), errors.New("it does not build"))
	require.EqualError(t, lighthouse(t.Context(), b), "it does not build")
}
