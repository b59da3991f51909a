package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain/doc"
)

// sledJob is the shortest job, as the command's help has it.
const sledJob = `{"job": "curves",
   "sled": {"wheelbase_ft": 22, "frame_weight_lb": 15000, "frame_cg_ft": 7,
            "pan_weight_lb": 2500, "box_top_ft": 21, "advance": {"1": 0.08}},
   "ground": {"mu_up": 0.3}, "setup": {"slabs_lb": 12000}}`

// sledRun runs the sled command on a job that is written to job.json; the word JOB in the arguments stands for its path,
// and FOLDER for that of its folder.
func sledRun(t *testing.T, job string, args ...string) scored {
	t.Helper()
	folder := t.TempDir()
	path := filepath.Join(folder, "job.json")
	require.NoError(t, os.WriteFile(path, []byte(job), 0o600))
	var out, errs bytes.Buffer
	call := append([]string{"sled"}, strings.Split(strings.NewReplacer("JOB", path, "FOLDER", folder).Replace(strings.Join(args, "\n")), "\n")...)
	status := run(context.Background(), call, strings.NewReader(job), &out, &errs)
	return scored{status, out.String(), strings.ReplaceAll(errs.String(), folder+string(filepath.Separator), "")}
}

func TestASledJobIsDone(t *testing.T) {
	t.Parallel()
	got := sledRun(t, sledJob, "JOB")
	require.Equal(t, 0, got.status, got.err)
	assert.Empty(t, got.err)
	assert.Equal(t, got, sledRun(t, sledJob, "-"), "standard input")
	var result struct {
		TopOut float64           `json:"top_out_ft"`
		Points []json.RawMessage `json:"points"`
	}
	require.NoError(t, json.Unmarshal([]byte(got.out), &result))
	assert.InDelta(t, 262.5, result.TopOut, 1e-9, "21 ft at 0.08")
	assert.Len(t, result.Points, 13)
}

func TestASledJobIsATableOrAPicture(t *testing.T) {
	t.Parallel()
	table := sledRun(t, sledJob, "--format", "text", "JOB")
	assert.Equal(t, 0, table.status, table.err)
	assert.Contains(t, table.out, "top-out 262 ft")
	picture := sledRun(t, sledJob, "--format", "svg", "JOB")
	assert.Equal(t, 0, picture.status, picture.err)
	assert.True(t, strings.HasPrefix(picture.out, "<svg "), picture.out)
	for _, out := range []string{table.out, picture.out} {
		assert.Contains(t, out, "Estimate only. The sled operator decides; local rules and officials come first.")
	}
	none := sledRun(t, strings.Replace(sledJob, "curves", "topout", 1), "--format", "svg", "JOB")
	assert.Equal(t, scored{2, "", "clayline: there is no picture of a topout job; write it as json or text\n"}, none)
}

// Exit status 1: the job is wrong. One sentence names file and field.
func TestAWrongSledJobPrintsNothingAndNamesFileAndField(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ old, with, says string }{
		{`"mu_up": 0.3`, `"mu_up": -1`, "ground.mu_up cannot be -1; write a number from 0 up"},
		{`"slabs_lb": 12000`, `"slabs_lb": 12000, "gear": "7"`, "setup.gear \"7\" is no gear of the sled; write 1"},
		{`"box_top_ft": 21, `, ``, "sled.box_top_ft is missing; write a number"},
	} {
		got := sledRun(t, strings.Replace(sledJob, row.old, row.with, 1), "JOB")
		assert.Equal(t, scored{1, "", "clayline: job.json: " + row.says + "\n"}, got)
	}
	assert.Equal(t, scored{1, "", "clayline: standard input: the job is empty; write it as docs/sled.md has it\n"}, sledRun(t, "", "-"))
}

// Exit status 2: the call is wrong.
func TestAWrongSledCallSaysWhatToDo(t *testing.T) {
	t.Parallel()
	for says, args := range map[string][]string{
		"there is no job nowhere.json; check the name": {"nowhere.json"},
		"is a folder, not a job; name a JSON file":     {"FOLDER"},
		"unexpected argument":                          {"JOB", "JOB"},
	} {
		got := sledRun(t, sledJob, args...)
		assert.Equal(t, 2, got.status)
		assert.Empty(t, got.out)
		assert.Contains(t, got.err, says)
	}
}

func TestSledHelpHasTheCautionsAndAJob(t *testing.T) {
	t.Parallel()
	got := sledRun(t, sledJob, "--help")
	assert.Equal(t, 0, got.status)
	words := strings.Join(strings.Fields(got.out), " ")
	for _, caution := range doc.SledCautions() {
		assert.Contains(t, words, caution)
	}
	assert.Contains(t, words, strings.Join(strings.Fields(sledJob), " "), "the job of the help is the one that is done above")
}
