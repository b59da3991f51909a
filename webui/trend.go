package webui

import (
	"clayline/domain"
	"clayline/domain/trend"
	"clayline/webui/templates"
)

// trendOf tells the staff of each round that is over whether distances moved with the hook order; nil where no round has
// enough of them. It is on no public page: people would read a reason to change a result in it.
func trendOf(class *domain.Class) *templates.Trend {
	var view templates.Trend
	for i := range class.Rounds {
		if says := trend.Of(class.InHookOrder(i)).Sentence(); says != "" {
			view.Rounds = append(view.Rounds, templates.Term{Label: roundTitle(class.Rounds[i].Name), Value: says})
		}
	}
	if len(view.Rounds) == 0 {
		return nil
	}
	view.Caution = trend.Caution
	return &view
}
