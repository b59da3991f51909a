package api

import (
	"time"

	"github.com/google/uuid"

	"clayline/domain"
)

// weighing is what the scale showed for an entry. A reading that was misread does not count, and says why.
type weighing struct {
	ID      uuid.UUID `json:"id"`
	Entry   uuid.UUID `json:"entry"`
	Weight  *measure  `json:"weight"`
	After   bool      `json:"after"`
	At      time.Time `json:"at"`
	Within  bool      `json:"within"`
	Misread string    `json:"misread,omitempty"`
}

// weighingsOf writes what the scale showed, in the order weighed; none is the empty list.
func weighingsOf(c *domain.Class) []weighing {
	list := make([]weighing, len(c.Readings))
	for i, r := range c.Readings {
		list[i] = weighing{
			ID: r.ID, Entry: r.Entry, Weight: weightOf(r.Weight), After: r.After, At: r.At.UTC(), Within: c.Rules.Weight.Within(r.Weight), Misread: r.Misread,
		}
	}
	return list
}

// toWeighOf lists who is to go over the scale after the hook; none is the empty list.
func toWeighOf(c *domain.Class) []uuid.UUID { return append([]uuid.UUID{}, c.ToWeigh()...) }

// readWeighing reads what the scale showed; after is false when it is left out.
//
//	{"entry": "0b…", "weight": {"figures": "8480", "unit": "lb"}, "after": true}
func readWeighing(in *sent) deed {
	id, entry := in.fresh("id"), in.body.id("entry")
	action := domain.Weigh{Reading: id, Entry: entry, Weight: in.body.weight("weight"), After: in.body.truth("after")}
	return deed{action: action, named: named{Reading: &id, Entry: &entry}, sure: in.body.truth("confirmed"), fields: map[string]string{"weight": "weight.figures"}}
}

// readMisread reads {"reason": "that was number 7"} for the reading of the address.
func readMisread(in *sent) deed {
	id := in.param("reading")
	return deed{action: domain.Misread{Reading: id, Reason: in.body.text("reason", maxText)}, named: named{Reading: &id}}
}
