package main

import (
	"net/http"
	"slices"
	"sync"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// once are the routes whose form, sent again, cannot be answered as the first time: their answer held a secret. What is
// being typed is no form, and nothing comes of it.
var once = []string{
	"POST /e/:event/:class/entry/:number/remind",
	"POST /e/:event/:class/entry/:number/forget",
	"POST /e/:event/:class/booth/typing",
	"POST /enter/:secret", "POST /e/:event/desk/pass", "POST /e/:event/desk/pass/replace", "POST /desk/pass", "POST /desk/pass/replace",
}

// Every form there is, sent twice, does its work once and leads to the same place both times.
func TestEveryFormSentTwiceDoesItsWorkOnce(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	_, cookie := f.pass("", domain.Desk)
	server, read := visitor{f, cookie}, entering(f)
	for _, r := range rights() {
		if r.method() != http.MethodPost || slices.Contains(once, r.route) {
			continue
		}
		t.Run(r.route, func(t *testing.T) {
			able := server
			if r.route == "POST /leave" {
				able = f.as(domain.Cab) // who leaves can do nothing after it
			}
			sent := r.prepare(able, read)
			first := able.submit(sent)
			require.Equal(t, http.StatusSeeOther, first.status, first.says())
			lines := f.lines()
			again := able.submit(sent)
			require.Equal(t, http.StatusSeeOther, again.status, again.says())
			require.Equal(t, first.header.Get("Location"), again.header.Get("Location"), "both lead to the same place")
			require.Equal(t, lines, f.lines(), "the work is done once")
		})
	}
}

// The answer to a form was lost and others went on; then the form is sent again, as a browser or a person does.
func TestAFormWhoseAnswerWasLostIsDoneOnce(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	for _, row := range []struct {
		what  string
		class stands
		page  string
		form  string
		typed map[string]string
		then  func(*scene)
	}{
		{"a result, and two more hooks were pulled", hooking, "booth", "result", map[string]string{"result": "281.36"}, func(s *scene) { s.pull("270", "280") }},
		{"a result, and it was corrected", hooking, "booth", "result", map[string]string{"result": "281.36"}, func(s *scene) {
			result, err := domain.ParseResult("218.36", domain.Foot)
			require.NoError(t, err)
			s.do(domain.Correct{Hook: s.class().Current().Hooks[1].ID, Result: result, Reason: "misread", Next: uuid.New()})
		}},
		{"a disqualification, and the class is decided", lastHook, "booth", "result DQ", map[string]string{"reason": "out of bounds"}, func(s *scene) {
			s.do(domain.MakeOfficial{Name: "Ada Flagg"})
		}},
		{"a choice, and the next was pulled", choiceOpen, "booth", "choice last", nil, func(s *scene) { s.pull("270") }},
		{"a drop, and the next was pulled", hooking, "booth", "drop", map[string]string{"move": "last", "reason": "belt"}, func(s *scene) { s.pull("270") }},
		{"a re-hook, and it was pulled", hooking, "booth", "again", map[string]string{"reason": "red light"}, func(s *scene) { s.pull("270") }},
		{"a second attempt, and it was pulled", hooking, "booth", "second", nil, func(s *scene) { s.pull("270") }},
		{"a correction, and the class was pulled to its end", lastHook, "booth", "correct", map[string]string{"result": "255", "reason": "misread"}, func(s *scene) { s.pull("270") }},
		{"a first call, and the hook was pulled", frozen, "booth", "call", nil, func(s *scene) { s.pull("FP") }},
		{"an entry, and the class was drawn", entering, "desk", "entry", map[string]string{"number": "12", "puller": "Pia Holm"}, func(s *scene) { s.draw() }},
		{"a draw, and the class has begun", entering, "desk", "draw", map[string]string{"seed": "dice 1"}, func(s *scene) { s.write().freeze().call() }},
		{"a setting, and it was frozen and reset", drawn, "desk", "setting", card("gear", "3"), func(s *scene) { freezes(s); resets(s) }},
		{"a freeze, and the setting was reset", written, "desk", "freeze", nil, resets},
		{"a reset, and the new setting was frozen", frozen, "desk", "reset", map[string]string{"reason": "wet"}, freezes},
		{"a pull-off, and it was pulled", pullOffDue, "desk", "round", nil, func(s *scene) { s.write().freeze().call().pull("305", "FP 310") }},
	} {
		t.Run(row.what, func(t *testing.T) {
			s := row.class(f)
			v := f.as(domain.Desk)
			sent := v.get(s.path(row.page)).form(row.form).fill(row.typed)
			first := v.submit(sent)
			require.Equal(t, http.StatusSeeOther, first.status, first.says())
			row.then(s)
			lines, class := f.lines(), *s.class()

			again := v.submit(sent)
			require.Equal(t, http.StatusSeeOther, again.status, again.says())
			require.Equal(t, first.header.Get("Location"), again.header.Get("Location"))
			require.Equal(t, lines, f.lines())
			require.Equal(t, class, *s.class())
		})
	}
}

// atOnce sends forms at the same moment, each by its own device.
func atOnce(devices []visitor, sent []*form) []answer {
	answers := make([]answer, len(sent))
	begin := make(chan struct{})
	var sending sync.WaitGroup
	for i := range sent {
		sending.Go(func() {
			<-begin
			answers[i] = devices[i].submit(sent[i])
		})
	}
	close(begin)
	sending.Wait()
	return answers
}

// A button pressed several times at once, or a line that repeats what it carries, does the work once.
func TestOneFormSentManyTimesAtOnce(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := hooking(f)
	v := f.as(domain.Booth)
	sent := v.get(s.path("booth")).form("result").fill(map[string]string{"result": "281.36"})
	lines := f.lines()
	for _, a := range atOnce([]visitor{v, v, v, v}, []*form{sent, sent, sent, sent}) {
		assert.Equal(t, http.StatusSeeOther, a.status)
		assert.Equal(t, s.path("booth"), a.place())
	}
	require.Equal(t, lines+1, f.lines())
	require.Len(t, s.class().Current().Hooks, 3, "the one that was stored, one before it and one after")
}

// The same holds where there is nothing to lock yet: an event that is being planned, and a class of it.
func TestOnePlanSentManyTimesAtOnce(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	_, cookie := f.pass("", domain.Desk)
	v, read := visitor{f, cookie}, entering(f)
	for range 3 {
		for _, r := range rights() {
			if r.route != "POST /desk" && r.route != "POST /e/:event/desk/class" {
				continue
			}
			sent := r.prepare(v, read)
			lines := f.lines()
			for _, a := range atOnce([]visitor{v, v, v, v}, []*form{sent, sent, sent, sent}) {
				assert.Equal(t, http.StatusSeeOther, a.status, a.says())
			}
			require.Equal(t, lines+1, f.lines())
		}
	}
}

// Two booths store a result for the same hook at the same moment. One is stored; the other page says so, and shows the
// class as it is now.
func TestTwoBoothsAndOneHook(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	booths := []visitor{f.as(domain.Booth), f.as(domain.Booth)}
	results := []string{"251.11", "262.22"}
	for range 3 {
		s := hooking(f)
		hook := s.class().OnTrack().ID
		var sent []*form
		for i, booth := range booths {
			sent = append(sent, booth.get(s.path("booth")).form("result").fill(map[string]string{"result": results[i]}))
		}
		lines := f.lines()
		answers := atOnce(booths, sent)
		first := 0
		if answers[0].status != http.StatusSeeOther {
			first = 1
		}
		stored, refused := answers[first], answers[1-first]
		require.Equal(t, http.StatusSeeOther, stored.status)
		require.Equal(t, http.StatusConflict, refused.status)
		require.Equal(t, lines+1, f.lines())

		class := s.class()
		_, h := class.Find(hook)
		require.Equal(t, results[first]+" ft", h.Result.Distance.String(), "what is stored is the one that was acknowledged")
		page := refused.says()
		require.Contains(t, page, `"`+results[1-first]+`" was not stored. A result for that hook is stored already.`)
		next := class.Entry(class.OnTrack().Entry)
		require.Contains(t, page, next.Number+" · "+next.Details.Puller+" "+next.Details.Vehicle, "the next puller is up")
		require.Contains(t, page, class.Entry(h.Entry).Details.Puller+" "+results[first], "and what the other booth stored is there")
		require.Empty(t, refused.form("result").values.Get("result"))
		require.Equal(t, class.OnTrack().ID.String(), refused.form("result").values.Get("hook"))
	}
}

// Whatever two desks do to the same class at the same moment, one is first and the other is told.
func TestTwoDesksAtOnce(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	desks := []visitor{f.as(domain.Desk), f.as(domain.Desk)}
	for _, row := range []struct {
		what   string
		class  stands
		form   string
		typed  map[string]string
		status int
		says   string
	}{
		{"enter the same number", entering, "entry", map[string]string{"number": "12", "puller": "Pia Holm"}, 422, "Number 12 is already entered in this class."},
		{"freeze the setting", written, "freeze", nil, 409, "The setting was changed or frozen meanwhile."},
		{"start the round", frozen, "call", nil, 409, "Number 41 is on the track."},
		{"open the pull-off", pullOffDue, "round", nil, 409, "No further round is due."},
		{"scratch the same entry", entering, "scratch", map[string]string{"reason": "clutch"}, 409, "Number 41 is already scratched."},
		{"reset the setting", frozen, "reset", map[string]string{"reason": "wet"}, 409, "No setting is frozen."},
	} {
		t.Run(row.what, func(t *testing.T) {
			s := row.class(f)
			var sent []*form
			for _, d := range desks {
				sent = append(sent, d.get(s.path("desk")).form(row.form).fill(row.typed))
			}
			lines := f.lines()
			answers := atOnce(desks, sent)
			if answers[0].status != http.StatusSeeOther {
				answers[0], answers[1] = answers[1], answers[0]
			}
			require.Equal(t, http.StatusSeeOther, answers[0].status)
			require.Equal(t, row.status, answers[1].status)
			require.Contains(t, answers[1].says(), row.says)
			require.Equal(t, lines+1, f.lines())
		})
	}
}
