//go:build !js

package picture

import (
	"fmt"
	"strings"

	"rsc.io/qr"

	"clayline/domain"
)

// quiet is the width of the empty frame around a code, in modules: ISO/IEC 18004 asks for four.
const quiet = 4

// Code draws a text as a QR code for people to point a phone at: black on white whatever the page is drawn on, with its
// empty frame, at any size without a blur. A level of correction at which 15 of 100 words may be lost leaves room for rain
// and a staple. A text that is too long for a code is refused.
//
//	picture.Code("https://pull.example/e/tarn-hollow/pits")   <svg class="code" viewBox="0 0 37 37" …>
func Code(text string) (string, error) {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return "", &domain.Error{Kind: domain.Invalid, Field: "address", Message: "the address is too long for a code", Fix: "give the event or the class a shorter name", Cause: err}
	}
	var path strings.Builder
	for y := range code.Size {
		for x := 0; x < code.Size; {
			run := 0
			for x+run < code.Size && code.Black(x+run, y) {
				run++
			}
			if run > 0 {
				fmt.Fprintf(&path, "M%d %dh%dv1h-%dz", x+quiet, y+quiet, run, run)
			}
			x += run + 1
		}
	}
	side := code.Size + 2*quiet
	return fmt.Sprintf(`<svg class="code" viewBox="0 0 %d %d" aria-hidden="true" focusable="false" shape-rendering="crispEdges"><path fill="#fff" d="M0 0h%dv%dh-%dz"/><path fill="#000" d="%s"/></svg>`,
		side, side, side, side, side, path.String()), nil
}
