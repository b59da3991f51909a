package doc_test

import (
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

// askedBy reads a question as it stands in an address.
func askedBy(t testing.TB, c *domain.Class, query string) (doc.EstimateQuestion, error) {
	t.Helper()
	values, err := url.ParseQuery(query)
	require.NoError(t, err)
	return doc.ParseEstimateQuestion(c, values.Get)
}

func TestAQuestionThatSaysLittle(t *testing.T) {
	t.Parallel()
	c := hookedClass(t, "capped-300ft", oakCard, [2]string{"41", "281.36"})
	q, err := askedBy(t, c, "")
	require.NoError(t, err)
	assert.Equal(t, doc.EstimateQuestion{Ground: doc.InventedGround(), Drift: 0.08}, q, "no other setting, and what we made up")
	q, err = askedBy(t, c, "gear=2&mu_down=+0.5+&drift=5&round=1")
	require.NoError(t, err)
	assert.Equal(t, setAt(t, "12000 lb", 2, 1, "225"), q.Other, "the rest is as it was")
	assert.Equal(t, []float64{0.5, 0.05}, []float64{q.Ground.MuDown, q.Drift})
	assert.Equal(t, domain.RoundName{Number: 1}, q.Round)
}

func TestAQuestionThatSaysAll(t *testing.T) {
	t.Parallel()
	c := hookedClass(t, "capped-300ft", oakCard, [2]string{"41", "281.36"})
	q, err := askedBy(t, c, "box=12,500&gear=2&start_hole=2&trip=170&pan=100+kg&mu_up=0.3&c_rr=0.05&dig_lb=1200&dig_ramp_ft=15&speeds=7+12.5,+7+b+20+km/h")
	require.NoError(t, err)
	want := setAt(t, "12500 lb", 2, 2, "170")
	want.Pan = weigh(t, "100 kg")
	assert.Equal(t, want, q.Other)
	assert.Equal(t, doc.SledGround{MuUp: 0.3, MuDown: 0.44, CRR: 0.05, Dig: 1200, DigRamp: 15}, q.Ground)
	assert.Equal(t, "12.5 mph", q.Speeds["7"].String())
	assert.Equal(t, "20 km/h", q.Speeds["7 b"].String())

	for _, typed := range []string{"7+12,5,+23+11,8", "7+12,5;+23+11,8", "7+12.5;23+11.8", "7+12,5+mph,+23+11,8+mph"} {
		q, err = askedBy(t, c, "speeds="+strings.ReplaceAll(typed, ";", "%3B"))
		require.NoError(t, err, typed)
		assert.Equal(t, []string{"12.5 mph", "11.8 mph"}, []string{q.Speeds["7"].String(), q.Speeds["23"].String()}, "with the comma that many countries have before decimals: %s", typed)
	}

	metric := hookedClass(t, "capped-100m", oakCard)
	metric.Rounds[0].Revisions[0].Setting.Trip = inFeet(t, "60 m")
	q, err = askedBy(t, metric, "box=5500&trip=55&speeds=7+20")
	require.NoError(t, err)
	assert.Equal(t, []string{"5,500 kg", "55 m", "20 km/h"}, []string{q.Other.Box.String(), q.Other.Trip.String(), q.Speeds["7"].String()})
}

func TestAQuestionThatIsWrong(t *testing.T) {
	t.Parallel()
	c := hookedClass(t, "capped-300ft", oakCard, [2]string{"41", "281.36"})
	for query, field := range map[string]string{
		"round=final": "round", "box=12,5": "box", "box=lots": "box", "gear=second": "gear", "start_hole=1.5": "start_hole", "trip=far": "trip", "pan=9": "",
		"pan=9+oz": "pan", "mu_up=0,3": "mu_up", "mu_down=x": "mu_down", "c_rr=-": "c_rr", "dig_lb=1e": "dig_lb", "dig_ramp_ft=ft": "dig_ramp_ft", "drift=8%25": "drift",
		"speeds=12.5": "speeds", "speeds=7+fast": "speeds", "speeds=7+9,": "speeds", "speeds=7+9,7+8": "speeds", "speeds=7+9,+5": "speeds", "speeds=,5": "speeds", "speeds=%3B": "speeds", "speeds=mph": "speeds", "gear=x&drift=y": "drift",
	} {
		_, err := askedBy(t, c, query)
		if field == "" {
			require.NoError(t, err, query)
			continue
		}
		var refusal *domain.Error
		require.ErrorAs(t, err, &refusal, query)
		assert.Equal(t, field, refusal.Field, query)
		assert.Equal(t, domain.Invalid, refusal.Kind, query)
		assert.NotEmpty(t, refusal.Fix, query)
		assert.Contains(t, doc.EstimateFields(), refusal.Field)
	}
}

// FuzzEstimateQuestion holds that whatever stands in an address is read or refused at a field of the form, and that what is
// read has an estimate or a sentence.
func FuzzEstimateQuestion(f *testing.F) {
	for _, seed := range []string{"", "gear=2&trip=170", "mu_up=NaN", "mu_up=1e-320&drift=50", "speeds=41 9", "round=1&box=1&pan=9999999", "box=0 lb&trip=0"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, query string) {
		values, err := url.ParseQuery(query)
		if err != nil {
			return
		}
		c := hookedClass(t, "capped-300ft", oakCard, [2]string{"41", "281.36"}, [2]string{"7", "FP"})
		q, err := doc.ParseEstimateQuestion(c, values.Get)
		if err == nil {
			var e doc.Estimate
			if e, err = doc.NewEstimate(c, q); err == nil {
				_, err := e.Job.Run().MarshalJSON()
				require.NoError(t, err)
				e.Table()
				e.Ratio()
			}
		}
		if err != nil {
			var refusal *domain.Error
			require.ErrorAs(t, err, &refusal)
			require.NotEmpty(t, refusal.Fix)
		}
	})
}
