package domain

import (
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
)

// Inspection is what people found of a sled before an event, point by point, with the name of who signs for it. It is a
// record and no approval: it opens nothing and holds nothing up. Local rules, licensed officials and the sled operator
// decide whether the sled is pulled.
type Inspection struct {
	ID, Sled uuid.UUID
	At       time.Time
	// By is the name that was signed with. It is personal data and no part of the journal.
	By string
	// Points are in the order of the list that was gone through.
	Points []Inspected
}

// Inspected is one point of an inspection.
type Inspected struct {
	Point string
	State PointState
	Note  string // what is wrong, where something is; may be "" otherwise
}

// PointState is what was found of a point; the zero PointState is a point that nobody looked at.
type PointState uint8

// What may be found.
const (
	NotLookedAt PointState = iota
	PointOK
	PointNotOK
)

// pointStates are the words of the states, in the order of their constants.
var pointStates = [...]string{"not looked at", "ok", "not ok"}

// ParsePointState reads "ok", "not ok" or "not looked at"; "" is the last of them.
func ParsePointState(s string) (PointState, error) {
	if s == "" {
		return NotLookedAt, nil
	}
	i := slices.Index(pointStates[:], s)
	if i < 0 {
		return 0, invalid("state", fmt.Sprintf("%q is nothing that a point can be", s), "write ok, not ok or not looked at")
	}
	return PointState(i), nil // #nosec G115 -- one of three
}

// String is the word of the state, which [ParsePointState] reads back; "" for one that there is not.
func (s PointState) String() string {
	if int(s) >= len(pointStates) {
		return ""
	}
	return pointStates[s]
}

// MarshalText writes [PointState.String].
func (s PointState) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (s *PointState) UnmarshalText(text []byte) (err error) {
	*s, err = ParsePointState(string(text))
	return err
}

// inspectionPoints are what is looked at before an event where the description of the sled has no list of its own. Common
// practice, no published source, but for two: a pull chain has a length, and lights a meaning (AMPI, its page of sleds).
var inspectionPoints = [...]string{
	"wheel brakes hold", "kill switch and its cable, pulled once", "box drive engages and lets go", "box chain and sprockets",
	"box brake and forward stop", "winch and its rope", "pan, blades and hinge", "push-down works and comes back",
	"tyres and wheels", "hook and pull chain", "breakaway cable", "light turns red and back", "slabs lie fast",
	"radio heard in the booth", "fire extinguisher full and in reach", "measuring device reads right",
}

// InspectionList is what is looked at before an event: the list of the description, else the usual points.
func (s Sled) InspectionList() []string {
	if len(s.Card.Inspection) > 0 {
		return slices.Clone(s.Card.Inspection)
	}
	return slices.Clone(inspectionPoints[:])
}

// InspectSled writes down an inspection of a sled of the event. Points are those that were looked at, in any order; each is
// on the list of the sled, and what is missing is written down as not looked at. A later one does not replace it: a log has
// both. [SignInspection] makes the action.
type InspectSled struct {
	Inspection, Sled uuid.UUID
	By               string
	Points           []Inspected
}

// SignInspection puts the name under an inspection; it may not be empty. decide does not ask for it, because a journal has no
// name in it.
func SignInspection(a InspectSled, name string) (InspectSled, error) {
	name, err := required("by", "the name of who looked", name)
	a.By = name
	return a, err
}

// decide goes through the list as the sled has it now, so that an inspection can be read whatever the list becomes.
func (a InspectSled) decide(e *Event, _ InUse, at time.Time) error {
	i := slices.IndexFunc(e.Sleds, func(s Sled) bool { return s.ID == a.Sled })
	if i < 0 {
		return notFound("the event has no such sled", "look at its sleds")
	}
	list := e.Sleds[i].InspectionList()
	found := make(map[string]Inspected)
	looked := false
	for j, p := range a.Points {
		p, err := p.check(fmt.Sprintf("points[%d]", j), list)
		if err != nil {
			return err
		}
		if _, twice := found[p.Point]; twice {
			return invalid(fmt.Sprintf("points[%d].point", j), fmt.Sprintf("%q stands twice", p.Point), "keep one of them")
		}
		found[p.Point], looked = p, looked || p.State != NotLookedAt
	}
	if !looked {
		return invalid("points", "no point was looked at", "say of one at least whether it is ok")
	}
	made := Inspection{ID: a.Inspection, Sled: a.Sled, At: at, By: a.By}
	for _, point := range list {
		p := found[point]
		p.Point = point
		made.Points = append(made.Points, p)
	}
	e.Inspections = append(e.Inspections, made)
	return nil
}

// check refuses a point that is on no list, and one that is not ok without a word about it.
func (p Inspected) check(field string, list []string) (Inspected, error) {
	note, err := text(field+".note", p.Note)
	if err != nil {
		return p, err
	}
	p.Note = note
	switch {
	case !slices.Contains(list, p.Point):
		return p, invalid(field+".point", fmt.Sprintf("%q is not on the list of the sled", p.Point), "write it as the list has it, or put it on the list first")
	case p.State > PointNotOK:
		return p, invalid(field+".state", "that is nothing that a point can be", "write ok, not ok or not looked at")
	case p.State == PointNotOK && note == "":
		return p, invalid(field+".note", fmt.Sprintf("what is wrong with %q is missing", p.Point), "say it in a few words")
	}
	return p, nil
}

// Wrong lists the points of an inspection that were not ok.
func (i Inspection) Wrong() []Inspected {
	return slices.DeleteFunc(slices.Clone(i.Points), func(p Inspected) bool { return p.State != PointNotOK })
}
