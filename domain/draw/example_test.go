package draw_test

import (
	"fmt"

	"clayline/domain/draw"
)

// The example of docs/draw.md: the smallest hash hooks first.
func ExampleOrder() {
	numbers := []string{"7", "23", "41"}
	for _, i := range draw.Order("dice 4 2 6", numbers) {
		fmt.Println(numbers[i], draw.Key("dice 4 2 6", numbers[i])[:8])
	}
	// Output:
	// 41 1a2ecc87
	// 7 221b2a76
	// 23 27e16c85
}

// The example with rules of docs/draw.md: 7 and 23 follow each other in the first draw, and not in the second.
func ExampleDraw() {
	numbers := []string{"41", "7", "23", "12"}
	drawn, err := draw.Draw("dice 4 2 6", numbers, draw.Rules{Groups: []draw.Group{{Members: []int{1, 2}, Between: 1}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, i := range drawn.Order {
		fmt.Println(numbers[i], draw.Key(draw.TrySeed("dice 4 2 6", drawn.Try), numbers[i])[:8])
	}
	// Output:
	// 23 314b3d4f
	// 12 548d643e
	// 41 b5b80bc1
	// 7 d453f537
}
