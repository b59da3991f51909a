package webui

import (
	"fmt"
	"strings"

	"clayline/domain"
	"clayline/webui/templates"
)

// flagWords say what the flagmen decided, and why: "disqualification proposed: out of bounds".
func flagWords(call domain.FlagCall, reason string) string {
	words := map[domain.FlagCall]string{
		0: "nothing", domain.FlagStartAgain: "starts again", domain.FlagRehook: "re-hook called", domain.FlagDisqualified: "disqualification proposed",
	}
	return joined(words[call], reason)
}

// flagsTold are what booth and cab are told of the flag: of the hook on the track, and of the last one where the flag was
// told after its result was stored. What was noted of the hook on the track stands with it, since a light that went red is
// seen from the same place. It is no signal.
func flagsTold(e domain.Event, c *domain.Class) (list []templates.Message) {
	for _, h := range c.FlagHooks() {
		who := named(c.Entry(h.Entry))
		if h.Flag.Call != 0 && (h.Result.IsZero() || h.Flag.At.After(h.Ended)) {
			list = append(list, templates.Message{
				Text: fmt.Sprintf("Flag %s, %s: %s.", clock(e, h.Flag.At), who, flagWords(h.Flag.Call, h.Flag.Reason)),
				Do:   flagDo(c, h),
			})
		}
		if h.Result.IsZero() && !h.Difference.IsZero() {
			list = append(list, templates.Message{Text: fmt.Sprintf("Noted of %s: %s.", who, h.Difference)})
		}
	}
	return list
}

// flagDo says what the rules have for the word of the flagmen, and who stores it.
func flagDo(c *domain.Class, h *domain.Hook) string {
	stored := "The officials decide, and the booth stores it."
	if !h.Result.IsZero() {
		stored = "Its result is stored. The officials decide, and the booth corrects it."
		if h.Flag.Call == domain.FlagRehook {
			stored = "Its result is stored. The officials decide, and the booth stores the re-hook."
		}
	}
	if h.Flag.Call == domain.FlagDisqualified {
		return sentence(c.Rules.Advice(domain.CauseOf(h.Flag.Reason))) + " " + stored
	}
	return stored
}

// rehookWords say what speaks for a re-hook: what differed, and that the flagmen called one.
func rehookWords(h *domain.Hook) string {
	var words []string
	if !h.Difference.IsZero() {
		words = append(words, h.Difference.String())
	}
	if h.Flag.Call == domain.FlagRehook {
		words = append(words, flagWords(h.Flag.Call, h.Flag.Reason))
	}
	return strings.Join(words, "; ")
}

// rehookDoing says whose doing it was: of the sled, of an official, or "" where nobody said.
func rehookDoing(h *domain.Hook) string {
	if doing := h.Difference.What.Doing(); doing != "" {
		return doing
	}
	whose, _, _ := strings.Cut(h.Flag.Reason, ":")
	if whose == causes[templates.CauseSled] || whose == causes[templates.CauseOfficial] {
		return whose
	}
	return ""
}
