package main

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// fairSeason is the address of the season that [fair.season] keeps.
const fairSeason = "fair-season"

// season keeps a season that names no class, once, and returns its address.
func (f *fair) season() string {
	f.t.Helper()
	_, _, err := f.desk.KeepSeason(f.ctx, desk.Program(), "", uuid.NewSHA1(uuid.NameSpaceURL, []byte(fairSeason)), 0, `{"name": "Fair season", "events": [{"name": "Elm"}]}`)
	require.NoError(f.t, err)
	return fairSeason
}

// signed brings a class of four to an official result, in which 7 has 281.36 and 41 a full pull.
func signed(s *scene) *scene {
	s.t.Helper()
	results := map[string]string{"41": "260", "7": "281.36", "23": "240", "7b": "240.5"}
	for s.class().OnTrack() != nil {
		s.pull(results[s.class().Entry(s.class().OnTrack().Entry).Number])
		if s.class().Pending() != nil {
			s.do(domain.Choose{Hook: s.class().Pending().Hook.ID, Option: domain.Keep, Next: uuid.New()})
		}
	}
	s.do(domain.MakeOfficial{Name: "Ada Flagg"})
	return s
}

// seasonOf is a season document of two pulls, with points of its own.
func seasonOf(name string, first, second *scene) string {
	return `{
  "name": "` + name + `",
  "points": {"places": [10, 8, 6], "hook": 5},
  "season": {"drops": 0},
  "events": [
    {"name": "Elm", "classes": [{"series": "Stock", "class": "` + first.ref.Event + "/" + first.ref.Class + `"}]},
    {"name": "Oak", "classes": [{"series": "Stock", "class": "` + second.ref.Event + "/" + second.ref.Class + `"}]}
  ]
}`
}

// The desk of the server writes a season into a page; everybody reads its standing, which follows what becomes of the classes.
func TestASeasonFromTheDeskToThePage(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	_, cookie := f.pass("", domain.Desk)
	office, anybody := visitor{f, cookie}, visitor{fair: f}
	first, second := signed(hooking(f)), hooking(f)
	require.Contains(t, anybody.get("/records").says(), "281.36 ft", "an official result makes records")

	fresh := office.get("/desk/season").form("season")
	require.Contains(t, fresh.values.Get("document"), f.other.Name, "a draft names the newest event")
	wrong := strings.Replace(seasonOf("Valley series", first, second), `"drops": 0`, `"drops": -1`, 1)
	fresh.values.Set("document", strings.ReplaceAll(wrong, "\n", "\r\n"))
	refused := office.submit(fresh)
	require.Equal(t, http.StatusUnprocessableEntity, refused.status)
	assert.Contains(t, refused.says(), "Line 4, season.drops: -1 lies outside 0 to 9999.")
	assert.Contains(t, refused.form("season").values.Get("document"), `"drops": -1`, "the typing stays")

	good := refused.form("season")
	good.values.Set("document", seasonOf("Valley series", first, second))
	require.Equal(t, "/desk/season/valley-series", office.submit(good).place())
	page := anybody.get("/season/valley-series")
	assert.Contains(t, page.says(), "1 pull: Elm. To come, once the result is official: Oak.")
	assert.Contains(t, page.says(), "281.36 ft", "with the records of its classes")
	assert.Contains(t, anybody.get("/season").says(), "Valley series")

	signed(second)
	page = anybody.get("/season/valley-series")
	assert.Contains(t, page.says(), "2 pulls: Elm, Oak.", "a result that becomes official counts at once")
	assert.Contains(t, page.says(), "Elm 15 · Oak 15")
	csv := anybody.get("/season/valley-series/standing.csv")
	require.Equal(t, http.StatusOK, csv.status)
	assert.Contains(t, csv.body, "Stock,1,false,41,")
	assert.Contains(t, csv.header.Get("Content-Disposition"), "season-valley-series.csv")
	assert.True(t, json.Valid([]byte(anybody.get("/season/valley-series/standing.json").body)))

	// Whoever looks at an older version writes over nobody.
	older := office.get("/desk/season/valley-series").form("valley-series")
	newer := office.get("/desk/season/valley-series").form("valley-series")
	newer.values.Set("document", strings.Replace(newer.values.Get("document"), `"drops": 0`, `"drops": 1`, 1))
	require.Equal(t, http.StatusSeeOther, office.submit(newer).status)
	stale := office.submit(older)
	require.Equal(t, http.StatusConflict, stale.status)
	assert.Contains(t, stale.says(), "The season was written anew meanwhile.")
	assert.Contains(t, anybody.get("/season/valley-series").says(), "Elm (15)")

	// A decision about a pull that is gone again is said, and nothing is added up wrongly.
	bought := office.get("/desk/season/valley-series").form("valley-series")
	bought.values.Set("document", strings.Replace(bought.values.Get("document"), `"events"`, `"penalties": [{"series": "Stock", "entrant": "41", "points": 5, "reason": "late"}], "events"`, 1))
	require.Equal(t, http.StatusSeeOther, office.submit(bought).status)
	first.do(domain.Reopen{Reason: "misread"})
	second.do(domain.Reopen{Reason: "misread"})
	broken := anybody.get("/season/valley-series")
	require.Equal(t, http.StatusOK, broken.status)
	assert.Contains(t, broken.says(), "This season cannot be added up as the classes are now: series Stock: 41 was at no pull of this series")
	assert.Equal(t, http.StatusUnprocessableEntity, anybody.get("/season/valley-series/standing.csv").status)
}

// What cannot stand in a season of a server is refused with its place.
func TestASeasonOfAServerNamesItsClasses(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := hooking(f)
	whole := seasonOf("Valley series", s, s)
	for _, row := range [][3]string{
		{`"points": {"places": [10, 8, 6], "hook": 5},`, ``, "line 6, events[0].classes[0].class: the rules of "},
		{`"points": {`, `"points": {"first": 3, `, "line 3, points"},
		{`"places": [10, 8, 6]`, `"places": [6, 8]`, "line 3, points.places: "},
		{`"season": {`, `"rules": "capped-300ft", "season": {`, "line 4, rules: a class on a server has rules of its own"},
		{`"class": "` + s.ref.Event, `"class": "nowhere`, "line 6, events[0].classes[0].class: there is no class"},
		{`"series": "Stock", "class"`, `"series": "Stock", "sheet": "a.csv", "class"`, "line 6, events[0].classes[0]: a season on a server names no files"},
		{`"series": "Stock"`, `"series": ""`, "line 6, events[0].classes[0].series: it is missing"},
		{`"events"`, `"events" "classes"`, "line 5: this is not JSON"},
		{`"drops": 0`, `"drops": "one"`, `line 4, season.drops: "one" cannot stand here`},
		{`"name": "Valley series"`, `"name": "!"`, "name: no address can be made"},
	} {
		document := strings.Replace(whole, row[0], row[1], 1)
		require.NotEqual(t, whole, document, row[0])
		_, _, err := f.desk.KeepSeason(f.ctx, desk.Program(), "", uuid.New(), 0, document)
		var refusal *domain.Error
		require.ErrorAs(t, err, &refusal, row[2])
		assert.Contains(t, refusal.Message, row[2])
		assert.Equal(t, "document", refusal.Field)
		assert.NotEmpty(t, refusal.Fix, row[2])
	}
	require.Equal(t, domain.NotFound, domain.KindOf(func() error { _, err := f.desk.SeasonPage(f.ctx, "no-such"); return err }()))
}

// The journal has the hash of a season, and no name that stands in it.
func TestTheJournalOfASeasonHasNoNames(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	f.season()
	var kind, payload string
	require.NoError(t, f.sql.QueryRow(f.ctx, "SELECT kind, convert_from(payload, 'UTF8') FROM journal WHERE kind = 'season'").Scan(&kind, &payload))
	assert.Regexp(t, `^\{"Season":"[0-9a-f-]{36}","Version":0,"Document":"[0-9a-f]{64}"\}$`, payload)
}
