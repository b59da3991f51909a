package doc

import (
	"encoding/json"
	"fmt"

	"github.com/google/uuid"

	"clayline/domain"
)

// ClassCopy is a class as a device keeps it to go on without the server: all that decides it, the parts of its event that
// its pages name, and the number of the last journal line about it. It is for staff: it holds the names in the class. What
// is no business of the booth and the cab, who lodged a protest and who signed, is blank in it, and so are the sleds of the
// event that the class is not pulled on.
type ClassCopy struct {
	Event  domain.Event
	Class  domain.Class
	Number int64
	// Done are the ids of the last actions on the class, so that a device knows one whose answer it did not get.
	Done []uuid.UUID
	// Offset is how far the event's clock is ahead of UTC, in seconds: a browser has no table of time zones.
	Offset int
}

// classCopy is [ClassCopy] as JSON: the rule set and the sled stand in it as the documents that people exchange.
type classCopy struct {
	Event  domain.Event
	Class  domain.Class
	Rules  json.RawMessage
	Sled   planSled
	Number int64
	Done   []uuid.UUID
	Offset int
}

// WriteClassCopy writes a copy as JSON, without what [ClassCopy] leaves out.
func WriteClassCopy(c ClassCopy) ([]byte, error) {
	class := c.Class.Clone()
	rules, err := WriteRuleSet(class.Rules)
	if err != nil {
		return nil, err
	}
	sled, err := planSledOf(class.Sled)
	if err != nil {
		return nil, err
	}
	for i := range class.Protests {
		class.Protests[i].By = ""
	}
	for i := range class.Earlier {
		class.Earlier[i].Name = ""
	}
	class.Official.Name = ""
	class.Rules, class.Sled = domain.RuleSet{}, domain.Sled{}
	c.Event.Sleds = nil
	return json.Marshal(classCopy{Event: c.Event, Class: class, Rules: rules, Sled: sled, Number: c.Number, Done: c.Done, Offset: c.Offset})
}

// ParseClassCopy reads what [WriteClassCopy] wrote.
func ParseClassCopy(text []byte) (ClassCopy, error) {
	var written classCopy
	if err := json.Unmarshal(text, &written); err != nil {
		return ClassCopy{}, fmt.Errorf("reading the copy of a class: %w", err)
	}
	c := ClassCopy{Event: written.Event, Class: written.Class, Number: written.Number, Done: written.Done, Offset: written.Offset}
	var err error
	if c.Class.Rules, err = ParseRuleSet(written.Rules); err != nil {
		return ClassCopy{}, err
	}
	c.Class.Sled, err = written.Sled.sled()
	return c, err
}
