package domain

import "time"

// StoppedEffect says what stands of a class that was ended early, by rain for instance.
type StoppedEffect uint8

// What stands.
const (
	// CompleteRounds: what was pulled to the end of a round; a class whose first round is complete is complete (PIED 3).
	CompleteRounds StoppedEffect = iota
	// NothingStands: a class that was not completed gives nobody anything (CITP).
	NothingStands
	// AsPulled: every hook that counts, whoever has not hooked yet (common practice, no published source; at an event
	// where classes were lost to rain the ones that had run stood).
	AsPulled
)

// Stopped is when and why a class was ended before its end; the zero Stopped while it goes on.
type Stopped struct {
	At     time.Time
	Reason string
}

// StopClass ends a class before its end: weather, curfew, a track that the officials close. What stands of it
// follows from the rules.
type StopClass struct {
	Reason string
}

// decide takes a class that was drawn and is not decided. Whoever was called and has no result gives the call up, and
// waits again should the class go on.
func (a StopClass) decide(c *Class, at time.Time) error {
	reason, err := required("reason", "the reason", a.Reason)
	if err != nil {
		return err
	}
	switch {
	case c.Stopped != (Stopped{}):
		return wrongState("the class is stopped already", "nothing is left to do")
	case len(c.Rounds) == 0:
		return wrongState("the class has not begun", "leave it on the programme, or move it to another session")
	case c.Phase() == Decided:
		return wrongState("the class is decided", "its result stands")
	}
	if h := c.onTrack(); h != nil {
		h.void("class stopped: "+reason, at)
	}
	c.Stopped = Stopped{At: at, Reason: reason}
	return nil
}

// ResumeClass goes on with a class that was stopped, where it stood.
type ResumeClass struct {
	Reason string
}

// decide takes the stop away; everything else is as it was.
func (a ResumeClass) decide(c *Class, _ time.Time) error {
	if _, err := required("reason", "the reason", a.Reason); err != nil {
		return err
	}
	if c.Stopped == (Stopped{}) {
		return wrongState("the class was not stopped", "go on with it")
	}
	c.Stopped = Stopped{}
	return nil
}

// standingRounds is how many rounds count for the standing: all of them, or what the rules leave of a class that was
// stopped.
func (c *Class) standingRounds() int {
	if c.Stopped == (Stopped{}) || c.Rules.Stopped == AsPulled {
		return len(c.Rounds)
	}
	if c.Rules.Stopped == NothingStands {
		return 0
	}
	last := len(c.Rounds) - 1
	if c.roundOver(last) {
		return last + 1
	}
	return last
}
