package main

import (
	"cmp"
	"maps"
	"net/http"
	"net/url"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/static"
)

// Who may do something. A pass of another event, or a cookie that is not known, is worth no more than none.
const (
	everybody   = "nobody, booth, cab, scale, lane, desk, server desk, other desk, stranger"
	boothOrDesk = "booth, desk, server desk"
	cabOrDesk   = "cab, desk, server desk"
	scaleOrDesk = "scale, desk, server desk"
	laneOrDesk  = "lane, desk, server desk"
	laneOrBooth = "lane, booth, desk, server desk"
	deskAlone   = "desk, server desk"
	serverAlone = "server desk"
)

// callers are devices with every sort of pass, by the names that [everybody] lists.
func callers(f *fair) map[string]visitor {
	_, other := f.pass(otherSlug, domain.Desk)
	_, server := f.pass("", domain.Desk)
	return map[string]visitor{
		"nobody": {fair: f}, "booth": f.as(domain.Booth), "cab": f.as(domain.Cab), "scale": f.as(domain.Scale), "lane": f.as(domain.Lane), "desk": f.as(domain.Desk),
		"server desk": {fair: f, cookie: server}, "other desk": {fair: f, cookie: other}, "stranger": {fair: f, cookie: strings.Repeat("x", 32)},
	}
}

// Every route is tried with every sort of pass. Who is refused changes nothing and is shown nothing.
func TestEveryRouteAsksForItsPass(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	everyone := callers(f)
	able := everyone["server desk"]
	read := entering(f)
	for _, r := range rights() {
		t.Run(r.route, func(t *testing.T) {
			everyone := everyone
			if r.route == "POST /leave" {
				everyone = callers(f) // who leaves is out, and the other routes need their passes
			}
			sent := r.prepare(able, read)
			for _, name := range slices.Sorted(maps.Keys(everyone)) {
				if !r.allows(name) {
					r.refuses(t, everyone[name], name, sent)
				}
			}
			for _, name := range strings.Split(r.who, ", ") {
				if sent == nil {
					sent = r.prepare(able, read) // what was sent is done
				}
				before := f.lines()
				a := everyone[name].submitBy(r.method(), sent)
				require.Equal(t, r.gives, a.status, "%s: %s", name, a.says())
				require.Equal(t, before+r.linesOf(name), f.lines(), "%s: what is done is one line", name)
				sent = nil
			}
		})
	}
}

func (r right) method() string { method, _, _ := strings.Cut(r.route, " "); return method }

func (r right) allows(name string) bool { return slices.Contains(strings.Split(r.who, ", "), name) }

// linesOf is how many lines the route adds to a journal. Who has no pass has none to give back, and what
// is not there does nothing.
func (r right) linesOf(who string) int64 {
	if r.method() == http.MethodGet || strings.HasSuffix(r.route, "/typing") || r.gives == http.StatusNotFound || r.route == "POST /leave" && (who == "nobody" || who == "stranger") {
		return 0
	}
	return 1
}

// refuses sends the good form, and an empty one, which must not be answered with the page either.
func (r right) refuses(t *testing.T, v visitor, name string, sent *form) {
	t.Helper()
	before := v.lines()
	a := v.submitBy(r.method(), sent)
	assert.Equal(t, http.StatusForbidden, a.status, name)
	assert.Regexp(t, "needs a pass for|pass is for another event|pass is for one event", a.says(), name)
	for _, a := range []answer{a, v.post(sent.action, nil)} {
		assert.GreaterOrEqual(t, a.status, http.StatusBadRequest, name)
		assert.Empty(t, a.header.Get("Set-Cookie"))
		for _, inside := range []string{"Maud Farrow", "Class 1", "Journal", "<form"} {
			assert.False(t, strings.Contains(a.body, inside), "%s is shown %s", name, inside)
		}
	}
	assert.Equal(t, before, v.lines(), "%s: what is refused is not stored", name)
}

// submitBy sends a form in the way that its route wants; to read a page is to send nothing.
func (v visitor) submitBy(method string, f *form) answer {
	v.t.Helper()
	if method == http.MethodGet {
		return v.get(f.action)
	}
	return v.submit(f)
}

// prepare brings a class to where the route can be used, and finds what is to be sent there, with the help of one who
// may do anything. What is only read is read of the class at hand.
func (r right) prepare(able visitor, read *scene) *form {
	able.t.Helper()
	_, path, _ := strings.Cut(r.route, " ")
	r.page = strings.NewReplacer(":sled", able.loader.event.Sleds[0].ID.String(), ":class", read.ref.Class).Replace(r.page)
	if r.class != nil && r.method() == http.MethodGet {
		read = r.class(able.fair)
	}
	if r.method() == http.MethodGet || r.class == nil && r.page == "" {
		path = strings.NewReplacer(":event", inventedSlug, ":class", read.ref.Class, ":track", "1", ":season", able.season(), ":number", "41", ":puller", "Maud%20Farrow", ":home", "Wrenfield", ":vehicle", "Brindle%20Ox", ":sled", able.loader.event.Sleds[0].ID.String(), ":photo", read.photo(), ":secret", able.newSecret(inventedSlug, domain.Cab),
			":file", strings.TrimPrefix(static.Href("clayline.css"), static.Prefix)).Replace(path)
		return &form{action: path, values: url.Values{"action": {uuid.NewString()}}}
	}
	page := r.page
	if r.class != nil {
		s := r.class(able.fair)
		page = s.path(cmp.Or(r.page, "desk"))
		if on := s.class().OnTrack(); on != nil {
			page = strings.Replace(page, "HOOK", on.ID.String(), 1)
		}
	}
	able.season()
	spare := uuid.Nil // a pass that nobody needs here; each its own
	if strings.Contains(path, "/pass/") {
		spare = able.newPass(map[bool]string{true: inventedSlug}[strings.HasPrefix(path, "/e/")])
	}
	if strings.HasSuffix(path, "-remove") { // what nobody is in; each its own
		for _, a := range []domain.EventAction{domain.AddSession{Session: uuid.New(), Name: "Spare", Starts: clock()}, domain.AddTrack{Track: uuid.New(), Name: uuid.NewString()}} {
			_, err := able.desk.ChangeEvent(able.ctx, desk.Program(), inventedSlug, uuid.New(), desk.AnyVersion, a)
			require.NoError(able.t, err)
		}
	}
	name := cmp.Or(r.form, path[strings.LastIndexByte(path, '/')+1:])
	var sent *form
	for page := range strings.SplitSeq(page, " ") {
		if sent == nil || sent.method != "post" {
			sent = able.get(page).form(name)
		}
	}
	require.NotNil(able.t, sent, "%s has the form for %s", page, r.route)
	if r.class == nil && sent.values.Has("name") { // of an event or a class: each its own
		sent.values.Set("name", "Number "+strconv.FormatInt(able.named.Add(1), 10))
	}
	if strings.HasSuffix(path, "/sled") {
		sent.values.Set("description", `{"name": "`+uuid.NewString()+`", "gears": 4, "start_holes": 3}`)
	}
	if strings.HasSuffix(path, "/typing") { // what is typed into the form of a result, before it is sent
		sent.action = strings.TrimSuffix(sent.action, name) + "typing"
		sent.values.Set("from", uuid.NewString())
	}
	if sent.values.Has("pass") {
		sent.values.Set("pass", spare.String())
	}
	return sent.fill(r.typed)
}

// The matrix is whole: it has a row for each route there is.
func TestTheMatrixHasEveryRoute(t *testing.T) {
	t.Parallel()
	listed, err := os.ReadFile("../../webui/testdata/routes.txt")
	require.NoError(t, err)
	var rows []string
	for _, r := range rights() {
		rows = append(rows, r.route)
	}
	require.ElementsMatch(t, strings.Split(strings.TrimSpace(string(listed)), "\n"), rows)
}

// deed is an action that can be done, and how the class stands then.
type deed struct {
	class stands
	does  func(*domain.Class) domain.Action
}

// deeds are the kinds of actions by their names in the journal.
func deeds(f *fair) map[string]deed {
	measured, err := domain.ParseResult("255 ft", 0)
	require.NoError(f.t, err)
	setting, err := readInvented("21600 lb, 12 slabs, gear 3, hole 2, trip 198")
	require.NoError(f.t, err)
	on := func(c *domain.Class) uuid.UUID { return c.OnTrack().ID }
	return map[string]deed{
		"entry":      {entering, func(*domain.Class) domain.Action { return domain.AddEntry{Entry: uuid.New(), Number: "12"} }},
		"scratch":    {entering, func(c *domain.Class) domain.Action { return domain.Scratch{Entry: c.Entries[0].ID, Reason: "clutch"} }},
		"draw":       {entering, func(*domain.Class) domain.Action { return domain.DrawClass{Round: uuid.New(), Seed: "dice 1"} }},
		"commitment": {entering, func(*domain.Class) domain.Action { return domain.Commit{Hash: strings.Repeat("7d", 32)} }},
		"swap": {drawn, func(c *domain.Class) domain.Action {
			return domain.Swap{Entry: c.Draw.Order[0], With: c.Draw.Order[1], Reason: "one trailer"}
		}},
		"fixed-start": {entering, func(*domain.Class) domain.Action {
			return domain.FixStart{Starts: f.loader.event.Sessions[0].Starts}
		}},
		"place": {entering, func(c *domain.Class) domain.Action {
			return domain.MoveClass{Session: f.loader.event.Sessions[1].ID, Track: c.Track}
		}},
		"attend": {entering, func(c *domain.Class) domain.Action {
			return domain.Attend{Entries: []domain.Attended{{Entry: c.Entries[0].ID, Attendance: domain.Attendance{Came: true}}}}
		}},
		"setting": {drawn, func(c *domain.Class) domain.Action {
			return domain.DraftSetting{Round: c.Current().ID, Setting: setting}
		}},
		"freeze": {written, func(c *domain.Class) domain.Action { return domain.FreezeSetting{Round: c.Current().ID, Revision: 1} }},
		"reset":  {frozen, func(c *domain.Class) domain.Action { return domain.ResetSetting{Round: c.Current().ID, Reason: "wet"} }},
		"call":   {frozen, func(*domain.Class) domain.Action { return domain.Call{Hook: uuid.New()} }},
		"result": {hooking, func(c *domain.Class) domain.Action {
			return domain.Record{Hook: on(c), Result: measured, Next: uuid.New()}
		}},
		"second": {hooking, func(c *domain.Class) domain.Action { return domain.SecondAttempt{Hook: on(c), Next: uuid.New()} }},
		"again": {hooking, func(c *domain.Class) domain.Action {
			return domain.Again{Hook: on(c), Reason: "sled", Next: uuid.New()}
		}},
		"drop": {hooking, func(c *domain.Class) domain.Action { return domain.Drop{Hook: on(c), Reason: "belt", Next: uuid.New()} }},
		"choice": {choiceOpen, func(c *domain.Class) domain.Action {
			return domain.Choose{Hook: c.Pending().Hook.ID, Option: domain.Keep, Next: uuid.New()}
		}},
		"correction": {lastHook, func(c *domain.Class) domain.Action {
			return domain.Correct{Hook: c.Current().Hooks[1].ID, Result: measured, Reason: "misread", Next: uuid.New()}
		}},
		"test_puller": {free, func(c *domain.Class) domain.Action { return domain.PickTest{Entry: c.TestPullers()[0]} }},
		"line": {free, func(c *domain.Class) domain.Action {
			return domain.MoveLine{Line: c.LinesToMoveTo()[0], Reason: "light"}
		}},
		"stop":     {hooking, func(*domain.Class) domain.Action { return domain.StopClass{Reason: "rain"} }},
		"resume":   {stopped, func(*domain.Class) domain.Action { return domain.ResumeClass{Reason: "dry"} }},
		"differed": {hooking, func(c *domain.Class) domain.Action { return domain.NoteDifference{Hook: on(c), What: domain.HandDrop} }},
		"speed":    {hooking, func(c *domain.Class) domain.Action { return domain.ReadSpeed{Hook: on(c)} }},
		"flag": {hooking, func(c *domain.Class) domain.Action {
			return domain.SayFlag{Hook: on(c), Call: domain.FlagDisqualified, Reason: "out of bounds"}
		}},
		"presence": {hooking, func(c *domain.Class) domain.Action {
			return domain.SayWhere{Entry: c.OnTrack().Entry, Where: domain.Missing}
		}},
		"ready":    {hooking, func(c *domain.Class) domain.Action { return domain.SayReady{Hook: on(c), Held: true, Words: "cable"} }},
		"start":    {hooking, func(c *domain.Class) domain.Action { return domain.Start{Hook: on(c)} }},
		"official": {decided, func(*domain.Class) domain.Action { return domain.MakeOfficial{Name: "Ada Flagg"} }},
		"protest": {decided, func(c *domain.Class) domain.Action {
			return domain.LodgeProtest{Protest: uuid.New(), Entry: c.Entries[0].ID, About: "weights", By: "Jonas Weir"}
		}},
		"ruling": {protested, func(c *domain.Class) domain.Action {
			return domain.DecideProtest{Protest: c.Protests[0].ID, Ruling: domain.TurnedDown, Reason: "seen by the flagman"}
		}},
		"weigh": {limited, func(c *domain.Class) domain.Action {
			return domain.Weigh{Reading: uuid.New(), Entry: c.Entries[0].ID, Weight: c.Rules.Weight.Limit}
		}},
		"misread": {weighed, func(c *domain.Class) domain.Action {
			return domain.Misread{Reading: c.Readings[0].ID, Reason: "another vehicle"}
		}},
		"reopen": {official, func(*domain.Class) domain.Action { return domain.Reopen{Reason: "protest"} }},
		"void": {lastHook, func(c *domain.Class) domain.Action {
			return domain.VoidHook{Hook: c.Current().Hooks[1].ID, Reason: "protest", Next: uuid.New()}
		}},
		"bring-in": {missed, func(c *domain.Class) domain.Action {
			return domain.BringIn{Round: c.Current().ID, Entry: c.Missed()[0], Reason: "the flagman's sheet"}
		}},
		"photo": {lastHook, func(c *domain.Class) domain.Action {
			return shotOf(f.t, c.Current().Hooks[1].ID, 1)
		}},
		"round": {pullOffDue, func(c *domain.Class) domain.Action {
			name, _ := c.RoundDue()
			return domain.OpenRound{Round: uuid.New(), Name: name}
		}},
	}
}

// Every kind of action is tried by everybody, past the pages: the desk itself refuses who may not.
func TestEveryActionNeedsItsRole(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	known, everybody := deeds(f), actors(f)
	for _, kind := range domain.Kinds() {
		if kind.Name == "class" {
			continue // planned on an event; see below
		}
		d, ok := known[kind.Name]
		require.True(t, ok, "the matrix has no row for %s", kind.Name)
		var s *scene
		for _, name := range slices.Sorted(maps.Keys(everybody)) {
			t.Run(kind.Name+" by "+name, func(t *testing.T) {
				if s == nil {
					s = d.class(f)
				}
				if f.allowsOnly(t, everybody[name], kind.Roles, func(by desk.By) error {
					_, err := f.desk.Act(f.ctx, by, s.ref, uuid.New(), d.does(s.class()))
					return err
				}) {
					s = nil // it is done
				}
			})
		}
	}
}

// What is done on an event, or on the server, is the desk's.
func TestOnlyTheDeskPlansAndLetsIn(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	rules := entering(f).class().Rules
	for name, by := range actors(f) {
		t.Run("plan a class, by "+name, func(t *testing.T) {
			f.allowsOnly(t, by, domain.Desk, func(by desk.By) error {
				_, err := f.desk.PlanClass(f.ctx, by, inventedSlug, uuid.New(), f.planned("By "+name, rules))
				return err
			})
		})
		t.Run("change the programme, by "+name, func(t *testing.T) {
			f.allowsOnly(t, by, domain.Desk, func(by desk.By) error {
				_, err := f.desk.ChangeEvent(f.ctx, by, inventedSlug, uuid.New(), desk.AnyVersion, domain.AddSession{Session: uuid.New(), Name: "By " + name, Starts: clock()})
				return err
			})
		})
		t.Run("inspect a sled, by "+name, func(t *testing.T) {
			f.allowsOnly(t, by, domain.Desk|domain.Cab, func(by desk.By) error {
				sled := f.loader.event.Sleds[0]
				_, err := f.desk.ChangeEvent(f.ctx, by, inventedSlug, uuid.New(), desk.AnyVersion, domain.InspectSled{Inspection: uuid.New(), Sled: sled.ID, By: "Ada Flagg",
					Points: []domain.Inspected{{Point: sled.InspectionList()[0], State: domain.PointOK}}})
				return err
			})
		})
		t.Run("let a device in, by "+name, func(t *testing.T) {
			f.allowsOnly(t, by, domain.Desk, func(by desk.By) error {
				_, _, err := f.desk.IssuePass(f.ctx, by, inventedSlug, uuid.New(), domain.Desk)
				return err
			})
		})
		server := domain.Desk
		if by.Event != uuid.Nil {
			server = 0 // not for the pass of an event
		}
		t.Run("let a device into every event, by "+name, func(t *testing.T) {
			f.allowsOnly(t, by, server, func(by desk.By) error {
				_, _, err := f.desk.IssuePass(f.ctx, by, "", uuid.New(), domain.Desk)
				return err
			})
		})
		t.Run("list who is in, by "+name, func(t *testing.T) {
			_, _, err := f.desk.Passes(f.ctx, by, inventedSlug)
			if by.Role&domain.Desk != 0 && (by.Event == uuid.Nil || by.Event == f.loader.event.ID) {
				require.NoError(t, err)
				return
			}
			require.Equal(t, domain.Forbidden, domain.KindOf(err), "%v", err)
		})
		t.Run("take a pass away, by "+name, func(t *testing.T) {
			pass := f.newPass(inventedSlug)
			f.allowsOnly(t, by, domain.Desk, func(by desk.By) error {
				_, err := f.desk.RevokePass(f.ctx, by, inventedSlug, uuid.New(), pass)
				return err
			})
		})
		t.Run("replace a pass, by "+name, func(t *testing.T) {
			pass := f.newPass(inventedSlug)
			f.allowsOnly(t, by, domain.Desk, func(by desk.By) error {
				_, _, err := f.desk.ReplacePass(f.ctx, by, inventedSlug, uuid.New(), pass)
				return err
			})
		})
		t.Run("plan an event, by "+name, func(t *testing.T) {
			f.allowsOnly(t, by, server, func(by desk.By) error {
				_, err := f.desk.PlanEvent(f.ctx, by, uuid.New(), domain.Event{
					ID: uuid.New(), Name: "Planned by " + name, Zone: "UTC", Tracks: []domain.Track{{ID: uuid.New(), Name: "One"}},
					Sleds:    []domain.Sled{{ID: uuid.New(), Name: "One", Gears: 1, StartHoles: 1}},
					Sessions: []domain.Session{{ID: uuid.New(), Name: "One", Starts: clock()}},
				})
				return err
			})
		})
	}
}

// actors are everybody as the desk sees them.
func actors(f *fair) map[string]desk.By {
	by := map[string]desk.By{"nobody": {}}
	for _, role := range []domain.Role{domain.Booth, domain.Cab, domain.Scale, domain.Desk} {
		by[role.String()], _ = f.pass(inventedSlug, role)
	}
	by["other desk"], _ = f.pass(otherSlug, domain.Desk)
	by["other booth"], _ = f.pass(otherSlug, domain.Booth)
	by["server desk"], _ = f.pass("", domain.Desk)
	return by
}

// allowsOnly does something that the roles may do at the first event: either it is done and one line, or it is forbidden
// and none. It tells whether it was done.
func (f *fair) allowsOnly(t *testing.T, by desk.By, roles domain.Role, do func(desk.By) error) bool {
	t.Helper()
	before := f.lines()
	err := do(by)
	if by.Role&roles != 0 && (by.Event == uuid.Nil || by.Event == f.loader.event.ID) {
		require.NoError(t, err)
		require.Equal(t, before+1, f.lines())
		return true
	}
	require.Equal(t, domain.Forbidden, domain.KindOf(err), "%v", err)
	require.Equal(t, before, f.lines(), "what is forbidden leaves no line")
	return false
}
