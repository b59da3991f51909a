package main

import (
	"net/http"
	"strings"
	"sync"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// Every write that is sent again is answered with the same bytes, also after others have gone on, and is done once.
func TestAWriteSentAgainIsAnsweredTheSame(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	all := p.secret("", domain.Desk)
	list := writes(p)
	for _, name := range inTurn(list) {
		d := list[name]
		c := d.call(p, all)
		c.key = uuid.NewString()
		first := p.ask(c).is(d.status)
		before := p.lines()
		again := p.ask(c)
		if name == "makePass" || name == "replacePass" {
			again.is(http.StatusConflict) // a link is told once
			continue
		}
		require.Equal(t, first.body, again.is(d.status).body, name)
		require.Equal(t, before, p.lines(), name)
		if name == "dropHook" || name == "hookAgain" || name == "scratchEntry" {
			c.more = []string{"If-Match", `"1"`} // what is done is done, whatever the class has become
			require.Equal(t, first.body, p.ask(c).is(d.status).body, name)
		}
	}
}

func TestAResultSentAgainAfterOthersActed(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s := hooking(p.fair)
	c := call{method: http.MethodPost, path: s.hookPath("result"), body: measured("281.36", "ft"), as: p.secrets[domain.Booth], key: uuid.NewString()}
	first := p.ask(c).is(http.StatusOK)
	require.Equal(t, first.at("next"), s.class().OnTrack().ID.String(), "the id of the next hook was derived")
	s.pull("250", "260")
	s.do(domain.MakeOfficial{Name: "Ada Holm"})
	require.Equal(t, first.body, p.ask(c).is(http.StatusOK).body)
	c.body = strings.ReplaceAll(c.body, ":", " :  ")
	require.Equal(t, first.body, p.ask(c).is(http.StatusOK).body, "spaces are no other content")
}

// The same key with anything else in it, or for anything else, is refused.
func TestAKeyIsForOneThing(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s, other := hooking(p.fair), hooking(p.fair)
	key := uuid.NewString()
	result := call{method: http.MethodPost, path: s.hookPath("result"), body: measured("281.36", "ft"), as: p.secrets[domain.Booth], key: key}
	p.ask(result).is(http.StatusOK)
	entryKey, entries := uuid.NewString(), s.api("/entries")
	entered := call{method: http.MethodPost, path: entries, body: `{"number": "99", "puller": "Orla Penrose", "vehicle": "Grey Mule"}`, as: p.secrets[domain.Desk], key: entryKey}
	p.ask(entered).is(http.StatusCreated)
	given := call{method: http.MethodPost, path: frozen(p.fair).api("/hooks"), body: `{"id": "` + uuid.NewString() + `"}`, as: result.as, key: uuid.NewString()}
	p.ask(given).is(http.StatusCreated)
	elsewhere := frozen(p.fair).api("/hooks")
	all := p.secret("", domain.Desk)
	body := `{"name": "Wrenfield Pull", "zone": "America/Chicago", "tracks": [{"name": "1"}], "sleds": [{"name": "A", "gears": 4, "start_holes": 3}], "sessions": [{"name": "Evening", "starts": "2026-09-19T18:00:00Z"}]}`
	planned := call{method: http.MethodPost, path: "/api/v1/events", body: body, as: all, key: uuid.NewString()}
	p.ask(planned).is(http.StatusCreated)
	before := p.lines()
	for what, c := range map[string]call{
		"another distance":                 {path: result.path, body: measured("281.37", "ft"), as: result.as, key: key},
		"another unit":                     {path: result.path, body: measured("281.36", "in"), as: result.as, key: key},
		"another id":                       {path: result.path, body: strings.Replace(result.body, "{", `{"next": "`+uuid.NewString()+`", `, 1), as: result.as, key: key},
		"another action":                   {path: s.api("/entries"), body: `{"number": "98", "puller": "Orla Penrose"}`, as: p.secrets[domain.Desk], key: key},
		"another class":                    {path: other.api("/entries"), body: entered.body, as: entered.as, key: entryKey},
		"another class, with the id given": {path: elsewhere, body: given.body, as: given.as, key: given.key},
		"another puller":                   {path: entries, body: strings.Replace(entered.body, "Orla", "Vera", 1), as: entered.as, key: entryKey},
		"another vehicle":                  {path: entries, body: strings.Replace(entered.body, "Mule", "Ox", 1), as: entered.as, key: entryKey},
		"another event's name":             {path: planned.path, body: strings.Replace(body, "Wrenfield", "Dunmore", 1), as: all, key: planned.key},
		"another sled":                     {path: planned.path, body: strings.Replace(body, `"gears": 4`, `"gears": 5`, 1), as: all, key: planned.key},
	} {
		c.method = http.MethodPost
		r := p.ask(c)
		assert.Equal(t, http.StatusUnprocessableEntity, r.status, "%s: %s", what, r.body)
		assert.Equal(t, "/api/problems/used-key", r.at("type"), what)
		assert.Equal(t, "Idempotency-Key", r.at("field"), what)
	}
	require.Equal(t, before, p.lines())
	signed := decided(p.fair)
	sign := call{method: http.MethodPost, path: signed.api("/official"), body: `{"name": "Ada Holm"}`, as: p.secrets[domain.Desk], key: uuid.NewString()}
	p.ask(sign).is(http.StatusOK)
	sign.body = `{"name": "Una Reed"}`
	require.Equal(t, "/api/problems/used-key", p.ask(sign).is(http.StatusUnprocessableEntity).at("type"), "the name is no part of the journal, and yet it is compared")
}

// A write that is sent many times at once is done once, and all are answered the same.
func TestAWriteSentManyTimesAtOnce(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	all := p.secret("", domain.Desk)
	list := writes(p)
	for _, name := range inTurn(list) {
		d := list[name]
		if name == "makePass" || name == "replacePass" || name == "enterPass" {
			continue
		}
		c := d.call(p, all)
		c.key = uuid.NewString()
		before := p.lines()
		replies := make([]reply, 8)
		var all sync.WaitGroup
		for i := range replies {
			all.Go(func() { replies[i] = p.ask(c) })
		}
		all.Wait()
		for _, r := range replies {
			require.Equal(t, d.status, r.status, "%s: %s", name, r.body)
			require.Equal(t, replies[0].body, r.body, name)
		}
		require.Equal(t, before+1, p.lines(), name)
	}
}

// Two people who saw the same class: the first stores, the second is told to look again.
func TestTwoWhoSawTheSame(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s := drawn(p.fair)
	seen := p.get(s.api("")).header.Get("ETag")
	write := func(tag, gear string) reply {
		t.Helper()
		body := strings.Replace(okCard, `"gear": 3`, `"gear": `+gear, 1)
		return p.ask(call{method: http.MethodPut, path: s.roundPath("setting"), body: body, as: p.secrets[domain.Desk], more: []string{"If-Match", tag}})
	}
	stored := write(seen, "3").is(http.StatusOK)
	require.Equal(t, "/api/problems/changed", write(seen, "4").is(http.StatusPreconditionFailed).at("type"))
	require.Equal(t, 3, s.class().Rounds[0].Revisions[0].Setting.Gear)
	number := stored.at("number")
	require.Equal(t, number, p.get(s.api("")).at("version"), "the number of the answer is the version")
	for _, tag := range []string{`"%"`, `"%-gzip"`, `"%-0123456789abcdef01234567-br"`, "*"} {
		number = write(strings.Replace(tag, "%", number, 1), "2").is(http.StatusOK).at("number")
	}
	number = write(p.get(s.api("")).header.Get("ETag"), "1").is(http.StatusOK).at("number")
	// RFC 9110, section 13.1.1: the comparison is strong, and a weak tag matches nothing.
	require.Equal(t, "/api/problems/changed", write(`W/"`+number+`"`, "2").is(http.StatusPreconditionFailed).at("type"))
}
