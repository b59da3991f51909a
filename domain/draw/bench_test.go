package draw_test

import (
	"testing"

	"clayline/domain/draw"
)

// BenchmarkDraw draws forty entries of twenty drivers, 3 apart.
func BenchmarkDraw(b *testing.B) {
	labels, rules := numbered(40), draw.Rules{Groups: pairs(20, 3)}
	for b.Loop() {
		if _, err := draw.Draw("dice 4 2 6", labels, rules); err != nil {
			b.Fatal(err)
		}
	}
}
