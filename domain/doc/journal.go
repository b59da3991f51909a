package doc

import (
	"encoding/json"
	"fmt"
	"reflect"
	"time"

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
	Sled                         planSled
}

// planSled is a sled in a payload: its description stands in it as the document, where more is known than its gears and
// start holes.
type planSled struct {
	ID                uuid.UUID
	Name              string
	Gears, StartHoles int
	Changes           int             `json:",omitempty"`
	Card              json.RawMessage `json:",omitempty"`
}

// planSledOf writes a sled for a payload.
func planSledOf(s domain.Sled) (planSled, error) {
	written := planSled{ID: s.ID, Name: s.Name, Gears: s.Gears, StartHoles: s.StartHoles, Changes: s.Changes}
	if reflect.DeepEqual(s.Card, domain.SledCard{}) {
		return written, nil
	}
	card, err := WriteSledCard(s)
	written.Card = card
	return written, err
}

// sled reads a sled of a payload; its description is checked again.
func (p planSled) sled() (domain.Sled, error) {
	s := domain.Sled{Name: p.Name, Gears: p.Gears, StartHoles: p.StartHoles}
	if len(p.Card) > 0 {
		var err error
		if s, err = ParseSledCard(p.Card); err != nil {
			return s, err
		}
	}
	s.ID, s.Changes = p.ID, p.Changes
	return s, nil
}

// EncodeEvent returns the payload of a planned event: the event with its sleds as documents.
func EncodeEvent(e domain.Event) ([]byte, error) {
	sleds := make([]planSled, len(e.Sleds))
	for i, s := range e.Sleds {
		var err error
		if sleds[i], err = planSledOf(s); err != nil {
			return nil, err
		}
	}
	sessions := make([]planSession, len(e.Sessions))
	for i, s := range e.Sessions {
		sessions[i] = planSession(s)
	}
	return json.Marshal(struct {
		ID                      uuid.UUID
		Slug, Name, Place, Zone string
		Tracks                  []domain.Track
		Sleds                   []planSled
		Sessions                []planSession
	}{e.ID, e.Slug, e.Name, e.Place, e.Zone, e.Tracks, sleds, sessions})
}

// planSession is a session in a payload, and changedSession one that was added or changed: without a word of a curfew
// or of breaks where there are none. Both are read back as the domain has them.
type planSession struct {
	ID     uuid.UUID
	Name   string
	Starts time.Time
	Curfew time.Time      `json:",omitzero"`
	Breaks []domain.Pause `json:",omitempty"`
}

type changedSession struct {
	Session uuid.UUID
	Name    string
	Starts  time.Time
	Curfew  time.Time      `json:",omitzero"`
	Breaks  []domain.Pause `json:",omitempty"`
}

// describedSled is the payload of a sled that was added or described anew.
type describedSled struct {
	Sled    planSled
	Version int `json:",omitempty"`
}

// EncodeEventAction returns the name of an event action's kind and its journal payload, as [EncodeAction] does. Who signed an
// inspection is blank in it.
func EncodeEventAction(a domain.EventAction) (kind string, payload []byte, err error) {
	var document any = a
	var described describedSled
	switch a := a.(type) {
	case domain.AddSession:
		document = changedSession(a)
	case domain.ChangeSession:
		document = changedSession(a)
	case domain.AddSled:
		described.Sled, err = planSledOf(a.Sled)
		document = described
	case domain.DescribeSled:
		described.Version = a.Version
		described.Sled, err = planSledOf(a.Sled)
		document = described
	case domain.InspectSled:
		a.By = ""
		document = a
	}
	if err != nil {
		return "", nil, err
	}
	payload, err = json.Marshal(document)
	return domain.KindOfEventAction(a).Name, payload, err
}

// DecodeEventAction reads what [EncodeEventAction] wrote.
func DecodeEventAction(kind string, payload []byte) (domain.EventAction, error) {
	for _, k := range domain.EventKinds() {
		if k.Name != kind {
			continue
		}
		action := reflect.New(reflect.TypeOf(k.Zero))
		into := action.Interface()
		var described describedSled
		if reflect.TypeOf(k.Zero) == reflect.TypeFor[domain.AddSled]() || reflect.TypeOf(k.Zero) == reflect.TypeFor[domain.DescribeSled]() {
			into = &described
		}
		if err := json.Unmarshal(payload, into); err != nil {
			return nil, fmt.Errorf("reading a journal payload of kind %s: %w", kind, err)
		}
		sled, err := described.Sled.sled()
		switch a := action.Interface().(type) {
		case *domain.AddSled:
			a.Sled = sled
		case *domain.DescribeSled:
			a.Sled, a.Version = sled, described.Version
		}
		decoded, _ := action.Elem().Interface().(domain.EventAction)
		return decoded, err
	}
	return nil, fmt.Errorf("the journal has a line of the unknown kind %q", kind)
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
		sled, err := planSledOf(a.Sled)
		if err != nil {
			return "", nil, err
		}
		document = planClass{Class: a.Class, Event: a.Event, Session: a.Session, Track: a.Track, Name: a.Name, Rules: rules, Kind: a.Kind, Sled: sled}
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
	sled, err := p.Sled.sled()
	if err != nil {
		return nil, err
	}
	return domain.PlanClass{Class: p.Class, Event: p.Event, Session: p.Session, Track: p.Track, Name: p.Name, Rules: rules, Kind: p.Kind, Sled: sled}, nil
}
