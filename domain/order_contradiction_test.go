package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// SCTPA 9 measures the restart by where the sled is; under ASTTQ 2 who let off before 100 ft may start again even
// though it rolled past.
func TestARestartIsJudgedBySledOrThrottle(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		book     string
		throttle bool
	}{
		{"SCTPA: the sled", false},
		{"ASTTQ: the throttle", true},
	} {
		t.Run(row.book, func(t *testing.T) {
			t.Parallel()
			s := begun(t, set(t, "floating-ft", func(r *domain.RuleSet) {
				r.Restarts.Throttle, r.Test = row.throttle, domain.TestRule{}
			}), "41", "7")
			again := domain.SecondAttempt{Hook: s.class.OnTrack().ID, Distance: distance(t, "83", domain.Foot), Next: s.id()}
			if !row.throttle {
				s.refuse(again, domain.Invalid, "83 ft is past the restart line")
				return
			}
			s.do(again)
			assert.Equal(t, "41", s.onTrack())
			assert.Equal(t, "83 ft", s.class.Current().Hooks[0].Result.Distance.String(), "what was rolled past is on record")
		})
	}
}

// NATPA 21: the restart mark is the speed cone at a third of the track.
func TestARestartLineMayBeAShareOfTheTrack(t *testing.T) {
	t.Parallel()
	third, err := domain.ParseTrackShare("1/3")
	require.NoError(t, err)
	for written, again := range map[string]bool{"33.333": true, "33.334": false, "0": true} {
		s := begun(t, set(t, "floating-m", func(r *domain.RuleSet) { r.RestartLine, r.Restarts.Share = domain.Distance{}, third }), "41", "7")
		s.pulls("41", written)
		assert.Equal(t, again, s.class.Pending() != nil, written)
	}
}

// SEMP 5, 6: 50 ft for tractors and 100 ft for trucks, and a class is of one kind.
func TestARestartLineMayDependOnTheKindOfVehicle(t *testing.T) {
	t.Parallel()
	rules := set(t, "floating-ft", func(r *domain.RuleSet) {
		r.Restarts.Kinds = []domain.KindLine{{Kind: "tractor", Line: distance(t, "50", domain.Foot)}, {Kind: "truck", Line: distance(t, "100", domain.Foot)}}
	})
	for kind, line := range map[string]string{"tractor": "50 ft", "truck": "100 ft", "": "75 ft"} {
		s := &story{t: t}
		s.do(domain.PlanClass{Class: s.id(), Name: "Stock", Rules: rules, Kind: kind, Sled: domain.Sled{Gears: 5, StartHoles: 4}})
		assert.Equal(t, line, s.class.Rules.RestartLine.String(), kind)
	}
	s := &story{t: t}
	s.refuse(domain.PlanClass{Class: s.id(), Name: "Stock", Rules: rules, Kind: "mower", Sled: domain.Sled{Gears: 5, StartHoles: 4}},
		domain.Invalid, `no kind of vehicle called "mower"; choose one of tractor, truck`)
}

// CHEL dead-weight has three attempts; ASTTQ 2 lets the second follow at once or six positions later.
func TestAttemptsAndWhenTheyFollow(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "floating-ft", func(r *domain.RuleSet) {
		r.Test, r.Restarts = domain.TestRule{}, domain.RestartRule{Attempts: 3, Options: []domain.Option{domain.AtOnce, 3}}
	}), "41", "7", "23", "12")
	s.pulls("41", "10")
	assert.Equal(t, "keep now 3", s.options("41"))
	s.chooses("41", "3")
	assert.Equal(t, "7", s.onTrack())
	assert.Equal(t, []string{"23", "41", "12"}, s.waiting())
	s.pulls("7", "200")
	s.pulls("23", "210")
	assert.Equal(t, 2, s.class.OnTrack().Attempt)
	s.pulls("41", "11")
	s.chooses("41", "now")
	assert.Equal(t, 3, s.class.OnTrack().Attempt)
	s.pulls("41", "12")
	assert.Nil(t, s.class.Pending(), "there is no fourth attempt")
	s.pulls("12", "5")
	s.chooses("12", "keep")
	s.stands("1 23", "2 7", "3 41", "4 12")
}

// NK, BE-BORG, UK: a single full puller wins at once. NO 1.8: the two next longest go to the final too, and with none
// the three longest.
func TestASingleFullPull(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		book   string
		fillTo int
		final  []string
		stands []string
	}{
		{"NK: wins without hooking again", 0, nil, []string{"1 41", "2 7", "3 23", "4 12"}},
		{"NO 1.8: the two next longest come to the final", 3, []string{"41", "7", "23"}, []string{"1 23", "2 7", "3 41", "4 12"}},
	} {
		t.Run(row.book, func(t *testing.T) {
			t.Parallel()
			s := begun(t, set(t, "capped-100m", func(r *domain.RuleSet) { r.PullOff.FillTo = row.fillTo }), "41", "7", "23", "12")
			s.pulls("41", "FP")
			s.pulls("7", "90")
			s.pulls("23", "85.5")
			s.pulls("12", "80")
			if row.final != nil {
				s.opens("P1", row.final...)
				s.pulls("41", "60")
				s.pulls("7", "61")
				s.pulls("23", "62")
			}
			s.decided()
			s.stands(row.stands...)
		})
	}
}

// NO 1.8, the other two cases: without a full pull the three longest, with two full pulls those two alone.
func TestAFinalIsFilledUp(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		what, results string
		final, stands []string
	}{
		{"no full pull", "90 80 70 60", []string{"41", "7", "23"}, []string{"1 23", "2 7", "3 41", "4 12"}},
		{"equal for the last place of it: both come", "90 80 60 60", []string{"41", "7", "23", "12"}, []string{"1 12", "2 23", "3 7", "4 41"}},
		{"two full pulls", "FP FP 99 60", []string{"41", "7"}, []string{"1 7", "2 41", "3 23", "4 12"}},
		{"a disqualification is not filled up with", "90 DQ DQ DQ", nil, []string{"1 41", "- 7", "- 12", "- 23"}},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			s := begun(t, set(t, "capped-100m", func(r *domain.RuleSet) { r.PullOff.FillTo = 3 }), "41", "7", "23", "12")
			s.all("1", row.results)
			if row.final != nil {
				s.opens("P1", row.final...)
				for i, number := range row.final {
					s.pulls(number, []string{"50", "51", "52", "53"}[i])
				}
			}
			s.decided()
			s.stands(row.stands...)
		})
	}
}

// all stores the results of a round in the order of its line-up, written one after the other.
func (s *story) all(_, results string) {
	s.t.Helper()
	for _, written := range fields(results) {
		if written == "DQ" {
			written = "DQ conduct"
		}
		s.pulls(s.onTrack(), written)
	}
}

// BIGIRON 12: the top three of every class pull off, whatever they did before.
func TestTheTopThreePullOff(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", func(r *domain.RuleSet) {
		r.Test = domain.TestRule{}
		r.PullOff.Who, r.PullOff.Top = domain.TopPlaces, 3
	}), "41", "7", "23", "12")
	s.all("1", "FP FP FP 299")
	s.opens("P1", "41", "7", "23")
	s.all("P1", "200 210 220")
	s.decided()
	s.stands("1 23", "2 7", "3 41", "4 12")
}

// A further pull-off is for those who are equal at the top of the one before.
func TestATieAtTheTopOfAFinalIsPulledOn(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", func(r *domain.RuleSet) { r.PullOff.FillTo = 3 }), "41", "7", "23", "12")
	s.all("1", "90 80 70 60")
	s.opens("P1", "41", "7", "23")
	s.all("P1", "50 55 55")
	s.opens("P2", "7", "23")
	s.all("P2", "10 11")
	s.decided()
	s.stands("1 23", "2 7", "3 41", "4 12")
}

// In capped classes nobody may come back at all: the full pullers share the place.
func TestFullPullsMayShareThePlace(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", func(r *domain.RuleSet) { r.PullOff.Who = domain.Nobody }), "41", "7", "23")
	s.all("1", "FP FP 99")
	s.decided()
	s.stands("1= 7", "1= 41", "3 23")
}

// Published results have shared places; WAUSH 9 and FLANT 5 pull again; at one fair the next longest pull decides.
func TestADistanceTie(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		book   string
		ties   domain.TieRule
		again  string
		stands []string
	}{
		{"published results: shared", domain.TieRule{}, "", []string{"1 12", "2= 7", "2= 41", "4 23"}},
		{"WAUSH, FLANT: pulled again", domain.TieRule{Ties: domain.PulledAgain}, "P1", []string{"1 12", "2 7", "3 41", "4 23"}},
		{"pulled again for the first place alone", domain.TieRule{Ties: domain.PulledAgain, Places: 1}, "", []string{"1 12", "2= 7", "2= 41", "4 23"}},
		{"horse pulling, same fair: the next longest", domain.TieRule{Ties: domain.NextBest}, "", []string{"1 12", "2 41", "3 7", "4 23"}},
	} {
		t.Run(row.book, func(t *testing.T) {
			t.Parallel()
			s := begun(t, set(t, "best-of-two-100m", func(r *domain.RuleSet) { r.Ties = row.ties }), "41", "7", "23", "12")
			s.all("1", "80 80 50 90")
			s.opens("2", "41", "7", "23", "12")
			s.all("2", "70 60 79 30")
			if row.again != "" {
				s.opens(row.again, "41", "7")
				s.all(row.again, "20 21")
			}
			s.decided()
			s.stands(row.stands...)
		})
	}
}

// MAM, WOLV 2: the same vehicle may hook twice with different drivers and place once. CENTR, LSG 3: each entry places.
// SEMP 2: not at all.
func TestAVehicleTwiceInAClass(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		book   string
		rule   domain.VehicleTwice
		stands []string
	}{
		{"MAM, WOLV: places once", domain.PlacesOnce, []string{"1 7b", "2 23", "- 7"}},
		{"CENTR, LSG: each entry places", domain.PlacesTwice, []string{"1 7b", "2 7", "3 23"}},
	} {
		t.Run(row.book, func(t *testing.T) {
			t.Parallel()
			s := plan(t, set(t, "floating-m", func(r *domain.RuleSet) { r.Entries.VehicleTwice = row.rule }))
			first := s.enter("7")
			s.do(domain.AddEntry{Entry: s.id(), Number: "7b", Same: first})
			s.enter("23")
			s.do(domain.DrawClass{Round: s.id(), Seed: seedFor([]string{"7", "7b", "23"})})
			s.freeze()
			s.call()
			s.all("1", "80 90 70")
			s.decided()
			s.stands(row.stands...)
		})
	}
	s := plan(t, set(t, "floating-m"))
	first := s.enter("7")
	s.refuse(domain.AddEntry{Entry: s.id(), Number: "7b", Same: first}, domain.Invalid, "under these rules a vehicle hooks once in a class")
}

// MAM: late entries pull last. CHEL 8, GSRT 14: once the class has started there are no more.
func TestALateEntry(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		book   string
		closed bool
	}{
		{"MAM: pulls last", false},
		{"CHEL, GSRT: not once the class has started", true},
	} {
		t.Run(row.book, func(t *testing.T) {
			t.Parallel()
			s := drawn(t, set(t, "floating-m", func(r *domain.RuleSet) { r.Order.ClosedAtStart = row.closed }), "41", "7")
			s.enter("23")
			assert.Equal(t, []string{"41", "7", "23"}, s.waiting(), "before the start it is late and no more")
			s.freeze()
			s.call()
			late := domain.AddEntry{Entry: s.id(), Number: "12"}
			if row.closed {
				s.refuse(late, domain.WrongState, "the class has started")
				return
			}
			s.do(late)
			assert.Equal(t, []string{"7", "23", "12"}, s.waiting())
		})
	}
}

// MAM, MERR: drawn. CHEL 8, FLIP 2: as weighed in. DE-WIEL 14, NO-VET: fixed by the organiser.
func TestWhereTheOrderComesFrom(t *testing.T) {
	t.Parallel()
	by := func(source domain.OrderSource) *story {
		s := plan(t, set(t, "floating-m", func(r *domain.RuleSet) { r.Order.By = source }))
		for _, number := range []string{"41", "7", "23", "12"} {
			s.enter(number)
		}
		return s
	}
	entered := by(domain.AsEntered)
	entered.do(domain.DrawClass{Round: entered.id()})
	assert.Equal(t, []string{"41", "7", "23", "12"}, entered.waiting())

	organiser := by(domain.ByOrganiser)
	organiser.refuse(domain.DrawClass{Round: organiser.id()}, domain.Invalid, "write a place for each of the 4 entries")
	var seats []domain.Seat
	for i, number := range []string{"12", "41", "23", "7"} {
		seats = append(seats, domain.Seat{Entry: organiser.entry(number), Place: i + 1})
	}
	organiser.do(domain.DrawClass{Round: organiser.id(), Seed: " \t", Fixed: seats})
	assert.Equal(t, "in the organiser's order", organiser.class.Draw.Seed, "stray spaces are no seed")
	assert.Equal(t, []string{"12", "41", "23", "7"}, organiser.waiting())
	assert.Equal(t, organiser.class, organiser.replayed())

	lot := by(domain.DrawnByLot)
	lot.refuse(domain.DrawClass{Round: lot.id()}, domain.Invalid, "the seed is missing")
}

// NK 5: two positions, once per puller and class.
func TestADropOncePerClass(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "floating-m", drops(1), func(r *domain.RuleSet) { r.Call.DropOnce = true }), "41", "7", "23")
	s.do(domain.Drop{Hook: s.class.OnTrack().ID, Places: 1, Reason: "belt", Next: s.id()})
	s.pulls("7", "50")
	s.refuse(domain.Drop{Hook: s.class.OnTrack().ID, Places: 1, Reason: "belt", Next: s.id()}, domain.WrongState, "number 41 has dropped back already")
}

// One body's text says thousandths of an inch (NTPA101), its published results have thousandths of a foot (304.246 and
// 304.210 ft of 17 June 2022). Either is a unit of its own: the same two pulls are told apart in both, and a thousandth of
// an inch is seen only where inches are read.
func TestThousandthsOfAFootAndOfAnInch(t *testing.T) {
	t.Parallel()
	feet := set(t, "floating-ft")
	inches := set(t, "floating-ft", func(r *domain.RuleSet) { r.Line, r.RestartLine = distance(t, "3600 in", 0), domain.Distance{} })
	assert.Equal(t, []string{"1 A", "2 B"}, standing(table(t, feet, "1", "A: 304.246", "B: 304.210")))
	assert.Equal(t, []string{"1 A", "2 B"}, standing(table(t, inches, "1", "A: 3650.952", "B: 3650.520")))
	assert.Equal(t, []string{"1 B", "2 A"}, standing(table(t, inches, "1", "A: 3650.952", "B: 3650.953")))
}
