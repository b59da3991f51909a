package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// rated are the pages of the demo that are rated: those that a stand full of phones has open, one of them in the second
// language too, and the one that a search finds.
func rated() []string {
	const event = "/e/tarn-hollow-harvest-pull"
	return []string{event + "/8200-lb-field-stock", "/de" + event + "/8200-lb-field-stock", event + "/pits", event}
}

// leastSpeed is what the category of speed must reach, of 100, on a machine that is shared. The others measure nothing,
// and must reach 100.
const leastSpeed = 95

// speed is the name of that category in a report.
const speed = "performance"

// ratings is how often a page may be rated until it is good enough. How fast it is stands and falls with what else the
// machine does, which can make a page slower and never faster.
const ratings = 3

// readiness bounds how long the demo may take to answer, on a machine that has other things to do.
const readiness = 3 * time.Minute

// lighthouse builds the program, serves its demo, and has the page rated as a phone loads it.
func lighthouse(ctx context.Context, b bench) (err error) {
	folder, err := os.MkdirTemp("", "check-lighthouse-")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	// The database does not run as root, and has to reach its folder.
	if err := os.Chmod(folder, 0o755); err != nil { // #nosec G302 -- as said
		return err
	}
	program, report := filepath.Join(folder, "clayline"), filepath.Join(folder, "report.json")
	if err := b.goes(ctx, "build", "-o", program, "./cmd/clayline"); err != nil {
		return err
	}
	host, err := freeHost(ctx)
	if err != nil {
		return err
	}
	serve := command{args: []string{program, "demo", "--addr", host, "--data", filepath.Join(folder, "data")}, folder: b.root, env: b.env}
	return b.during(ctx, serve, func(ctx context.Context) error {
		if err := answers(ctx, "http://"+host); err != nil {
			return err
		}
		for _, page := range rated() {
			if err := b.rate(ctx, "http://"+host+page, report); err != nil {
				return fmt.Errorf("%s: %w", page, err)
			}
		}
		return nil
	})
}

// rate has a page rated until it is good enough, or [ratings] times.
func (b bench) rate(ctx context.Context, page, report string) error {
	fmt.Fprintln(b.out, page)
	for left := ratings; ; left-- {
		if err := b.run(ctx, rating(b, page, report)); err != nil {
			return err
		}
		text, err := os.ReadFile(report) // #nosec G304 -- a file that was made here
		if err != nil {
			return err
		}
		if err := judge(b.out, text); err == nil || left == 1 {
			return err
		}
	}
}

// rating is the command that has the page rated. Chromium's sandbox does not start as root, and sees no page but ours.
func rating(b bench, page, report string) command {
	return command{
		args: []string{
			"node", b.setting(lighthouseSetting), page, "--quiet", "--output=json", "--output-path=" + report,
			"--chrome-flags=--headless=new --no-sandbox",
		},
		folder: b.root,
		env:    append(slices.Clone(b.env), "CHROME_PATH="+b.setting(chromiumSetting)),
	}
}

// setting is a setting that the needs gave.
func (b bench) setting(name string) string {
	for _, pair := range b.env {
		if value, ok := strings.CutPrefix(pair, name+"="); ok {
			return value
		}
	}
	return ""
}

// during does something while a command runs, and ends the command then. Should the command end before, that is the failure.
func (b bench) during(ctx context.Context, c command, do func(context.Context) error) error {
	ctx, stop := context.WithCancelCause(ctx)
	ended := make(chan struct{})
	running, end := context.WithCancel(ctx)
	defer func() { end(); <-ended; stop(nil) }()
	go func() {
		defer close(ended)
		if err := b.run(running, c); running.Err() == nil {
			stop(errors.Join(errors.New("what was to run meanwhile has ended"), err))
		}
	}()
	err := do(ctx)
	if cause := context.Cause(ctx); err != nil && cause != nil {
		return cause
	}
	return err
}

// listen listens at an address of this machine.
func listen(ctx context.Context, host string) (net.Listener, error) {
	return (&net.ListenConfig{}).Listen(ctx, "tcp", host)
}

// freeHost is an address of this machine where nobody listens.
func freeHost(ctx context.Context) (string, error) {
	l, err := listen(ctx, "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	return l.Addr().String(), l.Close()
}

// answers waits until the page is there.
func answers(ctx context.Context, page string) error {
	ctx, done := context.WithTimeout(ctx, readiness)
	defer done()
	again := time.NewTicker(100 * time.Millisecond)
	defer again.Stop()
	for {
		if there(ctx, page) {
			return nil
		}
		select {
		case <-ctx.Done():
			return fmt.Errorf("%s does not answer: %w", page, ctx.Err())
		case <-again.C:
		}
	}
}

// there reports whether the page is answered with.
func there(ctx context.Context, page string) bool {
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, page, http.NoBody)
	if err != nil {
		return false
	}
	response, err := http.DefaultClient.Do(request)
	if err != nil {
		return false
	}
	return response.Body.Close() == nil && response.StatusCode == http.StatusOK
}

// verdict is what we read of Lighthouse's report.
type verdict struct {
	RuntimeError struct{ Message string }
	Categories   map[string]struct {
		Title     string
		Score     *float64 // 0 to 1, nil where something could not be measured
		AuditRefs []struct {
			ID     string
			Weight float64
		}
	}
	Audits map[string]struct {
		Title string
		Score *float64
	}
}

// judge prints the rating of each category with what took from it, and returns those that are too low:
//
//	Performance     100 of 100
//	SEO              92 of 100
//	  Document does not have a valid `rel=canonical`
func judge(out io.Writer, report []byte) error {
	var v verdict
	if err := json.Unmarshal(report, &v); err != nil {
		return fmt.Errorf("the report of Lighthouse cannot be read: %w", err)
	}
	if v.RuntimeError.Message != "" || len(v.Categories) == 0 {
		return fmt.Errorf("the page could not be rated: %s", v.RuntimeError.Message)
	}
	var low []string
	for _, id := range []string{speed, "accessibility", "best-practices", "seo"} {
		c, ok := v.Categories[id]
		if !ok || c.Score == nil {
			low = append(low, id)
			fmt.Fprintf(out, "%s was not rated\n", id)
			continue
		}
		points := int(*c.Score*100 + 0.5)
		fmt.Fprintf(out, "%-14s %4d of 100\n", c.Title, points)
		if points < 100 && id != speed || points < leastSpeed {
			low = append(low, id)
		}
		for _, ref := range c.AuditRefs {
			if a := v.Audits[ref.ID]; ref.Weight > 0 && a.Score != nil && *a.Score < 1 {
				fmt.Fprintf(out, "  %s\n", a.Title)
			}
		}
	}
	if len(low) > 0 {
		return fmt.Errorf("too low: %s; mend what stands below each", strings.Join(low, ", "))
	}
	return nil
}
