package main

import (
	"context"
	"crypto/rand"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
)

// inventedEvent and inventedClass are the event of the demo and its class that is being pulled.
const (
	inventedEvent = "Tarn Hollow Harvest Pull"
	inventedClass = "8,200 lb Field Stock"
)

// inventedNote stands on the setting of a pull-off that was chosen with the estimate. It is public, and so has nothing that
// is predicted: what the sled does, and not what anybody would pull.
const inventedNote = "Chosen with the what-if, one gear up from round 1: top-out at 202 ft in place of 230 ft."

// inventedSled describes the sled of the invented event; no such sled was ever built.
const inventedSled = `{
  "name": "Plumb Bob", "gears": 4, "start_holes": 3,
  "wheelbase": "23 ft", "frame_weight": "16400 lb", "frame_center": "7 ft", "pan_weight": "2800 lb", "box_weight": "1500 lb",
  "box_start": "0.4 ft", "box_stop": "22.5 ft", "holes": ["0 ft", "0.8 ft", "1.6 ft"],
  "slabs": {"kinds": [{"weight": "1800 lb", "count": 14}], "left": 6, "middle": 2, "right": 6, "most": "25200 lb"},
  "drive": {"tire_circumference": "10.2 ft", "axle_ratio": 3.7, "transfer_ratio": 0.22, "sprocket_teeth": 9, "chain": 160, "gears": [0.62, 0.7, 0.775, 0.88]},
  "pushdown": {"delay": "0 ft", "ramp": "18 ft", "share": 1},
  "devices": ["laser", "tape"], "light": {"red": ["pan", "push-down", "box-brake", "wheel-brakes"]}
}`

// invented is a class of the invented event: who is entered, and what happens to it, step by step. A step is a result
// as on a class sheet, or one of the words of [player.step]. The steps follow the drawn order, which the seed decides:
// changing a seed or an entry changes who a step is about. Settings are written as [readInvented] reads them, one for
// each round that is begun. session is the place of the class's session in the programme, from 0.
type invented struct {
	name, rules string
	session     int
	seed        string // "" leaves the class undrawn
	settings    []string
	entries     []string // number|puller|vehicle|home
	steps       []string
}

// inventedClasses are the programme of the invented event: a floating class that is done, a capped one that was
// decided in a pull-off, one in the middle of its first round, one drawn, and two open for entries, one of them
// in metres. Nobody in it is a real person, vehicle or place.
func inventedClasses() []invented {
	return []invented{
		{
			name: "5,500 lb Antique", rules: "floating-ft", session: 0, seed: "harvest supper 5 1 3",
			settings: []string{"14400 lb, 8 slabs, gear 2, hole 3, trip 182"},
			entries: []string{
				"3|Orla Penrose|Grey Mule|Lower Marsh", "14|Ansel Byrd|Two Cent Corn|Kettle Bridge", "22|Hattie Voss|Rusty Hinge|Wrenfield",
				"28|Col Mabry|Old Patience|Sallow Creek", "35|Ines Tolliver|Barn Find|Kettle Bridge", "52|Bram Okoro|Sunday Hat|Dunmore Flats",
			},
			steps: []string{"298.4", "keep", "311.92", "287.05", "311.92", "absent at a wedding", "304.6",
				"protest 14 left wheel over the side line", "turned_down the flagman stood beside it", "sign Ada Flagg",
				"reopen the tape of 28 was read from the wrong side", "correct 28 300.85", "sign Ada Flagg"},
		},
		{
			name: "6,200 lb Hill Stock", rules: "capped-300ft", session: 0, seed: "coin heads heads tails",
			settings: []string{"18000 lb, 10 slabs, gear 3, hole 2, trip 190", "18000 lb, 10 slabs, gear 4, hole 2, trip 176; " + inventedNote},
			entries: []string{
				"8|Thea Larkin|Plain Jane|Wrenfield", "17|Dov Castellan|Ditch Lily|Sallow Creek", "31|Wim Harrow|Cold Porridge|Lower Marsh",
				"44|June Abara|Quarter Past|Dunmore Flats", "61|Ferris Oakes|Fence Mender|Kettle Bridge", "70|Nell Strand|Nine Acres|Wrenfield",
				"88|Abel Quist|Hay Fever|Tarn Hollow",
			},
			steps: []string{"279.15", "last", "FP", "line 88 10.6 mph", "291.38", "FP 304.20", "line 17 15.1 mph", "drop belt came off", "DQ lost a weight",
				"FP", "line 8 13.6 mph", "242.77", "286.9",
				"open", "287.34", "309.62", "301.5", "protest 8 weights not bolted down"},
		},
		{
			name: inventedClass, rules: "capped-300ft", session: 1, seed: "dice 4 2 6, crowd says 17",
			settings: []string{"21600 lb, 12 slabs, gear 3, hole 2, trip 198"},
			entries: []string{
				"41|Maud Farrow|Brindle Ox|Wrenfield", "7|Ellis Tarrant|Late Hay|Lower Marsh", "23|Jonas Weir|Stone Boat|Kettle Bridge",
				"12|Pia Holm|Sunday Plough|Sallow Creek", "5|Ravi Anand|Long Acre|Wrenfield", "38|Cora Lindqvist|Gravel Psalm|Dunmore Flats",
				"19|Tom Okafor|Nettle King|Lower Marsh", "30|Ida Brandt|Slow Thunder|Tarn Hollow", "11|Greta Moss|Copper Kettle|Wrenfield",
				"27|Sam Whitlock|Fen Tiger|Lower Marsh", "33|Nils Aker|Half Moon|Dunmore Flats", "7b|Ellis Tarrant|Early Hay|Lower Marsh",
				"16|Bea Colton|Dry Creek|Sallow Creek", "48|Hugh Tansley|Third Cutting|Kettle Bridge",
			},
			steps: []string{"281.36", "keep", "263.10", "FP", "again sled, light went red by itself", "254.77", "DQ out of bounds",
				"296.41", "FP", "second", "188.02"},
		},
		{
			name: "6,200 lb Four-Wheel Trucks", rules: "capped-300ft", session: 1, seed: "dice 1 6 3, crowd says 40",
			entries: []string{
				"104|Lena Ashby|Gate Left Open|Wrenfield", "110|Marek Dunn|Second Mortgage|Sallow Creek", "117|Opal Reyes|Borrowed Time|Lower Marsh",
				"121|Stig Halloran|Mud Almanac|Tarn Hollow", "133|Vera Pike|Short Straw|Kettle Bridge",
			},
		},
		{
			name: "3.6 t Visiting Tractors", rules: "best-of-two-100m", session: 2,
			entries: []string{"201|Joost Veldkamp|Klaver Vier|Oostmeer", "202|Anke Riis|Hestesko|Norrevang", "203|Luca Ferri|Terra Rossa|Pian Lungo"},
		},
		{name: "10,000 lb Open", rules: "floating-ft", session: 2, entries: []string{"301|Rhea Stanhope|Loud Hymn|Tarn Hollow"}},
	}
}

// Pace of the invented event: how long any action takes, and how much longer a step of a class.
const (
	inventedPause = 15 * time.Second
	inventedHook  = 200 * time.Second
	// inventedEvening is how long ago the class that is being pulled began.
	inventedEvening = 45 * time.Minute
)

// loader plays the invented event on a desk whose clock it sets, so that the times in the journal are those of
// a day.
type loader struct {
	desk  *desk.Desk
	now   time.Time
	event domain.Event
}

// loadInvented plays the invented event through the desk, as people would have, so that it ends about now.
// Everything in it therefore obeys the rules, and its journal is one that people could have written.
func loadInvented(ctx context.Context, store desk.Store, now time.Time) error {
	l := &loader{now: now.Add(-3 * time.Hour)}
	l.desk = desk.New(store, func() time.Time { l.now = l.now.Add(inventedPause); return l.now }, rand.Reader)
	if err := l.plan(ctx, now); err != nil {
		return err
	}
	var players []*player
	for _, class := range inventedClasses() {
		p, err := l.enter(ctx, class)
		if err != nil {
			return fmt.Errorf("the invented class %s: %w", class.name, err)
		}
		players = append(players, p)
	}
	for _, p := range players {
		if p.session == 1 && l.now.Before(now.Add(-inventedEvening)) {
			l.now = now.Add(-inventedEvening)
		}
		if err := p.play(ctx); err != nil {
			return fmt.Errorf("the invented class %s: %w", p.name, err)
		}
	}
	return nil
}

// plan puts the event on the programme: an afternoon and an evening today, a day tomorrow, on the event's own
// clock.
func (l *loader) plan(ctx context.Context, now time.Time) error {
	sled, err := doc.ParseSledCard([]byte(inventedSled))
	if err != nil {
		return err
	}
	sled.ID = uuid.New()
	l.event = domain.Event{
		ID: uuid.New(), Name: inventedEvent, Place: "Tarn Hollow Fairground", Zone: "America/Chicago",
		Tracks: []domain.Track{{ID: uuid.New(), Name: "Track 1"}},
		Sleds:  []domain.Sled{sled},
	}
	zone := l.event.Location()
	start := now.Add(-3 * time.Hour).In(zone).Truncate(time.Hour)
	next := time.Date(start.Year(), start.Month(), start.Day()+1, 11, 0, 0, 0, zone)
	for _, s := range []struct {
		starts time.Time
		part   string
		curfew time.Time
	}{{start, "first session", time.Time{}}, {start.Add(2 * time.Hour), "second session", start.Add(7 * time.Hour).UTC()}, {next, "all day", time.Time{}}} {
		l.event.Sessions = append(l.event.Sessions, domain.Session{ID: uuid.New(), Name: s.starts.Weekday().String() + " " + s.part, Starts: s.starts.UTC(), Curfew: s.curfew})
	}
	_, err = l.desk.PlanEvent(ctx, desk.Program(), uuid.New(), l.event)
	return err
}

// enter plans one class and enters its pullers, as a desk does in the days before. It fails for a rule set that there
// is not, and for an entry that the domain refuses: the demo is held to the rules too.
func (l *loader) enter(ctx context.Context, class invented) (*player, error) {
	rules, err := doc.ReadyMadeRuleSet(class.rules)
	if err != nil {
		return nil, err
	}
	if rules.Weight, err = inventedLimit(class.name); err != nil {
		return nil, err
	}
	receipt, err := l.desk.PlanClass(ctx, desk.Program(), domain.Slug(inventedEvent), uuid.New(), domain.PlanClass{
		Class: uuid.New(), Session: l.event.Sessions[class.session].ID, Track: l.event.Tracks[0].ID, Name: class.name,
		Rules: rules, Sled: l.event.Sleds[0],
	})
	if err != nil {
		return nil, err
	}
	p := &player{loader: l, invented: class, class: receipt.Class}
	for _, entry := range class.entries {
		f := strings.Split(entry, "|")
		details := domain.Details{Puller: f[1], Vehicle: f[2], Home: f[3]}
		if err := p.do(ctx, domain.AddEntry{Entry: uuid.New(), Number: f[0], Details: details}); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// player does the steps of one class. Its settings are those still to be written, one a round.
type player struct {
	*loader
	invented
	class domain.Class // as it is now
}

// play draws the class and does its steps. It does nothing where there is no seed, and stops after the draw
// where there are no steps.
func (p *player) play(ctx context.Context) error {
	if p.seed == "" {
		return nil
	}
	if err := p.weigh(ctx); err != nil {
		return err
	}
	if err := p.do(ctx, domain.DrawClass{Round: uuid.New(), Seed: p.seed}); err != nil || len(p.steps) == 0 {
		return err
	}
	if err := p.begin(ctx); err != nil {
		return err
	}
	for _, step := range p.steps {
		if err := p.step(ctx, step); err != nil {
			return fmt.Errorf("step %q: %w", step, err)
		}
	}
	return nil
}

// do does one action as the program itself and keeps the class as it is then, which the next step is about. Each gets
// an id of its own: nothing here is sent twice.
func (p *player) do(ctx context.Context, a domain.Action) error {
	receipt, err := p.desk.Act(ctx, desk.Program(), desk.Ref{Event: domain.Slug(inventedEvent), Class: p.class.Slug}, uuid.New(), a)
	if err == nil {
		p.class = receipt.Class
	}
	return err
}

// begin writes and freezes the next of the settings for the current round and calls the first puller: the three steps
// that people do before a round. There must be a setting left.
func (p *player) begin(ctx context.Context) error {
	setting, err := readInvented(p.settings[0])
	if err != nil {
		return err
	}
	p.settings = p.settings[1:]
	round := p.class.Current().ID
	for _, a := range []domain.Action{
		domain.DraftSetting{Round: round, Setting: setting}, domain.FreezeSetting{Round: round, Revision: 1}, domain.Call{Hook: uuid.New()},
	} {
		if err := p.do(ctx, a); err != nil {
			return err
		}
	}
	return nil
}

// step does one step: open, keep, last, second, again REASON, drop REASON, line NUMBER SPEED, or a result as on a class
// sheet. Each takes
// the time of a hook. Words about a hook need one on the track; keep and last need a choice that is open. What is done
// once nobody is left to hook, [player.after] does.
//
//	"281.36"                       a distance in the unit of the class
//	"again sled, light went red"   the same puller once more
//	"open"                         the next round, its setting and its first call
//	"line 17 15.1 mph"             the speed at the line that was read of the last hook of a number
func (p *player) step(ctx context.Context, step string) error {
	p.now = p.now.Add(inventedHook)
	word, reason, _ := strings.Cut(step, " ")
	switch word {
	case "open":
		name, _ := p.class.RoundDue()
		if err := p.do(ctx, domain.OpenRound{Round: uuid.New(), Name: name}); err != nil {
			return err
		}
		return p.begin(ctx)
	case "keep", "last":
		option, err := domain.ParseOption(word)
		if err != nil {
			return err
		}
		return p.do(ctx, domain.Choose{Hook: p.class.Pending().Hook.ID, Option: option, Next: uuid.New()})
	case "line":
		number, read, _ := strings.Cut(reason, " ")
		speed, err := domain.ParseSpeed(read)
		if err != nil {
			return err
		}
		return p.do(ctx, domain.ReadSpeed{Hook: p.class.Current().HookOf(p.entry(number).ID).ID, AtLine: speed})
	}
	if p.class.OnTrack() == nil {
		return p.after(ctx, word, reason)
	}
	hook := p.class.OnTrack().ID
	switch word {
	case "second":
		return p.do(ctx, domain.SecondAttempt{Hook: hook, Next: uuid.New()})
	case "again":
		return p.do(ctx, domain.Again{Hook: hook, Reason: reason, Next: uuid.New()})
	case "drop":
		return p.do(ctx, domain.Drop{Hook: hook, Reason: reason, Next: uuid.New()})
	}
	result, err := domain.ParseResult(step, p.class.Rules.Unit())
	if err != nil {
		return err
	}
	return p.do(ctx, domain.Record{Hook: hook, Result: result, Next: uuid.New()})
}

// readInvented reads "21600 lb, 12 slabs, gear 3, hole 2, trip 198", with a note behind a semicolon: slabs lie half left,
// half right, and the trip point is in feet. What the text does not say is the same for all. Of an odd number the right side has one more.
func readInvented(s string) (domain.Setting, error) {
	var box, each int
	text, note, _ := strings.Cut(s, "; ")
	setting := domain.Setting{Device: "laser", Blades: "1 in", Note: note}
	var trip int
	if _, err := fmt.Sscanf(text, "%d lb, %d slabs, gear %d, hole %d, trip %d", &box, &each, &setting.Gear, &setting.StartHole, &trip); err != nil {
		return setting, err
	}
	setting.Slabs = domain.Slabs{Left: each / 2, Right: each - each/2}
	var err error
	if setting.Box, err = domain.ParseWeight(fmt.Sprintf("%d lb", box)); err != nil {
		return setting, err
	}
	setting.Trip, err = domain.ParseDistance(fmt.Sprint(trip), domain.Foot)
	return setting, err
}
