package picture_test

import (
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
	"clayline/webui/picture"
)

// common is what the jobs have in common: an invented sled whose box moves 0.1 ft a foot, so that it trips at 200 ft and
// tops out at 240 ft.
const common = `"sled":{"wheelbase_ft":25,"frame_weight_lb":17000,"frame_cg_ft":7.5,"pan_weight_lb":3000,"box_empty_lb":2000,"box_top_ft":24,"advance":{"1":0.1,"2":0.12}},
	"ground":{"mu_up":0.3,"mu_down":0.4,"c_rr":0.05},"setup":{"slabs_lb":14000,"trip_box_ft":20}`

// of makes the picture of a job.
func of(t *testing.T, job string) (picture.Sheet, bool) {
	t.Helper()
	read, err := doc.ReadSledJob(strings.NewReader(job))
	require.NoError(t, err)
	return picture.Of(read, doc.FeetAndPounds())
}

// drawn is the picture as SVG, with the cautions.
func drawn(t *testing.T, job string) string {
	t.Helper()
	sheet, ok := of(t, job)
	require.True(t, ok)
	svg := sheet.SVG()
	plainSVG(t, svg)
	for _, caution := range picture.Cautions() {
		assert.Equal(t, 2, strings.Count(svg, caution), "in the picture, and in its words: %s", caution)
	}
	return svg
}

// plainSVG asserts that a picture is well-formed, and that nothing in it reaches out of it or runs.
func plainSVG(t *testing.T, svg string) {
	t.Helper()
	for decoder := xml.NewDecoder(strings.NewReader(svg)); ; {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err, svg)
		if e, ok := token.(xml.StartElement); ok {
			assert.Contains(t, []string{"svg", "title", "desc", "rect", "path", "text", "circle"}, e.Name.Local)
		}
	}
	assert.NotRegexp(t, `NaN|Inf|href|url\(`, svg)
}

func TestCurvesShowTripTopOutAndTheLine(t *testing.T) {
	t.Parallel()
	svg := drawn(t, `{"job":"curves",`+common+`}`)
	for _, words := range []string{">trip 200 ft<", ">top-out 240 ft<", ">line 300 ft<", ">drag, lb<", ">load on the pan, lb<", ">box, ft ahead of the axle<",
		">gear 1, hole 0, 14000 lb of slabs<", ">15,000<"} {
		assert.Contains(t, svg, words)
	}
	// 74 + 616 x 200/300 = 484.7: the trip, and the jump of drag at it.
	assert.Contains(t, svg, `<path d="M484.7 `)
	assert.Regexp(t, `d="M74 [^"]*L484\.[0-9] [^"]*L690 [0-9.]+" fill="none"`, svg)
	box := regexp.MustCompile(`<path d="M74 ([0-9.]+)L566\.8 ([0-9.]+)L690 ([0-9.]+)" fill="none"`).FindStringSubmatch(svg)
	require.NotNil(t, box, "the box moves straight to its stop at 240 ft, and stays")
	assert.Equal(t, box[2], box[3])
	assert.NotContains(t, svg, "circle", "no results, no strip")
}

func TestAWhatIfOverlaysTwoSettingsAndStripsTheTrack(t *testing.T) {
	t.Parallel()
	svg := drawn(t, `{"job":"whatif",`+common+`,"setup_to":{"slabs_lb":16000,"gear":"2","trip_box_ft":20},"drift":0.05,"results":[
		{"id":"7","full":true},{"id":"<12> & more","distance_ft":270},{"id":"23","distance_ft":0},{"id":"41","distance_ft":160,"ended":"broke"}]}`)
	assert.Contains(t, svg, `stroke-dasharray="9 4"`)
	assert.Equal(t, 4, strings.Count(svg, "<circle"))
	assert.Contains(t, svg, `<circle cx="690"`, "the full pull at the line")
	assert.Contains(t, svg, `<circle cx="628.4"`, "74 + 616 x 270/300")
	assert.Contains(t, svg, `<circle cx="74"`)
	assert.Contains(t, svg, "&lt;12&gt; &amp;", "names are no markup")
	assert.Equal(t, 2, strings.Count(svg, "l7 5l-7 5z"), "an arrow where no end is known")
	assert.Equal(t, 2, strings.Count(svg, "l6 6l-6 6l-6 -6z"), "a diamond where there is a middle")
	assert.Contains(t, svg, "or more")
	assert.Contains(t, svg, "or less")
	assert.Contains(t, svg, "under gear 2, hole 0, 16000 lb of slabs")
}

// A page has its tables between the curves and the strip: each part is a picture of its own, with the cautions.
func TestAPictureInTwoParts(t *testing.T) {
	t.Parallel()
	sheet, ok := of(t, `{"job":"whatif",`+common+`,"setup_to":{"slabs_lb":16000,"trip_box_ft":20},"results":[{"id":"7","full":true},{"id":"12","distance_ft":270}]}`)
	require.True(t, ok)
	sheet.Notes = []string{"one thing to know"}
	curves, track := sheet.Curves(), sheet.Track()
	assert.Contains(t, curves, ">drag, lb<")
	assert.NotContains(t, curves, "<circle")
	assert.Contains(t, curves, ">one thing to know<")
	assert.Equal(t, 2, strings.Count(track, "<circle"))
	assert.NotContains(t, track, ">drag, lb<")
	assert.NotContains(t, track, ">one thing to know<")
	for _, part := range []string{curves, track} {
		assert.Contains(t, part, ">gear 1, hole 0, 16000 lb of slabs<", "which line is which")
		for _, caution := range picture.Cautions() {
			assert.Equal(t, 2, strings.Count(part, caution), caution)
		}
	}
	assert.Len(t, sheet.Lanes, 2, "the sheet itself stays whole")
	sheet.Far = 331
	assert.Contains(t, sheet.Track(), ">350<", "where the line ends nothing it is drawn farther")
	assert.Contains(t, sheet.Curves(), ">line 300 ft<")
	sheet.Lanes = nil
	assert.Empty(t, sheet.Track())
}

func TestComparisonsHaveFourLinesThatDiffer(t *testing.T) {
	t.Parallel()
	setups := strings.TrimSuffix(strings.Repeat(`{"label":"wet","slabs_lb":16000},`, 5), ",")
	svg := drawn(t, `{"job":"compare",`+common+`,"strength_lb":7000,"track":{"full_pull_ft":328.084},"setups":[`+setups+`]}`)
	for _, dash := range []string{"none", "9 4", "2 3", "9 3 2 3"} {
		assert.Regexp(t, `fill="none" stroke="#000" stroke-width="1.8" stroke-dasharray="`+dash+`"`, svg)
	}
	assert.Contains(t, svg, "settings not drawn: 1")
	assert.Contains(t, svg, ">wet: gear 1, hole 0, 16000 lb of slabs<")
	assert.Contains(t, svg, ">line 328 ft<")
	assert.Contains(t, svg, ">350<", "the axis goes on past the line")
	assert.Contains(t, svg, "no trip", "in words")
	assert.NotContains(t, svg, ">no trip<", "nothing marks what does not happen")
}

func TestEvenASledWithoutDragIsDrawn(t *testing.T) {
	t.Parallel()
	still := strings.Replace(common, `"mu_up":0.3,"mu_down":0.4,"c_rr":0.05`, `"mu_up":0`, 1)
	svg := drawn(t, `{"job":"whatif",`+still+`,"setup_to":{"slabs_lb":1},"results":[{"id":"7","distance_ft":400,"full":false}]}`)
	assert.Contains(t, svg, "400 → not known")
	behind := strings.Replace(common, `"box_top_ft":24`, `"box_start_ft":-10,"box_top_ft":24`, 1)
	assert.Contains(t, drawn(t, `{"job":"curves",`+behind+`}`), ">-10<")
}

func TestSomeJobsHaveNoPicture(t *testing.T) {
	t.Parallel()
	for _, job := range []string{`{"job":"topout",` + common + `}`, `{"job":"calibrate",` + common + `,"measured":[{"d_ft":0,"drag_lb":1},{"d_ft":9,"drag_lb":2}]}`} {
		_, ok := of(t, job)
		assert.False(t, ok, job)
	}
}

// A class in metres has its axis, its panels and its marks in metres and kilograms, at the same places of the picture.
func TestAPictureInMetres(t *testing.T) {
	t.Parallel()
	read, err := doc.ReadSledJob(strings.NewReader(`{"job": "curves", ` + common + `}`))
	require.NoError(t, err)
	line, err := domain.ParseDistance("91.44", domain.Metre)
	require.NoError(t, err)
	sheet, ok := picture.Of(read, doc.EstimateUnitsOf(&domain.Class{Rules: domain.RuleSet{Line: line}}))
	require.True(t, ok)
	sheet.Settings[0].Label = "Round 1" // that of a job has its own units
	svg := sheet.SVG()
	for _, words := range []string{">drag, kg<", ">load on the pan, kg<", ">box, m ahead of the axle<", ">line 91.4 m<", ">trip 61.0 m<", ">m<", ">100<"} {
		assert.Contains(t, svg, words)
	}
	for _, words := range []string{" ft", "lb", ">ft<"} {
		assert.NotContains(t, svg, words)
	}
}

// On a phone the picture is as wide as one: all of it lies within, no letter is smaller, and the cautions, which would not be
// read there, are left to the page; those who do not see it are told them all the same.
func TestAPictureForAPhone(t *testing.T) {
	t.Parallel()
	sheet, ok := of(t, `{"job": "whatif", `+common+`, "setup_to": {"slabs_lb": 14000, "gear": "2", "trip_box_ft": 20}, "drift": 0.08, "results": [{"id": "41", "distance_ft": 281.36}, {"id": "12", "full": true}]}`)
	require.True(t, ok)
	places := regexp.MustCompile(`(?: x1?=|[ML])"?([\d.]+)`)
	for _, svg := range []string{sheet.ForPhone().Curves(), sheet.ForPhone().Track()} {
		assert.Contains(t, svg, `viewBox="0 0 360 `)
		for _, m := range places.FindAllStringSubmatch(svg, -1) {
			x, err := strconv.ParseFloat(m[1], 64)
			require.NoError(t, err)
			assert.LessOrEqual(t, x, 360.)
		}
		for _, size := range regexp.MustCompile(`font-size="(\d+)"`).FindAllStringSubmatch(svg, -1) {
			assert.Contains(t, []string{"11", "13"}, size[1])
		}
		drawn := svg[strings.Index(svg, "</desc>"):]
		for _, caution := range picture.Cautions() {
			assert.Contains(t, svg, caution)
			assert.NotContains(t, drawn, caution)
		}
	}
	assert.Contains(t, sheet.ForPhone().Track(), ">41<")
	assert.Contains(t, sheet.SVG(), `viewBox="0 0 820 `, "the sheet itself stays as it is")
}
