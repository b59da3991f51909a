package main

import (
	"context"
	"crypto/rand"
	"log/slog"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/api"
	"clayline/domain"
	"clayline/domain/desk"
	"clayline/postgres/pgtest"
	"clayline/webui"
)

// site is the invented event, served from a database of its own to a real browser.
type site struct {
	t       testing.TB
	ctx     context.Context
	store   desk.Store
	desk    *desk.Desk
	address string
}

const inventedSlug = "tarn-hollow-harvest-pull"

func newSite(t testing.TB) *site {
	t.Helper()
	s := emptySite(t)
	require.NoError(t, loadInvented(s.ctx, s.store, clock()))
	return s
}

// emptySite serves a database with nothing in it.
func emptySite(t testing.TB) *site {
	t.Helper()
	store := pgtest.Store(t)
	s := &site{t: t, ctx: t.Context(), store: store}
	s.desk = desk.New(store, clock, rand.Reader)
	quiet := slog.New(slog.DiscardHandler)
	programs := api.New(s.desk, clock, quiet, api.UsualPace())
	server := httptest.NewServer(mount(webui.New(s.desk, clock, quiet), programs))
	following, unfollow := context.WithCancel(context.Background())
	go follow(following, s.desk.Live(), store)
	t.Cleanup(func() { programs.Close(); unfollow(); server.Close() })
	s.address = server.URL
	return s
}

// link makes an entry link for a role.
func (s *site) link(role domain.Role) string {
	s.t.Helper()
	_, secret, err := s.desk.IssuePass(s.ctx, desk.Program(), inventedSlug, uuid.New(), role)
	require.NoError(s.t, err)
	return s.address + webui.EnterPath(secret)
}

// class reads a class of the event as it is stored.
func (s *site) class(slug string) *domain.Class {
	s.t.Helper()
	page, err := s.desk.ClassPage(s.ctx, desk.Ref{Event: inventedSlug, Class: slug})
	require.NoError(s.t, err)
	return &page.Class
}

// browser is a tab of a real Chromium.
type browser struct {
	t    testing.TB
	ctx  context.Context
	kill func() // ends the whole browser at once, as a laptop does whose battery is empty
}

// newBrowser opens a tab of the given size with scripts switched off: every page must work without.
func newBrowser(t testing.TB, width, height int64) *browser {
	t.Helper()
	b := openBrowser(t, time.Minute)
	b.do(chromedp.EmulateViewport(width, height))
	b.scripts(false)
	return b
}

// openBrowser starts a Chromium, as people have it, which is ended after the time at the latest.
func openBrowser(t testing.TB, most time.Duration, more ...chromedp.ExecAllocatorOption) *browser {
	t.Helper()
	options := append(slices.Concat(chromedp.DefaultExecAllocatorOptions[:], more),
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true))
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox)
	}
	if path := os.Getenv("CLAYLINE_CHROMIUM"); path != "" {
		options = append(options, chromedp.ExecPath(path))
	}
	ctx, cancel := context.WithTimeout(context.Background(), most)
	t.Cleanup(cancel)
	ctx, kill := chromedp.NewExecAllocator(ctx, options...)
	t.Cleanup(kill)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	return &browser{t: t, ctx: ctx, kill: kill}
}

// scripts switches the scripts of pages on or off.
func (b *browser) scripts(on bool) {
	b.t.Helper()
	_, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: !on})
	require.NoError(b.t, err)
}

func (b *browser) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	require.NoError(b.t, chromedp.Do(b.ctx, steps...))
}

func (b *browser) text(css string) string {
	b.t.Helper()
	text, err := chromedp.Run(b.ctx, chromedp.Text(chromedp.CSS(css)))
	require.NoError(b.t, err)
	return text
}

// picture keeps a picture of the page where CLAYLINE_PICTURES names a folder, for people to look at.
func (b *browser) picture(name string) {
	b.t.Helper()
	dir := os.Getenv("CLAYLINE_PICTURES")
	if dir == "" {
		return
	}
	// Chromium draws no picture of a page that is higher than this: of such a page there is one of its beginning.
	picture := chromedp.FullScreenshot(100)
	if evaluate[int](b, "document.documentElement.scrollHeight") > 16_000 {
		picture = chromedp.CaptureScreenshot()
	}
	image, err := chromedp.Run(b.ctx, picture)
	require.NoError(b.t, err)
	require.NoError(b.t, os.MkdirAll(dir, 0o750))
	require.NoError(b.t, os.WriteFile(filepath.Join(dir, name+".png"), image, 0o600))
}
