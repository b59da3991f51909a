package postgres_test

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// What the steward says is kept with the place in the line-up, through a move of it; the cab may not say it.
func TestWhatTheStewardSaysIsKept(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41", "7", "23")
	d.begin()
	page, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(t, err)
	steward := desk.By{Role: domain.Lane, Device: "lane"}
	waiting := page.Class.Current().Waiting()
	for i, where := range []domain.Where{domain.Here, domain.Missing} {
		receipt, err := d.desk.Act(d.ctx, steward, d.ref, uuid.New(), domain.SayWhere{Entry: waiting[i], Where: where})
		require.NoError(t, err)
		assert.Equal(t, where, receipt.Class.InLine()[i+1].Where)
	}
	before := page.Class.OnTrack().Entry
	c := d.must(domain.Drop{Hook: page.Class.OnTrack().ID, Reason: "belt", Places: page.Class.Rules.DropPlaces, Next: uuid.New()})
	read, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(t, err)
	assert.Equal(t, c.InLine(), read.Class.InLine())
	said := map[uuid.UUID]domain.Where{}
	for _, l := range read.Class.InLine() {
		said[l.Entry] = l.Where
	}
	assert.Equal(t, map[uuid.UUID]domain.Where{waiting[0]: domain.Here, waiting[1]: domain.Missing, before: 0}, said)
	_, err = d.desk.Act(d.ctx, desk.By{Role: domain.Cab}, d.ref, uuid.New(), domain.SayWhere{Entry: waiting[0], Where: domain.Here})
	assert.Equal(t, domain.Forbidden, domain.KindOf(err))
	_, err = d.desk.Act(d.ctx, steward, d.ref, uuid.New(), domain.Scratch{Entry: waiting[0], Reason: "x"})
	assert.Equal(t, domain.Forbidden, domain.KindOf(err), "the lane decides nothing")
}
