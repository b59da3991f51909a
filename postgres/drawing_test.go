package postgres_test

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/draw"
)

// A commitment, what a draw had to keep, and places that changed are read back as they were decided; and the groups of
// a repeated draw are those of its line, although somebody was entered since.
func TestADrawUnderRulesIsKept(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41", "7", "23", "12", "19")
	const secret = "grey heron 9f2c41d07be3"
	hash, err := draw.Commit(secret)
	require.NoError(t, err)
	same := func(c domain.Class) domain.Class {
		t.Helper()
		page, err := d.desk.ClassPage(d.ctx, d.ref)
		require.NoError(t, err)
		require.Equal(t, c, page.Class)
		return c
	}
	for _, number := range []string{"5", "6"} {
		d.must(domain.AddEntry{Entry: uuid.New(), Number: number, Details: domain.Details{Puller: "Maud Farrow"}})
	}
	c := same(d.must(domain.Commit{Hash: hash}))
	require.Equal(t, hash, c.Promise.Hash)
	asked := domain.DrawClass{
		Round: uuid.New(), Seed: "dice 4 2 6", Reveal: secret, Between: 3, Fixed: []domain.Seat{{Entry: c.Entries[0].ID, Place: 2}},
	}
	action := uuid.New()
	first, err := d.desk.Act(d.ctx, organiser, d.ref, action, asked)
	require.NoError(t, err)
	c = same(first.Class)
	require.Empty(t, c.Promise.Hash, "used up")
	require.Len(t, c.Draw.How.Groups, 1, "two entries have one puller")
	require.Equal(t, c.Entries[0].ID, c.Draw.Order[1])
	same(d.must(domain.Swap{Entry: c.Draw.Order[0], With: c.Draw.Order[6], Reason: "one trailer"}))
	d.must(domain.AddEntry{Entry: uuid.New(), Number: "8", Details: domain.Details{Puller: "Maud Farrow"}})
	again, err := d.desk.Act(d.ctx, organiser, d.ref, action, asked)
	require.NoError(t, err)
	require.Equal(t, []any{true, first.Number}, []any{again.Repeated, again.Number})
}
