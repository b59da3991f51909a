package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"sync"
	"time"

	"github.com/google/uuid"
)

// pageCommand measures reading: what a crowd at the fence does, who look at one class at once. With the defaults it
// takes about a minute.
type pageCommand struct {
	Rounds      int           `default:"5" help:"Alternating rounds."`
	While       time.Duration `default:"2s" help:"How long each side of a round lasts."`
	Connections int           `default:"64" help:"Readers at once."`
	Nginx       string        `default:"nginx" help:"The nginx to measure against too; none where there is none of that name."`
}

// classSize is how many entries the read class has: its page is about as long as that of a large class. Length matters,
// because a short page would measure little but the reading of requests.
const classSize = 40

// Run reads the class page, and the same with the tag of what the reader has, against net/http with the same bytes. The
// peer does the least that any server must: it compares a tag and writes bytes that it has. So the ratio is what
// routing, headers and the shelf cost, and cannot come to more than about 1.
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
	peers := []peer{{"plain net/http", bare}}
	if nginx, err := h.nginx(ctx, c.Nginx, body); err == nil {
		peers = append(peers, peer{"nginx gzip_static", nginx})
	} else {
		fmt.Println("without nginx:", err)
	}
	fmt.Printf("class page of %d entries, %d bytes compressed, %d connections, %d rounds of %v\n", classSize, len(body), c.Connections, c.Rounds, c.While)
	// Once for a reader who comes for the first time, and once for one who has the page already, as most do who come
	// again.
	for _, side := range []struct {
		what, have string
		status     int
	}{{"class page", "", http.StatusOK}, {"class page, reader has it (304)", tag, http.StatusNotModified}} {
		var ours []sample
		theirs := make([][]sample, len(peers))
		for range c.Rounds {
			// One after the other and never at once, because they would take the processors from each other.
			mine, err := c.load(ctx, page, side.have, side.status)
			if err != nil {
				return err
			}
			ours = append(ours, mine)
			for i, p := range peers {
				have, err := p.has(ctx, side.have)
				if err != nil {
					return err
				}
				took, err := c.load(ctx, p.address, have, side.status)
				if err != nil {
					return err
				}
				theirs[i] = append(theirs[i], took)
			}
		}
		for i, p := range peers {
			compare(side.what+" / "+p.name, ours, theirs[i])
		}
	}
	return ctx.Err()
}

// peer is another server with the same bytes.
type peer struct{ name, address string }

// has is the tag that a reader of the peer has where one of ours has a tag: each names the same bytes in its own way.
func (p peer) has(ctx context.Context, have string) (string, error) {
	if have == "" {
		return "", nil
	}
	_, tag, err := fetch(ctx, p.address)
	return tag, err
}

// prepare makes the class with results for all but the last. With one left to pull the page has all of its parts: what
// was done, who is on the track and how they stand.
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

// fetch reads the page once, compressed as a browser gets it. It asks for gzip itself, so that the body is left as it
// came over the wire and the peer can send the same.
func fetch(ctx context.Context, address string) (body []byte, tag string, err error) {
	answer, err := ask(ctx, &http.Client{}, address, "")
	if err != nil {
		return nil, "", err
	}
	defer func() { _ = answer.Body.Close() }()
	if answer.StatusCode != http.StatusOK {
		return nil, "", fmt.Errorf("the page answers %s", answer.Status)
	}
	body, err = io.ReadAll(answer.Body)
	return body, answer.Header.Get("ETag"), err
}

// ask sends one request; have is the tag of what the reader has. The body is the caller's to close.
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

// load reads as fast as it can for a while over kept connections, and returns what that gave. Every reader sends its
// next request when the last is answered, so that there are never more under way than connections. A reader that fails
// stops.
func (c pageCommand) load(ctx context.Context, address, have string, status int) (sample, error) {
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: c.Connections, DisableCompression: true}}
	defer client.CloseIdleConnections()
	began := clock()
	times, errs := make([][]time.Duration, c.Connections), make([]error, c.Connections)
	var readers sync.WaitGroup
	for i := range times {
		readers.Go(func() {
			for clock().Sub(began) < c.While && ctx.Err() == nil {
				sent := clock()
				answer, err := ask(ctx, client, address, have)
				if err != nil {
					errs[i] = err
					return
				}
				_, _ = io.Copy(io.Discard, answer.Body)
				_ = answer.Body.Close()
				if answer.StatusCode != status {
					errs[i] = fmt.Errorf("%s answers %s, and %d was meant", address, answer.Status, status)
					return
				}
				times[i] = append(times[i], clock().Sub(sent))
			}
		})
	}
	readers.Wait()
	var all []time.Duration
	for _, t := range times {
		all = append(all, t...)
	}
	return sampled(all, clock().Sub(began)), errors.Join(errs...)
}
