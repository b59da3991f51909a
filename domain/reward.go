package domain

// Reward is what a class gives: the points that each entry earned and the money that it is paid, by the class's own rules.
// It is computed from the class each time and stored nowhere. Competitors, Earned and Payout.Paid are at the indexes of
// the class's entries.
type Reward struct {
	Standing    []Placing
	Competitors []Competitor
	Earned      []Earned
	Payout      Payout
}

// Ending says how the class came to its end, for points and purse. A class that was stopped before anybody hooked was
// never run; what a call gave up does not count as a hook.
//
//	decided                    Pulled
//	stopped after four hooks   StoppedEarly
//	stopped before the first   NeverRun
//	not drawn, or drawn only   NeverRun
func (c *Class) Ending() Ending {
	for _, does := range c.hookedAtAll() {
		if does.Hooked {
			if c.Stopped != (Stopped{}) {
				return StoppedEarly
			}
			return Pulled
		}
	}
	if c.Phase() == Decided && c.Stopped == (Stopped{}) {
		return Pulled // nobody who was called came: it was run all the same
	}
	return NeverRun
}

// Rewards reports whether points and purse of the class can be told: its rules give some, and nothing of it is left to
// be pulled. Before that they would change with every hook.
func (c *Class) Rewards() bool {
	return (c.Rules.Points.Given() || c.Rules.Purse.Given()) && c.Phase() == Decided
}

// Reward computes points and purse from the class as it is now. Before [Class.Rewards] they are what the class would give
// if it ended so.
func (c *Class) Reward() Reward {
	standing, competitors, ending := c.Standing(), c.Competitors(), c.Ending()
	return Reward{
		Standing: standing, Competitors: competitors,
		Earned: c.Rules.Points.Earn(standing, competitors, ending),
		Payout: c.Rules.Purse.Pay(standing, c.table(c.standingRounds()).Rows, competitors, ending),
	}
}

// Competitors returns what points and purse need to know of each entry, at the indexes of c.Entries. Whether an entry
// hooked, and moved the sled, is read from every round, because a hook was made whatever a stop leaves of its round; what
// else its results say is read from the rounds that count for the standing. Present is who hooked and who was seen.
func (c *Class) Competitors() []Competitor {
	table := c.table(c.standingRounds())
	competitors := c.hookedAtAll()
	for i, e := range c.Entries {
		does, stands := competitors[i], table.Competitor(table.Rows[i])
		stands.Hooked, stands.Moved = does.Hooked, does.Moved
		stands.Present = e.Came || does.Hooked
		stands.Guest, stands.Paid, stands.Fee, stands.Late = e.Guest, e.Paid, e.Fee, e.Late
		competitors[i] = stands
	}
	return competitors
}

// hookedAtAll reads from all rounds what each entry did.
func (c *Class) hookedAtAll() []Competitor {
	table := c.table(len(c.Rounds))
	competitors := make([]Competitor, len(c.Entries))
	for i, row := range table.Rows {
		competitors[i] = table.Competitor(row)
	}
	return competitors
}
