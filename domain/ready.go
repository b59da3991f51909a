package domain

import (
	"time"

	"github.com/google/uuid"
)

// Readiness is what the sled's crew said before a hook: ready, or hold, with their words. The zero Readiness is nothing
// said, which no hook waits for.
type Readiness struct {
	At    time.Time
	Held  bool
	Words string // why it is held, or what is to be known; may be ""
}

// readyPoints are what a crew looks at before each hook. Common practice, no published source; that the box drive belongs
// among them: where the box does not move, sleds under the rules of 2008 on brake by themselves
// (http://pullingworld.blogspot.no/2007_09_01_archive.html).
var readyPoints = [...]string{
	"box back", "pan up", "push-down reset", "box drive engaged", "cable attached and tested", "lanes clear",
}

// ReadyList is what the crew looks at before each hook of the class: what holds for every sled, then what the rules and
// the setting of the class add. It is to be read, and nothing of it is ticked: one word confirms or holds the whole.
//
//	box back · pan up · … · lanes clear · speed device on: radar · blades at 2.5 cm
func (c *Class) ReadyList() []string {
	list := append([]string(nil), readyPoints[:]...)
	if speed := c.Rules.Speed; !speed.Limit.IsZero() {
		point := "speed device on"
		if speed.Device != "" {
			point += ": " + speed.Device
		}
		list = append(list, point)
	}
	if r := c.current(); r != nil && r.Open() != nil && r.Open().Setting.Blades != "" {
		list = append(list, "blades at "+r.Open().Setting.Blades)
	}
	return list
}

// SayReady says before a hook that the crew of the sled is ready, or holds. It gives no go and takes none away: those are
// the flagmen's and the operator's signals alone. A hook is called, started and stored without it.
type SayReady struct {
	Hook  uuid.UUID
	Held  bool
	Words string
}

// decide takes what is said until the hook has started, the last word standing: while a vehicle pulls nothing is asked
// (common practice, no published source).
func (a SayReady) decide(c *Class, at time.Time) error {
	h, err := c.hookOnTrack(a.Hook)
	if err != nil {
		return err
	}
	words, err := text("words", a.Words)
	if err != nil {
		return err
	}
	if !h.Started.IsZero() {
		return wrongState("that hook has started, and nothing is asked of the crew till it is over", "give the signals; afterwards note what differed")
	}
	h.Ready = Readiness{At: at, Held: a.Held, Words: words}
	return nil
}
