package domain

import (
	"fmt"
	"time"

	"github.com/google/uuid"
)

// Attendance is what the desk knows of an entry that no hook tells: who is a guest, who came, what the entry costs and
// whether it was paid. Points and purse are computed from it. It holds no personal data. The zero Attendance is a member
// who has not been seen, with nothing paid. It is comparable.
type Attendance struct {
	Guest bool // not a member, and so without points
	// Came is what somebody saw at the desk. Who hooked is present whether it was ticked or not; see [Class.Competitors].
	Came bool
	// Fee is what the entry costs, in cents; 0 where nobody said. Paid says that it was paid.
	Fee  Money
	Paid bool
}

// Attended is the attendance of one entry.
type Attended struct {
	Entry uuid.UUID
	Attendance
}

// Attend writes down who came, who is a guest and who has paid. Each entry in it gets all of its attendance anew, and
// entries that are not in it keep theirs, so that two people with a list each do not undo one another. It is possible
// before the draw and after the last hook, until the result is official: the points belong to what was signed.
type Attend struct {
	Entries []Attended
}

// decide takes entries that were scratched too: whoever came and broke before the class is paid for coming by some books
// (RENEG 8, RIVER).
func (a Attend) decide(c *Class, _ time.Time) error {
	if len(a.Entries) == 0 {
		return invalid("entries", "nothing is said of any entry", "say of one entry at least who came or paid")
	}
	seen := make(map[uuid.UUID]bool, len(a.Entries))
	for _, told := range a.Entries {
		entry := c.entry(told.Entry)
		switch {
		case entry == nil:
			return notFound("there is no such entry in this class", "reload the page")
		case seen[told.Entry]:
			return invalid("entries", "number "+entry.Number+" stands twice", "say it once")
		case told.Fee < 0 || told.Fee > maxMoney:
			return invalid("fee", fmt.Sprintf("%s is no fee", told.Fee), "write figures such as 20 or 20.50")
		}
		seen[told.Entry], entry.Attendance = true, told.Attendance
	}
	return nil
}
