package doc_test

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

// What search engines read of an event and of a class is what the page says, and cannot end the element that it stands in.
func TestAPreviewTellsOfAnEventAndOfAClass(t *testing.T) {
	t.Parallel()
	early, late := time.Date(2026, 9, 19, 23, 0, 0, 0, time.UTC), time.Date(2026, 9, 20, 16, 0, 0, 0, time.UTC)
	session := uuid.New()
	e := domain.Event{Name: "Pull </script><b>", Place: "Tarn Hollow", Zone: "America/Chicago", Sessions: []domain.Session{{ID: session, Starts: late}, {Starts: early}}}
	read := func(line string) (told map[string]any) {
		require.NotContains(t, line, "</")
		require.NoError(t, json.Unmarshal([]byte(line), &told))
		require.Equal(t, "https://schema.org", told["@context"])
		require.Equal(t, "SportsEvent", told["@type"])
		return told
	}
	event := read(doc.EventPreview(e, "/e/pull"))
	require.Equal(t, []any{"Pull </script><b>", "/e/pull", "2026-09-19T18:00:00-05:00", "2026-09-20"}, []any{event["name"], event["url"], event["startDate"], event["endDate"]})
	require.Equal(t, map[string]any{"@type": "Place", "name": "Tarn Hollow", "address": "Tarn Hollow"}, event["location"])
	class := read(doc.ClassPreview(e, &domain.Class{Name: "4x4", Session: session}, "/e/pull", "/e/pull/4x4"))
	require.Equal(t, []any{"4x4", "2026-09-20T11:00:00-05:00"}, []any{class["name"], class["startDate"]})
	require.Equal(t, map[string]any{"@type": "SportsEvent", "name": "Pull </script><b>", "url": "/e/pull"}, class["superEvent"])
	require.NotContains(t, doc.EventPreview(domain.Event{Name: "n"}, "/e/n"), "Date", "a programme that is not out has no dates")
}
