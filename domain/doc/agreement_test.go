package doc_test

import (
	"encoding/binary"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/doc"
)

// pulled is a class that was pulled with the program, and the journal of it.
type pulled struct {
	class   domain.Class
	kinds   []string
	lines   [][]byte
	clock   time.Time
	counter uint32
}

func (p *pulled) id() uuid.UUID {
	p.counter++
	var id uuid.UUID
	binary.BigEndian.PutUint32(id[12:], p.counter)
	return id
}

// do does an action and writes it down as the journal does.
func (p *pulled) do(t *rapid.T, a domain.Action) {
	after, err := domain.Decide(p.class, a, p.clock)
	require.NoError(t, err, "%T", a)
	kind, payload, err := doc.EncodeAction(a)
	require.NoError(t, err)
	p.class, p.kinds, p.lines = after, append(p.kinds, kind), append(p.lines, payload)
}

// pulledClass draws a class that is pulled to its end, with drops, re-hooks, choices and pull-offs.
func pulledClass() *rapid.Generator[*pulled] {
	return rapid.Custom(func(t *rapid.T) *pulled {
		name := rapid.SampledFrom([]string{"capped-100m", "best-of-two-100m", "sum-of-two-100m", "floating-m"}).Draw(t, "rules")
		rules, err := doc.ReadyMadeRuleSet(name)
		require.NoError(t, err)
		p := &pulled{clock: time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC)}
		p.do(t, domain.PlanClass{Class: p.id(), Name: "Farm stock", Rules: rules, Sled: domain.Sled{Gears: 5, StartHoles: 4}})
		for i := range rapid.IntRange(1, 5).Draw(t, "entries") {
			p.do(t, domain.AddEntry{Entry: p.id(), Number: fmt.Sprint(i + 1)})
		}
		p.do(t, domain.DrawClass{Round: p.id(), Seed: rapid.StringMatching(`[a-z]{4}`).Draw(t, "seed")})
		for steps := 0; p.class.Phase() != domain.Decided && steps < 80; steps++ {
			p.step(t)
		}
		return p
	})
}

// step does what is next, and now and then what else may happen to a puller.
func (p *pulled) step(t *rapid.T) {
	r := p.class.Current()
	switch p.class.Phase() {
	case domain.SettingDue:
		box, err := domain.ParseWeight("5100 kg")
		require.NoError(t, err)
		p.do(t, domain.DraftSetting{Round: r.ID, Setting: domain.Setting{Box: box, Gear: 1, StartHole: 1, Trip: length(t, "55.5 m", 0)}})
		p.do(t, domain.FreezeSetting{Round: r.ID, Revision: 1})
	case domain.Ready:
		p.do(t, domain.Call{Hook: p.id()})
	case domain.Hooking:
		p.hook(t, p.class.OnTrack().ID)
	case domain.ChoiceOpen:
		choice := p.class.Pending()
		p.do(t, domain.Choose{Hook: choice.Hook.ID, Option: rapid.SampledFrom(choice.Options).Draw(t, "option"), Next: p.id()})
	case domain.RoundDue, domain.PullOffDue:
		due, _ := p.class.RoundDue()
		p.do(t, domain.OpenRound{Round: p.id(), Name: due})
	}
}

func (p *pulled) hook(t *rapid.T, hook uuid.UUID) {
	switch rapid.IntRange(0, 9).Draw(t, "what happens") {
	case 0:
		p.do(t, domain.Again{Hook: hook, Reason: "sled", Places: rapid.IntRange(0, 4).Draw(t, "places"), Next: p.id()})
	case 1:
		if len(p.class.Current().Waiting()) > 0 {
			p.do(t, domain.Drop{Hook: hook, Reason: "belt", Next: p.id()})
		}
	default:
		written := rapid.SampledFrom([]string{"FP 100", "FP 104.1", "0", "12.5", "83.91", "83.910", "DQ side line", "absent"}).Draw(t, "result")
		result, err := domain.ParseResult(written, domain.Metre)
		require.NoError(t, err)
		p.do(t, domain.Record{Hook: hook, Result: result, Next: p.id()})
	}
}

// onPaper writes the hooks of the class as a class sheet, in the order made.
func (p *pulled) onPaper() string {
	var sheet strings.Builder
	sheet.WriteString("round,entry,result,note\n")
	for _, r := range p.class.Rounds {
		for _, h := range r.Hooks {
			if !h.Result.IsZero() {
				fmt.Fprintf(&sheet, "%s,%s,%s,x\n", r.Name, p.class.Entry(h.Entry).Number, h.Result)
			}
		}
	}
	return sheet.String()
}

// The program and the paper agree: a class that was pulled with the one is ranked just so when its hooks are written on
// the other. A class in which nobody has hooked yet has no sheet.
func TestTheProgramAndThePaperAgree(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := pulledClass().Draw(t, "class")
		if p.class.Phase() != domain.Decided {
			t.Skip("not pulled to the end")
		}
		scored := score(t, p.onPaper(), p.class.Rules.Name)
		standing := p.class.Standing()
		require.Len(t, scored.Standing, len(standing))
		for i, placed := range scored.Standing {
			require.Equal(t, p.class.Entries[standing[i].Row].Number, placed.Entry)
			require.Equal(t, standing[i].Place > 0, placed.Place != nil)
			if placed.Place != nil {
				require.Equal(t, standing[i].Place, *placed.Place)
			}
			require.Equal(t, standing[i].Shared, placed.Shared)
			require.Equal(t, standing[i].Total.Figures(), placed.Total)
		}
	})
}

// Whoever came back for a pull-off by the program is not wondered at on paper, and whoever did not come back is.
func TestTheProgramAndThePaperAgreeOnWhoComesBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := pulledClass().Draw(t, "class")
		if p.class.Phase() != domain.Decided {
			t.Skip("not pulled to the end")
		}
		paper, name := p.onPaper(), p.class.Rules.Name
		sheet, err := read(paper, name)
		require.NoError(t, err)
		require.NotContains(t, fmt.Sprint(sheet.Warnings), "does not bring")
		for _, e := range p.class.Entries {
			if strings.Contains(paper, "P1,"+e.Number+",") {
				continue
			}
			sheet, err = read(paper+"P1,"+e.Number+",12.5,x\n", name)
			require.NoError(t, err)
			require.Contains(t, fmt.Sprint(sheet.Warnings), "the rule set "+name+" does not bring "+e.Number+" back for P1")
		}
	})
}

// "Replaying the journal gives the stored state": the payloads, read back and decided again, give the class.
func TestReplayingTheJournalGivesTheClass(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := pulledClass().Draw(t, "class")
		var replayed domain.Class
		for i, kind := range p.kinds {
			action, err := doc.DecodeAction(kind, p.lines[i])
			require.NoError(t, err)
			replayed, err = domain.Decide(replayed, action, p.clock)
			require.NoError(t, err)
		}
		require.Equal(t, p.class, replayed)
	})
}
