package main

import (
	"bytes"
	"crypto/rand"
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
	"clayline/postgres"
	"clayline/postgres/pgtest"
	"clayline/webui"
)

// fair is two events on a database of its own, served over HTTP. Their programmes are empty: a test plans the classes
// that it talks about.
type fair struct {
	*site
	store   *postgres.Store
	sql     *pgxpool.Pool // the database as its owner sees it
	loader  *loader       // of the first event
	other   domain.Event
	handler http.Handler
	named   atomic.Int64 // classes so far, so that each has a name of its own
}

const otherSlug = "lower-marsh-plough-day"

// newFair plans both events. A request that fails on the server fails the test: whatever people send, they get a sentence.
func newFair(t testing.TB) *fair {
	t.Helper()
	f := &fair{site: &site{t: t, ctx: t.Context()}}
	url := pgtest.Database(t)
	var err error
	f.store, err = postgres.Open(f.ctx, url)
	require.NoError(t, err)
	t.Cleanup(f.store.Close)
	f.sql, err = pgxpool.New(f.ctx, url)
	require.NoError(t, err)
	t.Cleanup(f.sql.Close)
	f.serve(clock)
	f.loader = &loader{desk: f.desk}
	require.NoError(t, f.loader.plan(f.ctx, clock()))
	f.other = domain.Event{
		ID: uuid.New(), Name: "Lower Marsh Plough Day", Place: "Lower Marsh", Zone: "Europe/Amsterdam",
		Tracks: []domain.Track{{ID: uuid.New(), Name: "Field"}}, Sleds: []domain.Sled{{ID: uuid.New(), Name: "Old Anchor", Gears: 2, StartHoles: 1}},
		Sessions: []domain.Session{{ID: uuid.New(), Name: "Afternoon", Starts: clock().UTC().Truncate(time.Hour)}},
	}
	_, err = f.desk.PlanEvent(f.ctx, desk.Program(), uuid.New(), f.other)
	require.NoError(t, err)
	return f
}

// serve serves the database by a clock.
func (f *fair) serve(now func() time.Time) {
	f.desk = desk.New(f.store, now, rand.Reader, brotliCoding())
	failures := &failures{}
	f.handler = webui.New(f.desk, now, slog.New(slog.NewTextHandler(failures, nil))).Handler()
	server := httptest.NewServer(f.handler)
	f.t.Cleanup(func() {
		server.Close()
		require.Empty(f.t, failures.text(), "nothing fails on the server")
	})
	f.address = server.URL
}

// later is the same fair some time later, served by a program that was started in between.
func (f *fair) later(by time.Duration) *fair {
	late := &fair{site: &site{t: f.t, ctx: f.ctx}, store: f.store, sql: f.sql, loader: f.loader, other: f.other}
	late.serve(func() time.Time { return clock().Add(by) })
	return late
}

// failures is what the site logs: only what failed on the server.
type failures struct {
	mu   sync.Mutex
	said bytes.Buffer
}

func (f *failures) Write(p []byte) (int, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.said.Write(p)
}

func (f *failures) text() string {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.said.String()
}

// newSecret is the secret of a new entry link at an event, "" for all of them.
func (f *fair) newSecret(event string, role domain.Role) string {
	f.t.Helper()
	_, secret, err := f.desk.IssuePass(f.ctx, desk.Program(), event, uuid.New(), role)
	require.NoError(f.t, err)
	return secret
}

// newPass is the id of a link for the cab that nobody has used.
func (f *fair) newPass(event string) uuid.UUID {
	f.t.Helper()
	p, _, err := f.desk.IssuePass(f.ctx, desk.Program(), event, uuid.New(), domain.Cab)
	require.NoError(f.t, err)
	return p.ID
}

// pass lets a device in at an event, "" for all of them, and returns what it is in the eyes of the desk.
func (f *fair) pass(event string, role domain.Role) (by desk.By, cookie string) {
	f.t.Helper()
	_, cookie, err := f.desk.Enter(f.ctx, uuid.New(), f.newSecret(event, role), "the "+role.String()+"'s laptop", desk.Browser)
	require.NoError(f.t, err)
	by, err = f.desk.Who(f.ctx, cookie, desk.Browser)
	require.NoError(f.t, err)
	return by, cookie
}

// as is a device with a pass for a role at the first event.
func (f *fair) as(role domain.Role) visitor {
	f.t.Helper()
	_, cookie := f.pass(inventedSlug, role)
	return visitor{fair: f, cookie: cookie}
}

// lines is how many lines all journals have. Each change of anything is one.
func (f *fair) lines() (n int64) {
	f.t.Helper()
	require.NoError(f.t, f.sql.QueryRow(f.ctx, "SELECT count(*) FROM journal").Scan(&n))
	return n
}

// scene is a class of the first event, brought to where a test needs it.
type scene struct {
	*fair
	ref desk.Ref
}

// stands plans a class of four and brings it somewhere; see below.
type stands func(*fair) *scene

// plan plans a class under a ready-made rule set and enters 41, 7, 23 and 7b.
func (f *fair) plan(rules string) *scene {
	f.t.Helper()
	set, err := doc.ReadyMadeRuleSet(rules)
	require.NoError(f.t, err)
	return f.planUnder(set)
}

// planUnder is plan with a rule set of the test's own.
func (f *fair) planUnder(set domain.RuleSet) *scene {
	f.t.Helper()
	receipt, err := f.desk.PlanClass(f.ctx, desk.Program(), inventedSlug, uuid.New(), f.planned(fmt.Sprintf("Class %d", f.named.Add(1)), set))
	require.NoError(f.t, err)
	s := &scene{fair: f, ref: desk.Ref{Event: inventedSlug, Class: receipt.Class.Slug}}
	for _, d := range []struct{ number, puller, vehicle string }{
		{"41", "Maud Farrow", "Brindle Ox"}, {"7", "Ellis Tarrant", "Late Hay"}, {"23", "Jonas Weir", "Stone Boat"}, {"7b", "Ellis Tarrant", "Early Hay"},
	} {
		s.do(domain.AddEntry{Entry: uuid.New(), Number: d.number, Details: domain.Details{Puller: d.puller, Vehicle: d.vehicle}})
	}
	return s
}

// planned is the plan of a class on the first session, track and sled.
func (f *fair) planned(name string, rules domain.RuleSet) domain.PlanClass {
	e := f.loader.event
	return domain.PlanClass{Class: uuid.New(), Session: e.Sessions[0].ID, Track: e.Tracks[0].ID, Name: name, Rules: rules, Sled: e.Sleds[0]}
}

// do does an action that has to succeed.
func (s *scene) do(a domain.Action) {
	s.t.Helper()
	_, err := s.desk.Act(s.ctx, desk.Program(), s.ref, uuid.New(), a)
	require.NoError(s.t, err)
}

// class is the class as it is stored now.
func (s *scene) class() *domain.Class {
	s.t.Helper()
	return s.site.class(s.ref.Class)
}

// path is the address of a page of the class: "", "booth", "desk/draw".
func (s *scene) path(page string) string {
	path := "/e/" + s.ref.Event + "/" + s.ref.Class
	if page != "" {
		path += "/" + page
	}
	return path
}

func (s *scene) draw() *scene {
	s.t.Helper()
	s.do(domain.DrawClass{Round: uuid.New(), Seed: "dice 4 2 6"})
	return s
}

func (s *scene) write() *scene {
	s.t.Helper()
	setting, err := readInvented("21600 lb, 12 slabs, gear 3, hole 2, trip 198")
	require.NoError(s.t, err)
	s.do(domain.DraftSetting{Round: s.class().Current().ID, Setting: setting})
	return s
}

func (s *scene) freeze() *scene {
	s.t.Helper()
	r := s.class().Current()
	s.do(domain.FreezeSetting{Round: r.ID, Revision: len(r.Revisions)})
	return s
}

func (s *scene) call() *scene {
	s.t.Helper()
	s.do(domain.Call{Hook: uuid.New()})
	return s
}

// pull stores what came of the hooks on the track, one after the other.
func (s *scene) pull(results ...string) *scene {
	s.t.Helper()
	for _, written := range results {
		class := s.class()
		result, err := domain.ParseResult(written, class.Rules.Unit())
		require.NoError(s.t, err)
		s.do(domain.Record{Hook: class.OnTrack().ID, Result: result, Next: uuid.New()})
	}
	return s
}

// The ways a class can stand. The test puller of a class that is being pulled made a full pull, which leaves no choice.
func entering(f *fair) *scene   { return f.plan("capped-300ft") }
func drawn(f *fair) *scene      { return entering(f).draw() }
func written(f *fair) *scene    { return drawn(f).write() }
func frozen(f *fair) *scene     { return written(f).freeze() }
func testHook(f *fair) *scene   { return frozen(f).call() }
func choiceOpen(f *fair) *scene { return testHook(f).pull("281.36") }
func hooking(f *fair) *scene    { return testHook(f).pull("FP") }
func second(f *fair) *scene     { return hooking(f).pull("250") }
func lastHook(f *fair) *scene   { return hooking(f).pull("250", "260") }
func pullOffDue(f *fair) *scene { return hooking(f).pull("250", "260", "FP") }
func pullOff(f *fair) *scene {
	s := pullOffDue(f)
	name, _ := s.class().RoundDue()
	s.do(domain.OpenRound{Round: uuid.New(), Name: name})
	return s.write().freeze().call()
}

// missed is a class in its second pull-off, in which 41, whose hook was the last of the first round, has just become a
// full puller by a correction.
func missed(f *fair) *scene {
	s := hooking(f).pull("FP", "250", "260")
	name, _ := s.class().RoundDue()
	s.do(domain.OpenRound{Round: uuid.New(), Name: name})
	s.write().freeze().call().pull("FP 310", "FP 310")
	name, _ = s.class().RoundDue()
	s.do(domain.OpenRound{Round: uuid.New(), Name: name})
	result, err := domain.ParseResult("FP", domain.Foot)
	require.NoError(s.t, err)
	hooks := s.class().Rounds[0].Hooks
	s.do(domain.Correct{Hook: hooks[len(hooks)-1].ID, Result: result, Reason: "misread", Next: uuid.New()})
	return s
}

func stopped(f *fair) *scene {
	s := hooking(f)
	s.do(domain.StopClass{Reason: "rain"})
	return s
}

// free is a drawn class whose rules leave much to people: who makes the test hook, where the line lies, with whom a
// vehicle hooks again. The test puller chooses before the distance is told.
func free(f *fair) *scene {
	f.t.Helper()
	set, err := doc.ReadyMadeRuleSet("capped-300ft")
	require.NoError(f.t, err)
	line, err := domain.ParseDistance("320", domain.Foot)
	require.NoError(f.t, err)
	set.Name, set.Title = "free-300ft", "300 ft or 320 ft, the sled operator chooses the test puller"
	set.Test.Who, set.Test.BeforeDistance, set.Entries.VehicleTwice = domain.ChosenPuller, true, domain.PlacesOnce
	set.Moving, set.Restarts.Throttle = domain.LineRule{Choices: []domain.Distance{line}, After: 1}, true
	set.Call, set.ResetWhen.FullPulls = domain.CallRule{Minutes: 3, NotReady: domain.IsDisqualified}, 1
	set.Reasons.Of = map[domain.Cause]domain.Consequence{domain.CauseOutOfBounds: domain.MeasuredThere}
	return f.planUnder(set).draw()
}

// limited is a drawn class with a weight limit.
func limited(f *fair) *scene {
	f.t.Helper()
	set, err := doc.ReadyMadeRuleSet("capped-300ft")
	require.NoError(f.t, err)
	limit, err := domain.ParseWeight("8200 lb")
	require.NoError(f.t, err)
	set.Weight = domain.WeightRule{Limit: limit, When: domain.WeighBoth, Tries: 2, Over: domain.OverDisqualified, WithDriver: true}
	return f.planUnder(set).draw()
}
func weighed(f *fair) *scene {
	s := limited(f)
	s.do(domain.Weigh{Reading: uuid.New(), Entry: s.class().Entries[0].ID, Weight: s.class().Rules.Weight.Limit})
	return s
}
func official(f *fair) *scene {
	s := decided(f)
	s.do(domain.MakeOfficial{Name: "Ada Flagg"})
	return s
}
func protested(f *fair) *scene {
	s := decided(f)
	hook := s.class().Rounds[0].Hooks[1]
	s.do(domain.LodgeProtest{Protest: uuid.New(), Entry: hook.Entry, Hook: hook.ID, About: "side line", By: "Jonas Weir"})
	return s
}
func upheld(f *fair) *scene {
	s := protested(f)
	s.do(domain.DecideProtest{Protest: s.class().Protests[0].ID, Ruling: domain.Upheld, Follows: domain.CorrectionFollows, Reason: "seen on video"})
	return s
}
func decided(f *fair) *scene  { return hooking(f).pull("250", "260", "270") }
func floating(f *fair) *scene { return f.plan("floating-ft").draw().write().freeze().call() }
func metric(f *fair) *scene   { return f.plan("capped-100m").draw().write().freeze().call() }
