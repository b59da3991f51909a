package doc

import (
	"encoding/json"
	"time"

	"clayline/domain"
)

// preview is an event or a class in the vocabulary of schema.org, as search engines and phones read it from a page:
// https://schema.org/SportsEvent .
type preview struct {
	Context string       `json:"@context,omitempty"`
	Type    string       `json:"@type"`
	Name    string       `json:"name"`
	Sport   string       `json:"sport,omitempty"`
	URL     string       `json:"url"`
	Starts  string       `json:"startDate,omitempty"`
	Ends    string       `json:"endDate,omitempty"`
	Place   *previewSpot `json:"location,omitempty"`
	Of      *preview     `json:"superEvent,omitempty"`
}

// previewSpot is a place by its name, which is all that is known of its address.
type previewSpot struct {
	Type    string `json:"@type"`
	Name    string `json:"name"`
	Address string `json:"address"`
}

// sportsEvent is the type of everything that is previewed.
const sportsEvent = "SportsEvent"

// EventPreview tells of an event in the vocabulary of schema.org, as one line of JSON that can stand in a page: signs of HTML
// are escaped. href is its address, from the root of the server. It starts with its first session and ends on the day of its
// last, on the clock of the place; how long a session lasts is not known.
//
//	{"@context":"https://schema.org","@type":"SportsEvent","name":"Harvest Pull","sport":"Tractor pulling", …}
func EventPreview(e domain.Event, href string) string {
	p := eventPreview(e, href, e.Sessions)
	p.Context = "https://schema.org"
	return p.line()
}

// ClassPreview tells of a class as a part of its event, as [EventPreview] does; it starts with its session.
func ClassPreview(e domain.Event, c *domain.Class, eventHref, href string) string {
	var of []domain.Session
	for _, s := range e.Sessions {
		if s.ID == c.Session {
			of = append(of, s)
		}
	}
	p := eventPreview(e, href, of)
	p.Context, p.Name = "https://schema.org", c.Name
	p.Of = &preview{Type: sportsEvent, Name: e.Name, URL: eventHref}
	return p.line()
}

// eventPreview is what an event and a class have in common.
func eventPreview(e domain.Event, href string, sessions []domain.Session) preview {
	p := preview{Type: sportsEvent, Name: e.Name, Sport: "Tractor pulling", URL: href}
	if e.Place != "" {
		p.Place = &previewSpot{Type: "Place", Name: e.Place, Address: e.Place}
	}
	var first, last time.Time
	for _, s := range sessions {
		if first.IsZero() || s.Starts.Before(first) {
			first = s.Starts
		}
		if s.Starts.After(last) {
			last = s.Starts
		}
	}
	if !first.IsZero() {
		p.Starts, p.Ends = first.In(e.Location()).Format(time.RFC3339), last.In(e.Location()).Format(time.DateOnly)
	}
	return p
}

// line writes the preview. Package json escapes what could end the element that it stands in.
func (p preview) line() string {
	body, _ := json.Marshal(p) // texts alone
	return string(body)
}
