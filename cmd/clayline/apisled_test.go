package main

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

// topOutJob is the shortest job: a box that moves 0.08 ft a foot has 21 ft to go, and tops out at 262.5 ft.
const topOutJob = `{"job": "topout", "sled": {"wheelbase_ft": 22, "frame_weight_lb": 15000, "frame_cg_ft": 7, "pan_weight_lb": 2500, "box_top_ft": 21, "advance": {"1": 0.08}}}`

// An estimate is for the cab and the desk, needs no key, and leaves no line.
func TestAnEstimateStoresNothing(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	path := "/api/v1/events/" + inventedSlug + "/sled"
	ask := func(as, body string, more ...string) reply {
		t.Helper()
		return p.ask(call{method: http.MethodPost, path: path, body: body, as: as, wrong: true, more: append([]string{"Idempotency-Key", ""}, more...)})
	}
	mayNot := []string{p.secrets[domain.Booth], p.secret(otherSlug, domain.Cab), p.secret(otherSlug, domain.Desk)}
	may := []string{p.secrets[domain.Cab], p.secrets[domain.Desk], p.secret("", domain.Desk)}
	before := p.lines()
	for _, as := range may {
		r := ask(as, topOutJob).is(http.StatusOK)
		require.Equal(t, "262.5", r.at("gears.0.top_out_ft.0"))
		require.Equal(t, "no-store", r.header.Get("Cache-Control"), "it is not for the public")
	}
	require.Equal(t, http.StatusUnauthorized, ask("", topOutJob).status)
	for _, as := range mayNot {
		require.Equal(t, http.StatusForbidden, ask(as, topOutJob).status)
	}
	cab := p.secrets[domain.Cab]
	long := strings.Replace(topOutJob, "{", "{"+strings.Repeat(" ", 900<<10), 1)
	ask(cab, long).is(http.StatusOK)
	for what, c := range map[string]struct {
		body   string
		status int
		field  string
	}{
		"longer than 1 MiB":    {strings.Repeat(" ", 1<<20) + topOutJob, http.StatusRequestEntityTooLarge, ""},
		"no JSON":              {"job=topout", http.StatusBadRequest, ""},
		"no body":              {"", http.StatusBadRequest, ""},
		"no such job":          {`{"job": "guess", "sled": {}}`, http.StatusUnprocessableEntity, "job"},
		"a sled without parts": {`{"job": "topout", "sled": {}}`, http.StatusUnprocessableEntity, "sled.wheelbase_ft"},
		"a misspelt field":     {strings.Replace(topOutJob, "wheelbase_ft", "weelbase_ft", 1), http.StatusUnprocessableEntity, "sled.weelbase_ft"},
	} {
		r := ask(cab, c.body)
		require.Equal(t, c.status, r.status, "%s: %s", what, r.body)
		require.Equal(t, c.field, r.at("field"), what)
		conforms(t, what, r)
	}
	require.Equal(t, before, p.lines(), "nothing was stored")
}

// The estimate of a class is the same job that anybody may send, filled in: sent back, it has the same result. It is for the
// cab and the desk, and on nothing that the public reads.
func TestTheEstimateOfAClassIsAJobThatIsFilledIn(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s := pullOffDue(p.fair)
	path := s.api("/estimate?gear=4&start_hole=2&trip=176&drift=5")
	ask := func(as, path string) reply {
		t.Helper()
		return p.ask(call{method: http.MethodGet, path: path, as: as, wrong: true})
	}
	for _, as := range []string{p.secrets[domain.Booth], p.secret(otherSlug, domain.Cab), p.secret(otherSlug, domain.Desk)} {
		require.Equal(t, http.StatusForbidden, ask(as, path).status)
	}
	require.Equal(t, http.StatusUnauthorized, ask("", path).status)
	lines := p.lines()
	for _, as := range []string{p.secrets[domain.Cab], p.secrets[domain.Desk]} {
		told := ask(as, path).is(http.StatusOK)
		require.Equal(t, "no-store", told.header.Get("Cache-Control"))
		require.Equal(t, []string{"1", "1", "21600"}, []string{told.at("round"), told.at("revision"), told.at("job.setup.slabs_lb")})
		var document struct{ Job, Result json.RawMessage }
		require.NoError(t, json.Unmarshal([]byte(told.body), &document))
		again := p.ask(call{method: http.MethodPost, path: "/api/v1/events/" + inventedSlug + "/sled", body: string(document.Job), as: as, more: []string{"Idempotency-Key", ""}}).is(http.StatusOK)
		require.JSONEq(t, string(document.Result), again.body)
		require.Equal(t, []string{"41", "0.05", "0.44"}, []string{told.at("job.results.0.id"), told.at("job.drift"), told.at("job.ground.mu_down")})
		require.Equal(t, "12", fmt.Sprint(len(told.json()["table"].([]any))), "four gears, three holes")
		require.Equal(t, doc.SledCautions()[0], told.at("cautions.0"))
	}
	require.Equal(t, lines, p.lines(), "nothing was stored")
	require.Equal(t, "curves", ask(p.secrets[domain.Cab], s.api("/estimate")).at("job.job"), "there is no other setting")
	for query, field := range map[string]string{"gear=9": "gear", "mu_up=-1": "mu_up", "trip=far": "trip", "speeds=7 9": "speeds", "drift=200": "drift", "round=x": "round"} {
		r := ask(p.secrets[domain.Desk], s.api("/estimate?"+strings.ReplaceAll(query, " ", "+")))
		require.Equal(t, []string{"422", field}, []string{fmt.Sprint(r.status), r.at("field")}, "%s: %s", query, r.body)
		conforms(t, query, r)
	}
	none := ask(p.secrets[domain.Desk], drawn(p.fair).api("/estimate"))
	require.Equal(t, []string{"409", "round"}, []string{fmt.Sprint(none.status), none.at("field")}, none.body)
	conforms(t, "no setting", none)
	for _, public := range []string{s.api(""), s.api("/standing")} {
		body := p.ask(call{method: http.MethodGet, path: public, wrong: true}).is(http.StatusOK).body
		require.NotContains(t, strings.ToLower(body), "estimate", public)
	}
}
