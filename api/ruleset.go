package api

import (
	"encoding/json"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
)

// ruleSetList is a part of the list of the ready-made rule sets.
type ruleSetList struct {
	RuleSets []ruleSetLine `json:"rule_sets"`
	Next     string        `json:"next,omitempty"`
}

// ruleSetLine is a rule set in the list: the name to plan a class with, and a title for people.
type ruleSetLine struct {
	Name  string `json:"name"`
	Title string `json:"title"`
}

// ruleSets lists the ready-made rule sets.
func (s *Server) ruleSets(c echo.Context) error {
	place, err := cursorOf(c)
	if err != nil {
		return err
	}
	limit, err := limitOf(c)
	if err != nil {
		return err
	}
	names, next, err := part(doc.ReadyMade(), place, limit, func(name string) string { return name })
	if err != nil {
		return err
	}
	list := ruleSetList{RuleSets: make([]ruleSetLine, len(names)), Next: next}
	for i, name := range names {
		rules, err := doc.ReadyMadeRuleSet(name)
		if err != nil {
			return err
		}
		list.RuleSets[i] = ruleSetLine{Name: rules.Name, Title: rules.Title}
	}
	return s.loose(c, list)
}

// ruleSet shows one ready-made rule set, as the document that docs/rules.md explains.
func (s *Server) ruleSet(c echo.Context) error {
	rules, err := doc.ReadyMadeRuleSet(c.Param("name"))
	if err != nil {
		return err
	}
	body, err := doc.WriteRuleSet(rules)
	if err != nil {
		return err
	}
	return servePage(c, s.desk.Live().Loose(desk.Rendered{Type: jsonType, Body: body}))
}

// readRules reads the rule set of a class: the name of a ready-made one, or a document. A null is neither.
//
//	"rules": "capped-300ft"
//	"rules": {"name": "our-own", "title": "Our own rules", …}
func readRules(o *object) (rules domain.RuleSet) {
	const field = "rules"
	if !o.has(field) {
		o.refuse(field, "the field rules is missing", "write the name of a ready-made rule set, such as "+doc.DefaultRuleSet+", or a rule set")
		return rules
	}
	switch value := o.fields[field].(type) {
	case string:
		rules, err := doc.ReadyMadeRuleSet(value)
		if e, ok := domainError(err); ok {
			o.refuse(field, e.Message, e.Fix)
		}
		return rules
	case map[string]any:
		return readOwnRules(o, field, value)
	default:
		o.refuse(field, nameOf(value)+" cannot stand here", "write the name of a ready-made rule set, or a rule set")
		return rules
	}
}

// readOwnRules reads a rule set that a club has written. Its texts are bounded like all others. The document is written
// out again and given to the parser of rule set files, so that there is one parser and one list of refusals. A refusal
// names the place in the body: rules.line.
func readOwnRules(o *object, field string, value map[string]any) (rules domain.RuleSet) {
	raw, err := json.Marshal(value)
	if err == nil {
		rules, err = doc.ParseRuleSet(raw)
	}
	if e, ok := domainError(err); ok && e.Field != "" {
		field = join(field, e.Field)
	}
	o.keep(field, err)
	inner := &object{path: join(o.path, "rules"), fields: value, asked: map[string]bool{}, wrong: o.wrong}
	for _, name := range []string{"name", "title"} {
		if inner.has(name) {
			inner.maybe(name)
		}
	}
	return rules
}
