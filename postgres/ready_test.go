package postgres_test

import (
	"crypto/rand"
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/postgres"
)

// What the crew said before a hook and noted of it, another process reads as this one left it.
func TestWhatTheCrewSaidIsStored(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41", "7")
	other, err := postgres.Open(d.ctx, d.url)
	require.NoError(t, err)
	t.Cleanup(other.Close)
	elsewhere := desk.New(other, d.now, rand.Reader)
	begun := d.begin()
	on := begun.OnTrack().ID
	for _, said := range []domain.SayReady{{Hook: on, Held: true, Words: "cable frayed"}, {Hook: on}} {
		c := d.must(said)
		require.Equal(t, said.Held, c.OnTrack().Ready.Held)
		read, err := elsewhere.ClassPage(d.ctx, d.ref)
		require.NoError(t, err)
		require.Equal(t, c, read.Class)
	}
	c := d.must(domain.NoteDifference{Hook: on, What: domain.HandDrop | domain.EarlyClutch, Words: "pan hung"})
	require.Equal(t, "hand drop, clutch out early: pan hung", c.OnTrack().Difference.String())
	top, err := domain.ParseSpeed("18.40 mph")
	require.NoError(t, err)
	atLine, err := domain.ParseSpeed("28 km/h")
	require.NoError(t, err)
	c = d.must(domain.ReadSpeed{Hook: on, Top: top, AtLine: atLine})
	require.Equal(t, "top 18.40 mph, at the line 28 km/h", c.OnTrack().Speeds.String(), "with the digits and the unit as they were read")
	read, err := elsewhere.ClassPage(d.ctx, d.ref)
	require.NoError(t, err)
	require.Equal(t, c, read.Class)
}
