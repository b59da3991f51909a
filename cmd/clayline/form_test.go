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
)

// slip is a form that is sent with something wrong about it.
type slip struct {
	what  string
	class stands // how the class stands when the page is opened
	page  string // "booth", "desk", or an address
	form  string
	typed map[string]string // by a person, into fields that they see
	sends map[string]string // unseen: by a stale page or a broken program
	// What another device does between the opening of the page and the sending of its form.
	meanwhile func(*scene)
	status    int
	says      string // what happened, and what to do now
	at        string // the field that is marked, "" when it is the form as a whole
	// The form cannot be sent any more, and the page says so on top.
	gone bool
}

// TestSlipsOfTheBooth: what is refused stays where it was typed, with a sentence at it, and stores nothing.
func TestSlipsOfTheBooth(t *testing.T) {
	t.Parallel()
	const result = "Type the distance, such as 281.36, or F for a full pull, Q with the reason, A for absent."
	typed := func(result string) map[string]string { return map[string]string{"result": result} }
	long := strings.Repeat("x", 201)
	tryAll(t, []slip{
		{what: "nothing", class: hooking, form: "result", typed: typed(""), at: "result", status: 422, says: `The result is missing. ` + result},
		{what: "a letter in the figures", class: hooking, form: "result", typed: typed("28l.36"), at: "result", status: 422, says: `"28l.36" is not a result. ` + result},
		{what: "two commas", class: hooking, form: "result", typed: typed("1,281,36"), at: "result", status: 422, says: `"1,281,36" is not a result. ` + result},
		{what: "four decimals", class: hooking, form: "result", typed: typed("281.3612"), at: "result", status: 422, says: "is not a result. " + result},
		{what: "less than nothing", class: hooking, form: "result", typed: typed("-3"), at: "result", status: 422, says: "is not a result. " + result},
		{what: "more than there is", class: hooking, form: "result", typed: typed("99999999"), at: "result", status: 422, says: "is not a result. " + result},
		{what: "markup", class: hooking, form: "result", typed: typed(`"><b>1</b>`), at: "result", status: 422, says: "is not a result. " + result},
		{what: "metres in a class in feet", class: hooking, form: "result", typed: typed("85.9 m"), at: "result", status: 422, says: "85.9 m is not in the unit of this class. Give it in ft."},
		{what: "feet in a class in metres", class: metric, form: "result", typed: typed("85.9 ft"), at: "result", status: 422, says: "85.9 ft is not in the unit of this class. Give it in m."},
		{what: "a full pull short of the line", class: hooking, form: "result", typed: typed("FP 290"), at: "result", status: 422,
			says: "FP 290 lies below the full-pull line 300 ft. Give the distance without FP, or a figure past the line."},
		{what: "a full pull without its figure, where the figure counts", class: floating, form: "result", typed: typed("F"), at: "result", status: 422,
			says: "FP without a figure says nothing here, because the distance counts past the line. Give the figure, such as FP 312.44."},
		{what: "the same in a pull-off", class: pullOff, form: "result", typed: typed("FP"), at: "result", status: 422, says: "FP without a figure says nothing here"},
		{what: "a disqualification without a reason", class: hooking, form: "result", typed: typed("DQ"), status: 422,
			says: "The reason of the disqualification is missing. Add it, such as DQ out of bounds."},
		{what: "the same in short", class: hooking, form: "result", typed: typed("q"), status: 422, says: "The reason of the disqualification is missing."},
		{what: "the same by its button", class: hooking, form: "result DQ", typed: map[string]string{"reason": " "}, at: "reason", status: 422, says: "The reason of the disqualification is missing."},
		{what: "a reason that is too long", class: hooking, form: "result DQ", typed: map[string]string{"reason": long}, at: "reason", status: 422,
			says: "The text is longer than 200 characters. Shorten it by 1."},
		{what: "a re-hook typed as a result", class: hooking, form: "result", typed: typed("rehook"), at: "result", status: 422,
			says: "A result that does not count is not stored here. Use hooks again, second attempt or drop."},
		{what: "hooks again, without a cause", class: hooking, form: "again", sends: map[string]string{"cause": ""}, typed: map[string]string{"reason": "red light"}, at: "cause", status: 422,
			says: "The cause is missing. Choose the sled or an official."},
		{what: "hooks again some hooks later, without how many", class: hooking, form: "again", typed: map[string]string{"move": "places", "places": "few"}, at: "places", status: 422,
			says: "The number of places is missing. Write how many hooks later, from 1 on."},
		{what: "hooks again later than the rules allow", class: hooking, form: "again", typed: map[string]string{"move": "places", "places": "5"}, at: "places", status: 422,
			says: "Under these rules an entry may drop 0 to 4 places to cool down. Choose within that."},
		{what: "a drop without a reason", class: hooking, form: "drop", typed: map[string]string{"move": "last", "reason": ""}, at: "reason", status: 422, says: "The reason is missing. Type it."},
		{what: "a drop beyond the rules", class: hooking, form: "drop", typed: map[string]string{"move": "places", "places": "2", "reason": "belt"}, at: "places", status: 422,
			says: "Under these rules an entry drops to the last place. Give no number of places."},
		{what: "a correction without a reason", class: lastHook, form: "correct", typed: map[string]string{"result": "255", "reason": ""}, at: "reason", status: 422,
			says: "The reason of the correction is missing. Type it."},
		{what: "a correction to nonsense", class: lastHook, form: "correct", typed: map[string]string{"result": "far", "reason": "misread"}, at: "result", status: 422, says: `"far" is not a result. ` + result},
		{what: "a correction to what does not count", class: lastHook, form: "correct", typed: map[string]string{"result": "void", "reason": "misread"}, at: "result", status: 422,
			says: "A correction gives a result that counts."},
		{what: "another measurement that is nonsense", class: lastHook, form: "correct measured again", typed: typed("far"), at: "result", status: 422, says: `"far" is not a result. ` + result},
		{what: "another measurement, while another device stored the next", class: second, form: "correct measured again", typed: typed("281.4"), meanwhile: pulls("270"), status: 409,
			says: `"281.4" was not stored. That hook is not the last one any more, or the sled has moved since. Correct it, with a reason, where the officials see cause.`, gone: true},
		{what: "an option that the rules do not have", class: choiceOpen, form: "choice last", sends: map[string]string{"option": "now"}, status: 422,
			says: `"now" is not among the options of these rules. Choose one that is shown.`},
		{what: "an option that nobody has", class: choiceOpen, form: "choice last", sends: map[string]string{"option": "first"}, status: 422, says: `"first" is not an option.`},
		{what: "no action id", class: hooking, form: "result", sends: map[string]string{"action": ""}, typed: typed("281.36"), status: 422,
			says: "The form is not complete. Reload the page and send it again."},
		{what: "an action id that is none", class: hooking, form: "result", sends: map[string]string{"action": "7"}, typed: typed("281.36"), status: 422, says: "The form is not complete."},
		{what: "no id for the next hook", class: hooking, form: "result", sends: map[string]string{"next": ""}, typed: typed("281.36"), status: 422, says: "The form is not complete."},
		{what: "an empty id for the next hook", class: hooking, form: "result", sends: map[string]string{"next": uuid.Nil.String()}, typed: typed("281.36"), status: 422, says: "The next hook has no id. Give a new one."},
		{what: "no id of the hook", class: hooking, form: "result", sends: map[string]string{"hook": ""}, typed: typed("281.36"), status: 422, says: `"281.36" was not stored. The form is not complete.`, gone: true},
		{what: "a hook that is none", class: hooking, form: "result", sends: map[string]string{"hook": uuid.NewString()}, typed: typed("281.36"), status: 409,
			says: `"281.36" was not stored. That puller is not on the track. Call the puller first.`, gone: true},
		{what: "a hook whose result another device stored", class: hooking, form: "result", typed: typed("281.36"), meanwhile: pulls("270"), status: 409,
			says: `"281.36" was not stored. A result for that hook is stored already. Number 7b has 270: leave it, or correct it.`, gone: true},
		{what: "the last hook, whose result another device stored", class: lastHook, form: "result", typed: typed("281.36"), meanwhile: pulls("270"), status: 409,
			says: "A result for that hook is stored already.", gone: true},
		{what: "a disqualification of a hook that is over", class: hooking, form: "result DQ", typed: map[string]string{"reason": "out of bounds"}, meanwhile: pulls("270"), status: 409,
			says: "A result for that hook is stored already.", gone: true},
		{what: "a drop of one who has hooked", class: hooking, form: "drop", typed: map[string]string{"move": "last", "reason": "belt"}, meanwhile: pulls("270"), status: 409,
			says: "A result for that hook is stored already.", gone: true},
		{what: "a second attempt of one who has hooked", class: hooking, form: "second", meanwhile: pulls("270"), status: 409, says: "A result for that hook is stored already.", gone: true},
		{what: "a choice that another device stored", class: choiceOpen, form: "choice last", meanwhile: chooses, status: 409, says: "No choice is open for that hook. Look at the page again.", gone: true},
		{what: "a second call", class: frozen, form: "call", meanwhile: calls, status: 409, says: "Number 41 is on the track. Store what came of that hook first.", gone: true},
		{what: "a call without a setting", class: frozen, form: "call", meanwhile: resets, status: 409, says: "No setting is frozen for this round. Write the setting and freeze it first.", gone: true},
	}, "booth")
}

// What another device does meanwhile.
func pulls(result string) func(*scene) { return func(s *scene) { s.pull(result) } }
func calls(s *scene)                   { s.call() }
func freezes(s *scene)                 { s.freeze() }
func resets(s *scene)                  { s.do(domain.ResetSetting{Round: s.class().Current().ID, Reason: "wet"}) }
func scratches(s *scene)               { s.do(domain.Scratch{Entry: s.class().Entries[0].ID, Reason: "clutch"}) }
func chooses(s *scene) {
	s.do(domain.Choose{Hook: s.class().Pending().Hook.ID, Option: domain.Keep, Next: uuid.New()})
}
func opens(s *scene) {
	name, _ := s.class().RoundDue()
	s.do(domain.OpenRound{Round: uuid.New(), Name: name})
}

// tryAll sends every slip, as the device of the page.
func tryAll(t *testing.T, slips []slip, page string) {
	t.Helper()
	f := newFair(t)
	_, server := f.pass("", domain.Desk)
	devices := map[string]visitor{"booth": f.as(domain.Booth), "desk": f.as(domain.Desk)}
	for _, row := range slips {
		t.Run(row.what, func(t *testing.T) {
			v, known := devices[page]
			if !known {
				v = visitor{f, server}
			}
			row.try(t, v, page)
		})
	}
}

// try opens the page, lets others act, sends the form, and reads what comes back.
func (row slip) try(t *testing.T, v visitor, page string) {
	t.Helper()
	var s *scene
	var before domain.Class
	if row.class != nil {
		s = row.class(v.fair)
		page = s.path(page)
	}
	if row.page != "" {
		page = row.page
	}
	sent := v.get(page).form(row.form)
	require.NotNil(t, sent, "%s has the form %s", page, row.form)
	if row.meanwhile != nil {
		row.meanwhile(s)
	}
	if s != nil {
		before = *s.class()
	}
	lines := v.lines()

	a := v.submit(sent.fill(row.typed).fill(row.sends))
	require.Equal(t, row.status, a.status, a.says())
	require.Equal(t, lines, v.lines(), "what is refused is not stored")
	if s != nil {
		require.Equal(t, before, *s.class(), "and changes nothing")
	}
	back := a.form(row.form)
	if row.gone {
		require.Contains(t, a.says(), row.says)
		if back != nil {
			assert.Empty(t, back.wrong)
			for _, name := range slices.Collect(maps.Keys(row.typed)) {
				assert.NotEqual(t, row.typed[name], back.values.Get(name), "what was meant for one hook does not wait in the form of another")
			}
		}
		return
	}
	require.NotNil(t, back, "the form is there again")
	assert.Contains(t, back.wrong, row.says)
	assert.Equal(t, row.at, back.at, "the field that is marked as wrong")
	for name, value := range row.typed {
		assert.Equal(t, strings.TrimSpace(value), strings.TrimSpace(back.values.Get(name)), "what was typed as %s stays", name)
	}
	assert.NotEqual(t, sent.values.Get("action"), back.values.Get("action"), "sent again, it is another action")
}

// A value that can hardly be is asked about once; Enter again stores it all the same.
func TestAnUnlikelyValueIsAskedAboutOnce(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := hooking(f)
	v := f.as(domain.Booth)
	lines := f.lines()
	hook := s.class().OnTrack().ID
	asked := v.submit(v.get(s.path("booth")).form("result").fill(map[string]string{"result": "2873.4"}))
	require.Equal(t, http.StatusUnprocessableEntity, asked.status)
	require.Equal(t, lines, f.lines())
	question := asked.form("result")
	require.Contains(t, question.says, "2873.4 ft lies far beyond the track. Enter again stores it all the same.")
	require.Equal(t, "2873.4", question.values.Get("result"))

	// Another value is another question.
	other := v.submit(question.fill(map[string]string{"result": "2900"}))
	require.Equal(t, http.StatusUnprocessableEntity, other.status)
	require.Equal(t, lines, f.lines())

	require.Equal(t, http.StatusSeeOther, v.submit(other.form("result")).status)
	_, stored := s.class().Find(hook)
	require.Equal(t, "FP 2900", stored.Result.String())
}

// On every page a hardly possible figure is asked about once, at its field and with the typing kept; what is sent once more is
// stored all the same.
func TestAnUnlikelyFigureIsAskedAboutOnceOnEveryPage(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	for _, row := range []struct {
		what       string
		class      stands
		role       domain.Role
		page, form string
		typed      map[string]string
		at, says   string
	}{
		{"a weight with a figure too few", limited, domain.Scale, "scale", "weigh", map[string]string{"entry": "41", "weight": "820"}, "weight",
			"820 lb is less than half of the limit of 8,200 lb. Look again; sent once more it is stored all the same."},
		{"a weight with a figure too many", limited, domain.Scale, "scale", "weigh", map[string]string{"entry": "41", "weight": "99999"}, "weight", "99,999 lb is more than one and a half times"},
		{"a distance far past the line that ends the hook", lastHook, domain.Booth, "booth", "correct", map[string]string{"result": "350", "reason": "misread"}, "result",
			"350 ft lies far past the full-pull line at 300 ft, where this hook ends. Enter again stores it all the same."},
		{"where a disqualification happened", hooking, domain.Booth, "booth", "result DQ", map[string]string{"reason": "out of bounds", "at": "2813"}, "at", "2813 ft lies far beyond the track."},
		{"a trip point behind the track", drawn, domain.Desk, "desk", "setting", card("trip", "1980"), "trip", "1980 ft lies beyond the full-pull line at 300 ft, so that nothing trips before it."},
		{"a speed limit without its point", drawn, domain.Desk, "desk", "setting", card("limit", "9999"), "limit", "9999 mph is faster than any vehicle pulls a sled."},
		{"a speed at the booth", hooking, domain.Booth, "booth", "speed", map[string]string{"top": "9999"}, "top", "9999 mph is faster than any vehicle pulls a sled."},
		{"a speed in the cab", hooking, domain.Cab, "cab", "speed", map[string]string{"top": "40", "at_line": "9"}, "", ""},
		{"a speed at the line", hooking, domain.Cab, "cab", "speed", map[string]string{"at_line": "184"}, "at_line", "184 mph is faster than any vehicle pulls a sled."},
	} {
		t.Run(row.what, func(t *testing.T) {
			s, v := row.class(f), f.as(row.role)
			lines := f.lines()
			asked := v.submit(v.get(s.path(row.page)).form(row.form).fill(row.typed))
			if row.says != "" {
				require.Equal(t, http.StatusUnprocessableEntity, asked.status)
				require.Equal(t, lines, f.lines(), "what is asked about is not stored")
				question := asked.form(row.form)
				assert.Contains(t, question.wrong, row.says)
				assert.Equal(t, row.at, question.at)
				for name, value := range row.typed {
					assert.Equal(t, value, question.values.Get(name), "what was typed as %s stays", name)
				}
				asked = v.submit(question)
			}
			require.Equal(t, http.StatusSeeOther, asked.status)
			require.NotEqual(t, lines, f.lines())
		})
	}
}

// A correction asks as a result does, at its field, and what was answered stays answered while something else is mended.
func TestAnUnlikelyCorrectionIsAskedOnce(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s, v := hooking(f), f.as(domain.Booth)
	lines := f.lines()
	hook := s.class().Current().Hooks[0].ID
	asked := v.submit(v.get(s.path("booth")).form("correct").fill(map[string]string{"hook": hook.String(), "result": "2873.4", "reason": "misread"}))
	require.Equal(t, http.StatusUnprocessableEntity, asked.status)
	question := asked.form("correct")
	require.Equal(t, "2873.4 ft lies far beyond the track. Enter again stores it all the same.", question.wrong)
	require.Equal(t, []string{"result", "2873.4", "misread"}, []string{question.at, question.values.Get("result"), question.values.Get("reason")})
	require.NotContains(t, asked.form("result").says, "far beyond", "the hook on the track is not asked about")

	other := v.submit(question.fill(map[string]string{"result": "2900"}))
	require.Equal(t, http.StatusUnprocessableEntity, other.status, "another value is another question")
	bare := v.submit(other.form("correct").fill(map[string]string{"reason": " "}))
	require.Equal(t, http.StatusUnprocessableEntity, bare.status)
	require.Equal(t, "reason", bare.form("correct").at)
	require.Equal(t, lines, f.lines())

	require.Equal(t, http.StatusSeeOther, v.submit(bare.form("correct").fill(map[string]string{"reason": "misread"})).status)
	_, stored := s.class().Find(hook)
	require.Equal(t, "FP 2900", stored.Result.String())
}

// What was measured again takes the place of what was stored, with the reason beside it, and the puller on the track stays
// there; a hardly possible figure is asked about in that form alone.
func TestTheLastHookIsMeasuredAgain(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s, v := second(f), f.as(domain.Booth)
	hooks := s.class().Current().Hooks
	last, on := hooks[len(hooks)-2].ID, s.class().OnTrack().ID
	first := hooks[len(hooks)-2].Result.String()
	asked := v.submit(v.get(s.path("booth")).form("correct measured again").fill(map[string]string{"result": "2873.4"}))
	require.Equal(t, http.StatusUnprocessableEntity, asked.status)
	require.Contains(t, asked.form("correct measured again").wrong, "far beyond the track")
	require.Empty(t, asked.form("correct").wrong)
	require.Empty(t, asked.form("result").values.Get("result"))

	done := v.submit(asked.form("correct measured again").fill(map[string]string{"result": "281.4"}))
	require.Equal(t, http.StatusSeeOther, done.status)
	_, h := s.class().Find(last)
	require.Equal(t, []string{"281.4", "measured again"}, []string{h.Result.String(), h.Corrected})
	require.Equal(t, on, s.class().OnTrack().ID)
	page := v.get(s.path("booth"))
	require.Contains(t, page.says(), "281.4 corrected: measured again")
	journal := f.as(domain.Desk).get(s.path("desk")).says()
	require.Contains(t, journal, first, "the journal keeps both")
	require.Contains(t, journal, "281.4 ft: measured again")
}

// A form that was used up, as after the browser's Back, with something else in it, does nothing and is kept.
func TestAUsedFormWithOtherContentIsRefused(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := entering(f)
	v := f.as(domain.Desk)
	sent := v.get(s.path("desk")).form("draw").fill(map[string]string{"seed": "dice 1"})
	require.Equal(t, http.StatusSeeOther, v.submit(sent).status)
	lines := f.lines()
	a := v.submit(sent.fill(map[string]string{"seed": "dice 2"}))
	require.Equal(t, http.StatusConflict, a.status)
	require.Contains(t, a.says(), "This form was sent before with other content. Reload the page and send it again.")
	require.Equal(t, "dice 2", a.form("draw").values.Get("seed"))
	require.Equal(t, lines, f.lines())
}
