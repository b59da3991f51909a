package postgres_test

import (
	"fmt"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// BenchmarkStoringADistance stores distances in classes of forty: lock and read, decide, write and commit.
func BenchmarkStoringADistance(b *testing.B) {
	var numbers []string
	for i := range 40 {
		numbers = append(numbers, fmt.Sprint(i+1))
	}
	distance, err := domain.ParseDistance("263.10", domain.Foot)
	require.NoError(b, err)
	var d *day
	var c domain.Class
	left := 0
	for range b.N {
		if left == 0 {
			b.StopTimer()
			d = newDay(b, "floating-ft", numbers...)
			c = d.begin()
			c = d.record(c, "281.36")
			c = d.must(domain.Choose{Hook: c.Pending().Hook.ID, Option: domain.Keep, Next: uuid.New()})
			left = len(numbers) - 2
			b.StartTimer()
		}
		c = d.must(domain.Record{Hook: c.OnTrack().ID, Result: domain.Result{Outcome: domain.Measured, Distance: distance}, Next: uuid.New()})
		left--
	}
}
