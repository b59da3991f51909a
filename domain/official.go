package domain

import (
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
)

// Official is the signature under a result: when it was made official and by whom. While Made is zero the
// result is provisional.
type Official struct {
	Made time.Time
	// Name is the name that the official signed with. It is a public act and belongs to the result.
	Name string
}

// Signature is a signature that was taken away again: the result as it was signed, and why it was opened. Everything
// in it stays public, because people have read that result and perhaps been paid by it.
type Signature struct {
	Made     time.Time
	Name     string
	Reopened time.Time
	Reason   string
	// Standing is the standing that was signed, the best first. It is kept and not computed again from the journal: what
	// was signed must read the same whatever a later program makes of the same hooks.
	Standing []Signed
}

// Signed is one line of a standing as it was signed: the place, 0 for none, and what was pulled for it, in the words of
// a class sheet: "281.36", or "FP, P1 312.44".
type Signed struct {
	Entry   uuid.UUID
	Place   int
	Shared  bool
	Results string
}

// PlaceChange is what became of one entry between two revisions of a result.
type PlaceChange struct {
	Was, Is Signed
}

// Revision counts the results of the class that are, were or will be signed, from 1: the one after each reopening is
// another.
func (c *Class) Revision() int { return len(c.Earlier) + 1 }

// Signed returns the standing in the form in which it is signed.
func (c *Class) Signed() []Signed {
	placings := c.Standing()
	list := make([]Signed, len(placings))
	for i, p := range placings {
		entry := c.Entries[p.Row].ID
		list[i] = Signed{Entry: entry, Place: p.Place, Shared: p.Shared, Results: c.pulled(entry)}
	}
	return list
}

// pulled writes what counts for an entry, round by round. The first round goes without its name.
func (c *Class) pulled(entry uuid.UUID) string {
	var list []string
	for i := range c.Rounds {
		r := &c.Rounds[i]
		switch result := r.ResultOf(entry); {
		case !result.Counts():
		case i == 0:
			list = append(list, result.String())
		default:
			list = append(list, r.Name.String()+" "+result.String())
		}
	}
	return strings.Join(list, ", ")
}

// Changes returns what differs in the standing between a revision and the one before it, in the order of the later one;
// nothing for the first. For the revision that is being worked on it says what has changed so far. When 7's 281.36 was
// corrected to 291.36, and 41 has 285.2:
//
//	7   was 2, 281.36   is 1, 291.36
//	41  was 1, 285.2    is 2, 285.2
func (c *Class) Changes(revision int) []PlaceChange {
	if revision < 2 || revision > c.Revision() {
		return nil
	}
	before, after := c.Earlier[revision-2].Standing, c.Signed()
	if revision <= len(c.Earlier) {
		after = c.Earlier[revision-1].Standing
	}
	var changes []PlaceChange
	for _, is := range after {
		was := Signed{Entry: is.Entry}
		if i := slices.IndexFunc(before, func(s Signed) bool { return s.Entry == is.Entry }); i >= 0 {
			was = before[i]
		}
		if was != is {
			changes = append(changes, PlaceChange{Was: was, Is: is})
		}
	}
	return changes
}

// MakeOfficial signs the result of a decided class. From then on nothing in it changes until it is reopened.
// The name is personal data and no part of the journal; [Sign] makes the action. Who may sign differs from club to
// club and is not looked at; how long a protest is waited for is the rule set's, see [ProtestRule].
type MakeOfficial struct {
	Name string
}

// Sign reads the name with which an official signs; it may not be empty. decide does not ask again, because a
// journal that is replayed has no name in it.
func Sign(name string) (MakeOfficial, error) {
	name, err := required("name", "the name of the official", name)
	return MakeOfficial{Name: name}, err
}

// decide takes only a class in which nothing is left to hook, and whose protests are over and decided.
func (a MakeOfficial) decide(c *Class, at time.Time) error {
	if c.Phase() != Decided {
		return wrongState("the class is not decided", "finish its rounds first")
	}
	if err := c.maySign(at); err != nil {
		return err
	}
	c.Official = Official{Made: at, Name: a.Name}
	return nil
}

// Reopen makes an official result provisional again, with a reason that stays public with the signature that it takes
// away. It is the one action that an official result takes. A track official may revise a decision for good cause
// (QUYON 2).
type Reopen struct {
	Reason string
}

// decide keeps the signature and what it stood under; who signs the changed result signs it anew, as the next
// revision.
func (a Reopen) decide(c *Class, at time.Time) error {
	reason, err := required("reason", "the reason", a.Reason)
	if err != nil {
		return err
	}
	if c.Official.Made.IsZero() {
		return wrongState("the result is not official", "there is nothing to reopen")
	}
	c.Earlier = append(c.Earlier, Signature{
		Made: c.Official.Made, Name: c.Official.Name, Reopened: at, Reason: reason, Standing: c.Signed(),
	})
	c.Official = Official{}
	return nil
}
