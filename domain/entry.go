package domain

import (
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/google/uuid"
)

// Entry is one vehicle entered in a class. The vehicle, not the driver, is what places: one driver may bring
// two, and took second and third with them in a published result
// (https://www.crowrivermedia.com/it-was-a-hot-one-for-the-return-of-the-power-pull-nationals/article_0b48eb62-ecb0-11ec-ac65-730b8bb4c158.html).
// It is comparable.
type Entry struct {
	ID     uuid.UUID
	Number string // as painted on the vehicle, unique in the class
	Late   bool   // entered after the draw
	// Same is the entry whose vehicle this one is, where the rules let it hook again with another driver; else the nil id.
	Same uuid.UUID
	// Scratched is the reason why the entry was withdrawn, "" while it stands. It is not taken back: a puller
	// who drops out of a class may not re-enter it (GPP 6).
	Scratched string
	Details   Details
	Attendance
}

// Details are what people want to read beside a number. They are personal data: kept in the entry, never in the
// journal, so that they can be erased without breaking a chain of hashes. Nothing is decided by them.
// [NewDetails] makes them.
type Details struct {
	Puller  string
	Vehicle string
	Home    string
}

// maxText bounds every free text that people type, in characters: long enough for a reason, short enough for a
// line.
const maxText = 200

// text trims what was typed and refuses what is too long, not text, or cannot be seen, naming the field.
func text(field, s string) (string, error) {
	s = strings.TrimSpace(s)
	switch {
	case !utf8.ValidString(s):
		return "", invalid(field, "the text cannot be read", "type it again")
	case !Shown(s):
		return "", invalid(field, "the text holds a character that cannot be seen", "type it again, in one line, instead of pasting it")
	}
	// How much too long says what to do also where the program put words before those that were typed, as a cause.
	if over := utf8.RuneCountInString(s) - maxText; over > 0 {
		return "", invalid(field, fmt.Sprintf("the text is longer than %d characters", maxText), fmt.Sprintf("shorten it by %d", over))
	}
	return s, nil
}

// required is text that may not be empty; what names it in the refusal: "the reason is missing".
func required(field, what, s string) (string, error) {
	s, err := text(field, s)
	if err == nil && s == "" {
		err = invalid(field, what+" is missing", "type it")
	}
	return s, err
}

// AddEntry enters a vehicle in a class. After the draw it is a late entry and joins the end of the first round
// (late entries pull last: MAM), unless the rules take nobody once the class has started (CHEL 8, GSRT 14).
type AddEntry struct {
	Entry  uuid.UUID
	Number string
	// Same is the entry whose vehicle hooks again with another driver; the nil id for a vehicle of its own.
	Same    uuid.UUID
	Details Details
}

// decide takes entries until the first round is over. A number is at most eight characters and unique in the
// class without regard to case, since it is called out, painted and drawn by. A further vehicle of the same
// number gets a letter: 7b.
func (a AddEntry) decide(c *Class, _ time.Time) error {
	number, err := required("number", "the number of the vehicle", a.Number)
	if err != nil {
		return err
	}
	if utf8.RuneCountInString(number) > 8 {
		return invalid("number", "the number has more than eight characters", "use what is painted on the vehicle")
	}
	for _, e := range c.Entries {
		if strings.EqualFold(e.Number, number) {
			return invalid("number", "number "+number+" is already entered in this class", "add a letter, such as "+number+"b")
		}
	}
	// A round of which everybody was scratched before the first hook is over without having been pulled, and
	// takes entries.
	if len(c.Rounds) > 1 || len(c.Rounds) == 1 && c.Rounds[0].started() && c.roundOver(0) {
		return wrongState("the first round is over", "no entry can join the class any more")
	}
	late := len(c.Rounds) > 0
	if late && c.Rounds[0].started() && c.Rules.Order.ClosedAtStart {
		return wrongState("the class has started, and these rules take no entry then", "enter the vehicle in another class")
	}
	same, err := c.sameVehicle(a.Same)
	if err != nil {
		return err
	}
	c.Entries = append(c.Entries, Entry{ID: a.Entry, Number: number, Late: late, Same: same, Details: a.Details})
	if late {
		c.Rounds[0].Lineup = append(c.Rounds[0].Lineup, Slot{Entry: a.Entry, Note: "late entry, last in the order"})
	}
	return nil
}

// Scratch withdraws an entry, with a reason. Hooks already made stay: a distance that was pulled keeps its
// place (common practice, no published source).
type Scratch struct {
	Entry  uuid.UUID
	Reason string
}

// decide takes the entry out of the current round; later rounds list it as out, or not at all. A puller on the
// track gets a result first, so that no hook is left without one.
func (a Scratch) decide(c *Class, _ time.Time) error {
	reason, err := required("reason", "the reason", a.Reason)
	if err != nil {
		return err
	}
	entry := c.entry(a.Entry)
	switch {
	case entry == nil:
		return notFound("there is no such entry in this class", "reload the page")
	case entry.Scratched != "":
		return wrongState("number "+entry.Number+" is already scratched", "nothing is left to do")
	}
	if h := c.onTrack(); h != nil && h.Entry == a.Entry {
		return wrongState("number "+entry.Number+" is on the track", "store what came of the hook first")
	}
	entry.Scratched = reason
	if r := c.current(); r != nil {
		r.takeOut(a.Entry, "scratched: "+reason)
	}
	return nil
}

// NewNumber reads the number of an entry as somebody types it: what is painted on the vehicle, in letters of any script, digits,
// blanks and hyphens, with a letter or digit at both ends. Other signs would be something else in an address, a file name or a
// sheet ("/..", "41,7", "=1"). How long it may be, and that it is there, [AddEntry] says; that decision takes any sign, so that
// what was stored before is read as it is.
//
//	"41", "7b", "ZB 12", "12-2"    numbers
//	"/..", "#7", "7;8", "-"        none
func NewNumber(s string) (string, error) {
	s, err := text("number", s)
	if err != nil {
		return "", err
	}
	runes := []rune(s)
	for i, r := range runes {
		inside := i > 0 && i < len(runes)-1 && (r == ' ' || r == '-') || i > 0 && unicode.Is(unicode.M, r)
		if !inside && !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			return "", invalid("number", fmt.Sprintf("%q cannot stand in the number of a vehicle there", string(r)), "write letters and digits, with blanks or hyphens between them, such as 41, 7b or 12-2")
		}
	}
	return s, nil
}

// NewDetails reads what people typed about an entry; the name of the puller is needed, the rest may be empty.
func NewDetails(puller, vehicle, home string) (d Details, err error) {
	if d.Puller, err = required("puller", "the name of the puller", puller); err != nil {
		return d, err
	}
	if d.Vehicle, err = text("vehicle", vehicle); err != nil {
		return d, err
	}
	d.Home, err = text("home", home)
	return d, err
}
