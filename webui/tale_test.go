package webui

import (
	"encoding/binary"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
	"clayline/domain/draw"
)

// tale is what happens to one class, told in short words, so that a test can say how the pages show it. Its ids count
// from 1 and its clock goes on a minute an action.
type tale struct {
	t     testing.TB
	class domain.Class
	ids   uint64
	now   time.Time
}

// numbers are the entries of every tale, in the order in which they are drawn.
var numbers = []string{"7", "12", "23", "41"}

// plan is a class of the rule set with its entries, not drawn.
func plan(t testing.TB, rules string) *tale {
	t.Helper()
	set, err := doc.ReadyMadeRuleSet(rules)
	require.NoError(t, err)
	return planUnder(t, set)
}

// planUnder is [plan] with a rule set of the test's own.
func planUnder(t testing.TB, set domain.RuleSet) *tale {
	t.Helper()
	l := &tale{t: t, now: time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC)}
	l.do(domain.PlanClass{Class: l.id(), Name: "8,200 lb Field Stock", Rules: set, Sled: domain.Sled{Name: "Plumb Bob", Gears: 4, StartHoles: 3}})
	for _, number := range numbers {
		l.do(domain.AddEntry{Entry: l.id(), Number: number, Details: domain.Details{Puller: "P" + number, Vehicle: "V" + number}})
	}
	return l
}

// tell plans a class and tells what happens to it: draw, write, freeze, call, start, keep, last, second, open, sign, or with
// a word that begins the step: again REASON, drop REASON, scratch NUMBER REASON, correct NUMBER RESULT, reset REASON,
// reopen REASON, protest NUMBER 1 ABOUT (or - for no hook), upheld FOLLOWS REASON and the other rulings;
// anything else is a result as on a class sheet.
func tell(t testing.TB, rules string, steps ...string) *domain.Class {
	t.Helper()
	l := plan(t, rules)
	for _, step := range steps {
		l.step(step)
	}
	return &l.class
}

// tellUnder is [tell] under a ready-made rule set that the test has changed.
func tellUnder(t testing.TB, change func(*domain.RuleSet), steps ...string) *tale {
	t.Helper()
	set, err := doc.ReadyMadeRuleSet("capped-300ft")
	require.NoError(t, err)
	change(&set)
	l := planUnder(t, set)
	for _, step := range steps {
		l.step(step)
	}
	return l
}

// begun are the steps until the first puller is on the track.
func begun(steps ...string) []string {
	return append([]string{"draw", "write", "freeze", "call"}, steps...)
}

// id is a new id.
func (l *tale) id() uuid.UUID {
	l.ids++
	var id uuid.UUID
	binary.BigEndian.PutUint64(id[8:], l.ids)
	return id
}

// do does an action that must be accepted.
func (l *tale) do(a domain.Action) {
	l.t.Helper()
	l.now = l.now.Add(time.Minute)
	after, err := domain.Decide(l.class, a, l.now)
	require.NoError(l.t, err, "%T", a)
	l.class = after
}

func (l *tale) step(step string) {
	l.t.Helper()
	word, rest, _ := strings.Cut(step, " ")
	r := l.class.Current()
	switch word {
	case "draw":
		l.do(domain.DrawClass{Round: l.id(), Seed: seedFor(numbers)})
	case "write":
		l.do(domain.DraftSetting{Round: r.ID, Setting: l.setting()})
	case "freeze":
		l.do(domain.FreezeSetting{Round: r.ID, Revision: len(r.Revisions)})
	case "reset":
		l.do(domain.ResetSetting{Round: r.ID, Reason: rest})
	case "start":
		l.do(domain.Start{Hook: l.class.OnTrack().ID})
	case "call":
		l.do(domain.Call{Hook: l.id()})
	case "open":
		name, _ := l.class.RoundDue()
		l.do(domain.OpenRound{Round: l.id(), Name: name})
	case "stop":
		l.do(domain.StopClass{Reason: rest})
	case "line":
		l.do(domain.MoveLine{Line: l.result(rest).Distance, Reason: "the sled is light"})
	case "protest":
		number, rest, _ := strings.Cut(rest, " ")
		round, about, _ := strings.Cut(rest, " ")
		a := domain.LodgeProtest{Protest: l.id(), Entry: l.entry(number), About: about, By: "J. Weir"}
		if round != "-" {
			a.Hook = l.class.Rounds[0].HookOf(a.Entry).ID
		}
		l.do(a)
	case "upheld", "turned_down", "withdrawn":
		ruling, err := domain.ParseRuling(word)
		require.NoError(l.t, err)
		follows, reason, _ := strings.Cut(rest, " ")
		what, err := domain.ParseFollows(follows)
		require.NoError(l.t, err)
		l.do(domain.DecideProtest{Protest: l.class.Protests[len(l.class.Protests)-1].ID, Ruling: ruling, Follows: what, Reason: reason})
	case "reopen":
		l.do(domain.Reopen{Reason: rest})
	case "sign":
		l.do(domain.MakeOfficial{Name: rest})
	case "scratch":
		number, reason, _ := strings.Cut(rest, " ")
		l.do(domain.Scratch{Entry: l.entry(number), Reason: reason})
	default:
		l.hookStep(word, rest, step)
	}
}

// hookStep does something to a hook.
func (l *tale) hookStep(word, rest, step string) {
	l.t.Helper()
	switch word {
	case "keep", "last":
		option, err := domain.ParseOption(word)
		require.NoError(l.t, err)
		l.do(domain.Choose{Hook: l.class.Pending().Hook.ID, Option: option, Next: l.id()})
	case "second":
		l.do(domain.SecondAttempt{Hook: l.class.OnTrack().ID, Next: l.id()})
	case "again":
		l.do(domain.Again{Hook: l.class.OnTrack().ID, Reason: rest, Next: l.id()})
	case "drop":
		l.do(domain.Drop{Hook: l.class.OnTrack().ID, Reason: rest, Next: l.id()})
	case "correct":
		number, result, _ := strings.Cut(rest, " ")
		l.do(domain.Correct{Hook: l.class.Rounds[0].HookOf(l.entry(number)).ID, Result: l.result(result), Reason: "misread tape", Next: l.id()})
	default:
		l.do(domain.Record{Hook: l.class.OnTrack().ID, Result: l.result(step), Next: l.id()})
	}
}

func (l *tale) result(written string) domain.Result {
	l.t.Helper()
	result, err := domain.ParseResult(written, l.class.Rules.Unit())
	require.NoError(l.t, err)
	return result
}

// entry is the id of the entry with the number.
func (l *tale) entry(number string) uuid.UUID {
	l.t.Helper()
	i := slices.IndexFunc(l.class.Entries, func(e domain.Entry) bool { return e.Number == number })
	require.GreaterOrEqual(l.t, i, 0, number)
	return l.class.Entries[i].ID
}

func (l *tale) setting() domain.Setting {
	l.t.Helper()
	box, err := domain.ParseWeight("21600 lb")
	require.NoError(l.t, err)
	trip, err := domain.ParseDistance("198 ft", 0)
	require.NoError(l.t, err)
	return domain.Setting{Box: box, Slabs: domain.Slabs{Left: 6, Right: 6}, Gear: 3, StartHole: 2, Trip: trip, Device: "laser"}
}

// seedFor tries seeds until one draws the numbers in the order in which they are written.
func seedFor(numbers []string) string {
	for i := 0; ; i++ {
		if order := draw.Order(strconv.Itoa(i), numbers); slices.IsSorted(order) {
			return strconv.Itoa(i)
		}
	}
}
