package webui

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/day"
	"clayline/webui/templates"
)

// times are a window of time.
var times = regexp.MustCompile(`\d\d:\d\d(–\d\d:\d\d)?`)

// pitted writes the rows of a class as people read them, without times: "12 next | Round 1, puller 2 of 4 · 1 hook ahead".
func pitted(c *domain.Class) []string {
	told := c.Told()
	var list []string
	for _, row := range pitsRows(outlookAlone(c), c, &told) {
		words := []string{strings.TrimSpace(row.Number + " " + times.ReplaceAllString(row.Text, ""))}
		for _, w := range []string{row.Hook, row.So, row.PullOff} {
			if w != "" {
				words = append(words, w)
			}
		}
		list = append(list, strings.Join(words, " | "))
	}
	return list
}

// Who waits in the pits reads where the hook is, how many are ahead, what the entry stands with, and whether it is in
// the pull-off.
func TestThePitsTellEveryEntryItsHook(t *testing.T) {
	t.Parallel()
	over := begun("FP", "280", "FP", "270")
	for _, row := range []struct {
		what, rules string
		steps       []string
		want        []string
	}{
		{"entered", "capped-300ft", nil, []string{"7 not drawn yet", "12 not drawn yet", "23 not drawn yet", "41 not drawn yet"}},
		{"drawn", "capped-300ft", []string{"draw"}, []string{"7 | Round 1, puller 1 of 4", "12 | Round 1, puller 2 of 4",
			"23 | Round 1, puller 3 of 4", "41 | Round 1, puller 4 of 4"}},
		{"a choice is open and nothing is counted", "capped-300ft", begun("281.36"),
			[]string{"7 281.36 | place 1", "12 | Round 1, puller 2 of 4", "23 | Round 1, puller 3 of 4", "41 | Round 1, puller 4 of 4"}},
		{"a scratch", "capped-300ft", begun("FP", "scratch 23 clutch"),
			[]string{"7 Full pull | place 1", "12 on the track | Round 1, puller 2 of 3", "23 out", "41 next | Round 1, puller 3 of 3 · 1 hook ahead"}},
		{"the pull-off is due", "capped-300ft", over, []string{"7 Full pull | place 1, shared | in the pull-off", "12 280 | place 3 | not in the pull-off",
			"23 Full pull | place 1, shared | in the pull-off", "41 270 | place 4 | not in the pull-off"}},
		{"the pull-off is pulled", "capped-300ft", append(over, "open", "write", "freeze", "call"),
			[]string{"7 on the track | Pull-off, puller 1 of 2 | so far Full pull, place 1, shared | in the pull-off",
				"23 next | Pull-off, puller 2 of 2 · 1 hook ahead | so far Full pull, place 1, shared | in the pull-off",
				"12 280 | place 3 | not in the pull-off", "41 270 | place 4 | not in the pull-off"}},
		{"decided", "capped-300ft", begun("FP", "280", "DQ out", "270"), []string{"7 Full pull | place 1", "12 280 | place 2", "23 DQ", "41 270 | place 3"}},
		{"stopped", "capped-300ft", begun("FP", "stop rain"), []string{"7 Full pull", "12 | Round 1, puller 2 of 4", "23 | Round 1, puller 3 of 4", "41 | Round 1, puller 4 of 4"}},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			assert.Equal(t, row.want, pitted(tell(t, row.rules, row.steps...)))
		})
	}
}

// The time is that of the class page.
func TestThePitsTellTheLikelyTime(t *testing.T) {
	t.Parallel()
	c := tell(t, "capped-300ft", begun()...)
	column, _ := foretold(c)
	told := c.Told()
	rows := pitsRows(outlookAlone(c), c, &told)
	require.Len(t, rows, 4)
	for i, row := range rows {
		assert.Equal(t, column[i], strings.Join(append([]string{row.Text}, row.Remarks...), ", "))
	}
}

// What to bring are the words of the rules, and nothing where they say nothing or nobody comes back any more.
func TestThePitsSayWhatTheRulesAskFor(t *testing.T) {
	t.Parallel()
	weighed := func(set *domain.RuleSet) { set.PullOff.Before = "a new weighing" } // PIED
	assert.Equal(t, []string{"Before a pull-off: these rules ask for: a new weighing."}, bring(&tellUnder(t, weighed, begun("FP")...).class))
	assert.Empty(t, bring(&tellUnder(t, weighed, begun("FP", "280", "270", "260")...).class))
	assert.Empty(t, bring(tell(t, "capped-300ft", begun()...)))
}

// asking is a page with the entries of a table.
func asking(numbers ...string) templates.Pits {
	class := templates.PitsClass{Name: "Farm"}
	for _, n := range numbers {
		number, name, _ := strings.Cut(n, " ")
		class.Rows = append(class.Rows, templates.PitsRow{Puller: templates.Puller{Number: number, Name: name, Vehicle: "Ox " + number}})
	}
	return templates.Pits{Classes: []templates.PitsClass{class, {Name: "Nobody's"}}}
}

func TestAQuestionInThePits(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		asked, says string
		want        []string
	}{
		{"7", "2 entries found.", []string{"7", "7B"}},
		{"7b", "1 entry found.", []string{"7B"}},
		{"MAUD", "1 entry found.", []string{"41"}},
		{"øst", "1 entry found.", []string{"17"}},
		{"ox", "4 entries found.", []string{"7", "7B", "17", "41"}},
		{"<b>", "Nobody found. Type the number on the vehicle, or a part of a name.", nil},
	} {
		t.Run(row.asked, func(t *testing.T) {
			t.Parallel()
			view := answered(asking("7 Ellis", "7B Ellis", "17 Per Østby", "41 Maud"), row.asked)
			var got []string
			for _, class := range view.Classes {
				require.Equal(t, "Farm", class.Name, "a class in which nobody was found is left out")
				for _, r := range class.Rows {
					got = append(got, r.Number)
				}
			}
			assert.Equal(t, row.want, got)
			assert.Equal(t, row.says, view.Found)
			assert.Equal(t, row.asked, view.Query)
		})
	}
}

// An answer is bounded, whatever was asked.
func TestAnAnswerInThePitsIsBounded(t *testing.T) {
	t.Parallel()
	var many []string
	for i := range maxFound + 9 {
		many = append(many, fmt.Sprintf("%d Ann", i))
	}
	view := answered(asking(many...), "ann")
	require.Len(t, view.Classes[0].Rows, maxFound)
	require.Equal(t, "39 entries found, the first 30 are here. Type more of the number or name.", view.Found)
	require.Equal(t, strings.Repeat("é", maxAsked/2), question(strings.Repeat("é", maxAsked)))
	require.Equal(t, "x"+strings.Repeat("é", maxAsked/2-1), question("x"+strings.Repeat("é", maxAsked)), "cut, and never within a letter")
	require.Equal(t, "é", question(" é\xff "))
	require.Empty(t, question("\xff"))
}

// The first entry with a number has its plain anchor, and no two entries share one.
func TestEveryEntryInThePitsHasItsAnchor(t *testing.T) {
	t.Parallel()
	one, two := tell(t, "capped-300ft", begun()...), tell(t, "capped-300ft")
	two.Slug = "again"
	var ids []string
	for _, class := range pitsClasses(domain.Event{}, []domain.Class{*one, {}, *two}, day.Day{}) {
		for _, row := range class.Rows {
			ids = append(ids, row.ID)
		}
	}
	require.Equal(t, []string{"n7", "n12", "n23", "n41", "n7--2", "n12--2", "n23--2", "n41--2"}, ids)
}
