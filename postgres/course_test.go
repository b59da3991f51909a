package postgres_test

import (
	"crypto/rand"
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/postgres"
)

// Where the line lies and lay, and that a class was stopped, another process reads as this one left it.
func TestTheCourseOfAClassIsStored(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft-movable", "41", "7", "23")
	other, err := postgres.Open(d.ctx, d.url)
	require.NoError(t, err)
	t.Cleanup(other.Close)
	elsewhere := desk.New(other, d.now, rand.Reader)
	line := func(s string) domain.Distance {
		distance, err := domain.ParseDistance(s, 0)
		require.NoError(t, err)
		return distance
	}
	d.begin()
	for _, step := range []struct {
		action domain.Action
		lies   string
		lay    string
	}{
		{domain.MoveLine{Line: line("320 ft"), Reason: "the sled is light"}, "320 ft", "300 ft"},
		{domain.StopClass{Reason: "rain"}, "320 ft", "300 ft"},
		{domain.ResumeClass{Reason: "dry again"}, "320 ft", "300 ft"},
		{domain.MoveLine{Line: line("300 ft"), Reason: "the wrong button"}, "300 ft", ""},
		{domain.StopClass{Reason: "rain"}, "300 ft", ""},
	} {
		c := d.must(step.action)
		require.Equal(t, []string{step.lies, step.lay}, []string{c.Rules.Line.String(), c.LineWas.String()})
		read, err := elsewhere.ClassPage(d.ctx, d.ref)
		require.NoError(t, err)
		require.Equal(t, c, read.Class, "%T", step.action)
	}
}
