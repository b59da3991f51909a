package domain_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// Records are kept per class and track and sled (common practice, no published source).
func TestRecordsAreOfAClassATrackAndASled(t *testing.T) {
	t.Parallel()
	mark := func(class, track, sled, number, result string) domain.Mark {
		return domain.Mark{Class: class, Track: track, Sled: sled, Number: number, Result: resultIn(t, result, domain.Foot)}
	}
	marks := []domain.Mark{
		mark("4x4", "Elm", "Old", "7", "281.36"), mark("4x4", "Elm", "New", "7", "200"), mark("4x4", "Oak", "Old", "7", "190"),
		mark("Mini", "Elm", "Old", "3", "300"), mark("4x4", "Elm", "Old", "12", "DQ"), mark("4x4", "Elm", "Old", "23", "FP"),
		mark("4x4", "Elm", "Old", "41", "281.360"), mark("4x4", "Elm", "New", "41", "FP 312.44"), mark("4x4", "Elm", "Old", "9", "void"),
	}
	assert.Equal(t, []domain.Mark{marks[0], marks[7], marks[2], marks[3]}, domain.Records(marks), "ties keep the first, and a full pull without a figure says nothing")
	assert.Empty(t, domain.Records(nil))
}

// Nobody went farther than the record, and there is one for each class and sled at which somebody was measured.
func TestNobodyWentFartherThanTheRecord(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var marks []domain.Mark
		for range rapid.IntRange(0, 12).Draw(t, "hooks") {
			marks = append(marks, domain.Mark{Class: rapid.SampledFrom([]string{"A", "B"}).Draw(t, "class"), Sled: rapid.SampledFrom([]string{"S", "T"}).Draw(t, "sled"),
				Result: resultIn(t, rapid.SampledFrom([]string{"100", "100.0", "250", "FP", "FP 301", "DQ", "void"}).Draw(t, "result"), domain.Foot)})
		}
		records := domain.Records(marks)
		for _, m := range marks {
			if !m.Result.Reached() || m.Result.Distance.IsZero() {
				continue
			}
			holders := 0
			for _, r := range records {
				if r.Class == m.Class && r.Sled == m.Sled {
					holders++
					require.GreaterOrEqual(t, r.Result.Distance.Compare(m.Result.Distance), 0)
				}
			}
			require.Equal(t, 1, holders)
		}
	})
}

// A class makes a mark of every hook that counts, the pull-off's too, with the setting that it was pulled against.
func TestAClassTellsItsMarks(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7", "23")
	s.all("1", "FP 281 FP")
	s.class.Entries[0].Details.Puller = "Maud Farrow"
	var told []string
	for _, m := range s.class.Marks("Elm", "Wrenfield, Track 1") {
		require.Equal(t, []string{"Elm", "Wrenfield, Track 1", s.class.Name, s.class.Sled.Name}, []string{m.Event, m.Track, m.Class, m.Sled})
		require.Contains(t, m.Setting, "gear ")
		told = append(told, strings.TrimSpace(m.Round.String()+" "+m.Number+" "+m.Result.String()+" "+m.Holder))
	}
	assert.ElementsMatch(t, []string{"1 41 FP Maud Farrow", "1 7 281 Puller 7", "1 23 FP Puller 23"}, told)
	assert.Len(t, domain.Records(s.class.Marks("Elm", "")), 1)
	assert.Empty(t, (&domain.Class{}).Marks("Elm", ""))
}

// A hook makes no mark in a round that its entry never belonged in.
func TestWhatACorrectionTookOutMakesNoMark(t *testing.T) {
	t.Parallel()
	assert.True(t, domain.Slot{Note: "late"}.Belongs())
	assert.False(t, domain.Slot{Out: true, Note: "taken out by a correction: misread"}.Belongs())
}
