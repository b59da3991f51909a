package doc_test

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/doc"
)

// copied is a class with something in every part of it, as it comes back from a copy.
func copied(t require.TestingT, c doc.ClassCopy) doc.ClassCopy {
	text, err := doc.WriteClassCopy(c)
	require.NoError(t, err)
	read, err := doc.ParseClassCopy(text)
	require.NoError(t, err)
	return read
}

// copiedClass is a class with entries, a draw, a frozen setting and hooks, which the actions themselves made.
func copiedClass(t require.TestingT, rules domain.RuleSet, results ...string) domain.Class {
	var class domain.Class
	at, ids := time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC), byte(0)
	id := func() uuid.UUID { ids++; return uuid.UUID{15: ids} }
	do := func(a domain.Action) {
		at = at.Add(time.Minute)
		after, err := domain.Decide(class, a, at)
		require.NoError(t, err)
		class = after
	}
	do(domain.PlanClass{Class: id(), Event: uuid.UUID{1}, Name: "Field Stock", Rules: rules, Sled: domain.Sled{ID: uuid.UUID{2}, Name: "Plumb Bob", Gears: 4, StartHoles: 3}})
	for _, number := range []string{"7", "12", "23"} {
		do(domain.AddEntry{Entry: id(), Number: number, Details: domain.Details{Puller: "P" + number, Vehicle: "V" + number}})
	}
	do(domain.DrawClass{Seed: "rain", Round: id()})
	box, err := domain.ParseWeight("21600 lb")
	require.NoError(t, err)
	trip, err := domain.ParseDistance("198 ft", 0)
	require.NoError(t, err)
	do(domain.DraftSetting{Round: class.Current().ID, Setting: domain.Setting{Box: box, Gear: 3, StartHole: 2, Trip: trip}})
	do(domain.FreezeSetting{Round: class.Current().ID, Revision: 1, Drafted: class.Current().Revisions[0].Drafted})
	do(domain.Call{Hook: id()})
	for _, typed := range results {
		result, err := domain.ParseResult(typed, rules.Unit())
		require.NoError(t, err)
		do(domain.Record{Hook: class.OnTrack().ID, Result: result, Next: id()})
		if class.Pending() != nil {
			do(domain.Choose{Hook: class.Pending().Hook.ID, Option: domain.Keep, Next: id()})
		}
	}
	return class
}

func TestACopyIsTheClass(t *testing.T) {
	for _, name := range []string{"capped-300ft", "floating-ft"} {
		rules, err := doc.ReadyMadeRuleSet(name)
		require.NoError(t, err)
		class := copiedClass(t, rules, "281.36", "DQ out of bounds", "188.02")
		given := doc.ClassCopy{
			Event: domain.Event{ID: class.Event, Slug: "tarn-hollow", Name: "Tarn Hollow", Zone: "Europe/Amsterdam"},
			Class: class, Number: 42, Done: []uuid.UUID{{3}}, Offset: 7200,
		}
		read := copied(t, given)
		require.Equal(t, given, read)
		require.Equal(t, class.Standing(), read.Class.Standing(), "and ranks as it does")
	}
}

func TestACopyOfAnyRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rules := ruleSets().Draw(t, "rules")
		read := copied(t, doc.ClassCopy{Class: domain.Class{Name: "Field Stock", Rules: rules}})
		require.Equal(t, rules, read.Class.Rules)
	})
}

// The booth needs no name of who lodged a protest or signed, nor the other sleds.
func TestACopyLeavesOutWhatIsNoBusinessOfTheBooth(t *testing.T) {
	rules, err := doc.ReadyMadeRuleSet("capped-300ft")
	require.NoError(t, err)
	class := copiedClass(t, rules)
	class.Protests = []domain.Protest{{ID: uuid.UUID{9}, By: "Lodger", About: "the line"}}
	class.Earlier = []domain.Signature{{Name: "Signer", Reason: "slip"}}
	class.Official.Name = "Steward"
	text, err := doc.WriteClassCopy(doc.ClassCopy{Class: class, Event: domain.Event{Sleds: []domain.Sled{{Name: "Other Sled"}}}})
	require.NoError(t, err)
	for _, name := range []string{"Lodger", "Signer", "Steward", "Other Sled"} {
		require.NotContains(t, string(text), name)
	}
	require.Equal(t, "Lodger", class.Protests[0].By, "what was copied stays as it is")
	require.Equal(t, "Signer", class.Earlier[0].Name)
	require.Contains(t, string(text), "P12", "the pullers are named")
}

func TestWhatIsNoCopyIsRefused(t *testing.T) {
	for _, text := range []string{"", "[]", "{}", `{"Rules":{}}`, `{"Rules":null,"Class":7}`} {
		_, err := doc.ParseClassCopy([]byte(text))
		require.Error(t, err, "%s", text)
	}
}

func FuzzParseClassCopy(f *testing.F) {
	rules, err := doc.ReadyMadeRuleSet("capped-300ft")
	require.NoError(f, err)
	text, err := doc.WriteClassCopy(doc.ClassCopy{Class: copiedClass(f, rules, "281.36"), Number: 7})
	require.NoError(f, err)
	f.Add(text)
	f.Add([]byte(`{"Class":{"Name":"x"}}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		read, err := doc.ParseClassCopy(text)
		if err != nil {
			return
		}
		again, err := doc.WriteClassCopy(read)
		require.NoError(t, err)
		require.True(t, json.Valid(again))
	})
}
