package draw

import (
	"crypto/sha256"
	"fmt"
	"math/big"
	"slices"
	"strconv"
)

// Tries is how many plain draws are made before the orders that keep the rules are counted.
const Tries = 1000

// Drawn is an order and what shows how it came about.
type Drawn struct {
	Order []int
	// Try is the number of the plain draw that was taken: 1 is the seed itself, 2 the seed with #2 behind it. 0 says
	// that the order was taken from the list of all orders that keep the rules.
	Try int
	// Place and Listed say which of the listed orders it is, from 0, and how many there are; nil unless Try is 0.
	Place, Listed *big.Int
	// Kept is how many others lie at least between two of each group, in the order of Rules.Groups: what was asked
	// for, or the most that could be kept.
	Kept []int
	// Proven says of each group that more cannot be kept by any order, beside what the others keep. Where less is kept
	// than was asked and it is false, the search was given up.
	Proven []bool
}

// Draw draws an order that keeps the rules: every order that does is equally likely. It returns a [Problem] for an
// empty seed and for rules that cannot be meant; rules that no order can keep are lowered, see [Drawn].
//
// The plain draw is made again, with #2, #3, … behind the seed, until an order keeps the rules. Those with a fixed
// place, or late, are not drawn: the others take the free places in the order of their hashes. Each draw is an order by
// chance among all, so that the first which keeps the rules is one by chance among those which do. With seed
// "dice 4 2 6" and 41 and 23 to be one apart at least, the draw of the seed is 41 7 23 and keeps it at once.
//
// Where [Tries] draws found none, the orders are counted. None: the rules are lowered. Some: one of them is taken, by
// its place in the list of all of them.
func Draw(seed string, labels []string, rules Rules) (Drawn, error) {
	seed = Clean(seed)
	if seed == "" {
		return Drawn{}, &Problem{"seed", "the seed is missing", "type words or dice that nobody could choose"}
	}
	if err := rules.Check(labels); err != nil {
		return Drawn{}, err
	}
	d := &drawing{seed: seed, labels: labels, rules: rules, places: rules.places(len(labels)), left: searchBound}
	for i := range labels {
		if !slices.Contains(d.places, i) {
			d.free = append(d.free, i)
		}
	}
	d.groups = make([][]int, len(labels))
	for i, g := range rules.Groups {
		for _, m := range g.Members {
			d.groups[m] = append(d.groups[m], i)
		}
	}
	return d.nearest(), nil
}

// drawing is one draw under way. free are the labels that are drawn, places who stands where beforehand; left is how
// much more may be searched.
type drawing struct {
	seed   string
	labels []string
	rules  Rules
	places []int
	free   []int
	left   int
	groups [][]int // of each label
}

// nearest draws with the rules as asked, or lowered where they cannot be kept. First all groups are lowered together,
// each to the most that all can have, at most what it asks; then each is raised alone as far as it goes, in the order
// of their labels. So no group goes without what it could have for the sake of another's more.
func (d *drawing) nearest() Drawn {
	asked := make([]int, len(d.rules.Groups))
	for i, g := range d.rules.Groups {
		asked[i] = g.Between
	}
	drawn, verdict := d.attempt(asked)
	if verdict == found {
		return drawn
	}
	for level := range slices.Max(asked) {
		kept := make([]int, len(asked))
		for i := range asked {
			kept[i] = min(asked[i], level)
		}
		lower, verdict := d.attempt(kept)
		if verdict != found {
			break
		}
		drawn = lower // at level 0 every order is one
	}
	proven := make([]bool, len(asked))
	for _, i := range d.rules.ranked(d.labels) {
		for drawn.Kept[i] < asked[i] {
			more := slices.Clone(drawn.Kept)
			more[i]++
			better, verdict := d.attempt(more)
			if verdict != found {
				proven[i] = verdict == none
				break
			}
			drawn = better
		}
	}
	drawn.Proven = proven
	return drawn
}

// verdict is what came of an attempt: an order, the proof that there is none, or neither.
type verdict int

const (
	found verdict = iota + 1
	none
	unknown
)

// attempt draws with so many others between two of each group.
func (d *drawing) attempt(kept []int) (Drawn, verdict) {
	drawn := Drawn{Kept: kept, Proven: make([]bool, len(kept))}
	c := newCounter(d, kept)
	if c.clash() {
		return drawn, none
	}
	for try := 1; try <= Tries; try++ {
		// The first try is always made, so that an attempt which asks for nothing finds its order.
		if d.left -= len(d.labels); d.left < 0 && try > 1 {
			return drawn, unknown
		}
		if drawn.Order = d.plain(try); d.keeps(drawn.Order, kept) {
			drawn.Try = try
			return drawn, found
		}
	}
	n, ok := c.count(c.start())
	switch {
	case !ok:
		return drawn, unknown
	case n.Sign() == 0:
		return drawn, none
	}
	drawn.Listed, drawn.Place = n, below(d.seed, n)
	drawn.Order = c.at(drawn.Place)
	return drawn, found
}

// keeps reports whether an order keeps all groups so far apart. It goes over the order once.
func (d *drawing) keeps(order, kept []int) bool {
	soonest := make([]int, len(kept)) // where the next of each group may stand
	for place, label := range order {
		for _, g := range d.groups[label] {
			if place < soonest[g] {
				return false
			}
			soonest[g] = place + kept[g] + 1
		}
	}
	return true
}

// keyed is a label with the hash that places it.
type keyed struct {
	key   [sha256.Size]byte
	label int
}

// plain makes the plain draw of a try: the free labels in the order of their hashes, on the free places.
func (d *drawing) plain(try int) []int {
	line := []byte(TrySeed(d.seed, try) + "|")
	keys := make([]keyed, len(d.free))
	for i, label := range d.free {
		keys[i] = keyed{sha256.Sum256(append(line, d.labels[label]...)), label}
	}
	slices.SortFunc(keys, byHash)
	order := slices.Clone(d.places)
	next := 0
	for place, label := range order {
		if label < 0 {
			order[place] = keys[next].label
			next++
		}
	}
	return order
}

// TrySeed is the seed that a try is drawn from: "dice 4 2 6", then "dice 4 2 6#2".
func TrySeed(seed string, try int) string {
	if try == 1 {
		return Clean(seed)
	}
	return Clean(seed) + "#" + strconv.Itoa(try)
}

// below returns a number by chance from 0 to n - 1. The hashes of "seed#list-1-1", "seed#list-1-2", … are read as one
// long number, of as many hashes as n has bits for; what is not below the largest multiple of n that fits is passed
// over for "seed#list-2-1" and so on, so that no number is more likely than another.
func below(seed string, n *big.Int) *big.Int {
	blocks := (n.BitLen() + 8*sha256.Size - 1) / (8 * sha256.Size)
	all := new(big.Int).Lsh(big.NewInt(1), uint(blocks*8*sha256.Size))
	limit := new(big.Int).Sub(all, new(big.Int).Mod(all, n))
	for try := 1; ; try++ {
		var digits []byte
		for block := 1; block <= blocks; block++ {
			hash := sha256.Sum256(fmt.Appendf(nil, "%s#list-%d-%d", seed, try, block))
			digits = append(digits, hash[:]...)
		}
		if x := new(big.Int).SetBytes(digits); x.Cmp(limit) < 0 {
			return x.Mod(x, n)
		}
	}
}
