package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// scored is what a run of the score command left behind.
type scored struct {
	status   int
	out, err string
}

// score runs the score command on a sheet that is written to class.csv; the word SHEET in the arguments stands for its
// path, and RULES for that of a rule set file.
func score(t *testing.T, sheet, rules string, args ...string) scored {
	t.Helper()
	folder := t.TempDir()
	paths := map[string]string{"SHEET": filepath.Join(folder, "class.csv"), "RULES": filepath.Join(folder, "ours.json"), "FOLDER": folder}
	require.NoError(t, os.WriteFile(paths["SHEET"], []byte(sheet), 0o600))
	require.NoError(t, os.WriteFile(paths["RULES"], []byte(rules), 0o600))
	paths["ENTRIES"] = filepath.Join(folder, "entries.csv")
	require.NoError(t, os.WriteFile(paths["ENTRIES"], []byte("entry,kind,fee,present\n41,,20,\n7,guest,20,\n23,,20,\n12,,20,\n19,,20,\n5,,20,no\n"), 0o600))
	call := []string{"score"}
	for _, arg := range args {
		if path, ok := paths[arg]; ok {
			arg = path
		}
		call = append(call, arg)
	}
	var out, errs bytes.Buffer
	status := run(context.Background(), call, strings.NewReader(sheet), &out, &errs)
	return scored{status, out.String(), strings.ReplaceAll(errs.String(), folder+string(filepath.Separator), "")}
}

// sheet is a class in feet with a pull-off, a shared place, and somebody without a place.
const sheet = "round,entry,puller,vehicle,result,note\n" +
	"1,41,A,Grey Mare,281.36,\n1,7,B,,FP,\n1,23,C,,FP 301.2,\n1,12,D,,281.360,\n1,19,E,,DQ,side line\n" +
	"P1,7,B,,312.44,\nP1,23,C,,305.1,\n"

func TestASheetIsScoredAsText(t *testing.T) {
	t.Parallel()
	got := score(t, sheet, "", "SHEET")
	assert.Equal(t, scored{0, strings.Join([]string{
		"place  entry  puller  vehicle    round 1   pull-off 1  note",
		"1      7      B                  FP        312.44      ",
		"2      23     C                  FP 301.2  305.1       ",
		"3 =    12     D                  281.360               ",
		"3 =    41     A       Grey Mare  281.36                ",
		"-      19     E                  DQ                    side line",
		"",
	}, "\n"), ""}, got)
	assert.Equal(t, got, score(t, sheet, "", "-"), "standard input")
	assert.Equal(t, got, score(t, sheet, "", "--format", "text", "--rules", "capped-300ft", "SHEET"), "the defaults")
}

func TestASheetIsScoredAsJSON(t *testing.T) {
	t.Parallel()
	got := score(t, sheet, "", "--format", "json", "SHEET")
	require.Equal(t, 0, got.status)
	require.Empty(t, got.err)
	var document struct {
		Standing []struct {
			Place  *int   `json:"place"`
			Shared *bool  `json:"shared"`
			Entry  string `json:"entry"`
			Rounds []struct {
				Round  string `json:"round"`
				Result string `json:"result"`
			} `json:"rounds"`
		} `json:"standing"`
	}
	require.NoError(t, json.Unmarshal([]byte(got.out), &document))
	var lines []string
	for _, s := range document.Standing {
		require.NotNil(t, s.Shared, "shared is always said")
		line := "null"
		if s.Place != nil {
			line = strings.Repeat("I", *s.Place)
		}
		line += " " + s.Entry
		for _, r := range s.Rounds {
			line += " " + r.Round + ":" + r.Result
		}
		if *s.Shared {
			line += " shared"
		}
		lines = append(lines, line)
	}
	assert.Equal(t, []string{
		"I 7 1:FP P1:312.44", "II 23 1:FP 301.2 P1:305.1", "III 12 1:281.360 shared", "III 41 1:281.36 shared", "null 19 1:DQ",
	}, lines)
	assert.Contains(t, got.out, `"place": null`, "no place is said, not left out")
}

func TestASheetIsScoredAsCSV(t *testing.T) {
	t.Parallel()
	got := score(t, sheet, "", "--format", "csv", "SHEET")
	require.Equal(t, 0, got.status)
	records, err := csv.NewReader(strings.NewReader(got.out)).ReadAll()
	require.NoError(t, err)
	require.Len(t, records, 6)
	assert.Equal(t, []string{"place", "shared", "entry", "puller", "vehicle", "total", "1", "P1", "note"}, records[0])
	assert.Equal(t, []string{"1", "false", "7", "B", "", "300", "FP", "312.44", ""}, records[1])
	assert.Equal(t, []string{"3", "true", "41", "A", "Grey Mare", "281.36", "281.36", "", ""}, records[4])
	assert.Equal(t, []string{"", "false", "19", "E", "", "", "DQ", "", "side line"}, records[5])
}

func TestRulesAreANameOrAFile(t *testing.T) {
	t.Parallel()
	const withdrawn = `{"name": "ours", "unit": "m", "line": 100, "cap": true, "rounds": 1, "pull_off": {"absent": "withdrawn"}}`
	const class = "round,entry,result\n1,A,FP\n1,B,FP\n1,C,99\nP1,A,absent\nP1,B,30\n"
	for _, row := range []struct {
		rules string
		order string
	}{{"capped-100m", "B A C"}, {"RULES", "B C A"}} {
		got := score(t, class, withdrawn, "--format", "csv", "--rules", row.rules, "SHEET")
		require.Equal(t, 0, got.status, got.err)
		records, err := csv.NewReader(strings.NewReader(got.out)).ReadAll()
		require.NoError(t, err)
		var order []string
		for _, r := range records[1:] {
			order = append(order, r[2])
		}
		assert.Equal(t, row.order, strings.Join(order, " "), row.rules)
	}
}

func TestWarningsGoToStandardErrorAndChangeNothing(t *testing.T) {
	t.Parallel()
	got := score(t, "round,entry,result,colour\n1,41,DQ,red\n1,7,3,\n", "", "--format", "csv", "SHEET")
	assert.Equal(t, 0, got.status)
	assert.Equal(t, "clayline: warning: column \"colour\" is not known and is ignored\n"+
		"clayline: warning: line 2: the disqualification of 41 has no reason in note\n", got.err)
	assert.Contains(t, got.out, "1,false,7,")
}

func TestSheetsOfManyHabitsAreScored(t *testing.T) {
	t.Parallel()
	want := score(t, sheet, "", "SHEET")
	for what, same := range map[string]string{
		"byte order mark": "\ufeff" + sheet,
		"CRLF":            strings.ReplaceAll(sheet, "\n", "\r\n"),
		"semicolons":      strings.ReplaceAll(sheet, ",", ";"),
		"all three":       "\ufeff" + strings.NewReplacer("\n", "\r\n", ",", ";").Replace(sheet),
	} {
		assert.Equal(t, want, score(t, same, "", "SHEET"), what)
	}
}

// Exit status 1: the sheet is wrong. The message names file, line and column, and what was expected; standard output
// stays empty, so that nothing half-scored can be printed.
func TestAWrongSheetPrintsNothingAndSaysWhere(t *testing.T) {
	t.Parallel()
	const header = "round,entry,result,note\n1,1,3,\n"
	for _, row := range []struct {
		what, sheet, rules, says string
	}{
		{"missing column", "round,result\n1,3\n", "capped-300ft", "class.csv:1:1: the header has no column entry; expected the columns round, entry, result"},
		{"doubled column", "round,entry,result,round\n", "capped-300ft", "class.csv:1:20: column round stands twice in the header; expected it once"},
		{"ragged line", header + "1,41,3\n", "capped-300ft", "class.csv:3:1: the line has more or fewer cells than the header; expected as many cells as the header"},
		{"bad quote", header + "1,41,3\"4,\n", "capped-300ft", "class.csv:3:7: "},
		{"open quote", header + "1,41,3,\"x\n1,7,4,\n", "capped-300ft", "class.csv:3:1: a quote opens on this line and is not closed"},
		{"unknown round", header + "final,41,3,\n", "capped-300ft", "class.csv:3:1: column round: \"final\" is not a round; expected 1, 2, … for class rounds or P1, P2, … for pull-offs"},
		{"round 2 of one", header + "2,41,3,\n", "capped-300ft", "class.csv:3:1: column round: the rule set capped-300ft has one class round; expected 1 to 1, or P1"},
		{"no entry", header + "1,,3,\n", "capped-300ft", "class.csv:3:3: column entry: the entry is missing; expected the number of the vehicle"},
		{"empty result", header + "1,41,,\n", "capped-300ft", "class.csv:3:6: column result: the result is missing; expected a distance such as 281.36, FP, FP 312.44, DQ, rehook, absent or void"},
		{"unknown result", header + "1,41,DNF,\n", "capped-300ft", "class.csv:3:6: column result: \"DNF\" is not a result; expected a distance such as 281.36"},
		{"two counting lines", header + "1,1,4,\n", "capped-300ft", "class.csv:3:5: column result: entry 1 has two counting results in round 1, on lines 2 and 3; expected rehook or void"},
		{"FP below the line", header + "1,41,FP 299.99,\n", "capped-300ft", "class.csv:3:6: column result: FP 299.99 lies below the full-pull line 300 ft; expected otherwise: give the distance without FP"},
		{"bare FP in a floating set", header + "1,41,FP,\n", "floating-ft", "class.csv:3:6: column result: FP without a figure says nothing here"},
		{"metric in a class in feet", header + "1,41,83.91 m,\n", "capped-300ft", "class.csv:3:6: column result: 83.91 m is not in the unit of this class; expected otherwise: give it in ft"},
		{"feet in a metric class", header + "1,41,287' 4,\n", "capped-100m", "class.csv:3:6: column result: "},
		{"empty file", "", "capped-300ft", "class.csv:1:1: the sheet is empty; expected a header with round, entry, result, puller, vehicle, note"},
		{"header only", "round,entry,result\n", "capped-300ft", "class.csv:2:1: the sheet has no hooks; expected one line a hook below the header"},
	} {
		for _, format := range []string{"text", "json", "csv"} {
			t.Run(row.what+" "+format, func(t *testing.T) {
				t.Parallel()
				got := score(t, row.sheet, "", "--rules", row.rules, "--format", format, "SHEET")
				assert.Equal(t, 1, got.status)
				assert.Empty(t, got.out)
				assert.True(t, strings.HasPrefix(got.err, "clayline: "+row.says), got.err)
				assert.Contains(t, got.err, "; expected ")
			})
		}
	}
	assert.Contains(t, score(t, "", "", "-").err, "standard input:1:1: the sheet is empty")
}

// Exit status 2: the call is wrong.
func TestAWrongCallPrintsNothingAndSaysWhatToDo(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		what, rules string
		args        []string
		says        string
	}{
		{"no sheet", "", nil, "no class sheet is named; give one, or - for standard input"},
		{"two sheets", "", []string{"SHEET", "SHEET"}, "unexpected argument"},
		{"unknown flag", "", []string{"--rule", "x", "SHEET"}, "unknown flag --rule"},
		{"unknown format", "", []string{"--format", "pdf", "SHEET"}, "must be one of \"text\",\"json\",\"csv\""},
		{"missing file", "", []string{"nowhere.csv"}, "there is no class sheet nowhere.csv; check the name"},
		{"a folder", "", []string{"FOLDER"}, "is a folder, not a class sheet; name a CSV file"},
		{"unknown rule set", "", []string{"--rules", "capped-300", "SHEET"}, "there is no ready-made rule set \"capped-300\"; choose one of antique-speed-limited, best-of-two-100m, capped-100m, capped-300ft"},
		{"missing rule file", "", []string{"--rules", "nowhere.json", "SHEET"}, "there is no rule set nowhere.json; check the name"},
		{"rule file that is no JSON", "unit: m", []string{"--rules", "RULES", "SHEET"}, "rule set ours.json: the rule set is not JSON"},
		{"rule file with a wrong word", `{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1, "counts": "mean"}`,
			[]string{"--rules", "RULES", "SHEET"}, "rule set ours.json: field counts: \"mean\" is not known; write best or sum"},
		{"rule file with a wrong type", `{"name": "x", "unit": "m", "line": 60, "cap": "yes", "rounds": 1}`,
			[]string{"--rules", "RULES", "SHEET"}, "rule set ours.json: field cap: a string cannot stand here"},
		{"rule file with an unknown field", `{"name": "x", "finish": 3}`, []string{"--rules", "RULES", "SHEET"}, "unknown field \"finish\""},
		{"rule file without a line", `{"name": "x", "unit": "m", "cap": true, "rounds": 1}`, []string{"--rules", "RULES", "SHEET"}, "rule set ours.json: field line: "},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			got := score(t, sheet, row.rules, row.args...)
			assert.Equal(t, 2, got.status)
			assert.Empty(t, got.out)
			assert.Contains(t, got.err, row.says)
		})
	}
}

func TestHelpSaysWhatASheetLooksLike(t *testing.T) {
	t.Parallel()
	got := score(t, sheet, "", "--help")
	assert.Equal(t, 0, got.status)
	for _, word := range []string{"round", "entry", "rehook", "absent", "void", "FP 312.44", "sum-of-two-100m", "Exit status"} {
		assert.Contains(t, got.out, word)
	}
	assert.Empty(t, got.err)
}

// rewards is a rule set with points and a purse.
const rewards = `{"name": "ours", "unit": "ft", "line": 300, "cap": true, "rounds": 1,
	"points": {"places": [10], "step": 1, "hook": 5, "not_run": "6"}, "purse": {"share": 50}}`

func TestASheetIsScoredWithPointsAndPurse(t *testing.T) {
	t.Parallel()
	got := score(t, sheet, rewards, "--rules", "RULES", "--entries", "ENTRIES", "SHEET")
	assert.Equal(t, scored{0, strings.Join([]string{
		"place  entry  puller  vehicle    round 1   pull-off 1  points  purse  note",
		"1      7      B                  FP        312.44      0       60.00  guest",
		"2      23     C                  FP 301.2  305.1       15      -      ",
		"3 =    12     D                  281.360               13.5    -      ",
		"3 =    41     A       Grey Mare  281.36                13.5    -      ",
		"-      5                                               0       -      not there",
		"-      19     E                  DQ                    5       -      side line; disqualified",
		"",
	}, "\n"), ""}, got)
	assert.Equal(t, got, score(t, sheet, rewards, "--rules", "RULES", "--entries", "ENTRIES", "-"), "standard input")
	alone := score(t, sheet, rewards, "--rules", "RULES", "SHEET")
	assert.Contains(t, alone.out, "1      7      B                  FP        312.44      15      -", "a member without an entries file")
	rain := score(t, "", rewards, "--rules", "RULES", "--entries", "ENTRIES", "--ended", "not-run", "--format", "csv")
	assert.Contains(t, rain.out, ",false,41,,,,6,,6,,,,class not run,0.00,class not run\r\n")
	assert.Contains(t, rain.out, ",false,5,,,,0,,,,,,not there,0.00,not there\r\n")
}

func TestACallForPointsThatCannotBeUnderstood(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		says string
		args []string
	}{
		{"the rule set capped-300ft has neither points nor purse; add them", []string{"--entries", "ENTRIES", "SHEET"}},
		{"the rule set capped-300ft has neither points nor purse; add them", []string{"--ended", "stopped", "SHEET"}},
		{"a class that was not run has no sheet; give --entries alone", []string{"--rules", "RULES", "--ended", "not-run", "SHEET"}},
		{"a class that was not run has no sheet; give --entries alone", []string{"--rules", "RULES", "--ended", "not-run"}},
		{"no class sheet is named; give one, or - for standard input", []string{"--rules", "RULES"}},
		{"standard input cannot be both", []string{"--rules", "RULES", "--entries", "-", "-"}},
		{"there is no entries file nowhere.csv; check the name", []string{"--rules", "RULES", "--entries", "nowhere.csv", "SHEET"}},
		{"is a folder, not an entries file; name a CSV file", []string{"--rules", "RULES", "--entries", "FOLDER", "SHEET"}},
	} {
		got := score(t, sheet, rewards, row.args...)
		assert.Equal(t, 2, got.status, row.args)
		assert.Contains(t, got.err, row.says)
		assert.Empty(t, got.out)
	}
	wrong := score(t, "round,entry,result\n1,99,12\n", rewards, "--rules", "RULES", "--entries", "ENTRIES", "SHEET")
	assert.Equal(t, scored{1, "", "clayline: entries.csv:1:1: entry 99 of line 2 of the sheet is not in the entries file; expected a line for every entry of the sheet\n"}, wrong)
}
