package templates

import (
	"fmt"
	"strconv"
	"strings"
)

// stripTold is how many stops of a lane the words of a strip name.
const stripTold = 12

// title is the strip's name in words.
func (s Strip) title() string { return join(": ", "Track strip", s.Name) }

// Tell is the strip in words, for those who cannot see it.
func (s Strip) Tell() string {
	var parts []string
	if s.Line > 0 {
		parts = append(parts, fmt.Sprintf("Full pull at %s %s.", thousandths(s.Line), s.Unit))
	} else {
		parts = append(parts, "No full-pull line: every distance is measured.")
	}
	if s.Restart > 0 {
		parts = append(parts, fmt.Sprintf("Restart line at %s %s.", thousandths(s.Restart), s.Unit))
	}
	for _, l := range s.Lanes {
		parts = append(parts, l.tell(s.Unit))
	}
	return strings.Join(parts, " ")
}

// tell is one lane in words: full pulls, then the stops from far to short.
func (l Lane) tell(unit string) string {
	var said []string
	for _, s := range l.Stops {
		if s.Kind == StopFull {
			said = append(said, s.Label+": full pull")
		}
	}
	for _, s := range l.measured() {
		word := ":"
		if s.Kind == StopLeads {
			word = " leads with"
		}
		said = append(said, fmt.Sprintf("%s%s %s %s", s.Label, word, s.Text, unit))
	}
	if len(said) == 0 {
		said = append(said, "no stop yet")
	}
	if more := len(said) - stripTold; more > 0 {
		said = append(said[:stripTold], strconv.Itoa(more)+" more")
	}
	return join(" · ", append([]string{l.Name}, said...)...) + "."
}
