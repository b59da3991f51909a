package doc

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"clayline/domain"
)

// season is a season file; docs/season.md explains each field.
type season struct {
	Name      string         `json:"name"`
	Rules     string         `json:"rules"`
	Season    seasonRule     `json:"season"`
	Events    []seasonEvent  `json:"events"`
	BuyBacks  []buyBack      `json:"buy_backs"`
	Penalties []penalty      `json:"penalties"`
	PullOffs  []decidedOrder `json:"pull_offs"`
	Coins     []decidedOrder `json:"coins"`
}

// seasonRule is what an association says of a season.
type seasonRule struct {
	Drops         int      `json:"drops"`
	DropMissed    bool     `json:"drop_missed"`
	BuyBackPoints int      `json:"buy_back_points"`
	BuyBacks      int      `json:"buy_backs"`
	Minimum       int      `json:"minimum"`
	MinimumShare  string   `json:"minimum_share"`
	MinimumFor    string   `json:"minimum_for"`
	Distance      string   `json:"distance"`
	Ties          []string `json:"ties"`
	Undroppable   []string `json:"undroppable"`
}

// seasonEvent is a pull with the classes that were pulled at it.
type seasonEvent struct {
	Name    string        `json:"name"`
	Track   string        `json:"track"`
	Classes []seasonClass `json:"classes"`
}

// seasonClass is one class of a pull: the series it belongs to and the files that it is in.
type seasonClass struct {
	Series  string `json:"series"`
	Sheet   string `json:"sheet"`
	Entries string `json:"entries"`
	Ended   string `json:"ended"`
	Sled    string `json:"sled"`
	Setting string `json:"setting"`
}

// buyBack is a missed pull that was bought back, penalty points that are taken away, decidedOrder what officials
// recorded between entrants that were equal.
type (
	buyBack struct {
		Series  string `json:"series"`
		Entrant string `json:"entrant"`
		Event   string `json:"event"`
	}
	penalty struct {
		Series  string `json:"series"`
		Entrant string `json:"entrant"`
		Points  int    `json:"points"`
		Reason  string `json:"reason"`
	}
	decidedOrder struct {
		Series string   `json:"series"`
		Order  []string `json:"order"`
	}
)

// The words of a season file. Those for how a class ended are the words of the command line too.
var (
	endingWords      = map[string]domain.Ending{"pulled": domain.Pulled, "stopped": domain.StoppedEarly, "not-run": domain.NeverRun}
	minimumForWords  = map[string]bool{"coming": false, "hooking": true}
	dayDistanceWords = map[string]bool{"class": false, "greatest": true}
)

// ParseEnding reads how a class ended: pulled, stopped or not-run.
func ParseEnding(s string) (domain.Ending, error) { return wordOf("ended", s, "pulled", endingWords) }

// SeasonFiles is how [ReadSeason] gets at the files that a season names. Names are as they stand in the season file.
type SeasonFiles struct {
	Rules func(name string) (domain.RuleSet, error)
	Open  func(name string) (io.ReadCloser, error)
}

// Season is a season that was read: its rule, its series and the records that were set.
type Season struct {
	Name     string
	Rules    domain.RuleSet
	Rule     domain.SeasonRule
	Series   []SeasonSeries
	Marks    []domain.Mark
	Warnings []string
}

// SeasonSeries is one class over the season. Events names the events at which it was pulled, Names the driver of a vehicle
// or, where points are the driver's, nothing.
type SeasonSeries struct {
	Name   string
	Events []string
	Names  map[string]string
	domain.Series
}

// ReadSeason reads a season file and every file that it names. Whatever cannot be understood is an error that begins with
// the place: the season file with line and column or with the path to the field, or a [SheetError] in a file that it names.
func ReadSeason(document []byte, file string, files SeasonFiles) (Season, error) {
	var d season
	decoder := json.NewDecoder(bytes.NewReader(document))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&d); err != nil {
		return Season{}, seasonJSONError(document, file, err)
	}
	if _, err := decoder.Token(); !errors.Is(err, io.EOF) {
		return Season{}, fmt.Errorf("%s: there is more behind the season; keep one", file)
	}
	r := seasonReader{file: file, files: files, season: Season{Name: d.Name}}
	if err := r.read(d); err != nil {
		return Season{}, err
	}
	return r.season, nil
}

// seasonJSONError says where a season file is not what it should be.
func seasonJSONError(document []byte, file string, err error) error {
	offset := int64(-1)
	if syntax, ok := errors.AsType[*json.SyntaxError](err); ok {
		offset = max(syntax.Offset-1, 0)
	}
	if wrong, ok := errors.AsType[*json.UnmarshalTypeError](err); ok {
		line, column := position(document, wrong.Offset)
		return fmt.Errorf("%s:%d:%d: field %s: a %s cannot stand here; compare it with docs/season.md", file, line, column, wrong.Field, wrong.Value)
	}
	if offset < 0 {
		return fmt.Errorf("%s: %s; compare it with docs/season.md", file, strings.TrimPrefix(err.Error(), "json: "))
	}
	line, column := position(document, offset)
	return fmt.Errorf("%s:%d:%d: this is not JSON: %w; look for a comma, a quote or a brace too many or too few", file, line, column, err)
}

// seasonReader is the state of one reading. It reads in the order of the file and stops at the first thing that cannot be
// understood: half a season would be taken for one.
type seasonReader struct {
	file   string
	files  SeasonFiles
	season Season
}

// fail refuses a field of the season file, named by its path: "events[1].classes[0].series".
func (r *seasonReader) fail(path, message, fix string) error {
	return fmt.Errorf("%s: field %s: %s; %s", r.file, path, message, fix)
}

// refuse says at which field the domain refused something.
func (r *seasonReader) refuse(path string, err error) error {
	if refusal, ok := errors.AsType[*domain.Error](err); ok {
		return r.fail(path, refusal.Message, refusal.Fix)
	}
	return err
}

// read reads everything, in the order of the file.
func (r *seasonReader) read(d season) (err error) {
	if d.Name == "" {
		return r.fail("name", "it is missing", "write the name of the season")
	}
	if r.season.Rules, err = r.files.Rules(d.Rules); err != nil {
		return fmt.Errorf("%s: field rules: %w", r.file, err)
	}
	if !r.season.Rules.Points.Given() {
		return r.fail("rules", fmt.Sprintf("the rule set %s gives no points", r.season.Rules.Name), "name one that has points, see docs/rules.md")
	}
	if r.season.Rule, err = r.rule(d.Season); err != nil {
		return err
	}
	if len(d.Events) == 0 {
		return r.fail("events", "there are none", "name the pulls that were held")
	}
	for i, event := range d.Events {
		path := fmt.Sprintf("events[%d]", i)
		if event.Name == "" || slices.ContainsFunc(d.Events[:i], func(e seasonEvent) bool { return e.Name == event.Name }) {
			return r.fail(path+".name", fmt.Sprintf("%q is missing or stands twice", event.Name), "give each event a name of its own")
		}
		for j, class := range event.Classes {
			if err := r.class(event, class, fmt.Sprintf("%s.classes[%d]", path, j)); err != nil {
				return err
			}
		}
	}
	return r.decisions(d)
}

// rule reads the rule of the season.
func (r *seasonReader) rule(d seasonRule) (rule domain.SeasonRule, err error) {
	rule = domain.SeasonRule{Drops: d.Drops, DropMissed: d.DropMissed, BuyBackPoints: d.BuyBackPoints, BuyBacks: d.BuyBacks, Minimum: d.Minimum}
	if rule.MinimumHooked, err = wordOf("minimum_for", d.MinimumFor, "coming", minimumForWords); err != nil {
		return rule, r.refuse("season.minimum_for", err)
	}
	if rule.Greatest, err = wordOf("distance", d.Distance, "class", dayDistanceWords); err != nil {
		return rule, r.refuse("season.distance", err)
	}
	if d.MinimumShare != "" {
		part, of, _ := strings.Cut(d.MinimumShare, "/")
		var wrong error
		rule.Share.Part, err = strconv.Atoi(part)
		if rule.Share.Of, wrong = strconv.Atoi(of); err != nil || wrong != nil {
			return rule, r.fail("season.minimum_share", fmt.Sprintf("%q is no part of a whole", d.MinimumShare), "write a part such as 1/2 or 2/3")
		}
	}
	for i, written := range d.Ties {
		step, err := domain.ParseTieStep(written)
		if err != nil {
			return rule, r.refuse(fmt.Sprintf("season.ties[%d]", i), err)
		}
		rule.Ties = append(rule.Ties, step)
	}
	for i, written := range d.Undroppable {
		if !slices.Contains(domain.Causes(), domain.Cause(written)) {
			return rule, r.fail(fmt.Sprintf("season.undroppable[%d]", i), fmt.Sprintf("%q is no cause", written), "write one of "+commas(domain.Causes()))
		}
		rule.Undroppable = append(rule.Undroppable, domain.Cause(written))
	}
	if err := rule.Check(); err != nil {
		refusal, _ := errors.AsType[*domain.Error](err)
		return rule, r.refuse("season."+refusal.Field, err)
	}
	return rule, nil
}

// class reads one class of a pull and adds it to its series.
func (r *seasonReader) class(event seasonEvent, class seasonClass, path string) error {
	ending, err := ParseEnding(class.Ended)
	switch {
	case err != nil:
		return r.refuse(path+".ended", err)
	case class.Series == "":
		return r.fail(path+".series", "it is missing", "write the name of the class series")
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
	return r.pull(event, class, sheet, path)
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

// pull scores a sheet and adds what everybody did to the series. Guests are in no series. Where the points are the driver's and
// one drives two vehicles in a class, the better of them is the driver's (common practice, no published source).
func (r *seasonReader) pull(event seasonEvent, class seasonClass, sheet Sheet, path string) error {
	series := r.series(class.Series)
	if slices.Contains(series.Events, event.Name) {
		return r.fail(path+".series", fmt.Sprintf("%s stands twice at %s", class.Series, event.Name), "write a series once at an event")
	}
	series.Events = append(series.Events, event.Name)
	table, entries := sheet.table(), sheet.entries()
	standing, competitors := domain.Rank(table), sheet.competitors(table, entries)
	earned := r.season.Rules.Points.Earn(standing, competitors, sheet.Ending)
	r.marks(event, class, table, entries)
	for _, placing := range standing {
		entry, c := entries[placing.Row], competitors[placing.Row]
		if c.Guest || !c.Present {
			continue
		}
		score := domain.SeasonScore{Entrant: entry.Entry, Pull: series.Pulls, Points: earned[placing.Row].Total(), Place: earned[placing.Row].Place,
			Hooked: c.Hooked, Distance: placing.Total, Kept: c.Disqualified && slices.Contains(r.season.Rule.Undroppable, c.Cause)}
		if r.season.Rule.Greatest {
			score.Distance = table.Greatest(table.Rows[placing.Row])
		}
		if r.season.Rules.Points.To == domain.ToDriver {
			if score.Entrant = entry.Puller; score.Entrant == "" {
				return r.fail(path+".sheet", fmt.Sprintf("entry %s has no puller, and points are the driver's", entry.Entry), "write the name on the sheet or in the entries file")
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

// decisions reads what officials have decided, each for one series. Whether the entrants are in it is checked with the
// standing, when everybody is known.
func (r *seasonReader) decisions(d season) error {
	find := func(path, name string) (*SeasonSeries, error) {
		if !slices.ContainsFunc(r.season.Series, func(s SeasonSeries) bool { return s.Name == name }) {
			return nil, r.fail(path+".series", fmt.Sprintf("there is no series %q", name), "name one of the events' classes")
		}
		return r.series(name), nil
	}
	for i, b := range d.BuyBacks {
		path := fmt.Sprintf("buy_backs[%d]", i)
		s, err := find(path, b.Series)
		if err != nil {
			return err
		}
		pull := slices.Index(s.Events, b.Event)
		if pull < 0 {
			return r.fail(path+".event", fmt.Sprintf("%s was not pulled at %q", b.Series, b.Event), "name an event at which it was")
		}
		s.Bought = append(s.Bought, domain.BuyBack{Entrant: b.Entrant, Pull: pull})
	}
	for i, p := range d.Penalties {
		path := fmt.Sprintf("penalties[%d]", i)
		s, err := find(path, p.Series)
		switch {
		case err != nil:
			return err
		case p.Points < 1 || p.Points > 9999 || p.Reason == "":
			return r.fail(path, "a penalty takes points away for a reason", "write points from 1 to 9999 and the reason")
		}
		s.Penalties = append(s.Penalties, domain.Penalty{Entrant: p.Entrant, Points: p.Points, Reason: p.Reason})
	}
	for _, list := range [...]struct {
		name   string
		orders []decidedOrder
		to     func(*SeasonSeries) *[][]string
	}{{"pull_offs", d.PullOffs, func(s *SeasonSeries) *[][]string { return &s.PullOffs }}, {"coins", d.Coins, func(s *SeasonSeries) *[][]string { return &s.Coins }}} {
		for i, o := range list.orders {
			s, err := find(fmt.Sprintf("%s[%d]", list.name, i), o.Series)
			if err != nil {
				return err
			}
			*list.to(s) = append(*list.to(s), o.Order)
		}
	}
	return nil
}
