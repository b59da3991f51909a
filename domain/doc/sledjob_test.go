package doc_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
	"clayline/domain/sled"
)

// The parts of a job of an invented sled: 0.1 ft of box a foot of travel, 240 ft to the stop.
const (
	jobSled   = `"sled":{"wheelbase_ft":25,"frame_weight_lb":17000,"frame_cg_ft":7.5,"pan_weight_lb":3000,"box_empty_lb":2000,"box_top_ft":24,"holes_ft":[0,1,24],"advance":{"1":0.1,"2":0.12}}`
	jobDriven = `"sled":{"wheelbase_ft":25,"frame_weight_lb":17000,"frame_cg_ft":7.5,"pan_weight_lb":3000,"box_top_ft":24,"drive":{"tire_circumference_ft":10,"axle_ratio":4,"sprocket_teeth":10,"chain_pitch_in":1.2,"gears":{"1":0.25}}}`
	jobGround = `"ground":{"mu_up":0.3,"mu_down":0.4,"c_rr":0.05,"dig_lb":1200,"dig_ramp_ft":15}`
	jobSetup  = `"setup":{"slabs_lb":14000,"trip_box_ft":20}`
	jobOne    = `"results":[{"id":"7","distance_ft":240}]`
	jobTo     = `"setup_to":{"slabs_lb":14000,"gear":"2","trip_box_ft":20}`
)

// job joins parts to a job.
func job(kind string, parts ...string) string {
	return `{"job":"` + kind + `",` + strings.Join(parts, ",") + `}`
}

// whatIf is a what-if of these results, whose objects are given.
func whatIf(results ...string) string {
	return job("whatif", jobSled, jobGround, jobSetup, jobTo, `"results":[`+strings.Join(results, ",")+`]`)
}

// part returns a member of a result by its path.
func part(t testing.TB, result any, path ...any) any {
	t.Helper()
	for i := range path {
		if n, ok := path[i].(int); ok {
			path[i] = float64(n)
		}
	}
	return at(t, result, path)
}

// Each sentence names its field. What is replaced stands once in the job.
func TestAJobThatIsWrongIsRefusedWithItsField(t *testing.T) {
	t.Parallel()
	curves := job("curves", jobSled, jobGround, jobSetup)
	driven := job("curves", jobDriven, jobGround, jobSetup)
	one := whatIf(`{"id":"7","distance_ft":240}`)
	compare := job("compare", jobSled, jobGround, `"strength_lb":7000,"setups":[{"label":"a","slabs_lb":1}]`)
	calibrate := job("calibrate", jobSled, jobGround, jobSetup, `"measured":[{"d_ft":10,"drag_lb":4000},{"d_ft":90,"drag_lb":5000}]`)
	for _, row := range []struct{ job, old, with, field, says string }{
		{curves, `"curves"`, `"curve"`, "job", "job cannot be \"curve\"; write calibrate, compare, curves, topout, whatif"},
		{curves, `"job":"curves",`, ``, "job", "job is missing"},
		{curves, `"curves"`, `5`, "job", "job is not a text"},
		{curves, `"mu_up":0.3,`, ``, "ground.mu_up", "ground.mu_up is missing; write a number from 0 up"},
		{curves, `"mu_up":0.3`, `"mu_up":-0.3`, "ground.mu_up", "ground.mu_up cannot be -0.3; write a number from 0 up"},
		{curves, `"mu_up":0.3`, `"mu_up":"0.3"`, "ground.mu_up", "ground.mu_up is not a number; write a number from 0 up, without quotes"},
		{curves, `"mu_up":0.3`, `"mu_up":null`, "ground.mu_up", "ground.mu_up is missing"},
		{curves, `"mu_up":0.3`, `"mu_up":NaN`, "ground.mu_up", "ground.mu_up is not JSON"},
		{curves, `"mu_up":0.3`, `"mu_up":1e999`, "ground.mu_up", "ground.mu_up cannot be 1e999"},
		{curves, `"mu_up":0.3`, `"mu_up":1e10`, "ground.mu_up", "ground.mu_up cannot be 1e10"},
		{curves, `"mu_up":0.3`, `"mu_up":0.3,"mu_up":0.3`, "ground.mu_up", "ground.mu_up stands twice; keep one of them"},
		{curves, `"mu_up":0.3`, `"mu_up":0.3,"mu":0.3`, "ground.mu", "ground.mu is not known here; write one of mu_up, mu_down"},
		{curves, `"mu_up":0.3`, `"Mu_up":0.3`, "ground.Mu_up", "is not known here"},
		{curves, jobGround, `"ground":5`, "ground", "ground is not an object"},
		{curves, jobGround, `"grond":{}`, "grond", "grond is not known here"},
		{curves, jobGround + ",", ``, "ground", "ground is missing"},
		{curves, jobSled + ",", ``, "sled", "sled is missing"},
		{curves, jobSetup, `"at_ft":[0]`, "setup", "setup is missing"},
		{curves, `"wheelbase_ft":25`, `"wheelbase_ft":0`, "sled.wheelbase_ft", "sled.wheelbase_ft cannot be 0; write a number above 0"},
		{curves, `"frame_weight_lb":17000`, `"frame_weight_lb":-1`, "sled.frame_weight_lb", "cannot be -1"},
		{curves, `"box_top_ft":24`, `"box_start_ft":25,"box_top_ft":24`, "sled.box_start_ft", "lies past box_top_ft"},
		{curves, `"holes_ft":[0,1,24]`, `"holes_ft":[0,-1]`, "sled.holes_ft[1]", "cannot be -1"},
		{curves, `"holes_ft":[0,1,24]`, `"holes_ft":[]`, "setup.hole", "setup.hole 0 is no hole of the sled"},
		{curves, `"holes_ft":[0,1,24]`, `"holes_ft":0`, "sled.holes_ft", "is not a list"},
		{curves, `"holes_ft":[0,1,24]`, `"holes_ft":[` + strings.Repeat("0,", 100) + `0]`, "sled.holes_ft", "has 101 values; write 100 at most"},
		{curves, `,"advance":{"1":0.1,"2":0.12}`, ``, "sled.drive", "sled.drive is missing"},
		{curves, `"advance":{"1":0.1,"2":0.12}`, `"advance":{}`, "sled.advance", "has no gear"},
		{curves, `"advance":{"1":0.1,"2":0.12}`, `"advance":{"1":0}`, "sled.advance.1", "cannot be 0"},
		{curves, `"advance":{"1":0.1,"2":0.12}`, `"advance":{"":0.1}`, "sled.advance", "a gear without a name"},
		{curves, `"box_top_ft":24`, `"box_top_ft":24,"drive":{}`, "sled.advance", "cannot stand beside drive"},
		{curves, `"box_top_ft":24`, `"box_top_ft":24,"pushdown":{"delay_ft":0,"ramp_ft":20}`, "sled.pushdown.share", "is missing"},
		{curves, `"box_top_ft":24`, `"box_top_ft":24,"pushdown":{"delay_ft":0,"ramp_ft":20,"share":1.5}`, "sled.pushdown.share", "write a number from 0 to 1"},
		{driven, `"axle_ratio":4,`, ``, "sled.drive.axle_ratio", "is missing"},
		{driven, `"tire_circumference_ft":10,`, ``, "sled.drive.tire_circumference_ft", "is missing"},
		{driven, `"axle_ratio":4`, `"axle_ratio":4,"tire_revs_per_mile":500`, "sled.drive.tire_revs_per_mile", "cannot stand beside tire_circumference_ft"},
		{driven, `"axle_ratio":4`, `"axle_ratio":4,"wheel_slip":1`, "sled.drive.wheel_slip", "cannot be 1"},
		{driven, `"sprocket_teeth":10,`, ``, "sled.drive.sprocket_teeth", "is missing"},
		{driven, `"sprocket_teeth":10`, `"sprocket_teeth":10.5`, "sled.drive.sprocket_teeth", "write a whole number"},
		{driven, `"gears":{"1":0.25}`, `"gears":[0.25]`, "sled.drive.gears", "is not an object"},
		{driven, `,"gears":{"1":0.25}`, ``, "sled.drive.gears", "is missing"},
		{curves, `"slabs_lb":14000`, `"slabs_lb":14000,"gear":"9"`, "setup.gear", `setup.gear "9" is no gear of the sled; write 1 or 2`},
		{curves, `"slabs_lb":14000`, `"slabs_lb":14000,"gear":1`, "setup.gear", "setup.gear is not a text; write it in quotes"},
		{curves, `"slabs_lb":14000`, `"slabs_lb":14000,"hole":3`, "setup.hole", "setup.hole 3 is no hole of the sled"},
		{curves, `"slabs_lb":14000`, `"slabs_lb":14000,"hole":-1`, "setup.hole", "cannot be -1"},
		{curves, `"slabs_lb":14000`, `"slabs_lb":14000,"hole":0.5`, "setup.hole", "write a whole number"},
		{curves, `[0,1,24]`, `[24.1]`, "setup.hole", "setup.hole 0 would start the box past box_top_ft"},
		{curves, `"slabs_lb":14000`, `"trip_ft":3`, "setup.slabs_lb", "is missing"},
		{curves, `"slabs_lb":14000`, `"slabs_lb":14000,"trip_ft":3`, "setup.trip_ft", "cannot stand beside trip_box_ft"},
		{curves, `"slabs_lb":14000`, `"slabs_lb":14000,"label":"a"`, "setup.label", "is not known here"},
		{curves, jobSetup, jobSetup + `,"track":{"full_pull_ft":0}`, "track.full_pull_ft", "cannot be 0"},
		{curves, jobSetup, jobSetup + `,"results":[]`, "results", "results is not known here; write one of job, sled, ground, setup, track, sample_every_ft"},
		{curves, jobSetup, jobSetup + `,"at_ft":[0],"sample_every_ft":1`, "at_ft", "cannot stand beside sample_every_ft"},
		{curves, jobSetup, jobSetup + `,"sample_every_ft":0.001`, "sample_every_ft", "asks for more than 10000 points"},
		{curves, jobSetup, jobSetup + `,"at_ft":[-1]`, "at_ft[0]", "cannot be -1"},
		{curves, jobSetup, jobSetup + `,"vehicle_lb":9000`, "distance_ft", "is missing"},
		{curves, jobSetup, jobSetup + `,"distance_ft":90`, "vehicle_lb", "is missing"},
		{one, jobTo + ",", ``, "setup_to", "is missing"},
		{one, `"results":[`, `"sled_to":{},"results":[`, "sled_to.wheelbase_ft", "is missing"},
		{one, `"results":[`, `"ground_to":{},"results":[`, "ground_to.mu_up", "is missing"},
		{one, `"results":[`, `"track_to":{"line":1},"results":[`, "track_to.line", "is not known here"},
		{one, `"results":[`, `"drift":1,"results":[`, "drift", "cannot be 1"},
		{one, `,"results":[{"id":"7","distance_ft":240}]`, ``, "results", "is missing"},
		{one, `"id":"7",`, ``, "results[0].id", "is missing"},
		{one, `"id":"7"`, `"id":"` + strings.Repeat("7", 101) + `"`, "results[0].id", "is too long"},
		{one, `,"distance_ft":240`, ``, "results[0].distance_ft", "is missing"},
		{one, `"distance_ft":240`, `"distance_ft":240,"full":true`, "results[0].full", "cannot be true at 240 ft of 300"},
		{one, `"distance_ft":240`, `"distance_ft":240,"full":"yes"`, "results[0].full", "is neither true nor false"},
		{one, `"distance_ft":240`, `"distance_ft":240,"ended":"tired"`, "results[0].ended", "write broke, lifted or stopped"},
		{one, `"distance_ft":240`, `"distance_ft":0,"ended":"broke"`, "results[0].distance_ft", "says nothing of the pull"},
		{one, `"distance_ft":240`, `"distance_ft":240,"line_speed_mph":9,"vehicle_lb":1`, "results[0].line_speed_mph", "counts at the line only"},
		{one, `"distance_ft":240`, `"full":true,"line_speed_mph":9`, "results[0].vehicle_lb", "is missing"},
		{one, `"distance_ft":240`, `"full":true,"line_speed_mph":9,"vehicle_lb":1,"ended":"lifted"`, "results[0].line_speed_mph", "counts under power only"},
		{one, `{"id":"7","distance_ft":240}`, `7`, "results[0]", "is not an object"},
		{compare, `"strength_lb":7000,`, ``, "strength_lb", "write it, or setup and result"},
		{compare, `"strength_lb":7000`, `"strength_lb":7000,"result":{"distance_ft":1}`, "strength_lb", "cannot stand beside result"},
		{compare, `"strength_lb":7000`, `"result":{"distance_ft":1}`, "setup", "is missing"},
		{compare, `"strength_lb":7000`, `"strength_lb":7000,"setup":{}`, "setup.slabs_lb", "is missing"},
		{compare, `[{"label":"a","slabs_lb":1}]`, `[]`, "setups", "is missing"},
		{compare, `"slabs_lb":1`, `"slabs_lb":1,"gear":"3"`, "setups[0].gear", "is no gear"},
		{calibrate, `,{"d_ft":90,"drag_lb":5000}`, ``, "measured", "two unknowns need two samples"},
		{calibrate, `"d_ft":90`, `"d_ft":210`, "measured", "friction differs before and after the drop"},
		{calibrate, `"d_ft":90`, `"d_ft":10`, "measured", "the loads are the same"},
		{calibrate, `"d_ft":90,`, ``, "measured[1].d_ft", "is missing"},
		{calibrate, `"d_ft":90`, `"d":90`, "measured[1].d", "is not known here"},
		{job("topout", jobSled), `[0,1,24]`, `[0,25]`, "sled.holes_ft[1]", "lies past box_top_ft"},
		{job("topout", jobSled, jobGround), `"mu_up":0.3`, `"mu_up":-1`, "ground.mu_up", "cannot be -1"},
		{job("topout", jobSled, jobSetup), `"slabs_lb":14000`, `"slabs_lb":-1`, "setup.slabs_lb", "cannot be -1"},
		{curves, curves, `[]`, "", "the job is not an object"},
		{curves, curves, ``, "", "the job is empty; write it as docs/sled.md has it"},
		{curves, curves, curves + `{}`, "", "something stands behind the job"},
		{curves, curves, curves[:len(curves)-1], "", "the document ends too early"},
		{curves, curves, `{"job":"curves","sled":` + strings.Repeat("[", 50) + strings.Repeat("]", 50) + `}`, "sled[0][0][0][0][0][0][0][0][0][0]", "is nested too deep"},
		{curves, curves, `{"job":"` + strings.Repeat("x", doc.MaxSledJob) + `"}`, "", "the job is larger than 1 MiB"},
	} {
		require.Equal(t, 1, strings.Count(row.job, row.old), row.old)
		_, err := doc.ReadSledJob(strings.NewReader(strings.Replace(row.job, row.old, row.with, 1)))
		refusal, ok := errors.AsType[*domain.Error](err)
		if !assert.True(t, ok, "%s -> %s was not refused: %v", row.old, row.with, err) {
			continue
		}
		assert.Equal(t, domain.Invalid, refusal.Kind)
		assert.Equal(t, row.field, refusal.Field, row.says)
		assert.Contains(t, err.Error(), row.says)
		assert.Contains(t, err.Error(), row.field, "the sentence names the field")
		assert.NotContains(t, err.Error(), "\n")
	}
}

func TestWhatMayBeLeftOutHasItsDefault(t *testing.T) {
	t.Parallel()
	short := `{"job":"curves","sled":{"wheelbase_ft":22,"frame_weight_lb":15000,"frame_cg_ft":7,"pan_weight_lb":2500,"box_top_ft":21,"advance":{"1":0.08}},"ground":{"mu_up":0.3},"setup":{"slabs_lb":12000}}`
	long := `{"job":"curves","sled":{"wheelbase_ft":22,"frame_weight_lb":15000,"frame_cg_ft":7,"pan_weight_lb":2500,"box_empty_lb":0,"box_start_ft":0,"box_top_ft":21,"holes_ft":[0],"advance":{"1":0.08},"pushdown":null},` +
		`"ground":{"mu_up":0.3,"mu_down":0.3,"c_rr":0,"dig_lb":0,"dig_ramp_ft":0},"setup":{"slabs_lb":12000,"gear":"1","hole":0,"trip_ft":null},"track":{"full_pull_ft":300},"sample_every_ft":25}`
	assert.Equal(t, sledRun(t, long), sledRun(t, short))
	assert.Len(t, part(t, sledRun(t, short), "points"), 13)
	assert.Nil(t, part(t, sledRun(t, short), "trip_ft"))
	assert.Nil(t, part(t, sledRun(t, short), "push_down_starts_ft"))

	driven := job("curves", jobDriven, jobGround, jobSetup)
	full := strings.Replace(driven, `"axle_ratio":4`, `"axle_ratio":4,"wheel_slip":0,"transfer_ratio":1,"chain_to_box":1`, 1)
	assert.Equal(t, sledRun(t, full), sledRun(t, driven))
	assert.InDelta(t, 0.1, part(t, sledRun(t, driven), "advance_ft_per_ft"), 1e-15, "4 x 0.25 turns of 10 x 0.1 ft over 10 ft")
	measured := strings.Replace(driven, `"drive":{"tire_circumference_ft":10,"axle_ratio":4,"sprocket_teeth":10,"chain_pitch_in":1.2,"gears":{"1":0.25}}`, `"advance":{"1":0.1}`, 1)
	assert.InDelta(t, part(t, sledRun(t, driven), "full", "work_ftlb"), part(t, sledRun(t, measured), "full", "work_ftlb"), 1e-6, "measured in place of the driveline")
	byNumber := strings.Replace(driven, `"chain_pitch_in":1.2`, `"chain":120`, 1)
	byPitch := strings.Replace(driven, `"chain_pitch_in":1.2`, `"chain_pitch_in":1.5`, 1)
	assert.Equal(t, sledRun(t, byPitch), sledRun(t, byNumber), "#120 has 1.5 in")
}

func TestTheForemostHoleMayBeTheStop(t *testing.T) {
	t.Parallel()
	foremost := sledRun(t, job("curves", jobSled, jobGround, `"setup":{"slabs_lb":14000,"hole":2,"trip_box_ft":20}`))
	assert.Zero(t, part(t, foremost, "top_out_ft"))
	assert.Zero(t, part(t, foremost, "trip_ft"))
	assert.InDelta(t, 24, part(t, foremost, "points", 0, "box_ft"), 1e-12)
	tenths := strings.NewReplacer(`"box_top_ft":24`, `"box_start_ft":0.1,"box_top_ft":0.3`, `[0,1,24]`, `[0.2]`).Replace(jobSled)
	assert.Zero(t, part(t, sledRun(t, job("curves", tenths, jobGround, jobSetup)), "top_out_ft"), "0.1 + 0.2 is 0.3 here")
}

func TestWithoutFrictionNothingIsPredicted(t *testing.T) {
	t.Parallel()
	const still = `"ground":{"mu_up":0}`
	curve := sledRun(t, job("curves", jobSled, still, jobSetup))
	assert.Equal(t, true, part(t, curve, "flat"))
	assert.Nil(t, part(t, curve, "full", "elasticity"))
	assert.Zero(t, part(t, curve, "full", "work_ftlb"))
	result := sledRun(t, job("whatif", jobSled, still, jobSetup, jobTo, jobOne))
	none := map[string]any{"status": "indeterminate", "distance_ft": nil, "uncapped_ft": nil}
	for _, which := range []string{"predicted", "low", "high"} {
		assert.Equal(t, none, part(t, result, "rows", 0, which))
	}
	assert.Nil(t, part(t, result, "rows", 0, "margin_to_full"))
	assert.Equal(t, map[string]any{"status": "indeterminate", "distance_ft": nil}, part(t, result, "rows", 0, "predicted_by_end_drag"))
	compare := sledRun(t, job("compare", jobSled, still, jobSetup, `"result":{"distance_ft":200},"setups":[{"slabs_lb":1000}]`))
	assert.Equal(t, "indeterminate", part(t, compare, "rows", 0, "status"))
}

func TestWhoCameToTheLineMadeAFullPull(t *testing.T) {
	t.Parallel()
	rows := sledRun(t, whatIf(`{"id":"a","distance_ft":300}`, `{"id":"b","full":true}`, `{"id":"c","distance_ft":312.4,"full":true}`,
		`{"id":"d","distance_ft":312.4,"full":false}`, `{"id":"e","distance_ft":299.99}`, `{"id":"f","distance_ft":310,"ended":"lifted"}`))
	for i, bound := range []string{"lower", "lower", "lower", "exact", "exact", "lower"} {
		assert.Equal(t, bound, part(t, rows, "rows", i, "bound"), i)
	}
	for _, i := range []int{1, 2, 5} {
		assert.Equal(t, part(t, rows, "rows", 0, "pull_strength_lb"), part(t, rows, "rows", i, "pull_strength_lb"), "the line counts")
	}
	assert.Greater(t, part(t, rows, "rows", 3, "pull_strength_lb"), part(t, rows, "rows", 0, "pull_strength_lb"), "without a cap the distance counts")
}

func TestWhatIsNotGivenForTheOtherSettingStays(t *testing.T) {
	t.Parallel()
	same := job("whatif", jobSled, jobGround, jobSetup, strings.Replace(jobSetup, "setup", "setup_to", 1), jobOne)
	assert.InDelta(t, 240, part(t, sledRun(t, same), "rows", 0, "predicted", "distance_ft"), 1e-9)
	for what, to := range map[string]string{
		"another sled":   strings.Replace(strings.Replace(jobSled, "sled", "sled_to", 1), `17000`, `19000`, 1),
		"another ground": `"ground_to":{"mu_up":0.35,"mu_down":0.4,"c_rr":0.05,"dig_lb":1200,"dig_ramp_ft":15}`,
	} {
		result := sledRun(t, strings.Replace(same, jobOne, to+","+jobOne, 1))
		assert.Less(t, part(t, result, "rows", 0, "predicted", "distance_ft"), 240., what)
	}
	shorter := sledRun(t, strings.Replace(same, jobOne, `"track_to":{"full_pull_ft":200},`+jobOne, 1))
	assert.Equal(t, "full", part(t, shorter, "rows", 0, "predicted", "status"))
	assert.InDelta(t, 200, part(t, shorter, "rows", 0, "predicted", "distance_ft"), 1e-12)
	assert.InDelta(t, 240, part(t, shorter, "rows", 0, "predicted", "uncapped_ft"), 1e-9)
	assert.Equal(t, map[string]any{"nominal": 1., "at_least": 1., "at_most": 1.}, part(t, shorter, "full_pulls"))
}

func TestAMetricLineIsALine(t *testing.T) {
	t.Parallel()
	metric := sledRun(t, job("curves", jobSled, jobGround, jobSetup, `"track":{"full_pull_ft":328.0839895013123}`))
	assert.Len(t, part(t, metric, "points"), 14, "0 to 325 ft")
	assert.InDelta(t, 328.0839895013123, part(t, metric, "full", "d_ft"), 1e-12)
	assert.InDelta(t, part(t, metric, "full", "work_ftlb").(float64)*1.3558179483314004/1000, part(t, metric, "full", "work_kJ"), 1e-9)
}

func TestANeverEndingRunHasNoUncappedStop(t *testing.T) {
	t.Parallel()
	result := sledRun(t, job("compare", jobSled, jobGround, `"strength_lb":50000,"setups":[{"label":"light","slabs_lb":1000,"gear":"2"}]`))
	row := part(t, result, "rows", 0).(map[string]any)
	assert.Equal(t, "full", row["status"])
	assert.InDelta(t, 300, row["distance_ft"], 1e-12)
	assert.Nil(t, row["uncapped_ft"])
	assert.Equal(t, "light", row["label"])
}

func TestWarningsAreAboutLoadsAlone(t *testing.T) {
	t.Parallel()
	long := strings.NewReplacer(`"box_top_ft":24`, `"box_start_ft":-20,"box_top_ft":40`).Replace(jobSled)
	lifts := sledRun(t, job("curves", long, jobGround, `"setup":{"slabs_lb":30000}`))
	assert.Equal(t, []any{"the axle lifts before any push-down; its load is held at 0", "the front support would lift from the pan; its load is held at 0"},
		part(t, lifts, "warnings"))
	both := sledRun(t, job("whatif", long, jobGround, `"setup":{"slabs_lb":30000},"setup_to":{"slabs_lb":31000}`, jobOne))
	assert.Len(t, part(t, both, "warnings"), 2, "none twice")
	compare := sledRun(t, job("compare", long, jobGround, `"strength_lb":9000,"setups":[{"slabs_lb":30000}]`))
	assert.Len(t, part(t, compare, "warnings"), 2)
	assert.Equal(t, []any{}, part(t, sledRun(t, job("curves", jobSled, jobGround, jobSetup)), "warnings"))
}

func TestAdviceSaysWhatToThinkOf(t *testing.T) {
	t.Parallel()
	advice := func(job string) string {
		result := sledRun(t, job).(map[string]any)
		text := strings.TrimSuffix(fmt.Sprintln(result["advice"]), "\n")
		return text
	}
	assert.Equal(t, "<nil>", advice(job("curves", jobSled, jobGround, jobSetup)), "left out")
	odd := advice(job("curves", jobSled, `"ground":{"mu_up":0.4,"mu_down":0.1,"c_rr":0.5}`, jobSetup))
	assert.Contains(t, odd, "mu_down 0.1 is less than mu_up 0.4")
	assert.Contains(t, odd, "c_rr 0.5 is more than mu_up 0.4")
	assert.Contains(t, odd, "mean drag falls somewhere")
	assert.Contains(t, advice(job("curves", jobSled, `"ground":{"mu_up":0.3}`, jobSetup, `"track":{"full_pull_ft":100}`)), "elasticity at the line is")

	results := advice(whatIf(`{"id":"7","distance_ft":60}`, `{"id":"8","full":true}`, `{"id":"9","full":true}`))
	assert.Contains(t, results, "elasticity above 2 for 7: short pulls")
	assert.Contains(t, results, "2 of 3 made a full pull")
	assert.Contains(t, results, "those who went full cannot be counted either way")
	assert.NotContains(t, advice(whatIf(`{"id":"8","full":true}`, `{"id":"9","distance_ft":250}`)), "made a full pull", "half is not more than half")
	easier := job("whatif", jobSled, jobGround, jobSetup, `"setup_to":{"slabs_lb":1000}`, `"results":[{"id":"8","full":true}]`)
	assert.NotContains(t, advice(easier), "either way")
	assert.Contains(t, advice(job("compare", jobSled, `"ground":{"mu_up":0.4,"mu_down":0.1}`, `"strength_lb":1,"setups":[{"label":"A","slabs_lb":1}]`)), "A: mu_down")
}

// The jobs of docs/sled.md are done as they stand, and the block behind a job is its result.
func TestTheManualsJobsGiveItsResults(t *testing.T) {
	t.Parallel()
	page := manual(t, "sled.md")
	var result any
	for _, block := range fenced(page, "json") {
		var value map[string]any
		require.NoError(t, json.Unmarshal([]byte(block), &value))
		if _, ok := value["job"]; ok {
			result = sledRun(t, block)
			continue
		}
		if _, ok := value["start_holes"]; ok {
			continue // the description of a sled
		}
		require.NotNil(t, result)
		compare := comparison{t: t}
		compare.same("docs/sled.md", value, result)
		assert.Equal(t, value["advice"], result.(map[string]any)["advice"])
		result = nil
	}
	assert.Len(t, fenced(page, "json"), 3)
	for _, caution := range doc.SledCautions() {
		assert.True(t, strings.Contains(page, "- "+caution+"\n"), caution)
	}
	for _, file := range []string{"sledresult.go", "sledinput.go", "sledjob.go"} {
		source, err := os.ReadFile(file)
		require.NoError(t, err)
		names := regexp.MustCompile(`"([a-z]+(?:_[a-z]+)*)(?:,omitempty)?["]`).FindAllStringSubmatch(string(source), -1)
		for _, name := range names {
			if strings.Contains(name[1], "_") {
				assert.True(t, strings.Contains(page, name[1]), "%s of %s is not explained", name[1], file)
			}
		}
	}
	chains := regexp.MustCompile(`#(\d+)`).FindAllStringSubmatch(regexp.MustCompile(`(?m)^\| chain .*$`).FindString(page), -1)
	pitches := regexp.MustCompile(`\d[\d.]*`).FindAllString(regexp.MustCompile(`(?m)^\| pitch, in .*$`).FindString(page), -1)
	require.Len(t, chains, 11)
	for i, chain := range chains {
		var number int
		var pitch float64
		_, _ = fmt.Sscan(chain[1], &number)
		_, _ = fmt.Sscan(pitches[i], &pitch)
		known, ok := sled.ChainPitch(number)
		require.True(t, ok, chain[1])
		assert.InDelta(t, pitch, known/sled.Inch, 1e-12, chain[1])
	}
}

// FuzzReadSledJob holds that nothing breaks the reader, that a refusal is a sentence, and that whatever is read has a
// result that can be written: no figure is infinite or none.
func FuzzReadSledJob(f *testing.F) {
	for _, c := range readCases(f).Cases {
		for _, job := range c.Inputs {
			f.Add([]byte(job))
		}
	}
	f.Add([]byte(whatIf(`{"id":"7","full":true,"line_speed_mph":9,"vehicle_lb":9000}`, `{"id":"8","distance_ft":0}`)))
	f.Fuzz(func(t *testing.T, document []byte) {
		job, err := doc.ReadSledJob(bytes.NewReader(document))
		if err != nil {
			require.Equal(t, domain.Invalid, domain.KindOf(err))
			require.NotEmpty(t, err.Error())
			return
		}
		require.NoError(t, job.Run().WriteJSON(&bytes.Buffer{}))
	})
}

// BenchmarkSledJob reads, does and writes a what-if of 100 results.
func BenchmarkSledJob(b *testing.B) {
	var results []string
	for i := range 100 {
		results = append(results, fmt.Sprintf(`{"id":"%d","distance_ft":%v}`, i, math.Floor(150+1.4*float64(i))))
	}
	document := []byte(whatIf(results...))
	b.ReportAllocs()
	for b.Loop() {
		job, err := doc.ReadSledJob(bytes.NewReader(document))
		if err != nil {
			b.Fatal(err)
		}
		if err := job.Run().WriteJSON(&bytes.Buffer{}); err != nil {
			b.Fatal(err)
		}
	}
}
