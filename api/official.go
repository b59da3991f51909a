package api

import (
	"time"

	"clayline/domain"
)

// official is the signature under a result. A class without one may still change.
type official struct {
	At   time.Time `json:"at"`
	Name string    `json:"name"`
}

// officialOf writes the signature, nil while the result is provisional.
func officialOf(o domain.Official) *official {
	if o.Made.IsZero() {
		return nil
	}
	return &official{At: o.Made.UTC(), Name: o.Name}
}

// readOfficial reads {"name": "M. Abara"}, the name under the result. Whether the class is decided, the domain says.
func readOfficial(in *sent) deed {
	action, err := domain.Sign(in.body.text("name", maxText))
	in.body.keep("name", err)
	return deed{action: action}
}

// readReopen reads {"reason": "measured to the wrong mark"}. The signature is taken off; the journal keeps it.
func readReopen(in *sent) deed {
	return deed{action: domain.Reopen{Reason: in.body.text("reason", maxText)}}
}
