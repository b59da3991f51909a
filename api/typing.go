package api

import (
	"context"
	"fmt"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain/desk"
)

// typing is what the stream of a class tells the page of a booth besides: that another page is being typed on. Nobody else
// is told, and it is no part of the interface for programs.
//
//	event: typing
//	data: {"hook":"6f…","from":"1c…","text":"287.3"}
//
// The block has no number, so that a reader who was cut off comes back with the number of the journal.
type typing struct {
	Hook uuid.UUID `json:"hook"`
	From uuid.UUID `json:"from"`
	Text string    `json:"text"`
}

// mayHear reports whether the reader is a browser with a pass for the booth or the desk. It is the one place here that reads
// the cookie of the pages: it lets somebody hear, and nobody act. Browsers send the cookie to our own pages alone.
func (s *Server) mayHear(c echo.Context) bool {
	cookie, err := c.Cookie(desk.Cookie)
	return err == nil && s.desk.MayHear(c.Request().Context(), cookie.Value, c.Param("event")) == nil
}

// tellSigns tells what is being typed at the other booths of the class, until ctx ends or the reader has gone. Whether the
// pass still holds is asked before each telling: it may have ended since the stream began.
func (s *Server) tellSigns(ctx context.Context, w *writer, c echo.Context) {
	heard := int64(0)
	for {
		list, last, err := s.desk.Live().Signs(ctx, ref(c), heard)
		if err != nil {
			return
		}
		if heard = last; !s.mayHear(c) {
			continue
		}
		for _, sign := range list {
			if !sign.Fresh(s.now()) {
				continue
			}
			data, err := encode(typing{Hook: sign.Hook, From: sign.From, Text: sign.Text})
			if err != nil || w.write(fmt.Appendf(nil, "event: typing\ndata: %s\n", data)) != nil {
				return
			}
		}
	}
}
