package webui

import (
	"fmt"
	"net/url"
	"strings"

	"clayline/domain"
	"clayline/webui/templates"
)

// decides ends every advice: what is shown is what the rules have, and not a decision.
const decides = "The officials and the sled operator decide."

// advice is what the rules advise about the setting and the entries, for the staff. The public sees none of it: it is
// no decision.
func advice(c *domain.Class) []templates.Message {
	var list []templates.Message
	if words := c.ResetAdvised(); words != "" {
		list = append(list, templates.Message{Text: sentence(words), Do: decides})
	}
	return append(append(list, rehookAdvice(c)...), speedAdvice(c)...)
}

// deskAdvice is what the desk is told besides: that there are too few entries.
func deskAdvice(c *domain.Class) []templates.Message {
	list := advice(c)
	if words := c.TooFew(); words != "" {
		list = append(list, templates.Message{Text: sentence(words), Do: "The officials decide what it is."})
	}
	return list
}

// callOf says until when the puller who was called has to hook, nil where the rules give no time or nobody waits.
func callOf(e domain.Event, c *domain.Class) *templates.Call {
	told := c.CallAdvised()
	if told.Until.IsZero() {
		return nil
	}
	from := ""
	if told.From != "" {
		from = fmt.Sprintf("These rules count from “%s”. ", told.From)
	}
	return &templates.Call{
		Text:   fmt.Sprintf("To hook until %s, %s from the call.", clock(e, told.Until), counted(c.Rules.Call.Minutes, "minute")),
		Advice: from + "Under these rules " + told.Advice + notByItself(c),
	}
}

// notByItself says that nothing follows from a time that is over, unless the advice has said so already.
func notByItself(c *domain.Class) string {
	if c.Rules.Call.NotReady == domain.OfficialDecides {
		return "."
	}
	return "; the officials decide."
}

// causeOptions listswhat may go wrong, each with what these rules have for it in short. The first is for whatever has no
// word.
func causeOptions(rules domain.RuleSet) []templates.Option {
	short := map[domain.Consequence]string{
		domain.LastPlace: "DQ, last place", domain.NoDistance: "DQ", domain.AttemptLost: "attempt void", domain.MeasuredThere: "distance there counts",
		domain.PullEnds: "distance counts", domain.NoConsequence: "nothing follows",
	}
	list := []templates.Option{{Text: "something else, in words: " + short[rules.Consequence("")]}}
	for _, cause := range domain.Causes() {
		list = append(list, templates.Option{Value: string(cause), Text: string(cause) + ": " + short[rules.Consequence(cause)]})
	}
	return list
}

// causeAdvice says what these rules have for each cause that is more or less than a disqualification, and last for all
// others.
func causeAdvice(rules domain.RuleSet) []string {
	var list []string
	for _, cause := range domain.Causes() {
		if rules.Consequence(cause) != domain.NoDistance {
			list = append(list, fmt.Sprintf("%s: %s.", firstUpper(string(cause)), rules.Advice(cause)))
		}
	}
	return append(list, "Anything else: "+rules.Advice("")+".")
}

// disqualified reads the form of a disqualification: what went wrong, in a word of the rules, in other words or in both,
// and where it happened. The rules may make a distance of it; see [domain.RuleSet.Settle].
func disqualified(class *domain.Class, values url.Values) (domain.Result, error) {
	reason := strings.TrimSpace(values.Get(templates.FieldReason))
	if cause := values.Get(templates.FieldWhatWent); cause != "" && reason != "" {
		reason = cause + ": " + reason
	} else if cause != "" {
		reason = cause
	}
	at, err := distanceAt(class, values)
	return domain.Result{Outcome: domain.Disqualified, Distance: at, Reason: reason}, err
}

// distanceAt reads where something happened on the track; the zero Distance where nobody measured it.
func distanceAt(class *domain.Class, values url.Values) (domain.Distance, error) {
	typed := strings.TrimSpace(values.Get(templates.FieldAt))
	if typed == "" {
		return domain.Distance{}, nil
	}
	if strings.Count(typed, ",") == 1 {
		typed = strings.Replace(typed, ",", ".", 1)
	}
	d, err := domain.ParseDistance(typed, class.Rules.Unit())
	return d, atField(templates.FieldAt, err)
}

// cooling says how long the rules give to cool down after a re-hook.
func cooling(rules domain.RuleSet) string {
	if rules.RehookDrop == 0 {
		return "Under these rules at once."
	}
	words := "Under these rules up to " + counted(rules.RehookDrop, "place") + " to cool down"
	if rules.RehookMinutes > 0 {
		words += ", and " + counted(rules.RehookMinutes, "minute") + " where fewer are left"
	}
	return words + "."
}

// silenceWords say what a puller takes who says nothing.
func silenceWords(choice *domain.Choice) string {
	switch {
	case len(choice.Options) == 1:
		return "Under these rules there is no choice."
	case choice.Silence == domain.Keep:
		return "Saying nothing keeps the result."
	default:
		return "Who says nothing " + optionWords(choice.Silence) + "."
	}
}

// keptWords say to the staff that a distance is not told yet; "" where it may be.
func keptWords(c *domain.Class) string {
	if !c.KeptBack() {
		return ""
	}
	return "The distance is not announced before the choice: public pages do not show it yet."
}

// readChoice lays the open choice out to be read, nil where none is. What becomes of each option is said as on the
// booth; nothing of it can be pressed.
func readChoice(c *domain.Class) *templates.Choice {
	if c.Phase() != domain.ChoiceOpen {
		return nil
	}
	choice := choiceOf(c, "", nil)
	for i := range choice.Options {
		choice.Options[i].Form = templates.Form{}
	}
	return choice
}

// course are the sentences about the course of a class that must not be missed: that it was stopped, and what stands.
func course(e domain.Event, c *domain.Class) []templates.Message {
	stopped := c.Stopped
	if stopped == (domain.Stopped{}) {
		return nil
	}
	stands := map[domain.StoppedEffect]string{
		domain.CompleteRounds: "By its rules what was pulled to the end of a round stands.",
		domain.NothingStands:  "By its rules a class that was not completed gives nobody anything.",
		domain.AsPulled:       "By its rules every hook that counts stands.",
	}[c.Rules.Stopped]
	return []templates.Message{{Text: "The class was stopped " + clock(e, stopped.At) + ": " + stopped.Reason + ".", Do: stands}}
}

// facts are what a reader of the figures should know: the line that was moved, where is measured from, the speed limit.
func facts(c *domain.Class) []templates.Term {
	var list []templates.Term
	if !c.LineWas.IsZero() {
		list = append(list, templates.Term{Label: "Full-pull line", Value: c.Rules.Line.String() + ", moved from " + c.LineWas.String()})
	}
	if c.Rules.Measure.From != "" {
		list = append(list, templates.Term{Label: "Measured to", Value: c.Rules.Measure.From, Typed: true})
	}
	if limit := c.Rules.Speed.String(); limit != "" {
		list = append(list, templates.Term{Label: "Speed limit", Value: limit})
	}
	return list
}

// beforePullOff is what the rules ask for before a pull-off, as sentences for the desk.
func beforePullOff(rules domain.RuleSet) []string {
	var list []string
	if rules.PullOff.Before != "" {
		list = append(list, "These rules ask for: "+rules.PullOff.Before+".")
	}
	if rules.PullOff.SameDriver {
		list = append(list, "Under these rules whoever drove in the class drives in the pull-off.")
	}
	return list
}
