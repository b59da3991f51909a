package doc_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain/doc"
)

// contradictory is a pair of fields that are right alone and wrong together: the manual's complete file with other values,
// the field that is named first, the one it contradicts, and what is said. Where the other field is not there, its
// place cannot be told.
type contradictory struct {
	field, also string
	values      map[string]string
	says        string
}

// contradictions has every pair of fields that a rule set file can contradict itself by.
var contradictions = []contradictory{
	{"call.from", "call.minutes", map[string]string{"call.minutes": "0"}, "a beginning without a time says nothing"},
	{"reasons.early_start", "restart", map[string]string{"restart": "", "restarts": "", "reasons.jerking": ""}, `"early start" costs an attempt, and there is only one`},
	{"side_lines_to", "line", map[string]string{"side_lines_to": "299"}, "the side lines end at 299 ft, before the full-pull line 300 ft"},
	{"moving_line.choices", "line", map[string]string{"moving_line.choices": "[0]"}, "a choice is no line on this track"},
	{"moving_line.choices", "restart", map[string]string{"moving_line.choices": "[70]"}, "70 ft lies before the restart line"},
	{"moving_line.choices", "pull_off.line", map[string]string{"moving_line.choices": "[340]"}, "340 ft lies past the line of the pull-off"},
	{"pull_off", "cap", map[string]string{"cap": "false", "reset_when": ""}, "a floating set has no pull-off, and this one describes one"},
	{"pull_off.top", "pull_off.who", map[string]string{"pull_off.top": "3"}, "a number of places belongs to top, and to nothing else"},
	{"pull_off.fill_to", "pull_off.who", map[string]string{"pull_off.who": `"nobody"`}, "only a final of full pullers is filled up"},
	{"pull_off.line", "line", map[string]string{"pull_off.line": "299"}, "the pull-off's line 299 ft lies before that of the class, 300 ft"},
	{"reset_when", "reset", map[string]string{"reset": `"never"`}, "a setting that is never changed within a round needs no advice when to change it"},
	{"reset_when.full_pulls", "cap", map[string]string{"cap": "false", "pull_off": ""}, "a floating class has no full pulls to count"},
	{"restarts.share", "restart", map[string]string{"restarts.share": `"1/3"`}, "the restart line is given as a share and as a distance"},
	{"restarts", "restart", map[string]string{"restart": "", "restarts.kinds": "", "reasons": ""}, "there is no restart line, and the rest of the rule hangs on one"},
	{"restart", "line", map[string]string{"restart": "300", "moving_line": ""}, "300 ft lies at or beyond the full-pull line 300 ft"},
	{"restarts.kinds", "line", map[string]string{"restarts.kinds": `["truck 301"]`}, "301 ft lies at or beyond the full-pull line 300 ft"},
	{"measure.minimum", "line", map[string]string{"measure.minimum": `"1 m"`}, "the two are in different units"},
	{"speed.from", "line", map[string]string{"speed.from": `"300"`}, "300 ft lies at or beyond the full-pull line 300 ft"},
	{"test_puller.options", "test_puller.who", map[string]string{"test_puller.who": `"session"`}, "a sled that was tried in a session of its own leaves no choice after a hook"},
	{"test_puller.options", "test_puller.who", map[string]string{"test_puller.who": `"first"`}, "who was not chosen out of turn has no original place to go back to"},
	{"test_puller.must", "test_puller.options", map[string]string{"test_puller.must": "true"}, "a test puller without a choice hooks again by one option"},
	{"test_puller.must", "test_puller.options", map[string]string{"test_puller.must": "true", "test_puller.options": "[]"}, "a test puller who hooks again needs an option"},
	{"test_puller.silence", "test_puller.options", map[string]string{"test_puller.silence": `"now"`}, "silence cannot mean what is not an option"},
	{"test_puller.silence", "test_puller.options", map[string]string{"test_puller.silence": `"now"`, "test_puller.options": `["keep"]`}, "a test puller who hooks again needs an option"},
	{"test_puller.silence", "test_puller.must", map[string]string{"test_puller.must": "true", "test_puller.options": `["last"]`}, "silence cannot keep what must be given up"},
	{"test_puller.no_restart", "test_puller.who", map[string]string{"test_puller.who": `"session"`, "test_puller.options": "[]", "test_puller.no_restart": "true"},
		"where the sled was tried in a session of its own there is no test hook to start again"},
	{"weight.least", "weight.limit", map[string]string{"weight.least": `"8511 lb"`}, "no vehicle can be as heavy as the least and within the limit"},
	{"ties.places", "ties.are", map[string]string{"ties.are": `"shared"`}, "places belong to ties that are pulled again"},
	{"ties.are", "counts", map[string]string{"ties.are": `"next_best"`, "ties.places": "", "rounds": "2", "counts": `"sum"`}, "there is no next best where rounds are added"},
	{"ties.are", "rounds", map[string]string{"ties.are": `"next_best"`, "ties.places": "", "rounds": "1"}, "there is no next best where one figure is all there is"},
	{"entries.below", "entries.least", map[string]string{"entries.least": "0"}, "nothing is below a number that is not given"},
}

// placeOf returns where a field stands in an indented document, as line:column; "" where it does not.
func placeOf(document []byte, path string) string {
	group, member, nested := strings.Cut(path, ".")
	indent, inside := "  ", !nested
	if nested {
		indent = "    "
	} else {
		member = group
	}
	for i, line := range strings.Split(string(document), "\n") {
		if strings.HasPrefix(line, `  "`) {
			inside = !nested || strings.HasPrefix(line, `  "`+group+`":`)
		}
		if inside && strings.HasPrefix(line, indent+`"`+member+`":`) {
			return fmt.Sprintf("%d:%d", i+1, len(indent)+1)
		}
	}
	return ""
}

// Two fields that contradict each other are both named, each with its place.
func TestAContradictionNamesBothFieldsAndBothPlaces(t *testing.T) {
	t.Parallel()
	for _, row := range contradictions {
		t.Run(row.field+" against "+row.also+": "+row.says, func(t *testing.T) {
			t.Parallel()
			var document bytes.Buffer
			require.NoError(t, json.Indent(&document, wrong(t, row.values), "", "  "))
			begins := ":" + placeOf(document.Bytes(), row.field) + ": field " + row.field + ": " + row.says + " (" + row.field + " against " + row.also + ")"
			if place := placeOf(document.Bytes(), row.also); place != "" {
				begins += ", which stands at " + place
			}
			said := faultsOf(document.String())
			assert.True(t, slices.ContainsFunc(said, func(fault string) bool { return strings.HasPrefix(fault, begins+"; ") }), "%s\nnot in\n%s", begins, strings.Join(said, "\n"))
			_, err := doc.ParseRuleSet(document.Bytes())
			require.Error(t, err)
		})
	}
}

// A pair that the domain refuses is in the table above. Two kinds of pair cannot come from a file: figures without a unit
// are all in that of the set, and a group without what it needs is refused when it is read.
func TestEveryContradictionIsInTheTable(t *testing.T) {
	t.Parallel()
	elsewhere := []string{"reset_when.past line", "moving_line.by moving_line.choices", "speed.limit speed"}
	files, err := filepath.Glob(filepath.Join("..", "*.go"))
	require.NoError(t, err)
	found := 0
	for _, file := range files {
		source, err := os.ReadFile(file)
		require.NoError(t, err)
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		for _, pair := range regexp.MustCompile(`contradiction\("([a-z_.]+)", "([a-z_.]+)"`).FindAllStringSubmatch(string(source), -1) {
			found++
			in := slices.ContainsFunc(contradictions, func(c contradictory) bool { return c.field == pair[1] && c.also == pair[2] })
			assert.True(t, in || slices.Contains(elsewhere, pair[1]+" "+pair[2]), "%s: %s against %s", file, pair[1], pair[2])
		}
	}
	assert.Greater(t, found, 20)
	for _, c := range contradictions {
		for _, path := range []string{c.field, c.also} {
			assert.Contains(t, wrongValues, path, "the field is one of the document")
		}
	}
}
