package doc

import (
	"fmt"

	"clayline/domain"
)

// protest is how a result is protested. Left out, no protest is taken.
type protest struct {
	Minutes int    `json:"minutes,omitempty"`
	Fee     string `json:"fee,omitempty"`
	Until   string `json:"until,omitempty"`
	Decides string `json:"decides,omitempty"`
}

// rule reads the group; one that says nothing is none. Nothing in it has words of its own that could be refused here.
func (g *protest) rule() domain.ProtestRule {
	if g == nil {
		return domain.ProtestRule{}
	}
	return domain.ProtestRule(*g)
}

func writeProtest(r domain.ProtestRule) *protest {
	if r == (domain.ProtestRule{}) {
		return nil
	}
	group := protest(r)
	return &group
}

// protestFields are the rows of the group for [ruleFields].
var protestFields = []ruleField{
	{path: "protest",
		says:  "How a result is protested before it is official. Without it no protest is taken.",
		write: "a group in braces"},
	{path: "protest.minutes", byDefault: 0, shape: schema{Minimum: new(0), Maximum: new(1440)},
		says:  "How many minutes protests are waited for, from the last hook or the last change of a result; until then it cannot be signed.",
		write: "a whole number; 0 means that no clock ends it"},
	{path: "protest.fee", byDefault: "",
		says: "What a protest costs, as the rule book prints it.", write: "any text, such as $50 an issue"},
	{path: "protest.until", byDefault: "",
		says: "When protests end, in the words of the rule book.", write: "any text, such as before trophies are handed over"},
	{path: "protest.decides", byDefault: "",
		says: "Who decides a protest.", write: "any text, such as the board"},
}

// protestSentences say what a set has on protests, for [ruleSentences]. The minutes and the words are two ways to say when
// protests end and share a sentence: one of them alone must not read as if there were no end.
var protestSentences = []ruleSentence{
	{"Protest.Minutes", "a result", "it", func(r domain.RuleSet) string {
		switch {
		case r.Protest == (domain.ProtestRule{}):
			return "is not protested"
		case r.Protest.Minutes == 0:
			return fmt.Sprintf("may be protested %q, and no minutes are counted", r.Protest.Until)
		case r.Protest.Until != "":
			return fmt.Sprintf("may be protested for %d min, in words %q", r.Protest.Minutes, r.Protest.Until)
		default:
			return fmt.Sprintf("may be protested for %d min", r.Protest.Minutes)
		}
	}},
	{"Protest.Fee", "the fee of a protest", "it", inProtest(func(r domain.RuleSet) string {
		return either(r.Protest.Fee == "", "is not said", fmt.Sprintf("is %q", r.Protest.Fee))
	})},
	{"Protest.Decides", "who decides a protest", "it", inProtest(func(r domain.RuleSet) string {
		return either(r.Protest.Decides == "", "is not said", fmt.Sprintf("is %q", r.Protest.Decides))
	})},
}

// inProtest keeps a sentence to sets that take protests.
func inProtest(says func(domain.RuleSet) string) func(domain.RuleSet) string {
	return func(r domain.RuleSet) string { return either(r.Protest != (domain.ProtestRule{}), says(r), "") }
}
