package webui

import (
	"errors"
	"net/url"
	"slices"

	"clayline/domain"
	"clayline/webui/templates"
)

// doubts are the cause of the refusal that asks: whether each figure that is hardly possible is right. The form that answers
// carries every question that was asked, so that the same figure is stored then and another one is asked about anew.
type doubts []*domain.Error

// Error names the first question.
func (d doubts) Error() string { return d[0].Message }

// doubtsOf returns what a refusal asks about, nil for any other.
func doubtsOf(err error) doubts {
	d, _ := errors.AsType[doubts](err)
	return d
}

// likely asks once about hardly possible figures of an action, on every page alike; see [domain.Class.Unlikely]. A correction
// that is mistyped is the harder to find, so that it asks too.
func likely(class *domain.Class, action domain.Action, values url.Values) error {
	open := slices.DeleteFunc(class.Unlikely(action), func(e *domain.Error) bool { return slices.Contains(values[fieldConfirm], e.Message) })
	if len(open) == 0 {
		return nil
	}
	first := *open[0]
	first.Fix, first.Cause = "look again; sent once more it is stored all the same", doubts(open)
	if first.Field == templates.FieldResult {
		first.Fix = "Enter again stores it all the same"
	}
	return &first
}

// asked carries in a form what was asked about, or answered before something else was refused.
func (r *refused) asked(f *templates.Form) {
	for _, answered := range r.values[fieldConfirm] {
		f.Hidden = append(f.Hidden, templates.Hidden{Name: fieldConfirm, Value: answered})
	}
	for _, e := range doubtsOf(r.err) {
		f.Hidden = append(f.Hidden, templates.Hidden{Name: fieldConfirm, Value: e.Message})
	}
}

// asks takes the question out of what is wrong with a form, for the page that shows it in a place of its own; "" where nothing
// is asked in the form of that name.
func (r *refused) asks(name string, form *templates.Form) string {
	if r == nil || r.form != name || doubtsOf(r.err) == nil {
		return ""
	}
	form.Errors = nil
	return sentence(r.err.Message) + " " + sentence(r.err.Fix)
}
