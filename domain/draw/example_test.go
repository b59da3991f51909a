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
