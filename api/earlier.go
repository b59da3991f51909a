package api

import (
	"net/http"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
)

// earlierList is what was set and pulled in earlier classes, the newest first.
type earlierList struct {
	Earlier []earlier `json:"earlier"`
}

// earlier is one frozen setting of an earlier class and how its hooks went. Distances are left out where none was
// measured; least, median and most are of those without a full pull.
type earlier struct {
	Event        string   `json:"event"`
	EventName    string   `json:"event_name"`
	Date         string   `json:"date"` // at the event
	Class        string   `json:"class"`
	ClassName    string   `json:"class_name"`
	Track        string   `json:"track"`
	Sled         string   `json:"sled"`
	Round        string   `json:"round"`
	Setting      int      `json:"setting"`
	Card         card     `json:"card"`
	Hooks        int      `json:"hooks"`
	FullPulls    int      `json:"full_pulls"`
	Disqualified int      `json:"disqualified"`
	Best         *measure `json:"best,omitempty"`
	Least        *measure `json:"least,omitempty"`
	Median       *measure `json:"median,omitempty"`
	Most         *measure `json:"most,omitempty"`
	TopSpeed     *measure `json:"top_speed,omitempty"`
}

// earlier tells the cab and the desk of earlier classes of any event. It is read from the store, and nothing is
// stored by it.
//
//	GET /api/v1/events/harvest-pull/classes/field-stock/earlier?same=class,sled
func (s *Server) earlier(c echo.Context) error {
	by, err := s.who(c)
	if err != nil {
		return err
	}
	same, err := readSame(c.QueryParams().Get("same"), c.QueryParams().Has("same"))
	if err != nil {
		return err
	}
	page, found, err := s.desk.Earlier(c.Request().Context(), ref(c), same)
	if err != nil {
		return err
	}
	if err := by.May(domain.Cab|domain.Desk, page.Event.ID); err != nil {
		return err
	}
	list := earlierList{Earlier: []earlier{}}
	for _, e := range found {
		list.Earlier = append(list.Earlier, earlierSettings(e)...)
	}
	return send(c, http.StatusOK, list)
}

// readSame reads "class,track,sled", in any order; empty asks for any class, and what is left out for the same in all.
func readSame(text string, given bool) (desk.Same, error) {
	if !given {
		return desk.Same{Class: true, Track: true, Sled: true}, nil
	}
	words := strings.Split(text, ",")
	for _, w := range words {
		if w != "" && !slices.Contains([]string{"class", "track", "sled"}, w) {
			return desk.Same{}, invalid("same", w+" is nothing to be the same in", "write class, track and sled with commas between, or some of them")
		}
	}
	return desk.Same{Class: slices.Contains(words, "class"), Track: slices.Contains(words, "track"), Sled: slices.Contains(words, "sled")}, nil
}

// earlierSettings writes the frozen settings of an earlier class.
func earlierSettings(e desk.EarlierClass) (list []earlier) {
	for i := range e.Class.Rounds {
		r := &e.Class.Rounds[i]
		for _, rev := range r.Revisions {
			if rev.Draft() {
				continue
			}
			s := r.Spread(rev.Number)
			list = append(list, earlier{
				Event: e.Event.Slug, EventName: e.Event.Name, Date: e.Event.Sessions[0].Starts.In(e.Event.Location()).Format("2006-01-02"),
				Class: e.Class.Slug, ClassName: e.Class.Name, Track: e.Event.Tracks[0].Name, Sled: e.Class.Sled.Name,
				Round: r.Name.String(), Setting: rev.Number, Card: cardOf(rev.Setting),
				Hooks: s.Hooks, FullPulls: s.FullPulls, Disqualified: s.Disqualified,
				Best: distanceOf(s.Best), Least: distanceOf(s.Least), Median: distanceOf(s.Median), Most: distanceOf(s.Most), TopSpeed: speedOf(s.Top),
			})
		}
	}
	return list
}
