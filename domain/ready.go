package domain

import (
	"fmt"
	"slices"
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

// readyPoints are what a crew looks at before each hook where the description of the sled has no list of its own. Common practice, no published source; that the box drive belongs
// among them: where the box does not move, sleds under the rules of 2008 on brake by themselves
// (http://pullingworld.blogspot.no/2007_09_01_archive.html).
var readyPoints = [...]string{
	"box back", "pan up", "push-down reset", "box drive engaged", "cable attached and tested", "lanes clear",
}

// maxReady is how many points a list of the crew may have: one that is longer is not read.
const maxReady = 30

// checkPoints refuses a list of points that is too long, and a point that says nothing.
func checkPoints(field string, points []string) error {
	if len(points) > maxReady {
		return invalid(field, fmt.Sprintf("the list has %d points", len(points)), fmt.Sprintf("keep it to %d, so that it is read", maxReady))
	}
	for i, point := range points {
		if _, err := required(field, fmt.Sprintf("point %d of the list", i+1), point); err != nil {
			return err
		}
	}
	return nil
}

// ReadyList is what the crew looks at before each hook of the class: the list of the sled, or the usual points, then what
// the rules and the setting of the class add. It is to be read, and nothing of it is ticked: one word confirms or holds
// the whole. With "hitch height" in the rules:
//
//	box back · pan up · … · lanes clear · hitch height · speed device on: radar · blades at 2.5 cm
func (c *Class) ReadyList() []string {
	list := slices.Clone(c.Sled.Card.Ready)
	if len(list) == 0 {
		list = slices.Clone(readyPoints[:])
	}
	list = append(list, c.Rules.Ready...)
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
