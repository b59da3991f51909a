//go:build !js

package webui

import (
	"fmt"
	"net/url"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/webui/templates"
)

// testAct reads whom the sled operator chose to make the test hook.
func testAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	entry, err := id(values, templates.FieldTest)
	return domain.PickTest{Entry: entry}, err
}

// lineAct reads where the full-pull line is moved to.
func lineAct(class *domain.Class, values url.Values) (domain.Action, error) {
	line, err := domain.ParseDistance(values.Get(templates.FieldLine), class.Rules.Unit())
	return domain.MoveLine{Line: line, Reason: values.Get(templates.FieldReason)}, atField(templates.FieldLine, err)
}

// stopAct reads why a class is ended before its end.
func stopAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	return domain.StopClass{Reason: values.Get(templates.FieldReason)}, nil
}

// resumeAct reads why a class that was stopped goes on.
func resumeAct(_ *domain.Class, values url.Values) (domain.Action, error) {
	return domain.ResumeClass{Reason: values.Get(templates.FieldReason)}, nil
}

// courseOf offers what the rules leave to the officials while a class is pulled, each only where it can be done now.
func courseOf(e domain.Event, class *domain.Class, base string, no *refused) templates.Course {
	var course templates.Course
	if stopped := class.Stopped; stopped != (domain.Stopped{}) {
		course.Stopped = "stopped " + clock(e, stopped.At) + ": " + stopped.Reason
		if class.Official.Made.IsZero() {
			course.Resume = no.make("resume", base+"resume", []string{templates.FieldReason})
		}
		return course
	}
	if class.Current() == nil || class.Phase() == domain.Decided {
		return course
	}
	course.Stop, course.Effect = no.make("stop", base+"stop", []string{templates.FieldReason}), stopEffect(class)
	for _, entry := range class.TestPullers() {
		course.Test = no.make("test", base+"test", []string{templates.FieldTest})
		course.Pullers = append(course.Pullers, templates.Option{Value: entry.String(), Text: named(class.Entry(entry)), Typed: true})
	}
	for _, line := range class.LinesToMoveTo() {
		course.Line = no.make("line", base+"line", []string{templates.FieldLine, templates.FieldReason})
		course.Lines = append(course.Lines, templates.Option{Value: line.String(), Text: line.String()})
		course.LineNow = fmt.Sprintf("It lies at %s. Under these rules it is set after %s of the first round at the latest; results that stand are read again against it.",
			class.Rules.Line, counted(class.Rules.Moving.After, "hook"))
	}
	return course
}

// stopEffect says what would stand of the class if it were stopped now, before anybody presses it.
func stopEffect(class *domain.Class) string {
	words := map[domain.StoppedEffect]string{
		domain.CompleteRounds: "Under these rules what was pulled to the end of a round stands.",
		domain.NothingStands:  "Under these rules a class that was not completed gives nobody anything.",
		domain.AsPulled:       "Under these rules every hook that counts stands, whoever has not hooked yet.",
	}[class.Rules.Stopped]
	stopped, err := domain.Decide(*class, domain.StopClass{Reason: "to see what stands"}, class.Draw.Drawn)
	if err != nil || class.Rules.Stopped == domain.NothingStands {
		return words
	}
	placed := 0
	for _, p := range stopped.Standing() {
		if p.Place > 0 {
			placed++
		}
	}
	switch placed {
	case 0:
		return words + " As it is now, nobody has a place then."
	case 1:
		return words + " As it is now, one entry has a place then."
	default:
		return words + fmt.Sprintf(" As it is now, %d entries have a place then.", placed)
	}
}

// sameVehicles offers the entries whose vehicle may hook again with another driver; none where the rules do not let it.
func sameVehicles(class *domain.Class) []templates.Option {
	if class.Rules.Entries.VehicleTwice == domain.OncePerClass {
		return nil
	}
	list := []templates.Option{{Text: "a vehicle of its own"}}
	for _, e := range class.Entries {
		if e.Same == uuid.Nil {
			list = append(list, templates.Option{Value: e.ID.String(), Text: "the same vehicle as number " + e.Number})
		}
	}
	return list
}

// sameVehicle reads whose vehicle an entry hooks with; the nil id for one of its own, and where nobody was asked.
func sameVehicle(values url.Values) (uuid.UUID, error) {
	if values.Get(templates.FieldSame) == "" {
		return uuid.Nil, nil
	}
	return id(values, templates.FieldSame)
}

// kindOptions lists the kinds of vehicles for which one of the rule sets has a restart line of its own; none where no
// set has any. Whether the set that is chosen has the kind is the domain's to say.
func kindOptions(sets []domain.RuleSet) []templates.Option {
	var list []templates.Option
	known := map[string]bool{}
	for _, set := range sets {
		for _, kind := range set.Kinds() {
			if !known[kind] {
				list = append(list, templates.Option{Value: kind, Text: kind})
			}
			known[kind] = true
		}
	}
	if len(list) == 0 {
		return nil
	}
	return append([]templates.Option{{Text: "no kind of its own"}}, list...)
}
