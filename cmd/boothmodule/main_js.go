package main

import (
	"context"
	"syscall/js"
	"time"

	"clayline/domain/doc"
)

// main gives the page the function claylineBooth, which takes a question and returns the answer, and stays.
func main() {
	js.Global().Set("claylineBooth", js.FuncOf(func(_ js.Value, args []js.Value) any {
		return string(answer(context.Background(), []byte(args[0].String()), fixedZone))
	}))
	select {}
}

// fixedZone gives the event the clock that the copy came with, since a browser has no table of time zones here. One event
// is asked about at a time.
func fixedZone(c *doc.ClassCopy) {
	time.Local = time.FixedZone("", c.Offset)
	c.Event.Zone = "Local"
}
