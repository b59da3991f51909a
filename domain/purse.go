package domain

import (
	"cmp"
	"fmt"
	"slices"
)

// GuestMoney says whether guests are paid.
type GuestMoney uint8

// Whether guests are paid. Money is paid to who placed, unless a book says otherwise; no rule text was read that pays
// the purse of a class to members alone.
const (
	// GuestsPaid: like everybody else.
	GuestsPaid GuestMoney = iota + 1
	// GuestsPassed: not, and who placed behind them moves up.
	GuestsPassed
	// GuestsForfeit: not, and what they would have got stays with the organiser.
	GuestsForfeit
)

// StoppedPurse says what becomes of the purse of a class that was begun and not ended.
type StoppedPurse uint8

// What becomes of it.
const (
	// PurseByPlace: the places so far are paid.
	PurseByPlace StoppedPurse = iota + 1
	// PurseEqual: it is divided equally among all who were there (MMTT).
	PurseEqual
	// PurseKept: nothing is paid.
	PurseKept
)

// PurseRule is what a rule book says of prize money. The zero PurseRule pays none. The purse has up to two parts: the
// fixed prizes, and a pool of entry fees and added money that is split over the places.
//
// Prizes 150, 110, 90, 80, 70 are HARF's $500. Share 50 with Split 50, 30, 20 is a 50 % pay-back over three places.
type PurseRule struct {
	// Guests says whether guests are paid; 0 in a set without a purse.
	Guests GuestMoney
	// Prizes are fixed amounts for the first places (HARF, CENTR, LATP, MAM).
	Prizes []Money
	// Share is how many percent of the fees paid are paid back (50: two county fairs), OfEach what part of every fee
	// paid is (TMTPA: 10 of 20). Both are rounded down to the cent together, over all fees.
	Share  int
	OfEach Money
	// Added is what the promoter adds to the pool; AddedMembers keeps it to members, who then move up over guests
	// for that part alone (RENEG general 6).
	Added        Money
	AddedMembers bool
	// Split is how many percent of the pool each of the first places gets, each rounded down to the cent; the cents
	// left over by that go to the first place. Without a split the first place gets all. Less than 100 in all leaves
	// the rest with the organiser (HTP's season fund: 40, 30, 10).
	Split []int
	// Minimum is the number of entries present below which every amount is paid at Reduced percent, rounded down
	// (GSRT: 5 for full pay-out, else adjusted). 0: no minimum.
	Minimum, Reduced int
	// Stopped says what becomes of it when the class does not come to its end. A class that was never run pays
	// nothing.
	Stopped StoppedPurse
}

// Given reports whether the rule set pays a purse at all.
func (p PurseRule) Given() bool { return p.Guests != 0 }

// Check says whether the purse contradicts itself, naming the field as docs/rules.md does; nil for the zero PurseRule.
func (p PurseRule) Check() error {
	if !p.Given() {
		return nil
	}
	for _, n := range [...]struct {
		field              string
		number, least, max int
	}{{"share", p.Share, 0, 100}, {"reduced", p.Reduced, 0, 100}, {"minimum", p.Minimum, 0, maxPoints}} {
		if n.number < n.least || n.number > n.max {
			return invalid("purse."+n.field, fmt.Sprintf("%d lies outside %d to %d", n.number, n.least, n.max), "write a whole number within")
		}
	}
	whole := 0
	for _, part := range p.Split {
		if part < 1 || part > 100 {
			return invalid("purse.split", fmt.Sprintf("%d is no part of a hundred", part), "write percents such as 50, 30, 20")
		}
		whole += part
	}
	switch {
	case whole > 100:
		return invalid("purse.split", fmt.Sprintf("the parts make %d percent of the pool", whole), "write parts that make 100 at most")
	case p.Guests > GuestsForfeit:
		return invalid("purse.guests", "it is not said whether guests are paid", "write paid, passed or forfeit")
	case p.Stopped < PurseByPlace || p.Stopped > PurseKept:
		return invalid("purse.stopped", "it is not said what is paid when a class is stopped", "write place, equal or nothing")
	}
	for _, amount := range append(slices.Clone(p.Prizes), p.OfEach, p.Added) {
		if amount < 0 || amount > maxMoney {
			return invalid("purse", fmt.Sprintf("%s is no amount to pay", amount), "write amounts such as 150")
		}
	}
	return nil
}

// Payout is what a class pays. Paid and Kept make up Purse to the cent.
type Payout struct {
	// Purse is all there was to pay: the prizes of all places, the pool, reduced where too few came.
	Purse Money
	// Paid is what each entry gets, at the index of its row.
	Paid []Money
	// Kept stays with the organiser: prizes of places that nobody took, of guests who are not paid, and a share of the
	// pool that is not split.
	Kept Money
}

// Pay returns what each entry is paid. The standing is that of [Rank] over the rows, the competitors are at the indexes
// of its rows. Entries that share a place share the money of the places that they take up; what cannot be shared evenly
// goes to the lowest numbers first, a cent each (common practice, no published source; the same for points is SCW 5):
//
//	50, 30, 20 with two in second place   50.00, 25.00, 25.00
//	0.05 to three in first place           0.02,  0.02,  0.01
//
// An entry without a place is paid nothing. Only fees of entries that paid are in the pool.
func (p PurseRule) Pay(standing []Placing, rows []Row, competitors []Competitor, ending Ending) Payout {
	out := Payout{Paid: make([]Money, len(competitors))}
	if !p.Given() {
		return out
	}
	fixed, pool, added := p.amounts(competitors)
	all, members := together(fixed, p.split(pool)), p.split(added)
	if !p.AddedMembers {
		all, members = together(all, members), nil
	}
	for _, part := range [...]struct {
		amounts []Money
		guests  GuestMoney
	}{{all, p.Guests}, {members, GuestsPassed}} {
		switch {
		case ending == NeverRun || ending == StoppedEarly && p.Stopped == PurseKept:
		case ending == StoppedEarly && p.Stopped == PurseEqual:
			share(out.Paid, sum(part.amounts), present(rows, competitors, part.guests))
		default:
			payPlaces(out.Paid, part.amounts, takers(standing, competitors, part.guests), rows, competitors, part.guests)
		}
	}
	out.Purse = sum(fixed) + pool + added
	out.Kept = out.Purse - sum(out.Paid)
	return out
}

// together adds two lists of amounts place by place.
func together(a, b []Money) []Money {
	total := make([]Money, max(len(a), len(b)))
	copy(total, a)
	for i, amount := range b {
		total[i] += amount
	}
	return total
}

// amounts returns the fixed prizes, the pool of fees and the added money, reduced where too few came. Each is rounded
// down for itself, after everything was added up that belongs together: rounding fee by fee would take up to a cent from
// the pool for every entry. Three fees of 20.01 at 50 % make a pool of 30.01.
func (p PurseRule) amounts(competitors []Competitor) (fixed []Money, pool, added Money) {
	var fees Money
	paying, came := 0, 0
	for _, c := range competitors {
		if c.Paid {
			fees += c.Fee
			paying++
		}
		if c.Present {
			came++
		}
	}
	percent := 100
	if came < p.Minimum {
		percent = p.Reduced
	}
	fixed = make([]Money, len(p.Prizes))
	for i, prize := range p.Prizes {
		fixed[i] = prize.percent(percent)
	}
	back := fees.percent(p.Share) + p.OfEach*Money(paying)
	// More than the fees cannot come back of them: a part of each fee that is larger than a fee is cut to it.
	return fixed, min(back, fees).percent(percent), p.Added.percent(percent)
}

// split parts a pool over the places. The parts make up what the percents make of the pool to the cent: 1.00 in three
// parts of 33 % is 0.33, 0.33, 0.33, because 99 % of it is 0.99, and in parts of 34, 33, 33 it is 0.34, 0.33, 0.33.
func (p PurseRule) split(pool Money) []Money {
	if len(p.Split) == 0 {
		return []Money{pool}
	}
	parts, whole := make([]Money, len(p.Split)), 0
	for i, percent := range p.Split {
		parts[i] = pool.percent(percent)
		whole += percent
	}
	parts[0] += pool.percent(whole) - sum(parts)
	return parts
}

// takers lists the rows with a place, a list for each shared place, as far as they take part of the money up. Guests are
// in it unless they are passed. Places 1, 2, 2 with the second of them a guest:
//
//	paid, forfeit   one list of one row, one of two
//	passed          two lists of one row, and the guest's share of place 2 goes to the other
func takers(standing []Placing, competitors []Competitor, guests GuestMoney) [][]int {
	var groups [][]int
	last := 0
	for _, placing := range standing {
		if placing.Place == 0 || guests == GuestsPassed && competitors[placing.Row].Guest {
			continue
		}
		if placing.Place != last {
			groups, last = append(groups, nil), placing.Place
		}
		groups[len(groups)-1] = append(groups[len(groups)-1], placing.Row)
	}
	return groups
}

// payPlaces pays the amounts of the places to those who took them. Entries that share places take up as many amounts as they
// are, fewer where the amounts end: two in last paid place share one amount. The part of a guest who forfeits is reckoned
// like any other and not paid, so that nobody else gets more or less for it.
func payPlaces(paid, amounts []Money, groups [][]int, rows []Row, competitors []Competitor, guests GuestMoney) {
	next := 0
	for _, group := range groups {
		end := min(next+len(group), len(amounts))
		money := sum(amounts[min(next, end):end])
		next += len(group)
		byNumber(group, rows)
		for i, row := range group {
			if guests != GuestsForfeit || !competitors[row].Guest {
				paid[row] += money.even(len(group), i)
			}
		}
	}
}

// present lists the rows of those who came and may be paid, by number.
func present(rows []Row, competitors []Competitor, guests GuestMoney) []int {
	var came []int
	for row, c := range competitors {
		if c.Present && (!c.Guest || guests == GuestsPaid) {
			came = append(came, row)
		}
	}
	byNumber(came, rows)
	return came
}

// share pays equal parts of an amount, the odd cents to the first of the list; nobody to pay leaves it where it is.
func share(paid []Money, money Money, among []int) {
	for i, row := range among {
		paid[row] += money.even(len(among), i)
	}
}

// byNumber sorts rows by the numbers of their entries, so that an odd cent goes the same way each time.
func byNumber(group []int, rows []Row) {
	slices.SortFunc(group, func(a, b int) int {
		return cmp.Or(CompareNumbers(rows[a].Number, rows[b].Number), cmp.Compare(a, b))
	})
}
