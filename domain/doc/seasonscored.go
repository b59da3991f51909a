package doc

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"clayline/domain"
)

// SeasonScored is the standing of a season: the document that `clayline score --season --format json` prints. Points are
// strings, as in [Scored].
type SeasonScored struct {
	Season  string         `json:"season"`
	Rules   string         `json:"rules,omitempty"`
	Series  []SeriesScored `json:"series"`
	Records []RecordOf     `json:"records,omitempty"`
}

// SeriesScored is one class over the season, best first.
type SeriesScored struct {
	Series string `json:"series"`
	// To is whose the points are, "vehicle" or "driver": an entrant is a number or a name.
	To     string   `json:"to"`
	Events []string `json:"events"`
	// Waiting are events of a server that count once their result is official.
	Waiting  []string       `json:"waiting,omitempty"`
	Standing []SeasonPlaced `json:"standing"`
}

// SeasonPlaced is one entrant of a series. Place is null for an entrant that was at too few pulls. BehindBy is the step
// that put it behind the one above, with the same points.
type SeasonPlaced struct {
	Place    *int     `json:"place"`
	Shared   bool     `json:"shared"`
	Entrant  string   `json:"entrant"`
	Puller   string   `json:"puller,omitempty"`
	Points   string   `json:"points"`
	Pulls    []PullOf `json:"pulls"`
	Penalty  string   `json:"penalty,omitempty"`
	BehindBy string   `json:"behind_by,omitempty"`
	Note     string   `json:"note,omitempty"`
}

// PullOf is one pull of an entrant; its state is counted, dropped, bought or missed. What was dropped keeps its points.
type PullOf struct {
	Event  string `json:"event"`
	Points string `json:"points"`
	State  string `json:"state"`
}

// RecordOf is the farthest hook of a class on a track with a sled, and where and under which setting it was made.
type RecordOf struct {
	Series  string `json:"series"`
	Track   string `json:"track"`
	Sled    string `json:"sled"`
	Result  string `json:"result"`
	Entry   string `json:"entry"`
	Puller  string `json:"puller,omitempty"`
	Event   string `json:"event"`
	Round   string `json:"round"`
	Setting string `json:"setting,omitempty"`
}

// stateWords are the words for how a pull counts.
var stateWords = map[domain.PullState]string{domain.Missed: "missed", domain.Counted: "counted", domain.Dropped: "dropped", domain.Bought: "bought"}

// ScoreSeason adds up every series of a season, in the order in which they first occur.
func ScoreSeason(s Season) (SeasonScored, error) {
	scored := SeasonScored{Season: s.Name, Rules: s.Rules.Name}
	for _, series := range s.Series {
		lines, err := s.Rule.Standing(series.Series)
		if err != nil {
			return SeasonScored{}, fmt.Errorf("series %s: %w", series.Name, err)
		}
		out := SeriesScored{Series: series.Name, To: wordFor(ownerWords, series.to), Events: append([]string{}, series.Events...), Waiting: series.Waiting, Standing: []SeasonPlaced{}}
		for i, l := range lines {
			placed := series.placed(l)
			if l.BehindBy != 0 {
				placed.BehindBy = l.BehindBy.String()
				placed.Note = joined(placed.Note, "as many points as "+lines[i-1].Entrant+", behind by "+placed.BehindBy)
			}
			out.Standing = append(out.Standing, placed)
		}
		scored.Series = append(scored.Series, out)
	}
	scored.Records = RecordsOf(domain.Records(s.Marks))
	return scored, nil
}

// RecordsOf writes records as they are exchanged.
func RecordsOf(records []domain.Mark) (list []RecordOf) {
	for _, m := range records {
		list = append(list, RecordOf{Series: m.Class, Track: m.Track, Sled: m.Sled, Result: m.Result.Distance.String(), Entry: m.Number,
			Puller: m.Holder, Event: m.Event, Round: m.Round.String(), Setting: m.Setting})
	}
	return list
}

// placed turns a line into what is printed of it.
func (s SeasonSeries) placed(l domain.SeasonLine) SeasonPlaced {
	p := SeasonPlaced{Shared: l.Shared, Entrant: l.Entrant, Puller: s.Names[l.Entrant], Points: l.Total.String(), Penalty: part(l.Penalty)}
	if l.Place > 0 {
		p.Place = &l.Place
	} else {
		p.Note = "at too few pulls"
	}
	for _, reason := range l.Reasons {
		p.Note = joined(p.Note, "penalty: "+reason)
	}
	for i, pull := range l.Pulls {
		p.Pulls = append(p.Pulls, PullOf{Event: s.Events[i], Points: pull.Points.String(), State: stateWords[pull.State]})
	}
	return p
}

// joined adds a note to others.
func joined(notes, note string) string { return either(notes == "", note, notes+"; "+note) }

// Cell writes a pull for people: points, in parentheses when they are dropped, and a dash for a pull that was missed.
func (p PullOf) Cell() string {
	switch p.State {
	case stateWords[domain.Missed]:
		return "-"
	case stateWords[domain.Dropped]:
		return "(" + p.Points + ")"
	case stateWords[domain.Bought]:
		return p.Points + " bought"
	default:
		return p.Points
	}
}

// WriteJSON writes the season as one JSON document.
func (s SeasonScored) WriteJSON(w io.Writer) error { return writeJSON(w, s) }

// WriteCSV writes every series below one header: series, place, shared, entrant, puller, one column for each event, penalty,
// points, note. A cell is empty where a series was not pulled at an event. Records are not in it.
func (s SeasonScored) WriteCSV(w io.Writer) error {
	var events []string
	for _, series := range s.Series {
		for _, event := range series.Events {
			if !slices.Contains(events, event) {
				events = append(events, event)
			}
		}
	}
	header := []string{"series", "place", "shared", "entrant", "puller"}
	for _, event := range events {
		header = append(header, plain(event))
	}
	records := [][]string{append(header, "penalty", "points", "note")}
	for _, series := range s.Series {
		for _, p := range series.Standing {
			record := []string{plain(series.Series), place(Placed{Place: p.Place}, ""), strconv.FormatBool(p.Shared), plain(p.Entrant), plain(p.Puller)}
			for _, event := range events {
				cell := ""
				if i := slices.Index(series.Events, event); i >= 0 {
					cell = strings.TrimPrefix(p.Pulls[i].Cell(), "-")
				}
				record = append(record, cell)
			}
			records = append(records, append(record, p.Penalty, p.Points, plain(p.Note)))
		}
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true
	if err := out.WriteAll(records); err != nil {
		return fmt.Errorf("writing the season: %w", err)
	}
	return nil
}

// WriteText writes a table for each series, and the records below. It is for reading: its columns may change.
//
//	place  entrant  puller     Elm   Oak  points  note
//	1      41       E. Tarrant  50  (46)  50
func (s SeasonScored) WriteText(w io.Writer) error {
	var tables [][]string
	for _, series := range s.Series {
		table := []string{series.Series, strings.Join(append(append([]string{"place", "entrant", "puller"}, series.Events...), "points", "note"), "\t")}
		for _, p := range series.Standing {
			cells := []string{place(Placed{Place: p.Place, Shared: p.Shared}, "-"), p.Entrant, p.Puller}
			for _, pull := range p.Pulls {
				cells = append(cells, pull.Cell())
			}
			table = append(table, strings.Join(append(cells, p.Points, p.Note), "\t"))
		}
		tables = append(tables, table)
	}
	if len(s.Records) > 0 {
		table := []string{"Records: distances of other sleds, tracks and settings are not comparable", "series\ttrack\tsled\tresult\tentry\tpuller\tevent\tround\tsetting"}
		for _, r := range s.Records {
			table = append(table, strings.Join([]string{r.Series, r.Track, r.Sled, r.Result, r.Entry, r.Puller, r.Event, r.Round, r.Setting}, "\t"))
		}
		tables = append(tables, table)
	}
	for i, table := range tables {
		if _, err := fmt.Fprintln(w, either(i > 0, "\n", "")+table[0]); err != nil {
			return err
		}
		if err := writeTable(w, table[1:]); err != nil {
			return err
		}
	}
	return nil
}
