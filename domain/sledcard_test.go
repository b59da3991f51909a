package domain_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// feet and pounds read what must be right.
func feet(t testing.TB, s string) domain.Distance {
	t.Helper()
	d, err := domain.ParseDistance(s, domain.Foot)
	require.NoError(t, err)
	return d
}

func pounds(t testing.TB, s string) domain.Weight {
	t.Helper()
	w, err := domain.ParseWeight(s)
	require.NoError(t, err)
	return w
}

// refusedAt says at which field an error stands.
func refusedAt(err error) string {
	if e, ok := errors.AsType[*domain.Error](err); ok {
		return e.Field
	}
	return ""
}

func TestADescriptionThatContradicts(t *testing.T) {
	t.Parallel()
	for what, c := range map[string]struct {
		change func(*domain.Sled)
		field  string
	}{
		"nothing but gears and holes is known": {func(*domain.Sled) {}, ""},
		"no name":                              {func(s *domain.Sled) { s.Name = " " }, "name"},
		"no gears":                             {func(s *domain.Sled) { s.Gears = 0 }, "gears"},
		"21 start holes":                       {func(s *domain.Sled) { s.StartHoles = 21 }, "start_holes"},
		"a hole too few":                       {func(s *domain.Sled) { s.Card.Holes = []domain.Distance{feet(t, "0")} }, "holes"},
		"a measured gear too few":              {func(s *domain.Sled) { s.Card.Advance = []float64{0.08} }, "advance"},
		"a ratio too many":                     {func(s *domain.Sled) { s.Card.Drive.Gears = make([]float64, 6) }, "drive.gears"},
		"a box that starts on both sides":      {func(s *domain.Sled) { s.Card.BoxStart, s.Card.BoxBehind = feet(t, "1"), feet(t, "1") }, "box_behind"},
		"a box that stops where it starts":     {func(s *domain.Sled) { s.Card.BoxStart, s.Card.BoxStop = feet(t, "12"), feet(t, "12") }, "box_stop"},
		"a switch that nobody knows":           {func(s *domain.Sled) { s.Card.Red = []string{"pan", "horn"} }, "light.red[1]"},
		"a device without a name":              {func(s *domain.Sled) { s.Card.Devices = []string{""} }, "devices[0]"},
		"every switch there is":                {func(s *domain.Sled) { s.Card.Red = domain.RedSwitches() }, ""},
	} {
		sled := domain.Sled{Name: "Grey sled", Gears: 5, StartHoles: 4}
		c.change(&sled)
		err := sled.Check()
		assert.Equal(t, c.field, refusedAt(err), what)
		assert.Equal(t, c.field == "", err == nil, what)
	}
}

// A club that knows only gears and holes is told what the estimate needs; one that measured the advance needs no
// driveline.
func TestWhatTheEstimateLacks(t *testing.T) {
	t.Parallel()
	sled := domain.Sled{Name: "Grey sled", Gears: 2, StartHoles: 2}
	assert.Equal(t, []string{"wheelbase", "frame_weight", "frame_center", "pan_weight", "box_stop", "holes", "advance"}, sled.Missing())
	sled.StartHoles = 1
	assert.NotContains(t, sled.Missing(), "holes", "the only hole is where the box starts")
	sled.Card = domain.SledCard{Wheelbase: feet(t, "24"), Frame: pounds(t, "16000 lb"), FrameCenter: feet(t, "0"), Pan: pounds(t, "1300 kg"), BoxStop: feet(t, "22")}
	assert.Equal(t, []string{"advance"}, sled.Missing(), "a frame may balance over the axle")
	measured := sled
	measured.Card.Advance = []float64{0.08, 0.09}
	assert.Empty(t, measured.Missing())
	sled.Card.Drive = domain.Driveline{TurnsPerMile: 510, AxleRatio: 4.1, Teeth: 11, Chain: 120, Gears: []float64{0.6, 0.7}}
	assert.Empty(t, sled.Missing())
	sled.Card.Drive.Chain = 0
	assert.Equal(t, []string{"advance"}, sled.Missing())
}

// A setting is refused where the box has no room for it, as far as the description knows.
func TestASettingHasRoomInTheBox(t *testing.T) {
	t.Parallel()
	room := domain.SlabRoom{Kinds: []domain.SlabKind{{Weight: pounds(t, "2000 lb"), Count: 8}, {Weight: pounds(t, "1000 lb"), Count: 2}}, Left: 5, Middle: 1, Right: 5, Most: pounds(t, "18,000 lb")}
	for what, c := range map[string]struct {
		slabs domain.Slabs
		box   string
		room  domain.SlabRoom
		field string
	}{
		"as many as there are":      {domain.Slabs{Left: 5, Right: 5}, "18000 lb", room, ""},
		"too many on the left":      {domain.Slabs{Left: 6}, "12000 lb", room, "slabs.left"},
		"too many in the middle":    {domain.Slabs{Middle: 2}, "4000 lb", room, "slabs.middle"},
		"too many on the right":     {domain.Slabs{Right: 6}, "12000 lb", room, "slabs.right"},
		"more than there are":       {domain.Slabs{Left: 5, Middle: 1, Right: 5}, "18000 lb", room, "slabs"},
		"heavier than the box":      {domain.Slabs{Left: 5, Right: 5}, "18000.5 lb", room, "box"},
		"heavier, in kilograms":     {domain.Slabs{Left: 5, Right: 5}, "8165 kg", room, "box"},
		"lighter, in kilograms":     {domain.Slabs{Left: 5, Right: 5}, "8164 kg", room, ""},
		"nothing is known of a box": {domain.Slabs{Left: 60, Middle: 40, Right: 60}, "90000 lb", domain.SlabRoom{}, ""},
	} {
		setting := domain.Setting{Box: pounds(t, c.box), Slabs: c.slabs, Gear: 1, StartHole: 1, Trip: feet(t, "190")}
		err := setting.Check(domain.Sled{Gears: 1, StartHoles: 1, Card: domain.SledCard{Slabs: c.room}})
		assert.Equal(t, c.field, refusedAt(err), what)
		assert.Equal(t, c.field == "", err == nil, what)
	}
}

// pulled is an event with two sessions, two tracks and a sled, of which the first are in use.
func pulled() (e domain.Event, used domain.InUse) {
	e = domain.Event{
		Sessions: []domain.Session{{ID: uuid.UUID{1}, Name: "Evening"}, {ID: uuid.UUID{2}, Name: "Night"}},
		Tracks:   []domain.Track{{ID: uuid.UUID{3}, Name: "Lower"}, {ID: uuid.UUID{4}, Name: "Upper"}},
		Sleds:    []domain.Sled{{ID: uuid.UUID{5}, Name: "Grey sled", Gears: 5, StartHoles: 4}},
	}
	e.Order = []uuid.UUID{{6}, {7}, {8}}
	return e, domain.InUse{uuid.UUID{1}: 2, uuid.UUID{3}: 1}
}

func TestTheProgrammeChangesAfterPlanning(t *testing.T) {
	t.Parallel()
	id := uuid.UUID{9}
	evening := time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC)
	blue := domain.Sled{ID: id, Name: "Blue sled", Gears: 3, StartHoles: 2}
	again := domain.Sled{ID: uuid.UUID{5}, Name: "Grey sled", Gears: 6, StartHoles: 4}
	for what, c := range map[string]struct {
		action domain.EventAction
		kind   domain.Kind
		field  string
	}{
		"a session":                           {domain.AddSession{Session: id, Name: "Sunday"}, 0, ""},
		"a session without a name":            {domain.AddSession{Session: id}, domain.Invalid, "name"},
		"a session by a taken id":             {domain.AddSession{Session: uuid.UUID{1}, Name: "Sunday"}, domain.Invalid, "id"},
		"two sessions of one name, which may": {domain.AddSession{Session: id, Name: "Night"}, 0, ""},
		"another name for a session":          {domain.ChangeSession{Session: uuid.UUID{1}, Name: "Late"}, 0, ""},
		"no name for a session":               {domain.ChangeSession{Session: uuid.UUID{1}, Name: " "}, domain.Invalid, "name"},
		"a name for no session":               {domain.ChangeSession{Session: id, Name: "Late"}, domain.NotFound, ""},
		"a session with a curfew":             {domain.AddSession{Session: id, Name: "Sunday", Starts: evening, Curfew: evening.Add(5 * time.Hour)}, 0, ""},
		"a curfew before the start":           {domain.AddSession{Session: id, Name: "Sunday", Starts: evening, Curfew: evening}, domain.Invalid, "curfew"},
		"a curfew for a session":              {domain.ChangeSession{Session: uuid.UUID{1}, Name: "Evening", Starts: evening, Curfew: evening.Add(time.Hour)}, 0, ""},
		"a curfew on the next day":            {domain.ChangeSession{Session: uuid.UUID{1}, Name: "Evening", Starts: evening, Curfew: evening.Add(24 * time.Hour)}, domain.Invalid, "curfew"},
		"an empty session goes":               {domain.RemoveSession{Session: uuid.UUID{2}}, 0, ""},
		"a session with classes stays":        {domain.RemoveSession{Session: uuid.UUID{1}}, domain.WrongState, ""},
		"no session goes":                     {domain.RemoveSession{Session: id}, domain.NotFound, ""},
		"a track":                             {domain.AddTrack{Track: id, Name: "Third"}, 0, ""},
		"a track by a taken name":             {domain.AddTrack{Track: id, Name: "Upper"}, domain.Invalid, "name"},
		"a track by a taken id":               {domain.AddTrack{Track: uuid.UUID{3}, Name: "Third"}, domain.Invalid, "id"},
		"a track without a name":              {domain.AddTrack{Track: id}, domain.Invalid, "name"},
		"a track is renamed":                  {domain.RenameTrack{Track: uuid.UUID{3}, Name: "Grandstand"}, 0, ""},
		"a track is renamed to another's":     {domain.RenameTrack{Track: uuid.UUID{3}, Name: "Upper"}, domain.Invalid, "name"},
		"a track without a name by now":       {domain.RenameTrack{Track: uuid.UUID{3}}, domain.Invalid, "name"},
		"no track is renamed":                 {domain.RenameTrack{Track: id, Name: "X"}, domain.NotFound, ""},
		"an empty track goes":                 {domain.RemoveTrack{Track: uuid.UUID{4}}, 0, ""},
		"a track with a class stays":          {domain.RemoveTrack{Track: uuid.UUID{3}}, domain.WrongState, ""},
		"no track goes":                       {domain.RemoveTrack{Track: id}, domain.NotFound, ""},
		"a sled":                              {domain.AddSled{Sled: blue}, 0, ""},
		"a sled by a taken name":              {domain.AddSled{Sled: domain.Sled{ID: id, Name: "Grey sled", Gears: 1, StartHoles: 1}}, domain.Invalid, "name"},
		"a sled by a taken id":                {domain.AddSled{Sled: domain.Sled{ID: uuid.UUID{5}, Name: "X", Gears: 1, StartHoles: 1}}, domain.Invalid, "id"},
		"a sled that cannot be":               {domain.AddSled{Sled: domain.Sled{ID: id, Name: "X"}}, domain.Invalid, "gears"},
		"a sled is described anew":            {domain.DescribeSled{Sled: again, Version: 1}, 0, ""},
		"over a version that was not seen":    {domain.DescribeSled{Sled: again, Version: 2}, domain.Stale, "description"},
		"another order":                       {domain.OrderClasses{Classes: []uuid.UUID{{8}, {6}, {7}}}, 0, ""},
		"an order without a class":            {domain.OrderClasses{Classes: []uuid.UUID{{8}, {6}}}, domain.Stale, "classes"},
		"an order with a class twice":         {domain.OrderClasses{Classes: []uuid.UUID{{8}, {6}, {6}}}, domain.Stale, "classes"},
		"an order with a class of another":    {domain.OrderClasses{Classes: []uuid.UUID{{8}, {6}, {9}}}, domain.Stale, "classes"},
		"no sled is described":                {domain.DescribeSled{Sled: blue, Version: 1}, domain.NotFound, ""},
	} {
		e, used := pulled()
		before, _ := pulled()
		after, err := domain.DecideEvent(e, c.action, used, looked)
		assert.Equal(t, before, e, "%s: the event itself is not changed", what)
		assert.NotEmpty(t, domain.KindOfEventAction(c.action).Name, what)
		if c.kind == 0 {
			require.NoError(t, err, what)
			assert.NotEqual(t, before, after, what)
			continue
		}
		assert.Equal(t, c.kind, domain.KindOf(err), "%s: %v", what, err)
		assert.Equal(t, c.field, refusedAt(err), what)
		assert.Equal(t, before, after, "%s: what is refused changes nothing", what)
	}
}

// The last session and the last track stay: an event without one could not be pulled.
func TestTheLastOfAKindStays(t *testing.T) {
	t.Parallel()
	e, _ := pulled()
	e.Sessions, e.Tracks = e.Sessions[:1], e.Tracks[:1]
	for _, a := range []domain.EventAction{domain.RemoveSession{Session: uuid.UUID{1}}, domain.RemoveTrack{Track: uuid.UUID{3}}} {
		_, err := domain.DecideEvent(e, a, domain.InUse{}, looked)
		assert.Equal(t, domain.WrongState, domain.KindOf(err), "%v", err)
	}
	for range 60 {
		e.Sessions = append(e.Sessions, domain.Session{ID: uuid.New(), Name: "S"})
	}
	_, err := domain.DecideEvent(e, domain.AddSession{Session: uuid.New(), Name: "One more"}, nil, looked)
	assert.Equal(t, "sessions", refusedAt(err))
}

func TestDescriptionsAreCounted(t *testing.T) {
	t.Parallel()
	e, used := pulled()
	for version := 1; version <= 3; version++ {
		require.Equal(t, version, e.Sleds[0].Version())
		var err error
		e, err = domain.DecideEvent(e, domain.DescribeSled{Sled: domain.Sled{ID: uuid.UUID{5}, Name: "Grey sled", Gears: version, StartHoles: 4, Changes: 77}, Version: version}, used, looked)
		require.NoError(t, err)
		require.Equal(t, version, e.Sleds[0].Gears)
	}
}

// A class moves until its first hook was called: then people stand where the programme sent them.
func TestAClassMovesUntilSomebodyIsCalled(t *testing.T) {
	t.Parallel()
	at := domain.Class{ID: uuid.UUID{1}, Name: "Farm stock", Session: uuid.UUID{1}, Track: uuid.UUID{3}}
	move := domain.MoveClass{Session: uuid.UUID{2}, Track: uuid.UUID{4}}
	moved, err := domain.Decide(at, move, at.Draw.Drawn)
	require.NoError(t, err)
	require.Equal(t, []uuid.UUID{{2}, {4}}, []uuid.UUID{moved.Session, moved.Track})
	require.True(t, moved.Movable())
	at.Rounds = []domain.Round{{Hooks: []domain.Hook{{ID: uuid.UUID{8}}}}}
	require.False(t, at.Movable())
	_, err = domain.Decide(at, move, at.Draw.Drawn)
	require.Equal(t, domain.WrongState, domain.KindOf(err))
}
