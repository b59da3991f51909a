package api

import (
	"github.com/google/uuid"

	"clayline/domain"
)

// choice is what the rules leave to a puller: which hook the question is about, what may be chosen, and in the words of
// the rules until when. It is there for as long as the class waits for an answer. Silence is the option of who says
// nothing. KeptBack says that the choice is made before the distance is told: till then no public document has it.
type choice struct {
	Hook    uuid.UUID `json:"hook"`
	Entry   uuid.UUID `json:"entry"`
	Options []string  `json:"options"`
	Until   string    `json:"until"`
	Silence string    `json:"silence"`
	// Test says that it is the test puller's choice, Restart that the hook stopped before the restart line.
	Test     bool `json:"test"`
	Restart  bool `json:"restart"`
	KeptBack bool `json:"kept_back"`
}

// choiceOf writes the choice that is open, nil for none.
func choiceOf(c *domain.Class) *choice {
	pending := c.Pending()
	if pending == nil || c.Phase() != domain.ChoiceOpen {
		return nil
	}
	open := &choice{
		Hook: pending.Hook.ID, Entry: pending.Hook.Entry, Until: pending.Until, Silence: pending.Silence.String(),
		Test: pending.Test, Restart: pending.Restart, KeptBack: c.KeptBack(),
	}
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
