package main

import (
	"net/http"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"

	"clayline/domain"
	"clayline/domain/trend"
)

// What is said of hook order and distance is read by the staff, on their pages and by their programs, and by nobody else.
func TestTheTrendIsForStaffAlone(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s := entering(p.fair)
	s.do(domain.AddEntry{Entry: uuid.New(), Number: "88"})
	s.draw().write().freeze().call().pull("FP", "251", "252", "253", "254")
	for role, pages := range map[domain.Role][]string{domain.Desk: {"desk", "cab"}, domain.Cab: {"cab"}} {
		for _, name := range pages {
			body := p.as(role).get(s.path(name)).body
			assert.True(t, strings.Contains(body, "tau 0.20 over 5 hooks") && strings.Contains(body, trend.Caution), "%s of the %s", name, role)
		}
	}
	for _, path := range []string{"", "result", "result.csv", "result.json", "sheet", "booth"} {
		assert.False(t, strings.Contains(strings.ToLower(visitor{fair: p.fair}.get(s.path(path)).body), "random order"), path)
	}
	for _, role := range []domain.Role{domain.Desk, domain.Booth, domain.Cab} {
		told := p.ask(call{method: http.MethodGet, path: s.api("/trend"), as: p.secrets[role]}).is(http.StatusOK)
		assert.Equal(t, []string{"1", "5", "0.2", "true", trend.Caution},
			[]string{told.at("rounds.0.round"), told.at("rounds.0.hooks"), told.at("rounds.0.tau"), told.at("rounds.0.exact"), told.at("caution")})
	}
	for _, as := range []string{"", p.secret(inventedSlug, domain.Scale)} {
		assert.GreaterOrEqual(t, p.ask(call{method: http.MethodGet, path: s.api("/trend"), as: as, wrong: as == ""}).status, http.StatusUnauthorized)
	}
}
