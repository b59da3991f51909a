package webui

import (
	"net/url"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/templates"
)

// says are the questions of a hook.
func says(c *domain.Class, h *domain.Hook) (list []string) {
	for _, l := range flagHook(place, c, h, "/flag", nil).Says {
		list = append(list, l.Text)
	}
	return list
}

// What a flagman may say follows from the rules and from where the hook stands.
func TestWhatIsOfferedToTheFlagman(t *testing.T) {
	t.Parallel()
	l := tellUnder(t, func(r *domain.RuleSet) { r.Test = domain.TestRule{} }, "draw", "write", "freeze", "call")
	assert.Equal(t, []string{"Starts again", "Re-hook", "Light red, breakaway", "Disqualified"}, says(&l.class, l.class.OnTrack()))
	l.step("281.36")
	hooks := l.class.FlagHooks()
	require.Len(t, hooks, 2)
	assert.Equal(t, []string{"Re-hook", "Light red, breakaway", "Disqualified"}, says(&l.class, hooks[1]), "the attempt is over")
	assert.True(t, flagHook(place, &l.class, hooks[1], "/flag", nil).Over)
	assert.Nil(t, flagAsk(&l.class, hooks[1], "/flag", "start again", nil))
	assert.Nil(t, flagAsk(&l.class, hooks[0], "/flag", "green", nil))
	ask := flagAsk(&l.class, hooks[0], "/flag", "disqualified", nil)
	require.Len(t, ask.Press, 1+len(domain.Causes()))
	assert.Equal(t, "As typed", ask.Press[0].Text, "what Enter sends takes the words alone")
}

// Booth and cab are told as long as the word may change what is stored.
func TestWhatBoothAndCabAreToldOfTheFlag(t *testing.T) {
	t.Parallel()
	told := func(l *tale) (list []string) {
		for _, m := range flagsTold(place, &l.class) {
			list = append(list, m.Text+" "+m.Do)
		}
		return list
	}
	l := tellUnder(t, func(r *domain.RuleSet) { r.Test = domain.TestRule{} }, "draw", "write", "freeze", "call")
	assert.Empty(t, told(l))
	on := l.class.OnTrack().ID
	l.do(domain.SayFlag{Hook: on, Call: domain.FlagDisqualified, Reason: "out of bounds: left wheel"})
	l.do(domain.NoteDifference{Hook: on, What: domain.RedByOfficial})
	list := told(l)
	require.Len(t, list, 2)
	assert.Regexp(t, `^Flag \d\d:\d\d, 7 .*: disqualification proposed: out of bounds: left wheel\. Under these rules it is a disqualification, without a distance\. The officials decide, and the booth stores it\.$`, list[0])
	assert.Regexp(t, `^Noted of 7 .*: red by official\. $`, list[1])
	l.step("281.36")
	assert.Empty(t, told(l), "the stored hook carries it")
	l.do(domain.SayFlag{Hook: on, Call: domain.FlagRehook, Reason: "official"})
	list = told(l)
	require.Len(t, list, 1)
	assert.Contains(t, list[0], "re-hook called: official. Its result is stored.")
	form := rehookOf(&l.class, "/booth/", nil)
	assert.Equal(t, templates.CauseOfficial, form.Value(templates.FieldCause))
	assert.Equal(t, "red by official; re-hook called: official", form.Value(templates.FieldReason))
	assert.Contains(t, rehookAdvice(&l.class)[0].Do, "A re-hook because of the official is possible")
}

// A re-hook that was called without a word of whose doing it was is offered all the same.
func TestARehookOfWhichNobodySaidWhoseDoingItWas(t *testing.T) {
	t.Parallel()
	h := domain.Hook{Flag: domain.Flag{Call: domain.FlagRehook}}
	assert.Empty(t, rehookDoing(&h))
	assert.Equal(t, "re-hook called", rehookWords(&h))
	h.Flag.Reason = "sled: cable"
	assert.Equal(t, "sled", rehookDoing(&h))
}

// The forms of the flagman, as they are read.
func TestTheFormsOfTheFlagman(t *testing.T) {
	t.Parallel()
	l := tellUnder(t, func(*domain.RuleSet) {}, "draw", "write", "freeze", "call")
	hook := l.class.OnTrack().ID
	for _, row := range []struct{ ask, press, words, reason string }{
		{"disqualified", "lost part", " fender ", "lost part: fender"},
		{"disqualified", "lost part", "", "lost part"},
		{"disqualified", "", "argued", "argued"},
		{"re-hook", "sled", "", "sled"},
		{"start again", "", "", ""},
	} {
		sent := url.Values{templates.FieldHook: {hook.String()}, templates.FieldAsk: {row.ask}, templates.FieldPress: {row.press}, templates.FieldReason: {row.words}}
		action, err := flagAct(&l.class, sent)
		require.NoError(t, err)
		assert.Equal(t, row.reason, action.(domain.SayFlag).Reason)
		assert.Equal(t, row.ask, action.(domain.SayFlag).Call.String())
	}
	_, err := flagAct(&l.class, url.Values{templates.FieldHook: {hook.String()}, templates.FieldAsk: {"green"}})
	require.ErrorContains(t, err, "write start again, re-hook or disqualified")
	for _, read := range []readForm{flagAct, notedAct} {
		_, err = read(&l.class, url.Values{})
		require.ErrorContains(t, err, "not complete")
	}
	_, err = notedAct(&l.class, url.Values{templates.FieldHook: {hook.String()}, templates.FieldPress: {"flat tyre"}})
	require.ErrorContains(t, err, "flat tyre")
}
