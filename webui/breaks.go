//go:build !js

package webui

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"clayline/domain"
	"clayline/webui/templates"
)

// breaksOf reads the breaks of a session as people type them, on the clock of the place: "19:30 20, 21:00 10" are two, of
// twenty minutes and of ten. None are "". What cannot be read is refused at the field with the part that is wrong.
func breaksOf(typed string, starts time.Time) (list []domain.Pause, err error) {
	for part := range strings.SplitSeq(typed, ",") {
		words := strings.Fields(part)
		if len(words) == 0 && strings.TrimSpace(typed) == "" {
			return nil, nil
		}
		none := &domain.Error{Kind: domain.Invalid, Field: templates.FieldBreaks, Message: fmt.Sprintf("%q is no break", strings.TrimSpace(part)), Fix: "write its start and its minutes, such as 19:30 20"}
		if len(words) != 2 {
			return nil, none
		}
		from, err := clockAfter(starts, words[0])
		n, numberErr := strconv.Atoi(words[1])
		if err != nil || numberErr != nil || n < 1 || n > 600 {
			return nil, none
		}
		list = append(list, domain.Pause{From: from, Minutes: n})
	}
	return list, nil
}

// clockOf reads a time of day, 19:30, also with the point that many countries write in it.
func clockOf(typed string) (time.Time, error) {
	return time.Parse(clockFormat, strings.Replace(typed, ".", ":", 1))
}

// clockAfter reads a time of day on the clock of a start as the first such moment after it, also past midnight. What would be
// more than [latestCurfew] later was meant for before it.
func clockAfter(starts time.Time, typed string) (time.Time, error) {
	parsed, err := clockOf(typed)
	if err != nil {
		return time.Time{}, err
	}
	at := time.Date(starts.Year(), starts.Month(), starts.Day(), parsed.Hour(), parsed.Minute(), 0, 0, starts.Location())
	if next := at.AddDate(0, 0, 1); at.Before(starts) && next.Sub(starts) <= latestCurfew {
		at = next
	}
	return at.UTC(), nil
}

// typedBreaks writes the breaks of a session as they are typed.
func typedBreaks(e domain.Event, s domain.Session) string {
	words := make([]string, len(s.Breaks))
	for i, b := range s.Breaks {
		words[i] = clock(e, b.From) + " " + strconv.Itoa(b.Minutes)
	}
	return strings.Join(words, ", ")
}

// breakWords says when the breaks of a session are, a sentence each.
func breakWords(e domain.Event, s domain.Session) []string {
	var list []string
	for _, b := range s.Breaks {
		list = append(list, fmt.Sprintf("Break at about %s, %d min", clock(e, b.From), b.Minutes))
	}
	return list
}
