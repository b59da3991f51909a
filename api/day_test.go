package api

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain/day"
)

// Each entry that waits has its window; a class of which nothing is foretold has none.
func TestTheCallsOfAClass(t *testing.T) {
	at := func(minute int) time.Time { return time.Date(2026, 9, 19, 18, minute, 0, 0, time.UTC) }
	window := func(minute int) day.Window {
		return day.Window{Early: at(minute), Middle: at(minute + 2), Late: at(minute + 5)}
	}
	text, err := json.Marshal(classRunOf(day.Class{
		Slug: "farm", Name: "Farm", State: day.ToCome, Starts: window(5), Ends: window(30), RoundEnds: window(20),
		Calls: []day.Call{{Entry: uuid.UUID{1}, Window: window(5)}, {Entry: uuid.UUID{2}, Window: window(10)}},
	}))
	require.NoError(t, err)
	require.JSONEq(t, `{"slug": "farm", "name": "Farm", "state": "to-come", "cycle": 0, "known": "usual", "pull_off": 0,
		"starts": {"early": "2026-09-19T18:05:00Z", "middle": "2026-09-19T18:07:00Z", "late": "2026-09-19T18:10:00Z"},
		"ends": {"early": "2026-09-19T18:30:00Z", "middle": "2026-09-19T18:32:00Z", "late": "2026-09-19T18:35:00Z"},
		"round_ends": {"early": "2026-09-19T18:20:00Z", "middle": "2026-09-19T18:22:00Z", "late": "2026-09-19T18:25:00Z"},
		"calls": [
			{"entry": "01000000-0000-0000-0000-000000000000", "early": "2026-09-19T18:05:00Z", "middle": "2026-09-19T18:07:00Z", "late": "2026-09-19T18:10:00Z"},
			{"entry": "02000000-0000-0000-0000-000000000000", "early": "2026-09-19T18:10:00Z", "middle": "2026-09-19T18:12:00Z", "late": "2026-09-19T18:15:00Z"}]}`, string(text))
	text, err = json.Marshal(classRunOf(day.Class{Slug: "farm", Name: "Farm", State: day.Empty}))
	require.NoError(t, err)
	require.JSONEq(t, `{"slug": "farm", "name": "Farm", "state": "empty", "cycle": 0, "known": "usual", "pull_off": 0}`, string(text))
}
