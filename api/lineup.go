package api

import "clayline/domain"

// readPresence reads where the entry of the address is: {"where": "here"}, "missing" or "cooling". The last word stands,
// and nothing follows from it.
func readPresence(in *sent) deed {
	id := in.param("entry")
	where, err := domain.ParseWhere(in.body.text("where", maxText))
	in.body.keep("where", err)
	return deed{action: domain.SayWhere{Entry: id, Where: where}, named: named{Entry: &id}}
}
