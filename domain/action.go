package domain

import (
	"fmt"
	"reflect"
	"strings"
	"time"
)

// Action is something that people do to a class. Its exported fields, without personal data, are the journal's payload.
type Action interface {
	// decide changes c, which is the caller's own copy, or refuses.
	decide(c *Class, at time.Time) error
}

// Role is what a pass allows; roles combine by or.
type Role uint8

// The roles. Reading public pages needs none.
const (
	// Desk plans, enters, draws, sets the sled and opens rounds, and may do what the booth does.
	Desk Role = 1 << iota
	// Booth stores results.
	Booth
	// Cab reads the setting.
	Cab
)

var roleNames = map[Role]string{Desk: "desk", Booth: "booth", Cab: "cab"}

// ParseRole reads "desk", "booth" or "cab".
func ParseRole(s string) (Role, error) {
	for role, name := range roleNames {
		if s == name {
			return role, nil
		}
	}
	return 0, invalid("role", fmt.Sprintf("%q is not a role", s), "write desk, booth or cab")
}

// String returns the names of the roles, joined by " or ".
func (r Role) String() string {
	var names []string
	for role := Desk; role <= Cab; role <<= 1 {
		if r&role != 0 {
			names = append(names, roleNames[role])
		}
	}
	return strings.Join(names, " or ")
}

// Kinds lists every action with its name in the journal and the roles that may do it.
func Kinds() []ActionKind {
	return []ActionKind{
		{"class", Desk, PlanClass{}},
		{"entry", Desk, AddEntry{}},
		{"scratch", Desk, Scratch{}},
		{"draw", Desk, DrawClass{}},
		{"setting", Desk, DraftSetting{}},
		{"freeze", Desk, FreezeSetting{}},
		{"reset", Desk, ResetSetting{}},
		{"round", Desk, OpenRound{}},
		{"official", Desk, MakeOfficial{}},
		{"reopen", Desk, Reopen{}},
		{"call", Desk | Booth, Call{}},
		{"start", Desk | Booth, Start{}},
		{"result", Desk | Booth, Record{}},
		{"choice", Desk | Booth, Choose{}},
		{"second", Desk | Booth, SecondAttempt{}},
		{"again", Desk | Booth, Again{}},
		{"drop", Desk | Booth, Drop{}},
		{"correction", Desk | Booth, Correct{}},
		{"void", Desk | Booth, VoidHook{}},
	}
}

// ActionKind is one line of [Kinds].
type ActionKind struct {
	Name  string
	Roles Role
	Zero  Action
}

// KindOfAction returns the line of [Kinds] for an action.
func KindOfAction(a Action) ActionKind {
	for _, k := range Kinds() {
		if reflect.TypeOf(k.Zero) == reflect.TypeOf(a) {
			return k
		}
	}
	return ActionKind{}
}

// Decide returns the class as it is after the action, or an [Error]; c itself is not changed.
func Decide(c Class, a Action, at time.Time) (Class, error) {
	if _, planning := a.(PlanClass); !planning && c.Name == "" {
		return c, notFound("there is no such class", "look at the event's programme")
	}
	if _, reopening := a.(Reopen); !reopening && !c.Official.Made.IsZero() {
		return c, wrongState("the result is official and stays as it is", "reopen it first, with a reason")
	}
	after := c.Clone()
	if err := a.decide(&after, at); err != nil {
		return c, err
	}
	return after, nil
}
