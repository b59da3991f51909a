package domain

import (
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
)

// WeighTime says when the rules want a vehicle on the scale.
type WeighTime uint8

// The times. Whatever they say, a vehicle may be weighed at any time before the result is official.
const (
	// WeighBefore: before the hook, as most books have it.
	WeighBefore WeighTime = iota + 1
	// WeighAfter: after the hook and not before (WOLV 1), at once (CHEL 11).
	WeighAfter
	// WeighBoth: before and after, every vehicle (GSRA).
	WeighBoth
	// WeighOnRequest: winners, on request of any of the first three or of the judges (PINE 10).
	WeighOnRequest
)

// Overweight says what the rules advise for a vehicle that is too heavy, or lighter than the least. The officials decide.
type Overweight uint8

// What becomes of such a vehicle.
const (
	// OverDisqualified: it is disqualified (CHEL 11; NO 1.6).
	OverDisqualified Overweight = iota + 1
	// OverClassUp: it may go up one class (NO 1.6, SE-VET 12). Who is too light belongs in another class as well.
	OverClassUp
	// OverExhibition: it may pull as an exhibition, as a vehicle that failed tech may (LSG 4, TMTPA 5).
	OverExhibition
)

// WeightRule is the weight limit of a class and how it is enforced. The zero WeightRule weighs nobody. It advises: no
// hook is ever refused because of a weight.
type WeightRule struct {
	Limit     Weight
	Tolerance Weight // what a vehicle may be over the limit; the zero Weight is none
	// Least is what a vehicle must be, the zero Weight for none. With the class minimum as Limit too and 100 lb as
	// Tolerance it is WOLV 1: after the hook, the class minimum or up to 100 lb above it.
	Least Weight
	When  WeighTime
	Tries int // attempts at the scale before the hook: 2 (NO 1.6, SE-VET 12); 0: as many as are wanted
	Over  Overweight
	// WithDriver: the driver is weighed with the vehicle (SCTPA, GPP, NO, UCTCC).
	WithDriver bool
}

// check looks for what contradicts. Only a limit can be over or within.
func (w WeightRule) check() error {
	switch {
	case w == (WeightRule{}):
		return nil
	case w.Limit.IsZero() || w.Limit.value.milli == 0:
		return invalid("weight.limit", "the rule set says how to weigh and not up to which weight", "give the limit, such as 8500 lb")
	case !w.Tolerance.IsZero() && w.Tolerance.metric != w.Limit.metric:
		return invalid("weight.tolerance", "the tolerance and the limit are in different units", "give both in "+w.Limit.Unit())
	case !w.Least.IsZero() && w.Least.heavier(w.Most()):
		return contradiction("weight.least", "weight.limit", "no vehicle can be as heavy as the least and within the limit", "write a least weight up to "+w.Most().String())
	case w.When < WeighBefore || w.When > WeighOnRequest:
		return invalid("weight.when", "the rule set does not say when vehicles are weighed", "write before, after, both or on_request")
	case w.Over < OverDisqualified || w.Over > OverExhibition:
		return invalid("weight.over", "the rule set does not say what becomes of a vehicle that is too heavy", "write disqualified, class_up or exhibition")
	case w.Tries < 0 || w.Tries > 9:
		return invalid("weight.tries", "a vehicle has 0 to 9 tries at the scale", "write 0 for as many as are wanted")
	}
	return nil
}

// WantsBefore reports whether the rules want every vehicle weighed before its hook; WantsAfter, after it.
func (w WeightRule) WantsBefore() bool { return w.When == WeighBefore || w.When == WeighBoth }

// WantsAfter is explained with [WeightRule.WantsBefore].
func (w WeightRule) WantsAfter() bool { return w.When == WeighAfter || w.When == WeighBoth }

// Most returns the heaviest that a vehicle may be: limit and tolerance together, in the unit of the limit.
func (w WeightRule) Most() Weight {
	most := w.Limit
	most.value.milli += w.Tolerance.value.milli
	most.value.digits = max(most.value.digits, w.Tolerance.value.digits)
	return most
}

// Within reports whether a weight is within limit and tolerance, and not below the least. It compares exactly across
// units: 8,500 lb is 3,855.535145 kg, so that 3,855.5 kg is within and 3,855.6 kg is not.
func (w WeightRule) Within(weight Weight) bool { return !weight.heavier(w.Most()) && !w.Light(weight) }

// Light reports whether a weight is below the least.
func (w WeightRule) Light(weight Weight) bool { return !w.Least.IsZero() && w.Least.heavier(weight) }

// Reading is what the scale showed for a vehicle.
type Reading struct {
	ID     uuid.UUID
	Entry  uuid.UUID
	Weight Weight
	After  bool // weighed after its hook
	At     time.Time
	// Misread is why the reading does not count, "" while it does.
	Misread string
}

// Weigh writes down what the scale showed. After is said by who stands at the scale, because a vehicle that is weighed
// again for a pull-off has hooked and is weighed before.
type Weigh struct {
	Reading uuid.UUID
	Entry   uuid.UUID
	Weight  Weight
	After   bool
}

// decide takes any reading before the result is official, also one more than the rules give tries: what the scale
// showed is a fact, and what follows is for the officials.
func (a Weigh) decide(c *Class, at time.Time) error {
	entry := c.entry(a.Entry)
	switch {
	case c.Rules.Weight == (WeightRule{}):
		return wrongState("under the rules of this class nothing is weighed", "plan the class with a weight limit")
	case entry == nil:
		return notFound("there is no such entry in this class", "reload the page")
	case a.Reading == uuid.Nil || c.reading(a.Reading) != nil:
		return invalid("id", "the reading has no id of its own", "give a new one")
	case a.Weight.IsZero() || a.Weight.value.milli == 0:
		return invalid("weight", "the weight is missing", "type what the scale shows, such as 8480")
	}
	c.Readings = append(c.Readings, Reading{ID: a.Reading, Entry: a.Entry, Weight: a.Weight, After: a.After, At: at})
	return nil
}

// Misread makes a reading not count, with a reason: it was typed wrong, or for another vehicle. It gives the try back.
type Misread struct {
	Reading uuid.UUID
	Reason  string
}

// decide keeps the reading in the record.
func (a Misread) decide(c *Class, _ time.Time) error {
	reason, err := required("reason", "the reason", a.Reason)
	if err != nil {
		return err
	}
	r := c.reading(a.Reading)
	switch {
	case r == nil:
		return notFound("there is no such reading in this class", "reload the page")
	case r.Misread != "":
		return wrongState("that reading does not count already", "nothing is left to do")
	}
	r.Misread = reason
	return nil
}

// reading returns the address of a reading, or nil.
func (c *Class) reading(id uuid.UUID) *Reading {
	if i := slices.IndexFunc(c.Readings, func(r Reading) bool { return r.ID == id }); i >= 0 {
		return &c.Readings[i]
	}
	return nil
}

// Weighing is how an entry stands at the scale: its last reading before and after its hook, the zero Reading for none,
// and how often it was tried before.
type Weighing struct {
	Before, After Reading
	Tries         int
}

// Weighing returns how an entry stands at the scale. A reading after the hook counts while the vehicle has not hooked
// again since, because only then it tells what was hooked.
func (c *Class) Weighing(entry uuid.UUID) Weighing {
	var w Weighing
	hooked := c.hookedAt(entry)
	for _, r := range c.Readings {
		switch {
		case r.Entry != entry || r.Misread != "":
		case !r.After:
			w.Before = r
			w.Tries++
		case !r.At.Before(hooked):
			w.After = r
		}
	}
	return w
}

// hookedAt returns when the entry's last hook with a distance ended, the zero time for none.
func (c *Class) hookedAt(entry uuid.UUID) (last time.Time) {
	for _, r := range c.Rounds {
		for _, h := range r.Hooks {
			if h.Entry == entry && h.Result.Reached() && h.Ended.After(last) {
				last = h.Ended
			}
		}
	}
	return last
}

// Weighed reports whether the entry has shown what the rules want of it by now: a weight within the limit before its
// hook, and after it where they want that and it has hooked.
func (c *Class) Weighed(entry uuid.UUID) bool {
	w, rule := c.Weighing(entry), c.Rules.Weight
	good := func(r Reading) bool { return !r.Weight.IsZero() && rule.Within(r.Weight) }
	switch {
	case rule.WantsBefore() && !good(w.Before):
		return false
	case rule.WantsAfter():
		return good(w.After)
	default:
		return rule.WantsBefore()
	}
}

// TriesLeft returns how many attempts at the scale an entry has before its hook; -1 where the rules count none.
func (c *Class) TriesLeft(entry uuid.UUID) int {
	if c.Rules.Weight.Tries == 0 {
		return -1
	}
	return max(c.Rules.Weight.Tries-c.Weighing(entry).Tries, 0)
}

// ToWeigh returns who is to go over the scale after the hook and was not there yet, in class order: where the rules
// weigh after the hook, everybody who hooked (CHEL 11, GSRA, WOLV 1). Elsewhere it is the first puller and everybody who
// took the lead or came to share it, so that whoever wins was weighed: common practice, recommended in
// https://yesterdaystractors.com/cgi-bin/viewit.cgi?bd=ttalk&th=368028 and no rule.
func (c *Class) ToWeigh() []uuid.UUID {
	if c.Rules.Weight == (WeightRule{}) {
		return nil
	}
	led := c.led()
	return slices.DeleteFunc(c.classOrder(), func(id uuid.UUID) bool {
		wanted := c.Rules.Weight.WantsAfter() || led[id]
		return !wanted || c.hookedAt(id).IsZero() || !c.Weighing(id).After.Weight.IsZero()
	})
}

// led says who stood first at any moment, alone or with others, going by the hooks that count now. The first puller
// with a distance did.
func (c *Class) led() map[uuid.UUID]bool {
	led := make(map[uuid.UUID]bool)
	before := *c
	before.Rounds = nil
	for _, r := range c.Rounds {
		hooks := r.Hooks
		r.Hooks = nil
		before.Rounds = append(before.Rounds, r)
		for _, h := range hooks {
			if !h.Result.Reached() {
				continue
			}
			now := &before.Rounds[len(before.Rounds)-1]
			now.Hooks = append(now.Hooks, h)
			for _, p := range Rank(before.table(len(before.Rounds))) {
				if id := c.Entries[p.Row].ID; p.Place == 1 && id == h.Entry {
					led[id] = true
				}
			}
		}
	}
	return led
}

// OffWeight is an entry that the scale found too heavy or too light in a way that the rules have an answer to.
type OffWeight struct {
	Entry   uuid.UUID
	Reading Reading
	// Light: it is below the least weight, and not over limit and tolerance.
	Light bool
	// By is how much it is off, in the unit of the limit it missed where it is light and else in that of the reading,
	// rounded up to thousandths.
	By Weight
}

// OffWeights returns who is too heavy or too light now, in class order: after the hook, with a distance that stands; or
// before it with no try left, while it has not hooked. What the rules advise is [WeightRule.Over]; whether it is done, the
// officials decide.
func (c *Class) OffWeights() []OffWeight {
	if c.Rules.Weight == (WeightRule{}) {
		return nil
	}
	var list []OffWeight
	rule := c.Rules.Weight
	for _, id := range c.classOrder() {
		w, hooked := c.Weighing(id), !c.hookedAt(id).IsZero()
		reading := w.After
		if reading.Weight.IsZero() && !hooked && c.TriesLeft(id) == 0 && c.Entry(id).Scratched == "" {
			reading = w.Before
		}
		switch shown := reading.Weight; {
		case shown.IsZero() || rule.Within(shown) || reading.After && !hooked:
		case rule.Light(shown):
			list = append(list, OffWeight{Entry: id, Reading: reading, Light: true, By: rule.Least.over(shown)})
		default:
			list = append(list, OffWeight{Entry: id, Reading: reading, By: shown.over(rule.Most())})
		}
	}
	return list
}

// over returns how much w is over another weight, in the unit of w, rounded up to thousandths where the units differ.
// It relies on w being heavier.
func (w Weight) over(other Weight) Weight {
	difference, thousandth := w.exact()-other.exact(), Weight{value: decimal{milli: 1}, metric: w.metric}.exact()
	excess := Weight{metric: w.metric, given: true}
	excess.value.milli = (difference + thousandth - 1) / thousandth
	excess.value.digits = max(w.value.digits, other.value.digits)
	if w.metric != other.metric {
		excess.value.digits = 3
	}
	return excess
}

// weighWords and overWords are the words of rule sets and messages.
var (
	weighWords = map[WeighTime]string{WeighBefore: "before", WeighAfter: "after", WeighBoth: "both", WeighOnRequest: "on_request"}
	overWords  = map[Overweight]string{OverDisqualified: "disqualified", OverClassUp: "class_up", OverExhibition: "exhibition"}
)

// String returns the word of a rule set.
func (t WeighTime) String() string { return weighWords[t] }

// String returns the word of a rule set.
func (o Overweight) String() string { return overWords[o] }

// Advice says what these rules have for a vehicle that is off its weight, as the second half of a sentence: "under these rules
// it is disqualified".
func (o Overweight) Advice() string {
	switch o {
	case OverClassUp:
		return "under these rules it may go up one class"
	case OverExhibition:
		return "under these rules it may pull as an exhibition, without a place"
	default:
		return "under these rules it is disqualified"
	}
}

// Says tells in words how far an entry is off: "20 lb over the 8,510 lb that are allowed", "15 lb under the 3,500 lb that
// are asked for".
func (o OffWeight) Says(rule WeightRule) string {
	if o.Light {
		return fmt.Sprintf("%s under the %s that are asked for", o.By, rule.Least)
	}
	return fmt.Sprintf("%s over the %s that are allowed", o.By, rule.Most())
}

// Advice says what these rules have for the vehicle; see [Overweight.Advice]. A class up is no way out for who is light.
func (o OffWeight) Advice(rule WeightRule) string {
	if o.Light && rule.Over == OverClassUp {
		return "under these rules it does not belong in this class"
	}
	return rule.Over.Advice()
}
