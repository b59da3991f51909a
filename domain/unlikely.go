package domain

import (
	"fmt"

	"github.com/google/uuid"
)

// Unlikely says which figures of an action are hardly possible in the class, each with its field and why, so that a surface
// asks once before the action is done; nil when there is nothing to ask. Each is a question and no rule: nothing here refuses
// the action, and the Fix is empty because it is the surface's to say how a question is answered.
//
//	Record 2873.4 ft under a line at 300 ft       result: "2873.4 ft lies far beyond the track"
//	Weigh 82 lb under a limit of 8,500 lb         weight: "82 lb is less than half of the limit of 8,500 lb"
//	DraftSetting with its trip at 1980 ft         trip: "1980 ft lies beyond the full-pull line at 300 ft, so that nothing trips before it"
func (c *Class) Unlikely(a Action) []*Error {
	switch a := a.(type) {
	case Record:
		return c.unlikelyResult(a.Hook, a.Result)
	case Correct:
		return c.unlikelyResult(a.Hook, a.Result)
	case Weigh:
		return c.Rules.Weight.unlikely(a.Weight)
	case DraftSetting:
		return append(c.unlikelyTrip(a), unlikelySpeed("speed_limit", a.Setting.SpeedLimit, Speed{})...)
	case ReadSpeed:
		var limit Speed
		if r, h := c.find(a.Hook); h != nil {
			limit = r.limit(*h)
		}
		return append(unlikelySpeed("top", a.Top, limit), unlikelySpeed("at_line", a.AtLine, limit)...)
	default:
		return nil
	}
}

// unlikelyResult asks about the distance of a result. A figure beyond one and a half times the full-pull line lies past
// the run-off of any published track: a 300 ft track with its staging area and run-off is 420 to 450 ft in all
// (http://ottpa.net/rulesgeneral.html), and the longest published results are near 376 ft. It catches the lost decimal
// point, 2873.4 for 287.34. Where the hook ends at the line the sled stops soon after it, so that a tenth past it is asked
// about there (common practice, no published source). A figure with more decimals than the rules give the device was mistyped
// too.
func (c *Class) unlikelyResult(hook uuid.UUID, result Result) []*Error {
	d := result.Distance
	if d.IsZero() {
		return nil
	}
	line, ends := c.Rules.Line, false
	if r, _ := c.find(hook); r != nil {
		line, ends = c.Rules.LineOf(r.Name), c.Rules.EndsAtLine(r.Name)
	}
	switch {
	case 2*d.nanometres() > 3*line.nanometres():
		return doubt("result", d.String()+" lies far beyond the track")
	case ends && 10*d.nanometres() > 11*line.nanometres():
		return doubt("result", fmt.Sprintf("%s lies far past the full-pull line at %s, where this hook ends", d, line))
	case c.Rules.Measure.Decimals > 0 && int(d.value.digits) > c.Rules.Measure.Decimals:
		return doubt("result", fmt.Sprintf("%s has more decimals than the %d of the device", d, c.Rules.Measure.Decimals))
	}
	return nil
}

// unlikely asks about a reading of less than half of the limit, or of the least where there is one, and of more than one and
// a half times the limit: vehicles are built and ballasted towards the limit of their class (common practice, no published
// source). It catches a figure too few or too many, 820 or 82000 for 8200, and kilograms typed for pounds.
func (w WeightRule) unlikely(weight Weight) []*Error {
	switch {
	case w.Limit.IsZero() || weight.IsZero():
		return nil
	case !w.Least.IsZero() && 2*weight.exact() < w.Least.exact():
		return doubt("weight", fmt.Sprintf("%s is less than half of the least of %s", weight, w.Least))
	case w.Least.IsZero() && 2*weight.exact() < w.Limit.exact():
		return doubt("weight", fmt.Sprintf("%s is less than half of the limit of %s", weight, w.Limit))
	case 2*weight.exact() > 3*w.Limit.exact():
		return doubt("weight", fmt.Sprintf("%s is more than one and a half times the limit of %s", weight, w.Limit))
	}
	return nil
}

// unlikelyTrip asks about a trip point beyond the line of the round, which a crew may mean as "it never trips", and which is
// otherwise a lost decimal point (common practice, no published source).
func (c *Class) unlikelyTrip(a DraftSetting) []*Error {
	line := c.Rules.Line
	if r := c.Current(); r != nil {
		line = c.Rules.LineOf(r.Name)
	}
	if a.Setting.Trip.Compare(line) <= 0 {
		return nil
	}
	return doubt("trip", fmt.Sprintf("%s lies beyond the full-pull line at %s, so that nothing trips before it", a.Setting.Trip, line))
}

// fastest is a speed that no vehicle reaches with a sled behind it: the speeds that limits are about are below 40 mph
// (common practice, no published source).
var fastest = Speed{value: decimal{milli: 100_000}, given: true}

// unlikelySpeed asks about a speed beyond [fastest], and about a reading beyond three times the limit, which has lost its
// decimal point: 184 for 18.4.
func unlikelySpeed(field string, speed, limit Speed) []*Error {
	switch {
	case speed.Compare(fastest) > 0:
		return doubt(field, speed.String()+" is faster than any vehicle pulls a sled")
	case !limit.IsZero() && speed.micrometres() > 3*limit.micrometres():
		return doubt(field, fmt.Sprintf("%s is more than three times the limit of %s", speed, limit))
	}
	return nil
}

// doubt asks about one figure.
func doubt(field, why string) []*Error { return []*Error{{Kind: Invalid, Field: field, Message: why}} }
