package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"time"

	"github.com/google/uuid"
)

// house is a whole Clayline as a process of its own, on a private database in a folder of its own, with an event to
// load. A process of its own, since in ours the two would share a scheduler and a collector, and the load would slow
// what it measures.
type house struct {
	dir     string
	address string
	secret  string // of a program's pass for the desk
	pid     int
	event   struct {
		Tracks, Sleds, Sessions []struct {
			ID uuid.UUID `json:"id"`
		}
	}
	close []func()
}

// eventPath is the event that is loaded. The slug comes of the name "Load", which [open] gives it.
const eventPath = "/api/v1/events/load"

// open builds and starts the program, enters its desk and plans the event. What was opened before an error is shut
// again. The build is that of the tree in which the command is run.
func open(ctx context.Context) (_ *house, err error) {
	h := &house{}
	defer func() {
		if err != nil {
			h.shut()
		}
	}()
	if h.dir, err = os.MkdirTemp("", "clayload-"); err != nil {
		return nil, err
	}
	h.close = append(h.close, func() { _ = os.RemoveAll(h.dir) })
	if err := os.Chmod(h.dir, 0o755); err != nil { // #nosec G302 -- to be reached by the database's user
		return nil, err
	}
	link, err := h.start(ctx)
	if err != nil {
		return nil, err
	}
	var entered struct{ Secret string }
	if err := h.send(ctx, "/api/v1/passes/enter", map[string]any{"link": link, "device": "load"}, &entered); err != nil {
		return nil, err
	}
	h.secret = entered.Secret
	if err := h.send(ctx, "/api/v1/events", map[string]any{
		"name": "Load", "place": "This machine", "zone": "UTC", "tracks": []any{map[string]any{"name": "Track 1"}},
		"sleds":    []any{map[string]any{"name": "Sled", "gears": 4, "start_holes": 3}},
		"sessions": []any{map[string]any{"name": "Session", "starts": "2026-09-19T17:00:00Z"}},
	}, nil); err != nil {
		return nil, err
	}
	return h, h.get(ctx, eventPath, &h.event)
}

// What the program prints about where it serves, as people read it too:
//
//	Clayline serves http://127.0.0.1:40123
//	  http://127.0.0.1:40123/enter/q3…
var (
	serving = regexp.MustCompile(`^Clayline serves (\S+)`)
	entry   = regexp.MustCompile(`^\s+(http\S+/enter/\S+)`)
)

// start builds the program and starts it, and returns the entry link of its desk. It fails when the program ends before
// it serves; what it said about that is on standard error. The port is one that is free, and a database that the
// environment names is not touched. The program outlives ctx, so that it is ended in order.
func (h *house) start(ctx context.Context) (link string, err error) {
	program := filepath.Join(h.dir, "clayline")
	build := exec.CommandContext(ctx, "go", "build", "-o", program, "clayline/cmd/clayline") // #nosec G204 -- our own program
	build.Stderr = os.Stderr
	if err := build.Run(); err != nil {
		return "", fmt.Errorf("building the program: %w", err)
	}
	serve := exec.CommandContext(context.WithoutCancel(ctx), program, "serve", "--addr", "127.0.0.1:0", "--data", h.data()) // #nosec G204 -- our own program
	// An empty DATABASE_URL is none: the program then starts its private database.
	serve.Stderr, serve.Env = os.Stderr, append(os.Environ(), "DATABASE_URL=")
	out, err := serve.StdoutPipe()
	if err != nil {
		return "", err
	}
	if err := serve.Start(); err != nil {
		return "", err
	}
	h.pid = serve.Process.Pid
	h.close = append(h.close, func() {
		_ = serve.Process.Signal(os.Interrupt)
		_ = serve.Wait()
	})
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if m := serving.FindStringSubmatch(lines.Text()); m != nil {
			h.address = m[1]
		}
		if m := entry.FindStringSubmatch(lines.Text()); m != nil {
			link = m[1]
		}
		if strings.HasPrefix(lines.Text(), "Press Ctrl-C") {
			return link, nil
		}
	}
	return "", errors.New("the program ended before it served")
}

// data is the program's data folder; its database's socket is in run below it. Nothing is kept in it after the run.
func (h *house) data() string { return filepath.Join(h.dir, "data") }

// database is the address of the private database, for the peer. It is reached over the socket, by the owner of the
// tables, since pgbench makes some of its own. Both sides thus write to the same disk, with the same settings of the
// same server.
func (h *house) database() string {
	return fmt.Sprintf("host=%s user=clayline_owner dbname=clayline", filepath.Join(h.data(), "run"))
}

// listen serves a handler of this program on a free port of this machine. It is closed with the house.
func (h *house) listen(ctx context.Context, handler http.Handler) (string, error) {
	listener, err := (&net.ListenConfig{}).Listen(ctx, "tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	server := &http.Server{Handler: handler, ReadHeaderTimeout: time.Minute}
	go func() { _ = server.Serve(listener) }()
	h.close = append(h.close, func() { _ = server.Close() })
	return "http://" + listener.Addr().String(), nil
}

// free is an address of this machine where nobody listens.
func free(ctx context.Context) (string, error) {
	listener, err := (&net.ListenConfig{}).Listen(ctx, "tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	return listener.Addr().String(), listener.Close()
}

// shut ends everything, the last first. The program is thus stopped before its folder is removed.
func (h *house) shut() {
	for i := range h.close {
		h.close[len(h.close)-1-i]()
	}
}

// send writes to the interface for programs and reads the answer. Into nil, the answer is thrown away; of 400 and above
// it is the error.
func (h *house) send(ctx context.Context, path string, body, into any) error {
	return h.write(ctx, http.DefaultClient, http.MethodPost, path, body, into)
}

// write sends one write with a fresh key. The key is fresh so that each is stored: one sent again would be answered
// without storing anything.
func (h *house) write(ctx context.Context, client *http.Client, method, path string, body, into any) error {
	sent, err := json.Marshal(body)
	if err != nil {
		return err
	}
	request, err := http.NewRequestWithContext(ctx, method, h.address+path, bytes.NewReader(sent))
	if err != nil {
		return err
	}
	request.Header.Set("Content-Type", "application/json")
	request.Header.Set("Idempotency-Key", uuid.NewString())
	if h.secret != "" {
		request.Header.Set("Authorization", "Bearer "+h.secret)
	}
	return answer(client, request, into)
}

// get reads from the interface for programs. It needs no pass: what is read here is public.
func (h *house) get(ctx context.Context, path string, into any) error {
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, h.address+path, http.NoBody)
	if err != nil {
		return err
	}
	return answer(http.DefaultClient, request, into)
}

// answer does a request and reads what it gave. The whole answer is read, so that the connection can be used again.
func answer(client *http.Client, request *http.Request, into any) error {
	got, err := client.Do(request) // #nosec G704 -- an address of this program's own server
	if err != nil {
		return err
	}
	defer func() { _ = got.Body.Close() }()
	said, err := io.ReadAll(got.Body)
	switch {
	case err != nil:
		return err
	case got.StatusCode >= http.StatusBadRequest:
		return fmt.Errorf("%s %s: %s", request.Method, request.URL.Path, said)
	case into == nil:
		return nil
	default:
		return json.Unmarshal(said, into)
	}
}

// class plans a class of the given size, draws it, freezes a setting and calls the first puller to the given hook. It
// returns the path of the class. The rules are floating, without a line to reach, so that any distance can be stored.
func (h *house) class(ctx context.Context, name string, size int, hook uuid.UUID) (string, error) {
	var planned struct{ Class string }
	if err := h.send(ctx, eventPath+"/classes", map[string]any{
		"name": name, "rules": "floating-m", "session": h.event.Sessions[0].ID, "track": h.event.Tracks[0].ID, "sled": h.event.Sleds[0].ID,
	}, &planned); err != nil {
		return "", err
	}
	class, round := eventPath+"/classes/"+planned.Class, uuid.NewString()
	for i := range size {
		if err := h.send(ctx, class+"/entries", map[string]any{
			"number": fmt.Sprint(i + 1), "puller": fmt.Sprintf("Puller number %d", i+1), "vehicle": fmt.Sprintf("Vehicle %d", i+1),
		}, nil); err != nil {
			return "", err
		}
	}
	setting := class + "/rounds/" + round + "/setting"
	for _, w := range []struct {
		method, path string
		body         map[string]any
	}{
		{http.MethodPost, class + "/draw", map[string]any{"seed": "load", "round": round}},
		{http.MethodPut, setting, map[string]any{
			"box": map[string]any{"figures": "9000", "unit": "kg"}, "slabs": map[string]any{"left": 1, "middle": 0, "right": 1},
			"gear": 1, "start_hole": 1, "trip": map[string]any{"figures": "60", "unit": "m"},
		}},
		{http.MethodPost, setting + "/freeze", map[string]any{"revision": 1}},
		{http.MethodPost, class + "/hooks", map[string]any{"id": hook}},
	} {
		if err := h.write(ctx, http.DefaultClient, w.method, w.path, w.body, nil); err != nil {
			return "", err
		}
	}
	return class, nil
}

// record stores one distance and names the hook that is called next. The hook after the last has an id too, which then
// names nothing.
func (h *house) record(ctx context.Context, client *http.Client, class string, hook, next uuid.UUID, figures string) error {
	return h.write(ctx, client, http.MethodPost, class+"/hooks/"+hook.String()+"/result", map[string]any{
		"result": map[string]any{"outcome": "measured", "distance": map[string]any{"figures": figures, "unit": "m"}}, "next": next,
	}, nil)
}
