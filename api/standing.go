package api

import (
	"context"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
)

// standing is the ranking of a class as it is now. A scoreboard needs no more, and its document is a tenth of the
// class's.
type standing struct {
	versioned
	Phase    string    `json:"phase"`
	Official *official `json:"official,omitempty"`
	Standing []placing `json:"standing"`
}

// placing is one line of a standing; an entry without a place has null there and stands at the end. Total is left out
// where nothing counts yet. Shared says that the place is another's too.
type placing struct {
	Place     *int      `json:"place"`
	Shared    bool      `json:"shared"`
	Entry     uuid.UUID `json:"entry"`
	Number    string    `json:"number"`
	Total     *measure  `json:"total,omitempty"`
	FullPull  bool      `json:"full_pull"`
	Withdrawn bool      `json:"withdrawn"`
	// Again says that there is no place because the vehicle of the entry has a better one.
	Again   bool          `json:"again"`
	Results []roundResult `json:"results"`
	// Points are left out before the class is decided, and where its rules give none.
	Points *points `json:"points,omitempty"`
}

// roundResult is what an entry has in a round. The members of the result stand beside the name of the round.
//
//	{"round": "1", "outcome": "measured", "distance": {"figures": "281.36", "unit": "ft"}}
type roundResult struct {
	Round string `json:"round"`
	result
}

// placingsOf writes the standing as the domain ranks it. Nothing is ranked here: two surfaces that ranked for
// themselves would sooner or later differ.
func placingsOf(c *domain.Class) []placing {
	placings, earned := c.Standing(), pointsOf(c)
	list := make([]placing, len(placings))
	for i, p := range placings {
		e := c.Entries[p.Row]
		list[i] = placing{
			Place: placeOf(p), Shared: p.Shared, Entry: e.ID, Number: e.Number, Total: distanceOf(p.Total), FullPull: p.FullPull,
			Withdrawn: p.Withdrawn, Again: p.Again, Results: resultsOf(c, e.ID), Points: earned[p.Row],
		}
	}
	return list
}

// placeOf returns the place, nil for none: a 0 would sort first.
func placeOf(p domain.Placing) *int {
	if p.Place == 0 {
		return nil
	}
	return &p.Place
}

// resultsOf lists what an entry has in each round in which it has something.
func resultsOf(c *domain.Class, entry uuid.UUID) []roundResult {
	list := []roundResult{}
	for i := range c.Rounds {
		if r := resultOf(c.Rounds[i].ResultOf(entry)); r != nil {
			list = append(list, roundResult{Round: c.Rounds[i].Name.String(), result: *r})
		}
	}
	return list
}

// standing shows the ranking alone.
func (s *Server) standing(c echo.Context) error {
	return s.public(c, "standing "+c.Param("event")+"/"+c.Param("class"), func(ctx context.Context) (document, error) {
		page, err := s.desk.ClassPage(ctx, ref(c))
		if err != nil {
			return nil, err
		}
		told := page.Class.Told()
		return standing{
			versioned: versioned{lastNumber(page.Journal)}, Phase: phases[page.Class.Phase()], Official: officialOf(page.Class.Official),
			Standing: placingsOf(&told),
		}, nil
	})
}
