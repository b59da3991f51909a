package webui

import (
	"fmt"
	"slices"
	"strings"

	"clayline/domain"
	"clayline/webui/templates"
)

// standing shows the ranking as it is now. Equal places are marked with "=". Entries without a place and
// without anything to say, who have not hooked yet, are left out.
func standing(event domain.Event, c *domain.Class) templates.Standing {
	s := templates.Standing{State: officialWords(event, c)}
	for _, p := range c.Standing() {
		e := c.Entries[p.Row]
		row := templates.StandingRow{Puller: puller(e), Outcome: standingOutcome(c, e, p)}
		switch {
		case p.Place > 0:
			row.Place = fmt.Sprint(p.Place)
			if p.Shared {
				row.Place += "="
			}
			s.Rows = append(s.Rows, row)
		case row.Text != "":
			s.Unplaced = append(s.Unplaced, row)
		}
	}
	return s
}

// standingOutcome shows what an entry stands with: its last pull-off figure, else its class figure. In a
// pull-off the figure alone would look out of order, below a longer distance of the class, hence the remark.
func standingOutcome(c *domain.Class, e domain.Entry, p domain.Placing) templates.Outcome {
	var last domain.Result
	var inPullOff bool
	for i := range c.Rounds {
		r := &c.Rounds[i]
		if result := r.ResultOf(e.ID); result.Counts() && (r.Name.PullOff || !last.Reached()) {
			last, inPullOff = result, r.Name.PullOff
		}
	}
	switch {
	case p.Withdrawn:
		return templates.Outcome{Text: "withdrawn", Kind: templates.Absent, Remarks: []string{"did not come to the pull-off"}}
	case e.Scratched != "" && p.Place == 0:
		return templates.Outcome{Text: "scratched", Kind: templates.Absent, Remarks: []string{e.Scratched}, Typed: e.Scratched}
	case inPullOff:
		o := outcome(last)
		o.Remarks = append(o.Remarks, "full pull, then the pull-off")
		if last.Reason != "" {
			o.Remarks = append(o.Remarks, last.Reason)
		}
		return o
	case p.Again:
		return templates.Outcome{Text: outcome(last).Text, Remarks: []string{"no place: its vehicle is placed already"}}
	case p.FullPull:
		return templates.Outcome{Text: "Full pull", Kind: templates.FullPull, Remarks: fullPullRemark(c, e)}
	case p.Place > 0:
		return templates.Outcome{Text: p.Total.Figures(), Remarks: append(parts(c, e), reasonOf(last)...), Typed: outcome(last).Typed}
	case last.Counts():
		o := outcome(last)
		if last.Reason != "" {
			o.Remarks = []string{last.Reason}
		}
		return o
	default:
		return templates.Outcome{}
	}
}

// reasonOf is what went wrong in a hook whose distance counts all the same; nothing where nothing did.
func reasonOf(r domain.Result) []string {
	if r.Reason == "" {
		return nil
	}
	return []string{r.Reason}
}

// fullPullRemark says whether a full puller comes back, as soon as that is certain: with a second full pull in
// a single round, there will be a pull-off.
func fullPullRemark(c *domain.Class, e domain.Entry) []string {
	if c.Stopped != (domain.Stopped{}) {
		return nil
	}
	if name, in := c.RoundDue(); name.PullOff && slices.Contains(in, e.ID) {
		return []string{"in the pull-off"}
	}
	r := c.Current()
	if !r.Name.PullOff && c.Rules.Rounds == 1 && count(c, domain.FullPull) > 1 {
		return []string{"in the pull-off"}
	}
	if r.Name.PullOff && slices.ContainsFunc(r.Lineup, func(s domain.Slot) bool { return s.Entry == e.ID && !s.Out }) {
		return []string{"in the pull-off"}
	}
	return nil
}

// count returns how many hooks of the current round have an outcome; for one that counts, that is how many
// entries.
func count(c *domain.Class, outcome domain.Outcome) (n int) {
	for _, h := range c.Current().Hooks {
		if h.Result.Outcome == outcome {
			n++
		}
	}
	return n
}

// parts shows the rounds of which a figure is made, where there are several: "90.02 + 98.62" where they are
// added, and "85.77, 87.32" where the best counts.
func parts(c *domain.Class, e domain.Entry) []string {
	var list []string
	for i := range c.Rounds {
		if r := &c.Rounds[i]; !r.Name.PullOff {
			if result := r.ResultOf(e.ID); result.Counts() {
				list = append(list, result.String())
			}
		}
	}
	if len(list) < 2 {
		return nil
	}
	between := ", "
	if c.Rules.Count == domain.SumOf {
		between = " + "
	}
	return []string{strings.Join(list, between)}
}

// officialWords says how far a result is: provisional, until when it can be protested, or official, since when and by
// whom. A result that was opened again says which revision it is.
//
//	provisional; protests until 19:42
//	provisional; a protest is undecided; protests until 19:42
//	revision 2, official since 20:31, signed Ada Flagg
func officialWords(event domain.Event, c *domain.Class) string {
	words := resultStands(event, c)
	if o := c.Official; !o.Made.IsZero() {
		words += ", signed " + o.Name
	}
	return words
}

// lineState is [stateWords] for the lists that everybody reads: of a class that is decided it says how far the result is too,
// since a winner beside it would look like the last word.
//
//	result, provisional; a protest is undecided; protests until 19:42
//	result, official since 20:14
func lineState(event domain.Event, c *domain.Class) string {
	if c.Phase() != domain.Decided {
		return stateWords(c)
	}
	return stateWords(c) + ", " + resultStands(event, c)
}

// resultStands is [officialWords] without who signed.
func resultStands(event domain.Event, c *domain.Class) string {
	words := ""
	if n := c.Revision(); n > 1 {
		words = fmt.Sprintf("revision %d, ", n)
	}
	if o := c.Official; !o.Made.IsZero() {
		return words + "official since " + clock(event, o.Made)
	}
	words += "provisional"
	if slices.ContainsFunc(c.Protests, domain.Protest.Open) {
		words += "; a protest is undecided"
	}
	switch until := c.ProtestsUntil(); {
	case !until.IsZero():
		words += "; protests until " + clock(event, until)
	case c.Phase() == domain.Decided && c.Rules.Protest.Until != "":
		words += "; protests " + c.Rules.Protest.Until
	}
	return words
}
