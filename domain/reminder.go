package domain

import (
	"slices"

	"github.com/google/uuid"
)

// HooksAhead returns how many hooks are made before that of an entry in the current round, that on the track among them;
// 0 for the next, and false where the entry does not wait. Before the first call of a round nothing is counted: when it
// begins depends on what is pulled before it. While somebody chooses nothing is counted, because the choice may
// move the order, and while the class is stopped nobody is ahead of anybody.
//
// With 41 on the track and 7, 23 and 12 waiting, 12 has three hooks ahead: 41, 7 and 23.
func (c *Class) HooksAhead(entry uuid.UUID) (int, bool) {
	r, on := c.Current(), c.OnTrack()
	if r == nil || len(r.Hooks) == 0 || c.Stopped != (Stopped{}) || c.Phase() == ChoiceOpen || on != nil && !on.Ended.IsZero() {
		return 0, false
	}
	ahead := slices.Index(r.Waiting(), entry)
	if ahead < 0 {
		return 0, false
	}
	if on != nil {
		ahead++
	}
	return ahead, true
}
