package domain

import (
	"fmt"
	"strconv"
)

// Points are championship points, counted in parts of which [pointParts] make one point, so that sums, comparisons
// and == are those of whole numbers. The points of tied places are shared, and equal entries must get equal points
// that add up to what was shared: thousandths would lose something of every third, and a fraction with its own
// denominator is neither comparable nor safe from overflow. With this unit up to 22 entries share without a rest; what
// more of them would lose is less than the millionth of a point for each.
type Points int64

// pointParts is the least number that every whole number up to 22 divides. The points of a season stay far from the end
// of 64 bits, which is at thirty thousand million points.
const pointParts = 232_792_560

// WholePoints returns so many points.
func WholePoints(n int) Points { return Points(n) * pointParts }

// String writes the points exactly where they have up to three decimals, and else with the rest as a fraction: "49",
// "12.5", "13 1/3", "-5".
func (p Points) String() string {
	sign := ""
	if p < 0 {
		sign, p = "-", -p
	}
	whole, rest := int64(p/pointParts), int64(p%pointParts)
	if rest == 0 {
		return sign + strconv.FormatInt(whole, 10)
	}
	if milli := rest * 1000; milli%pointParts == 0 {
		return sign + decimal{milli: whole*1000 + milli/pointParts, digits: shortest(milli / pointParts)}.String()
	}
	common := divisor(rest, pointParts)
	fraction := fmt.Sprintf("%d/%d", rest/common, pointParts/common)
	if whole == 0 {
		return sign + fraction
	}
	return fmt.Sprintf("%s%d %s", sign, whole, fraction)
}

// shortest returns how many of three decimals are needed.
func shortest(milli int64) uint8 {
	switch {
	case milli%100 == 0:
		return 1
	case milli%10 == 0:
		return 2
	default:
		return 3
	}
}

// divisor returns the greatest common divisor of two positive numbers, by which a fraction is shortened before it is
// written.
func divisor(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// Owner says whose points they are over a season: the vehicle's or the driver's.
type Owner uint8

// The owners of points.
const (
	// ToVehicle: they stay with the vehicle, whoever drives it (NATPA, HTP, RIVER, SCW, AMPI, CITP; with MMTT they
	// go along when it is sold).
	ToVehicle Owner = iota + 1
	// ToDriver: they are the regular driver's (GREEN).
	ToDriver
)

// TiePoints says what entries get that share a place.
type TiePoints uint8

// What tied entries get. Two at the top of 50, 48, 46:
const (
	// TieAverage: the points of the places that they take up, shared: 49 each (SCW 5).
	TieAverage TiePoints = iota + 1
	// TieFull: the points of the shared place for each: 50 (common practice, no published source).
	TieFull
	// TieLowest: those of the last of the places that they take up: 48 (common practice, no published source).
	TieLowest
)

// GuestPlaces says what the places of members are worth behind guests, who get no points.
type GuestPlaces uint8

// The worth of places behind guests.
const (
	// ClosedUp: guests are taken out and the members move up (AMPI, SCW 2, VTPA 3, RIVER, NGTPS).
	ClosedUp GuestPlaces = iota + 1
	// ActualPlaces: a place is worth what it was, "according to how it actually placed" (NATPA).
	ActualPlaces
)

// PointsRule is what a rule book says of points. The zero PointsRule gives none. docs/rules.md lists every field with
// the sources of its values.
//
// Points of a place are those of Places; every further place is Step less than the one before and never less than Floor.
// NATPA is Places 10, Step 1, Floor 0 with Hook 5: 15, 14, … 6 and 5 for everybody else that hooks. AMPI is Places
// 30, 27, 24, 21, 18, 15, 12, 9, 6 with Floor 3.
type PointsRule struct {
	// To says whose the points are; 0 in a set without points.
	To Owner
	// Places are the points of the first places, best first; not rising.
	Places []int
	// Step and Floor continue Places.
	Step, Floor int
	// Outside is what an entry with a place gets that was not in the pull-off, where one was held (NGTPS: 25 to who
	// was no finalist).
	Outside Award
	// ShowUp is for coming, Hook for hooking, Registration for having paid the entry.
	ShowUp, Hook, Registration int
	// HookMoved: hook points take a measurable pull (VTPA: an inch); otherwise hooking is enough (NATPA).
	HookMoved bool
	// DQ is what a disqualified entry without a place gets, and DQCauses what it gets for some causes instead.
	DQ       Award
	DQCauses []CauseAward
	// PullOffDQ is what an entry gets that keeps its place and was disqualified in a pull-off (SCW 6 and GREEN 7
	// leave it the points of its place).
	PullOffDQ Award
	// Broke is what an entry gets that hooked and broke without moving the sled (AMPI: 3; SCW 8: last place).
	Broke Award
	// BrokeBefore is for an entry that broke before it could hook (RENEG 8, RIVER), NotHooked for one that was
	// there and did not hook for another reason (OMTPA: 5).
	BrokeBefore, NotHooked Award
	// Late is what a late entry gets; anything but [AwardPlace] takes it out of the places like a guest (OPS: no
	// points).
	Late Award
	// Ties says what a shared place is worth, Guests what the places behind guests are.
	Ties   TiePoints
	Guests GuestPlaces
	// Stopped is for everybody who was there when the class was begun and not ended, NotRun when it was not begun
	// (MMTT: 6 and 0; SCW 25; CITP: none either way). [AwardPlace] lets what was pulled stand.
	Stopped, NotRun Award
	// Minimum is the number of entries present, guests among them, below which everybody who was there gets Below
	// instead (GREEN: 3). 0: no minimum.
	Minimum int
	Below   Award
}

// Given reports whether the rule set gives points at all.
func (p PointsRule) Given() bool { return p.To != 0 }

// namedAward is an award with the name of its field in docs/rules.md.
type namedAward struct {
	field string
	award Award
}

// awards lists the fields that say what an entry gets.
func (p PointsRule) awards() []namedAward {
	return []namedAward{
		{"outside", p.Outside}, {"dq", p.DQ}, {"pull_off_dq", p.PullOffDQ}, {"broke", p.Broke}, {"broke_before", p.BrokeBefore},
		{"not_hooked", p.NotHooked}, {"late", p.Late}, {"stopped", p.Stopped}, {"not_run", p.NotRun}, {"below", p.Below},
	}
}

// Check says whether the points contradict themselves, naming the field as docs/rules.md does; nil for the zero
// PointsRule.
func (p PointsRule) Check() error {
	if !p.Given() {
		return nil
	}
	for _, a := range p.awards() {
		if a.award.kind == 0 {
			return invalid("points."+a.field, "it is not said what is given", "write a word such as add_ons or a number")
		}
	}
	for _, n := range [...]struct {
		field  string
		number int
	}{{"step", p.Step}, {"floor", p.Floor}, {"show_up", p.ShowUp}, {"hook", p.Hook}, {"registration", p.Registration}, {"minimum", p.Minimum}} {
		if n.number < 0 || n.number > maxPoints {
			return invalid("points."+n.field, fmt.Sprintf("%d lies outside 0 to %d", n.number, maxPoints), "write a whole number within")
		}
	}
	switch {
	case p.Ties < TieAverage || p.Ties > TieLowest:
		return invalid("points.ties", "it is not said what a shared place is worth", "write average, full or lowest")
	case p.Guests != ClosedUp && p.Guests != ActualPlaces:
		return invalid("points.guests", "it is not said what a place behind a guest is worth", "write closed_up or actual")
	}
	return p.checkPlaces()
}

// checkPlaces checks the points of the places: a worse place never gives more than a better one.
func (p PointsRule) checkPlaces() error {
	for i, points := range p.Places {
		if points < 0 || points > maxPoints {
			return invalid("points.places", fmt.Sprintf("%d lies outside 0 to %d", points, maxPoints), "write whole numbers within")
		}
		if i > 0 && points > p.Places[i-1] {
			return invalid("points.places", fmt.Sprintf("place %d gives more than place %d", i+1, i), "write the points of the first place first")
		}
	}
	if last := len(p.Places) - 1; last >= 0 && p.Floor > p.Places[last] {
		return invalid("points.floor", fmt.Sprintf("the places after the list would give %d, more than the last in it", p.Floor),
			"write a floor that is not above the last of places")
	}
	for i, c := range p.DQCauses {
		for _, before := range p.DQCauses[:i] {
			if before.Cause == c.Cause {
				return invalid("points.dq_causes", fmt.Sprintf("%q stands twice", c.Cause), "say once what it gives")
			}
		}
	}
	return nil
}

// placePoints returns the points of a place; 0 for no place. A list that is empty gives the floor to every place. Under
// Places 20, 18, Step 2, Floor 10 (CITP):
//
//	place   1   2   3   4   5   6   7
//	points  20  18  16  14  12  10  10
func (p PointsRule) placePoints(place int) int {
	switch listed := len(p.Places); {
	case place <= 0:
		return 0
	case place <= listed:
		return p.Places[place-1]
	case listed == 0:
		return p.Floor
	default:
		return max(p.Floor, p.Places[listed-1]-p.Step*(place-listed))
	}
}
