package doc_test

import (
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

// seasonFiles are one rule set with points, and sheets by name.
func seasonFiles(t require.TestingT, sheets map[string]string) doc.SeasonFiles {
	rules := withReward(t, "true", `"points": {"places": [10], "step": 1, "hook": 5}`)
	return doc.SeasonFiles{
		Rules: func(string) (domain.RuleSet, error) { return rules, nil },
		Open: func(name string) (io.ReadCloser, error) {
			if sheet, there := sheets[name]; there {
				return io.NopCloser(strings.NewReader(sheet)), nil
			}
			return nil, errors.New("there is no such file")
		},
	}
}

// A class that was not run gives its points to who came, and counts as a pull.
func TestAClassThatWasNotRunIsAPullOfTheSeason(t *testing.T) {
	t.Parallel()
	files := seasonFiles(t, map[string]string{"a.csv": "round,entry,result\n1,7,250\n1,41,240\n", "rain.csv": "entry,puller\n7,B\n41,A\n5,C\n"})
	season, err := doc.ReadSeason([]byte(`{"name": "n", "rules": "r", "season": {"minimum": 1}, "events": [
		{"name": "Elm", "classes": [{"series": "4x4", "sheet": "a.csv"}]},
		{"name": "Oak", "classes": [{"series": "4x4", "entries": "rain.csv", "ended": "not-run"}]}]}`), "season.json", files)
	require.NoError(t, err)
	scored, err := doc.ScoreSeason(season)
	require.NoError(t, err)
	var out strings.Builder
	require.NoError(t, scored.WriteText(&out))
	require.Equal(t, []string{"4x4", "place  entrant  puller  Elm  Oak  points  note", "1      7        B       15   0    15      ",
		"2      41       A       14   0    14      ", "3      5        C       -    0    0       ", ""}, strings.Split(out.String(), "\n"))
	for _, write := range []func(io.Writer) error{scored.WriteText, scored.WriteCSV, scored.WriteJSON} {
		require.ErrorContains(t, write(failing{}), "no paper")
	}
}

// Where the points are the driver's, the better of two vehicles in a class counts (common practice, no published source).
func TestADriverWithTwoVehiclesHasTheBetterOne(t *testing.T) {
	t.Parallel()
	files := seasonFiles(t, map[string]string{"a.csv": "round,entry,puller,result\n1,7,B,250\n1,41,A,240\n1,8,B,230\n"})
	rules := withReward(t, "true", `"points": {"to": "driver", "places": [10], "step": 1, "hook": 5}`)
	files.Rules = func(string) (domain.RuleSet, error) { return rules, nil }
	season, err := doc.ReadSeason([]byte(`{"name": "n", "rules": "r", "events": [{"name": "Elm", "classes": [{"series": "4x4", "sheet": "a.csv"}]}]}`), "season.json", files)
	require.NoError(t, err)
	scored, err := doc.ScoreSeason(season)
	require.NoError(t, err)
	require.Len(t, scored.Series[0].Standing, 2)
	require.Equal(t, "B", scored.Series[0].Standing[0].Entrant)
	require.Equal(t, "15", scored.Series[0].Standing[0].Points)
}

func FuzzReadSeason(f *testing.F) {
	f.Add([]byte(`{"name": "n", "rules": "r", "season": {"drops": 1, "ties": ["coin"], "minimum_share": "1/2"}, "events": [
		{"name": "Elm", "track": "T", "classes": [{"series": "4x4", "sheet": "a.csv", "sled": "S"}]}], "coins": [{"series": "4x4", "order": ["7", "41"]}]}`))
	f.Add([]byte(`{"name": "n", "events": [{"name": "Elm", "classes": [{"series": "x", "sheet": "a.csv"}, {"series": "x", "sheet": "a.csv"}]}]}`))
	f.Add([]byte(`{"season": {"ties": 3}}`))
	f.Add([]byte(`{"season": {"minimum_share": "1/0"}} {}`))
	f.Fuzz(func(t *testing.T, document []byte) {
		season, err := doc.ReadSeason(document, "season.json", seasonFiles(t, map[string]string{"a.csv": "round,entry,result\n1,7,250\n1,41,250\n"}))
		if err != nil {
			require.Contains(t, err.Error(), "season.json")
			return
		}
		scored, err := doc.ScoreSeason(season)
		if err == nil {
			require.NoError(t, scored.WriteText(io.Discard))
			require.NoError(t, scored.WriteCSV(io.Discard))
		}
	})
}

// Where something cannot stand is said with its place in lists, and what package json passes over is no season.
func TestASeasonFaultHasItsPlace(t *testing.T) {
	t.Parallel()
	files := seasonFiles(t, map[string]string{"a.csv": "round,entry,result\n1,7,250\n"})
	for document, want := range map[string]string{
		`{"name": "n", "rules": "r", "events": [{"name": "Elm"}, {"name": 7}]}`:       `season.json: field events[1].name: 7 cannot stand here`,
		`{"name": "n", "rules": "r", "events": [{"name": "Elm", "classes": [null]}]}`: `season.json: field events[0].classes[0]: null cannot stand here`,
		`{"name": "n", "Rules": "r", "events": []}`:                                   `season.json: field Rules: there is no such field`,
		`{"name": "n", "name": "m"}`:                                                  `season.json: field name: it stands twice`,
		`{"name": "n", "season": {"drops": 1.5}}`:                                     `season.json: field season.drops: 1.5 cannot stand here`,
		`{"name": "n", "season": {"drop_missed": 1}}`:                                 `season.json: field season.drop_missed: 1 cannot stand here`,
		`{"name": "n", "season": []}`:                                                 `season.json: field season: a list cannot stand here`,
		`{"name": {}}`:                                                                `season.json: field name: an object cannot stand here`,
		`{"name": "a\u202eb"}`:                                                        `season.json: field name: this text is too long or has characters that nobody sees`,
		`[]`:                                                                          `season.json:1:1: a list cannot stand here`,
		`{"name": "n"`:                                                                `season.json:1:13: this is not JSON`,
		`{"name": "n"} {}`:                                                            `season.json: there is more behind the season`,
		`{"name": "n", "rules": "r", "points": {"places": "many"}, "events": [{"name": "E"}]}`:                 `season.json: field points`,
		`{"name": "n", "rules": "r", "events": [{"name": "E", "classes": [{"series": "s", "class": "e/c"}]}]}`: `only a season on a server names classes`,
	} {
		_, err := doc.ReadSeason([]byte(document), "season.json", files)
		require.ErrorContains(t, err, want, document)
		var fault *doc.SeasonError
		require.ErrorAs(t, err, &fault)
		require.Equal(t, domain.Invalid, fault.Refusal("document").Kind)
	}
	require.Empty(t, doc.SeasonClasses([]byte(`{`)))
	require.Equal(t, []string{"e/c"}, doc.SeasonClasses([]byte(`{"events": [{"classes": [{"class": "e/c"}, {"class": "e/c"}, {}]}]}`)))
}

// The points of a season take the place of those of its rules, in files too.
func TestASeasonMayHavePointsOfItsOwn(t *testing.T) {
	t.Parallel()
	files := seasonFiles(t, map[string]string{"a.csv": "round,entry,result\n1,7,250\n1,41,240\n"})
	season, err := doc.ReadSeason([]byte(`{"name": "n", "rules": "r", "points": {"places": [3, 2]}, "events": [{"name": "Elm", "classes": [{"series": "4x4", "sheet": "a.csv"}]}]}`), "season.json", files)
	require.NoError(t, err)
	scored, err := doc.ScoreSeason(season)
	require.NoError(t, err)
	require.Equal(t, []string{"3", "2"}, []string{scored.Series[0].Standing[0].Points, scored.Series[0].Standing[1].Points})
}

// A draft is a season that can be kept once its classes are there.
func TestADraftOfASeasonIsOne(t *testing.T) {
	t.Parallel()
	draft := doc.SeasonDraft("Season 2026", domain.Event{Slug: "elm-2026", Name: "Elm"}, []domain.Class{{Slug: "4x4", Name: "4x4 & more"}})
	require.Contains(t, draft, `"series": "4x4 & more"`)
	require.Equal(t, []string{"elm-2026/4x4"}, doc.SeasonClasses([]byte(draft)))
	_, err := doc.ReadSeason([]byte(draft), "season", doc.SeasonFiles{Class: func(string) (doc.HeldClass, bool) { return doc.HeldClass{}, true }})
	require.NoError(t, err)
	_, err = doc.ReadSeason([]byte(doc.SeasonDraft("Season 2026", domain.Event{}, nil)), "season", doc.SeasonFiles{Class: func(string) (doc.HeldClass, bool) { return doc.HeldClass{}, false }})
	require.ErrorContains(t, err, "events: there are 0")
}
