package webui

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/language"
	"clayline/webui/templates"
)

// rowsOf writes a hook order as people read it: "7 281.36 (kept as test hook)", "12 on the track", "23 next".
func rowsOf(c *domain.Class, r *domain.Round) []string {
	var list []string
	for _, row := range order(c, r) {
		list = append(list, written(row.Number, row.Outcome))
	}
	return list
}

// written is a number with an outcome and its remarks.
func written(number string, o templates.Outcome) string {
	line := strings.TrimSpace(number + " " + o.Text)
	if len(o.Remarks) > 0 {
		line += " (" + strings.Join(o.Remarks, "; ") + ")"
	}
	return line
}

func TestTheHookOrderTellsWhatHappened(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		what  string
		rules string
		steps []string
		want  []string
	}{
		{"drawn", "capped-300ft", []string{"draw"}, []string{"7", "12", "23", "41"}},
		{"the first hooks", "capped-300ft", begun(), []string{"7 on the track", "12 next", "23 after next", "41"}},
		{"a choice is open and nobody is next", "capped-300ft", begun("281.36"), []string{"7 281.36", "12", "23", "41"}},
		{"the test hook was kept", "capped-300ft", begun("281.36", "keep"), []string{"7 281.36 (kept as test hook)", "12 on the track", "23 next", "41 after next"}},
		{"the test hook was given up", "capped-300ft", begun("281.36", "last"),
			[]string{"12 on the track", "23 next", "41 after next", "7 (test hook given up (281.36 ft); test puller, dropped to last)"}},
		{"a full pull", "capped-300ft", begun("FP"), []string{"7 Full pull", "12 on the track", "23 next", "41 after next"}},
		{"a measured full pull", "capped-300ft", begun("FP 312.44"), []string{"7 Full pull (measured 312.44 ft)", "12 on the track", "23 next", "41 after next"}},
		{"a disqualification", "capped-300ft", begun("FP", "DQ out of bounds"), []string{"7 Full pull", "12 DQ (out of bounds)", "23 on the track", "41 next"}},
		{"an absence", "capped-300ft", begun("FP", "absent at a wedding"), []string{"7 Full pull", "12 absent (at a wedding)", "23 on the track", "41 next"}},
		{"a re-hook", "capped-300ft", begun("FP", "again sled, light went red"), []string{"7 Full pull", "12 on the track (re-hooked: sled, light went red)", "23 next", "41 after next"}},
		{"a second attempt", "capped-300ft", begun("FP", "second", "188.02"), []string{"7 Full pull", "12 188.02 (second attempt)", "23 on the track", "41 next"}},
		{"a drop", "capped-300ft", begun("FP", "drop belt"), []string{"7 Full pull", "23 on the track", "41 next", "12 after next (dropped to last: belt)"}},
		{"a correction", "capped-300ft", begun("FP", "281.36", "correct 12 218.36"), []string{"7 Full pull", "12 218.36 (corrected: misread tape)", "23 on the track", "41 next"}},
		{"a scratch", "capped-300ft", begun("FP", "scratch 23 clutch"), []string{"7 Full pull", "12 on the track", "23 out (scratched: clutch)", "41 next"}},
		{"a reset", "capped-300ft", begun("FP", "280", "reset wet"), []string{"7 (setting reset: wet)", "12 (setting reset: wet (280 ft))", "23 (setting reset: wet)", "41"}},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			c := tell(t, row.rules, row.steps...)
			assert.Equal(t, row.want, rowsOf(c, c.Current()))
		})
	}
}

// The standing says with what an entry stands, and why an entry without a place has none.
func TestTheStandingInWords(t *testing.T) {
	t.Parallel()
	pullOff := begun("FP", "280", "FP", "270", "open", "write", "freeze", "call")
	for _, row := range []struct {
		what     string
		rules    string
		steps    []string
		placed   []string
		unplaced []string
	}{
		{"nobody hooked", "capped-300ft", begun(), nil, nil},
		{"in order of distance", "capped-300ft", begun("281.36", "keep", "282.4", "270"), []string{"1 12 282.4", "2 7 281.36", "3 23 270"}, nil},
		{"equal distances share", "capped-300ft", begun("281.36", "keep", "282.4", "281.360"), []string{"1 12 282.4", "2= 7 281.36", "2= 23 281.360"}, nil},
		{"one full pull wins without a pull-off", "capped-300ft", begun("FP", "280", "270", "260"), []string{"1 7 Full pull", "2 12 280", "3 23 270", "4 41 260"}, nil},
		{"two full pulls come back", "capped-300ft", begun("FP", "FP 310"), []string{"1= 7 Full pull (in the pull-off)", "1= 12 Full pull (in the pull-off)"}, nil},
		{"the pull-off is under way", "capped-300ft", append(pullOff, "FP 305.5"),
			[]string{"1 7 Full pull (measured 305.5 ft; full pull, then the pull-off)", "2 23 Full pull (in the pull-off)", "3 12 280", "4 41 270"}, nil},
		{"a pull-off short of the line", "capped-300ft", append(pullOff, "290", "291.5"),
			[]string{"1 23 291.5 (full pull, then the pull-off)", "2 7 290 (full pull, then the pull-off)", "3 12 280", "4 41 270"}, nil},
		{"an absent finalist", "capped-300ft", append(pullOff, "290", "absent broke an axle"),
			[]string{"1 7 290 (full pull, then the pull-off)", "2 23 absent (full pull, then the pull-off; broke an axle)", "3 12 280", "4 41 270"}, nil},
		{"without a place", "capped-300ft", begun("FP", "DQ out of bounds", "scratch 41 clutch", "absent"), []string{"1 7 Full pull"}, []string{"12 DQ (out of bounds)", "23 absent", "41 scratched (clutch)"}},
		{"the better of two", "best-of-two-100m", begun("80", "81.5", "70", "60", "open", "write", "freeze", "call", "82", "79"),
			[]string{"1 7 82 (80, 82)", "2 12 81.5 (81.5, 79)", "3 23 70", "4 41 60"}, nil},
		{"the sum of two", "sum-of-two-100m", begun("80", "81.5", "70", "DQ jerking", "open", "write", "freeze", "call", "82", "79"),
			[]string{"1 7 162 (80 + 82)", "2 12 160.5 (81.5 + 79)", "3 23 70"}, []string{"41 DQ (jerking)"}},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			c := tell(t, row.rules, row.steps...)
			s := standing(domain.Event{}, c)
			assert.Equal(t, row.placed, linesOf(s.Rows))
			assert.Equal(t, row.unplaced, linesOf(s.Unplaced))
			words := map[bool]string{false: "provisional", true: "provisional; protests before trophies are handed over"}
			assert.Equal(t, words[c.Phase() == domain.Decided], s.State)
		})
	}
}

func linesOf(rows []templates.StandingRow) []string {
	var list []string
	for _, row := range rows {
		list = append(list, strings.TrimSpace(row.Place+" "+written(row.Number, row.Outcome)))
	}
	return list
}

func TestASignedStandingSaysBy(t *testing.T) {
	t.Parallel()
	c := tell(t, "capped-300ft", begun("FP", "280", "270", "260", "sign Ada Flagg")...)
	s := standing(domain.Event{Zone: "America/Chicago"}, c)
	assert.Equal(t, "official since "+c.Official.Made.In(domain.Event{Zone: "America/Chicago"}.Location()).Format("15:04")+", signed Ada Flagg", s.State)
}

// The rounds stand newest first, each with its state and the settings that it was pulled on.
func TestRoundsNewestFirst(t *testing.T) {
	t.Parallel()
	c := tell(t, "capped-300ft", begun("FP", "280", "FP", "270", "open", "write", "freeze", "call", "305")...)
	list := rounds(domain.Event{}, c)
	require.Len(t, list, 2)
	assert.Equal(t, []string{"Pull-off", "Round 1"}, []string{list[0].Name, list[1].Name})
	assert.Equal(t, []string{"round-p1", "round-1"}, []string{list[0].ID, list[1].ID})
	assert.Equal(t, "puller 2 of 2", list[0].State)
	assert.Regexp(t, `^done \d\d:\d\d$`, list[1].State)
	assert.Equal(t, []string{"7 305", "23 on the track"}, rowsOf(c, &c.Rounds[1]), "past the line the figure counts")
	for _, r := range list {
		require.Len(t, r.Settings, 1)
		assert.Contains(t, r.Settings[0].Scope, "the same for every hook since ")
		assert.Empty(t, r.Mixed)
	}
}

// Hooks that were kept over a reset are told on every page: the round was pulled on two settings.
func TestARoundOnTwoSettingsSaysSo(t *testing.T) {
	t.Parallel()
	l := plan(t, "capped-300ft")
	l.class.Rules.Reset = domain.KeepHooks
	for _, step := range begun("FP", "280", "reset wet", "freeze", "call", "270") {
		l.step(step)
	}
	r := l.class.Current()
	assert.Equal(t, "This round was pulled on two settings: hooks made before the reset were kept under the rules.", mixed(r))
	list := settings(domain.Event{}, &l.class, r)
	require.Len(t, list, 2)
	assert.Equal(t, "hooks 1 to 3", list[0].Scope, "the third was under way")
	assert.Equal(t, "hook 4", list[1].Scope)
	assert.Equal(t, "wet", list[1].Reason)
}

// Anybody can compute the draw again from what the page says.
func TestTheDrawIsProven(t *testing.T) {
	t.Parallel()
	assert.Nil(t, drawProof(domain.Event{}, tell(t, "capped-300ft")))
	l := plan(t, "capped-300ft")
	l.step("draw")
	l.do(domain.DrawClass{Seed: "it's dice 1", Reason: "a late entry"})
	l.do(domain.AddEntry{Entry: l.id(), Number: "99"})
	proof := drawProof(domain.Event{}, &l.class)
	notes := strings.Join(proof.Notes, "\n")
	assert.Equal(t, "it's dice 1", proof.Seed)
	assert.Contains(t, notes, "Drawn 2 times; the last time because: a late entry")
	assert.Contains(t, notes, "99 was entered after the draw and is last in the order.")
	first := l.class.Entry(l.class.Draw.Order[0]).Number
	hash := sha256.Sum256([]byte("it's dice 1|" + first))
	assert.Contains(t, notes, fmt.Sprintf("First is %s, whose hash begins with %s: printf '%%s|%%s' 'it'\\''s dice 1' '%s' | sha256sum",
		first, hex.EncodeToString(hash[:])[:12], first), "and the command can be pasted, whatever was said before the draw")
}

// The strip has a stop for each hook that reached one, and says which leads.
func TestTheStripShowsEveryStop(t *testing.T) {
	t.Parallel()
	assert.Nil(t, strip(tell(t, "capped-300ft")), "there is none before the draw")

	s := strip(tell(t, "capped-300ft", begun("281.36", "keep", "DQ out of bounds", `287' 6"`)...))
	assert.Equal(t, []int{300_000, 75_000}, []int{s.Line, s.Restart})
	require.Len(t, s.Lanes, 1)
	assert.Equal(t, []templates.Stop{
		{Label: "7", Text: "281.36", At: 281_360}, {Label: "23", Text: `287' 6"`, At: 287_500, Kind: templates.StopLeads},
	}, s.Lanes[0].Stops)

	s = strip(tell(t, "capped-300ft", begun("FP", "280", "FP 310", "270", "open", "write", "freeze", "call", "FP 305")...))
	require.Len(t, s.Lanes, 2, "the pull-off has a lane of its own")
	assert.Equal(t, templates.StopFull, s.Lanes[0].Stops[0].Kind)
	assert.Equal(t, templates.Stop{Label: "12", Text: "280", At: 280_000}, s.Lanes[0].Stops[1], "nobody leads short of a full pull")
	assert.Equal(t, templates.StopFull, s.Lanes[0].Stops[2].Kind)
	assert.Equal(t, []templates.Stop{{Label: "7", Text: "305", At: 305_000, Kind: templates.StopLeads}}, s.Lanes[1].Stops)

	s = strip(tell(t, "floating-ft", begun()...))
	assert.Zero(t, s.Line, "a floating class has no line")
	assert.Equal(t, 300_000, s.Max)
}

// What people typed as a reason is said in no other language, even where it reads like words of the program; the causes that the
// program has words for are.
func TestAReasonThatPeopleTypedStaysAsItIs(t *testing.T) {
	t.Parallel()
	c := tell(t, "capped-300ft", begun("FP", "absent at 12 ft", "DQ out of bounds", "280")...)
	view := templates.Pits{Classes: []templates.PitsClass{{Name: c.Name}}}
	for _, row := range order(c, c.Current()) {
		view.Classes[0].Rows = append(view.Classes[0].Rows, templates.PitsRow{Puller: row.Puller, Outcome: row.Outcome})
	}
	var page bytes.Buffer
	require.NoError(t, view.Page().Render(t.Context(), &page))
	said, _ := language.German().Page(page.Bytes())
	assert.Contains(t, string(said), `translate="no">at 12 ft</span>`)
	assert.Contains(t, string(said), `>aus der Bahn</span>`)
	printed := classResult(place, c)
	for _, row := range printed.Rows {
		if row.Number == "12" {
			assert.Equal(t, []string{"at 12 ft"}, row.Typed)
		}
	}
}

// A device that has a name of its own keeps it; the word for what it is has one in every language.
func TestADeviceIsNamedOrCalledWhatItIs(t *testing.T) {
	t.Parallel()
	for device, named := range map[string]bool{"laser": false, " Tape": false, "counter wheel": false, "Brimble 4": true, "laser 2": true} {
		assert.Equal(t, named, namedDevice(device), device)
	}
}
