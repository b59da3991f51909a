package doc_test

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
	"clayline/domain/draw"
)

// manual returns a page of docs.
func manual(t testing.TB, name string) string {
	t.Helper()
	page, err := os.ReadFile(filepath.Join("..", "..", "docs", name))
	require.NoError(t, err)
	return string(page)
}

// fenced returns the blocks of a page that are marked with the word.
func fenced(page, word string) []string {
	var blocks []string
	for _, found := range regexp.MustCompile("(?s)```"+word+"\n(.*?)```").FindAllStringSubmatch(page, -1) {
		blocks = append(blocks, found[1])
	}
	return blocks
}

func TestTheManualNamesEveryFieldOfARuleSet(t *testing.T) {
	t.Parallel()
	page := manual(t, "rules.md")
	var source []byte
	for _, file := range []string{"ruleset.go", "points.go", "purse.go"} {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		source = append(source, text...)
	}
	fields := regexp.MustCompile("json:\"([a-z_]+)").FindAllStringSubmatch(string(source), -1)
	require.Greater(t, len(fields), 45)
	for _, field := range fields {
		assert.Contains(t, page, "`"+field[1]+"`", "field %s", field[1])
		assert.Contains(t, fenced(page, "json")[0], `"`+field[1]+`":`, "the complete file has every field")
	}
	words := regexp.MustCompile(`"([a-z_]+)": +(?:domain\.|true|false)`).FindAllStringSubmatch(string(source), -1)
	require.GreaterOrEqual(t, len(words), 25)
	for _, word := range words {
		assert.Contains(t, page, "`\""+word[1]+"\"`", "word %s", word[1])
	}
}

func TestTheManualNamesEveryReadyMadeSetAsItIs(t *testing.T) {
	t.Parallel()
	page := manual(t, "rules.md")
	for _, name := range doc.ReadyMade() {
		rules := set(t, name)
		row := regexp.MustCompile("\\| `" + name + "`[^\n]*").FindString(page)
		require.NotEmpty(t, row, name)
		assert.Contains(t, row, "| "+rules.Line.String()+" |")
		assert.Contains(t, row, "| "+rules.RestartLine.String()+" |")
		assert.Equal(t, rules.Capped, strings.Contains(row, "| capped |"), row)
		assert.Equal(t, !rules.Capped, strings.Contains(row, "| floating | 1 | none |"), row)
		assert.Equal(t, len(rules.Test.Options) > 0, strings.Contains(row, "drops to last, decided "+rules.Test.Until), row)
		assert.Equal(t, rules.PullOff.Added, strings.Contains(row, "added to the printed sum"), row)
	}
	assert.Contains(t, page, "`"+doc.DefaultRuleSet+"` (the default)")
}

func TestTheRuleSetsOfTheManualAreAccepted(t *testing.T) {
	t.Parallel()
	blocks := fenced(manual(t, "rules.md"), "json")
	require.Len(t, blocks, 2)
	complete, err := doc.ParseRuleSet([]byte(blocks[0]))
	require.NoError(t, err)
	assert.Equal(t, []domain.Option{3, domain.ToLast}, complete.Test.Options)
	assert.Equal(t, domain.KeepHooks, complete.Reset)
	_, err = doc.ParseRuleSet([]byte(blocks[1]))
	require.NoError(t, err)
}

// Every key that stands beside a value is explained, and every explained key is used.
func TestTheManualExplainsItsKeys(t *testing.T) {
	t.Parallel()
	text, keys, found := strings.Cut(manual(t, "rules.md"), "\n## Keys\n")
	require.True(t, found)
	explained := make(map[string]bool)
	for _, row := range regexp.MustCompile(`(?m)^\| ([A-Z][A-Z0-9-]+) \|.*http`).FindAllStringSubmatch(keys, -1) {
		explained[row[1]] = true
		assert.Regexp(t, `\b`+row[1]+`\b`, text, "key %s is not used", row[1])
	}
	for _, key := range regexp.MustCompile(`\b[A-Z]{2,}[A-Z0-9]*(?:-[A-Z]+)*\b`).FindAllString(text, -1) {
		assert.True(t, explained[key] || slices.Contains([]string{"JSON", "FILE"}, key), "key %s is not explained", key)
	}
}

func TestTheSheetOfTheManualGivesTheTableOfTheManual(t *testing.T) {
	t.Parallel()
	page := manual(t, "sheet.md")
	sheets := fenced(page, "csv")
	require.Len(t, sheets, 3)
	_, err := read(sheets[0], doc.DefaultRuleSet)
	require.ErrorContains(t, err, "two counting results")
	scored := score(t, sheets[1], doc.DefaultRuleSet)
	var out bytes.Buffer
	require.NoError(t, scored.WriteText(&out))
	assert.Equal(t, regexp.MustCompile(` +\n`).ReplaceAllString(out.String(), "\n"), fenced(page, "text")[1])
}

func TestTheEntriesOfTheManualGiveThePointsOfTheManual(t *testing.T) {
	t.Parallel()
	page := manual(t, "sheet.md")
	rules, err := doc.ParseRuleSet([]byte(fenced(page, "json")[0]))
	require.NoError(t, err)
	sheet, err := doc.ReadSheet(strings.NewReader(fenced(page, "csv")[1]), "class.csv", rules)
	require.NoError(t, err)
	sheet, err = doc.ReadEntries(strings.NewReader(fenced(page, "csv")[2]), "entries.csv", sheet)
	require.NoError(t, err)
	scored := doc.Score(sheet)
	var out bytes.Buffer
	require.NoError(t, scored.WriteText(&out))
	assert.Equal(t, regexp.MustCompile(` +\n`).ReplaceAllString(out.String(), "\n"), fenced(page, "text")[0])
	var entry struct{ Points *doc.PointsOf }
	require.NoError(t, json.Unmarshal([]byte(fenced(page, "json")[1]), &entry))
	assert.Equal(t, scored.Standing[0].Points, entry.Points)
}

func TestTheDrawOfTheManualIsTheDraw(t *testing.T) {
	t.Parallel()
	page := manual(t, "draw.md")
	rows := regexp.MustCompile("(?m)^\\| ([0-9]+) \\| `([0-9a-f]{64})` \\|$").FindAllStringSubmatch(page, -1)
	require.Len(t, rows, 3)
	var numbers []string
	for _, row := range rows {
		assert.Equal(t, row[2], draw.Key("dice 4 2 6", row[1]))
		numbers = append(numbers, row[1])
	}
	assert.Equal(t, []int{0, 1, 2}, draw.Order("dice 4 2 6", numbers), "the table stands in drawn order")
	assert.Contains(t, page, "the order is "+strings.Join(numbers, ", "))
}

// The commands of the manual print the hashes of the manual, where the shell has them.
func TestTheCommandsOfTheManualPrintTheHashes(t *testing.T) {
	t.Parallel()
	shell, err := exec.LookPath("sh")
	if _, missing := exec.LookPath("sha256sum"); err != nil || missing != nil {
		t.Skip("no sh or sha256sum on this machine")
	}
	page := manual(t, "draw.md")
	out, err := exec.CommandContext(t.Context(), shell, "-c", fenced(page, "sh")[0]).Output()
	require.NoError(t, err)
	hashes := strings.Fields(strings.ReplaceAll(string(out), "-", ""))
	require.Len(t, hashes, 3)
	for _, hash := range hashes {
		assert.Contains(t, page, "`"+hash+"`")
	}
}
