package api

import (
	"time"

	"github.com/google/uuid"

	"clayline/domain"
)

// hook is one vehicle's run at the sled.
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
}

// result is what came of a hook.
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

func hookOf(h domain.Hook) hook {
	return hook{
		ID: h.ID, Number: h.Number, Entry: h.Entry, Setting: h.Revision, Attempt: h.Attempt, Test: h.Test, Called: h.Called.UTC(),
		Started: moment(h.Started), Ended: moment(h.Ended), Result: resultOf(h.Result), Choice: h.Choice.String(), Corrected: h.Corrected,
	}
}

// outcomes are those that a program may store; the others come about by actions of their own.
var outcomes = map[string]domain.Outcome{
	"measured": domain.Measured, "FP": domain.FullPull, "DQ": domain.Disqualified, "absent": domain.Absent,
}

// result reads what came of a hook.
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
	reached := outcome == domain.Measured || outcome == domain.FullPull
	switch given := inner.has("distance"); {
	case given && !reached:
		inner.refuse("distance", word+" has no distance", "leave it out")
	case given || outcome == domain.Measured:
		r.Distance = inner.distance("distance")
	}
	_ = inner.done() // kept for the whole body
	return r
}

// Where fields of the domain stand in bodies that have them elsewhere.
var (
	recordFields     = map[string]string{"result": "result.distance", "reason": "result.reason", "id": "next"}
	correctionFields = map[string]string{"result": "result.distance", "id": "next"}
	nextFields       = map[string]string{"id": "next"}
)

// confirmed asks once about a distance that is hardly possible.
func confirmed(r domain.Result, sure bool) func(*domain.Class) error {
	return func(class *domain.Class) error {
		if why := class.Rules.Unlikely(r); why != "" && !sure {
			return invalid("result.distance", why, `look again; if it is right, send it with "confirmed": true`)
		}
		return nil
	}
}

func readCall(in *sent) deed {
	hook := in.fresh("id")
	return deed{action: domain.Call{Hook: hook}, named: named{Hook: &hook}}
}

func readStart(in *sent) deed {
	hook := in.param("hook")
	return deed{action: domain.Start{Hook: hook}, named: named{Hook: &hook}}
}

func readRecord(in *sent) deed {
	hook, next, result := in.param("hook"), in.fresh("next"), in.body.result("result")
	return deed{
		action: domain.Record{Hook: hook, Result: result, Next: next}, named: named{Hook: &hook, Next: &next},
		check: confirmed(result, in.body.truth("confirmed")), fields: recordFields,
	}
}

func readSecond(in *sent) deed {
	hook, next := in.param("hook"), in.fresh("next")
	return deed{action: domain.SecondAttempt{Hook: hook, Next: next}, named: named{Hook: &hook, Next: &next}, fields: nextFields}
}

func readAgain(in *sent) deed {
	hook, next := in.param("hook"), in.fresh("next")
	action := domain.Again{Hook: hook, Reason: in.body.text("reason", maxText), Places: in.body.count("places"), Next: next}
	return deed{action: action, named: named{Hook: &hook, Next: &next}, fields: nextFields}
}

func readDrop(in *sent) deed {
	hook, next := in.param("hook"), in.fresh("next")
	action := domain.Drop{Hook: hook, Reason: in.body.text("reason", maxText), Places: in.body.count("places"), Next: next}
	return deed{action: action, named: named{Hook: &hook, Next: &next}, fields: nextFields}
}

func readCorrection(in *sent) deed {
	hook, next, result := in.param("hook"), in.fresh("next"), in.body.result("result")
	return deed{
		action: domain.Correct{Hook: hook, Result: result, Reason: in.body.text("reason", maxText), Next: next},
		named:  named{Hook: &hook, Next: &next},
		check:  confirmed(result, in.body.truth("confirmed")), fields: correctionFields,
	}
}

func readVoid(in *sent) deed {
	hook, next := in.param("hook"), in.fresh("next")
	action := domain.VoidHook{Hook: hook, Reason: in.body.text("reason", maxText), Next: next}
	return deed{action: action, named: named{Hook: &hook, Next: &next}, fields: nextFields}
}
