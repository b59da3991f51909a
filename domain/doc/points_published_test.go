package doc_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

// withReward returns a rule set of one round at 300 ft with more groups, as a club would write it.
func withReward(t require.TestingT, line, groups string) domain.RuleSet {
	rules, err := doc.ParseRuleSet([]byte(`{"name": "ours", "unit": "ft", "line": 300, "cap": ` + line + `, "rounds": 1, ` + groups + `}`))
	require.NoError(t, err, groups)
	return rules
}

// rewarded scores a sheet with an entries file, or without where that is empty.
func rewarded(t require.TestingT, rules domain.RuleSet, ending domain.Ending, sheet, entries string) doc.Scored {
	read, err := doc.Sheet{Rules: rules}, error(nil)
	if sheet != "" {
		read, err = doc.ReadSheet(strings.NewReader("round,entry,result,note\n"+sheet), "class.csv", rules)
		require.NoError(t, err)
	}
	if entries != "" {
		read, err = doc.ReadEntries(strings.NewReader(entries), "entries.csv", read)
		require.NoError(t, err)
	}
	read.Ending = ending
	return doc.Score(read)
}

// totals lists the points in the order of the standing: "7 15, 41 14".
func totals(scored doc.Scored) string {
	var said []string
	for _, p := range scored.Standing {
		said = append(said, p.Entry+" "+p.Points.Total)
	}
	return strings.Join(said, ", ")
}

// placed writes the hooks of so many entries that took the places in the order of their numbers.
func placed(n int) string {
	var sheet strings.Builder
	for i := range n {
		fmt.Fprintf(&sheet, "1,%d,%d.5,\n", i+1, 250-i)
	}
	return sheet.String()
}

// The schedules of the rule books, from a rule set file to the figures printed in them.
func TestThePublishedSchedulesGiveTheirPoints(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		source, points string
		entries        int
		want           string // of the places, best first
	}{
		{"NATPA points", `"places": [10], "step": 1, "hook": 5, "guests": "actual", "dq": "hook"`, 12, "15 14 13 12 11 10 9 8 7 6 5 5"},
		{"MMTT points", `"places": [10], "step": 1, "show_up": 1, "hook": 5`, 11, "16 15 14 13 12 11 10 9 8 7 6"},
		{"RENEG 8", `"places": [10], "step": 1, "floor": 1, "show_up": 5, "hook": 1`, 12, "16 15 14 13 12 11 10 9 8 7 7 7"},
		{"GREEN points", `"places": [10], "step": 1, "show_up": 15`, 3, "25 24 23"},
		{"AMPI points, without the 3 for the hook", `"places": [30, 27, 24, 21, 18, 15, 12, 9, 6], "step": 3, "floor": 3`, 12, "30 27 24 21 18 15 12 9 6 3 3 3"},
		{"AMPI points", `"places": [30], "step": 3, "floor": 3, "hook": 3`, 12, "33 30 27 24 21 18 15 12 9 6 6 6"},
		{"HTP points", `"places": [30], "step": 1`, 4, "30 29 28 27"},
		{"OMTPA", `"places": [15], "step": 1, "floor": 5`, 12, "15 14 13 12 11 10 9 8 7 6 5 5"},
		{"RIVER points", `"places": [15], "step": 1`, 10, "15 14 13 12 11 10 9 8 7 6"},
		{"SCW", `"places": [50], "step": 2, "floor": 24`, 14, "50 48 46 44 42 40 38 36 34 32 30 28 26 24"},
		{"VTPA points", `"places": [100], "step": 3, "floor": 30, "registration": 15, "hook": 3, "hook_for": "moving"`, 10, "118 115 112 109 106 103 100 97 94 91"},
		{"VTPA points, without add-ons", `"places": [100], "step": 3, "floor": 30`, 26,
			"100 97 94 91 88 85 82 79 76 73 70 67 64 61 58 55 52 49 46 43 40 37 34 31 30 30"},
		{"CITP points", `"places": [20], "step": 2, "floor": 10, "hook": 20`, 8, "40 38 36 34 32 30 30 30"},
		{"SITP points", `"places": [10, 8, 6, 4, 2, 1], "step": 1, "show_up": 10, "hook": 10`, 7, "30 28 26 24 22 21 20"},
		{"KOP", `"places": [20], "step": 1`, 21, "20 19 18 17 16 15 14 13 12 11 10 9 8 7 6 5 4 3 2 1 0"},
	} {
		t.Run(row.source, func(t *testing.T) {
			t.Parallel()
			scored := rewarded(t, withReward(t, "false", `"points": {`+row.points+`}`), domain.Pulled, placed(row.entries), "")
			var got []string
			for _, p := range scored.Standing {
				got = append(got, p.Points.Total)
			}
			assert.Equal(t, row.want, strings.Join(got, " "))
		})
	}
}

// What the same books give to who is disqualified, breaks, does not hook, or is rained out.
func TestThePublishedSchedulesForWhoHasNoPlace(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ source, points, sheet, entries, want string }{
		{"NATPA: a disqualified hook 5", `"places": [10], "step": 1, "hook": 5, "dq": "hook"`, "1,1,250,\n1,2,DQ,speed\n", "", "1 15, 2 5"},
		{"NATPA: a guest keeps its place", `"places": [10], "step": 1, "hook": 5, "guests": "actual"`, placed(3),
			"entry,kind\n1,guest\n2,\n3,member\n", "1 0, 2 14, 3 13"},
		{"AMPI, SCW 2, VTPA 3, RIVER, NGTPS: closed up", `"places": [10], "step": 1, "hook": 5`, placed(3), "entry,kind\n1,guest\n2,\n3,member\n", "1 0, 2 15, 3 14"},
		{"RENEG 8: out of bounds, last place points", `"places": [10], "step": 1, "floor": 1, "show_up": 5, "hook": 1, "dq": "last_place"`,
			placed(3) + "1,4,DQ,out of bounds\n", "", "1 16, 2 15, 3 14, 4 13"},
		{"GREEN: DQ 15 only, illegal 0", `"places": [10], "step": 1, "show_up": 15, "dq": "show_up", "dq_causes": ["illegal vehicle: nothing"]`,
			"1,1,250,\n1,2,DQ,speed: 4.2 mph\n1,3,DQ,Illegal vehicle: turbo\n", "", "1 25, 2 15, 3 0"},
		{"GREEN: fewer than 3 bring show-up points alone", `"places": [10], "step": 1, "show_up": 15, "minimum": 3, "below": "show_up"`, placed(2), "", "1 15, 2 15"},
		{"AMPI: DQ 0, cannot move the sled 3", `"places": [30], "step": 3, "floor": 3, "hook": 3, "dq": "nothing", "broke": "3"`,
			"1,1,250,\n1,2,DQ,lost part\n1,3,0,breakage: clutch\n1,4,12.5,breakage: axle\n", "", "1 33, 4 30, 3 3, 2 0"},
		{"OMTPA: DQ 5, unable to hook but paid 5", `"places": [15], "step": 1, "floor": 5, "dq": "5", "not_hooked": "5", "broke_before": "5"`,
			"1,1,250,\n1,2,DQ,out of bounds\n1,3,absent,\n1,4,absent,breakage\n", "entry,present\n1,\n2,\n3,\n4,\n5,no\n", "1 15, 2 5, 3 5, 4 5, 5 0"},
		{"RIVER: broken, the lowest of the class that day", `"places": [15], "step": 1, "broke_before": "lowest"`, placed(4) + "1,5,absent,breakage\n", "", "1 15, 2 14, 3 13, 4 12, 5 12"},
		{"SCW: DQ 25, off the track 0", `"places": [50], "step": 2, "floor": 24, "dq": "25", "dq_causes": ["conduct: nothing"]`,
			"1,1,250,\n1,2,DQ,out of bounds\n1,3,DQ,conduct: off the track\n", "", "1 50, 2 25, 3 0"},
		{"SCW 5: a tie for first", `"places": [50], "step": 2, "floor": 24`, "1,1,250,\n1,2,250,\n1,3,240,\n", "", "1 49, 2 49, 3 46"},
		{"SCW 8: breaks trying, last place; not hooked, nothing", `"places": [50], "step": 2, "floor": 24, "broke": "last_place", "not_hooked": "nothing"`,
			"1,1,250,\n1,2,0,breakage\n1,3,absent,\n", "", "1 50, 2 46, 3 0"},
		{"VTPA: hook points take a measurable pull", `"places": [100], "step": 3, "floor": 30, "registration": 15, "hook": 3, "hook_for": "moving"`,
			"1,1,250,\n1,2,0,\n", "", "1 118, 2 112"},
		{"CITP: DQ the hook only", `"places": [20], "step": 2, "floor": 10, "hook": 20, "dq": "hook"`, "1,1,250,\n1,2,DQ,speed\n", "", "1 40, 2 20"},
		{"OPS: a late entry has no points", `"places": [10], "step": 1, "late": "nothing"`, placed(3), "entry,late\n1,\n2,yes\n3,no\n", "1 10, 2 0, 3 9"},
	} {
		t.Run(row.source, func(t *testing.T) {
			t.Parallel()
			rules := withReward(t, "false", `"points": {`+row.points+`}`)
			assert.Equal(t, row.want, totals(rewarded(t, rules, domain.Pulled, row.sheet, row.entries)))
		})
	}
}

// "Cancelled" in the books: what everybody gets who was there.
func TestThePublishedPointsForRain(t *testing.T) {
	t.Parallel()
	const came = "entry,present\n1,\n2,yes\n3,no\n"
	for _, row := range []struct {
		source, points string
		ending         domain.Ending
		want           string
	}{
		{"MMTT: rained out after the start, 6 to all signed up", `"show_up": 1, "hook": 5, "stopped": "6"`, domain.StoppedEarly, "1 6, 2 6, 3 0"},
		{"MMTT: cancelled before the start, 0", `"show_up": 1, "hook": 5, "stopped": "6"`, domain.NeverRun, "1 0, 2 0, 3 0"},
		{"AMPI: rain 3", `"not_run": "3"`, domain.NeverRun, "1 3, 2 3, 3 0"},
		{"OMTPA: cancelled 5 that showed up", `"not_run": "5"`, domain.NeverRun, "1 5, 2 5, 3 0"},
		{"RIVER: class not run 14", `"not_run": "14"`, domain.NeverRun, "1 14, 2 14, 3 0"},
		{"SCW: cancelled 25", `"not_run": "25"`, domain.NeverRun, "1 25, 2 25, 3 0"},
		{"CITP: none, also during the event", `"places": [20], "hook": 20`, domain.StoppedEarly, "1 0, 2 0, 3 0"},
		{"PIED 3: a complete round stands", `"places": [10], "step": 1, "stopped": "place"`, domain.StoppedEarly, "1 10, 2 9, 3 0"},
	} {
		t.Run(row.source, func(t *testing.T) {
			t.Parallel()
			sheet := ""
			if row.ending == domain.StoppedEarly {
				sheet = placed(2)
			}
			rules := withReward(t, "false", `"points": {`+row.points+`}`)
			assert.Equal(t, row.want, totals(rewarded(t, rules, row.ending, sheet, came)))
		})
	}
}

// NGTPS: finalists 50, 48, …; the others 25 each, in whatever order. Without a pull-off nobody is outside it (common
// practice, no published source).
func TestFinalistsAreWorthMoreThanTheOthers(t *testing.T) {
	t.Parallel()
	rules := withReward(t, "true", `"points": {"places": [50], "step": 2, "floor": 30, "outside": "25"}`)
	const class = "1,1,FP,\n1,2,FP,\n1,3,299,\n1,4,280,\n1,5,DQ,speed\n"
	assert.Equal(t, "2 50, 1 48, 3 25, 4 25, 5 0", totals(rewarded(t, rules, domain.Pulled, class+"P1,1,20,\nP1,2,30,\n", "")))
	assert.Equal(t, "2 50, 1 48, 3 25, 4 25, 5 0", totals(rewarded(t, rules, domain.Pulled, class+"P1,2,30,\n", "")), "an absent finalist")
	assert.Equal(t, "1 50, 3 48, 4 46", totals(rewarded(t, rules, domain.Pulled, "1,1,FP,\n1,3,299,\n1,4,280,\n", "")))
}

// SCW 6 and GREEN 7: a disqualification in the pull-off keeps the points of the place; SCW has 25 for one elsewhere.
func TestADisqualificationInThePullOffKeepsItsPoints(t *testing.T) {
	t.Parallel()
	const class = "1,1,FP,\n1,2,FP,\n1,3,299,\nP1,1,DQ,out of bounds\nP1,2,30,\n"
	rules := withReward(t, "true", `"points": {"places": [50], "step": 2, "floor": 24, "dq": "25"}`)
	assert.Equal(t, "2 50, 1 48, 3 46", totals(rewarded(t, rules, domain.Pulled, class, "")))
	other := withReward(t, "true", `"points": {"places": [50], "step": 2, "floor": 24, "dq": "25", "pull_off_dq": "25"}`)
	assert.Equal(t, "2 50, 1 25, 3 46", totals(rewarded(t, other, domain.Pulled, class, "")), "common practice, no published source")
}

// What is earned is said in its parts, and why where it is not the place.
func TestPointsAreSaidInTheirParts(t *testing.T) {
	t.Parallel()
	rules := withReward(t, "false", `"points": {"places": [100], "step": 3, "floor": 30, "registration": 15, "hook": 3, "show_up": 1}`)
	scored := rewarded(t, rules, domain.Pulled, "1,1,250,\n1,2,240,\n1,3,DQ,speed\n", "entry,kind,paid\n1,guest,\n2,,no\n3,,\n")
	assert.Equal(t, doc.PointsOf{Total: "0", Why: "guest"}, *scored.Standing[0].Points)
	assert.Equal(t, doc.PointsOf{Total: "104", Place: 1, ForPlace: "100", ForShowUp: "1", ForHook: "3"}, *scored.Standing[1].Points)
	assert.Equal(t, doc.PointsOf{Total: "19", ForShowUp: "1", ForHook: "3", ForRegistration: "15", Why: "disqualified"}, *scored.Standing[2].Points)
}
