package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// beforehand is the invented event as it was before its first hook, with the settings that its crew has written.
func beforehand(page desk.EventPage) []domain.Class {
	var classes []domain.Class
	for _, c := range page.Classes {
		c = c.Clone()
		c.Official = domain.Official{}
		if len(c.Rounds) > 0 {
			c.Rounds = c.Rounds[:1]
			c.Rounds[0].Hooks = nil
		}
		classes = append(classes, c)
	}
	return classes
}

// The manual says what the order of the invented event costs as it was made by hand, and what the proposal does; once in
// its three sessions, and once with all six classes in one.
func TestTheManualHasTheProposalOfTheInventedEvent(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	page, err := s.desk.EventPage(s.ctx, inventedSlug)
	require.NoError(t, err)
	var rows []string
	for _, day := range []string{"three sessions, as planned", "all in one session", "all in one session, by their names"} {
		classes := beforehand(page)
		for i := range classes {
			if day != "three sessions, as planned" {
				classes[i].Session = page.Event.Sessions[0].ID
			}
		}
		if day == "all in one session, by their names" {
			slices.SortFunc(classes, func(a, b domain.Class) int { return strings.Compare(a.Name, b.Name) })
		}
		asks, err := domain.SequenceOf(page.Event, classes, domain.Wishes{Work: domain.UsualWork()})
		require.NoError(t, err)
		var ids []string
		for _, c := range classes {
			ids = append(ids, c.ID.String())
		}
		byHand, err := asks.Evaluate(ids)
		require.NoError(t, err)
		best, err := asks.Propose()
		require.NoError(t, err)
		assert.LessOrEqual(t, best.Cost.Total, byHand.Cost.Total)
		assert.True(t, best.Exact)
		rows = append(rows, fmt.Sprintf("| %s | %v | %v | %v |", day, byHand.Cost.Total.Minutes(), best.Cost.Total.Minutes(), best.Bound.Minutes()))
	}
	manual, err := os.ReadFile(filepath.Join("..", "..", "docs", "programme.md"))
	require.NoError(t, err)
	assert.Contains(t, string(manual), strings.Join(rows, "\n"))
}
