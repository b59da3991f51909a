package main

import (
	"context"
	"crypto/rand"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"time"

	"github.com/google/uuid"

	"clayline/api"
	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
	"clayline/migrations"
	"clayline/postgres"
	"clayline/postgres/private"
	"clayline/webui"
)

// house is a whole Clayline on a private database of its own, with an event to load.
type house struct {
	database *private.Server
	store    *postgres.Store
	desk     *desk.Desk
	event    domain.Event
	dir      string
	address  string
	close    []func()
}

// open starts the database and the server.
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
	if h.database, err = private.Start(ctx, private.Options{Dir: h.dir + "/data", BinDir: os.Getenv("CLAYLINE_POSTGRES_BIN")}); err != nil {
		return nil, err
	}
	h.close = append(h.close, func() { _ = h.database.Stop(context.WithoutCancel(ctx)) })
	if err := postgres.Migrate(ctx, h.database.URL(), migrations.Files); err != nil {
		return nil, err
	}
	if h.store, err = postgres.Open(ctx, h.database.URL()); err != nil {
		return nil, err
	}
	h.close = append(h.close, h.store.Close)
	h.desk = desk.New(h.store, clock, rand.Reader)
	following, unfollow := context.WithCancel(ctx)
	go func() { _ = h.desk.Live().Follow(following, h.store) }()
	h.close = append(h.close, unfollow)
	quiet := slog.New(slog.DiscardHandler)
	programs := api.New(h.desk, clock, quiet)
	mux := http.NewServeMux()
	mux.Handle("/", webui.New(h.desk, clock, quiet).Handler())
	mux.Handle("/api/", programs.Handler())
	h.close = append(h.close, programs.Close)
	h.address, err = h.listen(ctx, mux)
	return h, err
}

// listen serves a handler on a free port of this machine.
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

// shut ends everything, the last first.
func (h *house) shut() {
	for i := range h.close {
		h.close[len(h.close)-1-i]()
	}
}

// plan puts the event on the server.
func (h *house) plan(ctx context.Context) error {
	h.event = domain.Event{
		ID: uuid.New(), Name: "Load", Place: "This machine", Zone: "UTC",
		Tracks:   []domain.Track{{ID: uuid.New(), Name: "Track 1"}},
		Sleds:    []domain.Sled{{ID: uuid.New(), Name: "Sled", Gears: 4, StartHoles: 3}},
		Sessions: []domain.Session{{ID: uuid.New(), Name: "Session", Starts: clock()}},
	}
	_, err := h.desk.PlanEvent(ctx, desk.Program(), uuid.New(), h.event)
	return err
}

// class plans a class of the given size, draws it, freezes a setting and calls the first puller to the given hook.
func (h *house) class(ctx context.Context, name string, size int, hook uuid.UUID) (desk.Ref, error) {
	rules, err := doc.ReadyMadeRuleSet("floating-m")
	if err != nil {
		return desk.Ref{}, err
	}
	receipt, err := h.desk.PlanClass(ctx, desk.Program(), "load", uuid.New(), domain.PlanClass{
		Class: uuid.New(), Session: h.event.Sessions[0].ID, Track: h.event.Tracks[0].ID, Name: name, Rules: rules, Sled: h.event.Sleds[0],
	})
	if err != nil {
		return desk.Ref{}, err
	}
	ref := desk.Ref{Event: "load", Class: receipt.Class.Slug}
	box, err := domain.ParseWeight("9000 kg")
	if err != nil {
		return ref, err
	}
	trip, err := domain.ParseDistance("60 m", domain.Metre)
	if err != nil {
		return ref, err
	}
	round := uuid.New()
	var actions []domain.Action
	for i := range size {
		actions = append(actions, domain.AddEntry{Entry: uuid.New(), Number: fmt.Sprint(i + 1), Details: domain.Details{
			Puller: fmt.Sprintf("Puller number %d", i+1), Vehicle: fmt.Sprintf("Vehicle %d", i+1), Home: "Here"}})
	}
	actions = append(actions,
		domain.DrawClass{Round: round, Seed: "load"},
		domain.DraftSetting{Round: round, Setting: domain.Setting{Box: box, Gear: 1, StartHole: 1, Trip: trip}},
		domain.FreezeSetting{Round: round, Revision: 1}, domain.Call{Hook: hook})
	for _, a := range actions {
		if _, err := h.desk.Act(ctx, desk.Program(), ref, uuid.New(), a); err != nil {
			return ref, err
		}
	}
	return ref, nil
}
