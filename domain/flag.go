package domain

import (
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
)

// FlagCall is what the flagmen decided of a hook. The zero FlagCall is that they said nothing.
type FlagCall uint8

// What the flagmen may decide. That the start is judged by one of them: CARP, SE-RTT; that the one at the end has the last
// word during the pull: OPS 10.
const (
	// FlagStartAgain: stopped before the restart line, and starts again under the class's rules.
	FlagStartAgain FlagCall = iota + 1
	// FlagRehook: hooks again because of the sled or an official; the flag judge may order it (SE-RTT 1.9.3).
	FlagRehook
	// FlagDisqualified: a disqualification is proposed, with its reason.
	FlagDisqualified
)

// flagWords are the words by which people, journals and the database call them.
var flagWords = [...]string{"", "start again", "re-hook", "disqualified"}

// String returns "start again", "re-hook" or "disqualified", and "" for the zero FlagCall.
func (f FlagCall) String() string {
	if int(f) >= len(flagWords) {
		return ""
	}
	return flagWords[f]
}

// MarshalText writes [FlagCall.String].
func (f FlagCall) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (f *FlagCall) UnmarshalText(text []byte) (err error) {
	*f, err = ParseFlagCall(string(text))
	return err
}

// ParseFlagCall reads "start again", "re-hook" or "disqualified"; "" is the zero FlagCall.
func ParseFlagCall(s string) (FlagCall, error) {
	if i := slices.Index(flagWords[:], s); i >= 0 {
		return FlagCall(i), nil // #nosec G115 -- four words
	}
	return 0, invalid("call", fmt.Sprintf("%q is nothing that a flagman decides here", s), "write start again, re-hook or disqualified")
}

// Flag is what the flagmen last decided of a hook, why, and when they said so. It is told to the booth and the cab and
// decides nothing: the booth stores what came of the hook, which carries the word of the flagmen from then on. The zero
// Flag is nothing said. It is comparable.
type Flag struct {
	Call   FlagCall
	Reason string // of a disqualification as [CauseOf] reads it: "out of bounds: left rear wheel"; of a re-hook whose doing
	At     time.Time
}

// SayFlag says what the flagmen decided of a hook, the last word standing; the zero FlagCall takes it back. It stores no
// result and calls nobody. What the flagmen saw of the sled's light, and a breakaway, is noted by [NoteDifference].
//
// 41 drove over the side line, and the flagman says so before the booth has its distance:
//
//	SayFlag{Hook: 41's, Call: FlagDisqualified, Reason: "out of bounds"}
//	Record{Hook: 41's, Result: DQ out of bounds}   by the booth, as the officials decide
type SayFlag struct {
	Hook   uuid.UUID
	Call   FlagCall
	Reason string
}

// decide takes the word about the hook on the track, and about the last one that ended, since a flag is sometimes shown
// when the distance is stored already. Older hooks are corrected by the booth (common practice, no published source).
func (a SayFlag) decide(c *Class, at time.Time) error {
	reason, err := text("reason", a.Reason)
	if err != nil {
		return err
	}
	hooks, h := c.FlagHooks(), c.hook(a.Hook)
	switch {
	case h == nil:
		return notFound("that hook is not in the current round", "reload the page")
	case !slices.Contains(hooks, h):
		return wrongState("that hook is settled, and no flag is told of it any more", "tell the booth, which can correct it")
	case int(a.Call) >= len(flagWords):
		return invalid("call", "that is nothing that a flagman decides here", "say start again, re-hook or disqualified")
	case a.Call == FlagStartAgain && (!h.Result.IsZero() || !c.MayRestart()):
		return wrongState("the rules give number "+c.numberOf(h.Entry)+" no second attempt here", "say what else was decided, or nothing")
	case a.Call == FlagDisqualified && reason == "":
		return invalid("reason", "the reason of the disqualification is missing", "add it, such as out of bounds")
	}
	if h.Flag = (Flag{}); a.Call != 0 {
		h.Flag = Flag{Call: a.Call, Reason: reason, At: at}
	}
	return nil
}

// FlagHooks returns the hooks of which the flagmen may say something: the one on the track, then the last one that ended
// where it counts and was pulled. There may be none. They point into the class.
func (c *Class) FlagHooks() []*Hook {
	r := c.current()
	if r == nil {
		return nil
	}
	var list []*Hook
	for i := range slices.Backward(r.Hooks) {
		h := &r.Hooks[i]
		if h.Result.IsZero() {
			list = append(list, h)
			continue
		}
		if h.Result.Counts() && h.Result.Outcome != Absent {
			list = append(list, h)
		}
		break
	}
	return list
}
