package main

import (
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
)

// TestSlipsOfTheDesk: what is refused stays where it was typed, with a sentence at it, and stores nothing.
func TestSlipsOfTheDesk(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("x", 201)
	reason := func(typed string) map[string]string { return map[string]string{"reason": typed} }
	entry := func(number, puller string) map[string]string {
		return map[string]string{"number": number, "puller": puller, "vehicle": "Half Moon", "home": "Wrenfield"}
	}
	tryAll(t, []slip{
		{what: "an entry without a number", class: entering, form: "entry", typed: entry("", "Nils Aker"), at: "number", status: 422, says: "The number of the vehicle is missing. Type it."},
		{what: "an entry without a puller", class: entering, form: "entry", typed: entry("33", " "), at: "puller", status: 422, says: "The name of the puller is missing. Type it."},
		{what: "a number twice", class: entering, form: "entry", typed: entry("7B", "Nils Aker"), at: "number", status: 422,
			says: "Number 7B is already entered in this class. Add a letter, such as 7Bb."},
		{what: "a number that is too long", class: entering, form: "entry", typed: entry("123456789", "Nils Aker"), at: "number", status: 422,
			says: "The number has more than eight characters. Use what is painted on the vehicle."},
		{what: "a number that leads elsewhere", class: entering, form: "entry", typed: entry("/..", "Nils Aker"), at: "number", status: 422,
			says: `"/" cannot stand in the number of a vehicle there. Write letters and digits, with blanks or hyphens between them, such as 41, 7b or 12-2.`},
		{what: "a name that is too long", class: entering, form: "entry", typed: entry("33", long), at: "puller", status: 422, says: "The text is longer than 200 characters. Shorten it by 1."},
		{what: "an entry without its id", class: entering, form: "entry", sends: map[string]string{"entry": "x"}, typed: entry("33", "Nils Aker"), status: 422, says: "The form is not complete."},
		{what: "an entry after the first round", class: lastHook, form: "entry", typed: entry("33", "Nils Aker"), meanwhile: pulls("270"), status: 409,
			says: "The first round is over. No entry can join the class any more."},
		{what: "to scratch without a reason", class: entering, form: "scratch", typed: reason(""), at: "reason", status: 422, says: "The reason is missing. Type it."},
		{what: "to scratch who is on the track", class: testHook, form: "scratch", typed: reason("clutch"), status: 409,
			says: "Number 41 is on the track. Store what came of the hook first."},
		{what: "to scratch who is scratched", class: entering, form: "scratch", typed: reason("gears"), meanwhile: scratches, status: 409,
			says: "Number 41 is already scratched. Nothing is left to do.", gone: true},

		{what: "a fee of letters", class: entering, form: "attend", typed: map[string]string{"came-1": "yes", "fee-1": "twenty"}, at: "fee-1", status: 422,
			says: `"twenty" is not an amount of money. Write figures such as 150 or 150.50.`},
		{what: "a list on which nothing is new", class: entering, form: "attend", status: 422, says: "Nothing on the list was changed. Tick who came or paid, then send it."},
		{what: "a list of what was signed meanwhile", class: decided, form: "attend", typed: map[string]string{"paid-1": "yes"}, status: 409,
			meanwhile: func(s *scene) { s.do(domain.MakeOfficial{Name: "Ada Flagg"}) }, says: "The result is official and stays as it is. Reopen it first, with a reason.", gone: true},

		{what: "to draw from nothing", class: entering, form: "draw", typed: map[string]string{"seed": " "}, at: "seed", status: 422, says: "The seed is missing. Type words or dice that nobody could choose."},
		{what: "to draw nobody", class: nobodyEntered, form: "draw", typed: map[string]string{"seed": "dice 1"}, status: 409, says: "Nobody is entered. Enter somebody first."},
		{what: "to draw again without a reason", class: drawn, form: "draw", typed: map[string]string{"seed": "dice 2", "reason": ""}, at: "reason", status: 422,
			says: "The class is drawn already. Give the reason for drawing it again."},
		{what: "to draw again when the class has begun", class: frozen, form: "draw", typed: map[string]string{"seed": "dice 2", "reason": "late"}, meanwhile: calls, status: 409,
			says: "The class has begun. The order stands; use drop for a puller in trouble.", gone: true},

		{what: "a setting without box and slabs", class: drawn, form: "setting", typed: map[string]string{"box": "", "gear": "3", "hole": "2", "trip": "198"}, at: "box", status: 422,
			says: "The box weight is missing. Give it with its unit, such as 21600 lb."},
		{what: "another box than the slabs", class: drawn, form: "setting", typed: card("box", "20000"), at: "box", status: 422,
			says: "20,000 lb is not what the slabs weigh: 21,600 lb. Correct the slabs, or leave the weight out: it is computed."},
		{what: "more slabs on a side than find room", class: drawn, form: "setting", typed: map[string]string{"left": "7", "gear": "3", "hole": "2", "trip": "198"}, at: "left", status: 422,
			says: "This box has room for 6 slabs on the left."},
		{what: "more slabs than there are", class: drawn, form: "setting", typed: map[string]string{"left": "6", "middle": "4", "right": "6", "gear": "3", "hole": "2", "trip": "198"}, at: "left", status: 422,
			says: "This sled has 14 slabs of 1,800 lb, and 16 lie in the box. Count them again."},
		{what: "a box of letters", class: drawn, form: "setting", typed: card("box", "heavy"), at: "box", status: 422, says: `"heavy" has no unit of weight. Add lb or kg, such as 21600 lb.`},
		{what: "a box with a comma for its point", class: drawn, form: "setting", typed: card("box", "21600,5"), at: "box", status: 422, says: "has a comma; write the decimals after a point"},
		{what: "a gear beyond the sled", class: drawn, form: "setting", typed: card("gear", "5"), at: "gear", status: 422, says: "The sled has box gears 1 to 4. Choose one of them."},
		{what: "a gear in words", class: drawn, form: "setting", typed: card("gear", "third"), at: "gear", status: 422, says: `"third" is not a number. Write it in figures.`},
		{what: "no gear", class: drawn, form: "setting", typed: card("gear", ""), at: "gear", status: 422, says: "The sled has box gears 1 to 4. Choose one of them."},
		{what: "a start hole beyond the sled", class: drawn, form: "setting", typed: card("hole", "4"), at: "hole", status: 422, says: "The sled has start holes 1 to 3. Choose one of them."},
		{what: "no trip point", class: drawn, form: "setting", typed: card("trip", ""), at: "trip", status: 422, says: "The trip point is missing. Give the distance at which it trips."},
		{what: "a trip point of letters", class: drawn, form: "setting", typed: card("trip", "halfway"), at: "trip", status: 422, says: "is not a distance"},
		{what: "fewer slabs than none", class: drawn, form: "setting", typed: card("left", "-1"), at: "left", status: 422, says: "The number of slabs cannot be right. Count them from 0."},
		{what: "a pan of letters", class: drawn, form: "setting", typed: card("pan", "some"), at: "pan", status: 422, says: `"some" has no unit of weight.`},
		{what: "a speed limit of letters", class: drawn, form: "setting", typed: card("limit", "slow"), at: "limit", status: 422, says: `"slow" has no unit of speed. Add mph or km/h, such as 3.5 mph.`},
		{what: "a note that is too long", class: drawn, form: "setting", typed: card("note", long), at: "note", status: 422, says: "The text is longer than 200 characters. Shorten it by 1."},
		{what: "a setting that was frozen meanwhile", class: written, form: "setting", typed: card("gear", "2"), meanwhile: freezes, status: 409,
			says: "The setting of this round is frozen: every hook is pulled against it. Reset it, with a reason, to change it.", gone: true},
		{what: "a setting of another round", class: drawn, form: "setting", sends: map[string]string{"round": uuid.NewString()}, typed: card("gear", "2"), status: 409,
			says: "Another round is being pulled now. Look at the class again."},
		{what: "to freeze what was frozen", class: written, form: "freeze", meanwhile: freezes, status: 409, says: "The setting was changed or frozen meanwhile. Look at it again.", gone: true},
		{what: "to freeze a revision that is gone", class: written, form: "freeze", meanwhile: func(s *scene) { freezes(s); resets(s) }, status: 409,
			says: "The setting was changed or frozen meanwhile. Look at it again."},
		{what: "to reset without a reason", class: frozen, form: "reset", typed: reason(""), at: "reason", status: 422, says: "The reason for the reset is missing. Type it."},
		{what: "to reset twice", class: frozen, form: "reset", typed: reason("wet"), meanwhile: resets, status: 409, says: "No setting is frozen. There is nothing to reset.", gone: true},

		{what: "a second start", class: frozen, form: "call", meanwhile: calls, status: 409, says: "Number 41 is on the track. Store what came of that hook first.", gone: true},
		{what: "a pull-off that is not due", class: pullOffDue, form: "round", meanwhile: opens, status: 409, says: "No further round is due. The class goes on as it is.", gone: true},
		{what: "another round than the one due", class: pullOffDue, form: "round", sends: map[string]string{"round_name": "P2"}, status: 409, says: "Round P1 is due, not P2. Look at the class again."},
		{what: "a round that is none", class: pullOffDue, form: "round", sends: map[string]string{"round_name": "final"}, status: 422,
			says: `"final" is not a round. Write 1, 2, … for class rounds and P1, P2, … for pull-offs.`},

		{what: "to sign with no name", class: decided, form: "sign", typed: map[string]string{"name": " "}, at: "name", status: 422, says: "The name of the official is missing. Type it."},
		{what: "to reopen without a reason", class: official, form: "reopen", typed: reason(""), at: "reason", status: 422, says: "The reason is missing. Type it."},

		{what: "a link for a role that is none", page: "/e/" + inventedSlug + "/desk", form: "pass", sends: map[string]string{"role": "flagman"}, at: "role", status: 422,
			says: `"flagman" is not a role. Write desk, booth, cab, scale or lane.`},
	}, "desk")
}

// card is a setting card in which one field is typed like this.
func card(field, typed string) map[string]string {
	fields := map[string]string{
		"box": "21600", "left": "6", "right": "6", "gear": "3", "hole": "2", "trip": "198", "blade": "1 in", "measure": "laser", "note": "mind the soft spot",
	}
	fields[field] = typed
	return fields
}

// nobodyEntered is a class that was only planned.
func nobodyEntered(f *fair) *scene {
	rules, err := doc.ReadyMadeRuleSet("capped-300ft")
	require.NoError(f.t, err)
	plan := f.planned("Nobody's Class", rules)
	_, err = f.desk.PlanClass(f.ctx, desk.Program(), inventedSlug, uuid.New(), plan)
	require.NoError(f.t, err)
	return &scene{fair: f, ref: desk.Ref{Event: inventedSlug, Class: domain.Slug(plan.Name)}}
}

// TestSlipsOfPlanning: the two planning pages keep what was typed too.
func TestSlipsOfPlanning(t *testing.T) {
	t.Parallel()
	class := "/e/" + inventedSlug + "/desk/class"
	named := func(name string) map[string]string { return map[string]string{"name": name} }
	event := func(field, typed string) map[string]string {
		fields := map[string]string{
			"name": "Plough Day", "place": "Wrenfield", "zone": "Europe/Amsterdam", "tracks": "Field\nArena", "sled": "Old Anchor",
			"gears": "4", "holes": "3", "sessions": "2026-09-19 13:00 Afternoon\n2026-09-19 19:00 Evening",
		}
		fields[field] = typed
		return fields
	}
	tryAll(t, []slip{
		{what: "a class without a name", page: class, form: "class", typed: named(" "), at: "name", status: 422, says: "The name of the class is missing. Type it."},
		{what: "a class whose name has no letter", page: class, form: "class", typed: named("???"), at: "name", status: 422, says: "The name has no letter or figure for its address. Write it with letters."},
		{what: "a class named as a page", page: class, form: "class", typed: named("Booth"), at: "name", status: 422, says: "The name Booth is taken here. Add something that tells the two apart."},
		{what: "a class whose name is too long", page: class, form: "class", typed: named(strings.Repeat("x", 201)), at: "name", status: 422, says: "The text is longer than 200 characters. Shorten it by 1."},
		{what: "a class under rules that are not known", page: class, form: "class", sends: map[string]string{"rules": "house"}, typed: named("Stock"), at: "rules", status: 422, says: "The rule set is missing. Choose one."},
		{what: "a class in no session", page: class, form: "class", sends: map[string]string{"session": ""}, typed: named("Stock"), at: "session", status: 422, says: "The form is not complete."},
		{what: "a class in a session of another event", page: class, form: "class", sends: map[string]string{"session": uuid.NewString()}, typed: named("Stock"), at: "session", status: 422,
			says: "The event has no such session. Choose one of its sessions."},
		{what: "a class on a track of another event", page: class, form: "class", sends: map[string]string{"track": uuid.NewString()}, typed: named("Stock"), at: "track", status: 422,
			says: "The event has no such track. Choose one of its tracks."},
		{what: "a class with a sled of another event", page: class, form: "class", sends: map[string]string{"sled": uuid.NewString()}, typed: named("Stock"), at: "sled", status: 422,
			says: "The event has no such sled. Choose one of its sleds."},

		{what: "an event without a name", page: "/desk", form: "desk", typed: event("name", ""), at: "name", status: 422, says: "The event has no name. Give it one."},
		{what: "an event whose name has no letter", page: "/desk", form: "desk", typed: event("name", "!!!"), at: "name", status: 422, says: "The name has no letter or figure for its address."},
		{what: "an event whose name is taken", page: "/desk", form: "desk", typed: event("name", inventedEvent), at: "name", status: 422, says: "is taken here. Add something that tells the two apart."},
		{what: "a time zone that is none", page: "/desk", form: "desk", typed: event("zone", "Tarn Hollow"), at: "zone", status: 422,
			says: `"Tarn Hollow" is not a time zone. Write one such as Europe/Amsterdam or America/Chicago.`},
		{what: "no time zone", page: "/desk", form: "desk", typed: event("zone", ""), at: "zone", status: 422, says: "is not a time zone."},
		{what: "no track", page: "/desk", form: "desk", typed: event("tracks", ""), at: "tracks", status: 422, says: "The event has no track. Name at least one."},
		{what: "no session", page: "/desk", form: "desk", typed: event("sessions", ""), at: "sessions", status: 422, says: "The event has no session. Give at least one with its start."},
		{what: "a session without a start", page: "/desk", form: "desk", typed: event("sessions", "Saturday evening, about seven"), at: "sessions", status: 422,
			says: `"Saturday evening, about seven" is not a session. Write its start and its name, such as 2026-09-19 18:00 Evening session.`},
		{what: "a session without a name", page: "/desk", form: "desk", typed: event("sessions", "2026-09-19 18:00"), at: "sessions", status: 422, says: `"2026-09-19 18:00" is not a session.`},
		{what: "a session on no day", page: "/desk", form: "desk", typed: event("sessions", "2026-02-30 18:00 Evening"), at: "sessions", status: 422, says: `"2026-02-30 18:00 Evening" is not a session.`},
		{what: "gears in words", page: "/desk", form: "desk", typed: event("gears", "four"), at: "gears", status: 422, says: `"four" is not a number. Write the number of gears in figures.`},
		{what: "no gears", page: "/desk", form: "desk", typed: event("gears", "0"), at: "gears", status: 422, says: "Sled Old Anchor has no gears or start holes. Give 1 to 20 of each."},
		{what: "too many start holes", page: "/desk", form: "desk", typed: event("holes", "21"), at: "gears", status: 422, says: "Give 1 to 20 of each."},
	}, "plan")
}
