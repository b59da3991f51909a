package doc

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"clayline/domain"
)

// class reads one class of a pull and adds it to its series.
func (r *seasonReader) class(event seasonEvent, class seasonClass, path string) error {
	if class.Series == "" {
		return r.fail(path+".series", "it is missing", "write the name of the class series")
	}
	if series := r.series(class.Series); slices.Contains(series.Events, event.Name) || slices.Contains(series.Waiting, event.Name) {
		return r.fail(path+".series", fmt.Sprintf("%s stands twice at %s", class.Series, event.Name), "write a series once at an event")
	}
	if r.files.Class != nil {
		return r.held(event, class, path)
	}
	return r.sheet(event, class, path)
}

// sheet reads the files of a class and adds it to its series.
func (r *seasonReader) sheet(event seasonEvent, class seasonClass, path string) error {
	ending, err := ParseEnding(class.Ended)
	switch {
	case err != nil:
		return r.refuse(path+".ended", err)
	case class.Class != "":
		return r.fail(path+".class", "only a season on a server names classes by their address", "name the class sheet")
	case ending == domain.NeverRun && (class.Sheet != "" || class.Entries == ""):
		return r.fail(path+".sheet", "a class that was not run has no sheet", "name its entries file alone")
	case ending != domain.NeverRun && class.Sheet == "":
		return r.fail(path+".sheet", "it is missing", "name the class sheet, or write ended as not-run")
	}
	sheet := Sheet{Rules: r.season.Rules}
	if class.Sheet != "" {
		err = r.open(path+".sheet", class.Sheet, func(in io.Reader) (err error) {
			sheet, err = ReadSheet(in, class.Sheet, r.season.Rules)
			return err
		})
	}
	if err == nil && class.Entries != "" {
		err = r.open(path+".entries", class.Entries, func(in io.Reader) (err error) {
			sheet, err = ReadEntries(in, class.Entries, sheet)
			return err
		})
	}
	if err != nil {
		return err
	}
	sheet.Ending = ending
	for _, warning := range sheet.Warnings {
		r.season.Warnings = append(r.season.Warnings, class.Sheet+": "+warning)
	}
	table, entries := sheet.table(), sheet.entries()
	r.marks(event, class, table, entries)
	return r.pull(event.Name, class.Series, seasonPull{
		table: table, entries: entries, competitors: sheet.competitors(table, entries), points: r.pointsOf(r.season.Rules), ending: ending, path: path + ".sheet",
	})
}

// held adds a class of a server to its series, once its result is official: before that it may change with every hook.
func (r *seasonReader) held(event seasonEvent, class seasonClass, path string) error {
	if class.Sheet+class.Entries+class.Ended+class.Sled+class.Setting != "" {
		return r.fail(path, "a season on a server names no files, and a class knows its end, its sled and its setting", "write its series and its class alone")
	}
	held, found := r.files.Class(class.Class)
	if !found {
		return r.fail(path+".class", fmt.Sprintf("there is no class %q on this server", class.Class), "write it as in the address of its page, such as elm-2026/4x4")
	}
	c := &held.Class
	points, series := r.pointsOf(c.Rules), r.series(class.Series)
	switch {
	case !points.Given():
		return r.fail(path+".class", "the rules of "+c.Name+" give no points", "write points in the season, see docs/rules.md")
	case len(series.Events) > 0 && series.to != points.To:
		return r.fail(path+".class", "the points of "+c.Name+" are not for the same as in the pulls before: the vehicle or the driver", "write points in the season")
	case c.Official.Made.IsZero():
		series.Waiting, series.to = append(series.Waiting, event.Name), points.To
		return nil
	}
	entries := make([]Placed, len(c.Entries))
	for i, e := range c.Entries {
		entries[i] = Placed{Entry: e.Number, Puller: e.Details.Puller}
	}
	for _, mark := range c.Marks(event.Name, cmp.Or(event.Track, held.trackName())) {
		mark.Class = class.Series
		r.season.Marks = append(r.season.Marks, mark)
	}
	return r.pull(event.Name, class.Series, seasonPull{
		table: c.Table(), entries: entries, competitors: c.Competitors(), points: points, ending: c.Ending(), path: path + ".class",
	})
}

// trackName is the track of the class with the place of its event: many a place has a Track 1.
func (h HeldClass) trackName() string {
	for _, t := range h.Event.Tracks {
		if t.ID == h.Class.Track {
			return joinedBy(", ", h.Event.Place, t.Name)
		}
	}
	return h.Event.Place
}

// joinedBy joins what is not empty.
func joinedBy(by string, parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return p == "" }), by)
}

// seasonPull is a class as it was pulled, from a sheet or on a server. Entries and competitors are at the indexes of the
// rows; path is where the season names it.
type seasonPull struct {
	table       domain.Table
	entries     []Placed
	competitors []domain.Competitor
	points      domain.PointsRule
	ending      domain.Ending
	path        string
}

// open reads a file that the season names.
func (r *seasonReader) open(path, name string, read func(io.Reader) error) error {
	file, err := r.files.Open(name)
	if err != nil {
		return fmt.Errorf("%s: field %s: %w", r.file, path, err)
	}
	defer func() { _ = file.Close() }() // it was only read
	return read(file)
}

// pull scores a class and adds what everybody did to the series. Guests are in no series. Where the points are the driver's and
// one drives two vehicles in a class, the better of them is the driver's (common practice, no published source).
func (r *seasonReader) pull(event, name string, p seasonPull) error {
	series := r.series(name)
	series.Events, series.to = append(series.Events, event), p.points.To
	standing := domain.Rank(p.table)
	earned := p.points.Earn(standing, p.competitors, p.ending)
	for _, placing := range standing {
		entry, c := p.entries[placing.Row], p.competitors[placing.Row]
		if c.Guest || !c.Present {
			continue
		}
		score := domain.SeasonScore{Entrant: entry.Entry, Pull: series.Pulls, Points: earned[placing.Row].Total(), Place: earned[placing.Row].Place,
			Hooked: c.Hooked, Distance: placing.Total, Kept: c.Disqualified && slices.Contains(r.season.Rule.Undroppable, c.Cause)}
		if r.season.Rule.Greatest {
			score.Distance = p.table.Greatest(p.table.Rows[placing.Row])
		}
		if p.points.To == domain.ToDriver {
			if score.Entrant = entry.Puller; score.Entrant == "" {
				return r.fail(p.path, fmt.Sprintf("entry %s has no puller, and points are the driver's", entry.Entry), "write the name with the entry")
			}
		} else if entry.Puller != "" {
			series.Names[entry.Entry] = entry.Puller
		}
		series.add(score)
	}
	series.Pulls++
	return nil
}

// add adds what an entrant did, unless it has done better at the same pull.
func (s *SeasonSeries) add(score domain.SeasonScore) {
	i := slices.IndexFunc(s.Scores, func(other domain.SeasonScore) bool { return other.Entrant == score.Entrant && other.Pull == score.Pull })
	switch {
	case i < 0:
		s.Scores = append(s.Scores, score)
	case score.Points > s.Scores[i].Points:
		s.Scores[i] = score
	}
}

// series returns the series of that name, a new one the first time.
func (r *seasonReader) series(name string) *SeasonSeries {
	i := slices.IndexFunc(r.season.Series, func(s SeasonSeries) bool { return s.Name == name })
	if i < 0 {
		i, r.season.Series = len(r.season.Series), append(r.season.Series, SeasonSeries{Name: name, Names: make(map[string]string)})
	}
	return &r.season.Series[i]
}

// marks notes what was reached, for the records, where the file says on which track and with which sled. Without both a
// distance could be compared with nothing.
func (r *seasonReader) marks(event seasonEvent, class seasonClass, table domain.Table, entries []Placed) {
	if event.Track == "" || class.Sled == "" {
		return
	}
	for i, row := range table.Rows {
		for j, result := range row.Results {
			r.season.Marks = append(r.season.Marks, domain.Mark{Class: class.Series, Track: event.Track, Sled: class.Sled, Event: event.Name, Setting: class.Setting,
				Round: table.Rounds[j], Number: entries[i].Entry, Holder: entries[i].Puller, Result: result})
		}
	}
}
