package api

import (
	"net/http"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/sequence"
)

// maxOrder bounds the classes that one write may put in order.
const maxOrder = 200

// proposal compares the order in use with the one that costs least, both with the usual work.
type proposal struct {
	versioned
	InUse    costed `json:"in_use"`
	Proposed costed `json:"proposed"`
	// Bound is what no order costs less than, in minutes.
	Bound float64 `json:"bound"`
	Exact bool    `json:"exact"`
	// Loosened are classes whose place could not be kept together with the others.
	Loosened []string `json:"loosened"`
	Caution  string   `json:"caution"`
}

// costed is an order with what it costs, in minutes.
type costed struct {
	Box     float64 `json:"box"`
	Track   float64 `json:"track"`
	Waiting float64 `json:"waiting"`
	Late    float64 `json:"late_start"`  // ten times in Total
	Past    float64 `json:"past_curfew"` // likewise
	Total   float64 `json:"total"`
	Classes []turn  `json:"classes"`
}

// turn is a class in its place.
type turn struct {
	ID      string    `json:"id"`
	Session uuid.UUID `json:"session"`
	Track   uuid.UUID `json:"track"`
	Starts  time.Time `json:"starts"`
	Ends    time.Time `json:"ends"`
	Change  float64   `json:"change"`
	Waiting float64   `json:"waiting"`
}

// order shows the order of the classes with a proposal, to the desk. It is computed when it is asked for, and stores
// nothing. What the proposal is to keep stands in the address; see [readPins].
func (s *Server) order(c echo.Context) error {
	_, page, err := s.staffEvent(c, domain.Desk)
	if err != nil {
		return err
	}
	pins, err := readPins(c.QueryParams())
	if err != nil {
		return err
	}
	// A class that is to keep its place alone keeps its fixed start too.
	for i := range page.Classes {
		if wish, ok := pins[page.Classes[i].ID]; ok && wish.Starts.IsZero() {
			wish.Starts = page.Classes[i].Fixed
			pins[page.Classes[i].ID] = wish
		}
	}
	asks, err := domain.SequenceOf(page.Event, page.Classes, domain.Wishes{Work: domain.UsualWork(), Classes: pins})
	if err != nil {
		return err
	}
	now, err := asks.InUse()
	if err != nil {
		return err
	}
	best, err := asks.Propose()
	if err != nil {
		return err
	}
	return send(c, http.StatusOK, proposal{
		versioned: versioned{lastNumber(page.Journal)}, InUse: costedOf(page.Event, asks, now), Proposed: costedOf(page.Event, asks, best),
		Bound: best.Bound.Minutes(), Exact: best.Exact, Loosened: append([]string{}, best.Loosened...), Caution: "All times are estimates. What the crew needs to work without haste, the crew says.",
	})
}

// costedOf writes an order, by track and start.
func costedOf(e domain.Event, asks domain.Sequence, o sequence.Order) costed {
	told := costed{Box: o.Cost.Box.Minutes(), Track: o.Cost.Track.Minutes(), Waiting: o.Cost.Wait.Minutes(), Late: o.Cost.Late.Minutes(), Past: o.Cost.Overrun.Minutes(), Total: o.Cost.Total.Minutes(), Classes: []turn{}}
	for _, t := range o.Turns {
		told.Classes = append(told.Classes, turn{
			ID: t.Class, Session: asks.Sessions[t.Session].ID, Track: e.Tracks[t.Track].ID,
			Starts: asks.Zero.Add(t.Start), Ends: asks.Zero.Add(t.End), Change: t.Change.Total().Minutes(), Waiting: t.Wait.Minutes(),
		})
	}
	return told
}

// readOrder reads all classes of the event in the order that is to be used: {"classes": [{"id": "4c…"}, {"id": "77…"}]}.
func readOrder(in *sent) alteration {
	var order domain.OrderClasses
	for _, class := range in.body.inners("classes", maxOrder) {
		order.Classes = append(order.Classes, class.id("id"))
		in.body.keep("classes", class.done()) // a field too many
	}
	return alteration{order, named{}}
}
