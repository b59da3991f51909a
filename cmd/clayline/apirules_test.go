package main

import (
	"encoding/json"
	"maps"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/pb33f/libopenapi/datamodel/high/base"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

// freeRules are rules that leave much to people, as a program sends a set of its own.
const freeRules = `{"name": "my-club", "title": "300 ft or 320 ft", "unit": "ft", "line": 300, "cap": true, "rounds": 1,
	"moving_line": {"choices": [320], "by": 1}, "restart": 50, "restarts": {"kinds": ["tractor 50", "truck 100"], "judged_by": "throttle"},
	"measure": {"from": "the front of the pan", "decimals": 2}, "entries": {"vehicle_twice": "places_once", "least": 5, "below": "an exhibition"},
	"call": {"minutes": 3, "from": "sled back on the line", "not_ready": "disqualified"},
	"test_puller": {"who": "chosen", "options": ["last"], "until": "before unhooking", "silence": "last", "before_distance": true},
	"reasons": {"out_of_bounds": "measured"}, "reset_when": {"full_pulls": 1}, "speed": {"limit": "3.5 mph", "from": "1/3"}, "stopped": "pulled"}`

// usesTheRules plans a class under those rules and uses what they leave to people.
func (p *programs) usesTheRules(event string, all string) {
	p.t.Helper()
	e := p.get(event)
	post := func(path, body string) reply {
		p.t.Helper()
		return p.ask(call{method: http.MethodPost, path: path, body: body, as: all})
	}
	class := post(event+"/classes", `{"name": "Two Lines", "kind": "truck", "session": "`+e.at("sessions.0.id")+`", "track": "`+e.at("tracks.0.id")+`", "sled": "`+e.at("sleds.0.id")+`", "rules": `+freeRules+`}`).
		is(http.StatusCreated).header.Get("Location")
	require.Equal(p.t, "100", p.get(class).at("rules.restart"), "the line of trucks")
	first := post(class+"/entries", `{"number": "41", "puller": "Maud Farrow"}`).is(http.StatusCreated).at("entry")
	post(class+"/entries", `{"number": "7", "puller": "Ellis Tarrant"}`).is(http.StatusCreated)
	again := post(class+"/entries", `{"number": "41b", "puller": "Jonas Weir", "same_as": "`+first+`"}`).is(http.StatusCreated).at("entry")
	require.Equal(p.t, first, p.get(class).at("entries.2.same_as"))
	require.Contains(p.t, p.get(class).at("advice.too_few"), "an exhibition")
	post(class+"/draw", `{"seed": "dice 4 2 6"}`).is(http.StatusOK)
	picked := again
	if p.get(class).at("awaited.next") == again {
		picked = first
	}
	post(class+"/test-puller", `{"entry": "`+picked+`"}`).is(http.StatusOK)
	require.Equal(p.t, picked, p.get(class).at("awaited.next"))
	post(class+"/line", `{"line": {"figures": "320", "unit": "ft"}, "reason": "the sled is light"}`).is(http.StatusOK)
	require.Equal(p.t, []string{"320", "300"}, []string{p.get(class).at("rules.line"), p.get(class).at("line_was.figures")})

	round := class + "/rounds/" + p.get(class).at("rounds.0.id") + "/setting"
	p.ask(call{method: http.MethodPut, path: round, body: okCard, as: all}).is(http.StatusOK)
	post(round+"/freeze", `{"revision": 1}`).is(http.StatusOK)
	post(class+"/hooks", "").is(http.StatusCreated)
	told := p.get(class)
	require.Equal(p.t, []string{"sled back on the line", "a puller who is not ready is disqualified"}, []string{told.at("advice.call.from"), told.at("advice.call.says")})
	post(class+"/hooks/"+told.at("awaited.hook")+"/result", `{"result": {"outcome": "DQ", "reason": "out of bounds", "distance": {"figures": "281.36", "unit": "ft"}}}`).is(http.StatusOK)
	p.keepsBack(class, all)
	post(class+"/hooks/"+p.get(class).at("awaited.hook")+"/choice", `{"option": "keep"}`).is(http.StatusOK)
	require.Equal(p.t, "281.36", p.get(class+"/standing").at("standing.0.total.figures"), "measured where it happened")

	post(class+"/hooks/"+p.get(class).at("awaited.hook")+"/second-attempt", `{"distance": {"figures": "104.5", "unit": "ft"}}`).is(http.StatusOK)
	require.Equal(p.t, "104.5", p.get(class).at("rounds.0.hooks.1.result.distance.figures"), "the throttle decides")
	post(class+"/stop", `{"reason": "rain"}`).is(http.StatusOK)
	require.Equal(p.t, []string{"decided", "rain"}, []string{p.get(class).at("phase"), p.get(class).at("stopped.reason")})
	post(class+"/resume", `{"reason": "dry again"}`).is(http.StatusOK)
	require.Equal(p.t, "ready", p.get(class).at("phase"))
}

// keepsBack holds that nothing everybody can read has the figure that the test puller chooses before.
func (p *programs) keepsBack(class, all string) {
	p.t.Helper()
	told := p.get(class)
	require.Equal(p.t, []string{"choice-open", "last", "true"}, []string{told.at("phase"), told.at("choice.silence"), told.at("choice.kept_back")})
	event := class[:strings.LastIndex(class, "/classes/")]
	for _, path := range []string{class, class + "/standing", event + "/classes", event} {
		require.NotContains(p.t, p.get(path).body, "281.36", path)
	}
	journal := p.ask(call{method: http.MethodGet, path: event + "/journal?limit=200", as: all}).is(http.StatusOK)
	require.Contains(p.t, journal.body, "281.36", "the officials have it")
}

// The description knows every field that a rule set may have, and no other.
func TestTheDescriptionKnowsEveryFieldOfARuleSet(t *testing.T) {
	t.Parallel()
	text, err := doc.RuleSetSchema()
	require.NoError(t, err)
	var own map[string]any
	require.NoError(t, json.Unmarshal(text, &own))
	proxy, ok := newContract(t).model.Components.Schemas.Get("RuleSet")
	require.True(t, ok)
	sameFields(t, "", own, proxy.Schema())
}

// sameFields holds two schemas of an object against each other, by the names of their fields.
func sameFields(t *testing.T, path string, own map[string]any, described *base.Schema) {
	t.Helper()
	fields, group := own["properties"].(map[string]any)
	if !group {
		return
	}
	require.NotNil(t, described.Properties, path)
	var names []string
	for name, field := range described.Properties.FromOldest() {
		names = append(names, name)
		if inner, ok := fields[name].(map[string]any); ok {
			sameFields(t, path+"."+name, inner, field.Schema())
		}
	}
	assert.ElementsMatch(t, slices.Sorted(maps.Keys(fields)), names, "%s", path)
}

// A figure that is kept back is on no public page and in no file, while the booth has it.
func TestAKeptDistanceIsOnNoPublicPage(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := free(f).write().freeze().call().pull("281.36")
	require.True(t, s.class().KeptBack())
	public := []string{
		"/e/" + s.ref.Event, "/e/" + s.ref.Event + "/results.csv", "/e/" + s.ref.Event + "/results.json",
		s.path(""), s.path("sheet"), s.path("result"), s.path("result.csv"), s.path("result.json"),
	}
	visitor := visitor{fair: f}
	for _, path := range public {
		a := visitor.get(path)
		require.Equal(t, http.StatusOK, a.status, path)
		require.NotContains(t, a.body, "281.36", path)
	}
	booth := f.as(domain.Booth).get(s.path("booth"))
	require.Contains(t, booth.body, "281.36")
	require.Contains(t, booth.says(), "The distance is not announced before the choice")

	sent := f.as(domain.Booth).get(s.path("booth")).form("choice keep")
	require.Equal(t, http.StatusSeeOther, f.as(domain.Booth).submit(sent).status)
	for _, path := range []string{s.path(""), s.path("result"), s.path("result.csv"), s.path("result.json")} {
		require.Contains(t, visitor.get(path).body, "281.36", path)
	}
}
