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

// nameOf is how docs/rules.md names a field: with that of its group, in code.
func nameOf(path string) string { return "`" + path + "`" }

// Every field has its row in the manual, and stands in one of the two first files there, the complete one and the one with
// what excludes others; so does every word.
func TestTheManualNamesEveryFieldOfARuleSet(t *testing.T) {
	t.Parallel()
	page := manual(t, "rules.md")
	_, page, found := strings.Cut(page, "\n## The fields\n")
	require.True(t, found)
	page, _, found = strings.Cut(page, "\n## One class under four rule sets\n")
	require.True(t, found)
	paths := pathsOf(ruleSetSchema(t).document, "")
	inGroup := groupOf(paths)
	var complete, excluding map[string]any
	blocks := fenced(manual(t, "rules.md"), "json")
	require.NoError(t, json.Unmarshal([]byte(blocks[0]), &complete))
	require.NoError(t, json.Unmarshal([]byte(blocks[1]), &excluding))
	for _, path := range paths {
		assert.Contains(t, page, nameOf(path), "field %s", path)
		if !inGroup(path) && !strings.HasPrefix(path, "points.") && !strings.HasPrefix(path, "purse.") {
			assert.Regexp(t, `(?m)^\| .*`+regexp.QuoteMeta(nameOf(path)), page, "field %s has no row", path)
		}
		assert.Equal(t, slices.Contains([]string{"restarts.share", "pull_off.top"}, path), !stands(complete, path), "the complete file has every field that goes together: %s", path)
		assert.True(t, stands(complete, path) || stands(excluding, path), path)
	}
	words := wordsOf(ruleSetSchema(t).document)
	require.Greater(t, len(words), 100)
	for _, word := range words {
		assert.Contains(t, page, "`\""+word+"\"`", "word %s", word)
	}
}

// wordsOf lists the words that a schema allows anywhere.
func wordsOf(schema map[string]any) []string {
	var words []string
	properties, _ := schema["properties"].(map[string]any)
	for _, property := range properties {
		field := property.(map[string]any)
		list, _ := field["enum"].([]any)
		for _, word := range list {
			words = append(words, word.(string))
		}
		words = append(words, wordsOf(field)...)
	}
	return words
}

// stands reports whether a field stands in a document.
func stands(document map[string]any, path string) bool {
	group, member, nested := strings.Cut(path, ".")
	value, there := document[group]
	if !nested {
		return there
	}
	members, _ := value.(map[string]any)
	_, there = members[member]
	return there
}

// Every field says what is meant without it: in its row, or below the table of its group in a sentence that begins with
// "Left out".
func TestTheManualSaysWhatIsMeantWithoutAField(t *testing.T) {
	t.Parallel()
	_, page, _ := strings.Cut(manual(t, "rules.md"), "\n## The fields\n")
	page, _, _ = strings.Cut(page, "\n## One class under four rule sets\n")
	sections := strings.Split(page, "\n### ")
	require.Len(t, sections, 19)
	for _, section := range sections[1:] {
		title, _, _ := strings.Cut(section, "\n")
		assert.Regexp(t, `\| left out \||(?m:^Left out)|(?i:when\s+left\s+out)`, section, title)
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
		assert.Contains(t, row, "| "+rules.RestartMark().String())
		assert.Equal(t, rules.Capped, strings.Contains(row, "| capped |"), row)
		assert.Equal(t, !rules.Capped, strings.Contains(row, "| floating | 1 | none"), row)
		assert.Equal(t, len(rules.Moving.Choices) > 0, strings.Contains(row, "moved to 320 ft after the first hook"), row)
		assert.Equal(t, len(rules.Test.Options) == 0, strings.Contains(row, "| no choice |"), row)
		assert.Equal(t, len(rules.Test.Options) > 0, strings.Contains(row, "| keeps, or "), row)
		for _, option := range rules.Test.Options {
			word := map[domain.Option]string{domain.ToLast: "last", domain.AtOnce: "at once", 3: "third", 4: "as number 4"}[option]
			assert.Regexp(t, "keeps, or [^|]*"+word+"[^|]*decided "+rules.Test.Until, row)
		}
		assert.Equal(t, rules.PullOff.Added, strings.Contains(row, "added to the printed sum"), row)
		assert.Equal(t, rules.PullOff.Capped, strings.Contains(row, "ends at the line again"), row)
		assert.Equal(t, rules.PullOff.Top == 3, strings.Contains(row, "the first 3"), row)
		assert.Equal(t, rules.PullOff.FillTo == 3, strings.Contains(row, "filled up to 3"), row)
		assert.Equal(t, rules.Restarts.Throttle, strings.Contains(row, "by the throttle"), row)
		assert.Equal(t, rules.Ties.Ties == domain.PulledAgain, strings.Contains(row, "ties pull again"), row)
		assert.Equal(t, !rules.Speed.Limit.IsZero(), strings.Contains(row, "mph from a third"), row)
		assert.Equal(t, rules.Reset != domain.Restart, strings.Contains(page, "but in `dutch-farm-100m` and `garden-100ft`") && slices.Contains([]string{"dutch-farm-100m", "garden-100ft"}, name), name)
		assert.Equal(t, rules.Test.AfterDQ, slices.Contains([]string{"capped-300ft", "floating-ft", "garden-100ft"}, name), name)
	}
	assert.Contains(t, page, "`"+doc.DefaultRuleSet+"` (the default)")
	assert.Len(t, regexp.MustCompile("(?m)^\\| `[a-z0-9-]+`.* (capped|floating) \\|").FindAllString(page, -1), len(doc.ReadyMade()))
}

func TestTheRuleSetsOfTheManualAreAccepted(t *testing.T) {
	t.Parallel()
	blocks := fenced(manual(t, "rules.md"), "json")
	require.Len(t, blocks, 3)
	complete, err := doc.ParseRuleSet([]byte(blocks[0]))
	require.NoError(t, err)
	assert.Equal(t, []domain.Option{3, domain.ToLast, domain.ToOriginal}, complete.Test.Options)
	assert.Equal(t, domain.KeepHooks, complete.Reset)
	for _, block := range blocks[1:] {
		_, err = doc.ParseRuleSet([]byte(block))
		require.NoError(t, err)
	}
}

// One class under four rule sets: the sheet of the manual gives the four tables of the manual, and four winners.
func TestTheClassOfTheManualUnderFourRuleSets(t *testing.T) {
	t.Parallel()
	_, page, found := strings.Cut(manual(t, "rules.md"), "\n## One class under four rule sets\n")
	require.True(t, found)
	page, _, _ = strings.Cut(page, "\n## ")
	sheet := fenced(page, "csv")
	require.Len(t, sheet, 1)
	tables := regexp.MustCompile("(?s)`([a-z0-9-]+)`:\n\n```text\n(.*?)```\n\nNumber ([0-9]+) wins: ").FindAllStringSubmatch(page, -1)
	require.Len(t, tables, 4)
	winners := make(map[string]bool)
	for _, table := range tables {
		scored := score(t, sheet[0], table[1])
		var out bytes.Buffer
		require.NoError(t, scored.WriteText(&out))
		assert.Equal(t, regexp.MustCompile(` +\n`).ReplaceAllString(out.String(), "\n"), table[2], table[1])
		assert.Equal(t, scored.Standing[0].Entry, table[3])
		winners[table[3]] = true
	}
	assert.Len(t, winners, 4)
}

// Every key that stands beside a value is explained, and every explained key is used.
func TestTheManualExplainsItsKeys(t *testing.T) {
	t.Parallel()
	text, keys, found := strings.Cut(manual(t, "rules.md"), "\n## Keys\n")
	require.True(t, found)
	explained := make(map[string]bool)
	var order []string
	for _, row := range regexp.MustCompile(`(?m)^\| ([A-Z][A-Z0-9-]+) \|.*http`).FindAllStringSubmatch(keys, -1) {
		explained[row[1]] = true
		order = append(order, row[1])
		assert.Regexp(t, `\b`+row[1]+`\b`, text, "key %s is not used", row[1])
	}
	assert.True(t, slices.IsSorted(order), "the keys stand in order")
	for _, key := range regexp.MustCompile(`\b[A-Z]{2,}[A-Z0-9]*(?:-[A-Z0-9]+)*\b`).FindAllString(text, -1) {
		assert.True(t, explained[key] || slices.Contains([]string{"JSON", "FILE", "DQ", "FP"}, key), "key %s is not explained", key)
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

func TestTheManualOfSheetsNamesEveryCause(t *testing.T) {
	t.Parallel()
	page := manual(t, "sheet.md")
	_, list, found := strings.Cut(page, "The causes are:\n")
	require.True(t, found)
	list, _, _ = strings.Cut(list, "\nAny other reason")
	var causes []domain.Cause
	for _, cause := range regexp.MustCompile("`([a-z ]+)`").FindAllStringSubmatch(list, -1) {
		causes = append(causes, domain.Cause(cause[1]))
	}
	assert.Equal(t, domain.Causes(), causes)
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
