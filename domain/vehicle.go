package domain

import "github.com/google/uuid"

// VehicleTwice says whether one vehicle may hook twice in a class, with another driver. That one driver brings two
// vehicles is normal, and took second and third at a published event.
type VehicleTwice uint8

// Whether a vehicle may hook twice.
const (
	// OncePerClass: no (SEMP 2, NL-POEL, SCTPA 2).
	OncePerClass VehicleTwice = iota
	// PlacesTwice: yes, and each entry has its own place (CENTR, LSG 3).
	PlacesTwice
	// PlacesOnce: yes, and only the better of the two entries has a place (MAM, WOLV 2).
	PlacesOnce
)

// EntryRule says what is entered.
type EntryRule struct {
	VehicleTwice VehicleTwice
	// Least is the number of entries below which the class is not pulled as one; 0 where the rules give none. 2: TRICO,
	// 3: GREEN, 5: GSRA, 6: LATP.
	Least int
	// Below says what it is then, in the words of the book: an exhibition, show-up points only.
	Below string
}

// check says whether the rule contradicts itself.
func (e EntryRule) check() error {
	switch {
	case e.VehicleTwice > PlacesOnce:
		return invalid("entries.vehicle_twice", "the rule set does not say whether a vehicle may hook twice", "write no, yes or places_once")
	case e.Least < 0 || e.Least > maxFinal:
		return invalid("entries.least", "the least number of entries cannot be right", "write 2 or more, or leave it out")
	case e.Least == 0 && e.Below != "":
		return contradiction("entries.below", "entries.least", "nothing is below a number that is not given", "give least, or leave below out")
	}
	_, err := text("entries.below", e.Below)
	return err
}

// TooFew says that the class has fewer entries than its rules want, as a sentence for the desk, which decides; "" where
// it has enough.
func (c *Class) TooFew() string {
	rule := c.Rules.Entries
	if entered := len(c.standing()); entered >= rule.Least {
		return ""
	}
	if rule.Below == "" {
		return "these rules want more entries than there are"
	}
	return "these rules want more entries than there are; below that: " + rule.Below
}

// sameVehicle returns the entry under which a vehicle was first entered, given one of its entries; the nil id for the
// nil id. It refuses a vehicle that is entered already where the rules do not let it hook twice.
func (c *Class) sameVehicle(same uuid.UUID) (uuid.UUID, error) {
	if same == uuid.Nil {
		return same, nil
	}
	first := c.entry(same)
	switch {
	case first == nil:
		return same, notFound("the entry whose vehicle hooks again is not in this class", "choose one that is")
	case c.Rules.Entries.VehicleTwice == OncePerClass:
		return same, invalid("same", "under these rules a vehicle hooks once in a class", "enter another vehicle")
	case first.Same != uuid.Nil:
		return first.Same, nil
	default:
		return same, nil
	}
}

// vehicle names the vehicle of an entry for [Row]: the entry under which it was first entered.
func (e Entry) vehicle() string {
	if e.Same != uuid.Nil {
		return e.Same.String()
	}
	return e.ID.String()
}

// onePlace takes the place from every entry of a vehicle but its best, where the rules give a vehicle one place.
// Placings are sorted best first and not yet numbered; worths are by row.
func (t *Table) onePlace(placings []Placing, worths []worth) {
	if t.Rules.Entries.VehicleTwice != PlacesOnce {
		return
	}
	placed := make(map[string]bool)
	for i := range placings {
		p := &placings[i]
		vehicle := t.Rows[p.Row].Vehicle
		if vehicle == "" || worths[p.Row].class < worthLast {
			continue
		}
		if placed[vehicle] {
			p.Again, worths[p.Row].class = true, worthNone
		}
		placed[vehicle] = true
	}
}
