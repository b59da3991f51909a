package day

import (
	"fmt"
	"math"
	"time"
)

// Caution goes with every time that is told.
const Caution = "Times are estimates; the call in the pits counts."

// lead is the class by which the day is judged: the one that is being pulled, else the next; nil when all are over.
func (t Track) lead() *Class {
	for _, state := range []State{Running, ToCome} {
		for i := range t.Classes {
			if c := &t.Classes[i]; c.State == state && !c.Ends.IsZero() {
				return c
			}
		}
	}
	return nil
}

// Behind is how far the day is behind what was to be expected, below zero where it is ahead, to the minute; false where
// nothing is to come.
func (t Track) Behind() (time.Duration, bool) {
	lead := t.lead()
	if lead == nil {
		return 0, false
	}
	behind := lead.Ends.Middle.Sub(lead.Planned.End)
	if lead.State == ToCome {
		behind = lead.Starts.Middle.Sub(lead.Planned.Start)
	}
	return behind.Round(time.Minute), true
}

// Sentence is how the day runs in one sentence for the announcer, on the clock of the place. Its windows are widened to
// five minutes.
//
//	12 minutes behind; Modified about 19:40 to 20:05.
//	On plan; Field Stock over about 20:10 to 20:40.
func (t Track) Sentence(place *time.Location) string {
	behind, known := t.Behind()
	lead := t.lead()
	switch {
	case !known:
		return "Nothing more is to be pulled."
	case !t.Begun:
		return fmt.Sprintf("Not begun yet; %s is planned for %s.", lead.Name, lead.Planned.Start.In(place).Format("15:04"))
	}
	next := lead
	for i := range t.Classes {
		if c := &t.Classes[i]; c.State == ToCome && c.Session == lead.Session && !c.Ends.IsZero() {
			next = c
			break
		}
	}
	if next.State == ToCome {
		return late(behind) + "; " + next.Name + " about " + next.Starts.Words(place) + "."
	}
	return late(behind) + "; " + next.Name + " over about " + next.Ends.Words(place) + "."
}

// Widened is a window to five minutes, the early end rounded down and the late one up: 19:41:20 to 20:02:50 is 19:40 to
// 20:05.
func (w Window) Widened() Window {
	const five = 5 * time.Minute
	return Window{w.Early.Truncate(five), w.Middle, w.Late.Add(five - 1).Truncate(five)}
}

// Words writes a window that is widened to five minutes: "19:40 to 20:05".
func (w Window) Words(place *time.Location) string {
	w = w.Widened()
	return w.Early.In(place).Format("15:04") + " to " + w.Late.In(place).Format("15:04")
}

// late says how far the day is behind: "On plan", "12 minutes behind", "1 hour 5 minutes ahead of plan". Less than three
// minutes is nothing to speak of.
func late(behind time.Duration) string {
	minutes := int(behind.Abs().Minutes())
	if minutes < 3 {
		return "On plan"
	}
	words := fmt.Sprintf("%d minutes", minutes)
	if hours := minutes / 60; hours > 0 {
		words = counted(hours, "hour")
		if minutes%60 > 0 {
			words += " " + counted(minutes%60, "minute")
		}
	}
	if behind < 0 {
		return words + " ahead of plan"
	}
	return words + " behind"
}

// counted writes a number with its noun.
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// CurfewSentence says what becomes of a curfew, and what would have to be cut to keep it. That is for the people to decide.
//
//	Curfew 23:00: in 24 of 100 such days the programme runs past it.
func (t Track) CurfewSentence(c Curfew, place *time.Location) string {
	says := fmt.Sprintf("Curfew %s: in %s of 100 such days the programme runs past it.", c.At.In(place).Format("15:04"), hundredths(c.Past))
	if c.Cut >= 0 {
		says += fmt.Sprintf(" More likely than not %s would have to be cut to keep it; in %s of 100 it ends later.", t.Classes[c.Cut].Name, hundredths(c.CutPast))
	}
	return says
}

// hundredths writes a probability as days of 100: "24", "fewer than 1", "more than 99".
func hundredths(p float64) string {
	switch rounded := math.Round(100 * p); {
	case rounded < 1:
		return "fewer than 1"
	case rounded > 99:
		return "more than 99"
	default:
		return fmt.Sprintf("%.0f", rounded)
	}
}

// Words say where the usual cycle of a class is from: "5 min a hook, the usual".
func (c Class) Words() string {
	from := map[Known]string{ByPractice: "the usual", ByClass: "as this class took before", ByOthers: "as others took before"}
	return fmt.Sprintf("%s min a hook, %s", trimmed(c.Cycle), from[c.Known])
}

// trimmed writes minutes with one decimal, none where it is 0.
func trimmed(d time.Duration) string {
	return fmt.Sprint(math.Round(d.Minutes()*10) / 10)
}
