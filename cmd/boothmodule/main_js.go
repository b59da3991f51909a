package main

import (
	"context"
	"syscall/js"
	"time"

	"clayline/domain/doc"
	"clayline/webui/language"
)

// main gives the page the function claylineBooth, which takes a question and returns the answer, and claylineSpeak, which
// takes the tag of a language and its catalogue, answers in it from then on, and returns what is wrong with them, if anything.
// It stays.
func main() {
	ctx := context.Background()
	js.Global().Set("claylineSpeak", js.FuncOf(func(_ js.Value, args []js.Value) any {
		l, err := language.Given(args[0].String(), []byte(args[1].String()))
		if err != nil {
			return err.Error()
		}
		ctx = language.With(ctx, l)
		return ""
	}))
	js.Global().Set("claylineBooth", js.FuncOf(func(_ js.Value, args []js.Value) any {
		return string(answer(ctx, []byte(args[0].String()), fixedZone))
	}))
	select {}
}

// fixedZone gives the event the clock that the copy came with, since a browser has no table of time zones here. One event
// is asked about at a time.
func fixedZone(c *doc.ClassCopy) {
	time.Local = time.FixedZone("", c.Offset)
	c.Event.Zone = "Local"
}
