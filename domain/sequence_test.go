package domain_test

import (
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/sequence"
)

// fairDay is an event of two sessions, given the later one first, with three classes in the earlier: the first has begun,
// the last has a driver of it. Their settings lie 2 slabs and a gear apart; that of the second is not written.
func fairDay() (domain.Event, []domain.Class) {
	starts := time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC)
	e := domain.Event{
		Zone:     "America/Chicago",
		Sessions: []domain.Session{{ID: uuid.UUID{2}, Name: "Night", Starts: starts.Add(4 * time.Hour)}, {ID: uuid.UUID{1}, Name: "Evening", Starts: starts}},
		Tracks:   []domain.Track{{ID: uuid.UUID{3}, Name: "Lower"}, {ID: uuid.UUID{4}, Name: "Upper"}},
	}
	sled := domain.Sled{ID: uuid.UUID{5}}
	round := func(slabs, gear int) []domain.Round {
		return []domain.Round{{ID: uuid.UUID{6}, Revisions: []domain.Revision{{Number: 1, Setting: domain.Setting{Slabs: domain.Slabs{Left: slabs, Right: slabs}, Gear: gear, StartHole: 1}}}}}
	}
	classes := []domain.Class{
		{ID: uuid.UUID{11}, Name: "Antique", Session: uuid.UUID{1}, Track: uuid.UUID{3}, Sled: sled, Rules: domain.RuleSet{Rounds: 1, Capped: true}, Rounds: round(4, 2),
			Entries: []domain.Entry{{Details: domain.Details{Puller: "Maud Farrow", Vehicle: "Brindle Ox", Home: "Wrenfield"}}, {Details: domain.Details{Puller: "Tom Okafor"}}}},
		{ID: uuid.UUID{12}, Name: "Open", Session: uuid.UUID{1}, Track: uuid.UUID{3}, Sled: sled, Rules: domain.RuleSet{Rounds: 2},
			Entries: []domain.Entry{{Details: domain.Details{Puller: "tom  okafor"}, Scratched: "broke"}, {Details: domain.Details{Vehicle: "Brindle Ox", Home: "Sallow Creek"}}}},
		{ID: uuid.UUID{13}, Name: "Farm stock", Session: uuid.UUID{1}, Track: uuid.UUID{3}, Sled: sled, Rules: domain.RuleSet{Rounds: 1}, Rounds: round(3, 3),
			Entries: []domain.Entry{{Details: domain.Details{Puller: " maud farrow", Vehicle: "brindle ox", Home: "Wrenfield"}}}},
	}
	classes[0].Rounds[0].Hooks = []domain.Hook{{ID: uuid.UUID{7}}}
	return e, classes
}

func TestTheProgrammeAsAQuestion(t *testing.T) {
	t.Parallel()
	e, classes := fairDay()
	starts := e.Sessions[1].Starts
	w := domain.Wishes{
		Work: domain.UsualWork(), Curfews: map[uuid.UUID]time.Time{{1}: starts.Add(3 * time.Hour)},
		Breaks:  map[uuid.UUID][]domain.Pause{{1}: {{From: starts.Add(time.Hour), Minutes: 20}}},
		Classes: map[uuid.UUID]domain.ClassWish{{12}: {Place: 2, Starts: starts.Add(2 * time.Hour)}, {11}: {Place: 3}},
	}
	s, err := domain.SequenceOf(e, classes, w)
	require.NoError(t, err)
	assert.Equal(t, "Evening", s.Sessions[0].Name, "by their start")
	assert.Equal(t, 27*time.Hour, s.Problem.Sessions[0].Curfew)
	assert.Equal(t, 25*time.Hour, s.Problem.Sessions[0].Breaks[0].From)
	assert.Equal(t, 4*5*time.Minute, s.Classes[0].Length, "two entries, and two hooks of a pull-off")
	assert.Equal(t, 2*5*time.Minute, s.Classes[1].Length, "one entry that stands, in two rounds")
	assert.Equal(t, 1, s.Classes[0].Place, "a class that has begun stays in front")
	assert.Equal(t, 2, s.Classes[1].Place)
	assert.Equal(t, 26*time.Hour, s.Classes[1].Fixed)
	assert.Equal(t, []int{0}, s.Classes[2].Sessions)
	order, err := s.Propose()
	require.NoError(t, err)
	assert.Equal(t, classes[0].ID.String(), order.Turns[0].Class)
	assert.Equal(t, classes[1].ID.String(), order.Turns[1].Class)
}

// A session has its own curfew unless another is asked for, or none.
func TestACurfewIsThatOfItsSession(t *testing.T) {
	t.Parallel()
	e, classes := fairDay()
	e.Sessions[1].Curfew = e.Sessions[1].Starts.Add(2 * time.Hour)
	for want, asked := range map[time.Duration]map[uuid.UUID]time.Time{
		26 * time.Hour: nil, 27 * time.Hour: {{1}: e.Sessions[1].Starts.Add(3 * time.Hour)}, 0: {{1}: {}},
	} {
		s, err := domain.SequenceOf(e, classes, domain.Wishes{Work: domain.UsualWork(), Curfews: asked})
		require.NoError(t, err)
		assert.Equal(t, want, s.Problem.Sessions[0].Curfew)
	}
}

// A driver with two vehicles, or a vehicle with two drivers, is in two classes; a vehicle of the same name from another
// place is another, and who was scratched is in none.
func TestWhoIsInTwoClasses(t *testing.T) {
	t.Parallel()
	_, c := fairDay()
	assert.Equal(t, []string{"Brindle Ox", "Maud Farrow"}, c[0].Both(&c[2]))
	assert.Empty(t, c[0].Both(&c[1]))
	assert.Empty(t, c[1].Both(&c[2]))
}

func TestTheWorkBetweenTwoClasses(t *testing.T) {
	t.Parallel()
	_, c := fairDay()
	w := domain.UsualWork()
	change, words := w.Change(&c[0], &c[2])
	assert.Equal(t, "2 slabs out, gear 2 to 3", words)
	assert.Equal(t, 2*w.Slab+w.Gear, change.Box)
	assert.Equal(t, w.Track, change.Track)
	change, words = w.Change(&c[0], &c[1])
	assert.Equal(t, "the setting of Open is not written yet", words)
	assert.Equal(t, w.Unknown, change.Box)
	_, words = w.Change(&c[1], &c[0])
	assert.Equal(t, "the setting of Open is not written yet", words)
	setting := &c[2].Rounds[0].Revisions[0].Setting
	setting.Slabs, setting.Gear, setting.StartHole = domain.Slabs{Left: 3, Middle: 1, Right: 6}, 2, 2
	change, words = w.Change(&c[0], &c[2])
	assert.Equal(t, "1 slab out and 3 in, start hole 1 to 2", words)
	assert.Equal(t, 4*w.Slab+w.Hole, change.Box)
	setting.Slabs, setting.StartHole = domain.Slabs{Left: 4, Middle: 1, Right: 4}, 1
	_, words = w.Change(&c[0], &c[2])
	assert.Equal(t, "1 slab in", words)
	setting.Slabs.Middle = 0
	change, words = w.Change(&c[0], &c[2])
	assert.Equal(t, "the box stays as it is", words)
	assert.Zero(t, change.Box)
	c[2].Sled.ID = uuid.UUID{99}
	change, words = w.Change(&c[0], &c[2])
	assert.Equal(t, "another sled", words)
	assert.Equal(t, w.Unknown, change.Box)
}

func TestWhatCannotBeAskedOfAProgramme(t *testing.T) {
	t.Parallel()
	e, classes := fairDay()
	starts := e.Sessions[1].Starts
	for says, w := range map[string]domain.Wishes{
		"in session Evening: the curfew is before the session starts":          {Work: domain.UsualWork(), Curfews: map[uuid.UUID]time.Time{{1}: starts.Add(-time.Hour)}},
		"in session Night: the break has no length":                            {Work: domain.UsualWork(), Breaks: map[uuid.UUID][]domain.Pause{{2}: {{From: starts.Add(5 * time.Hour)}}}},
		"a place or a start is asked for a class that the event does not have": {Work: domain.UsualWork(), Classes: map[uuid.UUID]domain.ClassWish{{99}: {Place: 1}}},
		"of class Open: the place is below 1":                                  {Work: domain.UsualWork(), Classes: map[uuid.UUID]domain.ClassWish{{12}: {Place: -1}}},
		"of class Antique: the class takes no time":                            {},
	} {
		_, err := domain.SequenceOf(e, classes, w)
		assert.ErrorContains(t, err, says)
		assert.Equal(t, domain.Invalid, domain.KindOf(err))
	}
	_, err := domain.SequenceOf(domain.Event{}, nil, domain.Wishes{})
	assert.ErrorContains(t, err, "no session")
	e.Sessions = e.Sessions[1:]
	none, err := domain.SequenceOf(e, []domain.Class{{Name: "New", Session: uuid.UUID{1}, Track: uuid.UUID{3}, Rules: domain.RuleSet{Rounds: 1}}}, domain.Wishes{Work: domain.UsualWork()})
	require.NoError(t, err)
	assert.Equal(t, 50*time.Minute, none.Classes[0].Length, "without entries, ten are taken")
}

// The breaks of a session are kept by its order; others in their place, or none, are asked for.
func TestTheBreaksAreThoseOfTheSession(t *testing.T) {
	t.Parallel()
	e, classes := fairDay()
	own := domain.Pause{From: e.Sessions[1].Starts.Add(time.Hour), Minutes: 20}
	e.Sessions[1].Breaks = []domain.Pause{own}
	for _, c := range []struct {
		asked map[uuid.UUID][]domain.Pause
		want  []sequence.Break
	}{
		{nil, []sequence.Break{{From: 25 * time.Hour, Length: 20 * time.Minute}}},
		{map[uuid.UUID][]domain.Pause{{1}: nil}, nil},
		{map[uuid.UUID][]domain.Pause{{1}: {{From: own.From.Add(time.Hour), Minutes: 5}}}, []sequence.Break{{From: 26 * time.Hour, Length: 5 * time.Minute}}},
	} {
		s, err := domain.SequenceOf(e, classes, domain.Wishes{Work: domain.UsualWork(), Breaks: c.asked})
		require.NoError(t, err)
		assert.Equal(t, c.want, s.Problem.Sessions[0].Breaks)
	}
}

// A fixed start is waited for unless another is asked for, or none; moved to another session, a class leaves it behind.
func TestAFixedStartIsThatOfItsClass(t *testing.T) {
	t.Parallel()
	e, classes := fairDay()
	starts := e.Sessions[1].Starts
	var err error
	classes[1], err = domain.Decide(classes[1], domain.FixStart{Starts: starts.Add(2 * time.Hour)}, starts)
	require.NoError(t, err)
	for _, c := range []struct {
		asked map[uuid.UUID]domain.ClassWish
		want  time.Duration
	}{
		{nil, 26 * time.Hour},
		{map[uuid.UUID]domain.ClassWish{{12}: {Starts: starts.Add(3 * time.Hour)}}, 27 * time.Hour},
		{map[uuid.UUID]domain.ClassWish{{12}: {}}, 0},
	} {
		s, err := domain.SequenceOf(e, classes, domain.Wishes{Work: domain.UsualWork(), Classes: c.asked})
		require.NoError(t, err)
		assert.Equal(t, c.want, s.Classes[1].Fixed)
	}
	for session, want := range map[uuid.UUID]time.Time{{1}: starts.Add(2 * time.Hour), {2}: {}} {
		moved, err := domain.Decide(classes[1], domain.MoveClass{Session: session, Track: uuid.UUID{4}}, starts)
		require.NoError(t, err)
		assert.Equal(t, want, moved.Fixed)
	}
	free, err := domain.Decide(classes[1], domain.FixStart{}, starts)
	require.NoError(t, err)
	assert.Zero(t, free.Fixed)
	_, err = domain.Decide(classes[0], domain.FixStart{Starts: starts}, starts)
	assert.Equal(t, domain.WrongState, domain.KindOf(err), "its first hook was called")
}
