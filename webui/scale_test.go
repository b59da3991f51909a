package webui

import (
	"net/url"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/templates"
)

// limited is a class with a limit of 8,500 lb, brought somewhere by steps; "weigh 7 8480 lb" is before the hook, "reweigh"
// after it.
func limited(t testing.TB, change func(*domain.WeightRule), steps ...string) *domain.Class {
	t.Helper()
	l := plan(t, "capped-300ft")
	pounds := func(s string) domain.Weight {
		w, err := domain.ParseWeight(s)
		require.NoError(t, err)
		return w
	}
	l.class.Rules.Weight = domain.WeightRule{Limit: pounds("8500 lb"), Tolerance: pounds("10 lb"), When: domain.WeighBefore, Tries: 2, Over: domain.OverDisqualified, WithDriver: true}
	change(&l.class.Rules.Weight)
	for _, step := range steps {
		word, rest, _ := strings.Cut(step, " ")
		if word != "weigh" && word != "reweigh" {
			l.step(step)
			continue
		}
		number, shown, _ := strings.Cut(rest, " ")
		l.do(domain.Weigh{Reading: l.id(), Entry: l.entry(number), Weight: pounds(shown), After: word == "reweigh"})
	}
	return &l.class
}

func asItIs(*domain.WeightRule) {}

func TestTheRuleOfTheScaleInWords(t *testing.T) {
	t.Parallel()
	for says, change := range map[string]func(*domain.WeightRule){
		"8,500 lb, 10 lb over allowed, with the driver, before the hook": asItIs,
		"8,500 lb, without the driver, on request": func(w *domain.WeightRule) {
			w.Tolerance, w.WithDriver, w.When = domain.Weight{}, false, domain.WeighOnRequest
		},
	} {
		assert.Equal(t, says, limitWords(limited(t, change).Rules.Weight))
	}
}

func TestHowAnEntryStandsAtTheScaleInWords(t *testing.T) {
	t.Parallel()
	for says, steps := range map[string][]string{
		"not weighed":                        nil,
		"8,480 lb":                           {"weigh 7 8480 lb"},
		"8,620 lb, too heavy, 1 try left":    {"weigh 7 8620 lb"},
		"8,600 lb, too heavy, 0 tries left":  {"weigh 7 8620 lb", "weigh 7 8600 lb"},
		"8,512 lb after the hook, too heavy": begun("FP", "reweigh 7 8512 lb"),
		"8,510.00 lb after the hook":         begun("FP", "reweigh 7 8510.00 lb"),
	} {
		c := limited(t, asItIs, steps...)
		assert.Equal(t, says, scaleWords(c, c.Entries[0].ID))
	}
	c := limited(t, func(w *domain.WeightRule) { w.Tries = 0 }, "weigh 7 8620 lb")
	assert.Equal(t, "8,620 lb, too heavy", scaleWords(c, c.Entries[0].ID))
	c = limited(t, func(w *domain.WeightRule) { w.Least = w.Limit }, "weigh 7 8480 lb")
	assert.Equal(t, "8,480 lb, too light, 1 try left", scaleWords(c, c.Entries[0].ID))
}

// Those not weighed stand first: they are whom the person at the scale looks for.
func TestTheScaleListsWhoIsNotWeighedFirst(t *testing.T) {
	t.Parallel()
	c := limited(t, asItIs, "weigh 7 8480 lb", "scratch 23 clutch")
	var list []string
	for _, e := range scaleEntries(c) {
		list = append(list, e.Number+": "+e.State)
	}
	assert.Equal(t, []string{"12: not weighed", "41: not weighed", "7: 8,480 lb"}, list)
	state := scaleState(c)
	require.NotNil(t, state)
	assert.Equal(t, []templates.Term{{Label: "Limit", Value: limitWords(c.Rules.Weight)}, {Label: "Weighed", Value: "7", Typed: true}, {Label: "Not yet", Value: "12, 41", Typed: true}}, state.Lines)
	assert.Len(t, scaleState(limited(t, func(w *domain.WeightRule) { w.When = domain.WeighOnRequest })).Lines, 1, "nobody is wanted on the scale")
	assert.Nil(t, scaleState(tell(t, "capped-300ft")))
}

// The desk is told what the rules advise, and led to the correction; nothing happens by itself.
func TestTheDeskIsToldWhoIsTooHeavy(t *testing.T) {
	t.Parallel()
	c := limited(t, asItIs, begun("281.36", "keep", "reweigh 7 8530 lb")...)
	require.Len(t, weightMessages(c), 1)
	assert.Equal(t, templates.Message{Text: "7 is 20 lb over the 8,510 lb that are allowed.", Do: "Under these rules it is disqualified. The officials decide."}, weightMessages(c)[0])
	list := corrections(c, "/desk/", nil)
	require.Len(t, list, 1)
	assert.Equal(t, "7 is 20 lb over the 8,510 lb that are allowed. The officials decide.", list[0].Text)
	assert.Equal(t, []string{"DQ", "overweight: 8,530 lb"}, []string{list[0].Form.Values[templates.FieldResult], list[0].Form.Values[templates.FieldReason]})
	c = limited(t, func(w *domain.WeightRule) { w.Over = domain.OverExhibition }, begun("281.36", "keep", "reweigh 7 8530 lb")...)
	assert.Empty(t, corrections(c, "/desk/", nil), "only where the rules disqualify is there a result to correct")
	assert.Equal(t, "Under these rules it may pull as an exhibition, without a place. The officials decide.", weightMessages(c)[0].Do)
}

func TestTheFormsOfTheScaleAreRead(t *testing.T) {
	t.Parallel()
	c := limited(t, asItIs)
	id, entry := uuid.New(), c.Entries[0].ID
	form := url.Values{"reading": {id.String()}, "entry": {"7"}, "weight": {"8480.5"}, "after": {"after"}}
	a, err := weighAct(c, form)
	require.NoError(t, err)
	weighed, ok := a.(domain.Weigh)
	require.True(t, ok)
	assert.Equal(t, "8,480.5 lb", weighed.Weight.String(), "a figure alone is in the unit of the limit")
	assert.Equal(t, []any{id, entry, true}, []any{weighed.Reading, weighed.Entry, weighed.After})
	form.Set("weight", "3850 kg")
	form.Set("after", "before")
	a, err = weighAct(c, form)
	require.NoError(t, err)
	weighed, _ = a.(domain.Weigh)
	assert.Equal(t, []any{"3,850 kg", false}, []any{weighed.Weight.String(), weighed.After})
	form.Set("weight", "heavy")
	_, err = weighAct(c, form)
	require.ErrorContains(t, err, "has no unit of weight")
	form.Del("entry")
	_, err = weighAct(c, form)
	require.ErrorContains(t, err, "no vehicle is chosen; choose who stands on the scale")
	_, err = weighAct(c, url.Values{})
	require.Error(t, err)
	a, err = misreadAct(c, url.Values{"reading": {id.String()}, "reason": {"that was 12"}})
	require.NoError(t, err)
	assert.Equal(t, domain.Misread{Reading: id, Reason: "that was 12"}, a)
	assert.Equal(t, []string{"after", "before"}, []string{scaleButtons(weighedAfter)[0].Value, scaleButtons(weighedAfter)[1].Value})
}
