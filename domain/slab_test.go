package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// described is a sled with slabs of two weights, figures of our own.
func described(t testing.TB) domain.Sled {
	return domain.Sled{Name: "Grey sled", Gears: 5, StartHoles: 4, Card: domain.SledCard{
		Box: pounds(t, "1500 lb"),
		Slabs: domain.SlabRoom{
			Kinds: []domain.SlabKind{{Weight: pounds(t, "1800 lb"), Count: 12}, {Weight: pounds(t, "900 lb"), Count: 4}},
			Left:  8, Middle: 2, Right: 8, Most: pounds(t, "25200 lb"),
		},
	}}
}

// laid is a setting whose slabs are written as people read them; box is "" where it is to be computed.
func laid(t testing.TB, piles, box string) domain.Setting {
	p, err := domain.ParsePiles(piles)
	require.NoError(t, err)
	return domain.Setting{Box: pounds(t, box), Piles: p, Gear: 3, StartHole: 2, Trip: feet(t, "190")}
}

// The capacity of a box adds up over its places (common practice, no published source; figures of our own).
func TestWhatTheBoxWeighsIsTheSumOfItsSlabs(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		piles, typed, box string
		slabs             domain.Slabs
	}{
		{"1800 lb: 6 left, 6 right", "", "21,600 lb", domain.Slabs{Left: 6, Right: 6}},
		{"1800 lb: 5 left, 1 middle, 6 right; 900 lb: 2 left", "", "23,400 lb", domain.Slabs{Left: 7, Middle: 1, Right: 6}},
		{"900 lb: 1 middle", "", "900 lb", domain.Slabs{Middle: 1}},
		{"900.0 lb: 1 middle", "", "900.0 lb", domain.Slabs{Middle: 1}},
		{"900 lb: 1 middle", "900.00 lb", "900.00 lb", domain.Slabs{Middle: 1}},
	} {
		s, err := laid(t, row.piles, row.typed).On(described(t))
		require.NoError(t, err, row.piles)
		assert.Equal(t, row.box, s.Box.String(), row.piles)
		assert.Equal(t, row.slabs, s.Slabs, row.piles)
		require.NoError(t, s.Check(described(t)), row.piles)
		again, err := s.On(described(t))
		require.NoError(t, err)
		assert.Equal(t, s, again, "what is filled in stays")
	}
}

func TestSlabsThatTheSledDoesNotHaveAreRefused(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ what, piles, box, field, says string }{
		{"another box", "1800 lb: 6 left", "9000 lb", "box", "9,000 lb is not what the slabs weigh: 10,800 lb"},
		{"the empty box counted in", "1800 lb: 6 left", "12300 lb", "box", "not what the slabs weigh"},
		{"a weight there is not", "1700 lb: 6 left", "", "slabs", "no slabs of 1,700 lb"},
		{"more than there are", "900 lb: 3 left, 2 right", "", "slabs", "this sled has 4 slabs of 900 lb, and 5 lie in the box"},
		{"more than a side has room for", "1800 lb: 5 left; 900 lb: 4 left", "", "slabs.left", "room for 8 slabs on the left"},
		{"more than the middle has room for", "1800 lb: 3 middle", "", "slabs.middle", "room for 2 slabs in the middle"},
		{"more than the right has room for", "1800 lb: 9 right", "", "slabs.right", "room for 8 slabs on the right"},
		{"no more than there are and find room", "1800 lb: 6 left, 6 right; 900 lb: 2 left, 2 right", "25200 lb", "", ""},
	} {
		s, err := laid(t, row.piles, row.box).On(described(t))
		if err == nil {
			err = s.Check(described(t))
		}
		assert.Equal(t, row.field, refusedAt(err), row.what)
		if row.says != "" {
			require.ErrorContains(t, err, row.says, row.what)
		}
	}
	light := described(t)
	light.Card.Slabs.Most = pounds(t, "21599 lb")
	s, err := laid(t, "1800 lb: 6 left, 6 right", "").On(light)
	require.NoError(t, err)
	require.ErrorContains(t, s.Check(light), "this box takes 21,599 lb at most")
	assert.Equal(t, "box", refusedAt(s.Check(light)))
}

// A box with room for 6, 2 and 6 slabs of 1,800 lb takes 14 of them, 25,200 lb, and not one more anywhere (common
// practice, no published source; figures of our own).
func TestCapacityAddsUpOverThePlaces(t *testing.T) {
	t.Parallel()
	sled := domain.Sled{Gears: 5, StartHoles: 4, Card: domain.SledCard{Slabs: domain.SlabRoom{
		Kinds: []domain.SlabKind{{Weight: pounds(t, "1800 lb"), Count: 20}}, Left: 6, Middle: 2, Right: 6, Most: pounds(t, "25200 lb"),
	}}}
	full, err := laid(t, "1800 lb: 6 left, 2 middle, 6 right", "").On(sled)
	require.NoError(t, err)
	assert.Equal(t, "25,200 lb", full.Box.String())
	require.NoError(t, full.Check(sled))
	for field, piles := range map[string]string{
		"slabs.left": "1800 lb: 7 left, 2 middle, 5 right", "slabs.middle": "1800 lb: 6 left, 3 middle, 5 right", "slabs.right": "1800 lb: 5 left, 2 middle, 7 right",
	} {
		over, err := laid(t, piles, "25200 lb").On(sled)
		require.NoError(t, err, "as heavy as the box takes")
		assert.Equal(t, field, refusedAt(over.Check(sled)), "and one place too full")
	}
}

func TestCountsWithoutAWeight(t *testing.T) {
	t.Parallel()
	counted := domain.Setting{Slabs: domain.Slabs{Left: 6, Right: 6}, Gear: 3, StartHole: 2, Trip: feet(t, "190")}
	_, err := counted.On(described(t))
	require.ErrorContains(t, err, "more than one weight", "which of the two they are, nobody said")

	one := described(t)
	one.Card.Slabs.Kinds = one.Card.Slabs.Kinds[:1]
	s, err := counted.On(one)
	require.NoError(t, err)
	assert.Equal(t, "1,800 lb: 6 left, 6 right", s.Piles.String(), "the only weight there is")
	assert.Equal(t, "21,600 lb", s.Box.String())

	unknown := domain.Sled{Gears: 5, StartHoles: 4}
	counted.Box = pounds(t, "20000 lb")
	s, err = counted.On(unknown)
	require.NoError(t, err)
	assert.Equal(t, counted, s, "whoever described no slabs types the weight")
	_, err = laid(t, "1800 lb: 1 left", "").On(unknown)
	require.ErrorContains(t, err, "describe its slabs")

	bare := counted
	bare.Slabs = domain.Slabs{}
	s, err = bare.On(described(t))
	require.NoError(t, err)
	assert.Equal(t, bare, s, "a weight alone stands as it was typed")

	wrong := laid(t, "1800 lb: 6 left", "")
	wrong.Slabs = domain.Slabs{Left: 5}
	_, err = wrong.On(described(t))
	require.ErrorContains(t, err, "not as many as there are of each weight")
	counted.Slabs.Left = -1
	_, err = counted.On(one)
	require.ErrorContains(t, err, "count them from 0")
}

func TestSlabsInTwoUnitsAreNotAddedUp(t *testing.T) {
	t.Parallel()
	sled := described(t)
	sled.Card.Slabs.Kinds[1].Weight = pounds(t, "400 kg")
	_, err := laid(t, "1800 lb: 1 left; 400 kg: 1 right", "").On(sled)
	require.ErrorContains(t, err, "in pounds and in kilograms")
	_, err = laid(t, "400 kg: 1 right", "").On(sled)
	require.NoError(t, err)
	sled.Card.Slabs.Kinds[0] = domain.SlabKind{Weight: pounds(t, "9,999,999 lb"), Count: 200}
	_, err = laid(t, "9,999,999 lb: 2 left", "").On(sled)
	require.ErrorContains(t, err, "more than any box holds")
}

func TestADraftIsWrittenWithWhatItsSlabsWeigh(t *testing.T) {
	t.Parallel()
	s := drawn(t, set(t, "capped-300ft"), "41")
	s.class.Sled = described(t)
	round := s.class.Current().ID
	s.refuse(domain.DraftSetting{Round: round, Setting: laid(t, "1800 lb: 6 left", "1 lb")}, domain.Invalid, "not what the slabs weigh")
	s.do(domain.DraftSetting{Round: round, Setting: laid(t, "1800 lb: 6 left, 5 right; 900 lb: 2 right", "")})
	written := s.class.Current().Revisions[0].Setting
	assert.Equal(t, "21,600 lb", written.Box.String())
	assert.Equal(t, domain.Slabs{Left: 6, Right: 7}, written.Slabs)
	s.do(domain.FreezeSetting{Round: round, Revision: 1})
	s.refuse(domain.DraftSetting{Round: round, Setting: laid(t, "1800 lb: 6 left, 6 right", "")}, domain.WrongState, "is frozen")
	s.do(domain.ResetSetting{Round: round, Reason: "too light"})
	assert.Equal(t, written, s.class.Current().Revisions[1].Setting, "a reset begins with the slabs as they lay")
}

func TestTheBoxIsLaidOutPlaceByPlace(t *testing.T) {
	t.Parallel()
	s, err := laid(t, "1800 lb: 6 left, 5 right; 900 lb: 1 middle, 1 right", "").On(described(t))
	require.NoError(t, err)
	l := s.Load(described(t).Card)
	var says []string
	for _, p := range l.Places {
		says = append(says, p.Name+" "+p.Count()+" "+p.Weight.String())
	}
	assert.Equal(t, []string{"left 6 of 8 slabs 10,800 lb", "middle 1 of 2 slabs 900 lb", "right 6 of 8 slabs 9,900 lb"}, says)
	assert.Equal(t, []domain.Layer{{Weight: pounds(t, "1800 lb"), Count: 5}, {Weight: pounds(t, "900 lb"), Count: 1}}, l.Places[2].Layers)
	assert.Equal(t, []string{"21,600 lb", "23,100 lb", "25,200 lb"}, []string{l.Weight.String(), l.WithBox.String(), l.Most.String()})
	heavier, by, n := l.Balance()
	assert.Equal(t, "left", heavier)
	assert.Equal(t, "900 lb", by.String())
	assert.Zero(t, n)

	for _, row := range []struct {
		slabs   domain.Slabs
		heavier string
		n       int
	}{{domain.Slabs{Left: 4, Right: 4}, "", 0}, {domain.Slabs{Left: 3, Right: 4}, "right", 1}, {domain.Slabs{Left: 6, Right: 4}, "left", 2}} {
		l := domain.Setting{Box: pounds(t, "9000 kg"), Slabs: row.slabs}.Load(described(t).Card)
		heavier, by, n := l.Balance()
		assert.Equal(t, row.heavier, heavier)
		assert.Equal(t, row.n, n)
		assert.True(t, by.IsZero(), "nobody said what they weigh")
		assert.True(t, l.WithBox.IsZero(), "kilograms and pounds are not added up")
	}
	assert.Equal(t, []string{"1 slab", "2 slabs"}, []string{domain.PlaceLoad{Slabs: 1}.Count(), domain.PlaceLoad{Slabs: 2}.Count()})
}

func TestPilesThatCannotBeAreRefused(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"1800 lb", "1800 lb: 6 front", "1800 lb: six left", "1800 lb: 6 left, 6 left", "1800: 6 left", ": 6 left", "1800 lb: -6 left",
		"1800 lb: 201 left", "1800 lb: 150 left; 900 lb: 150 left", "1800 lb: 1 left; 1800.0 lb: 1 right", "816.466266 kg: 1 left"} {
		_, err := domain.ParsePiles(text)
		assert.Equal(t, "slabs", refusedAt(err), text)
	}
}

// A pile that is read is written so that it reads the same, and adds up place by place.
func TestPilesRoundTrip(t *testing.T) {
	t.Parallel()
	var weights []domain.Weight
	for _, w := range []string{"1,800 lb", "900.5 lb", "400 kg", "250.125 kg", "20 lb", "21,600 lb"} {
		weights = append(weights, pounds(t, w))
	}
	rapid.Check(t, func(t *rapid.T) {
		var list []domain.Pile
		var want domain.Slabs
		for i := range rapid.IntRange(0, len(weights)).Draw(t, "weights") {
			count := func(place string) int { return rapid.IntRange(0, 10).Draw(t, place) }
			p := domain.Pile{Weight: weights[i], Slabs: domain.Slabs{Left: count("left"), Middle: count("middle"), Right: count("right")}}
			want = domain.Slabs{Left: want.Left + p.Slabs.Left, Middle: want.Middle + p.Slabs.Middle, Right: want.Right + p.Slabs.Right}
			if p.Slabs.Total() > 0 {
				list = append(list, p)
			}
		}
		made, err := domain.NewPiles(list)
		require.NoError(t, err)
		require.Equal(t, list, made.List())
		require.Equal(t, want, made.Slabs())
		text, err := made.MarshalText()
		require.NoError(t, err)
		var read domain.Piles
		require.NoError(t, read.UnmarshalText(text))
		require.Equal(t, made, read)
		require.Equal(t, len(list) == 0, read.IsZero())
	})
}

func FuzzParsePiles(f *testing.F) {
	for _, seed := range []string{"1,800 lb: 6 left, 6 right; 900 lb: 2 middle", "", ";", "1800 lb:", "900 kg: 1 right, 2 left", "1 lb: 0 left", "1 lb: 1 left;;"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, err := domain.ParsePiles(text)
		if err != nil {
			require.Equal(t, domain.Invalid, domain.KindOf(err))
			return
		}
		again, err := domain.ParsePiles(p.String())
		require.NoError(t, err)
		require.Equal(t, p, again)
		require.LessOrEqual(t, p.Slabs().Total(), 200)
	})
}
