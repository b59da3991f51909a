package api

import (
	"encoding/base64"
	"fmt"
	"strconv"

	"github.com/labstack/echo/v4"
)

// Bounds of one part of a list. A part is at most a few tens of KiB, so that a phone can ask for one.
const (
	usualLimit = 50
	maxLimit   = 200
)

// limitOf reads how many items a program wants at most, the usual number when it does not say. Below one and above the
// bound it is refused rather than bent: a program that asked for 1000 and got 200 would take that for all there are.
func limitOf(c echo.Context) (int, error) {
	text := c.QueryParam("limit")
	if text == "" {
		return usualLimit, nil
	}
	limit, err := strconv.Atoi(text)
	if err != nil || limit < 1 || limit > maxLimit {
		return 0, invalid("limit", text+" items cannot be had at once", fmt.Sprintf("write 1 to %d", maxLimit))
	}
	return limit, nil
}

// cursorOf reads where a list goes on, "" for its beginning. It is the name of the last item that was told and not a
// count, so that what is put in front of a list meanwhile is not told twice. What a cursor says is nobody's business
// but ours; it is encoded so that no program comes to write one itself.
func cursorOf(c echo.Context) (string, error) {
	raw, err := base64.RawURLEncoding.DecodeString(c.QueryParam("cursor"))
	if err != nil {
		return "", badCursor()
	}
	return string(raw), nil
}

// badCursor refuses a cursor that was made for another list or by somebody else.
func badCursor() error {
	return invalid("cursor", "that cursor is not one of this list", "take the one that the last part gave as next, or none to begin")
}

// cursorTo writes where a list goes on after the place. Base64url without padding passes through an address as it is.
func cursorTo(place string) string { return base64.RawURLEncoding.EncodeToString([]byte(place)) }

// part cuts at most limit items after a place out of a list, and says where it goes on, "" at its end. "" is the place
// before the first item. The place must be in the list: one that is not there is refused, because going on from a guess
// would leave items out in silence.
//
//	part([a b c d], "b", 1, …)     [c], cursor of c
//	part([a b c d], "c", 1, …)     [d], ""
func part[T any](list []T, place string, limit int, name func(T) string) (cut []T, next string, err error) {
	start := 0
	if place != "" {
		for start < len(list) && name(list[start]) != place {
			start++
		}
		if start == len(list) {
			return nil, "", badCursor()
		}
		start++
	}
	end := min(start+limit, len(list))
	if end < len(list) {
		next = cursorTo(name(list[end-1]))
	}
	return list[start:end], next, nil
}
