package webui

import (
	"clayline/domain"
	"clayline/webui/templates"
)

// whereWords say where a puller is: "cooling down".
func whereWords(w domain.Where) string {
	if w == domain.Cooling {
		return "cooling down"
	}
	return w.String()
}

// presenceWords say what is known of a puller in the line-up: "cooling down since 18:41, by the rules till 18:46"; "" where
// nothing is.
func presenceWords(e domain.Event, l domain.InLine) string {
	if l.Where == 0 {
		return ""
	}
	words := whereWords(l.Where) + " since " + clock(e, l.At)
	if !l.Until.IsZero() {
		words += ", by the rules till " + clock(e, l.Until)
	}
	return words
}

// seenShown is how many of those who are next the booth and the cab are told of.
const seenShown = 4

// seenOf lists what the steward said of those who are next.
func seenOf(e domain.Event, c *domain.Class) (list []templates.Seen) {
	for i, l := range c.InLine() {
		if words := presenceWords(e, l); words != "" && i < seenShown {
			list = append(list, templates.Seen{Puller: puller(c.Entry(l.Entry)), Words: words})
		}
	}
	return list
}
