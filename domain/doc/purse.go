package doc

import (
	"encoding/json"
	"fmt"

	"clayline/domain"
)

// purse is what a rule set says of prize money; docs/rules.md explains each field. Amounts are json.Number and never
// floats.
type purse struct {
	Guests  string        `json:"guests,omitempty"`
	Prizes  []json.Number `json:"prizes,omitempty"`
	Share   int           `json:"share,omitempty"`
	OfEach  json.Number   `json:"of_each,omitempty"`
	Added   json.Number   `json:"added,omitempty"`
	AddedTo string        `json:"added_to,omitempty"`
	Split   []int         `json:"split,omitempty"`
	Minimum int           `json:"minimum,omitempty"`
	Reduced int           `json:"reduced,omitempty"`
	Stopped string        `json:"stopped,omitempty"`
}

// The words of the document for the choices of a purse. A word, once published, keeps its meaning.
var (
	guestMoneyWords   = map[string]domain.GuestMoney{"paid": domain.GuestsPaid, "passed": domain.GuestsPassed, "forfeit": domain.GuestsForfeit}
	addedToWords      = map[string]bool{"all": false, "members": true}
	stoppedPurseWords = map[string]domain.StoppedPurse{"place": domain.PurseByPlace, "equal": domain.PurseEqual, "nothing": domain.PurseKept}
)

// rule turns the group into the domain's rule; no group pays nothing.
func (d *purse) rule(f *ruleValues) (p domain.PurseRule) {
	if d == nil {
		return p
	}
	p = domain.PurseRule{Share: d.Share, Minimum: d.Minimum, Reduced: d.Reduced}
	if len(d.Split) > 0 {
		p.Split = d.Split
	}
	p.Guests = word(f, "purse.guests", d.Guests, "paid", guestMoneyWords)
	p.AddedMembers = word(f, "purse.added_to", d.AddedTo, "all", addedToWords)
	p.Stopped = word(f, "purse.stopped", d.Stopped, "place", stoppedPurseWords)
	p.OfEach, p.Added = f.money("purse.of_each", d.OfEach), f.money("purse.added", d.Added)
	for _, prize := range d.Prizes {
		p.Prizes = append(p.Prizes, f.money("purse.prizes", prize))
	}
	return p
}

// money reads an amount; nothing written is none.
func (f *ruleValues) money(field string, n json.Number) domain.Money {
	if n == "" {
		return 0
	}
	amount, err := domain.ParseMoney(n.String())
	f.named(field, err)
	return amount
}

// purseOf returns the group for a rule; nil where it pays none.
func purseOf(p domain.PurseRule) *purse {
	if !p.Given() {
		return nil
	}
	d := &purse{
		Guests: wordFor(guestMoneyWords, p.Guests), Share: p.Share, OfEach: moneyNumber(p.OfEach), Added: moneyNumber(p.Added),
		AddedTo: wordFor(addedToWords, p.AddedMembers), Split: p.Split, Minimum: p.Minimum, Reduced: p.Reduced,
		Stopped: wordFor(stoppedPurseWords, p.Stopped),
	}
	for _, prize := range p.Prizes {
		d.Prizes = append(d.Prizes, json.Number(prize.String()))
	}
	return d
}

// moneyNumber writes an amount; none is left out.
func moneyNumber(m domain.Money) json.Number {
	if m == 0 {
		return ""
	}
	return json.Number(m.String())
}

// purseFields are the rows of the group in [ruleFields].
var purseFields = []ruleField{
	{path: "purse",
		says:  "The prize money of a class. Without it there is none.",
		write: "a group in braces"},
	{path: "purse.guests", byDefault: "paid", shape: words(guestMoneyWords), meanings: map[string]string{
		"paid":    "like everybody else",
		"passed":  "not, and who placed behind them moves up",
		"forfeit": "not, and their money stays with the organiser"},
		says: "Whether guests are paid.", write: `"paid", "passed" or "forfeit"`},
	{path: "purse.prizes", shape: schema{Items: &schema{Type: "number", Minimum: new(0), Maximum: new(10_000_000)}},
		says: "Fixed amounts for the first places.", write: "a list of amounts such as [150, 110, 90.50]"},
	{path: "purse.share", byDefault: 0, shape: percentShape,
		says: "How many percent of the fees paid go into the pool.", write: "a whole number from 0 to 100"},
	{path: "purse.of_each", shape: moneyShape,
		says: "How much of each fee paid goes into the pool.", write: "an amount such as 10 or 10.50"},
	{path: "purse.added", shape: moneyShape,
		says: "What the promoter adds to the pool.", write: "an amount such as 500"},
	{path: "purse.added_to", byDefault: "all", shape: words(addedToWords), meanings: map[string]string{
		"all":     "it is split like the rest of the pool",
		"members": "it is split among members, who move up over guests for it"},
		says: "To whom the added money goes.", write: `"all" or "members"`},
	{path: "purse.split", shape: schema{Items: &schema{Type: "integer", Minimum: new(1), Maximum: new(100)}},
		says:  "How many percent of the pool each of the first places gets. Without it the first place gets all.",
		write: "a list of whole numbers such as [50, 30, 20], 100 together at most"},
	{path: "purse.minimum", byDefault: 0, shape: pointsShape,
		says: "The number of entries present below which every amount is reduced.", write: "a whole number; 0 means no minimum"},
	{path: "purse.reduced", byDefault: 0, shape: percentShape,
		says: "How many percent of every amount are paid when there are fewer entries than minimum.", write: "a whole number from 0 to 100"},
	{path: "purse.stopped", byDefault: "place", shape: words(stoppedPurseWords), meanings: map[string]string{
		"place":   "the places so far are paid",
		"equal":   "it is divided equally among all who were there",
		"nothing": "nothing is paid"},
		says: "What becomes of the purse when the class was begun and not ended.", write: `"place", "equal" or "nothing"`},
}

// percentShape and moneyShape are those of a share and of an amount.
var (
	percentShape = schema{Minimum: new(0), Maximum: new(100)}
	moneyShape   = schema{Minimum: new(0), Maximum: new(10_000_000)}
)

// purseSentences are the sentences of the group in [ruleSentences].
var purseSentences = []ruleSentence{
	{"Purse.Guests", "a class", "it", func(r domain.RuleSet) string {
		return map[domain.GuestMoney]string{0: "has no purse", domain.GuestsPaid: "pays guests like everybody else",
			domain.GuestsPassed: "pays members alone, who move up", domain.GuestsForfeit: "pays members alone, who do not move up"}[r.Purse.Guests]
	}},
	{"Purse.Prizes", "the fixed prizes", "they", inPurse(func(p domain.PurseRule) string {
		return either(len(p.Prizes) == 0, "are none", "are "+commas(p.Prizes))
	})},
	{"Purse.Share", "the pool", "it", inPurse(func(p domain.PurseRule) string {
		return fmt.Sprintf("takes %d percent of the fees", p.Share)
	})},
	{"Purse.OfEach", "the pool", "it", inPurse(func(p domain.PurseRule) string {
		return fmt.Sprintf("takes %s of each fee", p.OfEach)
	})},
	{"Purse.Added", "the promoter", "the promoter", inPurse(func(p domain.PurseRule) string {
		return fmt.Sprintf("adds %s", p.Added)
	})},
	{"Purse.AddedMembers", "added money", "it", inPurse(func(p domain.PurseRule) string {
		return either(p.AddedMembers, "goes to members", "goes to all")
	})},
	{"Purse.Split", "the pool", "it", inPurse(func(p domain.PurseRule) string {
		return either(len(p.Split) == 0, "goes to the first place", "is split in percent "+commas(p.Split))
	})},
	{"Purse.Minimum", "a class", "it", inPurse(func(p domain.PurseRule) string {
		return either(p.Minimum == 0, "pays in full however few come", fmt.Sprintf("pays in full from %d entries", p.Minimum))
	})},
	{"Purse.Reduced", "with fewer entries a class", "it", inPurse(func(p domain.PurseRule) string {
		return fmt.Sprintf("pays %d percent", p.Reduced)
	})},
	{"Purse.Stopped", "a class that is stopped", "it", inPurse(func(p domain.PurseRule) string {
		return map[domain.StoppedPurse]string{domain.PurseByPlace: "pays the places so far", domain.PurseEqual: "pays all who were there equally",
			domain.PurseKept: "pays nothing"}[p.Stopped]
	})},
}

// inPurse keeps a sentence to sets that pay.
func inPurse(says func(domain.PurseRule) string) func(domain.RuleSet) string {
	return func(r domain.RuleSet) string { return either(r.Purse.Given(), says(r.Purse), "") }
}
