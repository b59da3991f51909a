package doc

import (
	"strings"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
)

// ResultOf tells what was decided in classes of an event, and with it no more of a person than the public pages show.
// Times are on the event's own clock, to the second.
func ResultOf(event domain.Event, classes []domain.Class) Result {
	result := Result{
		Schema: ResultSchemaPath, Version: resultVersion, Classes: make([]ResultClass, len(classes)),
		Event: ResultEvent{Name: event.Name, Slug: event.Slug, Place: event.Place, Zone: event.Zone},
	}
	zone := event.Location()
	for i := range classes {
		public := classes[i].Told()
		told := teller{class: &public, zone: zone}
		result.Classes[i] = told.result()
		result.Classes[i].plan(event, told)
	}
	return result
}

// teller tells of one class, on the clock of its event. It changes neither.
type teller struct {
	class *domain.Class
	zone  *time.Location
}

// result tells what the class itself knows; [ResultClass.plan] adds the rest.
func (t teller) result() ResultClass {
	c := t.class
	result := ResultClass{
		Name: c.Name, Slug: c.Slug, Decided: c.Phase() == domain.Decided, Draw: t.draw(), Standing: t.standing(),
		Sled: ResultSled{Name: c.Sled.Name, Gears: c.Sled.Gears, StartHoles: c.Sled.StartHoles},
		Rules: ResultRules{
			Name: c.Rules.Name, Title: c.Rules.Title, Unit: c.Rules.Unit().String(), Line: length(c.Rules.Line), Capped: c.Rules.Capped,
			Rounds: c.Rules.Rounds, Counts: wordFor(countWords, c.Rules.Count), LineWas: length(c.LineWas),
		},
		Rounds:   make([]ResultRound, len(c.Rounds)),
		Revision: c.Revision(), ProtestsUntil: t.at(c.ProtestsUntil()), Earlier: t.earlier(), Protests: t.protests(),
	}
	if o := c.Official; !o.Made.IsZero() {
		result.Official = &ResultOfficial{At: t.at(o.Made), Name: o.Name}
	}
	if c.Stopped != (domain.Stopped{}) {
		result.Stopped = &ResultStopped{At: t.at(c.Stopped.At), Reason: c.Stopped.Reason}
	}
	for i := range c.Rounds {
		result.Rounds[i] = t.round(&c.Rounds[i])
	}
	return result
}

// plan completes a class with what the programme of the event says of it. A session or a track that the event does not
// have leaves its members empty.
func (r *ResultClass) plan(event domain.Event, t teller) {
	for _, s := range event.Sessions {
		if s.ID == t.class.Session {
			r.Session, r.StartsAt = s.Name, t.at(s.Starts)
		}
	}
	for _, track := range event.Tracks {
		if track.ID == t.class.Track {
			r.Track = track.Name
		}
	}
}

// draw tells how the order came about, nil while the class is not drawn.
func (t teller) draw() *ResultDraw {
	d := t.class.Draw
	if d.Times == 0 {
		return nil
	}
	draw := &ResultDraw{Seed: d.Seed, DrawnAt: t.at(d.Drawn), Times: d.Times, Reason: d.Reason, Order: make([]string, len(d.Order))}
	for i, id := range d.Order {
		draw.Order[i] = t.number(id)
	}
	return draw
}

// standing tells the places as the domain ranks them, those without one at the end. An entry is on it from the moment
// it is entered.
func (t teller) standing() []ResultPlace {
	list := make([]ResultPlace, 0, len(t.class.Entries))
	points := t.points()
	for _, p := range t.class.Standing() {
		e := t.class.Entries[p.Row]
		list = append(list, ResultPlace{
			Place: known(p.Place), Shared: p.Shared, Entry: e.Number, Puller: e.Details.Puller, Vehicle: e.Details.Vehicle, Home: e.Details.Home,
			Total: length(p.Total), FullPull: p.FullPull, Withdrawn: p.Withdrawn, Again: p.Again, Remarks: t.remarks(e, p), Points: points[p.Row],
			Weighed: t.weighed(e.ID),
		})
	}
	return list
}

// points tells what each entry earned, at its index; nil for everybody where the rules give no points, and before the class
// is decided.
func (t teller) points() []*ResultPoints {
	list := make([]*ResultPoints, len(t.class.Entries))
	if !t.class.Rewards() || !t.class.Rules.Points.Given() {
		return list
	}
	for i, e := range t.class.Reward().Earned {
		list[i] = &ResultPoints{
			Total: e.Total().String(), Place: known(e.Place), ForPlace: e.ForPlace.String(), ForShowUp: e.ForShowUp.String(),
			ForHook: e.ForHook.String(), ForRegistration: e.ForRegistration.String(), Why: e.Why,
		}
	}
	return list
}

// remarks say what a reader of the standing should know about an entry beside its figure. There may be none, which is
// the empty list and not null.
//
//	["scratched: gearbox", "DQ in round 1: out of bounds"]
func (t teller) remarks(e domain.Entry, p domain.Placing) []string {
	remarks := []string{}
	var ranked Placed
	if ranked.rank(p); ranked.Note != "" {
		remarks = append(remarks, ranked.Note)
	}
	if e.Scratched != "" {
		remarks = append(remarks, "scratched: "+e.Scratched)
	}
	if e.Late {
		remarks = append(remarks, "entered after the draw")
	}
	for i := range t.class.Rounds {
		r := &t.class.Rounds[i]
		hook := r.HookOf(e.ID)
		if hook == nil || !hook.Result.Counts() {
			continue
		}
		if !hook.Result.Reached() {
			remarks = append(remarks, because(hook.Result.Outcome.String()+" in "+roundTitle(r.Name), hook.Result.Reason))
		}
		if hook.Corrected != "" {
			remarks = append(remarks, because("corrected in "+roundTitle(r.Name), hook.Corrected))
		}
	}
	return remarks
}

// because adds a reason where there is one.
func because(what, reason string) string {
	if reason == "" {
		return what
	}
	return what + ": " + reason
}

// round tells a round with all hooks that were made, those that do not count too, and no draft of a setting.
func (t teller) round(r *domain.Round) ResultRound {
	round := ResultRound{
		Name: r.Name.String(), TwoSettings: r.TwoSettings(), Settings: []ResultSetting{},
		LineUp: make([]ResultSlot, len(r.Lineup)), Hooks: make([]ResultHook, len(r.Hooks)),
	}
	for _, revision := range r.Revisions {
		if !revision.Draft() {
			round.Settings = append(round.Settings, t.setting(revision))
		}
	}
	for i, slot := range r.Lineup {
		round.LineUp[i] = ResultSlot{Order: i + 1, Entry: t.number(slot.Entry), Note: slot.Note, Out: slot.Out}
	}
	for i, hook := range r.Hooks {
		round.Hooks[i] = t.hook(hook)
	}
	return round
}

// setting tells a frozen setting with the times from and to which it was in force.
func (t teller) setting(r domain.Revision) ResultSetting {
	s := r.Setting
	return ResultSetting{
		Revision: r.Number, Reason: r.Reason, Box: weight(s.Box), Gear: s.Gear, StartHole: s.StartHole, Trip: length(s.Trip),
		Slabs: ResultSlabs{Left: s.Slabs.Left, Middle: s.Slabs.Middle, Right: s.Slabs.Right, Piles: piles(s.Piles)},
		Pan:   weight(s.Pan), Blades: s.Blades, PushDown: s.PushDown, Device: s.Device, SpeedLimit: speed(s.SpeedLimit), Note: s.Note,
		FrozenAt: t.at(r.Frozen), ClosedAt: t.at(r.Closed),
	}
}

// piles tells slabs by their weight.
func piles(p domain.Piles) []ResultPile {
	list := []ResultPile{}
	for _, pile := range p.List() {
		list = append(list, ResultPile{Weight: weight(pile.Weight), Left: pile.Slabs.Left, Middle: pile.Slabs.Middle, Right: pile.Slabs.Right})
	}
	return list
}

// hook tells a hook with the number of its entry and of the setting that it was pulled against.
func (t teller) hook(h domain.Hook) ResultHook {
	return ResultHook{
		Number: h.Number, Entry: t.number(h.Entry), Revision: h.Revision, Attempt: h.Attempt, Test: h.Test,
		Outcome: known(h.Result.Outcome), Distance: length(h.Result.Distance), Reason: h.Result.Reason, Cause: string(domain.CauseOf(h.Result.Reason)),
		Choice: known(h.Choice), Correction: h.Corrected, Noted: !h.Difference.IsZero(),
		TopSpeed: speed(h.Speeds.Top), LineSpeed: speed(h.Speeds.AtLine),
		CalledAt: t.at(h.Called), StartedAt: t.at(h.Started), EndedAt: t.at(h.Ended),
	}
}

// number is what is painted on the vehicle of an entry.
func (t teller) number(entry uuid.UUID) string { return t.class.Entry(entry).Number }

// at is a time on the clock of the event, or nil for none. Seconds are what an official's watch shows; the journal has
// more.
func (t teller) at(when time.Time) *time.Time {
	if when.IsZero() {
		return nil
	}
	return known(when.In(t.zone).Truncate(time.Second))
}

// known is a value, or nil for the zero one, which says that there is none.
func known[T comparable](value T) *T {
	var none T
	if value == none {
		return nil
	}
	return &value
}

// length is a distance, or nil for none.
func length(d domain.Distance) *Measure {
	return known(Measure{Value: d.Decimal(), Unit: d.Unit().String()})
}

// weight is a weight, or nil for none. The domain's commas are for people: "21,600" leaves as "21600".
func weight(w domain.Weight) *Measure {
	return known(Measure{Value: strings.ReplaceAll(w.Figures(), ",", ""), Unit: w.Unit()})
}

// speed is a speed, or nil for none.
func speed(v domain.Speed) *Measure {
	value, unit, _ := strings.Cut(v.String(), " ")
	return known(Measure{Value: value, Unit: unit})
}
