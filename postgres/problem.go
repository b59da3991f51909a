package postgres

import (
	"errors"

	"github.com/jackc/pgx/v5/pgconn"

	"clayline/domain"
)

// refusal is what a violated constraint means to the person who acts: the parts of a domain error.
type refusal struct {
	kind    domain.Kind
	field   string
	message string
	fix     string
}

// refusals maps the constraints that state a rule to what they mean. Most are seen only when two act at once,
// since the domain asks the same before; the message is then what somebody else did meanwhile. A constraint
// that is not here can be violated only by a mistake of the program, and is shown as one.
var refusals = map[string]refusal{
	"season_address_is_unique":             {domain.Invalid, "document", "a season of that name exists", "write another name, such as one with the year"},
	"season_pkey":                          {domain.Stale, "", "this was sent and stored already", "reload the page"},
	"event_address_is_unique":              {domain.Invalid, "name", "an event of that name exists", "add the year or the place"},
	"class_address_is_unique_in_event":     {domain.Invalid, "name", "a class of that name exists at this event", "add something that tells the two apart"},
	"class_position_is_unique_in_event":    {domain.Stale, "", "another class was planned at the same moment", "send it again"},
	"class_is_in_a_session_of_its_event":   {domain.Stale, "session", "the event has no such session, or a class is in it by now", "look at the programme again"},
	"class_is_on_a_track_of_its_event":     {domain.Stale, "track", "the event has no such track, or a class is on it by now", "look at the programme again"},
	"session_pkey":                         {domain.Invalid, "id", "that id is taken", "give a new UUID, or none"},
	"track_pkey":                           {domain.Invalid, "id", "that id is taken", "give a new UUID, or none"},
	"sled_pkey":                            {domain.Invalid, "id", "that id is taken", "give a new UUID, or none"},
	"entry_number_is_unique_in_class":      {domain.Invalid, "number", "that number is already entered in this class", "add a letter, such as 41b"},
	"event_pkey":                           {domain.Invalid, "id", "that id is taken", "give a new UUID, or none"},
	"class_pkey":                           {domain.Invalid, "id", "that id is taken", "give a new UUID, or none"},
	"entry_pkey":                           {domain.Invalid, "id", "that id is taken", "give a new UUID, or none"},
	"round_pkey":                           {domain.Invalid, "id", "that id is taken", "give a new UUID, or none"},
	"hook_pkey":                            {domain.Invalid, "id", "that id is taken", "give a new UUID, or none"},
	"pass_pkey":                            {domain.Stale, "action", "this was sent before for another event", "send it again as something new"},
	"session_ends_after_its_start":         {domain.Invalid, "curfew", "the curfew is not after the start", "give a later time, or none"},
	"round_is_unique_in_class":             {domain.Stale, "round", "that round was opened meanwhile", "look at the class again"},
	"hook_against_the_open_setting":        {domain.WrongState, "", "a hook is pulled only against the open setting of its round", "freeze the setting first"},
	"hook_never_moves":                     {domain.WrongState, "", "a hook never moves to another setting, round or entry", "correct its result instead"},
	"frozen_setting_is_not_changed":        {domain.WrongState, "", "a frozen setting is not changed", "reset it, with a reason"},
	"one_open_setting_a_round":             {domain.Stale, "", "the round has an open setting already", "look at the page again"},
	"one_hook_on_the_track":                {domain.Stale, "", "another puller was called meanwhile", "look at the page again"},
	"one_counting_hook_an_entry_and_round": {domain.WrongState, "", "that entry has a counting hook in this round already", "correct it instead"},
	"protest_pkey":                         {domain.Invalid, "id", "that id is taken", "give a new UUID, or none"},
	"reading_pkey":                         {domain.Invalid, "id", "that id is taken", "give a new UUID, or none"},
	"photo_pkey":                           {domain.Invalid, "id", "that id is taken", "give a new UUID, or none"},
	"inspection_pkey":                      {domain.Invalid, "id", "that id is taken", "give a new UUID, or none"},
	"protest_is_decided_once":              {domain.Stale, "protest", "that protest is decided already", "look at the page again"},
	"action_is_done_once":                  {domain.Stale, "", "this was sent and stored already", "reload the page"},
	"pass_enters_once":                     {domain.WrongState, "", "this link was used already, and a link lets one device in", "ask the desk for a new one"},
	"ended_pass_stays_so":                  {domain.WrongState, "", "this link was withdrawn by the desk", "ask the desk for a new one"},
	"pass_cookie_is_unique":                {domain.WrongState, "", "this link was used already, and a link lets one device in", "ask the desk for a new one"},
}

// lockNotAvailable is PostgreSQL's code for a lock that was waited for too long.
const lockNotAvailable = "55P03"

// problem turns a violated rule into a domain error, with the database's own words as the cause, and leaves
// every other error as it is.
func problem(err error) error {
	pg, ok := errors.AsType[*pgconn.PgError](err)
	if !ok {
		return err
	}
	if pg.Code == lockNotAvailable {
		return &domain.Error{Kind: domain.Stale, Message: "somebody else's action on this takes too long", Fix: "send it again in a moment", Cause: err}
	}
	r, known := refusals[pg.ConstraintName]
	if !known {
		return err
	}
	return &domain.Error{Kind: r.kind, Field: r.field, Message: r.message, Fix: r.fix, Cause: err}
}
