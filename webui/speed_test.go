package webui

import (
	"net/url"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/templates"
)

// reading is a speed of a test.
func reading(t *testing.T, s string) domain.Speed {
	v, err := domain.ParseSpeed(s)
	require.NoError(t, err)
	return v
}

// slow is a class with a speed limit of 4 mph from 75 ft on, as HARF has it with 3.5.
func slow(t *testing.T) *tale {
	return tellUnder(t, func(r *domain.RuleSet) {
		r.Speed.Limit, r.Speed.Warnings = reading(t, "4 mph"), 1
		r.Speed.From.Distance, _ = domain.ParseDistance("75 ft", 0)
	}, begun()...)
}

// The speed is asked of hooks that ended, never while a vehicle pulls, and stands on the booth's page, the class page and
// paper.
func TestTheSpeedIsAskedAndShown(t *testing.T) {
	t.Parallel()
	l := slow(t)
	assert.Nil(t, speedsOf(&l.class, "/", nil), "no hook has ended")
	first := l.class.OnTrack().ID
	l.step("281.36")
	asked := speedsOf(&l.class, "/", nil)
	require.NotNil(t, asked)
	assert.Equal(t, "Limit 4 mph from 75 ft on.", asked.Limit)
	assert.Equal(t, first.String(), asked.Hooks[0].Value)

	sent := url.Values{templates.FieldHook: {first.String()}, templates.FieldTop: {"3,9"}, templates.FieldAtLine: {"6 km/h"}}
	action, err := speedAct(&l.class, sent)
	require.NoError(t, err)
	assert.Equal(t, domain.ReadSpeed{Hook: first, Top: reading(t, "3.9 mph"), AtLine: reading(t, "6 km/h")}, action)
	l.do(action)
	const says = "top 3.9 mph, at the line 6 km/h"
	assert.Contains(t, speedsOf(&l.class, "/", nil).Hooks[0].Text, says)
	assert.Contains(t, justStored(&l.class)[0].Remarks, says)
	assert.Contains(t, order(&l.class, l.class.Current())[0].Remarks, says)
	assert.Contains(t, classResult(place, &l.class).Rows[0].Remarks, says)
	assert.Empty(t, speedAdvice(&l.class), "it is within the limit")

	l.do(domain.ReadSpeed{Hook: first, Top: reading(t, "4.2 mph")})
	told := advice(&l.class)
	require.NotEmpty(t, told)
	last := told[len(told)-1]
	assert.Contains(t, last.Text, "top 4.2 mph, over the limit of 4 mph.")
	assert.Contains(t, last.Do, "Under these rules it is a disqualification, without a distance, after 1 warning, where the limit holds: from 75 ft on.")
	assert.Contains(t, last.Do, "the officials decide")
	assert.Equal(t, "281.36 ft", l.class.Current().Hooks[0].Result.String()+" ft", "nothing was stored by itself")
}

// What cannot be a speed is told at its field, and the typing stays.
func TestASpeedThatCannotBeRead(t *testing.T) {
	t.Parallel()
	l := slow(t)
	first := l.class.OnTrack().ID
	l.step("281.36")
	for field, typed := range map[string]string{templates.FieldTop: "fast", templates.FieldAtLine: "3.5 knots"} {
		sent := url.Values{templates.FieldHook: {first.String()}, field: {typed}}
		_, err := speedAct(&l.class, sent)
		require.Error(t, err, typed)
		form := speedsOf(&l.class, "/", refusal("speed", sent, err)).Form
		assert.Equal(t, typed, form.Value(field))
		assert.NotEmpty(t, form.Error(field))
	}
	_, err := speedAct(&l.class, url.Values{templates.FieldTop: {"3"}})
	require.Error(t, err, "no hook is named")
	assert.Equal(t, "km/h", speedUnit(&domain.Class{Rules: plan(t, "capped-100m").class.Rules}))
}
