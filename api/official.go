package api

import (
	"time"

	"github.com/google/uuid"

	"clayline/domain"
)

// official is the signature under a result. A class without one may still change.
type official struct {
	At   time.Time `json:"at"`
	Name string    `json:"name"`
}

// signature is one that was taken away when the result was opened again.
type signature struct {
	official
	Revision int       `json:"revision"`
	Reopened time.Time `json:"reopened"`
	Reason   string    `json:"reason"`
	Standing []signed  `json:"standing"`
}

// signed is a line of the standing as it was signed. Results are in the words of a class sheet, as people signed them.
type signed struct {
	Place   *int      `json:"place"`
	Shared  bool      `json:"shared"`
	Entry   uuid.UUID `json:"entry"`
	Results string    `json:"results"`
}

// earlierOf writes the signatures that were taken away, the oldest first.
func earlierOf(c *domain.Class) []signature {
	list := make([]signature, len(c.Earlier))
	for i, s := range c.Earlier {
		list[i] = signature{
			official: official{At: s.Made.UTC(), Name: s.Name}, Revision: i + 1, Reopened: s.Reopened.UTC(), Reason: s.Reason,
			Standing: make([]signed, len(s.Standing)),
		}
		for j, line := range s.Standing {
			list[i].Standing[j] = signed{Shared: line.Shared, Entry: line.Entry, Results: line.Results}
			if line.Place > 0 {
				list[i].Standing[j].Place = &s.Standing[j].Place
			}
		}
	}
	return list
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

// readReopen reads {"reason": "measured to the wrong mark"}. The signature is taken off, and stays with the class as an earlier one.
func readReopen(in *sent) deed {
	return deed{action: domain.Reopen{Reason: in.body.text("reason", maxText)}}
}
