package api

import (
	"time"

	"github.com/google/uuid"

	"clayline/domain"
)

// draw is how the order of a class came about; docs/draw.md says how anybody computes it again.
type draw struct {
	Seed   string      `json:"seed"`
	At     time.Time   `json:"at"`
	Order  []uuid.UUID `json:"order"`
	Times  int         `json:"times"`
	Reason string      `json:"reason,omitempty"`
}

// drawOf writes the draw, nil while the class is not drawn.
func drawOf(d domain.Draw) *draw {
	if d.Times == 0 {
		return nil
	}
	return &draw{Seed: d.Seed, At: d.Drawn.UTC(), Order: d.Order, Times: d.Times, Reason: d.Reason}
}

func readDraw(in *sent) deed {
	round := in.fresh("round")
	action := domain.DrawClass{Round: round, Seed: in.body.text("seed", maxText), Reason: in.body.maybe("reason")}
	return deed{action: action, fields: map[string]string{"id": "round"}}
}
