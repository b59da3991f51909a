package domain

import (
	"fmt"
	"slices"
	"strings"
)

// TieStep is one way to separate entrants with equal points at the end of a season. The books differ in which they
// have and in what order: OMTPA and RIVER have the total distance alone; CITP firsts, seconds and so on, then the total
// distance, then a coin; OPS 14 hooks made, then wins; PVTT head to head, the distance in common pulls, a pull-off, the
// last common pull. The zero TieStep is none.
type TieStep uint8

// The steps.
const (
	// TieDistance: the greater distance over all pulls, dropped ones too (OMTPA, RIVER, CITP).
	TieDistance TieStep = iota + 1
	// TiePlaces: more firsts, then more seconds, and so on (CITP, MMTT).
	TiePlaces
	// TieWins: more firsts (OPS 14).
	TieWins
	// TieHooks: more pulls hooked at (OPS 14).
	TieHooks
	// TieHeadToHead: who was placed before the others more often in the pulls at which all of the tied hooked (PVTT).
	TieHeadToHead
	// TieCommonDistance: the greater distance in those pulls (PVTT).
	TieCommonDistance
	// TieLastCommon: the better place at the last of those pulls (PVTT).
	TieLastCommon
	// TiePullOff and TieCoin: as the officials have recorded it (PVTT; CITP). The program tosses no coin.
	TiePullOff
	TieCoin
)

// tieWords are the words of season files, by step.
var tieWords = [...]string{TieDistance: "total_distance", TiePlaces: "places", TieWins: "wins", TieHooks: "hooks", TieHeadToHead: "head_to_head",
	TieCommonDistance: "common_distance", TieLastCommon: "last_common", TiePullOff: "pull_off", TieCoin: "coin"}

// ParseTieStep reads a word of a season file.
func ParseTieStep(s string) (TieStep, error) {
	for step, word := range tieWords {
		if word == s && s != "" {
			return TieStep(step), nil // #nosec G115 -- an index of a short list
		}
	}
	return 0, invalid("ties", fmt.Sprintf("%q is not known", s), "write one of "+strings.Join(tieWords[1:], ", "))
}

// String returns the word of season files; "" for the zero TieStep.
func (t TieStep) String() string { return tieWords[t] }

// separate gives places, from the given one on, to lines with equal points. A step that tells some of them apart leaves the
// rest to the steps behind it, which see only those that are still equal. Who is equal to the end shares the place. The
// chain does not start again for a smaller group: no published source says that it does. Three with equal points under
// firsts, then total distance, then coin:
//
//	A  2 firsts             1
//	B  1 first   880.1 ft   2, behind A by places
//	C  1 first   879.9 ft   3, behind B by total_distance
func (r SeasonRule) separate(s Series, lines []SeasonLine, place int, steps []TieStep) {
	if len(lines) == 1 || len(steps) == 0 {
		for i := range lines {
			lines[i].Place, lines[i].Shared = place, len(lines) > 1
		}
		return
	}
	t := tied{series: s}
	for _, l := range lines {
		t.entrants = append(t.entrants, l.Entrant)
		t.at = append(t.at, s.at(l.Entrant))
	}
	worth := make(map[string][]int64, len(lines))
	for i, l := range lines {
		worth[l.Entrant] = t.worth(steps[0], i)
	}
	slices.SortStableFunc(lines, func(a, b SeasonLine) int { return slices.Compare(worth[b.Entrant], worth[a.Entrant]) })
	for start := 0; start < len(lines); {
		end := start + 1
		for end < len(lines) && slices.Equal(worth[lines[end].Entrant], worth[lines[start].Entrant]) {
			end++
		}
		r.separate(s, lines[start:end], place+start, steps[1:])
		if start > 0 {
			lines[start].BehindBy = steps[0]
		}
		start = end
	}
}

// tied are entrants with equal points, and what each did at each pull.
type tied struct {
	series   Series
	entrants []string
	at       [][]*SeasonScore
}

// worth returns what a step sees of the i-th of them; more is better, the first figure before the next.
func (t *tied) worth(step TieStep, i int) []int64 {
	switch step {
	case TieDistance:
		return []int64{distanceOf(t.at[i])}
	case TiePlaces:
		return t.places(i)
	case TieWins:
		return t.places(i)[:1]
	case TieHooks:
		return []int64{int64(count(t.at[i], func(score *SeasonScore) bool { return score != nil && score.Hooked }))}
	case TieHeadToHead:
		return []int64{t.ahead(i)}
	case TieCommonDistance:
		var common []*SeasonScore
		for _, pull := range t.common() {
			common = append(common, t.at[i][pull])
		}
		return []int64{distanceOf(common)}
	case TieLastCommon:
		if common := t.common(); len(common) > 0 {
			return []int64{-t.rank(i, common[len(common)-1])}
		}
	case TiePullOff:
		return recorded(t.series.PullOffs, t.entrants, i)
	case TieCoin:
		return recorded(t.series.Coins, t.entrants, i)
	}
	return nil
}

// distanceOf adds distances, in nanometres. They were measured with more than one sled and setting and are no comparison of
// vehicles; rule books add them all the same to separate equal points.
func distanceOf(scores []*SeasonScore) (total int64) {
	for _, score := range scores {
		if score != nil {
			total += score.Distance.nanometres()
		}
	}
	return total
}

// places counts the firsts, seconds and so on of the i-th, as far down as anybody of the series was placed.
func (t *tied) places(i int) []int64 {
	last := 1
	for _, score := range t.series.Scores {
		last = max(last, score.Place)
	}
	counts := make([]int64, last)
	for _, score := range t.at[i] {
		if score != nil && score.Place > 0 {
			counts[score.Place-1]++
		}
	}
	return counts
}

// common lists the pulls at which all of the tied hooked.
func (t *tied) common() (pulls []int) {
	for pull := range t.series.Pulls {
		if !slices.ContainsFunc(t.at, func(at []*SeasonScore) bool { return at[pull] == nil || !at[pull].Hooked }) {
			pulls = append(pulls, pull)
		}
	}
	return pulls
}

// rank returns the place of the i-th at a pull; no place comes after every place.
func (t *tied) rank(i, pull int) int64 {
	if place := t.at[i][pull].Place; place > 0 {
		return int64(place)
	}
	return int64(len(t.series.Scores)) + 1
}

// ahead counts how often the i-th was placed before another of the tied in their common pulls. Between two that is head to
// head; for more than two no published source was found.
func (t *tied) ahead(i int) (times int64) {
	for _, pull := range t.common() {
		for other := range t.at {
			if t.rank(i, pull) < t.rank(other, pull) {
				times++
			}
		}
	}
	return times
}

// recorded finds the i-th of the tied in the first record that names two of them or more: who is named earlier is better,
// and who is not named is behind all who are.
func recorded(orders [][]string, entrants []string, i int) []int64 {
	for _, order := range orders {
		if count(entrants, func(e string) bool { return slices.Contains(order, e) }) < 2 {
			continue
		}
		if at := slices.Index(order, entrants[i]); at >= 0 {
			return []int64{-int64(at)}
		}
		return []int64{-int64(len(order))}
	}
	return nil
}
