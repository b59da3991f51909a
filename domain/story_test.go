package domain_test

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/draw"
)

// story tells what happens to one class, action by action, in the words of the people at the track. Its ids count
// from 1 and its clock goes on a minute an action, so that a story always tells the same.
type story struct {
	t       testing.TB
	class   domain.Class
	actions []told
	ids     uint64
	clock   time.Time
}

// told is an accepted action with its time.
type told struct {
	action domain.Action
	at     time.Time
}

// plan puts a class on the programme, with nobody entered.
func plan(t testing.TB, rules domain.RuleSet) *story {
	s := &story{t: t, clock: time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC)}
	s.do(domain.PlanClass{
		Class: s.id(), Event: s.id(), Session: s.id(), Track: s.id(), Name: "8,200 lb Field Stock", Rules: rules,
		Sled: domain.Sled{Name: "Grey sled", Gears: 5, StartHoles: 4},
	})
	return s
}

// drawn plans a class, enters the numbers and draws them in just that order.
func drawn(t testing.TB, rules domain.RuleSet, numbers ...string) *story {
	s := plan(t, rules)
	for _, n := range numbers {
		s.enter(n)
	}
	s.do(domain.DrawClass{Round: s.id(), Seed: seedFor(numbers)})
	require.Equal(t, numbers, s.waiting())
	return s
}

// begun is a drawn class with a frozen setting and the first puller called.
func begun(t testing.TB, rules domain.RuleSet, numbers ...string) *story {
	s := drawn(t, rules, numbers...)
	s.freeze()
	s.call()
	return s
}

// seedFor tries seeds until one draws the numbers in the order in which they are written: for tests only, and a good
// reason to throw the dice before witnesses.
func seedFor(numbers []string) string {
	for i := 0; ; i++ {
		seed := strconv.Itoa(i)
		if order := draw.Order(seed, numbers); slices.IsSorted(order) {
			return seed
		}
	}
}

// id returns a new id.
func (s *story) id() uuid.UUID {
	s.ids++
	var id uuid.UUID
	binary.BigEndian.PutUint64(id[8:], s.ids)
	return id
}

// decide does an action if it is accepted; either way the class at hand is not changed by it.
func (s *story) decide(a domain.Action) error {
	s.t.Helper()
	s.clock = s.clock.Add(time.Minute)
	before := snapshot(s.t, s.class)
	after, err := domain.Decide(s.class, a, s.clock)
	require.Equal(s.t, before, snapshot(s.t, s.class), "Decide changes its input")
	if err != nil {
		require.Equal(s.t, before, snapshot(s.t, after), "a refused action changes nothing")
		return err
	}
	s.class, s.actions = after, append(s.actions, told{a, s.clock})
	return nil
}

// snapshot writes a class down whole, so that it shares nothing with it.
func snapshot(t require.TestingT, class domain.Class) string {
	written, err := json.Marshal(class)
	require.NoError(t, err)
	return string(written)
}

// do does an action that must be accepted.
func (s *story) do(a domain.Action) {
	s.t.Helper()
	require.NoError(s.t, s.decide(a))
}

// refuse tries an action that must be refused, with the given kind and words, and with what to do about it.
func (s *story) refuse(a domain.Action, kind domain.Kind, says string) {
	s.t.Helper()
	err := s.decide(a)
	var refusal *domain.Error
	require.ErrorAs(s.t, err, &refusal)
	assert.Equal(s.t, kind, refusal.Kind, refusal.Error())
	assert.Contains(s.t, refusal.Error(), says)
	assert.NotEmpty(s.t, refusal.Fix, "an error says what to do")
}

func (s *story) enter(number string) uuid.UUID {
	s.t.Helper()
	id := s.id()
	s.do(domain.AddEntry{Entry: id, Number: number, Details: domain.Details{Puller: "Puller " + number}})
	return id
}

// card is a setting of the story's sled.
func card(t require.TestingT, box string) domain.Setting {
	weight, err := domain.ParseWeight(box)
	require.NoError(t, err)
	return domain.Setting{Box: weight, Gear: 3, StartHole: 2, Trip: distance(t, "180 ft", 0), Slabs: domain.Slabs{Left: 4, Middle: 6, Right: 4}}
}

// freeze writes the setting of the current round and freezes it.
func (s *story) freeze() {
	s.t.Helper()
	r := s.class.Current()
	s.do(domain.DraftSetting{Round: r.ID, Setting: card(s.t, "21,600 lb")})
	revisions := s.class.Current().Revisions
	s.do(domain.FreezeSetting{Round: r.ID, Revision: revisions[len(revisions)-1].Number})
}

func (s *story) call() {
	s.t.Helper()
	s.do(domain.Call{Hook: s.id()})
}

// pulls stores what came of the hook of the puller who must be on the track.
func (s *story) pulls(number, written string) {
	s.t.Helper()
	require.Equal(s.t, number, s.onTrack(), "who is on the track")
	s.do(s.record(written))
}

// record is the action that stores a result for whoever is on the track.
func (s *story) record(written string) domain.Record {
	s.t.Helper()
	return domain.Record{Hook: s.class.OnTrack().ID, Result: resultIn(s.t, written, s.class.Rules.Unit()), Next: s.id()}
}

// options are the words of the choice that is open for the number.
func (s *story) options(number string) string {
	s.t.Helper()
	choice := s.class.Pending()
	require.NotNil(s.t, choice, "no choice is open")
	require.Equal(s.t, number, s.class.Entry(choice.Hook.Entry).Number, "whose choice it is")
	require.Equal(s.t, domain.ChoiceOpen, s.class.Phase())
	require.Nil(s.t, s.class.OnTrack(), "nobody is called while a choice is open")
	words := make([]string, len(choice.Options))
	for i, o := range choice.Options {
		words[i] = o.String()
	}
	return strings.Join(words, " ")
}

// chooses stores the choice of the number.
func (s *story) chooses(number, word string) {
	s.t.Helper()
	s.options(number)
	option, err := domain.ParseOption(word)
	require.NoError(s.t, err)
	s.do(domain.Choose{Hook: s.class.Pending().Hook.ID, Option: option, Next: s.id()})
}

// entry returns the id of a number.
func (s *story) entry(number string) uuid.UUID {
	s.t.Helper()
	for _, e := range s.class.Entries {
		if e.Number == number {
			return e.ID
		}
	}
	s.t.Fatalf("number %s is not entered", number)
	return uuid.Nil
}

// hook returns the hook that counts for a number in a round, else its last one.
func (s *story) hook(number, name string) domain.Hook {
	s.t.Helper()
	for i := range s.class.Rounds {
		if r := &s.class.Rounds[i]; r.Name.String() == name {
			h := r.HookOf(s.entry(number))
			require.NotNil(s.t, h, "number %s has no hook in round %s", number, name)
			return *h
		}
	}
	s.t.Fatalf("there is no round %s", name)
	return domain.Hook{}
}

// opens opens the round that must be due for just these numbers, in this order, freezes its setting and calls.
func (s *story) opens(name string, numbers ...string) {
	s.t.Helper()
	due, entries := s.class.RoundDue()
	require.Equal(s.t, name, due.String(), "the round that is due")
	require.Equal(s.t, numbers, s.numbers(entries), "who is in it")
	s.do(domain.OpenRound{Round: s.id(), Name: due})
	require.Equal(s.t, domain.SettingDue, s.class.Phase(), "a round has a setting of its own")
	s.freeze()
	s.call()
}

func (s *story) numbers(entries []uuid.UUID) []string {
	numbers := make([]string, len(entries))
	for i, id := range entries {
		numbers[i] = s.class.Entry(id).Number
	}
	return numbers
}

// waiting lists the numbers still to hook in the current round, in order.
func (s *story) waiting() []string { return s.numbers(s.class.Current().Waiting()) }

// onTrack is the number on the track, "" for nobody.
func (s *story) onTrack() string {
	if h := s.class.OnTrack(); h != nil {
		return s.class.Entry(h.Entry).Number
	}
	return ""
}

// stands asserts the standing: "1 41", "3= 7", "- 23".
func (s *story) stands(want ...string) {
	s.t.Helper()
	var lines []string
	for _, p := range s.class.Standing() {
		place := "-"
		if p.Place > 0 {
			place = strconv.Itoa(p.Place)
		}
		if p.Shared {
			place += "="
		}
		lines = append(lines, fmt.Sprintf("%s %s", place, s.class.Entries[p.Row].Number))
	}
	assert.Equal(s.t, want, lines)
}

// replayed is the class that the accepted actions give from nothing.
func (s *story) replayed() domain.Class {
	s.t.Helper()
	var class domain.Class
	for _, step := range s.actions {
		var err error
		class, err = domain.Decide(class, step.action, step.at)
		require.NoError(s.t, err, "replaying %T", step.action)
	}
	return class
}
