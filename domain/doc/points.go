package doc

import (
	"cmp"
	"fmt"
	"strings"

	"clayline/domain"
)

// points is what a rule set says of points; docs/rules.md explains each field. What an entry gets is a word or a number,
// both as text, so that a list of causes can hold them too.
type points struct {
	To           string   `json:"to,omitempty"`
	Places       []int    `json:"places,omitempty"`
	Step         int      `json:"step,omitempty"`
	Floor        int      `json:"floor,omitempty"`
	Outside      string   `json:"outside,omitempty"`
	ShowUp       int      `json:"show_up,omitempty"`
	Hook         int      `json:"hook,omitempty"`
	HookFor      string   `json:"hook_for,omitempty"`
	Registration int      `json:"registration,omitempty"`
	DQ           string   `json:"dq,omitempty"`
	DQCauses     []string `json:"dq_causes,omitempty"`
	PullOffDQ    string   `json:"pull_off_dq,omitempty"`
	Broke        string   `json:"broke,omitempty"`
	BrokeBefore  string   `json:"broke_before,omitempty"`
	NotHooked    string   `json:"not_hooked,omitempty"`
	Late         string   `json:"late,omitempty"`
	Ties         string   `json:"ties,omitempty"`
	Guests       string   `json:"guests,omitempty"`
	Stopped      string   `json:"stopped,omitempty"`
	NotRun       string   `json:"not_run,omitempty"`
	Minimum      int      `json:"minimum,omitempty"`
	Below        string   `json:"below,omitempty"`
}

// The words of the document for the choices of points. A word, once published, keeps its meaning; those of awards are
// the domain's.
var (
	ownerWords       = map[string]domain.Owner{"vehicle": domain.ToVehicle, "driver": domain.ToDriver}
	hookForWords     = map[string]bool{"hooking": false, "moving": true}
	pointTieWords    = map[string]domain.TiePoints{"average": domain.TieAverage, "full": domain.TieFull, "lowest": domain.TieLowest}
	guestPlacesWords = map[string]domain.GuestPlaces{"closed_up": domain.ClosedUp, "actual": domain.ActualPlaces}
)

// awardPattern is the spelling of an award: the words, and the numbers that [domain.ParseAward] takes.
const awardPattern = "(place|nothing|add_ons|show_up|hook|last_place|lowest|[0-9]{1,4})"

// awardWrite says what may stand where an award does.
const awardWrite = `"place", "nothing", "add_ons", "show_up", "hook", "last_place", "lowest" or a number such as "25"`

// awardField is one field that holds an award: its word in the document, what it is when left out, and its place in the
// rule set.
type awardField struct {
	name, byDefault string
	word            *string
	award           *domain.Award
}

// awards pairs the fields of the document with those of the rule set, so that reading and writing cannot disagree.
func (d *points) awards(p *domain.PointsRule) []awardField {
	return []awardField{
		{"outside", "place", &d.Outside, &p.Outside},
		{"dq", "add_ons", &d.DQ, &p.DQ},
		{"pull_off_dq", "place", &d.PullOffDQ, &p.PullOffDQ},
		{"broke", "place", &d.Broke, &p.Broke},
		{"broke_before", "add_ons", &d.BrokeBefore, &p.BrokeBefore},
		{"not_hooked", "add_ons", &d.NotHooked, &p.NotHooked},
		{"late", "place", &d.Late, &p.Late},
		{"stopped", "nothing", &d.Stopped, &p.Stopped},
		{"not_run", "nothing", &d.NotRun, &p.NotRun},
		{"below", "show_up", &d.Below, &p.Below},
	}
}

// rule turns the group into the domain's rule; no group gives no points.
func (d *points) rule(f *ruleValues) (p domain.PointsRule) {
	if d == nil {
		return p
	}
	p = domain.PointsRule{Step: d.Step, Floor: d.Floor, ShowUp: d.ShowUp, Hook: d.Hook, Registration: d.Registration, Minimum: d.Minimum}
	if len(d.Places) > 0 {
		p.Places = d.Places
	}
	p.To = word(f, "points.to", d.To, "vehicle", ownerWords)
	p.HookMoved = word(f, "points.hook_for", d.HookFor, "hooking", hookForWords)
	p.Ties = word(f, "points.ties", d.Ties, "average", pointTieWords)
	p.Guests = word(f, "points.guests", d.Guests, "closed_up", guestPlacesWords)
	for _, field := range d.awards(&p) {
		award, err := domain.ParseAward(cmp.Or(*field.word, field.byDefault))
		f.named("points."+field.name, err)
		*field.award = award
	}
	for _, written := range d.DQCauses {
		c, err := domain.ParseCauseAward(written)
		f.named("points.dq_causes", err)
		p.DQCauses = append(p.DQCauses, c)
	}
	return p
}

// pointsOf returns the group for a rule; nil where it gives none. Awards are written out even where they are those
// that are meant when nothing is written.
func pointsOf(p domain.PointsRule) *points {
	if !p.Given() {
		return nil
	}
	d := &points{
		To: wordFor(ownerWords, p.To), Places: p.Places, Step: p.Step, Floor: p.Floor, ShowUp: p.ShowUp, Hook: p.Hook,
		HookFor: wordFor(hookForWords, p.HookMoved), Registration: p.Registration, Ties: wordFor(pointTieWords, p.Ties),
		Guests: wordFor(guestPlacesWords, p.Guests), Minimum: p.Minimum,
	}
	for _, f := range d.awards(&p) {
		*f.word = f.award.String()
	}
	for _, c := range p.DQCauses {
		d.DQCauses = append(d.DQCauses, c.String())
	}
	return d
}

// pointsFields are the rows of the group in [ruleFields].
var pointsFields = []ruleField{
	{path: "points",
		says:  "What the places of a class are worth in a season. Without it there are no points.",
		write: "a group in braces"},
	{path: "points.to", byDefault: "vehicle", shape: words(ownerWords), meanings: map[string]string{
		"vehicle": "they stay with the vehicle, whoever drives it",
		"driver":  "they are the driver's"},
		says: "Whose the points are.", write: `"vehicle" or "driver"`},
	{path: "points.places", shape: schema{Items: &schema{Type: "integer", Minimum: new(0), Maximum: new(9999)}},
		says: "The points of the first places, best first.", write: "a list of whole numbers such as [10, 8, 6], not rising"},
	{path: "points.step", byDefault: 0, shape: pointsShape,
		says: "How many points less each further place gives than the one before.", write: "a whole number"},
	{path: "points.floor", byDefault: 0, shape: pointsShape,
		says: "What every further place gives at least.", write: "a whole number that is not above the last of places"},
	awardRow("outside", "place", "What an entry with a place gets that was not in the pull-off, where one was held."),
	{path: "points.show_up", byDefault: 0, shape: pointsShape,
		says: "Added for coming.", write: "a whole number"},
	{path: "points.hook", byDefault: 0, shape: pointsShape,
		says: "Added for hooking.", write: "a whole number"},
	{path: "points.hook_for", byDefault: "hooking", shape: words(hookForWords), meanings: map[string]string{
		"hooking": "any hook earns them",
		"moving":  "the sled must have moved measurably"},
		says: "What earns the hook points.", write: `"hooking" or "moving"`},
	{path: "points.registration", byDefault: 0, shape: pointsShape,
		says: "Added for having paid the entry.", write: "a whole number"},
	awardRow("dq", "add_ons", "What a disqualified entry without a place gets."),
	{path: "points.dq_causes", shape: schema{Items: &schema{Type: "string", Pattern: "^(" + causePattern() + "): " + awardPattern + "$"}},
		says:  "What a disqualification for some causes gives instead.",
		write: `a list of a cause, a colon and what it gives, such as ["illegal vehicle: nothing"]`},
	awardRow("pull_off_dq", "place", "What an entry gets that keeps its place and was disqualified in a pull-off."),
	awardRow("broke", "place", "What an entry gets that hooked and broke without moving the sled."),
	awardRow("broke_before", "add_ons", "What an entry gets that broke before it could hook."),
	awardRow("not_hooked", "add_ons", "What an entry gets that was there and did not hook."),
	awardRow("late", "place", "What a late entry gets; anything but the place takes it out of the places like a guest."),
	{path: "points.ties", byDefault: "average", shape: words(pointTieWords), meanings: map[string]string{
		"average": "the points of the places that they take up are shared",
		"full":    "each gets the points of the shared place",
		"lowest":  "each gets the points of the last place that they take up"},
		says: "What entries get that share a place.", write: `"average", "full" or "lowest"`},
	{path: "points.guests", byDefault: "closed_up", shape: words(guestPlacesWords), meanings: map[string]string{
		"closed_up": "guests are taken out and the members move up",
		"actual":    "a place is worth what it was"},
		says: "What places behind guests are worth. Guests get no points.", write: `"closed_up" or "actual"`},
	awardRow("stopped", "nothing", "What everybody who was there gets when the class was begun and not ended."),
	awardRow("not_run", "nothing", "What everybody who was there gets when the class was not begun."),
	{path: "points.minimum", byDefault: 0, shape: pointsShape,
		says: "The number of entries present below which everybody gets what below says.", write: "a whole number; 0 means no minimum"},
	awardRow("below", "show_up", "What everybody who was there gets when there are fewer entries than minimum."),
}

// pointsShape is that of a number of points.
var pointsShape = schema{Minimum: new(0), Maximum: new(9999)}

// awardRow is the row of a field that holds an award.
func awardRow(name, byDefault, says string) ruleField {
	return ruleField{path: "points." + name, byDefault: byDefault, shape: schema{Pattern: "^" + awardPattern + "$"}, says: says, write: awardWrite}
}

// causePattern lists the causes as a choice.
func causePattern() string {
	names := make([]string, 0, len(domain.Causes()))
	for _, c := range domain.Causes() {
		names = append(names, string(c))
	}
	return strings.Join(names, "|")
}

// pointsSentences are the sentences of the group in [ruleSentences]. In a set without points no field but the first has
// a meaning.
var pointsSentences = []ruleSentence{
	{"Points.To", "a class", "it", func(r domain.RuleSet) string {
		return either(!r.Points.Given(), "gives no points", either(r.Points.To == domain.ToDriver, "gives points to the driver", "gives points to the vehicle"))
	}},
	{"Points.Places", "the first places", "they", inPoints(func(p domain.PointsRule) string {
		return either(len(p.Places) == 0, "give what every place gives", "give "+commas(p.Places)+" points")
	})},
	{"Points.Step", "every further place", "it", inPoints(func(p domain.PointsRule) string {
		return fmt.Sprintf("gives %d less than the one before", p.Step)
	})},
	{"Points.Floor", "every further place", "it", inPoints(func(p domain.PointsRule) string {
		return fmt.Sprintf("gives at least %d", p.Floor)
	})},
	awardOf("Outside", "an entry outside the pull-off", func(p domain.PointsRule) domain.Award { return p.Outside }),
	numberOf("ShowUp", "coming", func(p domain.PointsRule) int { return p.ShowUp }),
	numberOf("Hook", "hooking", func(p domain.PointsRule) int { return p.Hook }),
	numberOf("Registration", "registering", func(p domain.PointsRule) int { return p.Registration }),
	{"Points.HookMoved", "a hook point", "it", inPoints(func(p domain.PointsRule) string {
		return either(p.HookMoved, "takes a sled that moved", "is earned by any hook")
	})},
	awardOf("DQ", "a disqualified entry", func(p domain.PointsRule) domain.Award { return p.DQ }),
	{"Points.DQCauses", "a disqualification", "it", inPoints(func(p domain.PointsRule) string {
		return either(len(p.DQCauses) == 0, "costs the same for every cause", "costs more or less for some causes: "+commas(p.DQCauses))
	})},
	awardOf("PullOffDQ", "an entry disqualified in a pull-off", func(p domain.PointsRule) domain.Award { return p.PullOffDQ }),
	awardOf("Broke", "an entry that breaks without moving the sled", func(p domain.PointsRule) domain.Award { return p.Broke }),
	awardOf("BrokeBefore", "an entry that breaks before it hooks", func(p domain.PointsRule) domain.Award { return p.BrokeBefore }),
	awardOf("NotHooked", "an entry that does not hook", func(p domain.PointsRule) domain.Award { return p.NotHooked }),
	awardOf("Late", "a late entry", func(p domain.PointsRule) domain.Award { return p.Late }),
	{"Points.Ties", "an entry that shares a place", "it", inPoints(func(p domain.PointsRule) string {
		return map[domain.TiePoints]string{domain.TieAverage: "gets the average of the places", domain.TieFull: "gets the points of the place in full",
			domain.TieLowest: "gets the points of the last of the places"}[p.Ties]
	})},
	{"Points.Guests", "a place behind a guest", "it", inPoints(func(p domain.PointsRule) string {
		return either(p.Guests == domain.ActualPlaces, "is worth what it was", "moves up")
	})},
	awardOf("Stopped", "who was there when a class is stopped", func(p domain.PointsRule) domain.Award { return p.Stopped }),
	awardOf("NotRun", "who was there when a class is not run", func(p domain.PointsRule) domain.Award { return p.NotRun }),
	{"Points.Minimum", "a class", "it", inPoints(func(p domain.PointsRule) string {
		return either(p.Minimum == 0, "gives points however few come", fmt.Sprintf("takes %d entries to give points as usual", p.Minimum))
	})},
	awardOf("Below", "who comes to a class with too few entries", func(p domain.PointsRule) domain.Award { return p.Below }),
}

// inPoints keeps a sentence to sets that give points.
func inPoints(says func(domain.PointsRule) string) func(domain.RuleSet) string {
	return func(r domain.RuleSet) string { return either(r.Points.Given(), says(r.Points), "") }
}

// awardOf is the sentence of a field that holds an award.
func awardOf(field, subject string, of func(domain.PointsRule) domain.Award) ruleSentence {
	said := map[domain.Award]string{
		domain.AwardPlace: "gets what the place gives", domain.AwardNothing: "gets nothing", domain.AwardAddOns: "gets the add-ons alone",
		domain.AwardShowUp: "gets the show-up points alone", domain.AwardHook: "gets the hook points alone",
		domain.AwardLastPlace: "gets the points of the last place", domain.AwardLowest: "gets the fewest points that a place got",
	}
	return ruleSentence{"Points." + field, subject, "the same", inPoints(func(p domain.PointsRule) string {
		award := of(p)
		return either(said[award] != "", said[award], "gets exactly "+award.String())
	})}
}

// numberOf is the sentence of an add-on.
func numberOf(field, subject string, of func(domain.PointsRule) int) ruleSentence {
	return ruleSentence{"Points." + field, subject, "it", inPoints(func(p domain.PointsRule) string {
		return fmt.Sprintf("adds %d", of(p))
	})}
}

// commas writes a list with commas.
func commas[T any](list []T) string {
	said := make([]string, len(list))
	for i, v := range list {
		said[i] = fmt.Sprint(v)
	}
	return strings.Join(said, ", ")
}
