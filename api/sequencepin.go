package api

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
)

// readPins reads what the proposal is to keep, each pair as often as there are classes:
//
//	?place=4c…,2&place=77…,1&starts=4c…,2026-09-19T19:30:00Z
//
// A place is that of a class on its track in its session, from 1; a start is waited for.
func readPins(asked url.Values) (map[uuid.UUID]domain.ClassWish, error) {
	pins := make(map[uuid.UUID]domain.ClassWish)
	for _, pair := range asked["place"] {
		id, rest, err := pinned("place", pair)
		if err != nil {
			return nil, err
		}
		wish := pins[id]
		if wish.Place, err = strconv.Atoi(rest); err != nil || wish.Place < 1 || wish.Place > maxOrder {
			return nil, invalid("place", fmt.Sprintf("%q is no place", rest), fmt.Sprintf("write one from 1 to %d behind the id of the class and a comma", maxOrder))
		}
		pins[id] = wish
	}
	for _, pair := range asked["starts"] {
		id, rest, err := pinned("starts", pair)
		if err != nil {
			return nil, err
		}
		wish := pins[id]
		if wish.Starts, err = time.Parse(time.RFC3339, rest); err != nil {
			return nil, invalid("starts", fmt.Sprintf("%q is not a time", rest), "write one such as 2026-09-19T19:30:00Z behind the id of the class and a comma")
		}
		pins[id] = wish
	}
	return pins, nil
}

// pinned parts a pair at its comma.
func pinned(field, pair string) (uuid.UUID, string, error) {
	left, right, _ := strings.Cut(pair, ",")
	id, err := uuid.Parse(left)
	if err != nil {
		return id, "", invalid(field, fmt.Sprintf("%q is not the id of a class", left), "write the id of a class, a comma, and what it is to keep")
	}
	return id, right, nil
}
