package webui

import (
	"fmt"
	"slices"
	"strings"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/webui/templates"
)

// puller shows an entry; the zero Puller for the zero Entry, who is nobody.
func puller(e domain.Entry) templates.Puller {
	return templates.Puller{Number: e.Number, Name: e.Details.Puller, Vehicle: e.Details.Vehicle, Home: e.Details.Home}
}

// roundTitle heads a round: "Round 1", "Pull-off", "Pull-off 2".
func roundTitle(n domain.RoundName) string {
	switch {
	case !n.PullOff:
		return fmt.Sprintf("Round %d", n.Number)
	case n.Number == 1:
		return "Pull-off"
	default:
		return fmt.Sprintf("Pull-off %d", n.Number)
	}
}

// turnOf says how far the current round is: "puller 9 of 14", and "14 pullers" before the first is called. Pullers are counted, as
// they stand in the order, and not hooks: one that is made again has a number of its own in the round, and makes no round
// longer. It relies on the class being drawn.
func turnOf(c *domain.Class) string {
	r := c.Current()
	in := pullersOf(r, len(r.Lineup))
	if at := in - len(r.Waiting()); at > 0 {
		return fmt.Sprintf("puller %d of %d", at, in)
	}
	return counted(in, "puller")
}

// pullersOf counts who pulls among the first n of the order of a round: who is out is not counted.
func pullersOf(r *domain.Round, n int) (in int) {
	for _, slot := range r.Lineup[:n] {
		if !slot.Out {
			in++
		}
	}
	return in
}

// stateWords says in few words what a class waits for, for a line in a list.
func stateWords(c *domain.Class) string {
	switch c.Phase() {
	case domain.Entering:
		return fmt.Sprintf("entries open, %d so far", len(c.Entries))
	case domain.SettingDue, domain.Ready:
		// Before the first hook a class is "drawn", whatever the sled crew is at: that is what pullers want to
		// know.
		if r := c.Current(); r.Name == (domain.RoundName{Number: 1}) && len(r.Hooks) == 0 {
			return "drawn"
		}
		return strings.ToLower(roundTitle(c.Current().Name)) + " to begin"
	case domain.Hooking, domain.ChoiceOpen:
		if r := c.Current(); r.Name.PullOff {
			return strings.ToLower(roundTitle(r.Name)) + ": " + turnOf(c)
		}
		return "hooking: " + turnOf(c)
	case domain.RoundDue:
		return roundTitle(c.Current().Name) + " done"
	case domain.PullOffDue:
		return "pull-off to come"
	default:
		if c.Stopped != (domain.Stopped{}) {
			return "stopped"
		}
		return "result"
	}
}

// chooses reports whether somebody chooses, so that nobody is next. To those who are not told the distance yet, that is
// a hook which ended and has no result; see [domain.Class.Told].
func chooses(c *domain.Class) bool {
	on := c.OnTrack()
	return c.Phase() == domain.ChoiceOpen || on != nil && !on.Ended.IsZero()
}

// stateSentence is the state of a class in one sentence, for its own pages: the round, how far it is, and the
// rules in their own words, because half of the readers ask under which.
func stateSentence(c *domain.Class) string {
	round := ""
	if r := c.Current(); r != nil {
		round = roundTitle(r.Name) + " · "
	}
	switch c.Phase() {
	case domain.Entering:
		return fmt.Sprintf("%d entered, not drawn yet · %s", len(c.Entries), c.Rules.Title)
	case domain.SettingDue:
		return round + "the sled is being set · " + c.Rules.Title
	case domain.Ready:
		return round + "the setting is frozen, the first call is next · " + c.Rules.Title
	case domain.Hooking:
		return round + turnOf(c) + " · " + c.Rules.Title
	case domain.ChoiceOpen:
		return round + turnOf(c) + ", a choice is open · " + c.Rules.Title
	case domain.RoundDue:
		return round + "done, the next round is due · " + c.Rules.Title
	case domain.PullOffDue:
		return round + "done, full pulls return for a pull-off · " + c.Rules.Title
	default:
		if !c.Official.Made.IsZero() {
			return "Official result · " + c.Rules.Title
		}
		if c.Stopped != (domain.Stopped{}) {
			return round + "stopped, provisional until the officials make it official · " + c.Rules.Title
		}
		return "Decided, provisional until the officials make it official · " + c.Rules.Title
	}
}

// awaited says what has to happen next, and by whom, so that the desk sees at a glance whom to ask.
func awaited(c *domain.Class) string {
	switch c.Phase() {
	case domain.Entering:
		return "Desk: enter the pullers, then draw"
	case domain.SettingDue:
		return "Desk: write the setting and freeze it"
	case domain.Ready:
		return "Desk or booth: call the next puller"
	case domain.Hooking:
		return "Booth: the result of " + c.Entry(c.OnTrack().Entry).Number
	case domain.ChoiceOpen:
		return "Booth: the choice of " + c.Entry(c.Pending().Hook.Entry).Number
	case domain.RoundDue, domain.PullOffDue:
		name, _ := c.RoundDue()
		return "Desk: start " + roundName(name)
	default:
		if !c.Official.Made.IsZero() {
			return "Nothing: the result is official"
		}
		if open := openProtest(c); open != nil {
			return "Officials: decide the protest against " + c.Entry(open.Entry).Number
		}
		if due := c.ToCorrect(); len(due) > 0 {
			return "Desk: correct the result of " + c.Entry(due[0].Entry).Number + ", as the protest asks"
		}
		if c.Stopped != (domain.Stopped{}) {
			return "Desk: go on with the class, or make the result official"
		}
		return "Desk: make the result official"
	}
}

// hooking says who is on the track, who is next, and what it takes to lead. While a choice is open nobody is
// next, since the choice may be to hook again at once.
func hooking(c *domain.Class) templates.Hooking {
	var h templates.Hooking
	r := c.Current()
	if r == nil {
		return h
	}
	if on := c.OnTrack(); on != nil {
		h.OnTrack = puller(c.Entry(on.Entry))
	}
	waiting := r.Waiting()
	if len(waiting) > 0 && !chooses(c) {
		h.Next = puller(c.Entry(waiting[0]))
	}
	if len(waiting) > 1 && !chooses(c) {
		h.AfterNext = puller(c.Entry(waiting[1]))
	}
	h.ToBeat = toBeat(c, r)
	return h
}

// toBeat is the number to beat in a round. While a full pull ends at the line, it is the best short of it:
// nobody can beat a full pull there, and the others pull for the places behind.
func toBeat(c *domain.Class, r *domain.Round) templates.ToBeat {
	best, full := bestOf(c, r)
	if !r.Name.PullOff && r.Name.Number > 1 {
		return toBeatOver(c)
	}
	unit := c.Rules.Unit().String()
	switch {
	case best == nil && full == 0:
		return templates.ToBeat{Label: "Nobody has a distance yet"}
	case best == nil:
		return templates.ToBeat{Label: fullPulls(full), Value: c.Rules.Line.Figures(), Unit: unit}
	case full > 0:
		return templates.ToBeat{Label: fullPulls(full) + " · best short of the line", Value: best.Result.Distance.Figures(), Unit: unit}
	case c.Phase() == domain.Decided:
		return templates.ToBeat{Label: "Longest", Value: best.Result.Distance.Figures(), Unit: unit}
	default:
		return templates.ToBeat{Label: "To beat: " + c.Entry(best.Entry).Number + " " + c.Entry(best.Entry).Details.Puller,
			Value: best.Result.Distance.Figures(), Unit: unit}
	}
}

// toBeatOver is the figure to beat in a further class round, where earlier rounds count: the leader's, as the rules count.
func toBeatOver(c *domain.Class) templates.ToBeat {
	leader := c.Standing()[0]
	if leader.Place == 0 {
		return templates.ToBeat{Label: "Nobody has a distance yet"}
	}
	e := c.Entries[leader.Row]
	label := "Best so far: "
	if c.Rules.Count == domain.SumOf {
		label = "Most in all so far: "
	}
	return templates.ToBeat{Label: label + strings.TrimSpace(e.Number+" "+e.Details.Puller), Value: leader.Total.Figures(), Unit: c.Rules.Unit().String()}
}

// bestOf returns the best hook of a round that is no full pull at the line, and how many such full pulls there
// are. Of equals it is the first.
func bestOf(c *domain.Class, r *domain.Round) (best *domain.Hook, full int) {
	for i := range r.Hooks {
		h := &r.Hooks[i]
		switch {
		case !h.Result.Reached():
		case c.Rules.EndsAtLine(r.Name) && h.Result.Outcome == domain.FullPull:
			full++
		case best == nil || h.Result.Distance.Compare(best.Result.Distance) > 0:
			best = h
		}
	}
	return best, full
}

// fullPulls counts full pulls in words.
func fullPulls(n int) string {
	words := []string{"", "One full pull", "Two full pulls", "Three full pulls", "Four full pulls", "Five full pulls"}
	if n < len(words) {
		return words[n]
	}
	return fmt.Sprintf("%d full pulls", n)
}

// messages are the sentences that must not be missed: an open choice, and who comes back.
func messages(c *domain.Class) []templates.Message {
	var list []templates.Message
	if choice := c.Pending(); choice != nil && c.Phase() == domain.ChoiceOpen {
		var options []string
		for _, o := range choice.Options {
			options = append(options, optionWords(o))
		}
		list = append(list, templates.Message{
			Text: fmt.Sprintf("%s decides about %s: %s, %s.", c.Entry(choice.Hook.Entry).Number, decidedAbout(c, choice),
				strings.Join(options, " or "), choice.Until),
			Do: silenceWords(choice) + " Nobody is called before the choice is stored.",
		})
	}
	if open := openProtest(c); open != nil {
		list = append(list, templates.Message{Text: "A protest against " + c.Entry(open.Entry).Number + " is undecided: " + open.About + ".",
			Do: "The result is not signed before it is decided."})
	}
	if name, in := c.RoundDue(); name.PullOff {
		list = append(list, templates.Message{Text: "Back for " + roundName(name) + ": " + strings.Join(numbersOf(c, in), ", ") + ".",
			Do: "The sled gets a new setting first."})
	}
	if missed := c.Missed(); len(missed) > 0 {
		list = append(list, templates.Message{
			Text: fmt.Sprintf("By a correction a full pull, and not in the first pull-off: %s.", strings.Join(numbersOf(c, missed), ", ")),
			Do:   "The officials decide whether the pull-off that is being pulled takes them in.",
		})
	}
	return list
}

// decidedAbout names the hook that a choice is about: by its figure, or without one where it is not told yet.
func decidedAbout(c *domain.Class, choice *domain.Choice) string {
	if c.KeptBack() {
		return "the test hook, before the distance is told"
	}
	return resultWords(choice.Hook.Result)
}

// openProtest returns the first protest that is undecided, or nil.
func openProtest(c *domain.Class) *domain.Protest {
	if i := slices.IndexFunc(c.Protests, domain.Protest.Open); i >= 0 {
		return &c.Protests[i]
	}
	return nil
}

// numbersOf returns the numbers of entries, in their order.
func numbersOf(c *domain.Class, entries []uuid.UUID) []string {
	list := make([]string, len(entries))
	for i, id := range entries {
		list[i] = c.Entry(id).Number
	}
	return list
}

// optionWords says what an option means, with the puller as the subject: "41 drops to last and hooks again".
func optionWords(o domain.Option) string {
	switch o {
	case domain.Keep:
		return "keeps it"
	case domain.ToLast:
		return "drops to last and hooks again"
	case domain.AtOnce:
		return "starts again at once"
	case domain.ToOriginal:
		return "goes back to the drawn place and hooks again"
	default:
		return fmt.Sprintf("hooks again as number %d", o)
	}
}

// winner names who won, once the class is decided; several when the first place is shared, joined by a sign that
// every language reads, and "" when nobody has a place.
func winner(c *domain.Class) string {
	if c.Phase() != domain.Decided {
		return ""
	}
	var names []string
	for _, p := range c.Standing() {
		if e := c.Entries[p.Row]; p.Place == 1 {
			names = append(names, strings.TrimSpace(e.Number+" "+e.Details.Puller))
		}
	}
	return strings.Join(names, " & ")
}
