package main

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/domain"
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
