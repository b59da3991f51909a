package webui

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// crowded is an evening of so many classes with twenty entries each, of whom every tenth is in another class too.
func crowded(n int) desk.EventPage {
	chance := rand.New(rand.NewPCG(7, 1))
	page := ordering()
	page.Classes = nil
	for i := range n {
		c := domain.Class{
			ID: uuid.UUID{byte(i + 1)}, Name: fmt.Sprint("Class ", i), Slug: fmt.Sprint("class-", i), Session: uuid.UUID{1}, Track: uuid.UUID{3}, Rules: domain.RuleSet{Rounds: 1},
			Rounds: []domain.Round{{Revisions: []domain.Revision{{Number: 1, Setting: domain.Setting{Slabs: domain.Slabs{Left: chance.IntN(15)}, Gear: 1 + chance.IntN(4), StartHole: 1}}}}},
		}
		for k := range 20 {
			puller := fmt.Sprintf("Puller %d of %d", k, i)
			if chance.IntN(10) == 0 {
				puller = fmt.Sprint("Regular ", chance.IntN(n))
			}
			c.Entries = append(c.Entries, domain.Entry{Details: domain.Details{Puller: puller, Vehicle: fmt.Sprintf("Vehicle %d of %d", k, i)}})
		}
		page.Classes = append(page.Classes, c)
	}
	return page
}

// BenchmarkSequenceOfSixtyClasses is the whole page of the largest programme there is: both orders, the proposal and what
// each move costs.
func BenchmarkSequenceOfSixtyClasses(b *testing.B) {
	page := crowded(60)
	for b.Loop() {
		require.Empty(b, sequenceOf(page, nil).Notice)
	}
}
