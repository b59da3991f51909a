package webui

import (
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/templates"
)

// done are the steps of a class that is decided, 7 before 12.
func done(steps ...string) []string { return append(begun("FP", "280", "270", "260"), steps...) }

// How far a result is stands in one line above the standing.
func TestTheStateOfAResultInWords(t *testing.T) {
	t.Parallel()
	event := domain.Event{Zone: "America/Chicago"}
	for says, steps := range map[string][]string{
		"provisional": begun("281.36"),
		"provisional; protests before trophies are handed over":             done(),
		"official since 13:14, signed Ada Flagg":                            done("sign Ada Flagg"),
		"revision 2, provisional; protests before trophies are handed over": done("sign Ada Flagg", "reopen video"),
		"revision 2, official since 13:17, signed Cy Holt":                  done("sign Ada Flagg", "reopen video", "correct 12 281", "sign Cy Holt"),
	} {
		c := tell(t, "capped-300ft", steps...)
		assert.Equal(t, says, officialWords(event, c))
		short, _, _ := strings.Cut(says, ", signed")
		assert.Equal(t, map[bool]string{true: "result, " + short, false: stateWords(c)}[c.Phase() == domain.Decided], lineState(event, c), "a list says as much, but for who signed")
	}
	c := tell(t, "capped-300ft", done()...)
	c.Rules.Protest = domain.ProtestRule{Minutes: 10}
	assert.Equal(t, "provisional; protests until 13:23", officialWords(event, c))
	c.Protests = []domain.Protest{{Entry: c.Entries[0].ID}}
	assert.Equal(t, "result, provisional; a protest is undecided; protests until 13:23", lineState(event, c))
	c.Protests[0].Ruling = domain.TurnedDown
	assert.Equal(t, "result, provisional; protests until 13:23", lineState(event, c))
	c.Rules.Protest = domain.ProtestRule{}
	assert.Equal(t, "provisional", officialWords(event, c), "rules without protests have no window")
}

func TestEarlierRevisionsInWords(t *testing.T) {
	t.Parallel()
	c := tell(t, "capped-300ft", done("sign Ada Flagg", "reopen video", "correct 12 269", "sign Ada Flagg", "reopen again")...)
	list := revisions(domain.Event{Zone: "America/Chicago"}, c)
	require.Len(t, list, 2)
	assert.Equal(t, "Revision 2 was signed 13:17 by Ada Flagg and opened again 13:18: again.", list[0].Text, "the newest first")
	assert.Empty(t, list[0].Changes, "nothing has changed since")
	assert.Equal(t, "Revision 1 was signed 13:14 by Ada Flagg and opened again 13:15: video.", list[1].Text)
	var changes []string
	for _, c := range list[1].Changes {
		changes = append(changes, c.Number+": "+c.Was+" -> "+c.Is)
	}
	assert.Equal(t, []string{"23: 3 · 270 -> 2 · 270", "12: 2 · 280 -> 3 · 269"}, changes)
	c.Earlier[0].Name = ""
	assert.Equal(t, "Revision 1 was signed 13:14 and opened again 13:15: video.", revisions(domain.Event{Zone: "America/Chicago"}, c)[1].Text)
	assert.Equal(t, []string{"1= · FP", "no place · DQ", "no place"},
		[]string{signedWords(domain.Signed{Place: 1, Shared: true, Results: "FP"}), signedWords(domain.Signed{Results: "DQ"}), signedWords(domain.Signed{})})
}

// A protest is public with what was decided, and without who lodged it.
func TestProtestsInWords(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		what  string
		steps []string
		about string
		state string
		says  []string
	}{
		{"undecided", []string{"protest 12 1 over the line"}, "over the line (hook 2, round 1)", "undecided", []string{"lodged 13:14"}},
		{"about the vehicle", []string{"protest 12 - weights"}, "weights", "undecided", []string{"lodged 13:14"}},
		{"turned down", []string{"protest 12 - weights", "turned_down nothing they were bolted"}, "weights", "turned down", []string{"lodged 13:14", "they were bolted"}},
		{"withdrawn", []string{"protest 12 - weights", "withdrawn nothing"}, "weights", "withdrawn", []string{"lodged 13:14"}},
		{"upheld", []string{"protest 12 - weights", "upheld disqualification video"}, "weights", "upheld", []string{"lodged 13:14", "video", "disqualification to be made"}},
		{"followed", []string{"protest 12 - weights", "upheld disqualification video", "correct 12 DQ"}, "weights", "upheld", []string{"lodged 13:14", "video", "disqualification made"}},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			list := protests(domain.Event{Zone: "America/Chicago"}, tell(t, "capped-300ft", done(row.steps...)...))
			require.Len(t, list, 1)
			assert.Equal(t, []string{"12", row.about, row.state, strings.Join(row.says, "; ")}, []string{list[0].Number, list[0].Matter(), list[0].State, list[0].Remarks()})
		})
	}
	noted := tell(t, "capped-300ft", done("protest 12 1 over the line", "turned_down nothing seen", "sign Ada Flagg", "reopen video", "correct 12 269")...)
	assert.Equal(t, []string{"Protest against 12: over the line (hook 2, round 1), turned down (lodged 13:14; seen).",
		"Revision 1 was signed 13:16 by Ada Flagg and opened again 13:17: video. 23: 2 · 270, before 3 · 270. 12: 3 · 269, before 2 · 280."},
		resultNotes(domain.Event{Zone: "America/Chicago"}, noted), "the print of the event has them as sentences")
	c := tell(t, "capped-300ft", done("protest 12 - weights")...)
	c.Protests[0].Late = true
	assert.Equal(t, "lodged 13:14, after the window", protests(domain.Event{Zone: "America/Chicago"}, c)[0].Remarks())
	assert.Equal(t, "A protest against 12 is undecided: weights.", messages(c)[0].Text)
}

// The desk is led from the protest to its decision, from there to the correction, and then to the signature.
func TestTheDeskIsLedFromAProtestToTheSignature(t *testing.T) {
	t.Parallel()
	desk := func(steps ...string) (*domain.Class, templates.DeskOfficial) {
		c := tell(t, "capped-300ft", done(steps...)...)
		return c, deskOfficial(domain.Event{Zone: "America/Chicago"}, c, "/desk/", nil)
	}
	c, view := desk()
	assert.Equal(t, "Desk: make the result official", awaited(c))
	require.NotNil(t, view.Lodge)
	assert.Len(t, view.Against, 8, "four entries and their four hooks")
	assert.Empty(t, view.Window)
	c, view = desk("protest 12 1 over the line")
	assert.Equal(t, "Officials: decide the protest against 12", awaited(c))
	require.NotNil(t, view.Protests[0].Rule)
	assert.Equal(t, "J. Weir", view.Protests[0].By)
	c, view = desk("protest 12 1 over the line", "upheld disqualification seen on video")
	assert.Equal(t, "Desk: correct the result of 12, as the protest asks", awaited(c))
	assert.Nil(t, view.Protests[0].Rule)
	require.Len(t, view.Corrections, 1)
	hook := c.Protests[0].Hook.String()
	assert.Equal(t, map[string]string{templates.FieldHook: hook, templates.FieldResult: "DQ", templates.FieldReason: "protest upheld: seen on video"}, view.Corrections[0].Form.Values)
	assert.Equal(t, []string{hook}, []string{view.Corrections[0].Hooks[0].Value})
	_, view = desk("protest 12 - weights", "upheld correction measured anew")
	assert.Empty(t, view.Corrections[0].Form.Values[templates.FieldResult], "what it is corrected to, people say")
	c, view = desk("protest 12 1 over the line", "upheld disqualification seen on video", "correct 12 DQ")
	assert.Equal(t, "Desk: make the result official", awaited(c))
	assert.Empty(t, view.Corrections)
	_, view = desk("sign Ada Flagg")
	assert.NotNil(t, view.Reopen)
	assert.Nil(t, view.Lodge, "an official result is opened again first")
	c, _ = desk()
	c.Rules.Protest = domain.ProtestRule{Minutes: 10, Fee: "$50", Decides: "the board"}
	view = deskOfficial(domain.Event{Zone: "America/Chicago"}, c, "/desk/", nil)
	assert.Equal(t, "Protests are taken until 13:23; the result can be signed from then on.", view.Window)
	assert.Equal(t, []templates.Term{{Label: "Fee", Value: "$50", Typed: true}, {Label: "Decided by", Value: "the board", Typed: true}}, view.Terms)
}

// An upheld protest against a result that is gone leads to no form, since there is nothing to fill in.
func TestAProtestAgainstAVoidHookHasNoCorrection(t *testing.T) {
	t.Parallel()
	l := plan(t, "capped-300ft")
	for _, step := range done("protest 12 1 out of turn") {
		l.step(step)
	}
	l.do(domain.VoidHook{Hook: l.class.Protests[0].Hook, Reason: "out of turn", Next: l.id()})
	l.step("upheld correction it was")
	require.Len(t, l.class.ToCorrect(), 1)
	assert.Empty(t, corrections(&l.class, "/desk/", nil))
}

func TestTheFormsOfProtestsAreRead(t *testing.T) {
	t.Parallel()
	c := tell(t, "capped-300ft", done("protest 12 1 over the line")...)
	id, hook := uuid.New(), c.Rounds[0].Hooks[1]
	form := func(pairs ...string) url.Values {
		v := url.Values{}
		for pair := range slices.Chunk(pairs, 2) {
			v.Set(pair[0], pair[1])
		}
		return v
	}
	a, err := protestAct(c, form("protest", id.String(), "against", hook.ID.String(), "about", "line", "fee", "taken", "by", "J. Weir"))
	require.NoError(t, err)
	assert.Equal(t, domain.LodgeProtest{Protest: id, Entry: hook.Entry, Hook: hook.ID, About: "line", Fee: true, By: "J. Weir"}, a)
	a, err = protestAct(c, form("protest", id.String(), "against", hook.Entry.String(), "about", "line", "by", "J. Weir"))
	require.NoError(t, err)
	assert.Equal(t, domain.LodgeProtest{Protest: id, Entry: hook.Entry, About: "line", By: "J. Weir"}, a)
	a, err = rulingAct(c, form("protest", id.String(), "ruling", "upheld", "follows", "correction", "reason", "video"))
	require.NoError(t, err)
	assert.Equal(t, domain.DecideProtest{Protest: id, Ruling: domain.Upheld, Follows: domain.CorrectionFollows, Reason: "video"}, a)
	for _, wrong := range []url.Values{
		form("against", hook.ID.String(), "by", "J. Weir"), form("protest", id.String(), "by", "J. Weir"), form("protest", id.String(), "against", hook.ID.String()),
	} {
		_, err = protestAct(c, wrong)
		require.Error(t, err)
	}
	for _, wrong := range []url.Values{form("ruling", "upheld"), form("protest", id.String()), form("protest", id.String(), "ruling", "upheld", "follows", "beer")} {
		_, err = rulingAct(c, wrong)
		require.Error(t, err)
	}
}
