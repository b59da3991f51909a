package api

import (
	"net/http"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
)

// points are what an entry earned, in the parts that add up to the total; a part of none is left out. All are text, because
// a shared place may give "13 1/3". Place is the place as it counted for them, why says what took the place of its points.
//
//	"points": {"total": "14", "place": 2, "for_place": "9", "for_hook": "5"}
type points struct {
	Total           string `json:"total"`
	Place           int    `json:"place,omitempty"`
	ForPlace        string `json:"for_place,omitempty"`
	ForShowUp       string `json:"for_show_up,omitempty"`
	ForHook         string `json:"for_hook,omitempty"`
	ForRegistration string `json:"for_registration,omitempty"`
	Why             string `json:"why,omitempty"`
}

// pointsOf writes the points of each entry, at its index; nil for everybody before the class is decided, and where the
// rules give none.
func pointsOf(c *domain.Class) []*points {
	list := make([]*points, len(c.Entries))
	if !c.Rewards() || !c.Rules.Points.Given() {
		return list
	}
	for i, e := range c.Reward().Earned {
		list[i] = &points{
			Total: e.Total().String(), Place: e.Place, ForPlace: partOf(e.ForPlace), ForShowUp: partOf(e.ForShowUp),
			ForHook: partOf(e.ForHook), ForRegistration: partOf(e.ForRegistration), Why: e.Why,
		}
	}
	return list
}

// partOf writes a part of the points, "" for none.
func partOf(p domain.Points) string {
	if p == 0 {
		return ""
	}
	return p.String()
}

// purse is the money of a class, which the desk alone reads: what each entry owes and has paid, and what it is paid. The
// sums are left out before the class is decided, and where the rules pay no purse; paid and kept make up the total.
type purse struct {
	versioned
	Total   string      `json:"total,omitempty"`
	Paid    string      `json:"paid,omitempty"`
	Kept    string      `json:"kept,omitempty"`
	Entries []purseLine `json:"entries"`
}

// purseLine is one entry of a purse. Came says that it was seen or has hooked.
type purseLine struct {
	Entry  uuid.UUID `json:"entry"`
	Number string    `json:"number"`
	Guest  bool      `json:"guest"`
	Came   bool      `json:"came"`
	Fee    string    `json:"fee"`
	Paid   bool      `json:"paid"`
	Amount string    `json:"amount,omitempty"`
}

// purse shows who came and who paid, and what the rules pay. It is read from the store and not from the shelf, because it is
// not public.
func (s *Server) purse(c echo.Context) error {
	page, err := s.staffClass(c, domain.Desk)
	if err != nil {
		return err
	}
	return send(c, http.StatusOK, purseOf(lastNumber(page.Journal), &page.Class))
}

// purseOf writes the money of a class, in the order entered.
func purseOf(version int64, c *domain.Class) purse {
	reward, pays := c.Reward(), c.Rewards() && c.Rules.Purse.Given()
	told := purse{versioned: versioned{version}, Entries: make([]purseLine, len(c.Entries))}
	if pays {
		out := reward.Payout
		told.Total, told.Paid, told.Kept = out.Purse.String(), (out.Purse - out.Kept).String(), out.Kept.String()
	}
	for i, e := range c.Entries {
		told.Entries[i] = purseLine{
			Entry: e.ID, Number: e.Number, Guest: e.Guest, Came: reward.Competitors[i].Present, Fee: e.Fee.String(), Paid: e.Paid,
		}
		if pays {
			told.Entries[i].Amount = reward.Payout.Paid[i].String()
		}
	}
	return told
}
