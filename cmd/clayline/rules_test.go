package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain/doc"
)

// rules runs a command about rule sets. Words of the arguments stand for paths: RULES for a file with the given
// text, OTHER for the same set in another file, FOLDER for the folder of both. The text is standard input too.
func rules(t *testing.T, text string, args ...string) scored {
	t.Helper()
	folder := t.TempDir()
	paths := map[string]string{"RULES": filepath.Join(folder, "ours.json"), "OTHER": filepath.Join(folder, "other.json"), "FOLDER": folder + ".json"}
	require.NoError(t, os.WriteFile(paths["RULES"], []byte(text), 0o600))
	require.NoError(t, os.WriteFile(paths["OTHER"], []byte(text), 0o600))
	require.NoError(t, os.Mkdir(paths["FOLDER"], 0o700))
	call := []string{"rules"}
	for _, arg := range args {
		if path, ok := paths[arg]; ok {
			arg = path
		}
		call = append(call, arg)
	}
	var out, errs bytes.Buffer
	status := run(context.Background(), call, strings.NewReader(text), &out, &errs)
	short := strings.NewReplacer(folder+string(filepath.Separator), "")
	return scored{status, short.Replace(out.String()), short.Replace(errs.String())}
}

// sixty is a short rule set file that is in order.
const sixty = `{"name": "our-60m", "unit": "m", "line": 60, "cap": true, "rounds": 1}`

func TestTheReadyMadeSetsAreListedWithTheirSentences(t *testing.T) {
	t.Parallel()
	got := rules(t, "", "list")
	require.Equal(t, scored{0, got.out, ""}, got)
	lines := strings.Split(strings.TrimSpace(got.out), "\n")
	require.Len(t, lines, 1+len(doc.ReadyMade()))
	column := strings.Index(lines[0], "what it is")
	for i, name := range doc.ReadyMade() {
		set, err := doc.ReadyMadeRuleSet(name)
		require.NoError(t, err)
		assert.Equal(t, name, strings.TrimSpace(lines[i+1][:column]))
		assert.Equal(t, set.Title, lines[i+1][column:])
	}
}

// What is shown plain is read back as the same set; with comments it is the same document, which is not read.
func TestAShownSetIsTheSet(t *testing.T) {
	t.Parallel()
	for _, name := range doc.ReadyMade() {
		plain := rules(t, "", "show", "--plain", name)
		require.Equal(t, scored{0, plain.out, ""}, plain)
		assert.Equal(t, plain, rules(t, plain.out, "show", "--plain", "RULES"))
		assert.Equal(t, scored{0, "There is no difference between " + name + " and ours.json.\n", ""}, rules(t, plain.out, "diff", name, "RULES"))
		assert.Equal(t, 0, score(t, "round,entry,result\n1,41,3\n", plain.out, "--rules", "RULES", "SHEET").status)
		commented := rules(t, "", "show", name)
		require.Equal(t, scored{0, commented.out, ""}, commented)
		assert.Greater(t, strings.Count(commented.out, "//"), 20)
		bare := regexp.MustCompile(`(?m)^ *//.*\n`).ReplaceAllString(commented.out, "")
		assert.Equal(t, plain, rules(t, bare, "show", "--plain", "RULES"))
		refused := rules(t, commented.out, "check", "RULES")
		assert.Equal(t, 1, refused.status)
		assert.Contains(t, refused.err, "ours.json:1:1: a rule set file cannot have comments; take them out")
	}
}

func TestAFileIsCheckedAndComparedAndShown(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		what, text string
		args       []string
		want       scored
	}{
		{"in order", sixty, []string{"check", "RULES"}, scored{0, "ours.json: a rule set named our-60m is in order\n", ""}},
		{"standard input", sixty, []string{"check", "-"}, scored{0, "standard input: a rule set named our-60m is in order\n", ""}},
		{"ready-made", "", []string{"check", "capped-100m"}, scored{0, "capped-100m: a rule set named capped-100m is in order\n", ""}},
		{"the same set", "", []string{"diff", "capped-100m", "capped-100m"}, scored{0, "There is no difference between capped-100m and capped-100m.\n", ""}},
		{"the same in two files", sixty, []string{"diff", "RULES", "OTHER"}, scored{0, "There is no difference between ours.json and other.json.\n", ""}},
		{"a file and standard input", sixty, []string{"diff", "RULES", "-"}, scored{0, "There is no difference between ours.json and standard input.\n", ""}},
		{"two sets", "", []string{"diff", "capped-100m", "best-of-two-100m"}, scored{0, "One set is called capped-100m, the other best-of-two-100m.\n" +
			`In capped-100m the title is "100 m, full pulls return for a final"; in best-of-two-100m it is "100 m, the better of two pulls, full pulls return for a final".` + "\n" +
			"In capped-100m a class has 1 class round; in best-of-two-100m it has 2 class rounds.\n", ""}},
		{"one fault", "{\n\"unit\": m}", []string{"check", "RULES"}, scored{1, "",
			"ours.json:2:9: this is not JSON: invalid character 'm' looking for beginning of value; look for a comma, a quote or a brace too many or too few\n" +
				"clayline: ours.json is not in order: one thing is wrong\n"}},
		{"two faults", strings.Replace(strings.Replace(sixty, `"m"`, `"yd"`, 1), "1}", "10}", 1), []string{"check", "RULES"}, scored{1, "",
			"ours.json:1:21: field unit: \"yd\" is not a unit of distance; write ft, in or m\n" +
				"ours.json:1:60: field rounds: a class has one to nine rounds; give the number of class rounds\n" +
				"clayline: ours.json is not in order: 2 things are wrong\n"}},
		{"showing a wrong file", "[]", []string{"show", "RULES"}, scored{1, "",
			"ours.json:1:1: the file holds no rule set; write the fields between braces, as docs/rules.md has it\nclayline: ours.json is not in order: one thing is wrong\n"}},
		{"comparing with a wrong file", "", []string{"diff", "capped-100m", "RULES"}, scored{1, "",
			"ours.json:1:1: the file holds no rule set; write the fields between braces, as docs/rules.md has it\nclayline: ours.json is not in order: one thing is wrong\n"}},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			assert.Equal(t, row.want, rules(t, row.text, row.args...))
		})
	}
}

// Exit status 2: the call is wrong.
func TestAWrongCallAboutRulesSaysWhatToDo(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		says string
		args []string
	}{
		{`expected one of "list", "show", "check", "diff", "schema"`, nil},
		{`expected "<rules>"`, []string{"show"}},
		{`expected "<rules>"`, []string{"check"}},
		{`expected "<b>"`, []string{"diff", "capped-100m"}},
		{"unexpected argument", []string{"list", "capped-100m"}},
		{"unknown flag --plane", []string{"show", "--plane", "capped-100m"}},
		{`there is no ready-made rule set "capped-100"; choose one of antique-speed-limited, best-of-two-100m, `, []string{"show", "capped-100"}},
		{"a file must end in .json", []string{"check", "rules.txt"}},
		{"there is no rule set nowhere.json; check the name", []string{"check", "nowhere.json"}},
		{"there is no rule set nowhere.json; check the name", []string{"diff", "capped-100m", "nowhere.json"}},
		{"is a folder, not a rule set; name a JSON file", []string{"check", "FOLDER"}},
		{"standard input can be one of the rule sets only; name a file for the other", []string{"diff", "-", "-"}},
	} {
		t.Run(strings.Join(row.args, " "), func(t *testing.T) {
			t.Parallel()
			got := rules(t, sixty, row.args...)
			assert.Equal(t, 2, got.status)
			assert.Empty(t, got.out)
			assert.True(t, strings.HasPrefix(got.err, "clayline: "), got.err)
			assert.Contains(t, got.err, row.says)
		})
	}
}

func TestTheSchemaOfRuleSetsIsPrinted(t *testing.T) {
	t.Parallel()
	got := rules(t, "", "schema")
	require.Equal(t, scored{0, got.out, ""}, got)
	committed, err := os.ReadFile("../../domain/doc/schema/rules.json")
	require.NoError(t, err)
	assert.Equal(t, string(committed), got.out)
	assert.True(t, json.Valid(committed))
}

func TestHelpSaysThatCommentsAreNotRead(t *testing.T) {
	t.Parallel()
	assert.Contains(t, rules(t, "", "show", "--help").out, "a rule set file cannot have any")
	assert.Contains(t, rules(t, "", "--help").out, "Exit status: 0 done, 1 a rule set file is wrong, 2 the call is wrong.")
}

// The commands of docs/rules.md are run as they stand there, one after the other, and print what stands below them.
func TestTheRulesCommandsOfTheManualWorkAsTheyStand(t *testing.T) {
	t.Parallel()
	manual, err := os.ReadFile("../../docs/rules.md")
	require.NoError(t, err)
	program, err := os.Executable()
	require.NoError(t, err)
	folder := t.TempDir()
	require.NoError(t, os.Symlink(program, filepath.Join(folder, "clayline")))
	blocks := regexp.MustCompile("(?ms)^```sh\n(.*?)^```\n(?:\n```text\n(.*?)^```)?").FindAllStringSubmatch(string(manual), -1)
	require.Len(t, blocks, 5)
	for _, block := range blocks {
		shell := exec.CommandContext(t.Context(), "sh", "-eu", "-c", block[1]) // #nosec G204 -- our own manual
		shell.Dir = folder
		shell.Env = append(os.Environ(), asProgram+"=1", "PATH="+folder+string(filepath.ListSeparator)+os.Getenv("PATH"))
		out, err := shell.CombinedOutput()
		require.NoError(t, err, "%s: %s", block[1], out)
		if block[2] != "" {
			assert.Equal(t, block[2], string(out), block[1])
		}
	}
}
