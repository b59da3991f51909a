package domain

import (
	"fmt"
	"reflect"
	"strings"
	"time"

	"github.com/google/uuid"
)

// Action is something that people do to a class. Its exported fields, without personal data, are the journal's
// payload: they hold all that the decision needs beside the class and the time, so that the line alone can be
// done again. An action is a plain value; sending the same one to the same class twice is the caller's concern,
// see the action id in package desk.
//
// Ids of what an action makes (a hook, a round, an entry) are fields of it as well. The caller makes them,
// because a decision that made its own could not be repeated from the journal.
type Action interface {
	// decide is unexported so that [Decide] is the only way in: nobody can change a class without the checks
	// that hold for every action.
	// decide changes c, which is the caller's own copy, or refuses.
	decide(c *Class, at time.Time) error
}

// Role is what a pass allows; roles combine by or. The zero Role allows nothing that needs a pass.
type Role uint8

// The roles. Reading public pages needs none.
const (
	// Desk plans, enters, draws, sets the sled and opens rounds, and may do what the booth does.
	Desk Role = 1 << iota
	// Booth stores results.
	Booth
	// Cab reads the setting, says that the sled's crew is ready or holds, and notes what happened on a hook.
	Cab
	// Scale writes down what the scale showed.
	Scale
	// Lane says who is in the line-up, and what the flags showed.
	Lane
)

// roleNames are the words by which people, passes and the database call one role alone.
var roleNames = map[Role]string{Desk: "desk", Booth: "booth", Cab: "cab", Scale: "scale", Lane: "lane"}

// ParseRole reads "desk", "booth", "cab", "scale" or "lane", in lower case. It reads one role, never a combination.
func ParseRole(s string) (Role, error) {
	for role, name := range roleNames {
		if s == name {
			return role, nil
		}
	}
	return 0, invalid("role", fmt.Sprintf("%q is not a role", s), "write desk, booth, cab, scale or lane")
}

// String returns the names of the roles, joined by " or ", in the order of their constants: "desk or booth".
// The zero Role is "". A sentence can take it as it is: "this needs a pass for the desk or booth".
func (r Role) String() string {
	var names []string
	for role := Desk; role <= Lane; role <<= 1 {
		if r&role != 0 {
			names = append(names, roleNames[role])
		}
	}
	return strings.Join(names, " or ")
}

// Kinds lists every action with its name in the journal and the roles that may do it. It is the one table of
// what can be done: who may act, what a journal line is called, and which type reads its payload back all come
// from it. A name, once a journal holds it, is never changed or used again.
//
// What plans, enters, draws or sets the sled is the desk's; what happens between a call and the next call is
// the booth's, and the desk may do it too, because at a small event one person is both. The cab says what its crew and
// its devices see, and the lane who is there and what the flagmen saw and decided; neither stores what came of a hook.
func Kinds() []ActionKind {
	return []ActionKind{
		// What is decided before a hook and between rounds.
		{"class", Desk, PlanClass{}},
		{"place", Desk, MoveClass{}},
		{"fixed-start", Desk, FixStart{}},
		{"entry", Desk, AddEntry{}},
		{"scratch", Desk, Scratch{}},
		{"commitment", Desk, Commit{}},
		{"attend", Desk, Attend{}},
		{"draw", Desk, DrawClass{}},
		{"swap", Desk, Swap{}},
		{"setting", Desk, DraftSetting{}},
		{"freeze", Desk, FreezeSetting{}},
		{"reset", Desk, ResetSetting{}},
		{"round", Desk, OpenRound{}},
		{"bring-in", Desk, BringIn{}},
		{"official", Desk, MakeOfficial{}},
		{"reopen", Desk, Reopen{}},
		{"test_puller", Desk | Booth, PickTest{}},
		{"line", Desk, MoveLine{}},
		{"stop", Desk, StopClass{}},
		{"resume", Desk, ResumeClass{}},
		// What happens from a call to the next, and what puts it right.
		{"call", Desk | Booth, Call{}},
		{"presence", Desk | Booth | Lane, SayWhere{}},
		{"ready", Desk | Cab, SayReady{}},
		{"flag", Desk | Lane, SayFlag{}},
		{"differed", Desk | Cab | Lane, NoteDifference{}},
		{"speed", Desk | Booth | Cab, ReadSpeed{}},
		{"start", Desk | Booth, Start{}},
		{"result", Desk | Booth, Record{}},
		{"choice", Desk | Booth, Choose{}},
		{"second", Desk | Booth, SecondAttempt{}},
		{"again", Desk | Booth, Again{}},
		{"drop", Desk | Booth, Drop{}},
		{"correction", Desk | Booth, Correct{}},
		{"void", Desk | Booth, VoidHook{}},
		{"photo", Desk | Booth, AttachPhoto{}},
		// What is said against a result before it is official.
		{"protest", Desk, LodgeProtest{}},
		{"ruling", Desk, DecideProtest{}},
		// What the scale showed.
		{"weigh", Desk | Scale, Weigh{}},
		{"misread", Desk | Scale, Misread{}},
	}
}

// ActionKind is one line of [Kinds]. Zero is the zero value of the action's type; it tells which type is meant
// and is never done.
type ActionKind struct {
	Name  string
	Roles Role
	Zero  Action
}

// KindOfAction returns the line of [Kinds] for an action, found by its type. For a type that is not in the
// table it returns the zero ActionKind, which no role may do.
func KindOfAction(a Action) ActionKind {
	for _, k := range Kinds() {
		if reflect.TypeOf(k.Zero) == reflect.TypeOf(a) {
			return k
		}
	}
	return ActionKind{}
}

// Decide returns the class as it is after the action, or an [Error]; c itself is not changed. It is pure: the
// same class, action and time give the same class, which is what lets a transaction run again and a journal be
// replayed.
//
// It asks whether the action is possible under the rules and now, not who acts; roles are the desk's business.
// Two rules hold before any action's own. A class that was not planned takes nothing but its plan. A result
// that was made official takes nothing but being reopened, so that what was signed is what stands (common
// practice, no published source).
func Decide(c Class, a Action, at time.Time) (Class, error) {
	if _, planning := a.(PlanClass); !planning && c.Name == "" {
		return c, notFound("there is no such class", "look at the event's programme")
	}
	if _, reopening := a.(Reopen); !reopening && !c.Official.Made.IsZero() {
		return c, wrongState("the result is official and stays as it is", "reopen it first, with a reason")
	}
	// A refused action may have changed half of what it wanted to. The copy makes that harmless: it is dropped.
	after := c.Clone()
	if err := a.decide(&after, at); err != nil {
		return c, err
	}
	if err := after.freshIDs(&c); err != nil {
		return c, err
	}
	return after, nil
}

// freshIDs refuses an action that named something new by an id which the class has already, or by none: what it says of
// the one would be said of the other. What the class had before is not asked about.
func (c *Class) freshIDs(before *Class) error {
	uses := make(map[uuid.UUID]int)
	before.eachID(func(_ string, id uuid.UUID) { uses[id]-- })
	var err error
	c.eachID(func(what string, id uuid.UUID) {
		uses[id]++
		switch {
		case err != nil || uses[id] <= 0:
		case id == uuid.Nil:
			err = invalid("id", "the new "+what+" has no id", "give a new UUID, or none")
		case before.has(id) || uses[id] > 1:
			err = invalid("id", "the class has the id of the new "+what+" already", "give a new UUID, or none")
		}
	})
	return err
}

// has reports whether something in the class has the id.
func (c *Class) has(id uuid.UUID) (has bool) {
	c.eachID(func(_ string, other uuid.UUID) { has = has || id == other })
	return has
}

// eachID goes over everything in the class that an action named, with the word for it.
func (c *Class) eachID(do func(what string, id uuid.UUID)) {
	for _, e := range c.Entries {
		do("entry", e.ID)
	}
	for _, r := range c.Rounds {
		do("round", r.ID)
		for _, h := range r.Hooks {
			do("hook", h.ID)
		}
	}
}
