package doc

import (
	"bytes"

	"clayline/domain"
)

// draftPoints are those of a draft, for people to write over: 10 for the first place and one less for each further, and 5
// for a hook, as in the example of [domain.PointsRule.Earn]. They are nobody's rule.
var draftPoints = points{Places: []int{10}, Step: 1, Hook: 5}

// draftClass and draftEvent are a class and a pull of a draft.
type (
	draftClass struct {
		Series string `json:"series"`
		Class  string `json:"class"`
	}
	draftEvent struct {
		Name    string       `json:"name"`
		Classes []draftClass `json:"classes"`
	}
)

// SeasonDraft writes a season of a server to begin with: one pull with the classes of an event, by their addresses. The zero
// Event leaves the pulls out, which have to be written before the season can be kept.
func SeasonDraft(name string, e domain.Event, classes []domain.Class) string {
	draft := struct {
		Name   string       `json:"name"`
		Points points       `json:"points"`
		Events []draftEvent `json:"events"`
	}{name, draftPoints, []draftEvent{}}
	if e.Slug != "" {
		pull := draftEvent{Name: e.Name, Classes: []draftClass{}}
		for i := range classes {
			pull.Classes = append(pull.Classes, draftClass{classes[i].Name, e.Slug + "/" + classes[i].Slug})
		}
		draft.Events = append(draft.Events, pull)
	}
	var body bytes.Buffer
	_ = writeJSON(&body, draft) // texts and numbers can be written, and a buffer takes everything
	return body.String()
}
