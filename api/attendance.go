package api

import (
	"clayline/domain"
)

// maxAttended bounds how many entries one list may have; a class of more is sent in parts.
const maxAttended = 200

// readAttend reads who came and who paid, all of it for each entry in the list; what is left out is not so. The fee is text
// in figures: a number would lose the cents of some.
//
//	{"entries": [{"entry": "0b…", "came": true, "fee": "20.00", "paid": true}, {"entry": "9b…", "guest": true, "came": true}]}
func readAttend(in *sent) deed {
	var action domain.Attend
	for _, o := range in.body.inners("entries", maxAttended) {
		attended := domain.Attended{Entry: o.id("entry"), Attendance: domain.Attendance{
			Guest: o.truth("guest"), Came: o.truth("came"), Fee: o.money("fee"), Paid: o.truth("paid"),
		}}
		_ = o.done() // kept for the whole body
		action.Entries = append(action.Entries, attended)
	}
	return deed{action: action}
}

// money reads an amount that may be left out, and is none then.
func (o *object) money(name string) domain.Money {
	text := o.maybe(name)
	if text == "" {
		return 0
	}
	amount, err := domain.ParseMoney(text)
	o.keep(name, err)
	return amount
}
