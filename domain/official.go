package domain

import "time"

// Official is the signature under a result.
type Official struct {
	Made time.Time
	// Name is the name that the official signed with. It is a public act and belongs to the result.
	Name string
	// Reopened counts how often an official result was opened again.
	Reopened int
}

// MakeOfficial signs the result of a decided class. From then on nothing in it changes until it is reopened. The name
// is personal data and no part of the journal; [Sign] makes the action.
type MakeOfficial struct {
	Name string
}

// Sign reads the name with which an official signs.
func Sign(name string) (MakeOfficial, error) {
	name, err := required("name", "the name of the official", name)
	return MakeOfficial{Name: name}, err
}

func (a MakeOfficial) decide(c *Class, at time.Time) error {
	if c.Phase() != Decided {
		return wrongState("the class is not decided", "finish its rounds first")
	}
	c.Official.Made, c.Official.Name = at, a.Name
	return nil
}

// Reopen makes an official result provisional again, with a reason that stays in the journal.
type Reopen struct {
	Reason string
}

func (a Reopen) decide(c *Class, _ time.Time) error {
	if _, err := required("reason", "the reason", a.Reason); err != nil {
		return err
	}
	if c.Official.Made.IsZero() {
		return wrongState("the result is not official", "there is nothing to reopen")
	}
	c.Official = Official{Reopened: c.Official.Reopened + 1}
	return nil
}
