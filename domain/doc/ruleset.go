package doc

import (
	"bytes"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"path"
	"reflect"
	"slices"
	"strings"

	"clayline/domain"
)

// readyMade holds the rule sets that come with the program, each a document like one that a club writes itself:
// they have no field that a file cannot have.
//
//go:embed rulesets/*.json
var readyMade embed.FS

// DefaultRuleSet is the ready-made set that is meant when none is named: 300 ft, with a pull-off among those
// who reach it, as many of the books have it.
const DefaultRuleSet = "capped-300ft"

// ruleSet is a rule set as JSON; docs/rules.md explains each field. Figures are json.Number and never floats,
// so that 300 and 300.00 keep their digits. Cap is a pointer, because leaving it out must be told from false:
// no default would be safe for what decides whether there is a pull-off.
type ruleSet struct {
	Name       string      `json:"name"`
	Title      string      `json:"title,omitempty"`
	Unit       string      `json:"unit"`
	Line       json.Number `json:"line"`
	Cap        *bool       `json:"cap"`
	Rounds     int         `json:"rounds"`
	Counts     string      `json:"counts,omitempty"`
	Restart    json.Number `json:"restart,omitempty"`
	TestPuller *testPuller `json:"test_puller,omitempty"`
	PullOff    *pullOff    `json:"pull_off,omitempty"`
	RehookDrop int         `json:"rehook_drop,omitempty"`
	DropPlaces int         `json:"drop_places,omitempty"`
	Reset      string      `json:"reset,omitempty"`
	Points     *points     `json:"points,omitempty"`
	Purse      *purse      `json:"purse,omitempty"`
}

// testPuller is the choice of the test puller. "keep" may be among the options or not; it is always one.
type testPuller struct {
	Options []domain.Option `json:"options"`
	Until   string          `json:"until,omitempty"`
	AfterDQ bool            `json:"after_dq"`
}

// pullOff is how full pullers are brought back; it may be left out as a whole in a capped set.
type pullOff struct {
	Measured      string `json:"measured,omitempty"`
	Absent        string `json:"absent"`
	Added         bool   `json:"added,omitempty"`
	SecondAttempt bool   `json:"second_attempt,omitempty"`
}

// The words of the document for the choices of a rule set. A word, once published, keeps its meaning.
var (
	countWords  = map[string]domain.Count{"best": domain.BestOf, "sum": domain.SumOf}
	absentWords = map[string]domain.AbsentFinalist{"last_of_pull_off": domain.LastOfPullOff, "withdrawn": domain.Withdrawn}
	resetWords  = map[string]domain.ResetEffect{"restart": domain.Restart, "keep": domain.KeepHooks}
	finishWords = map[string]bool{"past_line": false, "to_line": true}
)

// ReadyMade returns the names of the rule sets that come with the program, in alphabetical order. Each can be
// read with [ReadyMadeRuleSet] without an error; a test holds that.
func ReadyMade() []string {
	files, err := readyMade.ReadDir("rulesets")
	if err != nil {
		return nil // cannot happen: the folder is embedded
	}
	names := make([]string, len(files))
	for i, f := range files {
		names[i] = strings.TrimSuffix(f.Name(), ".json")
	}
	return names
}

// ReadyMadeRuleSet returns the ready-made set of that name. An unknown name is a domain error of kind NotFound
// that lists the names there are.
func ReadyMadeRuleSet(name string) (domain.RuleSet, error) {
	if !slices.Contains(ReadyMade(), name) {
		return domain.RuleSet{}, &domain.Error{Kind: domain.NotFound, Field: "rules",
			Message: fmt.Sprintf("there is no ready-made rule set %q", name), Fix: "choose one of " + strings.Join(ReadyMade(), ", ")}
	}
	file, err := readyMade.Open(path.Join("rulesets", name+".json"))
	if err != nil {
		return domain.RuleSet{}, err
	}
	defer func() { _ = file.Close() }() // reading an embedded file cannot fail on close
	return ReadRuleSet(file)
}

// ReadRuleSet reads one rule set. Unknown fields, fields that stand twice or are written with other capital letters,
// wrong words and contradictions are refused, naming the field;
// what comes back without an error has passed domain.RuleSet.Check. A field that is misspelled must not be
// ignored: the class would be pulled under a default that nobody chose.
//
// The shortest document says what has no default:
//
//	{"name":"our-60m", "unit":"m", "line":60, "cap":true, "rounds":1}
//
// and is read as one round to 60 m, the best (and only) round counting, full pullers brought back past the
// line, an absent finalist last of the pull-off, no second attempt, no choice for the test puller, a re-hook at
// once, a drop to the last place, and a reset that makes the round start again.
func ReadRuleSet(r io.Reader) (domain.RuleSet, error) {
	document, err := io.ReadAll(r)
	if err != nil {
		return domain.RuleSet{}, jsonError(err)
	}
	if faults := misnamed(document, reflect.TypeFor[ruleSet]()); len(faults) > 0 {
		return domain.RuleSet{}, faults[0]
	}
	var d ruleSet
	decoder := json.NewDecoder(bytes.NewReader(document))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&d); err != nil {
		return domain.RuleSet{}, jsonError(err)
	}
	if _, err := decoder.Token(); !errors.Is(err, io.EOF) {
		return domain.RuleSet{}, ruleError("", "there is more than one rule set in the file", "keep one")
	}
	rules, err := d.rules()
	if err != nil {
		return domain.RuleSet{}, err
	}
	return rules, rules.Check()
}

// ParseRuleSet reads one rule set from its bytes; see [ReadRuleSet].
func ParseRuleSet(document []byte) (domain.RuleSet, error) {
	return ReadRuleSet(bytes.NewReader(document))
}

// WriteRuleSet returns the rule set as an indented JSON document that [ReadRuleSet] reads back to the same
// value. Defaults are written out where the domain holds them, so that the document of a class does not change
// its meaning with a later program's defaults.
func WriteRuleSet(r domain.RuleSet) ([]byte, error) {
	d := ruleSet{
		Name: r.Name, Title: r.Title, Unit: r.Unit().String(), Line: json.Number(r.Line.Decimal()), Cap: &r.Capped, Rounds: r.Rounds,
		Counts: wordFor(countWords, r.Count), RehookDrop: r.RehookDrop, DropPlaces: r.DropPlaces, Reset: wordFor(resetWords, r.Reset),
	}
	if !r.RestartLine.IsZero() {
		d.Restart = json.Number(r.RestartLine.Decimal())
	}
	if len(r.Test.Options) > 0 {
		d.TestPuller = &testPuller{Options: r.Test.Options, Until: r.Test.Until, AfterDQ: r.Test.AfterDQ}
	}
	if r.Capped {
		d.PullOff = &pullOff{Measured: wordFor(finishWords, r.PullOff.Capped), Absent: wordFor(absentWords, r.PullOff.Absent),
			Added: r.PullOff.Added, SecondAttempt: r.PullOff.SecondAttempt}
	}
	d.Points, d.Purse = pointsOf(r.Points), purseOf(r.Purse)
	var out bytes.Buffer
	encoder := json.NewEncoder(&out)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	err := encoder.Encode(d)
	return out.Bytes(), err
}

// rules turns the document into the domain's rule set, with the defaults that docs/rules.md states. It looks at
// each field alone; contradictions between them are domain.RuleSet.Check's.
func (d ruleSet) rules() (domain.RuleSet, error) {
	unit, err := domain.ParseUnit(d.Unit)
	if err != nil {
		return domain.RuleSet{}, err
	}
	if d.Cap == nil {
		return domain.RuleSet{}, ruleError("cap", "the rule set does not say whether distances are capped at the line", "write true or false")
	}
	r := domain.RuleSet{Name: d.Name, Title: d.Title, Capped: *d.Cap, Rounds: d.Rounds, RehookDrop: d.RehookDrop, DropPlaces: d.DropPlaces}
	if r.Line, err = distanceField("line", d.Line, unit); err != nil {
		return r, err
	}
	if d.Restart != "" {
		if r.RestartLine, err = distanceField("restart", d.Restart, unit); err != nil {
			return r, err
		}
	}
	if r.Count, err = word("counts", d.Counts, "best", countWords); err != nil {
		return r, err
	}
	if r.Reset, err = word("reset", d.Reset, "restart", resetWords); err != nil {
		return r, err
	}
	if t := d.TestPuller; t != nil {
		if err := doubled(t.Options); err != nil {
			return r, err
		}
		// A choice with nothing beside keep is none. The deadline and the rule on disqualifications go with it,
		// so that two documents that mean the same give the same value.
		options := slices.DeleteFunc(slices.Clone(t.Options), func(o domain.Option) bool { return o == domain.Keep })
		if len(options) > 0 {
			r.Test = domain.TestRule{Options: options, Until: t.Until, AfterDQ: t.AfterDQ}
		}
	}
	if r.PullOff, err = d.pullOff(); err != nil {
		return r, err
	}
	if r.Points, err = d.Points.rule(); err != nil {
		return r, err
	}
	r.Purse, err = d.Purse.rule()
	return r, err
}

// pullOff reads how full pullers are brought back. Where a capped set is silent, an absent finalist is last of
// the pull-off: of the two published outcomes it takes the least from somebody who made a full pull.
func (d ruleSet) pullOff() (domain.PullOffRule, error) {
	if d.PullOff == nil {
		if *d.Cap {
			return domain.PullOffRule{Absent: domain.LastOfPullOff}, nil
		}
		return domain.PullOffRule{}, nil
	}
	p := d.PullOff
	absent, err := word("pull_off.absent", p.Absent, "last_of_pull_off", absentWords)
	if err != nil {
		return domain.PullOffRule{}, err
	}
	capped, err := word("pull_off.measured", p.Measured, "past_line", finishWords)
	return domain.PullOffRule{Capped: capped, Added: p.Added, Absent: absent, SecondAttempt: p.SecondAttempt}, err
}

// distanceField reads a figure in the unit of the set. JSON's own spellings that no tape has, such as 3e2 or
// -1, are refused by the domain.
func distanceField(field string, n json.Number, unit domain.Unit) (domain.Distance, error) {
	d, err := domain.ParseDistance(n.String(), unit)
	if err != nil || n == "" {
		return domain.Distance{}, &domain.Error{Kind: domain.Invalid, Field: field, Cause: err,
			Message: fmt.Sprintf("%q is not a distance", n), Fix: "write figures such as 300"}
	}
	return d, nil
}

// word looks a word up; empty means the default. A word that is not known is refused with all that are.
func word[T any](field, s, byDefault string, words map[string]T) (T, error) {
	if s == "" {
		s = byDefault
	}
	value, ok := words[s]
	if !ok {
		return value, ruleError(field, fmt.Sprintf("%q is not known", s), "write "+strings.Join(slices.Sorted(maps.Keys(words)), " or "))
	}
	return value, nil
}

// wordFor returns the word for a value, "" where there is none. The words are few, and each has its own value.
func wordFor[T comparable](words map[string]T, value T) string {
	for w, v := range words {
		if v == value {
			return w
		}
	}
	return ""
}

// ruleError refuses a field of a rule set.
func ruleError(field, message, fix string) error {
	return &domain.Error{Kind: domain.Invalid, Field: field, Message: message, Fix: fix}
}

// jsonError says where a document cannot be read: at which field where JSON knows it, else at which byte.
func jsonError(err error) error {
	if option, ok := errors.AsType[*domain.Error](err); ok {
		return ruleError("test_puller.options", option.Message, option.Fix)
	}
	e := &domain.Error{Kind: domain.Invalid, Cause: err, Message: "the rule set cannot be read: " + strings.TrimPrefix(err.Error(), "json: "),
		Fix: "compare it with docs/rules.md"}
	if syntax, ok := errors.AsType[*json.SyntaxError](err); ok {
		e.Message = fmt.Sprintf("the rule set is not JSON: %v at byte %d", syntax, syntax.Offset)
	}
	if wrong, ok := errors.AsType[*json.UnmarshalTypeError](err); ok && wrong.Field != "" {
		e.Field, e.Message = wrong.Field, fmt.Sprintf("a %s cannot stand here", wrong.Value)
	}
	return e
}
