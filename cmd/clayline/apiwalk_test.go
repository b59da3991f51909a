package main

import (
	"maps"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui"
)

// A program does everything that people do at an event, through the interface alone, and every operation that is
// described is used.
func TestAProgramRunsAnEvent(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	p.contract = newContract(t)
	all := p.secret("", domain.Desk)
	write := func(path, body string) reply {
		t.Helper()
		return p.ask(call{method: http.MethodPost, path: path, body: body, as: all})
	}

	planned := write("/api/v1/events", `{"name": "Kettle Bridge Pull", "place": "Kettle Bridge", "zone": "Europe/Amsterdam", "tracks": [{"name": "Track 1"}],
		"sleds": [{"name": "Plumb Bob", "gears": 4, "start_holes": 3}], "sessions": [{"name": "Evening", "starts": "2026-09-19T18:00:00+02:00"}]}`).is(http.StatusCreated)
	event := planned.header.Get("Location")
	require.Equal(t, "/api/v1/events/kettle-bridge-pull", event)
	e := p.get(event)
	require.Equal(t, planned.at("id"), e.at("id"))
	require.Equal(t, "2026-09-19T16:00:00Z", e.at("sessions.0.starts"))

	p.changesTheProgramme(event, all)
	e = p.get(event)
	link := write(event+"/passes", `{"role": "booth"}`).is(http.StatusCreated)
	require.Contains(t, link.at("link"), p.address+webui.EnterPath(""), "the link opens the pages too")
	entered := p.ask(call{method: http.MethodPost, path: "/api/v1/passes/enter", body: `{"link": "` + link.at("link") + `", "device": "the timing van"}`}).is(http.StatusCreated)
	require.Equal(t, "kettle-bridge-pull", entered.at("event"))
	booth := entered.at("secret")
	me := p.ask(call{method: http.MethodGet, path: "/api/v1/me", as: booth}).is(http.StatusOK)
	require.Equal(t, []string{"booth", "kettle-bridge-pull", "the timing van"}, []string{me.at("role"), me.at("event"), me.at("device")})

	inside := func() reply {
		t.Helper()
		return p.ask(call{method: http.MethodGet, path: event + "/passes", as: all}).is(http.StatusOK)
	}
	require.Equal(t, []string{"booth", "in", "the timing van", "true"}, []string{inside().at("passes.0.role"), inside().at("passes.0.state"), inside().at("passes.0.device"), inside().at("passes.0.program")})
	lost := write(event+"/passes", `{"role": "cab"}`).is(http.StatusCreated).at("pass")
	again := write(event+"/passes/"+lost+"/replace", `{}`).is(http.StatusCreated)
	require.Equal(t, []string{"cab", "taken-away"}, []string{again.at("role"), inside().at("passes.1.state")})
	write(event+"/passes/"+again.at("pass")+"/revoke", `{}`).is(http.StatusOK)
	require.Equal(t, "taken-away", inside().at("passes.0.state"))
	short := p.secret("kettle-bridge-pull", domain.Cab)
	p.ask(call{method: http.MethodPost, path: "/api/v1/passes/leave", as: short}).is(http.StatusOK)
	require.Equal(t, "given-back", inside().at("passes.0.state"))

	require.Equal(t, "dutch-farm-100m", p.get("/api/v1/rule-sets?limit=6").at("rule_sets.-1.name"))
	require.Equal(t, "300", p.get("/api/v1/rule-sets/capped-300ft").at("line"))
	limited := strings.TrimSuffix(strings.TrimSpace(p.get("/api/v1/rule-sets/capped-300ft").body), "}") + `, "weight": {"limit": "8200 lb", "when": "both"}}`
	body := `{"name": "8,200 lb Field Stock", "session": "` + e.at("sessions.0.id") + `", "track": "` + e.at("tracks.0.id") + `", "sled": "` + e.at("sleds.0.id") + `", "rules": ` + limited + `}`
	class := write(event+"/classes", body).is(http.StatusCreated).header.Get("Location")
	require.Equal(t, event+"/classes/8200-lb-field-stock", class)
	require.Equal(t, "entering", p.get(event+"/classes").at("classes.0.phase"))
	p.ask(call{method: http.MethodPut, path: event + "/order", body: `{"classes": [{"id": "` + p.get(class).at("id") + `"}]}`, as: all}).is(http.StatusOK)
	require.Equal(t, p.get(class).at("id"), p.ask(call{method: http.MethodGet, path: event + "/order", as: all}).at("proposed.classes.0.id"))
	p.asksWithPins(event, p.get(class).at("id"), all)
	write(class+"/start", `{"starts": "2026-09-19T20:30:00+02:00"}`).is(http.StatusOK)
	require.Equal(t, "2026-09-19T18:30:00Z", p.get(class).at("starts"))
	write(class+"/place", `{"session": "`+e.at("sessions.1.id")+`", "track": "`+e.at("tracks.0.id")+`"}`).is(http.StatusOK)
	require.Equal(t, e.at("sessions.1.id"), p.get(class).at("session"))

	var entries []string
	for _, e := range []string{`"41", "puller": "Maud Farrow", "vehicle": "Brindle Ox", "home": "Wrenfield"`, `"7", "puller": "Ellis Tarrant"`, `"23", "puller": "Jonas Weir"`, `"9", "puller": "Una Reed"`} {
		entries = append(entries, write(class+"/entries", `{"number": `+e+`}`).is(http.StatusCreated).at("entry"))
	}
	misread := write(class+"/weighings", `{"entry": "`+entries[0]+`", "weight": {"figures": "8300", "unit": "lb"}}`).is(http.StatusCreated).at("reading")
	write(class+"/weighings/"+misread+"/misread", `{"reason": "the driver had not stepped off"}`).is(http.StatusOK)
	write(class+"/weighings", `{"entry": "`+entries[0]+`", "weight": {"figures": "8190.5", "unit": "lb"}}`).is(http.StatusCreated)
	require.Equal(t, []string{"false", "8190.5", "true"}, []string{p.get(class).at("weighings.0.within"), p.get(class).at("weighings.1.weight.figures"), p.get(class).at("weighings.1.within")})
	write(class+"/entries/"+entries[3]+"/scratch", `{"reason": "broken axle"}`).is(http.StatusOK)
	write(class+"/attendance", `{"entries": [{"entry": "`+entries[0]+`", "came": true, "fee": "20.50", "paid": true}, {"entry": "`+entries[1]+`", "guest": true}]}`).is(http.StatusOK)
	fees := p.ask(call{method: http.MethodGet, path: class + "/purse", as: all}).is(http.StatusOK)
	require.Equal(t, []string{"41", "true", "20.50", "true", "true", "false"}, []string{fees.at("entries.0.number"), fees.at("entries.0.came"), fees.at("entries.0.fee"),
		fees.at("entries.0.paid"), fees.at("entries.1.guest"), fees.at("entries.1.came")})
	write(class+"/commitment", `{"commitment": "877dd08dfac46f0cc9f56745547bca9a35b2bea683c7de0e146a96c2b7109cbd"}`).is(http.StatusOK)
	require.Equal(t, "877dd08dfac46f0cc9f56745547bca9a35b2bea683c7de0e146a96c2b7109cbd", p.get(class).at("commitment.hash"))
	write(class+"/draw", `{"seed": "dice 4 2 6", "reveal": "grey heron 9f2c41d07be3", "between": 3, "fixed": [{"entry": "`+entries[0]+`", "place": 1}]}`).is(http.StatusOK)
	require.Equal(t, []string{"dice 4 2 6|grey heron 9f2c41d07be3", "1", entries[0]}, []string{p.get(class).at("draw.seed"), p.get(class).at("draw.try"), p.get(class).at("draw.order.0")})
	write(class+"/swap", `{"entry": "`+entries[0]+`", "with": "`+entries[1]+`", "reason": "one trailer"}`).is(http.StatusOK)

	card := `{"box": {"figures": "21600", "unit": "lb"}, "slabs": {"left": 6, "right": 6}, "gear": 3, "start_hole": 2, "trip": {"figures": "198.5", "unit": "ft"},
		"pan": {"figures": "40", "unit": "kg"}, "blades": "1 in", "push_down": "none", "device": "laser", "speed_limit": {"figures": "3.5", "unit": "mph"}, "note": "wet"}`
	begin := func() {
		t.Helper()
		round := class + "/rounds/" + p.get(class).at("rounds.-1.id") + "/setting"
		p.ask(call{method: http.MethodPut, path: round, body: card, as: all}).is(http.StatusOK)
		draft := p.ask(call{method: http.MethodGet, path: round, as: booth}).is(http.StatusOK)
		require.Equal(t, []string{"draft", "198.5", "40", "3.5"}, []string{draft.at("state"), draft.at("card.trip.figures"), draft.at("card.pan.figures"), draft.at("card.speed_limit.figures")})
		write(round+"/freeze", `{"revision": `+p.get(class).at("rounds.-1.draft")+`}`).is(http.StatusOK)
	}
	hook := func(act, body string) reply {
		t.Helper()
		c := p.get(class)
		id := c.at("awaited.hook")
		if id == "" {
			id = c.at("rounds.-1.hooks.-1.id")
		}
		return p.ask(call{method: http.MethodPost, path: class + "/hooks/" + id + "/" + act, body: body, as: booth}).is(http.StatusOK)
	}
	begin()
	require.NotContains(t, p.get(class).body, `"draft":`)
	write(class+"/rounds/"+p.get(class).at("rounds.0.id")+"/setting/reset", `{"reason": "the gear jumped out"}`).is(http.StatusOK)
	begin()
	called := uuid.NewString()
	require.Equal(t, called, p.ask(call{method: http.MethodPost, path: class + "/hooks", body: `{"id": "` + called + `"}`, as: booth}).is(http.StatusCreated).at("hook"))
	require.Equal(t, called, p.get(class).at("awaited.hook"))
	p.ask(call{method: http.MethodPost, path: class + "/hooks/" + called + "/ready", body: `{"held": true, "words": "cable frayed"}`, as: all}).is(http.StatusOK)
	p.ask(call{method: http.MethodPost, path: class + "/entries/" + entries[0] + "/presence", body: `{"where": "here"}`, as: all}).is(http.StatusOK)
	hook("start", "")
	p.ask(call{method: http.MethodPost, path: class + "/hooks/" + called + "/flag", body: `{"call": "re-hook", "reason": "sled"}`, as: all}).is(http.StatusOK)
	p.ask(call{method: http.MethodPost, path: class + "/hooks/" + called + "/difference", body: `{"what": "hand drop", "words": "pan hung"}`, as: all}).is(http.StatusOK)
	require.Equal(t, "true", p.get(class).at("rounds.0.hooks.0.noted"))
	require.NotContains(t, p.get(class).body, "pan hung", "what it was is for staff")
	hook("speed", `{"top": {"figures": "3.4", "unit": "mph"}, "at_line": {"figures": "5.1", "unit": "km/h"}}`)
	require.Equal(t, []string{"3.4", "5.1", "km/h"}, []string{p.get(class).at("rounds.0.hooks.0.speeds.top.figures"),
		p.get(class).at("rounds.0.hooks.0.speeds.at_line.figures"), p.get(class).at("rounds.0.hooks.0.speeds.at_line.unit")})
	hook("result", measured("281.36", "ft"))
	require.Equal(t, "choice-open", p.get(class).at("phase"))
	require.Equal(t, "281.36", p.get(class+"/standing").at("standing.0.total.figures"))
	p.attachesAPhoto(class, called, booth)
	next := hook("choice", `{"option": "last"}`)
	require.Equal(t, next.at("next"), p.get(class).at("awaited.hook"))
	hook("drop", `{"reason": "drive belt came off"}`)
	hook("second-attempt", `{}`)
	hook("again", `{"reason": "sled, light went red by itself", "places": 1}`)
	for range 3 {
		hook("result", `{"result": {"outcome": "FP"}}`)
	}
	require.Equal(t, []string{"pull-off-due", "P1"}, []string{p.get(class).at("phase"), p.get(class).at("due.round")})
	hook("correction", `{"result": {"outcome": "measured", "distance": {"figures": "299.999", "unit": "ft"}}, "reason": "misread"}`)
	write(class+"/rounds", `{"name": "P1"}`).is(http.StatusCreated)
	begin()
	p.ask(call{method: http.MethodPost, path: class + "/hooks", as: booth}).is(http.StatusCreated)
	hook("result", measured("312.44", "ft"))
	hook("result", measured("299.1", "ft"))
	hook("void", `{"reason": "pulled out of turn"}`)
	require.Equal(t, "decided", p.get(class).at("phase"))
	protest := write(class+"/protests", `{"entry": "`+entries[1]+`", "about": "over the side line", "fee_taken": true, "by": "Jonas Protests"}`).is(http.StatusCreated).at("protest")
	require.Equal(t, []string{"ruling", protest, "true"}, []string{p.get(class).at("awaited.actions.0"), p.get(class).at("protests.0.id"), p.get(class).at("protests.0.fee_taken")})
	require.NotContains(t, p.get(class).body, "Jonas Protests", "who lodged it is not told")
	write(class+"/protests/"+protest+"/ruling", `{"ruling": "upheld", "follows": "correction", "reason": "seen on video"}`).is(http.StatusOK)
	require.Equal(t, "correction", p.get(class).at("protests.0.follows"))
	require.Equal(t, "[]", p.ask(call{method: http.MethodGet, path: class + "/trend", as: booth}).is(http.StatusOK).at("rounds"), "of four hooks nothing is said")
	write(class+"/official", `{"name": "Ada Holm"}`).is(http.StatusOK)
	require.Equal(t, "Ada Holm", p.get(class+"/standing").at("official.name"))
	write(class+"/official/reopen", `{"reason": "protest upheld"}`).is(http.StatusOK)
	require.Equal(t, []string{"1", "2", "protest upheld", "Ada Holm"}, []string{p.get(class).at("reopened"), p.get(class).at("revision"), p.get(class).at("earlier.0.reason"), p.get(class).at("earlier.0.name")})

	late := missed(p.fair)
	left := p.get(late.api("")).at("missed.0")
	require.NotEmpty(t, left)
	p.ask(call{method: http.MethodPost, path: late.roundPath("entries"), body: `{"entry": "` + left + `", "reason": "the sheet of the flagman"}`, as: all}).is(http.StatusOK)
	require.Equal(t, left, p.get(late.api("")).at("rounds.-1.lineup.-1.entry"))

	before := p.ask(call{method: http.MethodGet, path: late.api("/earlier?same="), as: all}).is(http.StatusOK)
	require.NotEmpty(t, before.at("earlier.0.card.gear"))

	told := p.ask(call{method: http.MethodGet, path: late.api("/estimate?round=1&gear=4"), as: all}).is(http.StatusOK)
	require.Equal(t, []string{"whatif", "4", "1"}, []string{told.at("job.job"), told.at("job.setup_to.gear"), told.at("round")})
	require.Equal(t, "sled", p.ask(call{method: http.MethodGet, path: class + "/estimate", as: all, wrong: true}).is(http.StatusConflict).at("field"), "only gears and holes are known of that sled")

	run := p.get(event + "/day")
	require.Equal(t, []string{"done", "true", "Nothing more is to be pulled.", ""}, []string{run.at("tracks.0.classes.0.state"), run.at("tracks.0.begun"), run.at("tracks.0.sentence"), run.at("tracks.0.behind")})
	p.usesTheRules(event, all)
	p.keepsASeason(class, all)
	journal := p.ask(call{method: http.MethodGet, path: event + "/journal?limit=200", as: all}).is(http.StatusOK)
	require.Equal(t, "event", journal.at("lines.0.kind"))
	require.NotContains(t, journal.body, "Maud Farrow", "a journal has no names")
	require.NotContains(t, journal.body, "Ada Holm")
	require.NotContains(t, journal.body, "Jonas Protests")
	require.Equal(t, p.get(event).at("version"), journal.at("lines.-1.number"))
	require.Contains(t, p.get("/api/v1/events").body, "kettle-bridge-pull")
	for _, path := range []string{event + "/stream", class + "/stream"} {
		r := p.listen(path + "?after=0")
		require.Positive(t, r.read().number)
		r.cut()
	}
	described := slices.Sorted(maps.Values(p.contract.operations()))
	require.Equal(t, described, slices.Sorted(maps.Keys(p.contract.used)), "every operation was used")
}

// changesTheProgramme adds, changes and removes what an event has, and leaves a second session in it.
func (p *programs) changesTheProgramme(event, all string) {
	p.t.Helper()
	ask := func(method, path, body string) reply {
		p.t.Helper()
		return p.ask(call{method: method, path: event + path, body: body, as: all})
	}
	session := ask(http.MethodPost, "/sessions", `{"name": "Sunday", "starts": "2026-09-20T16:00:00Z"}`).is(http.StatusCreated).at("id")
	ask(http.MethodPut, "/sessions/"+session, `{"name": "Sunday noon", "starts": "2026-09-20T10:00:00Z", "curfew": "2026-09-20T23:00:00+02:00", "breaks": [{"from": "2026-09-20T12:00:00Z", "minutes": 20}, {"from": "2026-09-20T15:00:00Z", "minutes": 10}]}`).is(http.StatusOK)
	gone := ask(http.MethodPost, "/sessions", `{"name": "Monday", "starts": "2026-09-21T16:00:00Z"}`).at("id")
	ask(http.MethodPost, "/sessions/"+gone+"/remove", `{}`).is(http.StatusOK)
	ask(http.MethodPut, "/sessions/"+session, `{"name": "Sunday noon", "starts": "2026-09-20T10:00:00Z", "curfew": "2026-09-20T09:00:00Z"}`).is(http.StatusUnprocessableEntity)
	for _, breaks := range []string{`[]`, `[{"from": "2026-09-20T12:00:00Z", "minutes": 0}]`, `[{"from": "noon", "minutes": 5}]`, `[{"from": "2026-09-20T12:00:00Z", "minutes": 5, "for": "tea"}]`, `[{"from": "2026-09-20T09:00:00Z", "minutes": 5}]`} {
		body := `{"name": "Sunday noon", "starts": "2026-09-20T10:00:00Z", "breaks": ` + breaks + `}`
		p.ask(call{method: http.MethodPut, path: event + "/sessions/" + session, body: body, as: all, wrong: true}).is(http.StatusUnprocessableEntity)
	}
	require.Equal(p.t, []string{"2026-09-20T15:00:00Z", "10", ""}, []string{p.get(event).at("sessions.1.breaks.1.from"), p.get(event).at("sessions.1.breaks.1.minutes"), p.get(event).at("sessions.0.breaks")})
	require.Equal(p.t, []string{"Sunday noon", "2026-09-20T21:00:00Z", ""}, []string{p.get(event).at("sessions.1.name"), p.get(event).at("sessions.1.curfew"), p.get(event).at("sessions.2.name")})
	track := ask(http.MethodPost, "/tracks", `{"name": "Track 2"}`).is(http.StatusCreated).at("id")
	ask(http.MethodPut, "/tracks/"+track, `{"name": "Upper track"}`).is(http.StatusOK)
	require.Equal(p.t, "Upper track", p.get(event).at("tracks.1.name"))
	ask(http.MethodPost, "/tracks/"+track+"/remove", ``).is(http.StatusOK)
	sled := ask(http.MethodPost, "/sleds", `{"description": {"name": "Slow Anvil", "gears": 5, "start_holes": 4}}`).is(http.StatusCreated).at("id")
	ask(http.MethodPut, "/sleds/"+sled, `{"version": 1, "description": {"name": "Slow Anvil", "gears": 6, "start_holes": 4, "wheelbase": "24 ft"}}`).is(http.StatusOK)
	ask(http.MethodPut, "/sleds/"+sled, `{"version": 1, "description": {"name": "Slow Anvil", "gears": 7, "start_holes": 4}}`).is(http.StatusConflict)
	told := ask(http.MethodGet, "/sleds/"+sled, ``).is(http.StatusOK)
	ask(http.MethodPost, "/sleds/"+sled+"/inspections", `{"by": "Ada Flagg", "points": [{"point": "wheel brakes hold", "state": "ok"}, {"point": "breakaway cable", "state": "not ok", "note": "frayed"}]}`).is(http.StatusCreated)
	ask(http.MethodPost, "/sleds/"+sled+"/inspections", `{"by": "Ada Flagg", "points": [{"point": "horn", "state": "ok"}]}`).is(http.StatusUnprocessableEntity)
	log := ask(http.MethodGet, "/sleds/"+sled+"/log", ``).is(http.StatusOK)
	require.Equal(p.t, []string{"Slow Anvil", "Ada Flagg", "ok", ""}, []string{log.at("name"), log.at("events.0.inspections.0.by"), log.at("events.0.inspections.0.points.0.state"), log.at("events.0.classes.0.class")})
	require.Contains(p.t, log.at("says"), "no approval")
	ask(http.MethodGet, "/sleds/"+session+"/log", ``).is(http.StatusNotFound)
	ask(http.MethodGet, "/sleds/nine/log", ``).is(http.StatusNotFound)
	require.Equal(p.t, "262.5", ask(http.MethodPost, "/sled", topOutJob).is(http.StatusOK).at("gears.0.top_out_ft.0"))
	require.Equal(p.t, "true", ask(http.MethodGet, "/order", ``).is(http.StatusOK).at("exact"))
	ask(http.MethodPut, "/order", `{"classes": [{"id": "0b9d3f3e-8c1f-4a56-9c4e-2f6f3a1d7b10"}]}`).is(http.StatusConflict)
	require.Equal(p.t, []string{"2", "6", "24 ft"}, []string{told.at("version"), told.at("description.gears"), told.at("description.wheelbase")})
}

// asksWithPins asks for the order with what it is to keep, and with what nobody can keep.
func (p *programs) asksWithPins(event, class, all string) {
	p.t.Helper()
	ask := func(query string) reply {
		return p.ask(call{method: http.MethodGet, path: event + "/order?" + query, as: all})
	}
	kept := ask("place=" + class + ",1&starts=" + class + ",2026-09-19T18:30:00-05:00").is(http.StatusOK)
	require.Equal(p.t, []string{"2026-09-19T23:30:00Z", "0", ""}, []string{kept.at("proposed.classes.0.starts"), kept.at("proposed.late_start"), kept.at("loosened.0")})
	for query, says := range map[string]string{
		"place=" + class + ",0":                     `"0" is no place`,
		"place=" + class:                            `"" is no place`,
		"place=nine,1":                              `"nine" is not the id of a class`,
		"starts=" + class + ",18:30":                `"18:30" is not a time`,
		"starts=" + uuid.NewString() + ",1":         `"1" is not a time`,
		"place=" + uuid.NewString() + ",1":          "A place or a start is asked for a class that the event does not have",
		"starts=" + class + ",1999-01-01T00:00:00Z": "the fixed start is before the programme counts",
	} {
		refused := p.ask(call{method: http.MethodGet, path: event + "/order?" + query, as: all, wrong: true}).is(http.StatusUnprocessableEntity)
		require.Contains(p.t, refused.body, strings.ReplaceAll(says, `"`, `\"`), query)
	}
}

// keepsASeason keeps a season with the class, reads it, and writes it anew.
func (p *programs) keepsASeason(class, all string) {
	p.t.Helper()
	address := strings.NewReplacer("/api/v1/events/", "", "/classes/", "/").Replace(class)
	document := `{"name": "Valley series", "points": {"places": [10], "step": 1}, "events": [{"name": "Elm", "classes": [{"series": "Stock", "class": "` + address + `"}]}]}`
	season := p.ask(call{method: http.MethodPost, path: "/api/v1/seasons", body: `{"document": ` + document + `}`, as: all}).is(http.StatusCreated).header.Get("Location")
	require.Equal(p.t, "/api/v1/seasons/valley-series", season)
	require.Equal(p.t, "valley-series", p.get("/api/v1/seasons").at("seasons.0.slug"))
	told := p.get(season)
	require.Equal(p.t, []string{"1", "Stock", "vehicle"}, []string{told.at("version"), told.at("series.0.series"), told.at("series.0.to")})
	written := p.ask(call{method: http.MethodGet, path: season + "/document", as: all}).is(http.StatusOK)
	require.Equal(p.t, address, written.at("document.events.0.classes.0.class"))
	change := call{method: http.MethodPut, path: season, body: `{"version": 1, "document": ` + strings.Replace(document, "Elm", "Oak", 1) + `}`, as: all}
	p.ask(change).is(http.StatusOK)
	change.key = ""
	p.ask(change).is(http.StatusPreconditionFailed)
	require.Equal(p.t, "2", p.get(season).at("version"))
	p.get("/api/v1/records")
}

// measured is the body of a result.
func measured(figures, unit string) string {
	return `{"result": {"outcome": "measured", "distance": {"figures": "` + figures + `", "unit": "` + unit + `"}}}`
}

func TestListsComeInParts(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	for list, name := range map[string]string{"/api/v1/events": "events.0.slug", "/api/v1/rule-sets": "rule_sets.0.name"} {
		seen := map[string]bool{}
		for cursor := ""; ; {
			part := p.get(list + "?limit=1&cursor=" + cursor)
			require.False(t, seen[part.at(name)], "each is in one part")
			seen[part.at(name)] = true
			if cursor = part.at("next"); cursor == "" {
				break
			}
		}
		assert.GreaterOrEqual(t, len(seen), 2, list)
	}
	hooking(p.fair)
	path := "/api/v1/events/" + inventedSlug + "/journal?limit=3&cursor="
	var numbers []string
	for cursor := ""; ; {
		part := p.ask(call{method: http.MethodGet, path: path + cursor, as: p.secrets[domain.Desk]}).is(http.StatusOK)
		for i := range 3 {
			if n := part.at("lines." + string(rune('0'+i)) + ".number"); n != "" {
				numbers = append(numbers, n)
			}
		}
		if cursor = part.at("next"); cursor == "" {
			break
		}
	}
	require.Equal(t, "1 2 3 4 5 6", strings.Join(numbers[:6], " "))
	require.Equal(t, p.get("/api/v1/events/"+inventedSlug).at("version"), numbers[len(numbers)-1])
	for _, wrong := range []string{"/api/v1/events?cursor=MQ", "/api/v1/events?cursor=%25", "/api/v1/events/" + inventedSlug + "/classes?cursor=MQ", "/api/v1/rule-sets?cursor=MQ"} {
		require.Equal(t, "cursor", p.ask(call{method: http.MethodGet, path: wrong}).is(http.StatusUnprocessableEntity).at("field"), wrong)
	}
	require.Equal(t, "limit", p.ask(call{method: http.MethodGet, path: "/api/v1/events?limit=1000", wrong: true}).is(http.StatusUnprocessableEntity).at("field"))
}
