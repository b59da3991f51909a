package domain

import (
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
)

// Where says where a puller is who is still to hook. The zero Where is that nobody said so.
type Where uint8

// What the steward of the line-up says of a puller.
const (
	// Here: in the lane.
	Here Where = iota + 1
	// Missing: called for, and not in the lane.
	Missing
	// Cooling: hooked before, and not ready to hook again.
	Cooling
)

// whereWords are the words by which people, journals and the database call them.
var whereWords = [...]string{"", "here", "missing", "cooling"}

// String returns "here", "missing" or "cooling", and "" for the zero Where.
func (w Where) String() string {
	if int(w) >= len(whereWords) {
		return ""
	}
	return whereWords[w]
}

// MarshalText writes [Where.String].
func (w Where) MarshalText() ([]byte, error) { return []byte(w.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (w *Where) UnmarshalText(text []byte) (err error) {
	*w, err = ParseWhere(string(text))
	return err
}

// ParseWhere reads "here", "missing" or "cooling"; "" is the zero Where.
func ParseWhere(s string) (Where, error) {
	if i := slices.Index(whereWords[:], s); i >= 0 {
		return Where(i), nil // #nosec G115 -- four words
	}
	return 0, invalid("where", fmt.Sprintf("%q says nothing of a puller in the line-up", s), "write here, missing or cooling")
}

// Presence is what was last said of a puller in the line-up, and when. It is for those who run the lane, and decides
// nothing: nobody is called, passed over or disqualified by it. The zero Presence is nothing said. It is comparable.
type Presence struct {
	Where Where
	At    time.Time
}

// SayWhere says where a puller is who is still to hook in the current round, the last word standing.
type SayWhere struct {
	Entry uuid.UUID
	Where Where
}

// decide takes what is said of whoever waits or was called, until the hook has started: while a vehicle pulls nothing is
// asked about it (common practice, no published source).
func (a SayWhere) decide(c *Class, at time.Time) error {
	r := c.current()
	if r == nil {
		return wrongState("the class is not drawn", "wait for the draw")
	}
	i := slices.IndexFunc(r.Lineup, func(s Slot) bool { return s.Entry == a.Entry })
	switch on := c.onTrack(); {
	case i < 0:
		return notFound("that entry is not in the current round", "reload the page")
	case a.Where == 0 || int(a.Where) >= len(whereWords):
		return invalid("where", "nothing is said of the puller", "say here, missing or cooling")
	case on != nil && on.Entry == a.Entry && !on.Started.IsZero():
		return wrongState("that hook has started, and nothing is asked about it till it is over", "wait for the result")
	case (on == nil || on.Entry != a.Entry) && !slices.Contains(r.Waiting(), a.Entry):
		return wrongState("number "+c.numberOf(a.Entry)+" is not to hook in this round any more", "nothing is left to say")
	}
	r.Lineup[i].Presence = Presence{Where: a.Where, At: at}
	return nil
}

// InLine is one puller who is still to hook in the current round.
type InLine struct {
	Entry uuid.UUID
	Presence
	// Until is when the time to cool down is over that the rules give in minutes; zero where they give none, or the puller
	// is not cooling down. RENEG 6 gives five minutes where fewer are left than may be dropped behind.
	Until time.Time
}

// InLine returns who is still to hook in the current round, in order: whoever was called and has not started, then those
// who wait. Who hooks again because of the sled or an official, some places later, is cooling down from the end of that
// hook until something else is said; what was said before a hook says nothing after it.
func (c *Class) InLine() []InLine {
	r := c.current()
	if r == nil {
		return nil
	}
	waiting := r.Waiting()
	if on := c.onTrack(); on != nil && on.Started.IsZero() && on.Ended.IsZero() {
		waiting = slices.Insert(waiting, 0, on.Entry)
	}
	list := make([]InLine, len(waiting))
	for i, entry := range waiting {
		list[i] = InLine{Entry: entry, Presence: r.presence(entry)}
		if minutes := c.Rules.RehookMinutes; list[i].Where == Cooling && minutes > 0 {
			list[i].Until = list[i].At.Add(time.Duration(minutes) * time.Minute)
		}
	}
	return list
}

// presence is what is known of an entry of the line-up.
func (r *Round) presence(entry uuid.UUID) Presence {
	var said Presence
	if i := slices.IndexFunc(r.Lineup, func(s Slot) bool { return s.Entry == entry }); i >= 0 {
		said = r.Lineup[i].Presence
	}
	for _, h := range slices.Backward(r.Hooks) {
		switch {
		case h.Entry != entry || h.Ended.IsZero():
			continue
		case said.At.After(h.Ended):
			return said
		case h.Result.Outcome == Rehooked:
			return Presence{Where: Cooling, At: h.Ended}
		default:
			return Presence{}
		}
	}
	return said
}
