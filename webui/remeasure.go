package webui

import (
	"github.com/google/uuid"

	"clayline/domain"
	"clayline/webui/templates"
)

// measuredAgain is the word of the form for another measurement, and the reason that stands beside its result.
const measuredAgain = "measured again"

// remeasurable returns the hook that can be measured again: the one stored last in the round, while the sled stands where it
// stopped; nil where there is none. Once the next hook has started or has a result the sled has moved (common practice, no
// published source). Whoever is called next is no sign of that: it is called as the result is stored.
func remeasurable(c *domain.Class) *domain.Hook {
	r := c.Current()
	if r == nil || !c.Official.Made.IsZero() {
		return nil
	}
	last := len(r.Hooks) - 1
	if last >= 0 && r.Hooks[last].Result.IsZero() {
		if !r.Hooks[last].Started.IsZero() {
			return nil
		}
		last--
	}
	if last < 0 || r.Hooks[last].Result.Distance.IsZero() {
		return nil
	}
	switch r.Hooks[last].Result.Outcome {
	case domain.Measured, domain.FullPull:
		return &r.Hooks[last]
	default: // a disqualification and a hook that does not count stay what they are, whatever is measured
		return nil
	}
}

// remeasureOf shows the form for another measurement, or nil where nothing can be measured again.
func remeasureOf(e domain.Event, c *domain.Class, no *refused) *templates.Remeasure {
	h := remeasurable(c)
	if h == nil {
		return nil
	}
	form := no.make(measuredAgain, classHref(e, *c)+"/booth/correct", []string{templates.FieldResult},
		append(hookHidden(h), templates.Hidden{Name: fieldWord, Value: measuredAgain})...)
	return &templates.Remeasure{Form: form, Who: named(c.Entry(h.Entry)), Was: resultWords(h.Result)}
}

// stillThere refuses another measurement of a hook behind which the sled has moved, or which is not the last any more.
func stillThere(c *domain.Class, hook uuid.UUID) error {
	if h := remeasurable(c); h != nil && h.ID == hook {
		return nil
	}
	return &domain.Error{Kind: domain.Stale, Field: templates.FieldHook,
		Message: "that hook is not the last one any more, or the sled has moved since", Fix: "correct it, with a reason, where the officials see cause"}
}
