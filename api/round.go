package api

import (
	"github.com/google/uuid"

	"clayline/domain"
)

// round is one round of a class. Lineup is everybody in the order of the round, those who have pulled too; waiting is
// who has not.
type round struct {
	ID       uuid.UUID   `json:"id"`
	Name     string      `json:"name"`
	Lineup   []slot      `json:"lineup"`
	Waiting  []uuid.UUID `json:"waiting"`
	Settings []revision  `json:"settings"`
	// Draft is the number of the setting that is written and not frozen; what it says is for those with a pass.
	Draft       int    `json:"draft,omitempty"`
	TwoSettings bool   `json:"two_settings"`
	Hooks       []hook `json:"hooks"`
}

// slot is a place in a line-up. Out says that the entry does not pull in this round; note, why it stands where it
// stands.
type slot struct {
	Entry uuid.UUID `json:"entry"`
	Note  string    `json:"note,omitempty"`
	Out   bool      `json:"out"`
}

// due is the round that comes next. It is there when the class waits for a round to be opened, so that a program can
// name the round and say who is in it before anybody opens it.
type due struct {
	Round   string      `json:"round"`
	Entries []uuid.UUID `json:"entries"`
}

// roundOf writes a round. Of a draft only its number is told: sled operators try things out on it, and pullers who saw
// one would prepare for it.
func roundOf(r *domain.Round) round {
	told := round{
		ID: r.ID, Name: r.Name.String(), Lineup: make([]slot, len(r.Lineup)), Waiting: r.Waiting(), Settings: []revision{},
		TwoSettings: r.TwoSettings(), Hooks: make([]hook, len(r.Hooks)),
	}
	for i, s := range r.Lineup {
		told.Lineup[i] = slot{Entry: s.Entry, Note: s.Note, Out: s.Out}
	}
	for _, rev := range r.Revisions {
		if rev.Draft() {
			told.Draft = rev.Number
			continue
		}
		told.Settings = append(told.Settings, revisionOf(rev))
	}
	for i, h := range r.Hooks {
		told.Hooks[i] = hookOf(h)
	}
	return told
}

// dueOf writes the round that is due, nil for none.
func dueOf(c *domain.Class) *due {
	name, entries := c.RoundDue()
	if name.Number == 0 {
		return nil
	}
	return &due{Round: name.String(), Entries: entries}
}

// readRound reads {"name": "2"} or {"name": "P1"}, the name of the round that is due. Naming it keeps a click that came
// twice from opening two.
func readRound(in *sent) deed {
	id := in.fresh("id")
	name, err := domain.ParseRoundName(in.body.text("name", maxText))
	in.body.keep("name", err)
	return deed{action: domain.OpenRound{Round: id, Name: name}, named: named{Round: &id}, fields: map[string]string{"round": "name"}}
}

// readBringIn reads who is brought into the pull-off of the address, and why: {"entry": "1c…", "reason": "the flagman's
// sheet"}.
func readBringIn(in *sent) deed {
	round, entry := in.param("round"), in.body.id("entry")
	action := domain.BringIn{Round: round, Entry: entry, Reason: in.body.text("reason", maxText)}
	return deed{action: action, named: named{Round: &round, Entry: &entry}}
}
