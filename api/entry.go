package api

import (
	"github.com/google/uuid"

	"clayline/domain"
)

// entry is a vehicle entered in a class, with what is public about it. That is what the announcer says aloud; scratched
// is the reason why the vehicle does not pull, left out while it does.
type entry struct {
	ID      uuid.UUID `json:"id"`
	Number  string    `json:"number"`
	Puller  string    `json:"puller"`
	Vehicle string    `json:"vehicle,omitempty"`
	Home    string    `json:"home,omitempty"`
	Late    bool      `json:"late"`
	// Same is the entry whose vehicle this one hooks with, left out for a vehicle of its own.
	Same      *uuid.UUID `json:"same_as,omitempty"`
	Scratched string     `json:"scratched,omitempty"`
}

// entryOf writes an entry. What the puller left out is left out.
func entryOf(e domain.Entry) entry {
	return entry{
		ID: e.ID, Number: e.Number, Puller: e.Details.Puller, Vehicle: e.Details.Vehicle, Home: e.Details.Home, Late: e.Late, Same: sameOf(e), Scratched: e.Scratched,
	}
}

// maxNumber bounds the number painted on a vehicle, in characters. It is text: 7b is another vehicle than 7.
const maxNumber = 8

// readEntry reads {"number": "41", "puller": "Maud Farrow", "vehicle": "Brindle Ox", "home": "Wrenfield"}, of which the
// last two may be left out, and "same_as" with the id of an entry where its vehicle hooks again. What the domain refuses
// about the details is told at the puller.
func readEntry(in *sent) deed {
	id := in.fresh("id")
	number, err := domain.NewNumber(in.body.text("number", maxNumber))
	in.body.keep("number", err)
	same := uuid.Nil
	if in.body.has("same_as") {
		same = in.body.id("same_as")
	}
	details, err := domain.NewDetails(in.body.text("puller", maxText), in.body.maybe("vehicle"), in.body.maybe("home"))
	in.body.keep("puller", err)
	action := domain.AddEntry{Entry: id, Number: number, Same: same, Details: details}
	return deed{action: action, named: named{Entry: &id}, fields: map[string]string{"same": "same_as"}}
}

// readScratch reads {"reason": "gearbox"} for the entry of the address.
func readScratch(in *sent) deed {
	id := in.param("entry")
	return deed{action: domain.Scratch{Entry: id, Reason: in.body.text("reason", maxText)}, named: named{Entry: &id}}
}
