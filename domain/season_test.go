package domain_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// seasonOf reads a season, a line a pull: "41 50p 1 300ft, 7 48p 2 280ft" are entrant, points, place and distance; "kept" behind
// them can not be dropped, "x" instead of the distance did not hook.
func seasonOf(t require.TestingT, pulls ...string) domain.Series {
	s := domain.Series{Pulls: len(pulls)}
	for i, pull := range pulls {
		for written := range strings.SplitSeq(pull, ", ") {
			fields := strings.Fields(written)
			score := domain.SeasonScore{Entrant: fields[0], Pull: i, Hooked: fields[3] != "x", Kept: len(fields) > 4}
			var points int
			_, err := fmt.Sscanf(fields[1]+" "+fields[2], "%dp %d", &points, &score.Place)
			require.NoError(t, err, written)
			score.Points = domain.WholePoints(points)
			if score.Hooked {
				score.Distance = distance(t, strings.TrimSuffix(fields[3], "ft"), domain.Foot)
			}
			s.Scores = append(s.Scores, score)
		}
	}
	return s
}

// seasonStanding writes a season's standing as "1 41 98, 2 7 95 by coin, - 5 10".
func seasonStanding(t require.TestingT, r domain.SeasonRule, s domain.Series) string {
	require.NoError(t, r.Check())
	lines, err := r.Standing(s)
	require.NoError(t, err)
	var said []string
	for _, l := range lines {
		place := "-"
		if l.Place > 0 {
			place = fmt.Sprint(l.Place)
		}
		if l.Shared {
			place += "="
		}
		line := place + " " + l.Entrant + " " + l.Total.String()
		if l.BehindBy != 0 {
			line += " by " + l.BehindBy.String()
		}
		said = append(said, line)
	}
	return strings.Join(said, ", ")
}

// ties is a season that adds everything, with a chain of steps.
func ties(steps ...domain.TieStep) domain.SeasonRule { return domain.SeasonRule{Ties: steps} }

// OMTPA, RIVER: the total distance of the year.
func TestTheTotalDistanceBreaksASeasonTie(t *testing.T) {
	t.Parallel()
	s := seasonOf(t, "7 15p 1 300ft, 41 14p 2 290ft", "41 15p 1 301ft, 7 14p 2 290ft")
	assert.Equal(t, "1 41 29, 2 7 29 by total_distance", seasonStanding(t, ties(domain.TieDistance), s))
	assert.Equal(t, "1= 7 29, 1= 41 29", seasonStanding(t, ties(), s), "without a step the tie stands")
}

// OMTPA: "if a tractor pulls 300 feet the first hook and 250 feet in the pull off, 300 feet will be the distance used".
func TestTheGreatestDistanceOfTheDayIsUsed(t *testing.T) {
	t.Parallel()
	ranked := domain.Table{Rules: set(t, "capped-300ft"), Rounds: []domain.RoundName{{Number: 1}, {PullOff: true, Number: 1}}}
	for _, row := range []struct{ class, pullOff, greatest string }{
		{"FP", "250", "300 ft"}, {"FP 301.5", "250", "301.5 ft"}, {"FP", "312.44", "312.44 ft"}, {"281.36", "-", "281.36 ft"}, {"DQ", "-", ""}, {"void", "absent", ""},
	} {
		greatest := ranked.Greatest(domain.Row{Results: []domain.Result{resultIn(t, row.class, domain.Foot), resultIn(t, row.pullOff, domain.Foot)}})
		if row.greatest == "" {
			assert.True(t, greatest.IsZero(), row.class)
			continue
		}
		assert.Equal(t, row.greatest, greatest.String())
	}
}

// PVTT: head to head in common pulls, then total feet in those, then a pull-off at the last pull, then the placing at the
// last common pull. Each step decides when those before it do not.
func TestTheFourStepsOfPVTT(t *testing.T) {
	t.Parallel()
	pvtt := ties(domain.TieHeadToHead, domain.TieCommonDistance, domain.TiePullOff, domain.TieLastCommon)
	headToHead := seasonOf(t, "7 10p 1 250ft, 41 9p 2 249ft", "7 10p 1 250ft, 41 9p 2 200ft", "41 10p 1 320ft, 7 9p 2 200ft", "41 10p 1 300ft", "7 9p 2 220ft")
	assert.Equal(t, "1 7 38, 2 41 38 by head_to_head", seasonStanding(t, pvtt, headToHead), "the pulls of one alone are not common")
	farther := seasonOf(t, "7 10p 1 250ft, 41 9p 2 249ft", "41 10p 1 300ft, 7 9p 2 299.99ft")
	assert.Equal(t, "1 41 19, 2 7 19 by last_common", seasonStanding(t, ties(domain.TieHeadToHead, domain.TieLastCommon), farther))
	assert.Equal(t, "1 7 19, 2 41 19 by common_distance", seasonStanding(t, pvtt, farther), "549.99 ft against 549 ft")
	farther.PullOffs = [][]string{{"41", "7"}}
	assert.Equal(t, "1 7 19, 2 41 19 by common_distance", seasonStanding(t, pvtt, farther), "a pull-off is not asked for when the distance decides")
	equal := seasonOf(t, "7 10p 1 250ft, 41 9p 2 249ft", "41 10p 1 250ft, 7 9p 2 249ft")
	assert.Equal(t, "1 41 19, 2 7 19 by last_common", seasonStanding(t, pvtt, equal))
	equal.PullOffs = [][]string{{"7", "41"}}
	assert.Equal(t, "1 7 19, 2 41 19 by pull_off", seasonStanding(t, pvtt, equal))
	assert.Equal(t, "1= 7 19, 1= 41 19", seasonStanding(t, pvtt, seasonOf(t, "7 19p 1 250ft", "41 19p 1 300ft")), "no pull in common")
}

// CITP: most firsts, then seconds …, then total distance, then coin flip.
func TestTheChainOfCITP(t *testing.T) {
	t.Parallel()
	citp := ties(domain.TiePlaces, domain.TieDistance, domain.TieCoin)
	assert.Equal(t, "1 41 76, 2 7 76 by places", seasonStanding(t, citp, seasonOf(t, "41 40p 1 200ft, 7 38p 2 199ft", "7 38p 2 320ft, 41 36p 3 300ft")))
	assert.Equal(t, "1 7 74, 2 41 74 by places", seasonStanding(t, citp, seasonOf(t, "41 36p 3 200ft, 7 38p 2 199ft", "7 36p 4 320ft, 41 38p 3 400ft")), "seconds")
	even := seasonOf(t, "41 40p 1 250ft, 7 38p 2 249ft", "7 40p 1 251ft, 41 38p 2 249ft")
	assert.Equal(t, "1 7 78, 2 41 78 by total_distance", seasonStanding(t, citp, even))
	coin := seasonOf(t, "41 40p 1 250ft, 7 38p 2 249ft", "7 40p 1 250ft, 41 38p 2 249ft")
	assert.Equal(t, "1= 7 78, 1= 41 78", seasonStanding(t, citp, coin), "the program tosses no coin")
	coin.Coins = [][]string{{"5"}, {"41", "7"}}
	coin.Scores = append(coin.Scores, domain.SeasonScore{Entrant: "5"})
	assert.Equal(t, "1 41 78, 2 7 78 by coin, 3 5 0", seasonStanding(t, citp, coin))
}

// OPS 14: most pulls made, then most wins.
func TestHooksMadeAndWins(t *testing.T) {
	t.Parallel()
	ops := ties(domain.TieHooks, domain.TieWins)
	assert.Equal(t, "1 7 20, 2 41 20 by hooks", seasonStanding(t, ops, seasonOf(t, "41 15p 1 250ft, 7 10p 2 200ft", "7 10p 2 200ft, 41 5p 0 x")))
	assert.Equal(t, "1 41 20, 2 7 20 by wins", seasonStanding(t, ops, seasonOf(t, "41 15p 1 250ft, 7 10p 2 200ft", "7 10p 2 200ft, 41 5p 3 100ft")))
}

// A step that tells some apart leaves the others to the next, and who stays equal shares the place.
func TestAStepLeavesTheOthersToTheNext(t *testing.T) {
	t.Parallel()
	s := seasonOf(t, "1 10p 1 100ft, 2 10p 2 200ft, 3 10p 2 300ft, 4 10p 3 50ft, 5 10p 3 50ft, 6 9p 4 20ft")
	assert.Equal(t, "1 1 10, 2 3 10 by places, 3 2 10 by total_distance, 4= 4 10 by places, 4= 5 10, 6 6 9",
		seasonStanding(t, ties(domain.TiePlaces, domain.TieDistance), s))
}

func TestDropsBuyBacksMinimumAndPenalties(t *testing.T) {
	t.Parallel()
	season := []string{"41 50p 1 300ft, 7 48p 2 290ft", "7 50p 1 300ft", "7 46p 3 200ft, 41 50p 1 300ft"}
	buy := seasonOf(t, season...)
	buy.Bought = []domain.BuyBack{{Entrant: "41", Pull: 1}}
	late := seasonOf(t, season...)
	late.Penalties = []domain.Penalty{{Entrant: "7", Points: 5, Reason: "missed the drivers' meeting"}}
	protest := seasonOf(t, "41 50p 1 300ft, 7 48p 2 290ft", "7 50p 1 300ft, 41 0p 0 x kept", "7 46p 3 200ft, 41 49p 1 300ft")
	for _, row := range []struct {
		source string
		rule   domain.SeasonRule
		series domain.Series
		want   string
	}{
		{"no drop", domain.SeasonRule{}, seasonOf(t, season...), "1 7 144, 2 41 100"},
		{"SCW: worst or missed hook", domain.SeasonRule{Drops: 1, DropMissed: true}, seasonOf(t, season...), "1 41 100, 2 7 98"},
		{"HTP: one hook of those made", domain.SeasonRule{Drops: 1}, seasonOf(t, season...), "1 7 98, 2 41 50"},
		{"GREEN: the worst two", domain.SeasonRule{Drops: 2}, seasonOf(t, season...), "1 7 50, 2 41 0"},
		{"HTP: a protest disqualification stays", domain.SeasonRule{Drops: 1}, protest, "1 7 98, 2 41 50"},
		{"CITP: a missed hook bought back, 30", domain.SeasonRule{BuyBackPoints: 30, BuyBacks: 2}, buy, "1 7 144, 2 41 130"},
		{"GREEN, MMTT, RENEG: half of three pulls is two", domain.SeasonRule{Share: domain.Share{Part: 1, Of: 2}}, seasonOf(t, season...), "1 7 144, 2 41 100"},
		{"a bought pull is no attendance", domain.SeasonRule{Minimum: 3, BuyBackPoints: 30, BuyBacks: 2}, buy, "1 7 144, - 41 130"},
		{"OPS 1: two thirds of the hooks", domain.SeasonRule{Share: domain.Share{Part: 2, Of: 3}, MinimumHooked: true},
			seasonOf(t, "41 5p 0 x, 7 10p 1 200ft", "41 15p 1 200ft, 7 10p 2 100ft", "41 5p 0 x"), "1 7 20, - 41 25"},
		{"OPS 15: missed the drivers' meeting, 5 off", domain.SeasonRule{}, late, "1 7 139, 2 41 100"},
	} {
		t.Run(row.source, func(t *testing.T) {
			t.Parallel()
			assert.Equal(t, row.want, seasonStanding(t, row.rule, row.series))
		})
	}
}

// What was dropped, bought and missed is said of each pull.
func TestASeasonLineShowsItsPulls(t *testing.T) {
	t.Parallel()
	s := seasonOf(t, "41 50p 1 300ft", "7 10p 1 2ft", "41 40p 1 300ft, 7 1p 2 1ft", "7 3p 1 2ft", "7 3p 1 2ft")
	s.Bought = []domain.BuyBack{{Entrant: "41", Pull: 3}}
	lines, err := domain.SeasonRule{Drops: 1, DropMissed: true, BuyBackPoints: 30, BuyBacks: 1}.Standing(s)
	require.NoError(t, err)
	whole := domain.WholePoints
	assert.Equal(t, []domain.PullCount{{State: domain.Counted, Points: whole(50)}, {State: domain.Dropped}, {State: domain.Counted, Points: whole(40)},
		{State: domain.Bought, Points: whole(30)}, {State: domain.Missed}}, lines[0].Pulls)
	assert.Equal(t, whole(120), lines[0].Total)
}

func TestDecisionsThatCannotBeAreRefused(t *testing.T) {
	t.Parallel()
	rule := domain.SeasonRule{BuyBackPoints: 30, BuyBacks: 2}
	bought := func(pulls ...int) func(*domain.Series) {
		return func(s *domain.Series) {
			for _, pull := range pulls {
				s.Bought = append(s.Bought, domain.BuyBack{Entrant: "41", Pull: pull})
			}
		}
	}
	for says, change := range map[string]func(*domain.Series){
		"99 was at no pull of this series":                                func(s *domain.Series) { s.Bought = []domain.BuyBack{{Entrant: "99"}} },
		"41 did not miss this pull; name a pull that was missed":          bought(0),
		"41 did not miss this pull":                                       bought(4),
		"41 has bought back the same pull twice":                          bought(1, 1),
		"41 has bought back more pulls than the rules allow, 2":           bought(1, 2, 3),
		"98 was at no pull of this series; name an entrant of the series": func(s *domain.Series) { s.Penalties = []domain.Penalty{{Entrant: "98", Points: 5}} },
		"97 was at no pull of this series; name an entrant of the series": func(s *domain.Series) { s.Coins = [][]string{{"41", "97"}} },
		"96 was at no pull of this series; name an entrant of the series": func(s *domain.Series) { s.PullOffs = [][]string{{"96", "41"}} },
	} {
		s := seasonOf(t, "41 10p 1 300ft", "7 10p 1 2ft", "7 10p 1 2ft", "7 10p 1 2ft")
		change(&s)
		_, err := rule.Standing(s)
		require.ErrorContains(t, err, says)
		assert.Equal(t, domain.Invalid, domain.KindOf(err))
	}
	for field, wrong := range map[string]domain.SeasonRule{
		"drops": {Drops: -1}, "buy_backs": {BuyBacks: -1}, "minimum": {Minimum: 10_000}, "minimum_share": {Share: domain.Share{Part: 3, Of: 2}},
		"ties": ties(domain.TieCoin, domain.TieCoin),
	} {
		var refusal *domain.Error
		require.ErrorAs(t, wrong.Check(), &refusal, field)
		assert.Equal(t, field, refusal.Field)
	}
	for _, word := range []string{"", "coin toss"} {
		_, err := domain.ParseTieStep(word)
		require.ErrorContains(t, err, "write one of total_distance, places, wins")
	}
}

// seasons draws a season of up to five pulls with few figures, so that ties are common.
func seasons() *rapid.Generator[domain.Series] {
	return rapid.Custom(func(t *rapid.T) domain.Series {
		s := domain.Series{Pulls: rapid.IntRange(1, 5).Draw(t, "pulls")}
		for _, entrant := range []string{"1", "2", "7b", "41"} {
			for pull := range s.Pulls {
				if rapid.IntRange(0, 3).Draw(t, "there") > 0 {
					s.Scores = append(s.Scores, domain.SeasonScore{Entrant: entrant, Pull: pull, Points: domain.WholePoints(rapid.IntRange(0, 3).Draw(t, "points")),
						Place: rapid.IntRange(0, 3).Draw(t, "place"), Hooked: rapid.Bool().Draw(t, "hooked"), Kept: rapid.Bool().Draw(t, "kept"),
						Distance: distance(t, rapid.SampledFrom([]string{"0", "100", "100.0", "250"}).Draw(t, "distance"), domain.Foot)})
				}
			}
		}
		return s
	})
}

// Everybody is listed once; more points come before fewer; who has a place comes before who has none; only equal points are
// separated by a step; and the order in which the scores are given decides nothing.
func TestASeasonStandingIsTotalAndStable(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		s := seasons().Draw(t, "season")
		steps := rapid.Permutation([]domain.TieStep{domain.TieDistance, domain.TiePlaces, domain.TieWins, domain.TieHooks, domain.TieHeadToHead, domain.TieCommonDistance,
			domain.TieLastCommon, domain.TiePullOff, domain.TieCoin}).Draw(t, "steps")
		rule := domain.SeasonRule{Drops: rapid.IntRange(0, 2).Draw(t, "drops"), DropMissed: rapid.Bool().Draw(t, "missed"), Minimum: rapid.IntRange(0, 3).Draw(t, "minimum"),
			Ties: steps[:rapid.IntRange(0, len(steps)).Draw(t, "how many")]}
		lines, err := rule.Standing(s)
		require.NoError(t, err)
		seen := make(map[string]bool)
		for i, l := range lines {
			require.False(t, seen[l.Entrant])
			seen[l.Entrant] = true
			if i == 0 {
				require.Zero(t, l.BehindBy)
				continue
			}
			above := lines[i-1]
			require.False(t, above.Place == 0 && l.Place > 0)
			if l.Place > 0 {
				require.GreaterOrEqual(t, above.Total, l.Total)
				require.Equal(t, above.Total == l.Total && l.BehindBy == 0, l.Place == above.Place, "a tie is broken by a step or stands")
			}
			if l.BehindBy != 0 {
				require.Equal(t, above.Total, l.Total)
				require.Contains(t, rule.Ties, l.BehindBy)
			}
		}
		for _, score := range s.Scores {
			require.True(t, seen[score.Entrant])
		}
		shuffled := s
		shuffled.Scores = rapid.Permutation(s.Scores).Draw(t, "shuffled")
		again, err := rule.Standing(shuffled)
		require.NoError(t, err)
		require.Equal(t, lines, again)
	})
}
