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
)

// programmeFile is the shortest programme, as the command's help has it.
const programmeFile = `{"sessions": [{"name": "Evening", "starts": "2026-09-19T18:00:00-05:00"}],
   "classes": [{"name": "Antique", "hooks": 12}, {"name": "Farm stock", "minutes": 45}]}`

// programmeRun runs the command on a programme that is written to day.json; the word FILE in the arguments stands for its
// path, and FOLDER for that of its folder.
func programmeRun(t *testing.T, programme string, args ...string) scored {
	t.Helper()
	folder := t.TempDir()
	path := filepath.Join(folder, "day.json")
	require.NoError(t, os.WriteFile(path, []byte(programme), 0o600))
	call := []string{"programme"}
	for _, arg := range args {
		call = append(call, strings.NewReplacer("FILE", path, "FOLDER", folder).Replace(arg))
	}
	var out, errs bytes.Buffer
	status := run(context.Background(), call, strings.NewReader(programme), &out, &errs)
	return scored{status, out.String(), strings.ReplaceAll(errs.String(), folder+string(filepath.Separator), "")}
}

func TestAProgrammeIsPutInOrder(t *testing.T) {
	t.Parallel()
	got := programmeRun(t, programmeFile, "FILE")
	require.Equal(t, scored{0, got.out, ""}, got)
	assert.Equal(t, got, programmeRun(t, programmeFile, "-"), "standard input")
	assert.Equal(t, got, programmeRun(t, "\ufeff"+programmeFile, "FILE"), "a byte order mark")
	var proposal struct {
		Order []struct{ Class, Starts string }
		Cost  struct{ Total float64 }
		Exact bool
	}
	require.NoError(t, json.Unmarshal([]byte(got.out), &proposal))
	require.Len(t, proposal.Order, 2)
	assert.Equal(t, "2026-09-19T19:15:00-05:00", proposal.Order[1].Starts, "twelve hooks of five minutes, and fifteen between")
	assert.InDelta(t, 15.0, proposal.Cost.Total, 1e-9)
	assert.True(t, proposal.Exact)
	table := programmeRun(t, programmeFile, "--format", "text", "FILE")
	require.Equal(t, scored{0, table.out, ""}, table)
	assert.Contains(t, table.out, "this order: 15 min (box 10, track 5, waiting 0, late start 0, past the curfew 0)")
	assert.Contains(t, table.out, "What the crew needs to work without haste, the crew says")
}

// Exit status 1: the programme is wrong. One sentence names file and field.
func TestAWrongProgrammePrintsNothingAndNamesFileAndField(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ old, with, says string }{
		{`"hooks": 12`, `"hooks": 0`, "classes[0].hooks cannot be 0; write a number from 1 to 1000"},
		{`"starts"`, `"curfew": "2026-09-19T17:00:00-05:00", "starts"`, "sessions[0].curfew: the curfew is before the session starts; give one after the start, or none"},
		{`]}`, `], "shared": [{"who": "Maud Farrow", "classes": []}]}`, "shared[0].classes has too few values; write at least 2"},
		{`"minutes": 45}]}`, `"minutes": 45}], "shared": [{"classes": ["Antique", "Farm stock"]}]}`, "shared[0].who is missing; write a name"},
	} {
		wrong := strings.Replace(programmeFile, row.old, row.with, 1)
		if row.old == `]}` {
			wrong = strings.TrimSuffix(programmeFile, row.old) + row.with
		}
		assert.Equal(t, scored{1, "", "clayline: day.json: " + row.says + "\n"}, programmeRun(t, wrong, "FILE"))
	}
	assert.Equal(t, scored{1, "", "clayline: standard input: the programme is empty; write it as docs/programme.md has it\n"}, programmeRun(t, "", "-"))
}

// Exit status 2: the call is wrong.
func TestAWrongProgrammeCallSaysWhatToDo(t *testing.T) {
	t.Parallel()
	for says, args := range map[string][]string{
		"there is no programme nowhere.json; check the name": {"nowhere.json"},
		"is a folder, not a programme; name a JSON file":     {"FOLDER"},
		"unexpected argument":                                {"FILE", "FILE"},
		"must be one of \"json\",\"text\"":                   {"--format", "svg", "FILE"},
	} {
		got := programmeRun(t, programmeFile, args...)
		assert.Equal(t, 2, got.status)
		assert.Empty(t, got.out)
		assert.Contains(t, got.err, says)
	}
}

func TestProgrammeHelpHasAProgrammeAndTheSchemaIsPrinted(t *testing.T) {
	t.Parallel()
	help := programmeRun(t, "", "--help")
	assert.Equal(t, 0, help.status)
	words := strings.Join(strings.Fields(help.out), " ")
	assert.Contains(t, words, strings.Join(strings.Fields(programmeFile), " "), "the programme of the help is the one that is put in order above")
	schema := programmeRun(t, "", "schema")
	committed, err := os.ReadFile("../../domain/doc/schema/programme.json")
	require.NoError(t, err)
	assert.Equal(t, scored{0, string(committed), ""}, schema)
}
