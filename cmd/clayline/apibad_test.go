package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/pb33f/libopenapi/datamodel/high/base"
	"github.com/stretchr/testify/assert"
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
	as     string // the secret, where it is not that of the role
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
		"trip": {"figures": "198", "unit": "ft"}, "pan": {"figures": "40", "unit": "lb"}, "blades": "1 in", "push_down": "none", "device": "laser", "speed_limit": {"figures": "3.5", "unit": "mph"}, "note": "dry"}`, 200)
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
	class("readSpeed", domain.Cab, post, s.hookPath("speed"), `{"top": {"figures": "18.4", "unit": "mph"}, "at_line": {"figures": "17.9", "unit": "mph"}}`, 200)
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
	s = limited(p.fair)
	class("weighEntry", domain.Desk, post, s.api("/weighings"), fmt.Sprintf(`{"id": "%s", "entry": "%s", "weight": {"figures": "8190", "unit": "lb"}, "after": false}`,
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

// wrong is one way in which a write can be wrong.
type wrong struct {
	what   string
	call   call
	status int
	field  string // "": any
}

// Every write is sent in every way that is wrong: a problem says so and names the field, nothing is stored, and the
// same write sent right is done.
func TestEveryWriteSentWrongStoresNothing(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	p.secrets[0] = ""
	all, other := p.secret("", domain.Desk), map[domain.Role]string{}
	for _, role := range []domain.Role{domain.Desk, domain.Booth, domain.Cab} {
		other[role] = p.secret(otherSlug, role)
	}
	done := writes(p)
	var described []string
	for route, id := range p.contract.operations() {
		// An estimate is computed and stores nothing: it is the one POST that is no write. See TestAnEstimateStoresNothing.
		if !strings.HasPrefix(route, http.MethodGet) && id != "estimateSled" {
			described = append(described, id)
		}
	}
	slices.Sort(described)
	require.Equal(t, described, slices.Sorted(maps.Keys(done)), "every write is here")
	for _, name := range slices.Sorted(maps.Keys(done)) {
		d := done[name]
		good := call{method: http.MethodPost, path: d.path, body: d.body, as: d.holder(p, all)}
		if d.method != "" {
			good.method = d.method
		}
		t.Run(name, func(t *testing.T) {
			q := *p
			q.t = t
			before := q.lines()
			for _, w := range q.wrongs(d, good, all, other[d.role]) {
				w.call.wrong = true
				r := q.ask(w.call)
				assert.Equal(t, w.status, r.status, "%s: %s", w.what, r.body)
				if w.field != "" {
					assert.Equal(t, w.field, r.at("field"), "%s: %s", w.what, r.body)
				}
				conforms(t, w.what, r)
			}
			require.Equal(t, before, q.lines(), "nothing was stored")
			q.ask(good).is(d.status)
			require.Equal(t, before+1, q.lines())
		})
	}
}

// conforms holds a problem against RFC 9457 and our own members.
func conforms(t testing.TB, what string, r reply) {
	t.Helper()
	require.Equal(t, "application/problem+json", r.header.Get("Content-Type"), "%s: %s", what, r.body)
	require.Equal(t, "no-store", r.header.Get("Cache-Control"), what)
	p := r.json()
	require.Equal(t, fmt.Sprint(r.status), fmt.Sprint(p["status"]), what)
	for _, member := range []string{"type", "title", "detail", "fix", "kept"} {
		text, _ := p[member].(string)
		require.NotEmpty(t, text, "%s: %s: %s", what, member, r.body)
	}
	require.True(t, strings.HasPrefix(r.at("type"), "/api/problems/"), what)
}

// wrongs lists the ways in which a write can be wrong.
func (p *programs) wrongs(d write, good call, all, foreign string) []wrong {
	p.t.Helper()
	var list []wrong
	add := func(what string, status int, field string, change func(*call)) {
		c := good
		change(&c)
		list = append(list, wrong{what, c, status, field})
	}
	add("no key", 400, "Idempotency-Key", func(c *call) { c.more = []string{"Idempotency-Key", ""} })
	add("a key that is no UUID", 400, "Idempotency-Key", func(c *call) { c.key = "once" })
	add("the nil key", 400, "Idempotency-Key", func(c *call) { c.key = uuid.Nil.String() })
	add("a body that says it is a form", 415, "Content-Type", func(c *call) { c.more = []string{"Content-Type", "application/x-www-form-urlencoded"}; c.body += " " })
	add("a body that says nothing", 415, "Content-Type", func(c *call) { c.more = []string{"Content-Type", ""}; c.body += " " })
	add("too large", 413, "", func(c *call) { c.body = `{"reason": "` + strings.Repeat("m", 64<<10) + `"}` })
	for what, body := range map[string]string{
		"no JSON": "reason=none", "JSON that ends": `{"reason":`, "a list": `[]`, "two objects": `{}{}`, "a name twice": `{"reason": "a", "reason": "b"}`, "no UTF-8": "{\"reason\": \"\xff\"}",
		"too deep": strings.Repeat(`{"a":`, 20) + "1" + strings.Repeat("}", 20), "null": "null",
	} {
		add(what, 400, "", func(c *call) { c.body = body })
	}
	if d.role != 0 {
		add("no pass", 401, "Authorization", func(c *call) { c.as = "" })
		add("an invented pass", 401, "Authorization", func(c *call) { c.as = "uXf1V8s8oZt0rQyW2mJx4A5nB6kC7dEf" })
		add("a cookie", 401, "Authorization", func(c *call) { c.more, c.as = []string{"Cookie", "clayline_pass=" + c.as}, "" })
		if (d.role|d.also)&domain.Cab == 0 {
			add("the pass of the cab", 403, "", func(c *call) { c.as = p.secrets[domain.Cab] })
		}
		add("the pass of another event", 403, "", func(c *call) { c.as = foreign })
	}
	if (d.role == domain.Desk || d.role == domain.Cab) && d.also&domain.Booth == 0 {
		add("the pass of the booth", 403, "", func(c *call) { c.as = p.secrets[domain.Booth] })
	}
	if d.class {
		add("a version that is past", 412, "If-Match", func(c *call) { c.more = []string{"If-Match", `"1"`} })
		add("a version that is weak", 412, "If-Match", func(c *call) { c.more = []string{"If-Match", `W/"1"`} })
		add("a version that is none", 422, "If-Match", func(c *call) { c.more = []string{"If-Match", `"latest"`} })
		add("another class", 404, "", func(c *call) { c.path = strings.Replace(c.path, "/classes/", "/classes/no-", 1) })
		add("another event", 404, "", func(c *call) {
			c.path = strings.Replace(c.path, "/events/", "/events/no-", 1)
			c.as = all
		})
	}
	request, err := http.NewRequest(good.method, p.address+good.path, http.NoBody)
	require.NoError(p.t, err)
	_, operation := p.contract.find(request)
	var value any
	require.NoError(p.t, json.Unmarshal([]byte(good.body), &value))
	schema := operation.RequestBody.Content.GetOrZero("application/json").Schema.Schema()
	for _, v := range variants(schema, value, "") {
		body, err := json.Marshal(v.value)
		require.NoError(p.t, err)
		add(v.what+" "+v.field, 422, v.field, func(c *call) { c.body = string(body) })
	}
	return list
}

// variant is a body in which one field is wrong.
type variant struct {
	what, field string
	value       any
}

// variants makes, of a body that is right, those in which one field is unknown, missing, of another type, empty, too long
// or in the unit of something else.
func variants(schema *base.Schema, value any, path string) []variant {
	object, ok := value.(map[string]any)
	if !ok {
		return nil
	}
	if schema.Properties == nil { // a reference with a description beside it
		schema = schema.AllOf[slices.IndexFunc(schema.AllOf, func(s *base.SchemaProxy) bool { return s.Schema().Properties != nil })].Schema()
	}
	in := func(field string) string { return strings.TrimPrefix(path+"."+field, ".") }
	with := func(field string, v any) map[string]any {
		changed := maps.Clone(object)
		changed[field] = v
		return changed
	}
	list := []variant{{"unknown", in("speling"), with("speling", "x")}, {"unknown by its case", in("Reason"), with("Reason", "x")}}
	for _, field := range schema.Required {
		changed := maps.Clone(object)
		delete(changed, field)
		list = append(list, variant{"missing", in(field), changed})
	}
	for _, field := range slices.Sorted(maps.Keys(object)) {
		part := schema.Properties.GetOrZero(field).Schema()
		if v, measured := object[field].(map[string]any); measured && v["unit"] != nil {
			changed := maps.Clone(v)
			changed["unit"] = map[any]string{"ft": "lb", "lb": "mph", "mph": "ft"}[v["unit"]]
			list = append(list, variant{"the unit of something else in", in(field + ".unit"), with(field, changed)})
		}
		for what, v := range badValues(part, object[field]) {
			list = append(list, variant{what, in(field), with(field, v)})
		}
		for _, v := range variants(part, object[field], in(field)) {
			list = append(list, variant{v.what, v.field, with(field, v.value)})
		}
		if items, ok := object[field].([]any); ok {
			for i := range items {
				for _, v := range variants(part.Items.A.Schema(), items[i], fmt.Sprintf("%s[%d]", in(field), i)) {
					changed := slices.Clone(items)
					changed[i] = v.value
					list = append(list, variant{v.what, v.field, with(field, changed)})
				}
			}
		}
	}
	return list
}

// badValues are what cannot stand in the place of a value.
func badValues(schema *base.Schema, value any) map[string]any {
	bad := map[string]any{"null in": nil, "a list in": []any{1}}
	switch value.(type) {
	case string:
		bad["a number in"], bad["a control character in"], bad["an escape in"], bad["a turn of direction in"] = 7, "a\u0000b", "a\u001b[31mb", "a\u202eb"
		if schema.MaxLength != nil {
			bad["too long"] = strings.Repeat("m", int(*schema.MaxLength)+1)
		}
		if schema.MinLength != nil {
			bad["nothing but spaces in"] = "  "
		}
		if schema.Format != "" || len(schema.Enum) > 0 || schema.Pattern != "" {
			bad["another word in"] = "soon"
		}
	case float64:
		bad["a text in"], bad["a fraction in"], bad["less than nothing in"], bad["far too much in"] = "7", 1.5, -1, 1e18
	case bool:
		bad["a text in"] = "true"
	default:
		bad["a text in"] = "x"
	}
	if _, list := value.([]any); list {
		delete(bad, "a list in")
		bad["an empty list in"] = []any{}
		many := slices.Repeat(value.([]any), 51)
		bad["too many in"] = many[:min(len(many), 1000)] // more would be too large as a body
	}
	return bad
}

// An id that is taken is refused wherever it is given, and another event's id is no way in.
func TestIdsThatAreTaken(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s, other := hooking(p.fair), testHook(p.fair)
	hook, next := s.class().Rounds[0].Hooks[0], s.class().OnTrack()
	for what, c := range map[string]struct {
		path, body, field string
		role              domain.Role
	}{
		"an entry's":      {entering(p.fair).api("/entries"), `{"id": "` + hook.Entry.String() + `", "number": "99", "puller": "Orla Penrose"}`, "id", domain.Desk},
		"a hook's":        {frozen(p.fair).api("/hooks"), `{"id": "` + hook.ID.String() + `"}`, "id", domain.Booth},
		"the next one's":  {s.hookPath("result"), `{"result": {"outcome": "absent"}, "next": "` + next.ID.String() + `"}`, "next", domain.Booth},
		"a round's":       {pullOffDue(p.fair).api("/rounds"), `{"id": "` + other.class().Rounds[0].ID.String() + `", "name": "P1"}`, "id", domain.Desk},
		"a first round's": {entering(p.fair).api("/draw"), `{"round": "` + other.class().Rounds[0].ID.String() + `", "seed": "dice"}`, "round", domain.Desk},
		"a class's": {"/api/v1/events/" + inventedSlug + "/classes", fmt.Sprintf(`{"id": "%s", "name": "One More", "session": "%s", "track": "%s", "sled": "%s", "rules": "capped-300ft"}`,
			s.class().ID, p.loader.event.Sessions[0].ID, p.loader.event.Tracks[0].ID, p.loader.event.Sleds[0].ID), "id", domain.Desk},
	} {
		before := p.lines()
		r := p.post(c.role, c.path, c.body)
		require.Equal(t, http.StatusUnprocessableEntity, r.status, "%s: %s", what, r.body)
		require.Equal(t, c.field, r.at("field"), what)
		require.Equal(t, before, p.lines(), what)
	}
}
