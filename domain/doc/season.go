package doc

import (
	"bytes"
	"cmp"
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
	Name      string          `json:"name"`
	Rules     string          `json:"rules"`
	Points    json.RawMessage `json:"points"`
	Season    seasonRule      `json:"season"`
	Events    []seasonEvent   `json:"events"`
	BuyBacks  []buyBack       `json:"buy_backs"`
	Penalties []penalty       `json:"penalties"`
	PullOffs  []decidedOrder  `json:"pull_offs"`
	Coins     []decidedOrder  `json:"coins"`
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

// seasonClass is one class of a pull: the series it belongs to, and the files that it is in or, on a server, its address.
type seasonClass struct {
	Series  string `json:"series"`
	Class   string `json:"class"`
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

// maxSeasonEvents bounds the pulls of a season: more are not known.
const maxSeasonEvents = 50

// SeasonFiles is how [ReadSeason] gets at what a season names. Names are as they stand in the season file.
type SeasonFiles struct {
	Rules func(name string) (domain.RuleSet, error)
	Open  func(name string) (io.ReadCloser, error)
	// Class finds a class of a server by its address, "elm-2026/4x4"; false where there is none. With it the season is one
	// of a server, which has classes and no files. nil is a season of files.
	Class func(address string) (HeldClass, bool)
}

// HeldClass is a class of a server with its event.
type HeldClass struct {
	Event domain.Event
	Class domain.Class
}

// Season is a season that was read: its rule, its series and the records that were set.
type Season struct {
	Name  string
	Rules domain.RuleSet
	// Points are those of the season itself, which take the place of those of the rules; not given where it has none.
	Points   domain.PointsRule
	Rule     domain.SeasonRule
	Series   []SeasonSeries
	Marks    []domain.Mark
	Warnings []string
}

// SeasonSeries is one class over the season. Events names the events at which it was pulled, Waiting those of a server whose
// result is not official yet, Names the driver of a vehicle or, where points are the driver's, nothing.
type SeasonSeries struct {
	Name    string
	Events  []string
	Waiting []string
	Names   map[string]string
	domain.Series
	to domain.Owner // whose the points are
}

// ReadSeason reads a season file and every file that it names. Whatever cannot be understood is an error that begins with
// the place: a [SeasonError] in the season file, or a [SheetError] in a file that it names.
func ReadSeason(document []byte, file string, files SeasonFiles) (Season, error) {
	var whole json.RawMessage
	decoder := json.NewDecoder(bytes.NewReader(document))
	if err := decoder.Decode(&whole); err != nil {
		return Season{}, seasonJSONError(document, file, err)
	}
	if _, err := decoder.Token(); !errors.Is(err, io.EOF) {
		return Season{}, &SeasonError{File: file, Message: "there is more behind the season", Fix: "keep one"}
	}
	walk := walkSeason(document)
	r := seasonReader{file: file, document: document, at: walk.at, files: files}
	if fault := walk.fault; fault != nil {
		return Season{}, r.fail(fault.Field, fault.Message, fault.Fix)
	}
	var d season
	if err := json.Unmarshal(whole, &d); err != nil {
		return Season{}, r.fail("", "this is no season: "+err.Error(), "compare it with docs/season.md") // the walk finds it first
	}
	r.season.Name = d.Name
	if err := r.read(d); err != nil {
		return Season{}, err
	}
	return r.season, nil
}

// seasonReader is the state of one reading. It reads in the order of the file and stops at the first thing that cannot be
// understood: half a season would be taken for one.
type seasonReader struct {
	file     string
	document []byte
	at       map[string]int64 // where each value begins, by its path
	files    SeasonFiles
	season   Season
}

// fail refuses a field of the season file, named by its path: "events[1].classes[0].series".
func (r *seasonReader) fail(path, message, fix string) error {
	fault := &SeasonError{File: r.file, Field: path, Message: message, Fix: fix}
	if at, there := r.at[path]; there {
		fault.Line, fault.Column = position(r.document, at)
	}
	return fault
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
	if strings.TrimSpace(d.Name) == "" {
		return r.fail("name", "it is missing", "write the name of the season")
	}
	if r.season.Points, err = r.points(d.Points); err != nil {
		return err
	}
	if err := r.rules(d); err != nil {
		return err
	}
	if r.season.Rule, err = r.rule(d.Season); err != nil {
		return err
	}
	if len(d.Events) == 0 || len(d.Events) > maxSeasonEvents {
		return r.fail("events", fmt.Sprintf("there are %d", len(d.Events)), fmt.Sprintf("name the pulls of the season, 1 to %d", maxSeasonEvents))
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

// rules reads the rule set that the sheets are ranked by. A class of a server has its own.
func (r *seasonReader) rules(d season) (err error) {
	if r.files.Class != nil {
		if d.Rules != "" {
			return r.fail("rules", "a class on a server has rules of its own", "leave it out, and write points where the classes have none")
		}
		return nil
	}
	if r.season.Rules, err = r.files.Rules(d.Rules); err != nil {
		return fmt.Errorf("%s: field rules: %w", r.file, err)
	}
	if !r.pointsOf(r.season.Rules).Given() {
		return r.fail("rules", fmt.Sprintf("the rule set %s gives no points", r.season.Rules.Name), "name one that has points, or write points here; see docs/rules.md")
	}
	return nil
}

// points reads the points of the season itself, which are written as in a rule set and checked as part of one.
func (r *seasonReader) points(written json.RawMessage) (domain.PointsRule, error) {
	if len(written) == 0 {
		return domain.PointsRule{}, nil
	}
	rules, err := ParseRuleSet(fmt.Appendf(nil, `{"name": "points", "unit": "ft", "line": 300, "cap": true, "rounds": 1, "points": %s}`, written))
	if refusal, ok := errors.AsType[*domain.Error](err); ok {
		return domain.PointsRule{}, r.fail(cmp.Or(refusal.Field, "points"), refusal.Message, refusal.Fix)
	}
	return rules.Points, err
}

// pointsOf returns the points that the places of a class are worth here: those of the season, or else those of its rules.
func (r *seasonReader) pointsOf(rules domain.RuleSet) domain.PointsRule {
	if r.season.Points.Given() {
		return r.season.Points
	}
	return rules.Points
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
		if slices.Contains(s.Waiting, b.Event) {
			continue // it counts with its pull
		}
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

// SeasonClasses lists the addresses of the classes that a season names, each once, so that they can be read before it. It
// lists nothing of a document that cannot be read: [ReadSeason] says what is wrong with it.
func SeasonClasses(document []byte) (addresses []string) {
	var d season
	if json.Unmarshal(document, &d) != nil {
		return nil
	}
	for _, event := range d.Events {
		for _, class := range event.Classes {
			if class.Class != "" && !slices.Contains(addresses, class.Class) {
				addresses = append(addresses, class.Class)
			}
		}
	}
	return addresses
}
