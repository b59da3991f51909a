package domain

import (
	"cmp"
	"fmt"
	"slices"
)

// SeasonRule is what an association says of a season: how the points of its pulls become one figure for each entrant,
// and what separates entrants that have the same. The zero SeasonRule adds everything and breaks no tie. An entrant is a
// vehicle or a driver, as [PointsRule.To] has it.
type SeasonRule struct {
	// Drops is how many of the worst scores do not count: 1 (SCW, HTP), 2 (GREEN; NGTPS in each class).
	Drops int
	// DropMissed: a pull that was missed is a score of 0 and can be the one that is dropped (SCW: "worst or missed
	// hook"); otherwise only pulls that were attended are.
	DropMissed bool
	// BuyBackPoints is what a missed pull gives that is bought back, BuyBacks how often one may (CITP: 30 points, twice).
	BuyBackPoints, BuyBacks int
	// Minimum is the number of pulls that an entrant must have been at to have a place (4, Swiss title from 2013), Share
	// the part of all pulls (1/2: GREEN, MMTT, RENEG; 2/3: OPS 1). The larger of the two holds; a bought pull is none.
	Minimum int
	Share   Share
	// MinimumHooked counts pulls at which the entrant hooked (OPS 1), otherwise those it came to.
	MinimumHooked bool
	// Greatest: the distance of a pull is the greatest of the day, although the class was placed by the pull-off (OMTPA: 300
	// ft and then 250 in the pull-off is 300). Otherwise it is the figure of the class rounds.
	Greatest bool
	// Ties are the steps that separate equal points, in the order in which they are tried.
	Ties []TieStep
	// Undroppable are causes of a disqualification that can not be dropped (HTP: one after a protest).
	Undroppable []Cause
}

// Share is a part of a whole, such as 2/3; the zero Share is nothing.
type Share struct{ Part, Of int }

// of returns the least whole number that is not less than the share: half of five pulls is three.
func (s Share) of(whole int) int {
	if s.Of == 0 {
		return 0
	}
	return (whole*s.Part + s.Of - 1) / s.Of
}

// Series is a class over the pulls of a season: what everybody did, and what officials have decided.
type Series struct {
	// Pulls is the number of pulls held.
	Pulls int
	// Scores has at most one for each entrant at each pull; none where the entrant was not there.
	Scores []SeasonScore
	// Bought are missed pulls that were bought back, Penalties points that are taken away.
	Bought    []BuyBack
	Penalties []Penalty
	// PullOffs and Coins are the officials' records of what decided between entrants, best first.
	PullOffs, Coins [][]string
}

// SeasonScore is what one entrant did at one pull.
type SeasonScore struct {
	Entrant string
	// Pull is the number of the pull, from 0 in the order held.
	Pull   int
	Points Points
	// Place is the place as it counted for points, 0 without one.
	Place int
	// Hooked reports that a hook was made, Distance is the one that counts for ties.
	Hooked   bool
	Distance Distance
	// Kept: this score can not be dropped.
	Kept bool
}

// BuyBack is a missed pull that an entrant bought back.
type BuyBack struct {
	Entrant string
	Pull    int
}

// Penalty takes points away, such as 5 for a missed drivers' meeting (OPS 15).
type Penalty struct {
	Entrant string
	Points  int
	// Reason is for people; it decides nothing.
	Reason string
}

// PullState says how a pull counts for an entrant.
type PullState uint8

// The ways a pull counts.
const (
	// Missed: not there; it counts nothing.
	Missed PullState = iota
	// Counted, Dropped and Bought are what they say; a missed pull that was dropped is Dropped.
	Counted
	Dropped
	Bought
)

// PullCount is one pull of an entrant in a season.
type PullCount struct {
	State  PullState
	Points Points // what the pull gave, also where it was dropped
}

// SeasonLine is one line of a season's standing. The lines are sorted, best first.
type SeasonLine struct {
	Entrant string
	// Place is 0 for an entrant that was at too few pulls; those come last.
	Place  int
	Shared bool
	// Total is what counts, with the penalty taken away.
	Total   Points
	Pulls   []PullCount
	Penalty Points
	// Reasons are those of the penalties.
	Reasons []string
	// BehindBy is the step that put this line behind the one above, which has the same points; 0 where the points did, and
	// where the place is shared.
	BehindBy TieStep
}

// Check says whether the rule contradicts itself, naming the field as docs/season.md does.
func (r SeasonRule) Check() error {
	for _, n := range [...]struct {
		field  string
		number int
	}{{"drops", r.Drops}, {"buy_back_points", r.BuyBackPoints}, {"buy_backs", r.BuyBacks}, {"minimum", r.Minimum}} {
		if n.number < 0 || n.number > maxPoints {
			return invalid(n.field, fmt.Sprintf("%d lies outside 0 to %d", n.number, maxPoints), "write a whole number within")
		}
	}
	if r.Share != (Share{}) && (r.Share.Part < 1 || r.Share.Of > 100 || r.Share.Part > r.Share.Of) {
		return invalid("minimum_share", "this is no part of a whole", "write a part such as 1/2 or 2/3")
	}
	for i, step := range r.Ties {
		if slices.Contains(r.Ties[:i], step) {
			return invalid("ties", fmt.Sprintf("%s stands twice", step), "leave one out")
		}
	}
	return nil
}

// Standing returns the standing of a series, everybody once. It refuses a pull bought back that was not missed, more of
// them than the rule allows, and decisions about somebody who was at no pull. Two pulls under "drop the worst or missed
// hook":
//
//	41   50, missed        50, the missed one is dropped
//	7    48, 49            49, the 48 is dropped
func (r SeasonRule) Standing(s Series) ([]SeasonLine, error) {
	if err := r.decided(s); err != nil {
		return nil, err
	}
	var lines []SeasonLine
	for _, entrant := range s.entrants() {
		lines = append(lines, r.line(s, entrant))
	}
	short := func(l SeasonLine) int { return map[bool]int{true: 1}[r.short(s, l.Entrant)] }
	slices.SortStableFunc(lines, func(a, b SeasonLine) int {
		return cmp.Or(cmp.Compare(short(a), short(b)), cmp.Compare(b.Total, a.Total), CompareNumbers(a.Entrant, b.Entrant))
	})
	for start := 0; start < len(lines); {
		end := start + 1
		for end < len(lines) && lines[end].Total == lines[start].Total && short(lines[end]) == short(lines[start]) {
			end++
		}
		if short(lines[start]) == 0 {
			r.separate(s, lines[start:end], start+1, r.Ties)
		}
		start = end
	}
	return lines, nil
}

// entrants lists everybody who was at a pull, by number.
func (s Series) entrants() []string {
	var all []string
	for _, score := range s.Scores {
		all = append(all, score.Entrant)
	}
	slices.SortFunc(all, CompareNumbers)
	return slices.Compact(all)
}

// at returns what an entrant did at each pull, in the order held; nil where it was not there.
func (s Series) at(entrant string) []*SeasonScore {
	pulls := make([]*SeasonScore, s.Pulls)
	for i, score := range s.Scores {
		if score.Entrant == entrant {
			pulls[score.Pull] = &s.Scores[i]
		}
	}
	return pulls
}

// decided checks the officials' decisions against what was pulled. A decision about somebody who is not there is most likely a
// mistyped number, and ignoring it would cost the right one a place.
func (r SeasonRule) decided(s Series) error {
	known := s.entrants()
	unknown := func(field, entrant string) error {
		return invalid(field, fmt.Sprintf("%s was at no pull of this series", entrant), "name an entrant of the series")
	}
	times := make(map[string]int)
	for i, b := range s.Bought {
		times[b.Entrant]++
		switch {
		case !slices.Contains(known, b.Entrant):
			return unknown("bought", b.Entrant)
		case b.Pull < 0 || b.Pull >= s.Pulls || s.at(b.Entrant)[b.Pull] != nil:
			return invalid("bought", fmt.Sprintf("%s did not miss this pull", b.Entrant), "name a pull that was missed")
		case slices.Contains(s.Bought[:i], b):
			return invalid("bought", fmt.Sprintf("%s has bought back the same pull twice", b.Entrant), "take one out")
		case times[b.Entrant] > r.BuyBacks:
			return invalid("bought", fmt.Sprintf("%s has bought back more pulls than the rules allow, %d", b.Entrant, r.BuyBacks), "take one out")
		}
	}
	for _, p := range s.Penalties {
		if !slices.Contains(known, p.Entrant) {
			return unknown("penalties", p.Entrant)
		}
	}
	for _, order := range slices.Concat(s.PullOffs, s.Coins) {
		for _, entrant := range order {
			if !slices.Contains(known, entrant) {
				return unknown("decisions", entrant)
			}
		}
	}
	return nil
}

// short reports whether an entrant was at too few pulls for a place.
func (r SeasonRule) short(s Series, entrant string) bool {
	made := count(s.at(entrant), func(score *SeasonScore) bool { return score != nil && (score.Hooked || !r.MinimumHooked) })
	return made < max(r.Minimum, r.Share.of(s.Pulls))
}

// line adds up one entrant: the pulls it was at, those it bought back, less what is dropped and the penalties. What is bought
// is never dropped, because a puller would pay for nothing. With a drop of one and missed pulls dropped first:
//
//	50, missed, 40, 38      128, the missed one is dropped
//	50, 46, 40, 38          136, the 38 is dropped
//	50, 0 (kept), 40, 38     90, the 38 is dropped, because the 0 can not be
func (r SeasonRule) line(s Series, entrant string) SeasonLine {
	l := SeasonLine{Entrant: entrant, Pulls: make([]PullCount, s.Pulls)}
	var droppable []int
	for pull, score := range s.at(entrant) {
		switch {
		case score != nil:
			l.Pulls[pull] = PullCount{Counted, score.Points}
			if !score.Kept {
				droppable = append(droppable, pull)
			}
		case slices.Contains(s.Bought, BuyBack{entrant, pull}):
			l.Pulls[pull] = PullCount{Bought, WholePoints(r.BuyBackPoints)}
		case r.DropMissed:
			droppable = append(droppable, pull)
		}
	}
	// Of equal scores the missed pull goes first and then the earlier one, so that the same is dropped each time.
	slices.SortStableFunc(droppable, func(a, b int) int {
		return cmp.Or(cmp.Compare(l.Pulls[a].Points, l.Pulls[b].Points), cmp.Compare(l.Pulls[a].State, l.Pulls[b].State))
	})
	for _, pull := range droppable[:min(r.Drops, len(droppable))] {
		l.Pulls[pull].State = Dropped
	}
	for _, p := range s.Penalties {
		if p.Entrant == entrant {
			l.Penalty += WholePoints(p.Points)
			l.Reasons = append(l.Reasons, p.Reason)
		}
	}
	for _, pull := range l.Pulls {
		if pull.State != Dropped {
			l.Total += pull.Points
		}
	}
	l.Total -= l.Penalty
	return l
}

// Greatest returns the greatest distance that a row reached in any round that counts, pull-offs among them, zero for none. A
// full pull without a figure is the line. 300 ft in the class and 250 ft in the pull-off are 300 ft (OMTPA).
func (t *Table) Greatest(row Row) (greatest Distance) {
	for _, result := range row.Results {
		d := result.Distance
		if result.Outcome == FullPull && d.IsZero() {
			d = t.Rules.Line
		}
		if result.Reached() && (greatest.IsZero() || d.Compare(greatest) > 0) {
			greatest = d
		}
	}
	return greatest
}
