package main

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"sync"
	"time"

	"github.com/google/uuid"
)

// pageCommand measures reading.
type pageCommand struct {
	Rounds      int           `default:"5" help:"Alternating rounds."`
	While       time.Duration `default:"2s" help:"How long each side of a round lasts."`
	Connections int           `default:"64" help:"Readers at once."`
}

// classSize is how many entries the read class has: its page is about as long as that of a large class.
const classSize = 40

// Run reads the class page, and the same with the tag of what the reader has, against net/http with the same bytes.
func (c pageCommand) Run(ctx context.Context) error {
	h, err := open(ctx)
	if err != nil {
		return err
	}
	defer h.shut()
	page, err := c.prepare(ctx, h)
	if err != nil {
		return err
	}
	body, tag, err := fetch(ctx, page)
	if err != nil {
		return err
	}
	bare, err := h.listen(ctx, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("ETag", tag)
		if r.Header.Get("If-None-Match") == tag {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Header().Set("Content-Encoding", "gzip")
		w.Header().Set("Content-Length", fmt.Sprint(len(body)))
		_, _ = w.Write(body)
	}))
	if err != nil {
		return err
	}
	fmt.Printf("class page of %d entries, %d bytes compressed, %d connections, %d rounds of %v\n", classSize, len(body), c.Connections, c.Rounds, c.While)
	for what, have := range map[string]string{"class page": "", "class page, reader has it (304)": tag} {
		var ours, peers []sample
		for range c.Rounds {
			ours = append(ours, c.load(ctx, page, have))
			peers = append(peers, c.load(ctx, bare, have))
		}
		compare(what+" / plain net/http", ours, peers)
	}
	return ctx.Err()
}

// prepare makes the class with results for all but the last.
func (pageCommand) prepare(ctx context.Context, h *house) (address string, err error) {
	hook := uuid.New()
	class, err := h.class(ctx, "Read", classSize, hook)
	if err != nil {
		return "", err
	}
	for i := range classSize - 1 {
		next := uuid.New()
		if err := h.record(ctx, http.DefaultClient, class, hook, next, fmt.Sprintf("%d.%02d", 40+i, i)); err != nil {
			return "", err
		}
		hook = next
	}
	return h.address + "/e/load/read", nil
}

// fetch reads the page once, compressed as a browser gets it.
func fetch(ctx context.Context, address string) (body []byte, tag string, err error) {
	answer, err := ask(ctx, &http.Client{}, address, "")
	if err != nil {
		return nil, "", err
	}
	defer func() { _ = answer.Body.Close() }()
	body, err = io.ReadAll(answer.Body)
	return body, answer.Header.Get("ETag"), err
}

// ask sends one request; have is the tag of what the reader has.
func ask(ctx context.Context, client *http.Client, address, have string) (*http.Response, error) {
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, address, http.NoBody)
	if err != nil {
		return nil, err
	}
	request.Header.Set("Accept-Encoding", "gzip")
	if have != "" {
		request.Header.Set("If-None-Match", have)
	}
	return client.Do(request) // #nosec G704 -- an address of this program's own servers
}

// load reads as fast as it can for a while over kept connections.
func (c pageCommand) load(ctx context.Context, address, have string) sample {
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: c.Connections, DisableCompression: true}}
	defer client.CloseIdleConnections()
	began := clock()
	times := make([][]time.Duration, c.Connections)
	var readers sync.WaitGroup
	for i := range times {
		readers.Go(func() {
			for clock().Sub(began) < c.While && ctx.Err() == nil {
				sent := clock()
				answer, err := ask(ctx, client, address, have)
				if err != nil {
					return
				}
				_, _ = io.Copy(io.Discard, answer.Body)
				_ = answer.Body.Close()
				times[i] = append(times[i], clock().Sub(sent))
			}
		})
	}
	readers.Wait()
	var all []time.Duration
	for _, t := range times {
		all = append(all, t...)
	}
	return sampled(all, clock().Sub(began))
}
