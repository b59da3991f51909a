package doc

import (
	"bytes"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
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
// no default would be safe for what decides whether there is a pull-off. Groups are one level deep.
type ruleSet struct {
	Name          string      `json:"name"`
	Title         string      `json:"title,omitempty"`
	Unit          string      `json:"unit"`
	Line          json.Number `json:"line"`
	MovingLine    *movingLine `json:"moving_line,omitempty"`
	Measure       *measure    `json:"measure,omitempty"`
	Cap           *bool       `json:"cap"`
	Rounds        int         `json:"rounds"`
	Counts        string      `json:"counts,omitempty"`
	Entries       *entries    `json:"entries,omitempty"`
	Order         *order      `json:"order,omitempty"`
	Call          *call       `json:"call,omitempty"`
	Restart       json.Number `json:"restart,omitempty"`
	Restarts      *restarts   `json:"restarts,omitempty"`
	TestPuller    *testPuller `json:"test_puller,omitempty"`
	RehookDrop    int         `json:"rehook_drop,omitempty"`
	RehookMinutes int         `json:"rehook_minutes,omitempty"`
	DropPlaces    int         `json:"drop_places,omitempty"`
	Reset         string      `json:"reset,omitempty"`
	ResetWhen     *resetWhen  `json:"reset_when,omitempty"`
	Reasons       *reasons    `json:"reasons,omitempty"`
	SideLinesTo   json.Number `json:"side_lines_to,omitempty"`
	Speed         *speedLimit `json:"speed,omitempty"`
	Ready         []string    `json:"ready,omitempty"`
	Stopped       string      `json:"stopped,omitempty"`
	PullOff       *pullOff    `json:"pull_off,omitempty"`
	Ties          *ties       `json:"ties,omitempty"`
	Points        *points     `json:"points,omitempty"`
	Purse         *purse      `json:"purse,omitempty"`

	Protest *protest     `json:"protest,omitempty"`
	Weight  *weightLimit `json:"weight,omitempty"`
}

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
	slices.Sort(names) // the folder has a-b.json before a.json
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
// once, a drop to the last place, a reset that makes the round start again, and no distance for whoever is
// disqualified.
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
		Name: r.Name, Title: r.Title, Unit: r.Unit().String(), Line: number(r.Line), Cap: &r.Capped, Rounds: r.Rounds,
		Counts: wordFor(countWords, r.Count), Restart: number(r.RestartLine),
		RehookDrop: r.RehookDrop, RehookMinutes: r.RehookMinutes, DropPlaces: r.DropPlaces,
		Reset: wordFor(resetWords, r.Reset), SideLinesTo: number(r.Reasons.SideLinesTo), Stopped: wordFor(stoppedWords, r.Stopped),
		MovingLine: writeMovingLine(r.Moving), Measure: writeMeasure(r.Measure), Entries: writeEntries(r.Entries), Order: writeOrder(r.Order),
		Call: writeCall(r.Call), Restarts: writeRestarts(r.Restarts), TestPuller: writeTestPuller(r.Test), PullOff: writePullOff(r),
		Ties: writeTies(r.Ties), ResetWhen: writeResetWhen(r.ResetWhen), Reasons: writeReasons(r.Reasons), Speed: writeSpeed(r.Speed), Ready: r.Ready,
		Points: pointsOf(r.Points), Purse: purseOf(r.Purse), Protest: writeProtest(r.Protest), Weight: writeWeight(r.Weight),
	}
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
	f := ruleValues{unit: unit}
	r := domain.RuleSet{
		Name: d.Name, Title: d.Title, Capped: *d.Cap, Rounds: d.Rounds,
		RehookDrop: d.RehookDrop, RehookMinutes: d.RehookMinutes, DropPlaces: d.DropPlaces,
		Count: word(&f, "counts", d.Counts, "best", countWords), Reset: word(&f, "reset", d.Reset, "restart", resetWords),
		Stopped: word(&f, "stopped", d.Stopped, "rounds", stoppedWords),
	}
	if r.Line = f.length("line", d.Line); d.Line == "" {
		f.refuse(ruleError("line", `"" is not a distance`, "write figures such as 300"))
	}
	r.RestartLine = f.length("restart", d.Restart)
	r.Moving, r.Measure = d.MovingLine.rule(&f), d.Measure.rule(&f)
	r.Entries, r.Order, r.Call = d.Entries.rule(&f), d.Order.rule(&f), d.Call.rule(&f)
	r.Restarts, r.Test = d.Restarts.rule(&f), d.TestPuller.rule(&f)
	r.PullOff, r.Ties = d.PullOff.rule(&f, r.Capped), d.Ties.rule(&f)
	r.ResetWhen, r.Speed = d.ResetWhen.rule(&f), d.Speed.rule(&f)
	r.Reasons, r.Ready = d.Reasons.rule(&f), trimmed(d.Ready)
	r.Points, r.Purse, r.Protest, r.Weight = d.Points.rule(&f), d.Purse.rule(&f), d.Protest.rule(), d.Weight.rule(&f)
	r.Reasons.SideLinesTo = f.length("side_lines_to", d.SideLinesTo)
	return r, f.err
}

// ruleError refuses a field of a rule set.
func ruleError(field, message, fix string) error {
	return &domain.Error{Kind: domain.Invalid, Field: field, Message: message, Fix: fix}
}

// jsonError says where a document cannot be read: at which field where JSON knows it, else at which byte.
func jsonError(err error) error {
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
