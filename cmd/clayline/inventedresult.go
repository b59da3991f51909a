package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/google/uuid"

	"clayline/domain"
)

// inventedLimit is the weight limit of a class that is named after its limit in pounds; the others have none.
func inventedLimit(name string) (rule domain.WeightRule, err error) {
	figures, _, pounds := strings.Cut(name, " lb ")
	if !pounds {
		return rule, nil
	}
	rule = domain.WeightRule{When: domain.WeighBefore, Tries: 2, Over: domain.OverDisqualified, WithDriver: true}
	rule.Limit, err = domain.ParseWeight(figures + " lb")
	return rule, err
}

// weigh has the entries of a class with a limit over the scale before the draw: all but the last, who comes late. Each is
// five pounds lighter than the one before.
func (p *player) weigh(ctx context.Context) error {
	limit, err := strconv.Atoi(strings.ReplaceAll(p.class.Rules.Weight.Limit.Figures(), ",", ""))
	if err != nil {
		return nil //nolint:nilerr // no limit, and nothing to weigh
	}
	for i, e := range p.class.Entries[:len(p.class.Entries)-1] {
		weight, err := domain.ParseWeight(strconv.Itoa(limit-10-5*i) + " lb")
		if err != nil {
			return err
		}
		if err := p.do(ctx, domain.Weigh{Reading: uuid.New(), Entry: e.ID, Weight: weight}); err != nil {
			return err
		}
	}
	return nil
}

// entry is the entry with a number; the zero Entry where the class has none.
func (p *player) entry(number string) (found domain.Entry) {
	for _, e := range p.class.Entries {
		if e.Number == number {
			found = e
		}
	}
	return found
}

// after does one step of a class that is decided, with what stands behind its word:
//
//	protest 14 left wheel over the line   against the number, about the rest
//	turned_down the flagman saw it        the ruling on the last protest, and why
//	correct 28 300.85                     the last hook of the number
//	sign Ada Flagg, reopen misread        the signature, and its end
func (p *player) after(ctx context.Context, word, rest string) error {
	number, what, _ := strings.Cut(rest, " ")
	entry := p.entry(number)
	switch word {
	case "protest":
		return p.do(ctx, domain.LodgeProtest{Protest: uuid.New(), Entry: entry.ID, About: what, By: "Hattie Voss"})
	case "turned_down":
		last := p.class.Protests[len(p.class.Protests)-1].ID
		return p.do(ctx, domain.DecideProtest{Protest: last, Ruling: domain.TurnedDown, Reason: rest})
	case "correct":
		result, err := domain.ParseResult(what, p.class.Rules.Unit())
		if err != nil {
			return err
		}
		return p.do(ctx, domain.Correct{Hook: p.class.Current().HookOf(entry.ID).ID, Result: result, Reason: "misread", Next: uuid.New()})
	case "sign":
		return p.do(ctx, domain.MakeOfficial{Name: rest})
	case "reopen":
		return p.do(ctx, domain.Reopen{Reason: rest})
	}
	return fmt.Errorf("%q is no step of a class that is decided", word)
}
