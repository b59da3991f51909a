//go:build !js

package webui

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/doc"
	"clayline/webui/templates"
)

// records shows the records of this server, by track.
func (s *Site) records(c echo.Context) error {
	return s.serverPage(c, func(ctx context.Context) (templates.Page, error) {
		records, err := s.desk.Records(ctx)
		if err != nil {
			return nil, err
		}
		return templates.Records{Frame: bare(c), Tracks: recordTracks(doc.RecordsOf(records))}, nil
	})
}

// recordTracks lays records out by track, in the order in which tracks first occur.
func recordTracks(records []doc.RecordOf) []templates.RecordTrack {
	var tracks []templates.RecordTrack
	for _, r := range records {
		i := slices.IndexFunc(tracks, func(t templates.RecordTrack) bool { return t.Name == r.Track })
		if i < 0 {
			i, tracks = len(tracks), append(tracks, templates.RecordTrack{ID: "track-" + strconv.Itoa(len(tracks)+1), Name: r.Track})
		}
		round := r.Round
		if name, err := domain.ParseRoundName(r.Round); err == nil {
			round = strings.ToLower(roundTitle(name))
		}
		tracks[i].Rows = append(tracks[i].Rows, templates.RecordRow{
			Class: r.Series, Result: r.Result, Holder: templates.Puller{Number: r.Entry, Name: r.Puller},
			Made: r.Event + ", " + round, Under: joined(r.Sled, r.Setting),
		})
	}
	return tracks
}
