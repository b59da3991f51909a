package domain

// Ties says what becomes of entries that are equal when all is pulled. Full pullers who are equal in the class come
// back for the pull-off, whatever it says.
type Ties uint8

// What becomes of a tie. A faster time, which decided at one event (Eddesse), is none of them: nobody measures it here,
// and a time that was typed when somebody got to it must not place anybody.
const (
	// SharedPlace: the tie stands and the places are shared, 1, 2, 3, 3, 5, as in published results.
	SharedPlace Ties = iota
	// PulledAgain: the equal pull again, in a pull-off (WAUSH 9, CLATPA, FLANT 5).
	PulledAgain
	// NextBest: the next longest of the entry's other class rounds decides (as in horse pulling at the same fair:
	// https://harfordfair.com/entries-contests/horse-pulling-contest/).
	NextBest
)

// TieRule says what becomes of ties, and down to which place it is worth pulling again.
type TieRule struct {
	Ties Ties
	// Places is the last place that is pulled again for; 0 for every place.
	Places int
}

// check says whether the rule contradicts itself or the set that it stands in.
func (t TieRule) check(r RuleSet) error {
	switch {
	case t.Ties > NextBest:
		return invalid("ties.are", "the rule set does not say what becomes of ties", "write shared, pulled_again or next_best")
	case t.Places < 0:
		return invalid("ties.places", "a place cannot be negative", "write the last place that is pulled again for, or 0 for all")
	case t.Places > 0 && t.Ties != PulledAgain:
		return contradiction("ties.places", "ties.are", "places belong to ties that are pulled again", "leave one of them out")
	case t.Ties == NextBest && r.Rounds < 2:
		return contradiction("ties.are", "rounds", "there is no next best where one figure is all there is", "have the best of two or more rounds count, or share the places")
	case t.Ties == NextBest && r.Count != BestOf:
		return contradiction("ties.are", "counts", "there is no next best where rounds are added", "have the best round count, or share the places")
	}
	return nil
}

// pulled reports whether an entry with this placing pulls again because of a tie.
func (t TieRule) pulled(p Placing) bool {
	return t.Ties == PulledAgain && p.Shared && (t.Places == 0 || p.Place <= t.Places)
}
