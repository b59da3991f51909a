//go:build !js

package webui

import (
	"fmt"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/webui/templates"
)

// pointsOf shows what each entry earned, in the order of the standing; nil before the class is decided, and where the rules
// give no points. Who was not there is left out, as nothing is to be said of them. Money is on no public page: what a
// puller is paid is between the puller and the organiser.
func pointsOf(e domain.Event, class *domain.Class) *templates.Points {
	if !class.Rewards() || !class.Rules.Points.Given() {
		return nil
	}
	view := &templates.Points{State: officialWords(e, class), To: "Points stay with the vehicle, whoever drives it."}
	if class.Rules.Points.To == domain.ToDriver {
		view.To = "Points are the driver's."
	}
	reward := class.Reward()
	for _, placing := range reward.Standing {
		if !reward.Competitors[placing.Row].Present {
			continue
		}
		earned := reward.Earned[placing.Row]
		view.Rows = append(view.Rows, templates.PointsRow{
			Puller: puller(class.Entries[placing.Row]), Place: placeWords(placing), Total: earned.Total().String(), Parts: partsWords(earned), Why: earned.Why,
		})
	}
	return view
}

// placeWords writes a place, "2=" where it is shared; "" without one.
func placeWords(p domain.Placing) string {
	switch {
	case p.Place == 0:
		return ""
	case p.Shared:
		return fmt.Sprintf("%d=", p.Place)
	default:
		return fmt.Sprint(p.Place)
	}
}

// partsWords says of what the points are made, where there is more than one part: "9 for the place, 5 for hooking".
func partsWords(e domain.Earned) string {
	var parts []string
	for _, part := range [...]struct {
		points domain.Points
		words  string
	}{{e.ForPlace, "for the place"}, {e.ForHook, "for hooking"}, {e.ForShowUp, "for coming"}, {e.ForRegistration, "for having paid"}} {
		if part.points != 0 {
			parts = append(parts, part.points.String()+" "+part.words)
		}
	}
	if len(parts) == 1 && e.ForPlace != 0 {
		return ""
	}
	return strings.Join(parts, ", ")
}

// purse shows the desk what was paid and what is to be paid, to print.
func (s *Site) purse(c echo.Context) error {
	by, page, err := s.classPage(c.Request().Context(), c, domain.Desk)
	if err != nil {
		return err
	}
	class := &page.Class
	view := purseOf(page.Event, class)
	view.Frame, view.Where, view.Print = s.classFrame(c, page, by), where(page.Event, *class), printed(page.Event, page.Journal)
	view.Day = dayOf(page.Event, *class)
	view.Back = templates.Link{Text: "Back to the desk of the class", Href: classHref(page.Event, *class) + "/desk"}
	return show(c, http.StatusOK, view)
}

// purseOf lays the money of a class out. Before it is decided there are fees alone.
func purseOf(e domain.Event, class *domain.Class) templates.Purse {
	reward, settled := class.Reward(), class.Rewards() && class.Rules.Purse.Given()
	view := templates.Purse{Name: class.Name, State: officialWords(e, class)}
	switch {
	case !class.Rules.Purse.Given():
		view.State = "these rules pay no purse"
	case !settled:
		view.State = "nothing is paid before the class is decided"
	default:
		view.Terms = []templates.Term{
			{Label: "To pay in all", Value: reward.Payout.Purse.String()},
			{Label: "Paid out", Value: (reward.Payout.Purse - reward.Payout.Kept).String()},
			{Label: "Stays with the organiser", Value: reward.Payout.Kept.String()},
		}
	}
	var paid domain.Money
	for _, placing := range reward.Standing {
		competitor := reward.Competitors[placing.Row]
		row := templates.PurseRow{Puller: puller(class.Entries[placing.Row]), Place: placeWords(placing), Fee: feeWords(competitor)}
		if settled {
			row.Amount = amount(reward.Payout.Paid[placing.Row])
		}
		if competitor.Paid {
			paid += competitor.Fee
		}
		switch {
		case competitor.Guest:
			row.Remark = "guest"
		case !competitor.Present:
			row.Remark = "not seen"
		}
		view.Rows = append(view.Rows, row)
	}
	view.Terms = append(view.Terms, templates.Term{Label: "Fees paid", Value: paid.String()})
	return view
}

// feeWords says what an entry costs and whether that was paid: "20.00, paid"; "" where nothing is known of it.
func feeWords(c domain.Competitor) string {
	switch {
	case c.Fee == 0 && c.Paid:
		return "paid"
	case c.Fee == 0:
		return ""
	case c.Paid:
		return "fee " + c.Fee.String() + ", paid"
	default:
		return "fee " + c.Fee.String() + ", not paid"
	}
}
