package domain_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/draw"
)

// secret is the text of every commitment that a machine makes.
const secret = "grey heron 9f2c41d07be3"

// machine does anything to a class that people or broken pages may ask for, sensible or not.
type machine struct {
	class   domain.Class
	actions []told
	clock   time.Time
	ids     int
	voided  map[uuid.UUID]bool // whose hook was made not to count, for good
}

func (m *machine) id() uuid.UUID {
	m.ids++
	return uuid.NewSHA1(uuid.Nil, []byte(fmt.Sprint(m.ids)))
}

// someHook draws the id of any hook, often the one on the track or the last one, now and then of none.
func (m *machine) someHook(t *rapid.T) uuid.UUID {
	ids := []uuid.UUID{uuid.Nil}
	for _, r := range m.class.Rounds {
		for _, h := range r.Hooks {
			ids = append(ids, h.ID)
		}
	}
	if h := m.class.OnTrack(); h != nil && rapid.IntRange(0, 3).Draw(t, "on track") > 0 {
		return h.ID
	}
	if rapid.Bool().Draw(t, "last") {
		return ids[len(ids)-1]
	}
	return rapid.SampledFrom(ids).Draw(t, "hook")
}

func (m *machine) someRound(t *rapid.T) uuid.UUID {
	if r := m.class.Current(); r != nil && rapid.IntRange(0, 9).Draw(t, "current") > 0 {
		return r.ID
	}
	return uuid.Nil
}

func (m *machine) someEntry(t *rapid.T) uuid.UUID {
	ids := []uuid.UUID{uuid.Nil}
	for _, e := range m.class.Entries {
		ids = append(ids, e.ID)
	}
	return rapid.SampledFrom(ids).Draw(t, "entry")
}

func someResult(t *rapid.T) domain.Result {
	written := rapid.SampledFrom([]string{
		"FP", "FP", "FP", "FP 120", "FP 120", "FP 121.5", "0", "12.5", "19.99", "20", "83.91", "99.99", "100", "DQ side line", "DQ", "absent", "void", "rehook", "-",
	}).Draw(t, "result")
	return resultIn(t, written, domain.Metre)
}

func someReason(t *rapid.T) string {
	return rapid.SampledFrom([]string{"sled", "sled", "sled", ""}).Draw(t, "reason")
}

// forward is what sensible people do next.
func (m *machine) forward(t *rapid.T) domain.Action {
	switch r := m.class.Current(); m.class.Phase() {
	case domain.SettingDue:
		if n := len(r.Revisions); n > 0 && r.Revisions[n-1].Draft() {
			return domain.FreezeSetting{Round: r.ID, Revision: n}
		}
		return domain.DraftSetting{Round: r.ID, Setting: card(t, "5100 kg")}
	case domain.Ready:
		return domain.Call{Hook: m.id()}
	case domain.Hooking:
		return domain.Record{Hook: m.class.OnTrack().ID, Result: someResult(t), Next: m.id()}
	case domain.ChoiceOpen:
		choice := m.class.Pending()
		return domain.Choose{Hook: choice.Hook.ID, Option: rapid.SampledFrom(choice.Options).Draw(t, "option"), Next: m.id()}
	case domain.RoundDue, domain.PullOffDue:
		due, _ := m.class.RoundDue()
		return domain.OpenRound{Round: m.id(), Name: due}
	default:
		return domain.Correct{Hook: m.someHook(t), Result: someResult(t), Reason: "sheet misread", Next: m.id()}
	}
}

// act draws an action: more often than not a sensible one.
func (m *machine) act(t *rapid.T) domain.Action {
	if rapid.IntRange(0, 9).Draw(t, "sensible") < 7 {
		return m.forward(t)
	}
	switch rapid.SampledFrom([]string{
		"record", "freeze", "draft", "call", "choose", "second", "again", "drop", "correct", "correct", "reset", "round", "enter",
		"scratch", "draw", "commit", "swap", "plan", "void", "start", "ready", "differed", "speed", "official", "reopen", "test puller", "line", "stop", "resume", "resume", "attend", "protest", "protest", "ruling", "weigh", "misread",
	}).Draw(t, "action") {
	case "record":
		return domain.Record{Hook: m.someHook(t), Result: someResult(t), Next: m.id()}
	case "draft":
		return domain.DraftSetting{Round: m.someRound(t), Setting: card(t, "5100 kg")}
	case "freeze":
		return domain.FreezeSetting{Round: m.someRound(t), Revision: rapid.IntRange(1, 3).Draw(t, "revision")}
	case "call":
		return domain.Call{Hook: m.id()}
	case "choose":
		option := rapid.SampledFrom([]domain.Option{domain.Keep, domain.ToLast, domain.AtOnce, 3, 0}).Draw(t, "option")
		return domain.Choose{Hook: m.someHook(t), Option: option, Next: m.id()}
	case "second":
		return domain.SecondAttempt{Hook: m.someHook(t), Next: m.id()}
	case "again":
		return domain.Again{Hook: m.someHook(t), Reason: someReason(t), Places: rapid.IntRange(-1, 5).Draw(t, "places"), Next: m.id()}
	case "drop":
		return domain.Drop{Hook: m.someHook(t), Reason: someReason(t), Places: rapid.IntRange(-1, 3).Draw(t, "places"), Next: m.id()}
	case "correct":
		return domain.Correct{Hook: m.someHook(t), Result: someResult(t), Reason: someReason(t), Next: m.id()}
	case "reset":
		return domain.ResetSetting{Round: m.someRound(t), Reason: someReason(t)}
	case "round":
		due, _ := m.class.RoundDue()
		return domain.OpenRound{Round: m.id(), Name: due}
	case "differed":
		what := domain.Differences(rapid.Uint16Range(0, 1<<10-1).Draw(t, "what"))
		return domain.NoteDifference{Hook: m.someHook(t), What: what, Words: someReason(t)}
	case "speed":
		top := rapid.SampledFrom([]string{"", "3.5 mph", "6 km/h", "18.4 mph"}).Draw(t, "top")
		line := rapid.SampledFrom([]string{"", "4 mph", "5.63 km/h"}).Draw(t, "at the line")
		return domain.ReadSpeed{Hook: m.someHook(t), Top: velocity(t, top), AtLine: velocity(t, line)}
	case "ready":
		if rapid.Bool().Draw(t, "steward") {
			return domain.SayWhere{Entry: m.someEntry(t), Where: rapid.SampledFrom([]domain.Where{0, domain.Here, domain.Missing, domain.Cooling}).Draw(t, "where")}
		}
		if rapid.Bool().Draw(t, "flagman") {
			return domain.SayFlag{Hook: m.someHook(t), Call: domain.FlagCall(rapid.Uint8Max(4).Draw(t, "call")), Reason: someReason(t)}
		}
		if rapid.Bool().Draw(t, "photo") {
			shot := photo(t, rapid.IntRange(1, 8).Draw(t, "shot"))
			shot.Photo, shot.Hook = m.id(), m.someHook(t)
			return shot
		}
		return domain.SayReady{Hook: m.someHook(t), Held: rapid.Bool().Draw(t, "held"), Words: someReason(t)}
	case "void":
		return domain.VoidHook{Hook: m.someHook(t), Reason: someReason(t), Next: m.id()}
	case "start":
		return domain.Start{Hook: m.someHook(t)}
	case "official":
		return domain.MakeOfficial{Name: "O. Example"}
	case "reopen":
		return domain.Reopen{Reason: someReason(t)}
	case "protest":
		return domain.LodgeProtest{Protest: m.id(), Entry: m.someEntry(t), Hook: rapid.SampledFrom([]uuid.UUID{uuid.Nil, m.someHook(t)}).Draw(t, "about"), About: someReason(t), By: "B"}
	case "weigh":
		shown := rapid.SampledFrom([]string{"2400 kg", "2500 kg", "2600 kg", "5600 lb", ""}).Draw(t, "weight")
		return domain.Weigh{Reading: m.id(), Entry: m.someEntry(t), Weight: weight(t, shown), After: rapid.Bool().Draw(t, "after")}
	case "misread":
		id := uuid.Nil
		if n := len(m.class.Readings); n > 0 {
			id = m.class.Readings[n-1].ID
		}
		return domain.Misread{Reading: id, Reason: someReason(t)}
	case "ruling":
		ids := []uuid.UUID{uuid.Nil}
		for _, p := range m.class.Protests {
			ids = append(ids, p.ID)
		}
		return domain.DecideProtest{Protest: rapid.SampledFrom(ids).Draw(t, "protest"), Ruling: domain.Ruling(rapid.IntRange(0, 3).Draw(t, "ruling")),
			Follows: domain.Follows(rapid.IntRange(0, 2).Draw(t, "follows")), Reason: someReason(t)}
	case "enter":
		number := fmt.Sprint(rapid.IntRange(1, 9).Draw(t, "number"))
		return domain.AddEntry{Entry: m.id(), Number: number, Details: domain.Details{Puller: "P"}}
	case "test puller":
		return domain.PickTest{Entry: m.someEntry(t)}
	case "line":
		return domain.MoveLine{Line: rapid.SampledFrom([]domain.Distance{length(t, "100"), length(t, "110")}).Draw(t, "line"), Reason: someReason(t)}
	case "stop":
		return domain.StopClass{Reason: someReason(t)}
	case "resume":
		return domain.ResumeClass{Reason: someReason(t)}
	case "attend":
		return domain.Attend{Entries: []domain.Attended{{Entry: m.someEntry(t), Attendance: domain.Attendance{
			Guest: rapid.Bool().Draw(t, "guest"), Came: rapid.Bool().Draw(t, "came"), Fee: domain.Money(rapid.IntRange(-1, 9).Draw(t, "fee")),
		}}}}
	case "scratch":
		return domain.Scratch{Entry: m.someEntry(t), Reason: someReason(t)}
	case "draw":
		a := domain.DrawClass{Round: m.id(), Seed: rapid.SampledFrom([]string{"a", "b", ""}).Draw(t, "seed"), Reason: someReason(t), Between: rapid.IntRange(0, 4).Draw(t, "between")}
		if m.class.Promise.Hash != "" && rapid.Bool().Draw(t, "revealed") {
			a.Reveal = secret
		}
		if rapid.Bool().Draw(t, "fixed") {
			a.Fixed = []domain.Seat{{Entry: m.someEntry(t), Place: rapid.IntRange(0, 4).Draw(t, "place")}}
		}
		return a.Grouped(&m.class)
	case "commit":
		hash, err := draw.Commit(secret)
		require.NoError(t, err)
		return domain.Commit{Hash: rapid.SampledFrom([]string{hash, hash, "877d"}).Draw(t, "hash"), Reason: someReason(t)}
	case "swap":
		return domain.Swap{Entry: m.someEntry(t), With: m.someEntry(t), Reason: someReason(t)}
	default:
		return domain.PlanClass{Class: m.id(), Name: "Again", Rules: m.class.Rules}
	}
}

// step does one action, and asserts what holds of every decision.
func (m *machine) step(t *rapid.T, a domain.Action) {
	m.clock = m.clock.Add(time.Second)
	before := snapshot(t, m.class)
	after, err := domain.Decide(m.class, a, m.clock)
	require.Equal(t, before, snapshot(t, m.class), "Decide changed its input")
	if err != nil {
		require.Equal(t, before, snapshot(t, after), "a refused action changed something")
		var refusal *domain.Error
		require.ErrorAs(t, err, &refusal)
		require.NotZero(t, refusal.Kind)
		require.NotEmpty(t, refusal.Message)
		require.NotEmpty(t, refusal.Fix, "%T: %s", a, refusal.Message)
		return
	}
	if a, voiding := a.(domain.VoidHook); voiding {
		_, h := m.class.Find(a.Hook)
		m.voided[h.Entry] = true
	}
	m.class, m.actions = after, append(m.actions, told{a, m.clock})
}

// invariants are what holds of every class, whatever was done to it.
func (m *machine) invariants(t *rapid.T) {
	onTrack := 0
	for i := range m.class.Rounds {
		r := &m.class.Rounds[i]
		onTrack += m.round(t, r)
		if i < len(m.class.Rounds)-1 {
			require.Nil(t, r.Open(), "an earlier round has an open setting")
		}
	}
	require.LessOrEqual(t, onTrack, 1, "hooks on the track")
	if len(m.class.Rounds) > 0 {
		m.everybodyIsInTheLineup(t)
	}
	m.phase(t)
	m.stake(t)
	for _, p := range m.class.Photos {
		require.LessOrEqual(t, len(m.class.PhotosOf(p.Hook)), domain.MaxPhotos)
		_, h := m.class.Find(p.Hook)
		require.NotNil(t, h, "a photo of no hook")
	}
	for _, off := range m.class.OffWeights() {
		require.False(t, m.class.Rules.Weight.Within(off.Reading.Weight))
		require.NotContains(t, m.class.ToWeigh(), off.Entry, "who was found too heavy after the hook was weighed")
	}
	require.Len(t, m.class.Standing(), len(m.class.Entries), "everybody is listed once")
}

// round checks one round and returns how many of its hooks have no result yet.
func (m *machine) round(t *rapid.T, r *domain.Round) (open int) {
	openRevisions := 0
	for i, revision := range r.Revisions {
		require.Equal(t, i+1, revision.Number)
		if revision.Open() {
			openRevisions++
		}
		require.Equal(t, i > 0, revision.Reason != "", "a replaced setting has a reason")
	}
	require.LessOrEqual(t, openRevisions, 1, "open revisions")
	counted := make(map[uuid.UUID]bool)
	for i, h := range r.Hooks {
		require.Equal(t, i+1, h.Number)
		require.True(t, h.Revision >= 1 && h.Revision <= len(r.Revisions))
		require.False(t, r.Revisions[h.Revision-1].Draft(), "a hook against a draft")
		require.LessOrEqual(t, h.Attempt, max(2, m.class.Rules.Restarts.Attempts), "an attempt too many")
		require.Equal(t, h.Result.IsZero(), h.Ended.IsZero())
		if h.Result.IsZero() {
			open++
			require.True(t, r.Revisions[h.Revision-1].Open(), "the hook on the track is not against the open setting")
			require.NotContains(t, r.Waiting(), h.Entry)
		}
		if h.Result.Counts() {
			require.False(t, counted[h.Entry], "two hooks of one entry count")
			counted[h.Entry] = true
		}
		if h.Result.Outcome == domain.Disqualified {
			require.NotEmpty(t, h.Result.Reason)
		}
	}
	return open
}

// everybodyIsInTheLineup: who is not scratched is in the line-up of the first round once, and was heard or waits there
// as long as it is being pulled.
func (m *machine) everybodyIsInTheLineup(t *rapid.T) {
	first := &m.class.Rounds[0]
	times := make(map[uuid.UUID]int)
	for _, s := range first.Lineup {
		times[s.Entry]++
	}
	for _, e := range m.class.Entries {
		if e.Scratched != "" {
			require.LessOrEqual(t, times[e.ID], 1)
			require.NotContains(t, m.class.Current().Waiting(), e.ID, "a scratched entry waits")
			continue
		}
		require.Equal(t, 1, times[e.ID], "number %s in the line-up", e.Number)
		if m.class.OnTrack() == nil && !slices.Contains(first.Waiting(), e.ID) {
			require.True(t, first.ResultOf(e.ID).Counts() || m.voided[e.ID], "number %s got lost", e.Number)
		}
	}
}

// phase checks that the phase says what can be done.
func (m *machine) phase(t *rapid.T) {
	phase := m.class.Phase()
	require.Equal(t, m.class.OnTrack() != nil, phase == domain.Hooking)
	_, err := domain.Decide(m.class, domain.Call{Hook: uuid.Max}, m.clock)
	require.Equal(t, phase == domain.Ready, err == nil, "a puller can be called when the class is ready, and only then: %v", err)
	due, entries := m.class.RoundDue()
	require.Equal(t, phase == domain.RoundDue || phase == domain.PullOffDue, due.Number > 0)
	for _, p := range m.class.Standing() {
		if r := m.class.Current(); r != nil && r.Name.PullOff && slices.Contains(r.Waiting(), m.class.Entries[p.Row].ID) {
			rules := m.class.Rules
			require.True(t, p.FullPull || rules.PullOff.FillTo > 0 || rules.PullOff.Who == domain.TopPlaces || rules.Ties.Ties == domain.PulledAgain || m.class.Stopped.Reason != "",
				"who waits in a pull-off is a full puller")
		}
	}
	if due.PullOff {
		require.True(t, m.class.Rules.Capped || m.class.Rules.Ties.Ties == domain.PulledAgain, "a floating finish has no pull-off but for ties")
		require.Greater(t, len(entries), 1, "a pull-off of one")
	}
}

// Whatever people and broken pages ask for: nothing panics, nobody is lost, one puller is on the track, one setting is
// open, and the accepted actions from nothing give the class again.
func TestAnythingMayHappenToAClass(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		m := &machine{voided: make(map[uuid.UUID]bool), clock: time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC)}
		rules := set(t, rapid.SampledFrom([]string{"capped-100m", "best-of-two-100m", "sum-of-two-100m", "floating-m"}).Draw(t, "rules"),
			test([]domain.Option{domain.ToLast, 3}...), func(r *domain.RuleSet) {
				r.Protest = rapid.SampledFrom([]domain.ProtestRule{{}, {Until: "before trophies"}, {Minutes: 1}}).Draw(t, "protest")
				r.Weight = domain.WeightRule{Limit: weight(t, "2500 kg"), When: domain.WeighTime(rapid.IntRange(1, 4).Draw(t, "weigh")), Tries: 2, Over: domain.OverDisqualified}
				r.DropPlaces = rapid.IntRange(0, 2).Draw(t, "drop")
				anyRules(t, r)
			})
		m.step(t, domain.PlanClass{Class: m.id(), Name: "Anything", Rules: rules, Kind: rapid.SampledFrom(append(rules.Kinds(), "")).Draw(t, "kind"), Sled: domain.Sled{Gears: 5, StartHoles: 4}})
		for i := range rapid.IntRange(1, 4).Draw(t, "entries") {
			m.step(t, domain.AddEntry{Entry: m.id(), Number: fmt.Sprint(i + 1), Details: domain.Details{Puller: "P"}})
		}
		m.step(t, domain.DrawClass{Round: m.id(), Seed: "dice"})
		for range rapid.IntRange(0, 60).Draw(t, "steps") {
			m.step(t, m.act(t))
			m.invariants(t)
		}
		var replayed domain.Class
		for _, a := range m.actions {
			var err error
			replayed, err = domain.Decide(replayed, a.action, a.at)
			require.NoError(t, err)
		}
		require.Equal(t, m.class, replayed)
	})
}
