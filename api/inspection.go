package api

import (
	"fmt"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
)

// inspection is what people found of a sled before an event, with the name of who signed for it.
type inspection struct {
	ID     uuid.UUID   `json:"id"`
	At     time.Time   `json:"at"`
	By     string      `json:"by"`
	Points []inspected `json:"points"`
}

// inspected is one point of an inspection: {"point": "wheel brakes hold", "state": "ok"}.
type inspected struct {
	Point string `json:"point"`
	State string `json:"state"`
	Note  string `json:"note,omitempty"`
}

// inspectionOf writes an inspection, with the points that nobody looked at.
func inspectionOf(i domain.Inspection) inspection {
	written := inspection{ID: i.ID, At: i.At.UTC(), By: i.By, Points: make([]inspected, len(i.Points))}
	for j, p := range i.Points {
		written.Points[j] = inspected{Point: p.Point, State: p.State.String(), Note: p.Note}
	}
	return written
}

// readInspection reads an inspection of the sled of the address: {"by": "A. Flagg", "points": [{"point": "wheel brakes hold",
// "state": "ok"}]}. What is left out was not looked at.
func readInspection(in *sent) alteration {
	id := in.fresh("id")
	action := domain.InspectSled{Inspection: id, Sled: in.param("sled")}
	for i, o := range in.body.inners("points", maxPoints) {
		p := domain.Inspected{Point: o.text("point", maxText), Note: o.maybe("note")}
		var err error
		p.State, err = domain.ParsePointState(o.text("state", maxText))
		in.body.keep(fmt.Sprintf("points[%d].state", i), err)
		_ = o.done() // kept for the whole body
		action.Points = append(action.Points, p)
	}
	signed, err := domain.SignInspection(action, in.body.text("by", maxText))
	in.body.keep("by", err)
	return alteration{signed, named{ID: &id}}
}

// maxPoints is how many points an inspection may have.
const maxPoints = 50
