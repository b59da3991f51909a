package domain

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
)

// Differences are what differed on a hook from every other, as a set of a fixed vocabulary; the zero Differences is none.
// They read as words joined by commas: "hand drop, kill switch".
type Differences uint16

// What may differ. An official, the operator or the sled itself did it, but for a clutch that came out early, which is the
// puller's, and a breakaway, where vehicle and sled part. A sled under the European rules of 2008 brakes its box, drops the
// push-down and the wheel brakes and pulls the kill switch by itself where the box does not move
// (http://pullingworld.blogspot.no/2007_09_01_archive.html); the operator may brake and kill (QUYON 3).
const (
	HandDrop      Differences = 1 << iota // the pan was dropped by hand
	HandPushDown                          // the push-down was worked by hand
	BoxBrake                              // the box was braked
	WheelBrakes                           // the wheel brakes were used
	KillSwitch                            // the kill switch was pulled
	Breakaway                             // vehicle and sled parted
	RedByOperator                         // the operator turned the light red
	RedByOfficial                         // an official did
	RedByItself                           // nobody did
	EarlyClutch                           // the clutch came out before the track ended the pull
)

// differenceWords are the words of the differences, in the order of their constants.
var differenceWords = [...]string{
	"hand drop", "hand push-down", "box brake", "wheel brakes", "kill switch", "breakaway",
	"red by operator", "red by official", "red by itself", "clutch out early",
}

// bySled are the differences that are the sled's or its operator's doing (common practice, no published source).
const bySled = HandDrop | HandPushDown | BoxBrake | WheelBrakes | RedByOperator | RedByItself

// DifferenceWords lists the words of all differences, in the order in which people are offered them.
func DifferenceWords() []string { return slices.Clone(differenceWords[:]) }

// ParseDifferences reads words joined by commas, in any order; "" is none.
func ParseDifferences(s string) (Differences, error) {
	var set Differences
	for word := range strings.SplitSeq(s, ",") {
		word = strings.TrimSpace(word)
		i := slices.Index(differenceWords[:], word)
		switch {
		case word == "" && strings.TrimSpace(s) == "":
			return 0, nil
		case i < 0:
			return 0, invalid("what", fmt.Sprintf("%q is nothing that is noted here", word), "write one of "+strings.Join(differenceWords[:], ", ")+", or tell it in words")
		}
		set |= 1 << i
	}
	return set, nil
}

// Words lists the words of the set, in their usual order.
func (d Differences) Words() []string {
	var words []string
	for i, word := range differenceWords {
		if d&(1<<i) != 0 {
			words = append(words, word)
		}
	}
	return words
}

// String joins the words by commas; [ParseDifferences] reads it back.
func (d Differences) String() string { return strings.Join(d.Words(), ", ") }

// MarshalText writes [Differences.String].
func (d Differences) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (d *Differences) UnmarshalText(text []byte) (err error) {
	*d, err = ParseDifferences(string(text))
	return err
}

// redSwitches are the differences that a switch of the sled answers to, by the word of the switch in a description.
var redSwitches = map[string]Differences{
	"pan": HandDrop, "push-down": HandPushDown, "box-brake": BoxBrake, "wheel-brakes": WheelBrakes, "kill-switch": KillSwitch,
}

// TurnsRed reports whether one of the set turns the light of a sled red. Where the description says which switches do,
// it is those; where it says nothing, all but the kill switch (common practice, no published source). What no switch
// answers to, such as a light that went red by itself, is red on every sled.
func (d Differences) TurnsRed(card SledCard) bool {
	for _, word := range RedSwitches() {
		if !slices.Contains(card.turnRed(), word) {
			d &^= redSwitches[word]
		}
	}
	return d != 0
}

// Doing says whose doing it was as far as a re-hook goes: "sled", "official", both joined, or "" where it was neither's.
func (d Differences) Doing() string {
	var whose []string
	if d&bySled != 0 {
		whose = append(whose, "sled")
	}
	if d&RedByOfficial != 0 {
		whose = append(whose, "official")
	}
	return strings.Join(whose, " and ")
}

// Difference is what was noted of a hook: the set, and words where they do not say it all. The zero Difference is
// nothing noted.
type Difference struct {
	What  Differences
	Words string
}

// IsZero reports whether nothing was noted.
func (d Difference) IsZero() bool { return d == Difference{} }

// String tells it as one text: "hand drop, kill switch: pan hung at 150 ft".
func (d Difference) String() string {
	switch {
	case d.What == 0:
		return d.Words
	case d.Words == "":
		return d.What.String()
	default:
		return d.What.String() + ": " + d.Words
	}
}

// NoteDifference notes what differed on a hook of the current round. It may be noted as often as needed: the last note
// stands, and the journal has those before it. It changes no result; whether the puller hooks again is the officials' to
// decide, and stored by [Again].
type NoteDifference struct {
	Hook  uuid.UUID
	What  Differences
	Words string
}

// decide takes a note of nothing too: it takes one back that was about another hook.
func (a NoteDifference) decide(c *Class, _ time.Time) error {
	words, err := text("words", a.Words)
	if err != nil {
		return err
	}
	h := c.hook(a.Hook)
	switch {
	case h == nil:
		return notFound("that hook is not in the current round", "reload the page")
	case h.Result.Outcome == Absent:
		return wrongState("number "+c.numberOf(h.Entry)+" was absent, and nothing can have differed", "choose another hook")
	}
	h.Difference = Difference{What: a.What, Words: words}
	return nil
}

// RehookOffered returns the hook of the current round after which a re-hook is to be thought of, because something that
// differed on it was the sled's or an official's doing, or the flagmen called one; nil where there is none. It is the one on the track or the last
// that ended, until another ends. Nothing follows by itself: the officials decide, under these rules' re-hook.
func (c *Class) RehookOffered() *Hook {
	r := c.current()
	if r == nil || c.Stopped != (Stopped{}) || !c.Official.Made.IsZero() {
		return nil
	}
	for i := range slices.Backward(r.Hooks) {
		h := &r.Hooks[i]
		open := h.Result.IsZero() || h.Result.Counts()
		asked := h.Difference.What.Doing() != "" || h.Flag.Call == FlagRehook
		if asked && open && c.Entry(h.Entry).Scratched == "" {
			return h
		}
		if !h.Result.IsZero() {
			return nil
		}
	}
	return nil
}
