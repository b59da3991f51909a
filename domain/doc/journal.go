package doc

import (
	"encoding/json"
	"fmt"
	"reflect"

	"github.com/google/uuid"

	"clayline/domain"
)

// planClass is the payload of a planned class: its rule set stands in it as the document that people exchange,
// so that a journal is read without knowing how this program holds rules in memory.
type planClass struct {
	Class, Event, Session, Track uuid.UUID
	Name                         string
	Rules                        json.RawMessage
	Kind                         string
	Sled                         domain.Sled
}

// EncodeAction returns the name of an action's kind and its journal payload: JSON with the action's own field
// names. Storing "312.440 ft, full pull" gives the kind "result" and
//
//	{"Hook":"…01","Result":{"Outcome":"FP","Distance":"312.440 ft","Reason":""},"Next":"…02"}
//
// Personal data is left out: the details of an entry, the name under an official result and who lodged a protest are blank in it. A
// field that is renamed changes the format; a golden test holds it.
func EncodeAction(a domain.Action) (kind string, payload []byte, err error) {
	kind = domain.KindOfAction(a).Name
	var document any = a
	switch a := a.(type) {
	case domain.AddEntry:
		a.Details = domain.Details{}
		document = a
	case domain.MakeOfficial:
		document = domain.MakeOfficial{}
	case domain.LodgeProtest:
		a.By = ""
		document = a
	case domain.PlanClass:
		rules, err := WriteRuleSet(a.Rules)
		if err != nil {
			return "", nil, err
		}
		document = planClass{Class: a.Class, Event: a.Event, Session: a.Session, Track: a.Track, Name: a.Name, Rules: rules, Kind: a.Kind, Sled: a.Sled}
	}
	payload, err = json.Marshal(document)
	return kind, payload, err
}

// DecodeAction reads what [EncodeAction] wrote. A payload that lacks a field which came later is read with that
// field's zero value, so that journals of an older program can be read. A kind that is not in domain.Kinds is
// an error. What was left out stays blank: a replayed entry has its number and no puller.
func DecodeAction(kind string, payload []byte) (domain.Action, error) {
	for _, k := range domain.Kinds() {
		if k.Name != kind {
			continue
		}
		if _, planned := k.Zero.(domain.PlanClass); planned {
			return decodePlan(payload)
		}
		action := reflect.New(reflect.TypeOf(k.Zero))
		if err := json.Unmarshal(payload, action.Interface()); err != nil {
			return nil, fmt.Errorf("reading a journal payload of kind %s: %w", kind, err)
		}
		decoded, _ := action.Elem().Interface().(domain.Action)
		return decoded, nil
	}
	return nil, fmt.Errorf("the journal has a line of the unknown kind %q", kind)
}

// decodePlan reads the payload of a planned class. The rule set in it is checked again, as every rule set is
// that comes from a document.
func decodePlan(payload []byte) (domain.Action, error) {
	var p planClass
	if err := json.Unmarshal(payload, &p); err != nil {
		return nil, fmt.Errorf("reading a planned class from the journal: %w", err)
	}
	rules, err := ParseRuleSet(p.Rules)
	if err != nil {
		return nil, err
	}
	return domain.PlanClass{Class: p.Class, Event: p.Event, Session: p.Session, Track: p.Track, Name: p.Name, Rules: rules, Kind: p.Kind, Sled: p.Sled}, nil
}
