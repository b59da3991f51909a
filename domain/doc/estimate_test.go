package doc_test

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/doc"
)

// oakCard describes an invented sled whose figures are easy to work with: in gear 1 the box moves 0.08 ft a foot, in gear 2
// 0.1.
const oakCard = `{"name": "Oak", "gears": 2, "start_holes": 2, "wheelbase": "22 ft", "frame_weight": "15000 lb", "frame_center": "7 ft",
	"pan_weight": "2500 lb", "box_weight": "1700 lb", "box_stop": "21 ft", "holes": ["0 ft", "1.2 ft"], "advance": [0.08, 0.1],
	"pushdown": {"delay": "0 ft", "ramp": "15 ft", "share": 1}}`

// inFeet and weigh read what must be right.
func inFeet(t require.TestingT, s string) domain.Distance {
	d, err := domain.ParseDistance(s, domain.Foot)
	require.NoError(t, err)
	return d
}

func weigh(t require.TestingT, s string) domain.Weight {
	w, err := domain.ParseWeight(s)
	require.NoError(t, err)
	return w
}

// setAt is a setting of the oak sled.
func setAt(t require.TestingT, box string, gear, hole int, trip string) domain.Setting {
	return domain.Setting{Box: weigh(t, box), Gear: gear, StartHole: hole, Trip: inFeet(t, trip)}
}

// hookedClass is a class that pulled one round against gear 1 from hole 1 with 12,000 lb, tripped at 225 ft: the box stands
// at 18 ft there. Results are by number, in the order of the hooks.
func hookedClass(t require.TestingT, rules, card string, results ...[2]string) *domain.Class {
	set, err := doc.ReadyMadeRuleSet(rules)
	require.NoError(t, err)
	sled, err := doc.ParseSledCard([]byte(card))
	require.NoError(t, err)
	c := &domain.Class{Rules: set, Sled: sled, Rounds: []domain.Round{{
		Name: domain.RoundName{Number: 1}, Revisions: []domain.Revision{{Number: 1, Setting: setAt(t, "12000 lb", 1, 1, "225")}},
	}}}
	for _, r := range results {
		c.Entries = append(c.Entries, domain.Entry{ID: uuid.NewSHA1(uuid.Nil, []byte(r[0])), Number: r[0]})
	}
	hookIn(t, &c.Rounds[0], results...)
	return c
}

// hookIn adds hooks to a round, against its first setting.
func hookIn(t require.TestingT, r *domain.Round, results ...[2]string) {
	for i, written := range results {
		result, err := domain.ParseResult(written[1], domain.Foot)
		require.NoError(t, err)
		r.Hooks = append(r.Hooks, domain.Hook{Entry: uuid.NewSHA1(uuid.Nil, []byte(written[0])), Number: i + 1, Revision: 1, Result: result})
	}
}

// asked is a question about that other setting, on the invented ground.
func asked(other domain.Setting) doc.EstimateQuestion {
	return doc.EstimateQuestion{Other: other, Ground: doc.InventedGround(), Drift: doc.AssumedDrift}
}

// The job of a class is a document that anybody can do again with the command: nothing in it is worked out but units.
func TestAClassFillsTheJobIn(t *testing.T) {
	t.Parallel()
	c := hookedClass(t, "capped-300ft", oakCard, [2]string{"41", "281.36"}, [2]string{"7", "FP 304.2"}, [2]string{"23", "FP"}, [2]string{"12", "DQ too loud"})
	other := setAt(t, "12500 lb", 2, 2, "170")
	other.Pan = weigh(t, "100 kg")
	q := asked(other)
	speed, err := domain.ParseSpeed("10 mph")
	require.NoError(t, err)
	q.Speeds = map[string]domain.Speed{"7": speed}
	c.Rules.Weight.Limit = weigh(t, "8200 lb")
	e, err := doc.NewEstimate(c, q)
	require.NoError(t, err)
	assert.JSONEq(t, `{"job": "whatif",
		"sled": {"wheelbase_ft": 22, "frame_weight_lb": 15000, "frame_cg_ft": 7, "pan_weight_lb": 2500, "box_empty_lb": 1700, "box_start_ft": 0, "box_top_ft": 21,
			"holes_ft": [0, 1.2], "advance": {"1": 0.08, "2": 0.1}, "pushdown": {"delay_ft": 0, "ramp_ft": 15, "share": 1}},
		"sled_to": {"wheelbase_ft": 22, "frame_weight_lb": 15000, "frame_cg_ft": 7, "pan_weight_lb": 2720.4622621848775, "box_empty_lb": 1700, "box_start_ft": 0, "box_top_ft": 21,
			"holes_ft": [0, 1.2], "advance": {"1": 0.08, "2": 0.1}, "pushdown": {"delay_ft": 0, "ramp_ft": 15, "share": 1}},
		"ground": {"mu_up": 0.33, "mu_down": 0.44, "c_rr": 0.06, "dig_lb": 1000, "dig_ramp_ft": 12},
		"setup": {"slabs_lb": 12000, "gear": "1", "hole": 0, "trip_ft": 225}, "setup_to": {"slabs_lb": 12500, "gear": "2", "hole": 1, "trip_ft": 170},
		"track": {"full_pull_ft": 300}, "drift": 0.08,
		"results": [{"id": "41", "distance_ft": 281.36, "full": false}, {"id": "7", "distance_ft": 304.2, "full": true, "line_speed_mph": 10, "vehicle_lb": 8200},
			{"id": "23", "full": true}]}`, string(e.Document))
	assert.Equal(t, []string{"Left out: hook 4, number 12: it has no distance.", "With its speed at the line and its weight: 7."}, e.Notes)
	rows := e.Job.Run().WhatIf.Rows
	assert.Equal(t, []string{"about", "about", "at least"}, []string{rows[0].Reads, rows[1].Reads, rows[2].Reads}, "the speed at the line tells how much more it had")
	assert.Greater(t, rows[1].Pull, rows[2].Pull)
	assert.False(t, e.SpeedLimited())
}

// A speed that was read of the hook needs no asking, and one that is asked for goes before it. Without a weight it tells
// nothing, and is no refusal: nobody asked.
func TestASpeedThatWasReadIsUsed(t *testing.T) {
	t.Parallel()
	c := hookedClass(t, "capped-300ft", oakCard, [2]string{"41", "281.36"}, [2]string{"7", "FP"})
	read, err := domain.ParseSpeed("9 mph")
	require.NoError(t, err)
	slower, err := domain.ParseSpeed("4 mph")
	require.NoError(t, err)
	for i := range c.Rounds[0].Hooks {
		c.Rounds[0].Hooks[i].Speeds = domain.Speeds{Top: read, AtLine: read}
	}
	pull := func(q doc.EstimateQuestion) doc.SledRow {
		t.Helper()
		e, err := doc.NewEstimate(c, q)
		require.NoError(t, err)
		return e.Job.Run().WhatIf.Rows[1]
	}
	q := asked(setAt(t, "12500 lb", 2, 1, "180"))
	assert.Equal(t, "lower", pull(q).Bound, "its weight is not known")
	c.Rules.Weight.Limit = weigh(t, "8200 lb")
	fast := pull(q)
	assert.Equal(t, "exact", fast.Bound)
	e, err := doc.NewEstimate(c, q)
	require.NoError(t, err)
	assert.NotContains(t, strings.Join(e.Job.Run().WhatIf.Advice, " "), "went full cannot be counted", "it can be")
	q.Speeds = map[string]domain.Speed{"7": slower}
	assert.Less(t, pull(q).Pull, fast.Pull)
}

// A driveline, a box that starts behind the axle, a metric track: each in the units of a job.
func TestADrivelineFillsTheJobIn(t *testing.T) {
	t.Parallel()
	card := `{"name": "Slow Anvil", "gears": 1, "start_holes": 1, "wheelbase": "7 m", "frame_weight": "7000 kg", "frame_center": "2 m", "pan_weight": "1200 kg",
		"box_behind": "1 ft", "box_stop": "20 ft", "drive": {"tire_turns_per_mile": 510, "axle_ratio": 3.7, "sprocket_teeth": 9, "chain_pitch": "0' 1.75\"", "gears": [0.15]}}`
	c := hookedClass(t, "capped-100m", card)
	c.Rounds[0].Revisions[0].Setting.Trip = inFeet(t, "60 m")
	e, err := doc.NewEstimate(c, asked(domain.Setting{}))
	require.NoError(t, err)
	var job struct {
		Job  string
		Sled struct {
			Wheelbase float64 `json:"wheelbase_ft"`
			Start     float64 `json:"box_start_ft"`
			Drive     map[string]any
		}
		Track, Setup map[string]any
	}
	require.NoError(t, json.Unmarshal(e.Document, &job))
	assert.Equal(t, "curves", job.Job, "there is no other setting")
	assert.InDelta(t, 7/0.3048, job.Sled.Wheelbase, 1e-12)
	assert.InDelta(t, -1, job.Sled.Start, 1e-12)
	assert.InDelta(t, 1.75, job.Sled.Drive["chain_pitch_in"], 1e-12)
	assert.InDelta(t, 60/0.3048, job.Setup["trip_ft"], 1e-12)
	assert.InDelta(t, 328.0839895, job.Track["full_pull_ft"], 1e-6)
	assert.Len(t, e.Notes, 2, "no weight of the box, no push-down: %v", e.Notes)
	assert.Len(t, e.Curves(50), 1)
}

func TestWhatTheEstimateOfAClassLacks(t *testing.T) {
	t.Parallel()
	good := asked(setAt(t, "12500 lb", 2, 1, "180"))
	speed, err := domain.ParseSpeed("10 mph")
	require.NoError(t, err)
	fast, err := domain.ParseSpeed("101 mph")
	require.NoError(t, err)
	for what, c := range map[string]struct {
		change func(*domain.Class, *doc.EstimateQuestion)
		kind   domain.Kind
		field  string
		says   string
	}{
		"nothing":                 {func(*domain.Class, *doc.EstimateQuestion) {}, 0, "", ""},
		"a setting":               {func(c *domain.Class, _ *doc.EstimateQuestion) { c.Rounds[0].Revisions = nil }, domain.WrongState, "round", "there is no setting to start from"},
		"such a round":            {func(_ *domain.Class, q *doc.EstimateQuestion) { q.Round.Number = 2 }, domain.WrongState, "round", "there is no setting"},
		"the frame":               {func(c *domain.Class, _ *doc.EstimateQuestion) { c.Sled.Card.Frame = domain.Weight{} }, domain.WrongState, "sled", "the what-if needs the weight of the frame; write it in the sled's description"},
		"all but gears and holes": {func(c *domain.Class, _ *doc.EstimateQuestion) { c.Sled.Card = domain.SledCard{} }, domain.WrongState, "sled", "the wheelbase, the weight of the frame, where"},
		"a gear of this sled":     {func(_ *domain.Class, q *doc.EstimateQuestion) { q.Other.Gear = 3 }, domain.Invalid, "gear", "box gears 1 to 2"},
		"a hole of this sled":     {func(_ *domain.Class, q *doc.EstimateQuestion) { q.Other.StartHole = 0 }, domain.Invalid, "start_hole", "start holes 1 to 2"},
		"a hole behind the stop": {func(c *domain.Class, q *doc.EstimateQuestion) {
			c.Sled.Card.Holes[1], q.Other.StartHole = inFeet(t, "22"), 2
		}, domain.Invalid, "start_hole", "the box would start in front of its stop"},
		"a trip":                  {func(_ *domain.Class, q *doc.EstimateQuestion) { q.Other.Trip = domain.Distance{} }, domain.Invalid, "trip", "the trip point is missing"},
		"friction":                {func(_ *domain.Class, q *doc.EstimateQuestion) { q.Ground.MuUp = 0 }, domain.Invalid, "mu_up", "friction of the pan before the drop cannot be 0"},
		"friction after the drop": {func(_ *domain.Class, q *doc.EstimateQuestion) { q.Ground.MuDown = 2.1 }, domain.Invalid, "mu_down", "cannot be 2.1"},
		"rolling resistance":      {func(_ *domain.Class, q *doc.EstimateQuestion) { q.Ground.CRR = -1 }, domain.Invalid, "c_rr", "cannot be -1"},
		"digging":                 {func(_ *domain.Class, q *doc.EstimateQuestion) { q.Ground.Dig = 1e6 }, domain.Invalid, "dig_lb", "digging, in pounds"},
		"its ramp":                {func(_ *domain.Class, q *doc.EstimateQuestion) { q.Ground.DigRamp = 301 }, domain.Invalid, "dig_ramp_ft", "write a number"},
		"a track that is not mad": {func(_ *domain.Class, q *doc.EstimateQuestion) { q.Drift = 0.51 }, domain.Invalid, "drift", "write 0 to 50 percent"},
		"a full pull":             {func(_ *domain.Class, q *doc.EstimateQuestion) { q.Speeds = map[string]domain.Speed{"41": speed} }, domain.Invalid, "speeds", "number 41 made no full pull"},
		"a weight":                {func(_ *domain.Class, q *doc.EstimateQuestion) { q.Speeds = map[string]domain.Speed{"7": speed} }, domain.Invalid, "speeds", "the weight of 7 is not known; weigh it"},
		"a speed that can be": {func(c *domain.Class, q *doc.EstimateQuestion) {
			q.Speeds, c.Rules.Weight.Limit = map[string]domain.Speed{"7": fast}, weigh(t, "8200 lb")
		}, domain.Invalid, "speeds", "cannot have been that fast"},
		"friction that is a number": {func(_ *domain.Class, q *doc.EstimateQuestion) { q.Ground.MuUp = q.Ground.MuUp / 0 * 0 }, domain.Invalid, "mu_up", "cannot be NaN"},
	} {
		class := hookedClass(t, "capped-300ft", oakCard, [2]string{"41", "281.36"}, [2]string{"7", "FP"})
		q := good
		c.change(class, &q)
		_, err := doc.NewEstimate(class, q)
		assert.Equal(t, c.kind, domain.KindOf(err), "%s: %v", what, err)
		if refusal, ok := errors.AsType[*domain.Error](err); ok {
			assert.Equal(t, c.field, refusal.Field, what)
			assert.Contains(t, refusal.Error(), c.says, what)
			assert.NotEmpty(t, refusal.Fix, what)
		}
	}
}

// Only the gear: until top-out and a ramp in feet a vehicle stops where the box stands at the same place, d' = d a/a', with
// no friction, weight or length in it. At 150 ft in gear 1 that is 120 ft in gear 2.
func TestAnotherGearAlone(t *testing.T) {
	t.Parallel()
	c := hookedClass(t, "capped-300ft", oakCard, [2]string{"41", "150"}, [2]string{"7", "200"})
	e, err := doc.NewEstimate(c, asked(setAt(t, "12000 lb", 2, 1, "180")))
	require.NoError(t, err)
	rows := e.Job.Run().WhatIf.Rows
	assert.InDelta(t, 120, *rows[0].Predicted.Distance, 1e-9)
	assert.InDelta(t, 160, *rows[1].Predicted.Distance, 1e-9)
	curves := e.Curves(50)
	require.Len(t, curves, 2)
	assert.InDelta(t, 262.5, *curves[0].TopOut, 1e-9, "21 ft at 0.08 a foot")
	assert.InDelta(t, 210, *curves[1].TopOut, 1e-9)
	assert.InDelta(t, 12, curves[0].Points[3].Box, 1e-9)
	assert.Len(t, curves[0].Points, 7, "0 to 250 by 50, and the line")
}

// The table has every gear from every hole, with the trip where the box stands at the same place: at 18 ft.
func TestTheTableOfGearsAndHoles(t *testing.T) {
	t.Parallel()
	c := hookedClass(t, "capped-300ft", oakCard, [2]string{"41", "281.36"}, [2]string{"7", "FP"})
	e, err := doc.NewEstimate(c, asked(domain.Setting{}))
	require.NoError(t, err)
	rows := e.Table()
	require.Len(t, rows, 4)
	for i, want := range []struct {
		gear, hole int
		trip       string
		topOut     float64
	}{{1, 1, "225 ft", 262.5}, {1, 2, "210 ft", 247.5}, {2, 1, "180 ft", 210}, {2, 2, "168 ft", 198}} {
		r := rows[i]
		assert.Equal(t, []int{want.gear, want.hole}, []int{r.Setting.Gear, r.Setting.StartHole})
		assert.Equal(t, want.trip, r.Setting.Trip.String())
		assert.InDelta(t, want.topOut, *r.TopOut, 1e-9)
		assert.Equal(t, i == 0, r.Here)
		assert.Equal(t, i > 0, r.Harder, "%d: whatever tops out earlier is harder here", i)
	}
	assert.Equal(t, doc.SledCount{Nominal: 1, AtLeast: 0, AtMost: 2}, rows[0].FullPulls, "the setting itself: one full pull; with a drift either may be one")
	assert.Zero(t, rows[3].FullPulls.Nominal)
	assert.Equal(t, 1, rows[3].FullPulls.AtMost, "who went full cannot be counted either way")

	behind := hookedClass(t, "capped-300ft", oakCard, [2]string{"41", "281.36"})
	behind.Sled.Card.Holes[1] = inFeet(t, "21.5")
	late := behind.Rounds[0].Revisions
	late[0].Setting.Trip = inFeet(t, "280")
	e, err = doc.NewEstimate(behind, asked(domain.Setting{}))
	require.NoError(t, err)
	rows = e.Table()
	require.Len(t, rows, 2, "a hole behind the stop has no row")
	assert.Equal(t, "280 ft", rows[1].Setting.Trip.String(), "tripped after top-out, the box tells no place")
}

// Where the line ends nothing, a figure past it is a stop, and a bare full pull is the least that it was.
func TestWhereTheFinishIsFloating(t *testing.T) {
	t.Parallel()
	c := hookedClass(t, "floating-ft", oakCard, [2]string{"41", "311.92"}, [2]string{"7", "250"})
	e, err := doc.NewEstimate(c, asked(setAt(t, "9000 lb", 1, 1, "225")))
	require.NoError(t, err)
	row := e.Job.Run().WhatIf.Rows[0]
	assert.Equal(t, "exact", row.Bound)
	assert.Equal(t, "full", row.Predicted.Status)
	past := row.PastLine()
	assert.Equal(t, "stops", past.Predicted.Status)
	assert.Greater(t, *past.Predicted.Distance, 311.92, "a lighter box")
	assert.NotContains(t, past.Says(311.92), "full")
	assert.Equal(t, "full", row.Predicted.Status, "the row itself stays")
	assert.Contains(t, e.Notes[0], "the line at 300 ft ends nothing")
}

// Whoever stopped in two rounds under two trips tells how much more the dropped pan drags.
func TestTwoRoundsTellTheRatioOfFriction(t *testing.T) {
	t.Parallel()
	ground := doc.InventedGround()
	early := setAt(t, "12000 lb", 1, 1, "150")
	c := hookedClass(t, "floating-ft", oakCard, [2]string{"41", "281.36"}, [2]string{"7", "260"}, [2]string{"23", "FP 301"})
	e, err := doc.NewEstimate(c, asked(early))
	require.NoError(t, err)
	_, pairs, ok := e.Ratio()
	assert.False(t, ok, "one setting tells nothing")
	assert.Zero(t, pairs)

	second := domain.Round{Name: domain.RoundName{Number: 2}, Revisions: []domain.Revision{{Number: 1, Setting: early}}}
	for i, row := range e.Job.Run().WhatIf.Rows[:2] {
		d, err := domain.ParseDistance(json.Number(distanceText(*row.Predicted.Distance)).String(), domain.Foot)
		require.NoError(t, err)
		second.Hooks = append(second.Hooks, domain.Hook{Entry: c.Entries[i].ID, Revision: 1, Number: i + 1, Result: domain.Result{Outcome: domain.Measured, Distance: d}})
	}
	c.Rounds = append(c.Rounds, second)
	wrong := asked(early)
	wrong.Ground.MuDown = 0.6
	e, err = doc.NewEstimate(c, wrong)
	require.NoError(t, err)
	ratio, pairs, ok := e.Ratio()
	require.True(t, ok)
	assert.Equal(t, 2, pairs)
	assert.InDelta(t, ground.MuDown/ground.MuUp, ratio, 1e-3, "what it was, to the thousandth of a foot that is written")
}

// Whoever hooked twice against one setting tells how far the track was off: by hand, the mean drags before the drop are in
// proportion to F0 + k d/2.
func TestRepeatsTellTheDrift(t *testing.T) {
	t.Parallel()
	c := hookedClass(t, "floating-ft", oakCard, [2]string{"41", "200"}, [2]string{"7", "150"})
	c.Rounds = append(c.Rounds, domain.Round{Name: domain.RoundName{Number: 2}, Revisions: c.Rounds[0].Revisions})
	hookIn(t, &c.Rounds[1], [2]string{"41", "180"})
	e, err := doc.NewEstimate(c, asked(domain.Setting{}))
	require.NoError(t, err)
	_, pairs, ok := e.Repeats()
	assert.False(t, ok, "one shows no spread")
	assert.Equal(t, 1, pairs)
	c.Rounds[1].Hooks = nil
	hookIn(t, &c.Rounds[1], [2]string{"41", "180"}, [2]string{"7", "150"})
	e, err = doc.NewEstimate(c, asked(domain.Setting{}))
	require.NoError(t, err)
	drift, pairs, ok := e.Repeats()
	require.True(t, ok)
	assert.Equal(t, 2, pairs)
	// F0 = mu Wp + c V + (mu-c) Wf xf/L and k = (mu-c) Wb a/L, with 13,700 lb in the box and 28,700 lb on the wheels and frame.
	start, slope := 0.33*2500+0.06*28_700+0.27*15_000*7/22, 0.27*13_700*0.08/22
	mean := func(d float64) float64 { return start + slope*d/2 }
	assert.InDelta(t, math.Log(mean(200)/mean(180))/math.Sqrt2, drift, 1e-9, "the other did not differ")
	_, _, ok = e.Ratio()
	assert.False(t, ok)
}

// distanceText writes a distance as people do.
func distanceText(ft float64) string {
	text, _ := json.Marshal(float64(int(ft*1000+0.5)) / 1000)
	return string(text)
}

// The setting that was pulled against gives everybody back where they stopped, whatever the sled and the ground.
func TestTheSameSettingGivesTheStopsBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		stop := rapid.IntRange(1000, 299_000).Draw(t, "stop")
		c := hookedClass(t, "capped-300ft", oakCard, [2]string{"41", distanceText(float64(stop) / 1000)})
		now := c.Rounds[0].Revisions[0].Setting
		q := asked(now)
		q.Ground.MuUp = rapid.Float64Range(0.2, 0.4).Draw(t, "mu up")
		q.Ground.MuDown = q.Ground.MuUp + rapid.Float64Range(0, 0.3).Draw(t, "more after the drop")
		e, err := doc.NewEstimate(c, q)
		require.NoError(t, err)
		row := e.Job.Run().WhatIf.Rows[0]
		require.Equal(t, "stops", row.Predicted.Status)
		require.InDelta(t, float64(stop)/1000, *row.Predicted.Distance, 1e-6)
		require.LessOrEqual(t, *row.Low.Distance, *row.Predicted.Distance)
		for _, r := range e.Table() {
			require.LessOrEqual(t, r.FullPulls.AtLeast, r.FullPulls.Nominal)
			require.LessOrEqual(t, r.FullPulls.Nominal, r.FullPulls.AtMost)
		}
	})
}
