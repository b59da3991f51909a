package doc

import (
	"encoding/json"
	"slices"
	"strings"

	"clayline/domain"
)

// The groups of a rule set as JSON. Each reads itself into the domain's rule, a nil group as its defaults, and has a
// function that writes the rule back.

// The words of the document for the choices of a rule set. A word, once published, keeps its meaning.
var (
	countWords   = map[string]domain.Count{"best": domain.BestOf, "sum": domain.SumOf}
	absentWords  = map[string]domain.AbsentFinalist{"last_of_pull_off": domain.LastOfPullOff, "withdrawn": domain.Withdrawn}
	resetWords   = map[string]domain.ResetEffect{"restart": domain.Restart, "keep": domain.KeepHooks, "previous": domain.PreviousAgain, "never": domain.NoReset}
	outWords     = map[string]bool{"last_of_pull_off": false, "withdrawn": true}
	finishWords  = map[string]bool{"past_line": false, "to_line": true}
	whoWords     = map[string]domain.Finalists{"full_pulls": domain.FullPullers, "top": domain.TopPlaces, "nobody": domain.Nobody}
	lineupWords  = map[string]bool{"class": false, "reversed": true}
	tieWords     = map[string]domain.Ties{"shared": domain.SharedPlace, "pulled_again": domain.PulledAgain, "next_best": domain.NextBest}
	orderWords   = map[string]domain.OrderSource{"draw": domain.DrawnByLot, "entered": domain.AsEntered, "organiser": domain.ByOrganiser}
	lateWords    = map[string]bool{"last": false, "refused": true}
	readyWords   = map[string]domain.NotReady{"official": domain.OfficialDecides, "drop": domain.DropsBack, "disqualified": domain.IsDisqualified, "forfeit": domain.ForfeitsTurn}
	judgeWords   = map[string]bool{"sled": false, "throttle": true}
	testWords    = map[string]domain.TestPuller{"first": domain.FirstInOrder, "chosen": domain.ChosenPuller, "session": domain.TestSession}
	vehicleWords = map[string]domain.VehicleTwice{"no": domain.OncePerClass, "yes": domain.PlacesTwice, "places_once": domain.PlacesOnce}
	stoppedWords = map[string]domain.StoppedEffect{"rounds": domain.CompleteRounds, "nothing": domain.NothingStands, "pulled": domain.AsPulled}
	reasonWords  = map[string]domain.Consequence{"last_place": domain.LastPlace, "no_distance": domain.NoDistance, "attempt": domain.AttemptLost,
		"measured": domain.MeasuredThere, "ends": domain.PullEnds, "none": domain.NoConsequence}
)

// movingLine is a full-pull line that the officials may move.
type movingLine struct {
	Choices []json.Number `json:"choices"`
	By      int           `json:"by"`
}

func (g *movingLine) rule(f *ruleValues) (rule domain.LineRule) {
	if g == nil {
		return rule
	}
	if len(g.Choices) == 0 {
		f.refuse(ruleError("moving_line.choices", "the line may move, and there is nowhere to move it to", "write the choices, such as [320], or leave moving_line out"))
	}
	for _, n := range g.Choices {
		rule.Choices = append(rule.Choices, f.length("moving_line.choices", n))
	}
	rule.After = g.By
	return rule
}

func writeMovingLine(r domain.LineRule) *movingLine {
	if len(r.Choices) == 0 {
		return nil
	}
	return &movingLine{Choices: numbers(r.Choices), By: r.After}
}

// measure is how distances are read.
type measure struct {
	From     string `json:"from,omitempty"`
	Decimals int    `json:"decimals,omitempty"`
	Minimum  string `json:"minimum,omitempty"`
}

func (g *measure) rule(f *ruleValues) domain.MeasureRule {
	if g == nil {
		return domain.MeasureRule{}
	}
	return domain.MeasureRule{From: g.From, Decimals: g.Decimals, Minimum: f.distance("measure.minimum", g.Minimum, "write it with its unit, such as 1 in")}
}

func writeMeasure(r domain.MeasureRule) *measure {
	return said(measure{From: r.From, Decimals: r.Decimals, Minimum: withUnit(r.Minimum)})
}

// entries is what is entered.
type entries struct {
	VehicleTwice string `json:"vehicle_twice,omitempty"`
	Least        int    `json:"least,omitempty"`
	Below        string `json:"below,omitempty"`
}

func (g *entries) rule(f *ruleValues) domain.EntryRule {
	if g == nil {
		g = &entries{}
	}
	return domain.EntryRule{VehicleTwice: word(f, "entries.vehicle_twice", g.VehicleTwice, "no", vehicleWords), Least: g.Least, Below: g.Below}
}

func writeEntries(r domain.EntryRule) *entries {
	return &entries{VehicleTwice: wordFor(vehicleWords, r.VehicleTwice), Least: r.Least, Below: r.Below}
}

// order is where the order comes from.
type order struct {
	By   string `json:"by,omitempty"`
	Late string `json:"late,omitempty"`
}

func (g *order) rule(f *ruleValues) domain.OrderRule {
	if g == nil {
		g = &order{}
	}
	return domain.OrderRule{By: word(f, "order.by", g.By, "draw", orderWords), ClosedAtStart: word(f, "order.late", g.Late, "last", lateWords)}
}

func writeOrder(r domain.OrderRule) *order {
	return &order{By: wordFor(orderWords, r.By), Late: wordFor(lateWords, r.ClosedAtStart)}
}

// call is the time to hook.
type call struct {
	Minutes  int    `json:"minutes,omitempty"`
	From     string `json:"from,omitempty"`
	NotReady string `json:"not_ready,omitempty"`
	DropOnce bool   `json:"drop_once,omitempty"`
}

func (g *call) rule(f *ruleValues) domain.CallRule {
	if g == nil {
		g = &call{}
	}
	return domain.CallRule{Minutes: g.Minutes, From: g.From, NotReady: word(f, "call.not_ready", g.NotReady, "official", readyWords), DropOnce: g.DropOnce}
}

func writeCall(r domain.CallRule) *call {
	return &call{Minutes: r.Minutes, From: r.From, NotReady: wordFor(readyWords, r.NotReady), DropOnce: r.DropOnce}
}

// restarts is how an attempt that failed may be repeated. A kind of vehicle stands with its line in one text, "truck 100".
type restarts struct {
	Share    string   `json:"share,omitempty"`
	Kinds    []string `json:"kinds,omitempty"`
	Attempts int      `json:"attempts,omitempty"`
	JudgedBy string   `json:"judged_by,omitempty"`
	Options  []string `json:"options,omitempty"`
}

func (g *restarts) rule(f *ruleValues) domain.RestartRule {
	if g == nil {
		return domain.RestartRule{}
	}
	rule := domain.RestartRule{Share: f.share("restarts.share", g.Share), Attempts: g.Attempts,
		Throttle: word(f, "restarts.judged_by", g.JudgedBy, "sled", judgeWords), Options: f.options("restarts.options", g.Options)}
	// What is meant without the field is said by nothing, so that two documents that mean the same give the same value.
	if rule.Attempts == 2 {
		rule.Attempts = 0
	}
	if slices.Equal(rule.Options, []domain.Option{domain.AtOnce}) {
		rule.Options = nil
	}
	for _, s := range g.Kinds {
		s = strings.TrimSpace(s)
		at := strings.LastIndex(s, " ")
		if at < 1 {
			f.refuse(ruleError("restarts.kinds", `"`+s+`" is no kind of vehicle with its line`, "write the two in one text, such as truck 100"))
			return rule
		}
		rule.Kinds = append(rule.Kinds, domain.KindLine{Kind: strings.TrimSpace(s[:at]), Line: f.length("restarts.kinds", json.Number(s[at+1:]))})
	}
	return rule
}

func writeRestarts(r domain.RestartRule) *restarts {
	g := restarts{Share: r.Share.String(), Attempts: r.Attempts, Options: optionWords(r.Options)}
	if r.Throttle {
		g.JudgedBy = wordFor(judgeWords, true)
	}
	for _, k := range r.Kinds {
		g.Kinds = append(g.Kinds, k.Kind+" "+k.Line.Decimal())
	}
	if g.Share == "" && g.Attempts == 0 && g.JudgedBy == "" && len(g.Options)+len(g.Kinds) == 0 {
		return nil
	}
	return &g
}

// pullOff is who is brought back and how; it may be left out as a whole in a capped set.
type pullOff struct {
	Who           string      `json:"who,omitempty"`
	Top           int         `json:"top,omitempty"`
	FillTo        int         `json:"fill_to,omitempty"`
	Measured      string      `json:"measured,omitempty"`
	Line          json.Number `json:"line,omitempty"`
	Order         string      `json:"order,omitempty"`
	Absent        string      `json:"absent,omitempty"`
	Disqualified  string      `json:"disqualified,omitempty"`
	Added         bool        `json:"added,omitempty"`
	SecondAttempt bool        `json:"second_attempt,omitempty"`
	SameDriver    bool        `json:"same_driver,omitempty"`
	Before        string      `json:"before,omitempty"`
}

// rule reads how finalists are brought back. Where a capped set is silent, an absent finalist is last of
// the pull-off: of the two published outcomes it takes the least from somebody who made a full pull.
func (g *pullOff) rule(f *ruleValues, capped bool) domain.PullOffRule {
	if g == nil && !capped {
		return domain.PullOffRule{}
	}
	if g == nil {
		g = &pullOff{}
	}
	return domain.PullOffRule{
		Who: word(f, "pull_off.who", g.Who, "full_pulls", whoWords), Top: g.Top, FillTo: g.FillTo,
		Capped: word(f, "pull_off.measured", g.Measured, "past_line", finishWords), Line: f.length("pull_off.line", g.Line),
		Reversed:        word(f, "pull_off.order", g.Order, "class", lineupWords),
		Absent:          word(f, "pull_off.absent", g.Absent, "last_of_pull_off", absentWords),
		DisqualifiedOut: word(f, "pull_off.disqualified", g.Disqualified, "last_of_pull_off", outWords),
		Added:           g.Added, SecondAttempt: g.SecondAttempt, SameDriver: g.SameDriver, Before: g.Before,
	}
}

func writePullOff(r domain.RuleSet) *pullOff {
	if !r.Capped {
		return nil
	}
	p := r.PullOff
	return &pullOff{
		Who: wordFor(whoWords, p.Who), Top: p.Top, FillTo: p.FillTo, Measured: wordFor(finishWords, p.Capped), Line: number(p.Line),
		Order: wordFor(lineupWords, p.Reversed), Absent: wordFor(absentWords, p.Absent), Disqualified: wordFor(outWords, p.DisqualifiedOut),
		Added: p.Added, SecondAttempt: p.SecondAttempt, SameDriver: p.SameDriver, Before: p.Before,
	}
}

// ties is what becomes of entries that are equal.
type ties struct {
	Are    string `json:"are,omitempty"`
	Places int    `json:"places,omitempty"`
}

func (g *ties) rule(f *ruleValues) domain.TieRule {
	if g == nil {
		g = &ties{}
	}
	return domain.TieRule{Ties: word(f, "ties.are", g.Are, "shared", tieWords), Places: g.Places}
}

func writeTies(r domain.TieRule) *ties {
	return &ties{Are: wordFor(tieWords, r.Ties), Places: r.Places}
}

// resetWhen is when a reset is to be thought of.
type resetWhen struct {
	Past      json.Number `json:"past,omitempty"`
	FullPulls int         `json:"full_pulls,omitempty"`
}

func (g *resetWhen) rule(f *ruleValues) domain.ResetRule {
	if g == nil {
		return domain.ResetRule{}
	}
	rule := domain.ResetRule{Past: f.length("reset_when.past", g.Past), FullPulls: g.FullPulls}
	if g.Past != "" && rule.Past.Milli() == 0 {
		f.refuse(ruleError("reset_when.past", "every hook goes past the start", "move it down the track, or leave it out"))
	}
	return rule
}

func writeResetWhen(r domain.ResetRule) *resetWhen {
	return said(resetWhen{Past: number(r.Past), FullPulls: r.FullPulls})
}

// reasons has a consequence for each cause; "" is no_distance.
type reasons struct {
	OutOfBounds     string `json:"out_of_bounds,omitempty"`
	SledOutOfBounds string `json:"sled_out_of_bounds,omitempty"`
	LostPart        string `json:"lost_part,omitempty"`
	Breakage        string `json:"breakage,omitempty"`
	Fluid           string `json:"fluid,omitempty"`
	FrontEnd        string `json:"front_end,omitempty"`
	Speed           string `json:"speed,omitempty"`
	RedFlag         string `json:"red_flag,omitempty"`
	EarlyStart      string `json:"early_start,omitempty"`
	Jerking         string `json:"jerking,omitempty"`
	NotReady        string `json:"not_ready,omitempty"`
	Overweight      string `json:"overweight,omitempty"`
	Illegal         string `json:"illegal_vehicle,omitempty"`
	Conduct         string `json:"conduct,omitempty"`
}

// words leads from each cause to its word in the group.
func (g *reasons) words() map[domain.Cause]*string {
	return map[domain.Cause]*string{
		domain.CauseOutOfBounds: &g.OutOfBounds, domain.CauseSledOutOfBounds: &g.SledOutOfBounds, domain.CauseLostPart: &g.LostPart,
		domain.CauseBreakage: &g.Breakage, domain.CauseFluid: &g.Fluid, domain.CauseFrontEnd: &g.FrontEnd, domain.CauseSpeed: &g.Speed,
		domain.CauseRedFlag: &g.RedFlag, domain.CauseEarlyStart: &g.EarlyStart, domain.CauseJerking: &g.Jerking, domain.CauseNotReady: &g.NotReady,
		domain.CauseOverweight: &g.Overweight, domain.CauseIllegal: &g.Illegal, domain.CauseConduct: &g.Conduct,
	}
}

// rule keeps what differs from no_distance, so that two documents that mean the same give the same value.
func (g *reasons) rule(f *ruleValues) (rule domain.ReasonRule) {
	if g == nil {
		return rule
	}
	words := g.words()
	for _, cause := range domain.Causes() {
		field := "reasons." + strings.ReplaceAll(string(cause), " ", "_")
		if q := word(f, field, *words[cause], "no_distance", reasonWords); q != domain.NoDistance {
			if rule.Of == nil {
				rule.Of = make(map[domain.Cause]domain.Consequence)
			}
			rule.Of[cause] = q
		}
	}
	return rule
}

func writeReasons(r domain.ReasonRule) *reasons {
	var g reasons
	for cause, at := range g.words() {
		if q, ok := r.Of[cause]; ok {
			*at = wordFor(reasonWords, q)
		}
	}
	return said(g)
}

// speedLimit is the limit of a speed-limited class. From is a share of the track or a distance, hence text.
type speedLimit struct {
	Limit     string `json:"limit"`
	From      string `json:"from,omitempty"`
	Warnings  int    `json:"warnings,omitempty"`
	Device    string `json:"device,omitempty"`
	OwnDevice *bool  `json:"own_device,omitempty"`
}

func (g *speedLimit) rule(f *ruleValues) domain.SpeedRule {
	if g == nil {
		return domain.SpeedRule{}
	}
	if g.Limit == "" {
		f.refuse(ruleError("speed.limit", "there is a group for the speed and no limit in it", "write it with its unit, such as 3.5 mph, or leave speed out"))
	}
	limit, err := domain.ParseSpeed(g.Limit)
	f.named("speed.limit", err)
	return domain.SpeedRule{Limit: limit, From: f.mark("speed.from", g.From), Warnings: g.Warnings, Device: g.Device,
		NoOwnDevice: g.OwnDevice != nil && !*g.OwnDevice}
}

// trimmed are texts without the spaces around them, nil for none.
func trimmed(list []string) []string {
	var texts []string
	for _, s := range list {
		texts = append(texts, strings.TrimSpace(s))
	}
	return texts
}

func writeSpeed(r domain.SpeedRule) *speedLimit {
	if r == (domain.SpeedRule{}) {
		return nil
	}
	g := speedLimit{Limit: r.Limit.String(), Warnings: r.Warnings, Device: r.Device, From: r.From.Share.String()}
	if g.From == "" {
		g.From = r.From.Distance.Decimal()
	}
	if r.NoOwnDevice {
		g.OwnDevice = new(false)
	}
	return &g
}
