package api

import (
	"github.com/google/uuid"

	"clayline/domain"
)

// round is one round of a class.
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

// slot is a place in a line-up.
type slot struct {
	Entry uuid.UUID `json:"entry"`
	Note  string    `json:"note,omitempty"`
	Out   bool      `json:"out"`
}

// due is the round that comes next.
type due struct {
	Round   string      `json:"round"`
	Entries []uuid.UUID `json:"entries"`
}

func roundOf(r *domain.Round) round {
	told := round{
		ID: r.ID, Name: r.Name.String(), Lineup: make([]slot, len(r.Lineup)), Waiting: r.Waiting(), Settings: []revision{},
		TwoSettings: r.TwoSettings(), Hooks: make([]hook, len(r.Hooks)),
	}
	for i, s := range r.Lineup {
		told.Lineup[i] = slot(s)
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

func readRound(in *sent) deed {
	id := in.fresh("id")
	name, err := domain.ParseRoundName(in.body.text("name", maxText))
	in.body.keep("name", err)
	return deed{action: domain.OpenRound{Round: id, Name: name}, named: named{Round: &id}, fields: map[string]string{"round": "name"}}
}
