package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain/doc"
)

// seasonExample writes the files of the worked example in docs/season.md to a folder, with changes, and returns the folder
// and the standing that is printed there.
func seasonExample(t *testing.T, changes ...string) (folder, standing string) {
	t.Helper()
	page, err := os.ReadFile(filepath.Join("..", "..", "docs", "season.md"))
	require.NoError(t, err)
	fenced := func(word string) (blocks []string) {
		for _, found := range regexp.MustCompile("(?s)```"+word+"\n(.*?)```").FindAllStringSubmatch(string(page), -1) {
			blocks = append(blocks, found[1])
		}
		return blocks
	}
	documents, sheets := fenced("json"), fenced("csv")
	require.Len(t, documents, 3, "the rules, the season, and one of a server")
	require.NotEmpty(t, doc.SeasonClasses([]byte(documents[2])))
	require.Len(t, sheets, 4)
	folder = t.TempDir()
	for name, content := range map[string]string{"ours.json": documents[0], "season.json": documents[1],
		"elm.csv": sheets[0], "elm-entries.csv": sheets[1], "oak.csv": sheets[2], "ash.csv": sheets[3]} {
		changed := strings.NewReplacer(changes...).Replace(content)
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(changed), 0o600))
	}
	return folder, fenced("text")[0]
}

// scoreSeason runs the score command on the season of a folder.
func scoreSeason(t *testing.T, folder string, args ...string) scored {
	t.Helper()
	var out, errs bytes.Buffer
	status := run(context.Background(), append([]string{"score", "--season", filepath.Join(folder, "season.json")}, args...), strings.NewReader(""), &out, &errs)
	return scored{status, regexp.MustCompile(` +\n`).ReplaceAllString(out.String(), "\n"), strings.ReplaceAll(errs.String(), folder+string(filepath.Separator), "")}
}

func TestTheSeasonOfTheManualGivesTheStandingOfTheManual(t *testing.T) {
	t.Parallel()
	folder, standing := seasonExample(t)
	assert.Equal(t, scored{0, standing, ""}, scoreSeason(t, folder))
}

func TestASeasonIsWrittenAsCSVAndJSON(t *testing.T) {
	t.Parallel()
	folder, _ := seasonExample(t)
	got := scoreSeason(t, folder, "--format", "csv")
	require.Equal(t, 0, got.status, got.err)
	records, err := csv.NewReader(strings.NewReader(got.out)).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, [][]string{
		{"series", "place", "shared", "entrant", "puller", "Elm", "Oak", "Ash", "penalty", "points", "note"},
		{"4x4", "1", "false", "7", "B. Example", "40", "38", "(36)", "", "78", ""},
		{"4x4", "2", "false", "23", "C. Example", "(38)", "40", "38", "", "78", "as many points as 7, behind by total_distance"},
		{"4x4", "3", "false", "41", "A. Example", "(34)", "36", "40", "5", "71", "penalty: missed the drivers' meeting at Oak"},
		{"4x4", "4", "false", "12", "D. Example", "36", "(20)", "30 bought", "", "66", ""},
	}, records)
	got = scoreSeason(t, folder, "--format", "json")
	require.Equal(t, 0, got.status, got.err)
	var document struct {
		Season string
		Series []struct {
			Standing []struct {
				Place    *int
				BehindBy string `json:"behind_by"`
				Pulls    []struct{ Event, Points, State string }
			}
		}
		Records []struct{ Sled, Result, Round, Setting string }
	}
	require.NoError(t, json.Unmarshal([]byte(got.out), &document))
	assert.Equal(t, "Valley series 2026", document.Season)
	second := document.Series[0].Standing[1]
	assert.Equal(t, 2, *second.Place)
	assert.Equal(t, "total_distance", second.BehindBy)
	assert.Equal(t, []struct{ Event, Points, State string }{{"Elm", "38", "dropped"}, {"Oak", "40", "counted"}, {"Ash", "38", "counted"}}, second.Pulls)
	assert.Equal(t, "third gear, 60", document.Records[0].Setting)
}

// OMTPA counts the greatest distance of the day although the class was placed by the pull-off; by the figure of the class both
// had 300 ft at Elm, and the other one is ahead.
func TestTheDistanceOfTheDayChangesTheTie(t *testing.T) {
	t.Parallel()
	folder, _ := seasonExample(t, `"distance": "greatest"`, `"distance": "class"`)
	assert.Contains(t, scoreSeason(t, folder).out, "2      7        B. Example  40    38    (36)       78      as many points as 23, behind by total_distance")
	folder, _ = seasonExample(t, `"wins", "total_distance", "coin"`, `"places"`)
	assert.Contains(t, scoreSeason(t, folder).out, "2      7        B. Example  40    38    (36)       78      as many points as 23, behind by places", "seconds")
	folder, _ = seasonExample(t, `"wins", "total_distance", "coin"`, `"coin"`, `["7", "23"]`, `["23", "7"]`)
	assert.Contains(t, scoreSeason(t, folder).out, "2      7        B. Example  40    38    (36)       78      as many points as 23, behind by coin")
}

func TestAProtestCannotBeDropped(t *testing.T) {
	t.Parallel()
	folder, _ := seasonExample(t, "DQ,out of bounds", "DQ,illegal vehicle: protest of 7")
	assert.Contains(t, scoreSeason(t, folder).out, "4      12       D. Example  (36)  20   30 bought  50", "HTP")
}

func TestWhoIsAtTooFewPullsHasNoPlace(t *testing.T) {
	t.Parallel()
	folder, _ := seasonExample(t, `"minimum": 1`, `"minimum": 3`)
	assert.Contains(t, scoreSeason(t, folder).out, "-      12       D. Example  36    (20)  30 bought  66      at too few pulls")
}

// What is wrong is said with its place: in the season file or in a file that it names.
func TestASeasonThatCannotBeUnderstood(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ from, to, says string }{
		{`"season": {`, `"season": [`, "season.json:5:12: this is not JSON"},
		{`"drops": 1`, `"drops": "one"`, `season.json: field season.drops: "one" cannot stand here`},
		{`"drops": 1`, `"drops": -1`, "season.json: field season.drops: -1 lies outside 0 to 9999"},
		{`"drops"`, `"drop"`, "season.json: field season.drop: there is no such field; compare it with docs/season.md"},
		{`"name": "Valley series 2026"`, `"name": ""`, "season.json: field name: it is missing"},
		{`"rules": "ours.json"`, `"rules": "theirs.json"`, "season.json: field rules: there is no rule set "},
		{`"rules": "ours.json"`, `"rules": "capped-300ft"`, "season.json: field rules: the rule set capped-300ft gives no points"},
		{`"minimum_share": "1/2"`, `"minimum_share": "half"`, `season.json: field season.minimum_share: "half" is no part of a whole; write a part such as 1/2 or 2/3`},
		{`"minimum_share": "1/2"`, `"minimum_share": "3/2"`, "season.json: field season.minimum_share: this is no part of a whole"},
		{`"minimum_for": "coming"`, `"minimum_for": "paying"`, `season.json: field season.minimum_for: "paying" is not known; write coming or hooking`},
		{`"distance": "greatest"`, `"distance": "longest"`, `season.json: field season.distance: "longest" is not known; write class or greatest`},
		{`"coin"]`, `"dice"]`, `season.json: field season.ties[2]: "dice" is not known; write one of total_distance`},
		{`["illegal vehicle"]`, `["protest"]`, `season.json: field season.undroppable[0]: "protest" is no cause; write one of out of bounds`},
		{`{"name": "Oak"`, `{"name": "Elm"`, `season.json: field events[1].name: "Elm" is missing or stands twice`},
		{`"series": "4x4", "sheet": "oak.csv"`, `"sheet": "oak.csv"`, "season.json: field events[1].classes[0].series: it is missing"},
		{`"sheet": "oak.csv"`, `"sheet": "oak.cvs"`, "season.json: field events[1].classes[0].sheet: there is no file oak.cvs; check the name"},
		{`"sheet": "oak.csv", `, ``, "season.json: field events[1].classes[0].sheet: it is missing; name the class sheet"},
		{`"ended": "pulled"`, `"ended": "rain"`, `season.json: field events[0].classes[0].ended: "rain" is not known; write not-run or pulled or stopped`},
		{`"ended": "pulled"`, `"ended": "not-run"`, "season.json: field events[0].classes[0].sheet: a class that was not run has no sheet"},
		{`"event": "Ash"`, `"event": "Fir"`, `season.json: field buy_backs[0].event: 4x4 was not pulled at "Fir"`},
		{`"event": "Ash"`, `"event": "Oak"`, "season.json: series 4x4: 12 did not miss this pull"},
		{`"points": 5, "reason"`, `"points": 0, "reason"`, "season.json: field penalties[0]: a penalty takes points away for a reason"},
		{`{"series": "4x4", "order"`, `{"series": "Mini", "order"`, `season.json: field coins[0].series: there is no series "Mini"`},
		{`["7", "23"]`, `["7", "99"]`, "season.json: series 4x4: 99 was at no pull of this series"},
		{"1,7,288.0,", "1,7,28x.0,", `oak.csv:3:5: column result: "28x.0" is not a result`},
		{"99,guest", "99,friend", `elm-entries.csv:5:4: column kind: "friend" is not known`},
		{`"dq": "hook"`, `"dq": "hook", "to": "driver"`, "season.json: field events[1].classes[0].sheet: entry 23 has no puller, and points are the driver's"},
	} {
		folder, _ := seasonExample(t, row.from, row.to)
		got := scoreSeason(t, folder)
		assert.Equal(t, 1, got.status, row.to)
		assert.Contains(t, got.err, "clayline: "+row.says)
		assert.Empty(t, got.out)
	}
	folder, _ := seasonExample(t)
	assert.Contains(t, scoreSeason(t, folder, "--entries", "x.csv").err, "give --season alone")
	nowhere := scoreSeason(t, t.TempDir())
	assert.Equal(t, 2, nowhere.status)
	assert.Contains(t, nowhere.err, "there is no season file ")
}
