package api

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/trend"
)

// trends tell of each round that is over whether distances moved with the hook order, for staff alone.
type trends struct {
	versioned
	Rounds  []roundTrend `json:"rounds"`
	Caution string       `json:"caution"`
}

// roundTrend is one round: Kendall's tau-b, and how often a random order would show as much, from 0 to 1.
type roundTrend struct {
	Round    domain.RoundName `json:"round"`
	Hooks    int              `json:"hooks"`
	Tau      float64          `json:"tau"`
	P        float64          `json:"p"`
	Exact    bool             `json:"exact"`
	Sentence string           `json:"sentence"`
}

// trend shows the trends of a class. It is read from the store and not from the shelf, because it is not public.
func (s *Server) trend(c echo.Context) error {
	page, err := s.staffClass(c, domain.Desk|domain.Booth|domain.Cab)
	if err != nil {
		return err
	}
	return send(c, http.StatusOK, trendsOf(lastNumber(page.Journal), &page.Class))
}

// trendsOf writes the rounds of which there is something to say.
func trendsOf(version int64, c *domain.Class) trends {
	told := trends{versioned: versioned{version}, Rounds: []roundTrend{}, Caution: trend.Caution}
	for i := range c.Rounds {
		t := trend.Of(c.InHookOrder(i))
		if says := t.Sentence(); says != "" {
			told.Rounds = append(told.Rounds, roundTrend{Round: c.Rounds[i].Name, Hooks: t.N, Tau: t.Tau, P: t.P, Exact: t.Exact, Sentence: says})
		}
	}
	return told
}
