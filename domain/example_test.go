package domain_test

import (
	"errors"
	"fmt"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/doc"
)

// A distance keeps the digits it was called out with, and is ranked by what was measured.
func ExampleParseDistance() {
	called, _ := domain.ParseDistance("276.2", domain.Foot)
	written, _ := domain.ParseDistance("276.200 ft", 0)
	inches, _ := domain.ParseDistance(`287' 4.5"`, domain.Foot)
	fmt.Println(called, "|", written, "|", inches, "|", inches.In(domain.Metre, 2))
	fmt.Println(called.Compare(written), called.Compare(inches))
	_, err := domain.ParseDistance("281,36", domain.Foot)
	fmt.Println(err)
	// Output:
	// 276.2 ft | 276.200 ft | 287' 4.5" | 87.59 m
	// 0 -1
	// "281,36" is not a distance: "281,36" has a comma; write the decimals after a point; write figures with up to three decimals, such as 281.36
}

// Two full pullers come back; the pull-off decides between them, however short it is.
func ExampleRank() {
	rules, _ := doc.ReadyMadeRuleSet("capped-100m")
	read := func(s string) domain.Result {
		r, _ := domain.ParseResult(s, rules.Unit())
		return r
	}
	standing := domain.Rank(domain.Table{
		Rules:  rules,
		Rounds: []domain.RoundName{{Number: 1}, {PullOff: true, Number: 1}},
		Rows: []domain.Row{
			{Number: "41", Results: []domain.Result{read("99.99"), {}}},
			{Number: "7", Results: []domain.Result{read("FP"), read("20.11")}},
			{Number: "23", Results: []domain.Result{read("FP"), read("27.38")}},
			{Number: "12", Results: []domain.Result{read("DQ"), {}}},
		},
		Complete: true,
	})
	for _, p := range standing {
		fmt.Println(p.Place, []string{"41", "7", "23", "12"}[p.Row], p.Total)
	}
	// Output:
	// 1 23 100 m
	// 2 7 100 m
	// 3 41 99.99 m
	// 0 12
}

// A result is settled under the rules of its round: what is a full pull in the class counts past the line in the
// pull-off.
func ExampleRuleSet_Settle() {
	rules, _ := doc.ReadyMadeRuleSet("capped-300ft")
	typed, _ := domain.ParseResult("312.44", rules.Unit())
	for _, round := range []domain.RoundName{{Number: 1}, {PullOff: true, Number: 1}} {
		settled, _ := rules.Settle(round, typed)
		fmt.Printf("%s: %s\n", round, settled)
	}
	_, err := rules.Settle(domain.RoundName{Number: 1}, domain.Result{Outcome: domain.FullPull, Distance: distance(panics{}, "299 ft", 0)})
	fmt.Println(err)
	// Output:
	// 1: FP 312.44
	// P1: 312.44
	// FP 299 lies below the full-pull line 300 ft; give the distance without FP, or a figure past the line
}

// panics is a test without a test: an example cannot fail any other way.
type panics struct{}

func (panics) Errorf(format string, args ...any) { panic(fmt.Sprintf(format, args...)) }

func (panics) FailNow() { panic("failed") }

// Decide is the only way in which a class changes: it returns the class as it is then, or an error that says what to do.
func ExampleDecide() {
	rules, _ := doc.ReadyMadeRuleSet("capped-300ft")
	now := time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC)
	var class domain.Class
	for _, action := range []domain.Action{
		domain.PlanClass{Class: uuid.UUID{1}, Name: "8,200 lb Field Stock", Rules: rules, Sled: domain.Sled{Gears: 5, StartHoles: 4}},
		domain.AddEntry{Entry: uuid.UUID{41}, Number: "41"},
		domain.AddEntry{Entry: uuid.UUID{7}, Number: "7"},
		domain.DrawClass{Round: uuid.UUID{2}, Seed: "dice 4 2 6"},
	} {
		class, _ = domain.Decide(class, action, now)
	}
	for _, id := range class.Current().Waiting() {
		fmt.Println("hooks:", class.Entry(id).Number)
	}
	_, err := domain.Decide(class, domain.Call{Hook: uuid.UUID{3}}, now)
	var refusal *domain.Error
	fmt.Println(errors.As(err, &refusal), refusal.Kind == domain.WrongState)
	fmt.Println(refusal.Message)
	fmt.Println(refusal.Fix)
	// Output:
	// hooks: 41
	// hooks: 7
	// true true
	// no setting is frozen for this round
	// write the setting and freeze it first
}

// Addresses are made of names once, and stay.
func ExampleSlug() {
	fmt.Println(domain.Slug("8,200 lb Field Stock"))
	// Output: 8200-lb-field-stock
}
