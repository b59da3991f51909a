package doc

import (
	"fmt"

	"clayline/domain"
)

// weightLimit is the weight limit and how it is enforced. Left out, nothing is weighed. WithDriver is a pointer, because
// leaving it out means true.
type weightLimit struct {
	Limit      string `json:"limit"`
	Tolerance  string `json:"tolerance,omitempty"`
	Least      string `json:"least,omitempty"`
	When       string `json:"when,omitempty"`
	Tries      int    `json:"tries,omitempty"`
	Over       string `json:"over,omitempty"`
	WithDriver *bool  `json:"with_driver,omitempty"`
}

// The words of the group.
var (
	weighWords = map[string]domain.WeighTime{
		"before": domain.WeighBefore, "after": domain.WeighAfter, "both": domain.WeighBoth, "on_request": domain.WeighOnRequest}
	overWords = map[string]domain.Overweight{
		"disqualified": domain.OverDisqualified, "class_up": domain.OverClassUp, "exhibition": domain.OverExhibition}
)

func (g *weightLimit) rule(f *ruleValues) (r domain.WeightRule) {
	if g == nil {
		return r
	}
	var err error
	r.Limit, err = domain.ParseWeight(g.Limit)
	f.named("weight.limit", err)
	r.Tolerance, err = domain.ParseWeight(g.Tolerance)
	f.named("weight.tolerance", err)
	r.Least, err = domain.ParseWeight(g.Least)
	f.named("weight.least", err)
	r.When = word(f, "weight.when", g.When, "before", weighWords)
	r.Over = word(f, "weight.over", g.Over, "disqualified", overWords)
	r.Tries, r.WithDriver = g.Tries, g.WithDriver == nil || *g.WithDriver
	return r
}

func writeWeight(r domain.WeightRule) *weightLimit {
	if r == (domain.WeightRule{}) {
		return nil
	}
	return &weightLimit{
		Limit: r.Limit.String(), Tolerance: r.Tolerance.String(), Least: r.Least.String(), When: wordFor(weighWords, r.When), Tries: r.Tries, Over: wordFor(overWords, r.Over),
		WithDriver: &r.WithDriver,
	}
}

// weightPattern is the spelling of a weight: figures with up to three decimals, and its unit.
const weightPattern = `^\s*([0-9]{1,3}(,[0-9]{3})+|[0-9]+)(\.[0-9]{1,3})?\s*(lb|kg)\s*$`

// weightFields are the rows of the group for [ruleFields].
var weightFields = []ruleField{
	{path: "weight",
		says:  "The weight limit of the class and how it is enforced. Without it nothing is weighed.",
		write: "a group in braces"},
	{path: "weight.limit", needed: true, shape: schema{Pattern: weightPattern},
		says: "The heaviest that a vehicle may be.", write: "figures and a unit, such as 8500 lb"},
	{path: "weight.tolerance", shape: schema{Pattern: weightPattern},
		says: "What a vehicle may be over the limit. Without it nothing.", write: "figures and a unit, such as 10 lb"},
	{path: "weight.least", shape: schema{Pattern: weightPattern},
		says: "The lightest that a vehicle may be. Without it any weight up to the limit will do.", write: "figures and a unit, such as 3500 lb, up to limit and tolerance together"},
	{path: "weight.when", byDefault: "before", shape: words(weighWords), meanings: map[string]string{
		"before":     "every vehicle before its hook",
		"after":      "every vehicle after its hook, and not before",
		"both":       "every vehicle before and after",
		"on_request": "who asks for it, or whom the officials send"},
		says: "When a vehicle is weighed.", write: `"before", "after", "both" or "on_request"`},
	{path: "weight.tries", byDefault: 0, shape: schema{Minimum: new(0), Maximum: new(9)},
		says: "How many attempts at the scale a vehicle has before its hook.", write: "a whole number from 0 to 9; 0 means as many as are wanted"},
	{path: "weight.over", byDefault: "disqualified", shape: words(overWords), meanings: map[string]string{
		"disqualified": "it is disqualified",
		"class_up":     "it may go up one class",
		"exhibition":   "it may pull as an exhibition, without a place"},
		says: "What the officials are advised for a vehicle that is too heavy, or too light where there is a least weight.", write: `"disqualified", "class_up" or "exhibition"`},
	{path: "weight.with_driver", byDefault: true,
		says: "Whether the driver is weighed with the vehicle.", write: "true or false"},
}

// weightSentences say what a set has on weighing, for [ruleSentences].
var weightSentences = []ruleSentence{
	{"Weight.Limit", "the class", "it", func(r domain.RuleSet) string {
		return either(r.Weight.Limit.IsZero(), "has no weight limit", "has a weight limit of "+r.Weight.Limit.String())
	}},
	{"Weight.Tolerance", "a vehicle", "it", weighed(func(r domain.RuleSet) string {
		return either(r.Weight.Tolerance.IsZero(), "may not be over the limit at all", "may be "+r.Weight.Tolerance.String()+" over the limit")
	})},
	{"Weight.Least", "a vehicle", "it", weighed(func(r domain.RuleSet) string {
		return either(r.Weight.Least.IsZero(), "may be as light as it likes", "must weigh at least "+r.Weight.Least.String())
	})},
	{"Weight.When", "a vehicle", "it", weighed(func(r domain.RuleSet) string {
		return "is weighed " + map[domain.WeighTime]string{
			domain.WeighBefore: "before its hook", domain.WeighAfter: "after its hook", domain.WeighBoth: "before and after its hook",
			domain.WeighOnRequest: "on request"}[r.Weight.When]
	})},
	{"Weight.Tries", "a vehicle", "it", weighed(func(r domain.RuleSet) string {
		return either(r.Weight.Tries == 0, "may be weighed as often as is wanted", fmt.Sprintf("has %d tries at the scale", r.Weight.Tries))
	})},
	{"Weight.Over", "a vehicle that is too heavy", "it", weighed(func(r domain.RuleSet) string {
		return map[domain.Overweight]string{domain.OverDisqualified: "is disqualified", domain.OverClassUp: "may go up one class",
			domain.OverExhibition: "may pull as an exhibition"}[r.Weight.Over]
	})},
	{"Weight.WithDriver", "the driver", "the driver", weighed(func(r domain.RuleSet) string {
		return either(r.Weight.WithDriver, "is weighed with the vehicle", "is not weighed with the vehicle")
	})},
}

// weighed keeps a sentence to sets with a weight limit.
func weighed(says func(domain.RuleSet) string) func(domain.RuleSet) string {
	return func(r domain.RuleSet) string { return either(r.Weight.Limit.IsZero(), "", says(r)) }
}
