package api

import (
	"github.com/google/uuid"

	"clayline/domain"
)

// choice is what the rules leave to a puller: which hook the question is about, what may be chosen, and in the words of
// the rules until when. It is there for as long as the class waits for an answer.
type choice struct {
	Hook    uuid.UUID `json:"hook"`
	Entry   uuid.UUID `json:"entry"`
	Options []string  `json:"options"`
	Until   string    `json:"until"`
}

// choiceOf writes the choice that is open, nil for none.
func choiceOf(c *domain.Class) *choice {
	pending := c.Pending()
	if pending == nil {
		return nil
	}
	open := &choice{Hook: pending.Hook.ID, Entry: pending.Hook.Entry, Until: pending.Until}
	for _, o := range pending.Options {
		open.Options = append(open.Options, o.String())
	}
	return open
}

// readChoice reads {"option": "keep"}. Next is the id of the hook that is called in the same step when the choice leads
// on to another vehicle.
func readChoice(in *sent) deed {
	hook, next := in.param("hook"), in.fresh("next")
	option, err := domain.ParseOption(in.body.text("option", maxText))
	in.body.keep("option", err)
	return deed{action: domain.Choose{Hook: hook, Option: option, Next: next}, named: named{Hook: &hook, Next: &next}, fields: nextFields}
}
