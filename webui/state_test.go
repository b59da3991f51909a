package webui

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// From the first entry to the signature, every page says where a class stands and who has to do something.
func TestWhatAClassWaitsFor(t *testing.T) {
	t.Parallel()
	const capped = " · 300 ft, full pulls return for a pull-off"
	twoFull := begun("FP", "FP", "280", "270")
	for _, row := range []struct {
		what     string
		rules    string
		steps    []string
		words    string
		sentence string
		awaited  string
	}{
		{"entries come in", "capped-300ft", nil, "entries open, 4 so far", "4 entered, not drawn yet" + capped, "Desk: enter the pullers, then draw"},
		{"drawn", "capped-300ft", []string{"draw"}, "drawn", "Round 1 · the sled is being set" + capped, "Desk: write the setting and freeze it"},
		{"written", "capped-300ft", []string{"draw", "write"}, "drawn", "Round 1 · the sled is being set" + capped, "Desk: write the setting and freeze it"},
		{"frozen", "capped-300ft", []string{"draw", "write", "freeze"}, "drawn", "Round 1 · the setting is frozen, the first call is next" + capped, "Desk or booth: call the next puller"},
		{"the test puller hooks", "capped-300ft", begun(), "hooking: puller 1 of 4", "Round 1 · puller 1 of 4" + capped, "Booth: the result of 7"},
		{"the test puller chooses", "capped-300ft", begun("281.36"), "hooking: puller 1 of 4", "Round 1 · puller 1 of 4, a choice is open" + capped, "Booth: the choice of 7"},
		{"the second hooks", "capped-300ft", begun("281.36", "keep"), "hooking: puller 2 of 4", "Round 1 · puller 2 of 4" + capped, "Booth: the result of 12"},
		{"one was scratched", "capped-300ft", begun("FP", "scratch 41 clutch"), "hooking: puller 2 of 3", "Round 1 · puller 2 of 3" + capped, "Booth: the result of 12"},
		{"the last hooks", "capped-300ft", begun("FP", "280", "270"), "hooking: puller 4 of 4", "Round 1 · puller 4 of 4" + capped, "Booth: the result of 41"},
		{"the sled was reset", "capped-300ft", begun("FP", "reset wet"), "round 1 to begin", "Round 1 · the sled is being set" + capped, "Desk: write the setting and freeze it"},
		{"two full pulls", "capped-300ft", twoFull, "pull-off to come", "Round 1 · done, full pulls return for a pull-off" + capped, "Desk: start the pull-off"},
		{"the pull-off is opened", "capped-300ft", append(twoFull, "open"), "pull-off to begin", "Pull-off · the sled is being set" + capped, "Desk: write the setting and freeze it"},
		{"the pull-off is pulled", "capped-300ft", append(twoFull, "open", "write", "freeze", "call"), "pull-off: puller 1 of 2", "Pull-off · puller 1 of 2" + capped, "Booth: the result of 7"},
		{"two rounds, one done", "best-of-two-100m", begun("80", "81", "82", "83"), "Round 1 done",
			"Round 1 · done, the next round is due · 100 m, the better of two pulls, full pulls return for a final", "Desk: start round 2"},
		{"decided", "capped-300ft", begun("FP", "280", "270", "260"), "result", "Decided, provisional until the officials make it official" + capped, "Desk: make the result official"},
		{"signed", "capped-300ft", begun("FP", "280", "270", "260", "sign Ada Flagg"), "result", "Official result" + capped, "Nothing: the result is official"},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			c := tell(t, row.rules, row.steps...)
			assert.Equal(t, row.words, stateWords(c))
			assert.Equal(t, row.sentence, stateSentence(c))
			assert.Equal(t, row.awaited, awaited(c))
		})
	}
}

// The number to beat is what a puller has to pull to lead.
func TestWhatItTakesToLead(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		what  string
		rules string
		steps []string
		label string
		value string
	}{
		{"nobody hooked", "capped-300ft", begun(), "Nobody has a distance yet", ""},
		{"the first was disqualified", "capped-100m", begun("DQ out of bounds"), "Nobody has a distance yet", ""},
		{"the first stands", "capped-300ft", begun("281.36", "keep"), "To beat: 7 P7", "281.36"},
		{"a shorter one follows", "capped-300ft", begun("281.36", "keep", "280"), "To beat: 7 P7", "281.36"},
		{"a longer one follows", "capped-300ft", begun("281.36", "keep", "282.4"), "To beat: 12 P12", "282.4"},
		{"an equal one follows", "capped-300ft", begun("281.36", "keep", "281.360"), "To beat: 7 P7", "281.36"},
		{"one full pull", "capped-300ft", begun("FP"), "One full pull", "300"},
		{"a full pull and a distance", "capped-300ft", begun("FP", "280"), "One full pull · best short of the line", "280"},
		{"a figure past the line is a full pull", "capped-300ft", begun("FP 312.44", "301", "280"), "Two full pulls · best short of the line", "280"},
		{"a void hook does not lead", "capped-300ft", begun("281.36", "last"), "Nobody has a distance yet", ""},
		{"past the line in a floating class", "floating-ft", begun("FP 312.44", "keep"), "To beat: 7 P7", "312.44"},
		{"in the pull-off the figure leads", "capped-300ft", begun("FP", "FP", "280", "270", "open", "write", "freeze", "call", "FP 305.5"), "To beat: 7 P7", "305.5"},
		{"decided", "floating-ft", begun("298.4", "keep", "311.92", "287", "250"), "Longest", "311.92"},
		{"corrected", "capped-300ft", begun("281.36", "keep", "280", "correct 7 218.36"), "To beat: 12 P12", "280"},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			c := tell(t, row.rules, row.steps...)
			got := toBeat(c, c.Current())
			assert.Equal(t, row.label, got.Label)
			assert.Equal(t, row.value, got.Value)
			if got.Value != "" {
				assert.Equal(t, c.Rules.Unit().String(), got.Unit)
			}
		})
	}
}

func TestManyFullPullsAreCounted(t *testing.T) {
	t.Parallel()
	for n, words := range map[int]string{1: "One full pull", 2: "Two full pulls", 5: "Five full pulls", 6: "6 full pulls", 14: "14 full pulls"} {
		assert.Equal(t, words, fullPulls(n))
	}
}

// Who is on the track, who then, and who after: nobody is called while a choice is open.
func TestWhoIsOnTheTrack(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		what                string
		steps               []string
		onTrack, next, then string
	}{
		{"not drawn", nil, "", "", ""},
		{"drawn", []string{"draw"}, "", "7", "12"},
		{"the first hooks", begun(), "7", "12", "23"},
		{"a choice is open", begun("281.36"), "", "", ""},
		{"the choice was to keep it", begun("281.36", "keep"), "12", "23", "41"},
		{"the choice was to drop to last", begun("281.36", "last"), "12", "23", "41"},
		{"a second attempt", begun("FP", "second"), "12", "23", "41"},
		{"dropped to last", begun("FP", "drop belt"), "23", "41", "12"},
		{"one scratched", begun("FP", "scratch 23 clutch"), "12", "41", ""},
		{"the last hooks", begun("FP", "280", "270"), "41", "", ""},
		{"decided", begun("FP", "280", "270", "260"), "", "", ""},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			h := hooking(tell(t, "capped-300ft", row.steps...))
			assert.Equal(t, []string{row.onTrack, row.next, row.then}, []string{h.OnTrack.Number, h.Next.Number, h.AfterNext.Number})
		})
	}
}

// What must not be missed is said in a sentence, and what to do about it in another.
func TestMessages(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		what  string
		steps []string
		text  string
		do    string
	}{
		{"the test puller's choice", begun("281.36"), "7 decides about 281.36 ft: keeps it or drops to last and hooks again, before unhooking.",
			"Saying nothing keeps the result. Nobody is called before the choice is stored."},
		{"a stop before the restart line", begun("FP", "60"), "12 decides about 60 ft: keeps it or starts again at once, before unhooking.",
			"Saying nothing keeps the result. Nobody is called before the choice is stored."},
		{"both at once", begun("60"), "7 decides about 60 ft: keeps it or starts again at once or drops to last and hooks again, before unhooking.",
			"Saying nothing keeps the result. Nobody is called before the choice is stored."},
		{"a pull-off", begun("FP", "280", "FP", "270"), "Back for the pull-off: 7, 23.", "The sled gets a new setting first."},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			list := messages(tell(t, "capped-300ft", row.steps...))
			require.Len(t, list, 1)
			assert.Equal(t, row.text, list[0].Text)
			assert.Equal(t, row.do, list[0].Do)
		})
	}
	assert.Empty(t, messages(tell(t, "capped-300ft", begun("281.36", "keep")...)), "nothing is open")
}

func TestWhoWon(t *testing.T) {
	t.Parallel()
	assert.Empty(t, winner(tell(t, "capped-300ft", begun("FP", "280", "270")...)), "nobody, while somebody is to hook")
	assert.Equal(t, "7 P7", winner(tell(t, "capped-300ft", begun("FP", "280", "270", "260")...)))
	assert.Equal(t, "12 P12 & 41 P41", winner(tell(t, "capped-300ft", begun("DQ out of bounds", "keep", "280", "270", "280.00")...)), "an equal distance shares the place")
	assert.Empty(t, winner(tell(t, "capped-100m", begun("absent", "absent", "DQ jerking", "absent")...)), "nobody has a place")
}

func TestOptionsInWords(t *testing.T) {
	t.Parallel()
	for option, words := range map[domain.Option]string{
		domain.Keep: "keeps it", domain.ToLast: "drops to last and hooks again", domain.AtOnce: "starts again at once",
		domain.ToOriginal: "goes back to the drawn place and hooks again", 3: "hooks again as number 3",
	} {
		assert.Equal(t, words, optionWords(option))
	}
}

// From an event people want to come to the class that is being pulled, else to the one that comes next.
func TestTheClassInHand(t *testing.T) {
	t.Parallel()
	decided, entering := *tell(t, "capped-300ft", begun("FP", "280", "270", "260")...), *tell(t, "capped-300ft")
	drawn, pulled := *tell(t, "capped-300ft", "draw"), *tell(t, "capped-300ft", begun()...)
	for _, row := range []struct {
		what    string
		classes []domain.Class
		want    int
	}{
		{"the one that is pulled", []domain.Class{decided, drawn, pulled, entering}, 2},
		{"the one with an open choice", []domain.Class{drawn, *tell(t, "capped-300ft", begun("281.36")...)}, 1},
		{"else the first that is drawn", []domain.Class{decided, entering, drawn, drawn}, 2},
		{"else the first with open entries", []domain.Class{decided, entering, entering}, 1},
		{"else the last", []domain.Class{decided, decided}, 1},
	} {
		assert.Equal(t, row.want, inHand(row.classes), row.what)
	}
}

func TestWhatIsOnNow(t *testing.T) {
	t.Parallel()
	assert.False(t, onNow(tell(t, "capped-300ft", "draw", "write", "freeze")))
	assert.True(t, onNow(tell(t, "capped-300ft", begun()...)))
	assert.True(t, onNow(tell(t, "capped-300ft", begun("281.36")...)))
	assert.False(t, onNow(tell(t, "capped-300ft", begun("FP", "280", "270", "260")...)))
	track := uuid.New()
	assert.Equal(t, "Track 2", trackName(domain.Event{Tracks: []domain.Track{{ID: uuid.New(), Name: "Track 1"}, {ID: track, Name: "Track 2"}}}, &domain.Class{Track: track}))
}

// A hook that is made again has a number of its own, and the puller stays where they are in the order: the page of the class,
// the pits and the journal never call two numbers by one word.
func TestAHookMadeAgainCountsNoPullerTwice(t *testing.T) {
	t.Parallel()
	for _, steps := range [][]string{begun(), begun("FP"), begun("FP", "again sled"), begun("FP", "again sled", "again sled"), begun("FP", "again sled", "280"), begun("FP", "scratch 23 clutch", "again sled"), begun("FP", "scratch 23 clutch", "again sled", "280")} {
		c := tell(t, "capped-300ft", steps...)
		on := c.OnTrack()
		assert.Contains(t, hookWords(c, c.Entry(on.Entry)), "Round 1, "+turnOf(c), "the order counts one way on every page: %v", steps)
		assert.NotContains(t, stateSentence(c), "hook ")
	}
	c := tell(t, "capped-300ft", begun("FP", "again sled")...)
	assert.Equal(t, "puller 2 of 4", turnOf(c))
	assert.Equal(t, 3, c.OnTrack().Number)
	assert.Equal(t, "4 pullers", turnOf(tell(t, "capped-300ft", "draw", "write", "freeze")))
}
