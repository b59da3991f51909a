package api

import (
	"time"

	"github.com/google/uuid"

	"clayline/domain"
)

// draw is how the order of a class came about; docs/draw.md says how anybody computes it again. Times counts how often
// the class was drawn; of more than one draw the last is told, with the reason for it.
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

// readDraw reads {"seed": "dice 4 2 6, crowd says 17"}. The seed is what people agreed on in front of everybody; it is
// never made here, because nobody would believe it. Round is the id of the first round, which the draw opens.
func readDraw(in *sent) deed {
	round := in.fresh("round")
	action := domain.DrawClass{Round: round, Seed: in.body.text("seed", maxText), Reason: in.body.maybe("reason")}
	return deed{action: action, fields: map[string]string{"id": "round"}}
}
