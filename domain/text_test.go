package domain

import (
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestWhatIsShown(t *testing.T) {
	t.Parallel()
	for _, name := range []string{
		"", "Maud Farrow", "Käthe O'Brien", "7b", "Иван", "山田 太郎", "محمد", "a\u0301", "Ox 🚜", "✓ – “x”", "a\u00a0b",
		"نامه\u200cای", "ක්\u200dෂ", "\ufffd",
	} {
		require.True(t, Shown(name), "%q", name)
	}
	for what, name := range map[string]string{
		"a line feed": "a\nb", "a tab": "a\tb", "NUL": "a\x00", "an escape": "\x1b[31mred", "delete": "a\x7f", "C1": "a\u0085b", "turned round": "a\u202eb",
		"isolated": "\u2066a\u2069", "a mark of direction": "a\u200eb", "a byte order mark": "\ufeffa", "a soft hyphen": "a\u00adb", "no width": "a\u200bb",
		"a line": "a\u2028b", "a paragraph": "a\u2029b", "a joiner at the end": "a\u200d", "at the beginning": "\u200ca", "between pictures": "👩\u200d🌾",
		"before a space": "a\u200c b", "two joiners": "a\u200c\u200cb", "a tag": "a\U000e0067b",
	} {
		require.False(t, Shown(name), what)
	}
}

// Names and reasons of every sort are held to it, with the field and what to do.
func TestTextsThatCannotBeShownAreRefused(t *testing.T) {
	t.Parallel()
	const turned = "Ox\u202e"
	class := Class{Name: "Farm Stock"}
	event := Event{Name: "Pull", Zone: "UTC", Tracks: []Track{{Name: "T"}}, Sleds: []Sled{{Name: "S", Gears: 1, StartHoles: 1}}, Sessions: []Session{{Name: "E", Starts: time.Unix(0, 0)}}}
	named := func(change func(*Event)) error {
		e := event
		e.Tracks, e.Sleds, e.Sessions = []Track{e.Tracks[0]}, []Sled{e.Sleds[0]}, []Session{e.Sessions[0]}
		change(&e)
		return e.checkNames()
	}
	details := func(puller, vehicle, home string) error { _, err := NewDetails(puller, vehicle, home); return err }
	decide := func(a Action) error { _, err := Decide(class, a, time.Unix(0, 0)); return err }
	sled := Sled{Gears: 1, StartHoles: 1}
	box, err := ParseWeight("21600 lb")
	require.NoError(t, err)
	trip, err := ParseDistance("198", Foot)
	require.NoError(t, err)
	for field, err := range map[string]error{
		"puller": details(turned, "", ""), "vehicle": details("A", turned, ""), "home": details("A", "", turned),
		"number": decide(AddEntry{Entry: uuid.New(), Number: turned}), "seed": decide(DrawClass{Seed: turned}),
		"name": named(func(e *Event) { e.Name = turned }), "place": named(func(e *Event) { e.Place = turned }),
		"tracks": named(func(e *Event) { e.Tracks[0].Name = turned }), "sleds": named(func(e *Event) { e.Sleds[0].Name = turned }),
		"sessions": named(func(e *Event) { e.Sessions[0].Name = turned }),
		"note":     Setting{Box: box, Trip: trip, Gear: 1, StartHole: 1, Note: turned}.Check(sled),
		"blades":   Setting{Box: box, Trip: trip, Gear: 1, StartHole: 1, Blades: turned}.Check(sled),
	} {
		var refused *Error
		require.ErrorAs(t, err, &refused, field)
		require.Equal(t, field, refused.Field)
		require.Equal(t, "the text holds a character that cannot be seen", refused.Message)
		require.Equal(t, "type it again, in one line, instead of pasting it", refused.Fix)
	}
}

// What is shown stays so when it is trimmed, as the texts of the domain are.
func TestTrimmingHidesNothing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "s")
		trimmed, err := text("note", s)
		if err == nil {
			require.True(t, Shown(trimmed))
		}
	})
}
