package doc_test

import (
	"encoding/binary"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

// tale tells what happens to one class, step by step. Its ids count from 1 and every step takes forty seconds, so that a
// tale always tells the same.
type tale struct {
	t       require.TestingT
	event   domain.Event
	class   domain.Class
	setting domain.Setting
	ids     uint32
	now     time.Time
}

// newTale plans a class at an invented event.
func newTale(t require.TestingT, rules domain.RuleSet) *tale {
	s := &tale{t: t, now: time.Date(2026, 9, 19, 23, 0, 0, 250_000_000, time.UTC)}
	s.event = domain.Event{
		ID: s.id(), Slug: "tarn-hollow-harvest-pull", Name: "Tarn Hollow Harvest Pull", Place: "Tarn Hollow Fairground", Zone: "America/Chicago",
		Tracks: []domain.Track{{ID: s.id(), Name: "Track 1"}}, Sleds: []domain.Sled{{ID: s.id(), Name: "Plumb Bob", Gears: 5, StartHoles: 4}},
		Sessions: []domain.Session{{ID: s.id(), Name: "Saturday evening", Starts: s.now}},
	}
	s.setting = domain.Setting{Gear: 3, StartHole: 2, Slabs: domain.Slabs{Left: 6, Right: 6}}
	slab, err := domain.ParseWeight("1800 lb")
	require.NoError(t, err)
	s.event.Sleds[0].Card.Slabs.Kinds = []domain.SlabKind{{Weight: slab, Count: 14}}
	unit := rules.Unit()
	s.setting.Trip = length(t, "55.5", unit)
	s.setting.Box, err = domain.ParseWeight("21,600 lb")
	require.NoError(t, err)
	s.do(domain.PlanClass{
		Class: s.id(), Event: s.event.ID, Session: s.event.Sessions[0].ID, Track: s.event.Tracks[0].ID, Name: "8,200 lb Field Stock",
		Rules: rules, Sled: s.event.Sleds[0],
	})
	return s
}

func (s *tale) id() uuid.UUID {
	s.ids++
	var id uuid.UUID
	binary.BigEndian.PutUint32(id[12:], s.ids)
	return id
}

// try does an action, and says when it is refused.
func (s *tale) try(a domain.Action) error {
	s.now = s.now.Add(40 * time.Second)
	after, err := domain.Decide(s.class, a, s.now)
	s.class = after
	return err
}

func (s *tale) do(a domain.Action) {
	require.NoError(s.t, s.try(a), "%T", a)
}

// enter enters a number with whom and what belongs to it.
func (s *tale) enter(number, puller, vehicle, home string) {
	s.do(domain.AddEntry{Entry: s.id(), Number: number, Details: domain.Details{Puller: puller, Vehicle: vehicle, Home: home}})
}

// drawn enters numbers and draws them.
func (s *tale) drawn(numbers ...string) *tale {
	for _, n := range numbers {
		s.enter(n, "P. "+n, "Vehicle "+n, "")
	}
	s.steps("draw dice 4 2 6")
	return s
}

// steps does one step after the other: a result as on a class sheet for the vehicle on the track, or one of these words.
func (s *tale) steps(steps ...string) *tale {
	for _, step := range steps {
		word, rest, _ := strings.Cut(step, " ")
		for _, a := range s.actions(word, rest) {
			s.do(a)
		}
		if s.class.Phase() == domain.Ready && word == "set" {
			s.do(domain.Call{Hook: s.id()})
		}
	}
	return s
}

// actions are what a step means.
func (s *tale) actions(word, rest string) []domain.Action {
	number, reason, _ := strings.Cut(rest, " ")
	switch word {
	case "draw":
		return []domain.Action{domain.DrawClass{Round: s.id(), Seed: rest}}
	case "redraw":
		return []domain.Action{domain.DrawClass{Round: s.id(), Seed: "coin heads", Reason: rest}}
	case "scratch":
		return []domain.Action{domain.Scratch{Entry: s.entry(number), Reason: reason}}
	case "speed": // of the entry's hook that counts in the current round
		top, atLine, _ := strings.Cut(reason, "/")
		return []domain.Action{domain.ReadSpeed{Hook: s.class.Current().HookOf(s.entry(number)).ID, Top: speed(s.t, top), AtLine: speed(s.t, atLine)}}
	case "wait": // until the window for protests is over
		if until := s.class.ProtestsUntil(); until.After(s.now) {
			s.now = until
		}
		return nil
	case "protest":
		round, about, _ := strings.Cut(reason, " ")
		hook := uuid.Nil
		if round != "-" {
			hook = s.class.Rounds[0].HookOf(s.entry(number)).ID
		}
		return []domain.Action{domain.LodgeProtest{Protest: s.id(), Entry: s.entry(number), Hook: hook, About: about, Fee: hook != uuid.Nil, By: "Nobody Tells"}}
	case "rule":
		ruling, err := domain.ParseRuling(number)
		require.NoError(s.t, err)
		follows := map[domain.Ruling]domain.Follows{domain.Upheld: domain.CorrectionFollows}[ruling]
		return []domain.Action{domain.DecideProtest{Protest: s.class.Protests[len(s.class.Protests)-1].ID, Ruling: ruling, Follows: follows, Reason: reason}}
	case "weigh":
		when, shown, _ := strings.Cut(reason, " ")
		return []domain.Action{domain.Weigh{Reading: s.id(), Entry: s.entry(number), Weight: pounds(s.t, shown), After: when == "after"}}
	case "reopen":
		return []domain.Action{domain.Reopen{Reason: rest}}
	case "sign":
		return []domain.Action{domain.MakeOfficial{Name: rest}}
	case "open":
		due, _ := s.class.RoundDue()
		return []domain.Action{domain.OpenRound{Round: s.id(), Name: due}}
	case "set":
		r := s.class.Current()
		revision := len(r.Revisions)
		if revision == 0 || !r.Revisions[revision-1].Draft() {
			revision++
		}
		return []domain.Action{domain.DraftSetting{Round: r.ID, Setting: s.setting}, domain.FreezeSetting{Round: r.ID, Revision: revision}}
	case "reset":
		return []domain.Action{domain.ResetSetting{Round: s.class.Current().ID, Reason: rest}}
	case "keep", "last", "now":
		option, err := domain.ParseOption(word)
		require.NoError(s.t, err)
		return []domain.Action{domain.Choose{Hook: s.class.Pending().Hook.ID, Option: option, Next: s.id()}}
	case "correct":
		written, reason, _ := strings.Cut(reason, " ")
		return []domain.Action{domain.Correct{Hook: s.class.Current().HookOf(s.entry(number)).ID, Result: s.result(written), Reason: reason, Next: s.id()}}
	default:
		return []domain.Action{s.onTrack(word, rest)}
	}
}

// onTrack is what a step means that is about the vehicle on the track.
func (s *tale) onTrack(word, rest string) domain.Action {
	require.NotNil(s.t, s.class.OnTrack(), word)
	hook := s.class.OnTrack().ID
	switch word {
	case "start":
		return domain.Start{Hook: hook}
	case "again":
		return domain.Again{Hook: hook, Reason: rest, Next: s.id()}
	case "drop":
		return domain.Drop{Hook: hook, Reason: rest, Next: s.id()}
	case "second":
		return domain.SecondAttempt{Hook: hook, Next: s.id()}
	default:
		return domain.Record{Hook: hook, Result: s.result(strings.TrimSpace(word + " " + rest)), Next: s.id()}
	}
}

func (s *tale) result(written string) domain.Result {
	result, err := domain.ParseResult(written, s.class.Rules.Unit())
	require.NoError(s.t, err)
	return result
}

func (s *tale) entry(number string) uuid.UUID {
	for _, e := range s.class.Entries {
		if e.Number == number {
			return e.ID
		}
	}
	require.Fail(s.t, "not entered", number)
	return uuid.Nil
}

// told is the document about the class as it stands.
func (s *tale) told() doc.Result { return doc.ResultOf(s.event, []domain.Class{s.class}) }
