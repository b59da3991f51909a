package main

import (
	"cmp"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// What is well formed and not possible is refused, each with the field and the next step.
func TestWhatIsNotPossibleNow(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	var refusedNow []string
	fp := `{"result": {"outcome": "FP"}}`
	for what, c := range map[string]struct {
		stands stands
		role   domain.Role
		method string
		path   func(*scene) string
		body   string
		status int
		field  string
	}{
		"a result for a puller who was not called": {frozen, domain.Booth, "", func(s *scene) string { return s.hookPath("result") }, fp, 409, "hook"},
		"a result for a hook that has one":         {hooking, domain.Booth, "", func(s *scene) string { return s.api("/hooks/" + s.class().Rounds[0].Hooks[0].ID.String() + "/result") }, fp, 409, "hook"},
		"a result for what is no id":               {testHook, domain.Booth, "", func(s *scene) string { return s.api("/hooks/the-first/result") }, fp, 404, "hook"},
		"a start before the call":                  {frozen, domain.Booth, "", func(s *scene) string { return s.hookPath("start") }, "", 409, "hook"},
		"where a puller is who was never drawn":    {entering, domain.Desk, "", func(s *scene) string { return s.api("/entries/" + s.class().Entries[0].ID.String() + "/presence") }, `{"where": "here"}`, 409, ""},
		"a flag of who was absent":                 {absent, domain.Desk, "", func(s *scene) string { return s.api("/hooks/" + s.class().Rounds[0].Hooks[1].ID.String() + "/flag") }, `{"call": "re-hook"}`, 409, ""},
		"a flag that nobody shows":                 {testHook, domain.Desk, "", func(s *scene) string { return s.hookPath("flag") }, `{"call": "green"}`, 422, "call"},
		"ready after the start":                    {started, domain.Cab, "", func(s *scene) string { return s.hookPath("ready") }, "{}", 409, ""},
		"a difference that has no word":            {testHook, domain.Cab, "", func(s *scene) string { return s.hookPath("difference") }, `{"what": "flat tyre"}`, 422, "what"},
		"a speed of who was absent": {absent, domain.Cab, "", func(s *scene) string { return s.api("/hooks/" + s.class().Rounds[0].Hooks[1].ID.String() + "/speed") },
			`{"top": {"figures": "18.4", "unit": "mph"}}`, 409, ""},
		"a second start":                           {started, domain.Booth, "", func(s *scene) string { return s.hookPath("start") }, "", 409, ""},
		"a call while somebody is on the track":    {testHook, domain.Booth, "", func(s *scene) string { return s.api("/hooks") }, "", 409, ""},
		"a call while a choice is open":            {choiceOpen, domain.Booth, "", func(s *scene) string { return s.api("/hooks") }, "", 409, ""},
		"a call without a setting":                 {drawn, domain.Booth, "", func(s *scene) string { return s.api("/hooks") }, "", 409, ""},
		"a call before the draw":                   {entering, domain.Booth, "", func(s *scene) string { return s.api("/hooks") }, "", 409, ""},
		"a pull-off with one":                      {oneFullPull, domain.Desk, "", func(s *scene) string { return s.api("/rounds") }, `{"name": "P1"}`, 409, ""},
		"another round than the one due":           {pullOffDue, domain.Desk, "", func(s *scene) string { return s.api("/rounds") }, `{"name": "2"}`, 409, "name"},
		"a setting for a round that is over":       {frozen, domain.Desk, http.MethodPut, func(s *scene) string { return s.api("/rounds/" + uuid.NewString() + "/setting") }, okCard, 409, "round"},
		"a setting over a frozen one":              {frozen, domain.Desk, http.MethodPut, func(s *scene) string { return s.roundPath("setting") }, okCard, 409, ""},
		"freezing another than what was seen":      {written, domain.Desk, "", func(s *scene) string { return s.roundPath("setting/freeze") }, `{"revision": 2}`, 409, "revision"},
		"freezing what was written over":           {written, domain.Desk, "", func(s *scene) string { return s.roundPath("setting/freeze") }, `{"revision": 1, "drafted": "2026-01-02T03:04:05Z"}`, 409, "revision"},
		"a gear that the sled has not":             {drawn, domain.Desk, http.MethodPut, func(s *scene) string { return s.roundPath("setting") }, strings.Replace(okCard, `"gear": 3`, `"gear": 9`, 1), 422, "gear"},
		"metres in a class in feet":                {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("result") }, measured("85.75", "m"), 422, "result.distance"},
		"pounds for a distance":                    {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("result") }, measured("85.75", "lb"), 422, "result.distance.unit"},
		"a comma":                                  {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("result") }, measured("281,36", "ft"), 422, "result.distance.figures"},
		"an exponent":                              {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("result") }, measured("2e2", "ft"), 422, "result.distance.figures"},
		"four decimals":                            {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("result") }, measured("281.3612", "ft"), 422, "result.distance.figures"},
		"a distance beyond the track":              {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("result") }, measured("2813.6", "ft"), 422, "result.distance"},
		"a distance far past a line that ends it":  {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("result") }, measured("350", "ft"), 422, "result.distance"},
		"a number that leads elsewhere":            {entering, domain.Desk, "", func(s *scene) string { return s.api("/entries") }, `{"number": "/..", "puller": "Nils Aker"}`, 422, "number"},
		"a weight far below the limit":             {limited, domain.Desk, "", func(s *scene) string { return s.api("/weighings") }, `{"entry": "` + uuid.NewString() + `", "weight": {"figures": "82", "unit": "lb"}}`, 422, "weight.figures"},
		"a trip point beyond the track":            {drawn, domain.Desk, http.MethodPut, func(s *scene) string { return s.roundPath("setting") }, strings.Replace(okCard, `"figures": "198"`, `"figures": "1980"`, 1), 422, "trip"},
		"a speed that nobody pulls with":           {testHook, domain.Cab, "", func(s *scene) string { return s.hookPath("speed") }, `{"top": {"figures": "9999", "unit": "mph"}}`, 422, "top"},
		"a full pull below the line":               {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("result") }, `{"result": {"outcome": "FP", "distance": {"figures": "299", "unit": "ft"}}}`, 422, "result.distance"},
		"a disqualification without a reason":      {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("result") }, `{"result": {"outcome": "DQ"}}`, 422, "result.reason"},
		"a second attempt from past the line":      {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("second-attempt") }, `{"distance": {"figures": "80", "unit": "ft"}}`, 422, "distance"},
		"a test puller where nobody may choose":    {drawn, domain.Booth, "", func(s *scene) string { return s.api("/test-puller") }, `{"entry": "` + uuid.NewString() + `"}`, 409, ""},
		"a test puller who is not in the class":    {free, domain.Booth, "", func(s *scene) string { return s.api("/test-puller") }, `{"entry": "` + uuid.NewString() + `"}`, 404, ""},
		"moving a line that does not move":         {drawn, domain.Desk, "", func(s *scene) string { return s.api("/line") }, `{"line": {"figures": "320", "unit": "ft"}, "reason": "light"}`, 409, ""},
		"moving the line to where no choice is":    {free, domain.Desk, "", func(s *scene) string { return s.api("/line") }, `{"line": {"figures": "310", "unit": "ft"}, "reason": "light"}`, 422, "line"},
		"stopping what has not begun":              {entering, domain.Desk, "", func(s *scene) string { return s.api("/stop") }, `{"reason": "rain"}`, 409, ""},
		"moving a class once somebody was called":  {testHook, domain.Desk, "", func(s *scene) string { return s.api("/place") }, `{"session": "` + uuid.NewString() + `", "track": "` + uuid.NewString() + `"}`, 409, ""},
		"moving a class to what the event has not": {entering, domain.Desk, "", func(s *scene) string { return s.api("/place") }, `{"session": "` + uuid.NewString() + `", "track": "` + uuid.NewString() + `"}`, 409, "session"},
		"a fixed start once somebody was called":   {testHook, domain.Desk, "", func(s *scene) string { return s.api("/start") }, `{"starts": "2026-09-20T00:30:00Z"}`, 409, ""},
		"stopping twice":                           {stopped, domain.Desk, "", func(s *scene) string { return s.api("/stop") }, `{"reason": "rain"}`, 409, ""},
		"a call in a class that is stopped":        {stopped, domain.Booth, "", func(s *scene) string { return s.api("/hooks") }, "", 409, ""},
		"going on with what goes on":               {hooking, domain.Desk, "", func(s *scene) string { return s.api("/resume") }, `{"reason": "dry"}`, 409, ""},
		"a difference under a signature": {official, domain.Cab, "", func(s *scene) string {
			return s.api("/hooks/" + s.class().Rounds[0].Hooks[0].ID.String() + "/difference")
		}, `{"what": "hand drop"}`, 409, ""},
		"a vehicle again where it hooks once": {entering, domain.Desk, "", func(s *scene) string { return s.api("/entries") },
			`{"number": "41b", "puller": "Maud Farrow", "same_as": "00000000-0000-4000-8000-000000000001"}`, 404, ""},
		"a void as a result":                       {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("result") }, `{"result": {"outcome": "void"}}`, 422, "result.outcome"},
		"an option that is not among the choices":  {choiceOpen, domain.Booth, "", func(s *scene) string { return s.hookPath("choice") }, `{"option": "3"}`, 422, "option"},
		"a choice where none is open":              {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("choice") }, `{"option": "keep"}`, 409, "hook"},
		"dropping further than the rules allow":    {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("drop") }, `{"reason": "belt", "places": 3}`, 422, "places"},
		"cooling down longer than the rules allow": {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("again") }, `{"reason": "sled", "places": 9}`, 422, "places"},
		"a photo of what has no distance":          {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("photos") }, photoOfShade(1), 409, ""},
		"correcting what has no result":            {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("correction") }, `{"result": {"outcome": "FP"}, "reason": "x"}`, 409, ""},
		"a second attempt for nobody":              {frozen, domain.Booth, "", func(s *scene) string { return s.hookPath("second-attempt") }, `{}`, 409, "hook"},
		"hooking again for what does not count":    {rehooked, domain.Booth, "", func(s *scene) string { return s.api("/hooks/" + s.class().Rounds[0].Hooks[0].ID.String() + "/again") }, `{"reason": "sled"}`, 409, ""},
		"dropping who was not called":              {frozen, domain.Booth, "", func(s *scene) string { return s.hookPath("drop") }, `{"reason": "belt"}`, 409, "hook"},
		"resetting what is not frozen":             {written, domain.Desk, "", func(s *scene) string { return s.roundPath("setting/reset") }, `{"reason": "gear"}`, 409, ""},
		"bringing in who missed no pull-off":       {pullOff, domain.Desk, "", func(s *scene) string { return s.roundPath("entries") }, `{"entry": "` + uuid.NewString() + `", "reason": "x"}`, 409, "entry"},
		"voiding what has no result":               {testHook, domain.Booth, "", func(s *scene) string { return s.hookPath("void") }, `{"reason": "x"}`, 409, ""},
		"signing what is not decided":              {hooking, domain.Desk, "", func(s *scene) string { return s.api("/official") }, `{"name": "Ada Holm"}`, 409, ""},
		"reopening what is not official":           {decided, domain.Desk, "", func(s *scene) string { return s.api("/official/reopen") }, `{"reason": "x"}`, 409, ""},
		"a protest against what is official": {official, domain.Desk, "", func(s *scene) string { return s.api("/protests") },
			`{"entry": "` + uuid.NewString() + `", "about": "weights", "by": "Jonas Weir"}`, 409, ""},
		"weighing where nothing is weighed": {drawn, domain.Desk, "", func(s *scene) string { return s.api("/weighings") },
			`{"entry": "` + uuid.NewString() + `", "weight": {"figures": "8190", "unit": "lb"}}`, 409, ""},
		"a reading that does not count already": {misread, domain.Desk, "", func(s *scene) string { return s.api("/weighings/" + s.class().Readings[0].ID.String() + "/misread") },
			`{"reason": "x"}`, 409, ""},
		"a ruling on what is decided": {upheld, domain.Desk, "", func(s *scene) string { return s.api("/protests/" + s.class().Protests[0].ID.String() + "/ruling") },
			`{"ruling": "withdrawn"}`, 409, "protest"},
		"a number that is taken":                 {entering, domain.Desk, "", func(s *scene) string { return s.api("/entries") }, `{"number": "41", "puller": "Maud Farrow"}`, 422, "number"},
		"an entry after the first round":         {pullOff, domain.Desk, "", func(s *scene) string { return s.api("/entries") }, `{"number": "88", "puller": "Maud Farrow"}`, 409, ""},
		"scratching who is on the track":         {testHook, domain.Desk, "", func(s *scene) string { return s.api("/entries/" + s.class().OnTrack().Entry.String() + "/scratch") }, `{"reason": "x"}`, 409, ""},
		"scratching nobody":                      {entering, domain.Desk, "", func(s *scene) string { return s.api("/entries/" + uuid.NewString() + "/scratch") }, `{"reason": "x"}`, 404, ""},
		"a draw once somebody was called":        {testHook, domain.Desk, "", func(s *scene) string { return s.api("/draw") }, `{"seed": "again", "reason": "x"}`, 409, ""},
		"a commitment once somebody was called":  {testHook, domain.Desk, "", func(s *scene) string { return s.api("/commitment") }, `{"commitment": "` + strings.Repeat("7d", 32) + `"}`, 409, ""},
		"places that change once one was called": {testHook, domain.Desk, "", func(s *scene) string { return s.api("/swap") }, `{"entry": "` + uuid.NewString() + `", "with": "` + uuid.NewString() + `", "reason": "x"}`, 409, ""},
		"a draw again without a reason":          {drawn, domain.Desk, "", func(s *scene) string { return s.api("/draw") }, `{"seed": "again"}`, 422, "reason"},
		"attendance of nobody known":             {entering, domain.Desk, "", func(s *scene) string { return s.api("/attendance") }, `{"entries": [{"entry": "` + uuid.NewString() + `", "came": true}]}`, 404, ""},
		"attendance of no entry":                 {entering, domain.Desk, "", func(s *scene) string { return s.api("/attendance") }, `{"entries": []}`, 422, "entries"},
		"a fee that is no amount": {entering, domain.Desk, "", func(s *scene) string { return s.api("/attendance") },
			`{"entries": [{"entry": "` + uuid.NewString() + `", "fee": "twenty"}]}`, 422, "entries[0].fee"},
		"attendance of what is signed": {official, domain.Desk, "", func(s *scene) string { return s.api("/attendance") }, `{"entries": [{"entry": "` + uuid.NewString() + `", "came": true}]}`, 409, ""},
	} {
		t.Run(what, func(t *testing.T) {
			q := *p
			q.t = t
			s := c.stands(q.fair)
			before, class := q.lines(), s.class()
			method, kind := cmp.Or(c.method, http.MethodPost), ""
			if c.body == photoOfShade(1) {
				kind = "image/png"
			}
			r := q.ask(call{method: method, path: c.path(s), body: c.body, kind: kind, as: q.secrets[c.role], wrong: true}).is(c.status)
			require.Equal(t, c.field, r.at("field"), r.body)
			if c.status == http.StatusConflict {
				refusedNow = append(refusedNow, p.operation(method, c.path(s)))
			}
			conforms(t, what, r)
			require.Equal(t, before, q.lines(), "nothing was stored")
			require.Equal(t, class, s.class())
		})
	}
	for name, w := range writes(p) {
		if w.class {
			require.Contains(t, refusedNow, name, "every write on a class is sent when it cannot be done")
		}
	}
}

// operation names the operation of a request.
func (p *programs) operation(method, path string) string {
	p.t.Helper()
	request, err := http.NewRequest(method, p.address+path, http.NoBody)
	require.NoError(p.t, err)
	_, operation := p.contract.find(request)
	return operation.OperationId
}

// What is official stays as it is: every other write on the class is refused until it is reopened, whoever sends it.
func TestNothingIsWrittenOnWhatIsOfficial(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s := official(p.fair)
	hook, round := s.class().Rounds[0].Hooks[0], s.class().Rounds[0]
	for name, w := range writes(p) {
		if !w.class || name == "reopenResult" {
			continue
		}
		// The write of another class, at this one.
		_, rest, _ := strings.Cut(strings.TrimPrefix(w.path, "/api/v1/events/"+inventedSlug+"/classes/"), "/")
		parts := strings.Split(rest, "/")
		if len(parts) > 1 && parts[0] != "official" {
			parts[1] = map[string]string{"hooks": hook.ID.String(), "rounds": round.ID.String(), "entries": hook.Entry.String(), "protests": uuid.NewString(), "weighings": uuid.NewString()}[parts[0]]
		}
		c := w.call(p, "")
		c.path = s.api("/" + strings.Join(parts, "/"))
		r := p.ask(c)
		require.Equal(t, http.StatusConflict, r.status, "%s: %s", name, r.body)
		require.Contains(t, r.at("fix"), "eopen it first", name)
	}
}

// A club's own rule set is held to the same as a file of it, and what is wrong is named by its place in the body.
func TestAnOwnRuleSetThatIsWrong(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	e := p.loader.event
	before := p.lines()
	for rules, field := range map[string]string{
		`"none-such"`: "rules", `null`: "rules", `7`: "rules", `{}`: "rules.unit",
		`{"name": "own", "unit": "m", "line": 60, "Cap": true, "rounds": 1}`:                                                                 "rules.cap",
		`{"name": "own", "unit": "m", "line": 60, "cap": true, "rounds": 1, "speling": 1}`:                                                   "rules",
		`{"name": "own", "unit": "m", "line": 60, "cap": true, "rounds": "one"}`:                                                             "rules.rounds",
		`{"name": "own", "unit": "stones", "line": 60, "cap": true, "rounds": 1}`:                                                            "rules.unit",
		`{"name": "own", "title": "a\u202eb", "unit": "m", "line": 60, "cap": true, "rounds": 1}`:                                            "rules.title",
		`{"name": "own", "unit": "m", "line": 60, "cap": true, "rounds": 1, "test_puller": {"options": ["last", "last"], "after_dq": true}}`: "rules.test_puller.options",
		`{"name": "` + strings.Repeat("m", 201) + `", "unit": "m", "line": 60, "cap": true, "rounds": 1}`:                                    "rules.name",
		`{"name": "own", "unit": "m", "line": 60, "cap": true, "rounds": 1, "pull_off": {"absent": "gone"}}`:                                 "rules.pull_off.absent",
	} {
		body := fmt.Sprintf(`{"name": "Own", "session": "%s", "track": "%s", "sled": "%s", "rules": %s}`, e.Sessions[0].ID, e.Tracks[0].ID, e.Sleds[0].ID, rules)
		r := p.ask(call{method: http.MethodPost, path: "/api/v1/events/" + inventedSlug + "/classes", body: body, as: p.secrets[domain.Desk], wrong: true})
		require.Equal(t, http.StatusUnprocessableEntity, r.status, "%s: %s", rules, r.body)
		require.Equal(t, field, r.at("field"), "%s: %s", rules, r.body)
		conforms(t, rules, r)
	}
	require.Equal(t, before, p.lines(), "nothing was stored")
}

// okCard is a setting that can be.
const okCard = `{"box": {"figures": "21600", "unit": "lb"}, "gear": 3, "start_hole": 2, "trip": {"figures": "198", "unit": "ft"}}`

// More ways a class can stand: its test puller has started; only one made a full pull.
func started(f *fair) *scene {
	s := testHook(f)
	s.do(domain.Start{Hook: s.class().OnTrack().ID})
	return s
}
func rehooked(f *fair) *scene {
	s := hooking(f)
	s.do(domain.Again{Hook: s.class().Rounds[0].Hooks[0].ID, Reason: "sled", Next: uuid.New()})
	return s
}
func misread(f *fair) *scene {
	s := weighed(f)
	s.do(domain.Misread{Reading: s.class().Readings[0].ID, Reason: "another vehicle"})
	return s
}
func absent(f *fair) *scene      { return hooking(f).pull("absent") }
func oneFullPull(f *fair) *scene { return hooking(f).pull("250", "260", "270") }
