package postgres_test

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// slabbed plans a second class of the day, with a sled whose slabs are described, draws it and drafts a setting on it.
func (d *day) slabbed(piles string) domain.Class {
	d.t.Helper()
	heavy, err := domain.ParseWeight("1800 lb")
	require.NoError(d.t, err)
	light, err := domain.ParseWeight("900 lb")
	require.NoError(d.t, err)
	sled := d.event.Sleds[0]
	sled.Card.Slabs.Kinds = []domain.SlabKind{{Weight: heavy, Count: 12}, {Weight: light, Count: 4}}
	require.NoError(d.t, d.change(desk.AnyVersion, domain.DescribeSled{Sled: sled, Version: 1}))
	plan := domain.PlanClass{Class: uuid.New(), Session: d.event.Sessions[0].ID, Track: d.event.Tracks[0].ID, Name: "Farm stock", Sled: sled,
		Rules: d.must(domain.AddEntry{Entry: uuid.New(), Number: "9"}).Rules}
	receipt, err := d.desk.PlanClass(d.ctx, organiser, d.ref.Event, uuid.New(), plan)
	require.NoError(d.t, err)
	d.ref.Class = receipt.Class.Slug
	d.must(domain.AddEntry{Entry: uuid.New(), Number: "41"})
	c := d.must(domain.DrawClass{Round: uuid.New(), Seed: "dice 4 2 6"})
	return d.must(domain.DraftSetting{Round: c.Current().ID, Setting: d.laid(piles)})
}

// laid is a setting whose weight in the box is left to its slabs.
func (d *day) laid(piles string) domain.Setting {
	d.t.Helper()
	s := setting(d.t)
	s.Box, s.Slabs = domain.Weight{}, domain.Slabs{}
	require.NoError(d.t, s.Piles.UnmarshalText([]byte(piles)))
	return s
}

// read reads the newest setting of the class from the database, past what the process has in memory.
func (d *day) read() domain.Setting {
	d.t.Helper()
	page, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(d.t, err)
	revisions := page.Class.Current().Revisions
	return revisions[len(revisions)-1].Setting
}

// Slabs are kept by their weight, a draft may be written over, and what is frozen is held over SQL too.
func TestSlabsAreKeptAndFrozen(t *testing.T) {
	t.Parallel()
	for _, role := range sqlRoles {
		t.Run("as "+role, func(t *testing.T) {
			t.Parallel()
			d := newDay(t, "capped-300ft")
			c := d.slabbed("1800 lb: 6 left, 6 right")
			require.Equal(t, "21,600 lb", d.read().Box.String())
			round := c.Current().ID
			d.must(domain.DraftSetting{Round: round, Setting: d.laid("1800 lb: 6 left, 5 right; 900 lb: 1 middle, 1 right")})
			require.Equal(t, "1,800 lb: 6 left, 5 right; 900 lb: 1 middle, 1 right", d.read().Piles.String())
			require.Equal(t, domain.Slabs{Left: 6, Middle: 1, Right: 6}, d.read().Slabs)

			conn := d.sql(role)
			_, err := conn.Exec(d.ctx, `UPDATE setting SET piles = '900 lb: 1 left' WHERE round_id = $1`, round)
			require.NoError(t, err, "a draft is nobody's promise")
			d.must(domain.DraftSetting{Round: round, Setting: d.laid("1800 lb: 6 left, 6 right")})
			d.must(domain.FreezeSetting{Round: round, Revision: 1})
			for _, change := range []string{`piles = '900 lb: 1 left'`, `piles = ''`, `slabs_left = 1`, `box = '900 lb'`} {
				_, err := conn.Exec(d.ctx, `UPDATE setting SET `+change+` WHERE round_id = $1`, round)
				refused(t, err, "frozen_setting_is_not_changed")
			}
			d.must(domain.ResetSetting{Round: round, Reason: "too light"})
			_, err = conn.Exec(d.ctx, `UPDATE setting SET piles = '900 lb: 1 left' WHERE round_id = $1 AND revision = 1`, round)
			refused(t, err, "frozen_setting_is_not_changed")
			require.Equal(t, "1,800 lb: 6 left, 6 right", d.read().Piles.String(), "the draft after a reset begins with them")
		})
	}
}
