package webui

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
	"clayline/webui/templates"
)

// journalLines tells the end of a journal in words, in the given order. A line about a class is told with what
// the class has by now: the payload holds ids, and the names to them are in the class.
func journalLines(e domain.Event, classes []domain.Class, lines []desk.Line) []templates.JournalLine {
	told := make([]templates.JournalLine, len(lines))
	for i, l := range lines {
		told[i] = templates.JournalLine{
			Number: strconv.FormatInt(l.Number, 10), Time: clock(e, l.At), Who: l.Role, Device: l.Device, What: whatHappened(domain.Class{}, l),
		}
		// The program itself is no device that somebody named, and every language has a word for it.
		if l.Role == "" && l.Device == desk.Program().Device {
			told[i].Who, told[i].Device = l.Device, ""
		}
		for _, c := range classes {
			if c.ID != l.Subject {
				continue
			}
			told[i].What, told[i].Photo = whatHappened(c, l), photoOfLine(e, c, l.Kind, l.Payload)
			if len(classes) > 1 {
				told[i].Class = c.Name
			}
		}
	}
	return told
}

// plainKinds are the kinds of lines that need no more words. What is not here and not an action of the domain
// is told by its kind.
var plainKinds = map[string]string{
	"event": "event planned", "season": "season written", "pass": "entry link made", "enter": "a device entered", "leave": "a pass was given back", "revoke": "a pass was taken away",
	"class": "class planned", "official": "the result was made official", "place": "moved to another session or track", "fixed-start": "given another fixed start", "setting": "setting written", "freeze": "setting frozen",
}

// whatHappened tells one line of a class's journal. A payload that cannot be read is told by its kind: a page
// must not fail for an old line.
func whatHappened(c domain.Class, l desk.Line) string {
	if words, ok := plainKinds[l.Kind]; ok {
		return words
	}
	if words := eventHappened(l); words != "" {
		return words
	}
	action, err := doc.DecodeAction(l.Kind, l.Payload)
	if err != nil {
		return l.Kind
	}
	switch a := action.(type) {
	case domain.AddEntry:
		if a.Same != uuid.Nil {
			return "entered " + a.Number + ", the same vehicle as " + c.Entry(a.Same).Number
		}
		return "entered " + a.Number
	case domain.Scratch:
		return "scratched " + c.Entry(a.Entry).Number + ": " + a.Reason
	case domain.Attend:
		return attendWords(c, a)
	case domain.DrawClass:
		return "drawn with seed " + a.Seed
	case domain.Commit:
		return joined("commitment to the draw published: "+a.Hash, a.Reason)
	case domain.Swap:
		return c.Entry(a.Entry).Number + " and " + c.Entry(a.With).Number + " changed places: " + a.Reason
	case domain.ResetSetting:
		return "setting reset: " + a.Reason
	case domain.Reopen:
		return "the result was opened again: " + a.Reason
	case domain.Weigh:
		return "weighed " + c.Entry(a.Entry).Number + ": " + a.Weight.String() + map[bool]string{true: " after the hook"}[a.After]
	case domain.Misread:
		return "a reading of the scale does not count: " + a.Reason
	case domain.LodgeProtest:
		return "protest against " + c.Entry(a.Entry).Number + ": " + a.About
	case domain.DecideProtest:
		return protestDecided(c, a)
	case domain.OpenRound:
		return "opened " + roundName(a.Name)
	case domain.BringIn:
		return "brought " + c.Entry(a.Entry).Number + " into the pull-off: " + a.Reason
	case domain.PickTest:
		return "chosen to make the test hook: " + c.Entry(a.Entry).Number
	case domain.MoveLine:
		return "full-pull line moved to " + a.Line.String() + ": " + a.Reason
	case domain.StopClass:
		return "class stopped: " + a.Reason
	case domain.ResumeClass:
		return "class goes on: " + a.Reason
	default:
		return hookHappened(c, action)
	}
}

// protestDecided tells what was decided: "protest against 7 turned down: both wheels were in".
func protestDecided(c domain.Class, a domain.DecideProtest) string {
	words := "protest " + rulingWords(a.Ruling)
	for _, p := range c.Protests {
		if p.ID == a.Protest {
			words = "protest against " + c.Entry(p.Entry).Number + " " + rulingWords(a.Ruling)
		}
	}
	if a.Reason != "" {
		words += ": " + a.Reason
	}
	return words
}

// hookHappened tells what was done to a hook; "" for an action that has no words.
func hookHappened(c domain.Class, action domain.Action) string {
	switch a := action.(type) {
	case domain.Call:
		return "called " + hookedBy(c, a.Hook)
	case domain.Record:
		return resultWords(a.Result) + " for " + hookedBy(c, a.Hook) + judged(c, a)
	case domain.Choose:
		return hookedBy(c, a.Hook) + " chose: " + optionWords(a.Option)
	case domain.Start:
		return hookedBy(c, a.Hook) + " started"
	case domain.NoteDifference:
		return "noted of " + hookedBy(c, a.Hook) + ": " + differenceWords(domain.Difference{What: a.What, Words: a.Words})
	case domain.ReadSpeed:
		return "read of " + hookedBy(c, a.Hook) + ": " + speedWords(domain.Speeds{Top: a.Top, AtLine: a.AtLine})
	case domain.SayWhere:
		return c.Entry(a.Entry).Number + " in the line-up: " + whereWords(a.Where)
	case domain.SayFlag:
		return "flag told of " + hookedBy(c, a.Hook) + ": " + flagWords(a.Call, a.Reason)
	case domain.SayReady:
		return readyWords(a) + ", before " + hookedBy(c, a.Hook)
	case domain.VoidHook:
		return "voided " + hookedBy(c, a.Hook) + ": " + a.Reason
	case domain.SecondAttempt:
		if !a.Distance.IsZero() {
			return "second attempt for " + hookedBy(c, a.Hook) + ", after " + a.Distance.String()
		}
		return "second attempt for " + hookedBy(c, a.Hook)
	case domain.Again:
		return hookedBy(c, a.Hook) + " hooks again: " + a.Reason
	case domain.Drop:
		return hookedBy(c, a.Hook) + " dropped: " + a.Reason
	case domain.AttachPhoto:
		return "photo of the reading attached to " + hookedBy(c, a.Hook)
	case domain.Correct:
		return "corrected " + hookedBy(c, a.Hook) + " to " + resultWords(a.Result) + ": " + a.Reason
	default:
		return ""
	}
}

// judged says what the rules made of a disqualification: that its distance counts all the same; "" where they made
// nothing of it. What was stored stands before it, so that both can be read.
func judged(c domain.Class, a domain.Record) string {
	round, h := c.Find(a.Hook)
	if h == nil || a.Result.Outcome != domain.Disqualified {
		return ""
	}
	settled, err := c.Rules.Settle(round.Name, a.Result)
	if err != nil || settled.Outcome == domain.Disqualified {
		return ""
	}
	return "; under these rules " + settled.String() + " counts"
}

// hookedBy names a hook by its number on the vehicle: "41 (hook 1, round 1)".
func hookedBy(c domain.Class, hook uuid.UUID) string {
	round, h := c.Find(hook)
	if h == nil {
		return "a hook"
	}
	return fmt.Sprintf("%s (hook %d, %s)", c.Entry(h.Entry).Number, h.Number, roundName(round.Name))
}

// resultWords writes a result for reading: "281.36 ft", "full pull 312.44 ft", "DQ, out of bounds".
func resultWords(r domain.Result) string {
	switch {
	case r.Outcome == domain.Measured:
		return r.Distance.String()
	case r.Outcome == domain.FullPull && !r.Distance.IsZero():
		return "full pull " + r.Distance.String()
	case r.Outcome == domain.FullPull:
		return "full pull"
	case r.Outcome == domain.Disqualified && !r.Distance.IsZero():
		return "DQ at " + r.Distance.String() + ", " + r.Reason
	case r.Reason != "":
		return r.Outcome.String() + ", " + r.Reason
	default:
		return r.Outcome.String()
	}
}

// roundName writes a round inside a sentence: "round 1", "the pull-off", "pull-off 2".
func roundName(n domain.RoundName) string {
	switch {
	case !n.PullOff:
		return "round " + strconv.Itoa(n.Number)
	case n.Number == 1:
		return "the pull-off"
	default:
		return "pull-off " + strconv.Itoa(n.Number)
	}
}

// rulingWords says a ruling: "turned down".
func rulingWords(r domain.Ruling) string { return strings.ReplaceAll(r.String(), "_", " ") }

// attendWords tells what a line of the journal says of who came and paid, without a name and without an amount: "41 came,
// paid; 7 guest". A long list is told by its length.
func attendWords(c domain.Class, a domain.Attend) string {
	const most = 6
	if len(a.Entries) > most {
		return fmt.Sprintf("who came and who paid was written down for %d entries", len(a.Entries))
	}
	told := make([]string, len(a.Entries))
	for i, e := range a.Entries {
		words := []string{"not seen"}
		if e.Came {
			words[0] = "came"
		}
		if e.Guest {
			words = append(words, "guest")
		}
		if e.Paid {
			words = append(words, "paid")
		}
		told[i] = c.Entry(e.Entry).Number + " " + strings.Join(words, ", ")
	}
	return "written down: " + strings.Join(told, "; ")
}

// eventHappened tells a line about an event itself; "" for one that is not about its programme.
func eventHappened(l desk.Line) string {
	action, err := doc.DecodeEventAction(l.Kind, l.Payload)
	if err != nil {
		return ""
	}
	switch a := action.(type) {
	case domain.AddSession:
		return "session added: " + a.Name
	case domain.ChangeSession:
		return "session changed: " + a.Name
	case domain.RemoveSession:
		return "a session was removed"
	case domain.AddTrack:
		return "track added: " + a.Name
	case domain.RenameTrack:
		return "track renamed: " + a.Name
	case domain.RemoveTrack:
		return "a track was removed"
	case domain.AddSled:
		return "sled added: " + a.Sled.Name
	case domain.DescribeSled:
		return fmt.Sprintf("sled described anew: %s, version %d", a.Sled.Name, a.Version+1)
	case domain.OrderClasses:
		return "the classes were put into another order"
	case domain.InspectSled:
		return inspectedWords(a)
	default:
		return ""
	}
}

// inspectedWords tell an inspection for the journal. Who signed is not in it.
func inspectedWords(a domain.InspectSled) string {
	if n := len(domain.Inspection{Points: a.Points}.Wrong()); n > 0 {
		return "a sled was inspected, " + counted(n, "point") + " not ok"
	}
	return "a sled was inspected"
}
