package api

import (
	"time"

	"github.com/google/uuid"

	"clayline/domain"
)

// hook is one vehicle's run at the sled. Setting is the number of the revision it was pulled against, Attempt counts
// the entry's tries in the round, and Test says that the rules make it a test pull. A corrected hook has the new
// result, and the reason in Corrected; the journal has both.
type hook struct {
	ID        uuid.UUID  `json:"id"`
	Number    int        `json:"number"`
	Entry     uuid.UUID  `json:"entry"`
	Setting   int        `json:"setting"`
	Attempt   int        `json:"attempt"`
	Test      bool       `json:"test"`
	Called    time.Time  `json:"called"`
	Started   *time.Time `json:"started,omitempty"`
	Ended     *time.Time `json:"ended,omitempty"`
	Result    *result    `json:"result,omitempty"`
	Choice    string     `json:"choice,omitempty"`
	Corrected string     `json:"corrected,omitempty"`
	// Noted says that the sled's crew noted a difference; what it was is for staff.
	Noted  bool    `json:"noted,omitempty"`
	Speeds *speeds `json:"speeds,omitempty"`
}

// result is what came of a hook. A distance is left out where there is none: a full pull need not be measured past the
// line.
//
//	{"outcome": "measured", "distance": {"figures": "281.36", "unit": "ft"}}
//	{"outcome": "FP"}
//	{"outcome": "DQ", "reason": "out of bounds"}
type result struct {
	Outcome  string   `json:"outcome"`
	Distance *measure `json:"distance,omitempty"`
	Reason   string   `json:"reason,omitempty"`
}

// resultOf writes a result, nil while there is none.
func resultOf(r domain.Result) *result {
	if r.IsZero() {
		return nil
	}
	return &result{Outcome: r.Outcome.String(), Distance: distanceOf(r.Distance), Reason: r.Reason}
}

// hookOf writes a hook; times that have not come are left out.
func hookOf(h domain.Hook) hook {
	return hook{
		ID: h.ID, Number: h.Number, Entry: h.Entry, Setting: h.Revision, Attempt: h.Attempt, Test: h.Test, Called: h.Called.UTC(),
		Started: moment(h.Started), Ended: moment(h.Ended), Result: resultOf(h.Result), Choice: h.Choice.String(), Corrected: h.Corrected, Noted: !h.Difference.IsZero(),
		Speeds: speedsOf(h.Speeds),
	}
}

// outcomes are those that a program may store; the others come about by actions of their own. A hook made void, dropped
// or made again is none that a program sends as a result.
var outcomes = map[string]domain.Outcome{
	"measured": domain.Measured, "FP": domain.FullPull, "DQ": domain.Disqualified, "absent": domain.Absent,
}

// result reads what came of a hook. A measured one must have a distance, a full pull may have one, and an absence must
// not. Beside a disqualification it is where that happened: the rules of the class say whether it counts. Whether it is
// possible under them is asked of the domain.
func (o *object) result(name string) (r domain.Result) {
	inner := o.inner(name)
	if *o.wrong != nil {
		return r
	}
	word := inner.text("outcome", maxText)
	outcome, known := outcomes[word]
	if !known {
		inner.refuse("outcome", word+" is no outcome that is stored here", "write measured, FP, DQ or absent")
	}
	r = domain.Result{Outcome: outcome, Reason: inner.maybe("reason")}
	switch given := inner.has("distance"); {
	case given && outcome == domain.Absent:
		inner.refuse("distance", word+" has no distance", "leave it out")
	case given || outcome == domain.Measured:
		r.Distance = inner.distance("distance")
	}
	_ = inner.done() // kept for the whole body
	return r
}

// Where fields of the domain stand in bodies that have them elsewhere. A refusal of the domain about its field result
// is told at result.distance, where the program wrote it.
var (
	recordFields     = map[string]string{"result": "result.distance", "reason": "result.reason", "id": "next"}
	correctionFields = map[string]string{"result": "result.distance", "id": "next"}
	nextFields       = map[string]string{"id": "next"}
)

// readCall reads a call of the next puller. The body may be empty: who is next is a matter of the line-up, and the id
// of the new hook is derived when none is given.
func readCall(in *sent) deed {
	hook := in.fresh("id")
	return deed{action: domain.Call{Hook: hook}, named: named{Hook: &hook}}
}

// readStart reads that the hook of the address has begun to pull. There is nothing to say in the body.
func readStart(in *sent) deed {
	hook := in.param("hook")
	return deed{action: domain.Start{Hook: hook}, named: named{Hook: &hook}}
}

// readRecord reads a result for the hook of the address. Storing it calls the next puller in the same step, to the hook
// with the id next.
//
//	{"result": {"outcome": "measured", "distance": {"figures": "281.36", "unit": "ft"}}, "next": "9b…"}
func readRecord(in *sent) deed {
	hook, next, result := in.param("hook"), in.fresh("next"), in.body.result("result")
	return deed{
		action: domain.Record{Hook: hook, Result: result, Next: next}, named: named{Hook: &hook, Next: &next},
		sure: in.body.truth("confirmed"), fields: recordFields,
	}
}

// readSecond reads that the puller takes the second attempt that the rules give, which is the hook next, and where the
// sled stopped where somebody read it.
func readSecond(in *sent) deed {
	hook, next := in.param("hook"), in.fresh("next")
	var at domain.Distance
	if in.body.has("distance") {
		at = in.body.distance("distance")
	}
	return deed{action: domain.SecondAttempt{Hook: hook, Distance: at, Next: next}, named: named{Hook: &hook, Next: &next}, fields: nextFields}
}

// readAgain reads that the pull is to be made again, for a reason that lies with the sled or the track: {"reason":
// "light went red by itself", "places": 2}. Places is how many others pull before, 0 for at once.
func readAgain(in *sent) deed {
	hook, next := in.param("hook"), in.fresh("next")
	action := domain.Again{Hook: hook, Reason: in.body.text("reason", maxText), Places: in.body.count("places"), Next: next}
	return deed{action: action, named: named{Hook: &hook, Next: &next}, fields: nextFields}
}

// readDrop reads that the puller goes back in the line-up: {"reason": "belt came off", "places": 3}. The domain says
// whether the rules allow it and how far.
func readDrop(in *sent) deed {
	hook, next := in.param("hook"), in.fresh("next")
	action := domain.Drop{Hook: hook, Reason: in.body.text("reason", maxText), Places: in.body.count("places"), Next: next}
	return deed{action: action, named: named{Hook: &hook, Next: &next}, fields: nextFields}
}

// readCorrection reads a result in place of the one that is stored, and why. The reason is asked for each time, because
// people who saw the first figure will ask.
func readCorrection(in *sent) deed {
	hook, next, result := in.param("hook"), in.fresh("next"), in.body.result("result")
	return deed{
		action: domain.Correct{Hook: hook, Result: result, Reason: in.body.text("reason", maxText), Next: next},
		named:  named{Hook: &hook, Next: &next},
		sure:   in.body.truth("confirmed"), fields: correctionFields,
	}
}

// readVoid reads that a hook does not count, and why.
func readVoid(in *sent) deed {
	hook, next := in.param("hook"), in.fresh("next")
	action := domain.VoidHook{Hook: hook, Reason: in.body.text("reason", maxText), Next: next}
	return deed{action: action, named: named{Hook: &hook, Next: &next}, fields: nextFields}
}
