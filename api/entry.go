package api

import (
	"github.com/google/uuid"

	"clayline/domain"
)

// entry is a vehicle entered in a class, with what is public about it.
type entry struct {
	ID        uuid.UUID `json:"id"`
	Number    string    `json:"number"`
	Puller    string    `json:"puller"`
	Vehicle   string    `json:"vehicle,omitempty"`
	Home      string    `json:"home,omitempty"`
	Late      bool      `json:"late"`
	Scratched string    `json:"scratched,omitempty"`
}

func entryOf(e domain.Entry) entry {
	return entry{
		ID: e.ID, Number: e.Number, Puller: e.Details.Puller, Vehicle: e.Details.Vehicle, Home: e.Details.Home, Late: e.Late, Scratched: e.Scratched,
	}
}

// maxNumber bounds the number painted on a vehicle, in characters.
const maxNumber = 8

func readEntry(in *sent) deed {
	id := in.fresh("id")
	number := in.body.text("number", maxNumber)
	details, err := domain.NewDetails(in.body.text("puller", maxText), in.body.maybe("vehicle"), in.body.maybe("home"))
	in.body.keep("puller", err)
	return deed{action: domain.AddEntry{Entry: id, Number: number, Details: details}, named: named{Entry: &id}}
}

func readScratch(in *sent) deed {
	id := in.param("entry")
	return deed{action: domain.Scratch{Entry: id, Reason: in.body.text("reason", maxText)}, named: named{Entry: &id}}
}
