package api

import (
	"encoding/base64"
	"fmt"
	"strconv"

	"github.com/labstack/echo/v4"
)

// Bounds of one part of a list.
const (
	usualLimit = 50
	maxLimit   = 200
)

// limitOf reads how many items a program wants at most.
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

// cursorOf reads where a list goes on, "" for its beginning. What a cursor says is nobody's business but ours.
func cursorOf(c echo.Context) (string, error) {
	raw, err := base64.RawURLEncoding.DecodeString(c.QueryParam("cursor"))
	if err != nil {
		return "", badCursor()
	}
	return string(raw), nil
}

func badCursor() error {
	return invalid("cursor", "that cursor is not one of this list", "take the one that the last part gave as next, or none to begin")
}

// cursorTo writes where a list goes on after the place.
func cursorTo(place string) string { return base64.RawURLEncoding.EncodeToString([]byte(place)) }

// part cuts what comes after a place out of a list, and says where it goes on, "" at its end. The place must be in it.
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
