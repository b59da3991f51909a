package domain

import (
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
)

// ProtestRule says how a result is protested. The zero ProtestRule takes no protest ("There is no appeal process": OPS
// 7, and CME 1). Whether a protest is right, and who may lodge one, the officials judge.
type ProtestRule struct {
	// Minutes is how long protests are waited for once the class is decided: 10 (FTG), 5 (HTP). 0: no clock ends it.
	Minutes int
	// Fee is what a protest costs, as the rule book prints it: "$50 an issue" (FTG), "500 kr" (DK-GARD). Nothing is
	// computed with it.
	Fee string
	// Until says when protests end, in the words of a rule book: "before trophies are handed over" (DK-GARD).
	Until string
	// Decides says who decides: "the board" (DK-GARD 4).
	Decides string
}

// maxWindow bounds the minutes of a protest window: a day. Published windows have 5 and 10.
const maxWindow = 24 * 60

// check asks for an end: a set that takes protests without saying until when would keep every result provisional.
func (p ProtestRule) check() error {
	for _, t := range [...]struct{ field, text string }{{"protest.fee", p.Fee}, {"protest.until", p.Until}, {"protest.decides", p.Decides}} {
		if _, err := text(t.field, t.text); err != nil {
			return err
		}
	}
	switch {
	case p.Minutes < 0 || p.Minutes > maxWindow:
		return invalid("protest.minutes", "a protest window has 0 to 1440 minutes", "write the minutes, such as 10")
	case p != (ProtestRule{}) && p.Minutes == 0 && p.Until == "":
		return invalid("protest.until", "the rule set takes protests and does not say until when", "give minutes, or say it in until")
	}
	return nil
}

// Protest is a protest against the result of an entry. What is written about it is public but for By.
type Protest struct {
	ID    uuid.UUID
	Entry uuid.UUID // whose result it is about
	Hook  uuid.UUID // the hook it is about; the nil UUID where it is about the vehicle or the whole result
	About string
	// Fee says that the fee was taken.
	Fee    bool
	Lodged time.Time
	// Late says that the window was over when it was lodged. Whether it is heard all the same, the officials decide.
	Late bool
	// By is who lodged it. It is personal data, shown to the desk alone, and no part of the journal.
	By      string
	Ruling  Ruling
	Follows Follows
	Reason  string // why it was decided so
	Decided time.Time
}

// Open reports whether the protest is undecided.
func (p Protest) Open() bool { return p.Ruling == 0 }

// Ruling says what was decided about a protest. The zero Ruling means that nothing was decided yet.
type Ruling uint8

// The rulings.
const (
	// Upheld: the protest is right.
	Upheld Ruling = iota + 1
	// TurnedDown: it is not, and the result stands.
	TurnedDown
	// TakenBack: whoever lodged it withdrew it.
	TakenBack
)

// rulingWords are the words of forms, the journal and the database.
var rulingWords = map[Ruling]string{Upheld: "upheld", TurnedDown: "turned_down", TakenBack: "withdrawn"}

// ParseRuling reads "upheld", "turned_down" or "withdrawn".
func ParseRuling(s string) (Ruling, error) {
	for ruling, word := range rulingWords {
		if s == word {
			return ruling, nil
		}
	}
	return 0, invalid("ruling", fmt.Sprintf("%q is not a ruling", s), "write upheld, turned_down or withdrawn")
}

// String returns the word, "" for the zero Ruling.
func (r Ruling) String() string { return rulingWords[r] }

// MarshalText writes [Ruling.String].
func (r Ruling) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads what MarshalText wrote; empty text is the zero Ruling.
func (r *Ruling) UnmarshalText(text []byte) (err error) {
	*r = 0
	if len(text) > 0 {
		*r, err = ParseRuling(string(text))
	}
	return err
}

// Follows says what an upheld protest asks for. The program does none of it by itself: a person corrects the hook, and
// the correction is a line of its own.
type Follows uint8

// What follows from a protest. Books that read a protest as right disqualify (FTG, HTP 8, 9) or measure anew.
const (
	// NothingFollows: the result stays as it is.
	NothingFollows Follows = iota
	// CorrectionFollows: a result is to be corrected.
	CorrectionFollows
	// DisqualificationFollows: a hook is to become a disqualification.
	DisqualificationFollows
)

// followsWords are the words of forms, the journal and the database.
var followsWords = map[Follows]string{NothingFollows: "nothing", CorrectionFollows: "correction", DisqualificationFollows: "disqualification"}

// ParseFollows reads "nothing", "correction" or "disqualification"; "" is nothing.
func ParseFollows(s string) (Follows, error) {
	if s == "" {
		return NothingFollows, nil
	}
	for follows, word := range followsWords {
		if s == word {
			return follows, nil
		}
	}
	return 0, invalid("follows", fmt.Sprintf("%q is not what can follow", s), "write nothing, correction or disqualification")
}

// String returns the word.
func (f Follows) String() string { return followsWords[f] }

// MarshalText writes [Follows.String].
func (f Follows) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (f *Follows) UnmarshalText(text []byte) (err error) {
	*f, err = ParseFollows(string(text))
	return err
}

// LodgeProtest writes down that the result of an entry is protested. By is personal data and no part of the journal;
// [Lodger] reads it. Hook may be the nil UUID.
type LodgeProtest struct {
	Protest uuid.UUID
	Entry   uuid.UUID
	Hook    uuid.UUID
	About   string
	Fee     bool
	By      string
}

// Lodger reads the name of whoever lodges a protest; it may not be empty. The decision does not ask again, because a
// journal that is replayed has no name in it.
func Lodger(name string) (string, error) {
	return required("by", "the name of whoever protests", name)
}

// decide takes a protest at any time before the result is official, and marks one that comes after the window. The
// rule books that have a window refuse such a one (FTG, HTP); whether to hear it is left to the officials, since a clock
// that stood wrong or an announcement that came late is theirs to judge.
func (a LodgeProtest) decide(c *Class, at time.Time) error {
	about, err := required("about", "what the protest is about", a.About)
	if err != nil {
		return err
	}
	_, hook := c.find(a.Hook)
	switch {
	case c.Rules.Protest == (ProtestRule{}):
		return wrongState("under the rules of this class a result is not protested", "correct it, with a reason, where the officials see cause")
	case a.Protest == uuid.Nil || c.protest(a.Protest) != nil:
		return invalid("id", "the protest has no id of its own", "give a new one")
	case c.entry(a.Entry) == nil:
		return notFound("there is no such entry in this class", "reload the page")
	case a.Hook != uuid.Nil && (hook == nil || hook.Entry != a.Entry):
		return notFound("that entry has no such hook", "reload the page")
	}
	until := c.ProtestsUntil()
	c.Protests = append(c.Protests, Protest{
		ID: a.Protest, Entry: a.Entry, Hook: a.Hook, About: about, Fee: a.Fee, By: a.By, Lodged: at,
		Late: !until.IsZero() && at.After(until),
	})
	return nil
}

// DecideProtest writes down what was decided about a protest, by those whom the rules name. It changes no result.
type DecideProtest struct {
	Protest uuid.UUID
	Ruling  Ruling
	Follows Follows
	Reason  string
}

// decide takes one ruling for each protest: who sees it otherwise afterwards lodges another. A protest that was taken
// back needs no reason.
func (a DecideProtest) decide(c *Class, at time.Time) error {
	reason, err := text("reason", a.Reason)
	if err != nil {
		return err
	}
	p := c.protest(a.Protest)
	switch {
	case p == nil:
		return notFound("there is no such protest in this class", "reload the page")
	case !p.Open():
		return &Error{Kind: Stale, Field: "protest", Message: "that protest is decided already", Fix: "look at the page again"}
	case a.Ruling == 0:
		return invalid("ruling", "the ruling is missing", "choose upheld, turned down or withdrawn")
	case a.Ruling != Upheld && a.Follows != NothingFollows:
		return invalid("follows", "nothing follows from a protest that was not upheld", "choose nothing")
	case reason == "" && a.Ruling != TakenBack:
		return invalid("reason", "the reason is missing", "type it")
	}
	p.Ruling, p.Follows, p.Reason, p.Decided = a.Ruling, a.Follows, reason, at
	return nil
}

// protest returns the address of a protest in the class, or nil.
func (c *Class) protest(id uuid.UUID) *Protest {
	if i := slices.IndexFunc(c.Protests, func(p Protest) bool { return p.ID == id }); i >= 0 {
		return &c.Protests[i]
	}
	return nil
}

// openProtest returns the first protest that is undecided, or nil.
func (c *Class) openProtest() *Protest {
	if i := slices.IndexFunc(c.Protests, Protest.Open); i >= 0 {
		return &c.Protests[i]
	}
	return nil
}

// ProtestsUntil returns when the window for protests ends; the zero time where the rules have no clock for it, or the
// class is not decided. It runs from the end of the last hook, or from when a result was last changed after it: a
// corrected result is another result, and whoever it displaced has the same time to speak as anybody had. A hook that
// ended at 19:32 in a class with ten minutes gives 19:42; a correction at 19:40 gives 19:50.
//
// It is derived, so that no action can forget it. A pull-off that is not pulled because all its finalists were
// scratched leaves the window with the last hook.
func (c *Class) ProtestsUntil() time.Time {
	if c.Rules.Protest.Minutes == 0 || c.Phase() != Decided {
		return time.Time{}
	}
	var last time.Time
	for _, r := range c.Rounds {
		for _, h := range r.Hooks {
			for _, t := range [...]time.Time{h.Ended, h.Changed} {
				if t.After(last) {
					last = t
				}
			}
		}
	}
	if last.IsZero() {
		return last // everybody was scratched, and nothing was pulled that could be protested
	}
	return last.Add(time.Duration(c.Rules.Protest.Minutes) * time.Minute)
}

// ToCorrect returns the upheld protests that ask for a change which nobody has made yet: no result of the entry, or of
// the hook where the protest names one, was changed since. It advises and refuses nothing, because only people can say
// that the change was made in another way.
func (c *Class) ToCorrect() []Protest {
	return slices.DeleteFunc(slices.Clone(c.Protests), func(p Protest) bool {
		return p.Ruling != Upheld || p.Follows == NothingFollows || slices.ContainsFunc(c.Rounds, func(r Round) bool {
			return slices.ContainsFunc(r.Hooks, func(h Hook) bool {
				return h.Entry == p.Entry && (p.Hook == uuid.Nil || h.ID == p.Hook) && h.Changed.After(p.Decided)
			})
		})
	})
}

// maySign refuses a signature while a protest may still come or is undecided. No rule book was read in which an official
// ends the window early, and so nobody can; where the promoter leaves the procedure out (HTP), so does the rule set.
func (c *Class) maySign(at time.Time) error {
	if p := c.openProtest(); p != nil {
		return wrongState("the protest against "+c.numberOf(p.Entry)+" is not decided", "decide it first")
	}
	if left := c.ProtestsUntil().Sub(at); left > 0 {
		minutes := int((left + time.Minute - 1) / time.Minute)
		return wrongState(fmt.Sprintf("protests are taken for %d more %s", minutes, plural(minutes, "minute")), "sign when the window is over")
	}
	return nil
}

// plural adds an s where it is not one.
func plural(n int, noun string) string {
	if n == 1 {
		return noun
	}
	return noun + "s"
}
