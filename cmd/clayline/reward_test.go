package main

import (
	"net/http"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
)

// payRules give points and money, as a club writes them.
const payRules = `{"name": "ours", "title": "One round, every distance counts.", "unit": "ft", "line": 300, "cap": false, "rounds": 1,
	"points": {"places": [10, 9, 8], "hook": 5, "registration": 2}, "purse": {"prizes": [150.25], "share": 50}}`

// paying is a class under those rules that is being pulled.
func paying(f *fair) *scene {
	f.t.Helper()
	rules, err := doc.ParseRuleSet([]byte(payRules))
	require.NoError(f.t, err)
	return f.planUnder(rules).draw().write().freeze().call()
}

// From ticks at the desk to points on the wall and money on the desk's own sheet.
func TestPointsAndPurseFromTheDeskToThePage(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	office, s := p.as(domain.Desk), paying(p.fair)
	first := office.get(s.path("desk")).form("attend")
	second := office.get(s.path("desk")).form("attend")
	require.Equal(t, http.StatusSeeOther, office.submit(first.fill(map[string]string{"came-0": "yes", "paid-0": "yes", "fee-0": "20"})).status)
	require.Equal(t, http.StatusSeeOther, office.submit(second.fill(map[string]string{"guest-1": "yes", "paid-1": "yes", "fee-1": "20.50"})).status)
	require.Equal(t, domain.Attendance{Came: true, Fee: 2000, Paid: true}, s.class().Entries[0].Attendance, "who ticks an older page undoes nothing")
	for _, page := range []string{"", "result", "desk"} {
		assert.NotContains(t, office.get(s.path(page)).body, `id="points"`, "nothing before the class is decided")
	}
	results := map[string]string{"41": "250", "7": "260", "23": "240", "7b": "240"}
	for s.class().OnTrack() != nil {
		s.pull(results[s.class().Entry(s.class().OnTrack().Entry).Number])
	}
	require.Equal(t, domain.Decided, s.class().Phase())

	everybody := visitor{fair: p.fair}
	for _, page := range []string{"", "result"} {
		a := everybody.get(s.path(page))
		assert.Contains(t, a.body, "10 for the place, 5 for hooking, 2 for having paid", page)
	}
	assert.Contains(t, everybody.get("/e/"+inventedSlug+"/results").body, "17")
	csv := everybody.get(s.path("result.csv")).body
	assert.Contains(t, csv, ",17,1,10,0,5,2,")
	placing := p.get(s.api(""))
	assert.Equal(t, []string{"0", "guest", "17", "10"}, []string{placing.at("standing.0.points.total"), placing.at("standing.0.points.why"),
		placing.at("standing.1.points.total"), placing.at("standing.1.points.for_place")})

	sheet := office.get(s.path("desk/purse"))
	for _, says := range []string{"170.50", "fee 20.50, paid", "Fees paid"} {
		assert.Contains(t, sheet.body, says)
	}
	money := p.ask(call{method: http.MethodGet, path: s.api("/purse"), as: p.secrets[domain.Desk]}).is(http.StatusOK)
	assert.Equal(t, []string{"170.50", "170.50", "0.00"}, []string{money.at("total"), money.at("paid"), money.at("kept")})
	for _, as := range []string{"", p.secrets[domain.Booth], p.secrets[domain.Cab]} {
		assert.GreaterOrEqual(t, p.ask(call{method: http.MethodGet, path: s.api("/purse"), as: as, wrong: as == ""}).status, http.StatusUnauthorized)
	}
	for _, path := range []string{s.path(""), s.path("result"), s.path("result.csv"), s.path("result.json"), s.path("sheet"), "/e/" + inventedSlug + "/results", s.api(""), s.api("/standing")} {
		body := everybody.get(path).body
		for _, amount := range []string{"170.50", "20.50"} {
			assert.False(t, strings.Contains(body, amount), "%s tells %s", path, amount)
		}
	}
	s.do(domain.MakeOfficial{Name: "Ada Flagg"})
	assert.Nil(t, office.get(s.path("desk")).form("attend"), "what is signed stays")
	_, err := p.desk.Act(p.ctx, desk.Program(), s.ref, uuid.New(), domain.Attend{Entries: []domain.Attended{{Entry: s.class().Entries[0].ID}}})
	require.Equal(t, domain.WrongState, domain.KindOf(err))
}
