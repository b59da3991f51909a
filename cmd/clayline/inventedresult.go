package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/google/uuid"

	"clayline/domain"
)

// after does one step of a class that is decided, with what stands behind its word:
//
//	protest 14 left wheel over the line   against the number, about the rest
//	turned_down the flagman saw it        the ruling on the last protest, and why
//	correct 28 300.85                     the last hook of the number
//	sign Ada Flagg, reopen misread        the signature, and its end
func (p *player) after(ctx context.Context, word, rest string) error {
	number, what, _ := strings.Cut(rest, " ")
	var entry domain.Entry
	for _, e := range p.class.Entries {
		if e.Number == number {
			entry = e
		}
	}
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
