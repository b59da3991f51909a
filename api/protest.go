package api

import (
	"time"

	"github.com/google/uuid"

	"clayline/domain"
)

// protest is a protest against the result of an entry. Who lodged it is told to nobody here. Hook is left out where it is
// about no single one; ruling, and what follows from it, while it is undecided.
type protest struct {
	ID       uuid.UUID  `json:"id"`
	Entry    uuid.UUID  `json:"entry"`
	Hook     *uuid.UUID `json:"hook,omitempty"`
	About    string     `json:"about"`
	FeeTaken bool       `json:"fee_taken"`
	Lodged   time.Time  `json:"lodged"`
	Late     bool       `json:"late"`
	Ruling   string     `json:"ruling,omitempty"`
	Follows  string     `json:"follows,omitempty"`
	Reason   string     `json:"reason,omitempty"`
	Decided  *time.Time `json:"decided,omitempty"`
}

// protestsOf writes the protests in the order lodged; none is the empty list.
func protestsOf(c *domain.Class) []protest {
	list := make([]protest, len(c.Protests))
	for i, p := range c.Protests {
		list[i] = protest{
			ID: p.ID, Entry: p.Entry, About: p.About, FeeTaken: p.Fee, Lodged: p.Lodged.UTC(), Late: p.Late,
			Ruling: p.Ruling.String(), Reason: p.Reason, Decided: moment(p.Decided),
		}
		if p.Hook != uuid.Nil {
			list[i].Hook = &p.Hook
		}
		if !p.Open() {
			list[i].Follows = p.Follows.String()
		}
	}
	return list
}

// readProtest reads a protest against an entry, or one hook of it. By is kept for the desk's eyes and is in no document
// of this interface.
//
//	{"entry": "0b…", "hook": "6f…", "about": "front wheel over the side line", "fee_taken": true, "by": "J. Weir"}
func readProtest(in *sent) deed {
	id, entry, o := in.fresh("id"), in.body.id("entry"), in.body
	by, err := domain.Lodger(o.text("by", maxText))
	o.keep("by", err)
	action := domain.LodgeProtest{Protest: id, Entry: entry, Hook: o.idOr("hook", uuid.Nil), About: o.text("about", maxText), Fee: o.truth("fee_taken"), By: by}
	return deed{action: action, named: named{Protest: &id, Entry: &entry}}
}

// readRuling reads what was decided about the protest of the address: {"ruling": "upheld", "follows": "correction",
// "reason": "seen on video"}. What follows is made by a write of its own.
func readRuling(in *sent) deed {
	id, o := in.param("protest"), in.body
	ruling, err := domain.ParseRuling(o.text("ruling", maxText))
	o.keep("ruling", err)
	follows, err := domain.ParseFollows(o.maybe("follows"))
	o.keep("follows", err)
	return deed{action: domain.DecideProtest{Protest: id, Ruling: ruling, Follows: follows, Reason: o.maybe("reason")}, named: named{Protest: &id}}
}
