package webui

import (
	"encoding/json"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/templates"
)

// place is the event of the tales, on the clock of its place: the first call of a tale is at 13:08.
var place = domain.Event{Zone: "America/Chicago"}

// NK 5, CARP 5 and CHEL 8 have a time to hook, and something that follows; the program shows both and does nothing.
func TestTheCallSaysUntilWhen(t *testing.T) {
	t.Parallel()
	assert.Nil(t, callOf(place, tell(t, "capped-300ft", begun()...)), "these rules give no time")
	rule := domain.CallRule{Minutes: 3, From: "sled back on the line", NotReady: domain.IsDisqualified}
	c := tellUnder(t, func(r *domain.RuleSet) { r.Call = rule }, begun()...)
	told := callOf(place, &c.class)
	require.NotNil(t, told)
	assert.Equal(t, "To hook until 13:12, 3 minutes from the call.", told.Text)
	assert.Equal(t, "These rules count from “sled back on the line”. Under these rules a puller who is not ready is disqualified; the officials decide.", told.Advice)

	c = tellUnder(t, func(r *domain.RuleSet) { r.Call = domain.CallRule{Minutes: 1} }, begun()...)
	assert.Equal(t, "To hook until 13:10, 1 minute from the call.", callOf(place, &c.class).Text)
	assert.Equal(t, "Under these rules the officials decide what follows.", callOf(place, &c.class).Advice)
	c.do(domain.Start{Hook: c.class.OnTrack().ID})
	assert.Nil(t, callOf(place, &c.class), "the sled has moved")
}

// TWOR 19: two out the gate. The page tells what is advised, and who decides.
func TestAResetIsAdvised(t *testing.T) {
	t.Parallel()
	two := func(r *domain.RuleSet) { r.ResetWhen.FullPulls = 2 }
	assert.Empty(t, advice(&tellUnder(t, two, begun("FP")...).class))
	assert.Equal(t, []templates.Message{{
		Text: "The first 2 hooks against this setting were full pulls: these rules advise a reset of the sled.",
		Do:   "The officials and the sled operator decide.",
	}}, advice(&tellUnder(t, two, begun("FP", "FP")...).class))
	few := tellUnder(t, func(r *domain.RuleSet) { r.Entries = domain.EntryRule{Least: 5, Below: "an exhibition"} })
	assert.Equal(t, "These rules want more entries than there are; below that: an exhibition.", deskAdvice(&few.class)[0].Text)
	assert.Empty(t, advice(&few.class), "the booth has nothing to do with it")
}

// What stands beside a cause is what the rules have for it.
func TestCausesSayWhatFollows(t *testing.T) {
	t.Parallel()
	l := tellUnder(t, func(r *domain.RuleSet) {
		r.Reasons.Of = map[domain.Cause]domain.Consequence{domain.CauseOutOfBounds: domain.MeasuredThere, domain.CauseRedFlag: domain.LastPlace}
	})
	list := causeOptions(l.class.Rules)
	require.Len(t, list, len(domain.Causes())+1)
	assert.Equal(t, templates.Option{Text: "something else, in words: DQ"}, list[0])
	assert.Contains(t, list, templates.Option{Value: "out of bounds", Text: "out of bounds: distance there counts"})
	assert.Contains(t, list, templates.Option{Value: "red flag", Text: "red flag: DQ, last place"})
	assert.Equal(t, []string{
		"Out of bounds: under these rules the distance where it happened counts.",
		"Red flag: under these rules it is a disqualification, and the last place.",
		"Anything else: under these rules it is a disqualification, without a distance.",
	}, causeAdvice(l.class.Rules))
}

// MERR 16: measured where it happened. UCTCC 17: no distance, whatever was measured.
func TestADisqualificationFromItsForm(t *testing.T) {
	t.Parallel()
	measured := func(r *domain.RuleSet) {
		r.Reasons.Of = map[domain.Cause]domain.Consequence{domain.CauseOutOfBounds: domain.MeasuredThere}
	}
	for _, row := range []struct {
		what             string
		cause, words, at string
		under            func(*domain.RuleSet)
		becomes          string
		remarks          []string
	}{
		{"in words alone", "", "drove over the line", "", measured, "DQ", []string{"drove over the line"}},
		{"a cause alone", "lost part", "", "", measured, "DQ", []string{"lost part"}},
		{"a cause and words", "out of bounds", "left rear wheel", "", measured, "DQ", []string{"out of bounds: left rear wheel"}},
		{"where it happened, under rules that measure there", "out of bounds", "", "281,3", measured, "281.3", []string{"out of bounds"}},
		{"where it happened, under rules that do not", "out of bounds", "", "281.3", func(*domain.RuleSet) {}, "DQ", []string{"out of bounds", "at 281.3 ft"}},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			l := tellUnder(t, row.under, begun("FP")...)
			hook := l.class.OnTrack().ID
			action, err := resultAct(&l.class, url.Values{
				"hook": {hook.String()}, "next": {l.id().String()}, "word": {"DQ"}, templates.FieldWhatWent: {row.cause}, "reason": {row.words}, templates.FieldAt: {row.at},
			})
			require.NoError(t, err)
			l.do(action)
			shown := order(&l.class, l.class.Current())[1]
			assert.Equal(t, row.becomes, shown.Text)
			assert.Equal(t, row.remarks, shown.Remarks)
		})
	}
	l := tellUnder(t, measured, begun("FP")...)
	for at, says := range map[string]string{"far": "is not a distance", "2813": "lies far beyond the track"} {
		values := url.Values{
			"hook": {l.class.OnTrack().ID.String()}, "next": {l.id().String()}, "word": {"DQ"}, "reason": {"out of bounds"}, templates.FieldAt: {at},
		}
		_, err := readGuarded(resultAct, &l.class, values)
		no := refusal("DQ", values, err)
		require.NotNil(t, no)
		form := no.make("DQ", "/", []string{templates.FieldReason, templates.FieldAt})
		assert.Contains(t, strings.ToLower(form.Error(templates.FieldAt)), says)
		assert.Equal(t, at, form.Value(templates.FieldAt))
	}
}

// A test puller who chooses before the distance is told: no page for everybody has the figure, and the booth has it.
func TestAKeptDistanceIsOnNoPublicPage(t *testing.T) {
	t.Parallel()
	before := func(r *domain.RuleSet) { r.Test.BeforeDistance = true }
	c := &tellUnder(t, before, begun("281.36")...).class
	told := c.Told()
	// As JSON: fmt would write the addresses of pointers, which may have any figures in them.
	written, err := json.Marshal([]any{hooking(&told), messages(c), strip(&told), rounds(place, &told), standing(place, &told), winner(c), stateSentence(c), stateWords(c)})
	require.NoError(t, err)
	public := string(written)
	assert.NotContains(t, public, "281")
	assert.Contains(t, public, "7 decides about the test hook, before the distance is told: keeps it or drops to last and hooks again, before unhooking.")
	assert.Equal(t, []string{"7 chooses", "12", "23", "41"}, rowsOf(&told, told.Current()), "nobody is next")
	assert.Empty(t, hooking(&told).Next)

	staff := choiceOf(c, "/", nil)
	assert.Contains(t, staff.Text, "281.36 ft")
	assert.Contains(t, staff.Kept, "not announced before the choice")

	after := &tellUnder(t, before, begun("281.36", "keep")...).class
	told = after.Told()
	assert.Equal(t, "7 281.36 (kept as test hook)", rowsOf(&told, told.Current())[0])
	assert.Empty(t, choiceOf(&tellUnder(t, func(*domain.RuleSet) {}, begun("281.36")...).class, "/", nil).Kept)
}

// What silence means is the rules' to say, and the option has it beside it.
func TestSilenceIsMarked(t *testing.T) {
	t.Parallel()
	marked := func(c *domain.Class) (says string, options []string) {
		choice := readChoice(c)
		for _, o := range choice.Options {
			assert.Empty(t, o.Form.Action, "there is nothing to press where a choice is only read")
			if strings.Contains(o.Detail, "what saying nothing means") {
				options = append(options, o.Text)
			}
		}
		return choice.Silence, options
	}
	says, options := marked(&tellUnder(t, func(*domain.RuleSet) {}, begun("281.36")...).class)
	assert.Equal(t, "Saying nothing keeps the result.", says)
	assert.Equal(t, []string{"Keeps it"}, options)
	says, options = marked(&tellUnder(t, func(r *domain.RuleSet) { r.Test.Silence = domain.ToLast }, begun("281.36")...).class)
	assert.Equal(t, "Who says nothing drops to last and hooks again.", says)
	assert.Equal(t, []string{"Drops to last and hooks again"}, options)
	says, options = marked(&tellUnder(t, func(r *domain.RuleSet) { r.Test.Must, r.Test.Options = true, []domain.Option{domain.ToLast} }, begun("281.36")...).class)
	assert.Equal(t, "Under these rules there is no choice.", says)
	assert.Empty(t, options)
	assert.Nil(t, readChoice(tell(t, "capped-300ft", begun("FP")...)))
}

func TestHowLongToCoolDown(t *testing.T) {
	t.Parallel()
	for words, rules := range map[string]domain.RuleSet{
		"Under these rules at once.": {},
		"Under these rules up to 4 places to cool down, and 5 minutes where fewer are left.": {RehookDrop: 4, RehookMinutes: 5},
		"Under these rules up to 1 place to cool down.":                                      {RehookDrop: 1},
	} {
		assert.Equal(t, words, cooling(rules))
	}
}
