package api

import (
	"context"
	"fmt"

	"clayline/domain/desk"
)

// horizon is what the reader of a stream of a class knows of when it is likely pulled.
type horizon struct {
	desk         *desk.Desk
	event, class string // class is "" on the stream of an event, of which no forecast is told
	known        string // "" while it is not known what the reader knows
}

// begin takes what there is now for known where the reader has the last line, number after. Who lacks some may have read
// the class before they came, and is told of the next.
func (h *horizon) begin(ctx context.Context, after int64) {
	if version := h.look(ctx); version != after {
		h.known = ""
	}
}

// look makes what there is now known, and returns the number of the line that it is of. Where it cannot be read what is known
// stays; the reader finds out with the next line.
func (h *horizon) look(ctx context.Context) int64 {
	if h.class == "" {
		return 0
	}
	page, err := h.desk.Live().Day(ctx, h.event)
	if err != nil {
		return 0
	}
	if class, err := page.Class(h.class); err == nil {
		_, c, _ := page.Day.Of(class.Class.ID)
		h.known = c.Rough()
	}
	return lastNumber(page.Journal)
}

// moved looks again after lines about other classes or the event, and says so to the reader where the windows have moved; nothing
// where they have not, where the lines tell the reader of the class itself, and of lines for the staff.
//
//	id: 58
//	event: forecast
//	data: {"number":58,"class":"modified","kind":"forecast","at":"2026-09-19T18:04:11.5Z"}
func (h *horizon) moved(ctx context.Context, news []desk.News) (block []byte) {
	if h.class == "" {
		return nil
	}
	var other desk.News
	for _, n := range news {
		switch {
		case tells(n, h.class):
			return nil
		case !n.Staff:
			other = n
		}
	}
	before := h.known
	if other.Number == 0 || h.look(ctx) == 0 || h.known == before {
		return nil
	}
	last := news[len(news)-1]
	data, err := encode(change{Number: last.Number, Class: h.class, Kind: "forecast", At: other.At})
	if err != nil {
		return nil // cannot happen: every field can be written
	}
	return fmt.Appendf(nil, "id: %d\nevent: forecast\ndata: %s\n", last.Number, data)
}
