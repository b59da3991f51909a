package main

import (
	"cmp"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// write is one write of the interface, with a class where it can be done and a body that is right.
type write struct {
	method string
	role   domain.Role // 0: no pass is needed
	also   domain.Role // that may send it too
	event  string      // of the pass that may; "" for all
	path   string
	body   string
	status int
	class  bool   // it is about a class
	kind   string // of the body; "" for JSON
	as     string // the secret, where it is not that of the role
}

// call is the write as it is right; all is the secret of the server's desk.
func (w write) call(p *programs, all string) call {
	return call{method: cmp.Or(w.method, http.MethodPost), path: w.path, body: w.body, kind: w.kind, as: w.holder(p, all)}
}

// holder is the secret that may send the write; all is that of the server's desk.
func (w write) holder(p *programs, all string) string {
	switch {
	case w.as != "":
		return w.as
	case w.event == "all":
		return all
	default:
		return p.secrets[w.role]
	}
}

// listsAll is the write that names every class of the event, and is stale once another write planned one.
const listsAll = "orderClasses"

// inTurn are the names of the writes in an order in which each can be done.
func inTurn(list map[string]write) []string {
	names := slices.DeleteFunc(slices.Collect(maps.Keys(list)), func(name string) bool { return name == listsAll })
	return append([]string{listsAll}, names...)
}

// writes lists every write of the interface, each where it can be done.
func writes(p *programs) map[string]write {
	e := p.loader.event
	at := "/api/v1/events/" + inventedSlug
	_, link, err := p.desk.IssuePass(p.ctx, desk.Program(), inventedSlug, uuid.New(), domain.Booth)
	require.NoError(p.t, err)
	list := map[string]write{
		"planEvent": {role: domain.Desk, event: "all", path: "/api/v1/events", status: http.StatusCreated, body: `{"name": "Sallow Creek Pull", "place": "Sallow Creek", "zone": "America/Chicago",
			"tracks": [{"name": "Track 1"}, {"name": "Track 2"}], "sleds": [{"name": "Plumb Bob", "gears": 4, "start_holes": 3}], "sessions": [{"name": "Evening", "starts": "2026-09-19T18:00:00Z"}]}`},
		"enterPass":   {path: "/api/v1/passes/enter", status: http.StatusCreated, body: `{"link": "` + link + `", "device": "the van"}`},
		"makePass":    {role: domain.Desk, path: at + "/passes", status: http.StatusCreated, body: `{"role": "cab"}`},
		"leavePass":   {path: "/api/v1/passes/leave", status: http.StatusOK, body: `{}`, as: p.secret(inventedSlug, domain.Cab)},
		"revokePass":  {role: domain.Desk, path: at + "/passes/" + p.newPass(inventedSlug).String() + "/revoke", status: http.StatusOK, body: `{}`},
		"replacePass": {role: domain.Desk, path: at + "/passes/" + p.newPass(inventedSlug).String() + "/replace", status: http.StatusCreated, body: `{}`},
		"planClass": {role: domain.Desk, path: at + "/classes", status: http.StatusCreated, body: fmt.Sprintf(`{"id": "%s", "name": "Farm Stock", "session": "%s", "track": "%s", "sled": "%s",
			"rules": "capped-300ft"}`, uuid.New(), e.Sessions[0].ID, e.Tracks[0].ID, e.Sleds[0].ID)},
	}
	list["addSeason"] = write{role: domain.Desk, event: "all", path: "/api/v1/seasons", status: http.StatusCreated, body: `{"document": {"name": "Other season", "events": [{"name": "Elm"}]}}`}
	list["writeSeason"] = write{role: domain.Desk, event: "all", method: http.MethodPut, path: "/api/v1/seasons/" + p.season(), status: http.StatusOK,
		body: `{"version": 1, "document": {"name": "Fair season", "events": [{"name": "Oak"}]}}`}
	p.programmeWrites(list)
	class := func(name string, role domain.Role, method, path, body string, status int) {
		list[name] = write{method: method, role: role, path: path, body: body, status: status, class: true}
	}
	post := http.MethodPost
	id := func() string { return `"` + uuid.NewString() + `"` }
	next := `"next": ` + id()
	s := entering(p.fair)
	class("scratchEntry", domain.Desk, post, s.api("/entries/"+s.class().Entries[0].ID.String()+"/scratch"), `{"reason": "broken axle"}`, 200)
	s = entering(p.fair)
	class("fixStart", domain.Desk, post, s.api("/start"), `{"starts": "2026-09-20T00:30:00Z"}`, 200)
	class("moveClass", domain.Desk, post, s.api("/place"), fmt.Sprintf(`{"session": "%s", "track": "%s"}`, e.Sessions[1].ID, e.Tracks[0].ID), 200)
	s = entering(p.fair)
	class("addEntry", domain.Desk, post, s.api("/entries"), `{"id": `+id()+`, "number": "99", "puller": "Orla Penrose", "vehicle": "Grey Mule", "home": "Lower Marsh"}`, 201)
	s = entering(p.fair)
	class("writeAttendance", domain.Desk, post, s.api("/attendance"), `{"entries": [{"entry": "`+s.class().Entries[0].ID.String()+`", "guest": false, "came": true, "fee": "20.00", "paid": true}]}`, 200)
	s = entering(p.fair)
	class("drawClass", domain.Desk, post, s.api("/draw"), `{"seed": "dice 1 2 3", "reason": "first", "between": 2, "fixed": [{"entry": "`+s.class().Entries[0].ID.String()+`", "place": 1}], "round": `+id()+`}`, 200)
	s = free(p.fair)
	class("pickTestPuller", domain.Booth, post, s.api("/test-puller"), `{"entry": "`+s.class().TestPullers()[0].String()+`"}`, 200)
	s = free(p.fair)
	class("moveLine", domain.Desk, post, s.api("/line"), `{"line": {"figures": "320", "unit": "ft"}, "reason": "the sled is light"}`, 200)
	s = hooking(p.fair)
	class("stopClass", domain.Desk, post, s.api("/stop"), `{"reason": "rain"}`, 200)
	s = stopped(p.fair)
	class("resumeClass", domain.Desk, post, s.api("/resume"), `{"reason": "dry again"}`, 200)
	s = entering(p.fair)
	class("commitToDraw", domain.Desk, post, s.api("/commitment"), `{"commitment": "`+strings.Repeat("7d", 32)+`", "reason": "first"}`, 200)
	s = drawn(p.fair)
	class("sayWhere", domain.Booth, post, s.api("/entries/"+s.class().Entries[0].ID.String()+"/presence"), `{"where": "missing"}`, 200)
	s = drawn(p.fair)
	class("swapPlaces", domain.Desk, post, s.api("/swap"), `{"entry": "`+s.class().Draw.Order[0].String()+`", "with": "`+s.class().Draw.Order[1].String()+`", "reason": "one trailer"}`, 200)
	s = pullOffDue(p.fair)
	class("openRound", domain.Desk, post, s.api("/rounds"), `{"id": `+id()+`, "name": "P1"}`, 201)
	s = missed(p.fair)
	class("bringIn", domain.Desk, post, s.roundPath("entries"), `{"entry": "`+s.class().Missed()[0].String()+`", "reason": "the sheet of the flagman"}`, 200)
	s = drawn(p.fair)
	class("writeSetting", domain.Desk, http.MethodPut, s.roundPath("setting"), `{"box": {"figures": "21600", "unit": "lb"}, "slabs": {"left": 6, "middle": 0, "right": 6}, "gear": 3, "start_hole": 2,
		"trip": {"figures": "1980", "unit": "ft"}, "confirmed": true, "pan": {"figures": "40", "unit": "lb"}, "blades": "1 in", "push_down": "none", "device": "laser", "speed_limit": {"figures": "3.5", "unit": "mph"}, "note": "dry"}`, 200)
	s = written(p.fair)
	class("freezeSetting", domain.Desk, post, s.roundPath("setting/freeze"), `{"revision": 1, "drafted": "`+s.class().Rounds[0].Revisions[0].Drafted.Format(time.RFC3339Nano)+`"}`, 200)
	s = frozen(p.fair)
	class("resetSetting", domain.Desk, post, s.roundPath("setting/reset"), `{"reason": "gear jumped out"}`, 200)
	s = frozen(p.fair)
	class("callHook", domain.Booth, post, s.api("/hooks"), `{"id": `+id()+`}`, 201)
	s = testHook(p.fair)
	class("sayReady", domain.Cab, post, s.hookPath("ready"), `{"held": true, "words": "cable frayed"}`, 200)
	s = testHook(p.fair)
	class("sayFlag", domain.Desk, post, s.hookPath("flag"), `{"call": "disqualified", "reason": "out of bounds"}`, 200)
	s = testHook(p.fair)
	class("noteDifference", domain.Cab, post, s.hookPath("difference"), `{"what": "hand drop, kill switch", "words": "pan hung"}`, 200)
	s = testHook(p.fair)
	class("readSpeed", domain.Cab, post, s.hookPath("speed"), `{"top": {"figures": "184", "unit": "mph"}, "at_line": {"figures": "17.9", "unit": "mph"}, "confirmed": true}`, 200)
	s = testHook(p.fair)
	also := list["readSpeed"]
	also.also = domain.Booth
	list["readSpeed"] = also
	class("startHook", domain.Booth, post, s.hookPath("start"), `{}`, 200)
	s = testHook(p.fair)
	class("storeResult", domain.Booth, post, s.hookPath("result"), `{"result": {"outcome": "measured", "distance": {"figures": "281.36", "unit": "ft"}, "reason": "measured twice"}, "next": `+id()+`, "confirmed": false}`, 200)
	s = choiceOpen(p.fair)
	class("storeChoice", domain.Booth, post, s.hookPath("choice"), `{"option": "last", `+next+`}`, 200)
	s = testHook(p.fair)
	class("giveSecondAttempt", domain.Booth, post, s.hookPath("second-attempt"), `{"distance": {"figures": "61.5", "unit": "ft"}, "next": `+id()+`}`, 200)
	s = testHook(p.fair)
	class("hookAgain", domain.Booth, post, s.hookPath("again"), `{"reason": "sled", "places": 1, "next": `+id()+`}`, 200)
	s = testHook(p.fair)
	class("dropHook", domain.Booth, post, s.hookPath("drop"), `{"reason": "belt", "places": 0, "next": `+id()+`}`, 200)
	s = hooking(p.fair)
	done := "/hooks/" + s.class().Rounds[0].Hooks[0].ID.String()
	class("correctHook", domain.Booth, post, s.api(done+"/correction"), `{"result": {"outcome": "measured", "distance": {"figures": "218.36", "unit": "ft"}}, "reason": "turned round", "next": `+id()+`, "confirmed": true}`, 200)
	s = hooking(p.fair)
	done = "/hooks/" + s.class().Rounds[0].Hooks[0].ID.String()
	class("voidHook", domain.Booth, post, s.api(done+"/void"), `{"reason": "out of turn", "next": `+id()+`}`, 200)
	s = lastHook(p.fair)
	done = "/hooks/" + s.class().Rounds[0].Hooks[1].ID.String()
	list["attachPhoto"] = write{role: domain.Booth, path: s.api(done + "/photos"), body: photoOfShade(1), status: 201, class: true, kind: "image/png"}
	s = limited(p.fair)
	class("weighEntry", domain.Desk, post, s.api("/weighings"), fmt.Sprintf(`{"id": "%s", "entry": "%s", "weight": {"figures": "82", "unit": "lb"}, "after": false, "confirmed": true}`,
		uuid.New(), s.class().Entries[0].ID), 201)
	s = weighed(p.fair)
	class("misreadWeighing", domain.Desk, post, s.api("/weighings/"+s.class().Readings[0].ID.String()+"/misread"), `{"reason": "that was 7"}`, 200)
	s = decided(p.fair)
	hook := s.class().Rounds[0].Hooks[1]
	class("lodgeProtest", domain.Desk, post, s.api("/protests"), fmt.Sprintf(`{"id": "%s", "entry": "%s", "hook": "%s", "about": "side line", "fee_taken": true, "by": "Jonas Weir"}`,
		uuid.New(), hook.Entry, hook.ID), 201)
	s = protested(p.fair)
	class("decideProtest", domain.Desk, post, s.api("/protests/"+s.class().Protests[0].ID.String()+"/ruling"), `{"ruling": "upheld", "follows": "correction", "reason": "seen on video"}`, 200)
	s = decided(p.fair)
	class("signResult", domain.Desk, post, s.api("/official"), `{"name": "Ada Holm"}`, 200)
	s = decided(p.fair)
	s.do(domain.MakeOfficial{Name: "Ada Holm"})
	class("reopenResult", domain.Desk, post, s.api("/official/reopen"), `{"reason": "protest"}`, 200)
	list[listsAll] = write{role: domain.Desk, method: http.MethodPut, path: at + "/order", status: 200, body: p.reversed()} // the last, since it lists all classes
	return list
}

// programmeWrites adds the writes on sessions, tracks and sleds, each on one of its own.
func (p *programs) programmeWrites(list map[string]write) {
	p.t.Helper()
	at := "/api/v1/events/" + inventedSlug
	session, track, sled := uuid.New(), uuid.New(), uuid.New()
	spare := func(a domain.EventAction) {
		_, err := p.desk.ChangeEvent(p.ctx, desk.Program(), inventedSlug, uuid.New(), desk.AnyVersion, a)
		require.NoError(p.t, err)
	}
	spare(domain.AddSession{Session: session, Name: "Spare", Starts: clock()})
	spare(domain.AddTrack{Track: track, Name: "Track " + track.String()})
	spare(domain.AddSled{Sled: domain.Sled{ID: sled, Name: "Sled " + sled.String(), Gears: 4, StartHoles: 3}})
	whole := func(name string) string {
		return `{"name": "` + name + uuid.NewString() + `", "gears": 4, "start_holes": 3, "wheelbase": "24 ft"}`
	}
	for name, w := range map[string]write{
		"addSession":    {path: "/sessions", status: 201, body: `{"id": "` + uuid.NewString() + `", "name": "Sunday", "starts": "2026-09-20T16:00:00Z"}`},
		"changeSession": {path: "/sessions/" + session.String(), method: http.MethodPut, status: 200, body: `{"name": "Late Sunday", "starts": "2026-09-20T17:00:00Z"}`},
		"removeSession": {path: "/sessions/" + p.emptySession().String() + "/remove", status: 200, body: `{}`},
		"addTrack":      {path: "/tracks", status: 201, body: `{"id": "` + uuid.NewString() + `", "name": "Track ` + uuid.NewString() + `"}`},
		"renameTrack":   {path: "/tracks/" + track.String(), method: http.MethodPut, status: 200, body: `{"name": "Upper ` + uuid.NewString() + `"}`},
		"removeTrack":   {path: "/tracks/" + p.emptyTrack().String() + "/remove", status: 200, body: `{}`},
		"addSled":       {path: "/sleds", status: 201, body: `{"id": "` + uuid.NewString() + `", "description": ` + whole("New ") + `}`},
		"describeSled":  {path: "/sleds/" + sled.String(), method: http.MethodPut, status: 200, body: `{"version": 1, "description": ` + whole("Other ") + `}`},
	} {
		w.role, w.path = domain.Desk, at+w.path
		list[name] = w
	}
	list["inspectSled"] = write{role: domain.Cab, path: at + "/sleds/" + sled.String() + "/inspections", status: 201,
		body: `{"id": "` + uuid.NewString() + `", "by": "Ada Flagg", "points": [{"point": "` + (domain.Sled{}).InspectionList()[0] + `", "state": "not ok", "note": "left drags"}]}`}
}

// reversed is the body that turns the order of the classes round.
func (p *programs) reversed() string {
	page, err := p.desk.EventPage(p.ctx, inventedSlug)
	require.NoError(p.t, err)
	var ids []string
	for _, c := range slices.Backward(page.Classes) {
		ids = append(ids, `{"id": "`+c.ID.String()+`"}`)
	}
	return `{"classes": [` + strings.Join(ids, ", ") + `]}`
}

// emptySession adds a session that may be removed.
func (p *programs) emptySession() uuid.UUID {
	id := uuid.New()
	_, err := p.desk.ChangeEvent(p.ctx, desk.Program(), inventedSlug, uuid.New(), desk.AnyVersion, domain.AddSession{Session: id, Name: "Empty", Starts: clock()})
	require.NoError(p.t, err)
	return id
}

// emptyTrack adds a track that may be removed.
func (p *programs) emptyTrack() uuid.UUID {
	id := uuid.New()
	_, err := p.desk.ChangeEvent(p.ctx, desk.Program(), inventedSlug, uuid.New(), desk.AnyVersion, domain.AddTrack{Track: id, Name: "Empty " + id.String()})
	require.NoError(p.t, err)
	return id
}
