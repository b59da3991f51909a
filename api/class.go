package api

import (
	"context"
	"encoding/json"
	"net/url"
	"slices"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
)

// class is everything public about a class. It is one document and not many small ones, so that a board that shows a
// class asks once, and what it shows is of one moment.
type class struct {
	versioned
	classLine
	Event   string          `json:"event"`
	Rules   json.RawMessage `json:"rules"`
	Entries []entry         `json:"entries"`
	Draw    *draw           `json:"draw,omitempty"`
	// Commitment stands until the draw that it is for.
	Commitment *commitment `json:"commitment,omitempty"`
	Rounds     []round     `json:"rounds"`
	Choice     *choice     `json:"choice,omitempty"`
	Advice     *advice     `json:"advice,omitempty"`
	LineWas    *measure    `json:"line_was,omitempty"`
	Stopped    *stopped    `json:"stopped,omitempty"`
	Due        *due        `json:"due,omitempty"`
	// Missed are full pullers who were in no pull-off and can be brought into the current one.
	Missed   []uuid.UUID `json:"missed,omitempty"`
	Standing []placing   `json:"standing"`
	// Earlier are the signatures that were taken away. ProtestsUntil is when the window for protests ends, where the
	// rules have a clock for it.
	Earlier       []signature `json:"earlier"`
	Protests      []protest   `json:"protests"`
	ProtestsUntil *time.Time  `json:"protests_until,omitempty"`
	// Weighings are what the scale showed; ToWeigh is who is to go over it after the hook and was not there yet.
	Weighings []weighing  `json:"weighings"`
	ToWeigh   []uuid.UUID `json:"to_weigh"`
}

// classLine is a class in a list. The track, the sled and the session are ids of the event, which has their names.
type classLine struct {
	Slug    string    `json:"slug"`
	ID      uuid.UUID `json:"id"`
	Name    string    `json:"name"`
	Session uuid.UUID `json:"session"`
	Track   uuid.UUID `json:"track"`
	// Starts is the fixed start, left out where there is none.
	Starts   *time.Time `json:"starts,omitempty"`
	Sled     uuid.UUID  `json:"sled"`
	Phase    string     `json:"phase"`
	Awaited  awaited    `json:"awaited"`
	Official *official  `json:"official,omitempty"`
	Revision int        `json:"revision"`
	Reopened int        `json:"reopened"`
}

// awaited says what a class waits for: kinds of actions, those on the track, and who is next. Next is left out while it
// depends on a choice.
//
//	"awaited": {"actions": ["result"], "hook": "6f…", "entry": "0b…", "next": "9b…"}
type awaited struct {
	Actions []string   `json:"actions"`
	Hook    *uuid.UUID `json:"hook,omitempty"`
	Entry   *uuid.UUID `json:"entry,omitempty"`
	Next    *uuid.UUID `json:"next,omitempty"`
}

// classList is a part of the list of classes.
type classList struct {
	versioned
	Classes []classLine `json:"classes"`
	Next    string      `json:"next,omitempty"`
}

// phases are the words for what a class waits for. They are a part of the interface: programs compare them.
var phases = map[domain.Phase]string{
	domain.Entering: "entering", domain.SettingDue: "setting-due", domain.Ready: "ready", domain.Hooking: "hooking",
	domain.ChoiceOpen: "choice-open", domain.RoundDue: "round-due", domain.PullOffDue: "pull-off-due", domain.Decided: "decided",
}

// expected are the actions that lead on from each phase, by their kinds in the journal. Only the usual way on is named:
// a class that is being pulled may be drawn anew, a hook made again, a setting reset, and a program that is to offer
// those too asks for them and reads the refusal.
var expected = map[domain.Phase][]string{
	domain.Entering: {"entry", "draw"}, domain.SettingDue: {"setting", "freeze"}, domain.Ready: {"call"}, domain.Hooking: {"result"},
	domain.ChoiceOpen: {"choice"}, domain.RoundDue: {"round"}, domain.PullOffDue: {"round"}, domain.Decided: {"official"},
}

// classLineOf writes a class as lists have it. It reads the phase off the class, so that a list and the class itself
// never differ about it.
func classLineOf(c *domain.Class) classLine {
	line := classLine{
		Slug: c.Slug, ID: c.ID, Name: c.Name, Session: c.Session, Track: c.Track, Starts: moment(c.Fixed), Sled: c.Sled.ID, Phase: phases[c.Phase()],
		Awaited: awaitedOf(c), Official: officialOf(c.Official), Revision: c.Revision(), Reopened: len(c.Earlier),
	}
	return line
}

// classLinesOf writes the classes in their order; none is the empty list and not null.
func classLinesOf(classes []domain.Class) []classLine {
	lines := make([]classLine, len(classes))
	for i := range classes {
		lines[i] = classLineOf(&classes[i])
	}
	return lines
}

// awaitedOf says what the class waits for. A class that is official waits for nothing, although it can be reopened; one
// with a protest that is undecided cannot be signed before.
func awaitedOf(c *domain.Class) awaited {
	told := awaited{Actions: expected[c.Phase()]}
	switch {
	case !c.Official.Made.IsZero():
		told.Actions = []string{}
	case c.Phase() == domain.Decided && slices.ContainsFunc(c.Protests, domain.Protest.Open):
		told.Actions = []string{"ruling"}
	}
	if on := c.OnTrack(); on != nil {
		told.Hook, told.Entry = &on.ID, &on.Entry
	}
	if pending := c.Pending(); pending != nil && c.Phase() == domain.ChoiceOpen {
		told.Hook, told.Entry = &pending.Hook.ID, &pending.Hook.Entry
		return told // who is next depends on the choice
	}
	if r := c.Current(); r != nil {
		if waiting := r.Waiting(); len(waiting) > 0 {
			told.Next = &waiting[0]
		}
	}
	return told
}

// class shows a class with everything public in it. Its entity tag is the version that a write may name in If-Match.
func (s *Server) class(c echo.Context) error {
	page, err := s.shelvedClass(c)
	if err != nil {
		return err
	}
	return servePage(c, page)
}

// shelvedClass takes a class from the shelf, or says that there is none. Whoever needs to know whether there is such a
// class asks here: for one that people look at it costs a look at the shelf.
func (s *Server) shelvedClass(c echo.Context) (*desk.Page, error) {
	return s.shelved(c, "class "+c.Param("event")+"/"+c.Param("class"), func(ctx context.Context) (document, error) {
		page, err := s.desk.ClassPage(ctx, ref(c))
		if err != nil {
			return nil, err
		}
		return classOf(lastNumber(page.Journal), page.Event.Slug, &page.Class)
	})
}

// classOf writes a class as it is after the journal line of the number version. The rule set is in it as it was when
// the class was planned, so that a reader can rank the class without asking for anything else. It fails when the rule
// set cannot be written, which would be a fault of ours. A distance that is kept back is not in it; see
// [domain.Class.Told].
func classOf(version int64, event string, c *domain.Class) (class, error) {
	rules, err := doc.WriteRuleSet(c.Rules)
	public := c.Told()
	told := class{
		versioned: versioned{version}, classLine: classLineOf(c), Event: event, Rules: rules, Entries: make([]entry, len(c.Entries)), Draw: drawOf(c.Draw), Commitment: commitmentOf(c.Promise),
		Rounds: make([]round, len(c.Rounds)), Choice: choiceOf(c), Due: dueOf(c), Missed: c.Missed(), Standing: placingsOf(&public),
		Advice: adviceOf(c), LineWas: distanceOf(c.LineWas), Stopped: stoppedOf(c.Stopped),
		Earlier: earlierOf(c), Protests: protestsOf(c), ProtestsUntil: moment(c.ProtestsUntil()),
		Weighings: weighingsOf(c), ToWeigh: toWeighOf(c),
	}
	for i, e := range c.Entries {
		told.Entries[i] = entryOf(e)
	}
	for i := range c.Rounds {
		told.Rounds[i] = roundOf(&public.Rounds[i])
	}
	return told, err
}

// classes lists the classes of an event in the order of its programme. How many come at once is fixed, so that only as
// many parts are kept as there are.
func (s *Server) classes(c echo.Context) error {
	place, err := cursorOf(c)
	if err != nil {
		return err
	}
	return s.public(c, "classes "+c.Param("event")+"/"+place, func(ctx context.Context) (document, error) {
		page, err := s.desk.EventPage(ctx, c.Param("event"))
		if err != nil {
			return nil, err
		}
		cut, next, err := part(page.Classes, place, usualLimit, func(c domain.Class) string { return c.Slug })
		return classList{versioned: versioned{lastNumber(page.Journal)}, Classes: classLinesOf(cut), Next: next}, err
	})
}

// planClass puts a class at the end of the event's programme. 201 names the address of the class, which is made of its
// name; a name whose address is taken is refused by the desk.
func (s *Server) planClass(c echo.Context) error {
	in, err := s.receive(c)
	if err != nil {
		return err
	}
	plan := readPlan(in)
	if err := in.body.done(); err != nil {
		return err
	}
	receipt, err := s.desk.PlanClass(c.Request().Context(), in.by, c.Param("event"), in.key, plan)
	if err != nil {
		return err
	}
	slug := domain.Slug(plan.Name)
	address := version1 + "/events/" + url.PathEscape(c.Param("event")) + "/classes/" + url.PathEscape(slug)
	return created(c, address, receipt, named{Class: slug, ID: &plan.Class})
}

// readPlan reads the plan of a class. The sled is named by its id alone: the event knows its gears and start holes.
//
//	{"name": "8,200 lb Field Stock", "session": "4c…", "track": "77…", "sled": "1e…", "rules": "capped-300ft",
//	 "kind": "truck"}
func readPlan(in *sent) domain.PlanClass {
	o := in.body
	return domain.PlanClass{
		Class: in.fresh("id"), Name: o.text("name", maxText), Session: o.id("session"), Track: o.id("track"),
		Sled: domain.Sled{ID: o.id("sled")}, Rules: readRules(o), Kind: o.maybe("kind"),
	}
}
