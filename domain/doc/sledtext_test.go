package doc_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain/doc"
)

// sledText is the text of a job, without the cautions that must stand under it.
func sledText(t *testing.T, job string) string {
	t.Helper()
	read, err := doc.ReadSledJob(strings.NewReader(job))
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, read.WriteText(&out))
	text, ok := strings.CutSuffix(out.String(), strings.Join(doc.SledCautions(), "\n")+"\n")
	require.True(t, ok, "the cautions stand last: %s", out.String())
	return text
}

// flush writes lines as a table has them, one space for many.
func flush(text string) string {
	lines := strings.Split(text, "\n")
	for i := range lines {
		lines[i] = strings.Join(strings.Fields(lines[i]), " ")
	}
	return strings.Join(lines, "\n")
}

// By hand: 5,425 x 200 to the drop, (9,115 + 10,011)/2 x 40 and 1,200 x 32.5 of digging to the stop, 11,211 x 60 behind it.
func TestCurvesAreATable(t *testing.T) {
	t.Parallel()
	text := flush(sledText(t, job("curves", jobSled, jobGround, jobSetup, `"at_ft":[0,100,300]`)))
	assert.Equal(t, "ft box ft pan lb axle lb drag lb mean lb\n0 0.0 8100 27900 3825 3825\n100 10.0 14500 21500 5425 4625\n300 24.0 23460 12540 11211 7264\n\n"+
		"trip 200 ft, top-out 240 ft\n", text)
}

func TestTopOutsAreATableOfGearsAndHoles(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "gear box ft a foot hole 0 hole 1 hole 2\n1 0.10000 240 230 0\n2 0.12000 200 192 0\n\n", flush(sledText(t, job("topout", jobSled))))
}

func TestAWhatIfSaysEachRangeInWholeFeet(t *testing.T) {
	t.Parallel()
	parts := []string{jobSled, jobGround, jobSetup, jobTo, `"drift":0.05`}
	results := `"results":[{"id":"a","full":true},{"id":"b","distance_ft":280},{"id":"c","distance_ft":0},{"id":"d","distance_ft":250,"ended":"broke"}]`
	lines := strings.Split(flush(sledText(t, job("whatif", append(parts, results)...))), "\n")
	assert.Equal(t, "id strength lb ft → under setup_to", lines[0])
	for i, says := range []string{`^a at least \d{4} 300 → \d{3} or more$`, `^b about \d{4} 280 → \d{3} to \d{3}$`, `^c at most 3825 0 → \d+ or less$`, `^d at least \d{4} 250 → \d{3} or more$`} {
		assert.Regexp(t, says, lines[i+1])
	}
	assert.Equal(t, "full pulls under setup_to: 0, at least 0, at most 2", lines[6])

	easier := strings.Replace(job("whatif", append(parts, `"results":[{"id":"a","full":true},{"id":"b","distance_ft":280},{"id":"c","distance_ft":260}]`)...),
		`"setup_to":{"slabs_lb":14000,"gear":"2"`, `"setup_to":{"slabs_lb":13500,"gear":"1"`, 1)
	text := flush(sledText(t, easier))
	assert.Regexp(t, `(?m)^a .* 300 → \d{3} or more$`, text)
	assert.Regexp(t, `(?m)^b .* 280 → \d{3} to full$`, text)
	assert.Contains(t, flush(sledText(t, strings.Replace(easier, `13500`, `1000`, 1))), "280 → full")
	still := strings.Replace(easier, jobGround, `"ground":{"mu_up":0}`, 1)
	assert.Contains(t, flush(sledText(t, still)), "280 → not known")
}

func TestWhatNeverHappensIsADash(t *testing.T) {
	t.Parallel()
	assert.Contains(t, sledText(t, job("curves", jobSled, jobGround, `"setup":{"slabs_lb":14000}`)), "trip - ft, top-out 240 ft")
}

func TestAComparisonNamesItsSettings(t *testing.T) {
	t.Parallel()
	text := flush(sledText(t, job("compare", jobSled, jobGround, `"strength_lb":7000,"setups":[{"label":"wet","slabs_lb":14000},{"slabs_lb":14000,"gear":"2","trip_ft":150},{"slabs_lb":0}]`)))
	assert.Regexp(t, `(?m)^wet: gear 1, hole 0, 14000 lb of slabs full 300 \d{4}$`, text)
	assert.Regexp(t, `(?m)^gear 2, hole 0, 14000 lb of slabs stops \d{3} \d{4}$`, text)
	assert.Contains(t, text, "strength lb 7000")
}

func TestACalibrationIsALine(t *testing.T) {
	t.Parallel()
	text := flush(sledText(t, job("calibrate", jobSled, jobGround, jobSetup, `"measured":[{"d_ft":0,"drag_lb":3825},{"d_ft":100,"drag_lb":5425}]`)))
	assert.Equal(t, "mu c_rr rms lb\n0.3000 0.0500 0.0\n\n", strings.Replace(text, " 0\n", " 0.0\n", 1))
}
