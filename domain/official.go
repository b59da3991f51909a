package domain

import "time"

// Official is the signature under a result: when it was made official and by whom. While Made is zero the
// result is provisional.
type Official struct {
	Made time.Time
	// Name is the name that the official signed with. It is a public act and belongs to the result.
	Name string
	// Reopened counts how often an official result was opened again.
	Reopened int
}

// MakeOfficial signs the result of a decided class. From then on nothing in it changes until it is reopened.
// The name is personal data and no part of the journal; [Sign] makes the action. Who may sign, and how long a
// protest is waited for, differs from club to club and is not looked at.
type MakeOfficial struct {
	Name string
}

// Sign reads the name with which an official signs; it may not be empty. decide does not ask again, because a
// journal that is replayed has no name in it.
func Sign(name string) (MakeOfficial, error) {
	name, err := required("name", "the name of the official", name)
	return MakeOfficial{Name: name}, err
}

// decide takes only a class in which nothing is left to hook.
func (a MakeOfficial) decide(c *Class, at time.Time) error {
	if c.Phase() != Decided {
		return wrongState("the class is not decided", "finish its rounds first")
	}
	c.Official.Made, c.Official.Name = at, a.Name
	return nil
}

// Reopen makes an official result provisional again, with a reason that stays in the journal. It is the one
// action that an official result takes. The signature is taken away, and the count says that there was one.
type Reopen struct {
	Reason string
}

// decide keeps nothing of the signature but the count: who signs the changed result signs it anew.
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
