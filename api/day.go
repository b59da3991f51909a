package api

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain/day"
)

// dayRun is how the day of an event runs, track by track.
type dayRun struct {
	versioned
	Tracks  []trackRun `json:"tracks"`
	Caution string     `json:"caution"`
}

// trackRun is the day on one track. Behind is in minutes, below zero where it is ahead, and left out where nothing is to
// come.
type trackRun struct {
	Track    uuid.UUID   `json:"track"`
	Name     string      `json:"name"`
	AsOf     time.Time   `json:"as_of"`
	Begun    bool        `json:"begun"`
	Behind   *int        `json:"behind,omitempty"`
	Sentence string      `json:"sentence"`
	Classes  []classRun  `json:"classes"`
	Curfews  []curfewRun `json:"curfews"`
}

// classRun is one class of the day. What is known is in pulled, what is likely in starts and ends; each is left out where
// there is none. Cycle is in seconds.
type classRun struct {
	Slug    string  `json:"slug"`
	Name    string  `json:"name"`
	State   string  `json:"state"`
	Planned *times  `json:"planned,omitempty"`
	Pulled  *times  `json:"pulled,omitempty"`
	Starts  *window `json:"starts,omitempty"`
	Ends    *window `json:"ends,omitempty"`
	Cycle   int     `json:"cycle"`
	Known   string  `json:"known"`
	PullOff float64 `json:"pull_off"`
	// RoundEnds and Calls are of the round at hand.
	RoundEnds *window   `json:"round_ends,omitempty"`
	Calls     []callRun `json:"calls,omitempty"`
}

// callRun is when an entry is likely called.
type callRun struct {
	Entry uuid.UUID `json:"entry"`
	window
}

// times are a beginning and an end, which is left out while it has not come.
type times struct {
	Start time.Time  `json:"start"`
	End   *time.Time `json:"end,omitempty"`
}

// window is when something is likely: a tenth of all days before early, a half before middle, nine tenths before late.
type window struct {
	Early  time.Time `json:"early"`
	Middle time.Time `json:"middle"`
	Late   time.Time `json:"late"`
}

// curfewRun is what becomes of a curfew. Cut is the slug of the class that would have to be cut.
type curfewRun struct {
	Session  uuid.UUID `json:"session"`
	At       time.Time `json:"at"`
	Past     float64   `json:"past"`
	Cut      string    `json:"cut,omitempty"`
	CutPast  float64   `json:"cut_past,omitempty"`
	Sentence string    `json:"sentence"`
}

// The words of the interface for how far a class is and where its cycle is from.
var (
	runStates = map[day.State]string{day.ToCome: "to-come", day.Running: "running", day.Done: "done", day.Empty: "empty"}
	cycleFrom = map[day.Known]string{day.ByPractice: "usual", day.ByClass: "this-class-before", day.ByOthers: "others-before"}
)

// day shows how the day of an event runs.
func (s *Server) day(c echo.Context) error {
	return s.public(c, "day "+c.Param("event"), func(ctx context.Context) (document, error) {
		page, err := s.desk.Live().Day(ctx, c.Param("event"))
		if err != nil {
			return nil, err
		}
		told := dayRun{versioned: versioned{lastNumber(page.Journal)}, Tracks: []trackRun{}, Caution: day.Caution}
		for _, t := range page.Day.Tracks {
			told.Tracks = append(told.Tracks, trackRunOf(t, page.Event.Location()))
		}
		return told, nil
	})
}

// trackRunOf writes the day of a track; its sentences are on the clock of the place.
func trackRunOf(t day.Track, place *time.Location) trackRun {
	told := trackRun{
		Track: t.Track.ID, Name: t.Track.Name, AsOf: t.AsOf.UTC(), Begun: t.Begun, Sentence: t.Sentence(place), Classes: []classRun{}, Curfews: []curfewRun{},
	}
	if behind, known := t.Behind(); known {
		minutes := int(behind.Minutes())
		told.Behind = &minutes
	}
	for _, c := range t.Classes {
		told.Classes = append(told.Classes, classRunOf(c))
	}
	for _, c := range t.Curfews {
		run := curfewRun{Session: c.Session, At: c.At.UTC(), Past: c.Past, CutPast: c.CutPast, Sentence: t.CurfewSentence(c, place)}
		if c.Cut >= 0 {
			run.Cut = t.Classes[c.Cut].Slug
		}
		told.Curfews = append(told.Curfews, run)
	}
	return told
}

// classRunOf writes a class of the day.
func classRunOf(c day.Class) classRun {
	run := classRun{
		Slug: c.Slug, Name: c.Name, State: runStates[c.State], Planned: timesOf(c.Planned), Pulled: timesOf(c.Pulled), Starts: windowOf(c.Starts),
		Ends: windowOf(c.Ends), Cycle: int(c.Cycle.Seconds()), Known: cycleFrom[c.Known], PullOff: c.PullOff, RoundEnds: windowOf(c.RoundEnds),
	}
	for _, call := range c.Calls {
		run.Calls = append(run.Calls, callRun{call.Entry, *windowOf(call.Window)})
	}
	return run
}

// timesOf writes a beginning and an end, nil for none.
func timesOf(t day.Times) *times {
	if t.Start.IsZero() {
		return nil
	}
	return &times{Start: t.Start.UTC(), End: moment(t.End)}
}

// windowOf writes a window, nil for none.
func windowOf(w day.Window) *window {
	if w.IsZero() {
		return nil
	}
	return &window{Early: w.Early.UTC(), Middle: w.Middle.UTC(), Late: w.Late.UTC()}
}
