package webui

import (
	"errors"
	"net/url"
	"strconv"
	"strings"

	"clayline/domain"
	"clayline/webui/templates"
)

// boothActs are what the booth may send, by the last part of the address.
var boothActs = acts{
	"result":  resultAct,
	"call":    callAct,
	"start":   startAct,
	"choice":  choiceAct,
	"second":  secondAct,
	"again":   againAct,
	"drop":    dropAct,
	"correct": correctAct,
	"speed":   speedAct,
}

// resultAct reads a result: typed into the field, or the word of a button with its reason.
func resultAct(class *domain.Class, values url.Values) (domain.Action, error) {
	list, err := ids(values, templates.FieldHook, fieldNext)
	if err != nil {
		return nil, err
	}
	var result domain.Result
	switch word := values.Get(fieldWord); word {
	case domain.Disqualified.String():
		result, err = disqualified(class, values)
	case "":
		result, err = parseTyped(class, values.Get(templates.FieldResult))
	default:
		result, err = parseTyped(class, word+" "+values.Get(templates.FieldReason))
	}
	if err != nil {
		return nil, err
	}
	return domain.Record{Hook: list[0], Result: result, Next: list[1]}, nil
}

// parseTyped reads a typed result: what a class sheet may say, or F, Q and A for the words with buttons. One
// letter each, because they are typed while the next puller is already being waved to the sled.
//
//	281.36              the distance
//	F                   a full pull
//	F 312.44            a full pull, with its figure
//	Q out of bounds     disqualified, with its reason
//	A                   absent
func parseTyped(class *domain.Class, typed string) (domain.Result, error) {
	word, rest, _ := strings.Cut(strings.TrimSpace(typed), " ")
	switch strings.ToUpper(word) {
	case "F":
		typed = "FP " + rest
	case "Q":
		typed = "DQ " + rest
	case "A":
		typed = "absent " + rest
	}
	if strings.Count(typed, ",") == 1 && strings.Trim(typed, "0123456789, FP") == "" {
		typed = strings.Replace(typed, ",", ".", 1) // the key beside the figures has a comma in many countries
	}
	result, err := domain.ParseResult(typed, class.Rules.Unit())
	if e, ok := errors.AsType[*domain.Error](err); ok {
		here := *e
		here.Fix = "type the distance, such as 281.36, or F for a full pull, Q with the reason, A for absent"
		return result, &here
	}
	return result, err
}

// callAct reads a call: only the id of the hook, since the line-up says who is called.
func callAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	next, err := id(values, fieldNext)
	return domain.Call{Hook: next}, err
}

// startAct reads that the hook on the track has started. Nothing waits for it; from then on the cab is asked nothing.
func startAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	hook, err := id(values, templates.FieldHook)
	return domain.Start{Hook: hook}, err
}

// choiceAct reads what a puller chose.
func choiceAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	list, err := ids(values, templates.FieldHook, fieldNext)
	if err != nil {
		return nil, err
	}
	option, err := domain.ParseOption(values.Get(fieldOption))
	return domain.Choose{Hook: list[0], Option: option, Next: list[1]}, err
}

// secondAct reads that the puller on the track starts again at once, and where the sled stopped where somebody read it.
func secondAct(class *domain.Class, values url.Values) (domain.Action, error) {
	list, err := ids(values, templates.FieldHook, fieldNext)
	if err != nil {
		return nil, err
	}
	at, err := distanceAt(class, values)
	return domain.SecondAttempt{Hook: list[0], Distance: at, Next: list[1]}, atField(templates.FieldAt, err)
}

// causes are the two reasons for a re-hook, in words, as they stand in the record.
var causes = map[string]string{templates.CauseSled: "sled", templates.CauseOfficial: "official"}

// againAct reads that a hook is repeated: the cause is one of two, with what else was typed behind it.
func againAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	list, err := ids(values, templates.FieldHook, fieldNext)
	if err != nil {
		return nil, err
	}
	cause, known := causes[values.Get(templates.FieldCause)]
	if !known {
		return nil, &domain.Error{Kind: domain.Invalid, Field: templates.FieldCause, Message: "the cause is missing", Fix: "choose the sled or an official"}
	}
	if reason := strings.TrimSpace(values.Get(templates.FieldReason)); reason != "" {
		cause += ", " + reason
	}
	places, err := places(values)
	return domain.Again{Hook: list[0], Reason: cause, Places: places, Next: list[1]}, err
}

// dropAct reads that the puller who was called gives up the call. Whether a number of places is needed or
// forbidden is the rules' to say.
func dropAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	list, err := ids(values, templates.FieldHook, fieldNext)
	if err != nil {
		return nil, err
	}
	places, err := places(values)
	return domain.Drop{Hook: list[0], Places: places, Reason: values.Get(templates.FieldReason), Next: list[1]}, err
}

// places reads how many places an entry moves back; 0 at once or to the last place, as the form's choices mean.
// The field is looked at only where its choice was made: what stands in it otherwise was left over.
func places(values url.Values) (int, error) {
	if values.Get(templates.FieldMove) != templates.MovePlaces {
		return 0, nil
	}
	n, err := strconv.Atoi(strings.TrimSpace(values.Get(templates.FieldPlaces)))
	if err != nil || n < 1 {
		return 0, &domain.Error{Kind: domain.Invalid, Field: templates.FieldPlaces, Message: "the number of places is missing", Fix: "write how many hooks later, from 1 on"}
	}
	return n, nil
}

// correctAct reads a correction of any earlier hook. It may say what the field of the booth may say.
func correctAct(class *domain.Class, values url.Values) (domain.Action, error) {
	list, err := ids(values, templates.FieldHook, fieldNext)
	if err != nil {
		return nil, err
	}
	reason := values.Get(templates.FieldReason)
	if values.Get(fieldWord) == measuredAgain {
		reason, err = measuredAgain, stillThere(class, list[0])
	}
	if err != nil {
		return nil, err
	}
	result, err := parseTyped(class, values.Get(templates.FieldResult))
	return domain.Correct{Hook: list[0], Result: result, Reason: reason, Next: list[1]}, err
}
