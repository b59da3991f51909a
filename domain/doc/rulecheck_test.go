package doc_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain/doc"
)

// topFields are the fields of a rule set that are in no group, in the order of the manual.
const topFields = "name, title, unit, line, moving_line, measure, cap, rounds, counts, entries, order, call, restart, restarts, test_puller, rehook_drop, rehook_minutes, drop_places, reset, reset_when, reasons, side_lines_to, speed, ready, stopped, pull_off, ties, points, purse, protest, weight"

// faultsOf returns the faults of a document as they are printed behind the name of the file.
func faultsOf(document string) []string {
	var said []string
	for _, fault := range doc.RuleFaults([]byte(document)) {
		said = append(said, fault.String())
	}
	return said
}

func TestEverythingThatIsWrongIsSaidWithItsPlace(t *testing.T) {
	t.Parallel()
	const sound = `{"name": "x", "unit": "m", "line": 60, "cap": true, "rounds": 1`
	for _, row := range []struct {
		what, document string
		says           []string
	}{
		{"in order", sound + "}", nil},
		{"empty", " \n", []string{":1:1: the file holds no rule set; write the fields between braces, as docs/rules.md has it"}},
		{"a list", "[]", []string{":1:1: the file holds no rule set; write the fields between braces, as docs/rules.md has it"}},
		{"cut off", "{\n\"name\": \"x\",\n", []string{":3:1: the file ends in the middle of the rule set; look for a comma, a quote or a brace too many or too few"}},
		{"a comma too many", "{\n  \"name\": \"Über\",}", []string{`:2:18: this is not JSON: invalid character '}' looking for beginning of object key string; look for a comma, a quote or a brace too many or too few`}},
		{"two sets", sound + "} {}", []string{`:1:66: this is not JSON: invalid character '{' after top-level value; look for a comma, a quote or a brace too many or too few`}},
		{"comments", "{\n  // ours\n}", []string{":2:3: a rule set file cannot have comments; take them out; clayline rules show --plain writes a set without"}},
		{"byte order mark", "\ufeff" + sound + "}", []string{":1:1: the file begins with a byte order mark; save it as UTF-8 without one"}},
		{"null", "null", []string{": field name: it is missing; write a short name such as my-club-300ft", `: field unit: it is missing; write "ft", "in" or "m"`,
			": field line: it is missing; write figures with up to three decimals, such as 300", ": field cap: it is missing; write true or false",
			": field rounds: it is missing; write a whole number from 1 to 9"}},
		{"a member outside its group", sound + `, "pull_off.added": true}`, []string{":1:66: field pull_off.added: there is no such field; write one of " + topFields}},
		{"contradiction", sound + `, "restart": 60}`, []string{":1:66: field restart: 60 m lies at or beyond the full-pull line 60 m (restart against line), which stands at 1:28; move it before the full-pull line"}},
		{"groups without what they need", sound + `, "speed": {}, "moving_line": {"by": 0}}`, []string{
			": field moving_line.choices: it is missing; write a list of figures such as [320]", ": field speed.limit: it is missing; write a speed with its unit, such as 3.5 mph",
			":1:95: field moving_line.by: the number of hooks cannot be right; write 1 to 9"}},
		{"what only hangs on what is wrong", sound + `, "restart": "x", "restarts": {"attempts": 3}, "ties": {"are": "odd", "places": 3}}`, []string{
			":1:66: field restart: this cannot stand here; write figures such as 75, less than line", `:1:120: field ties.are: "odd" is not known; write next_best or pulled_again or shared`}},
		{"many, in order of the file", "{\n \"line\": \"far\", \"Cap\": {},\n \"rounds\": 12, \"ROUND\": 1,\n \"name\": \"Ü\", \"counts\": \"mean\",\n \"pull_off\": {\n  \"absent\": 3, \"odd\": [{\"cap\": 1}], \"measured\": \"no\"}}", []string{
			`: field unit: it is missing; write "ft", "in" or "m"`,
			":2:2: field line: this cannot stand here; write figures with up to three decimals, such as 300",
			":2:17: field cap: there is no field Cap; write cap", ":2:17: field cap: an object cannot stand here; write true or false",
			":3:2: field rounds: a class has one to nine rounds; give the number of class rounds",
			":3:16: field round: there is no such field; write one of " + topFields,
			`:4:15: field counts: "mean" is not known; write best or sum`,
			`:6:3: field pull_off.absent: a number cannot stand here; write "last_of_pull_off" or "withdrawn"`,
			":6:16: field pull_off.odd: there is no such field; write one of who, top, fill_to, measured, line, order, absent, disqualified, added, second_attempt, same_driver, before",
			`:6:37: field pull_off.measured: "no" is not known; write past_line or to_line`}},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			assert.Equal(t, row.says, faultsOf(row.document))
		})
	}
}

// groupOf reports of a path whether others belong to it.
func groupOf(paths []string) func(string) bool {
	return func(path string) bool {
		return slices.ContainsFunc(paths, func(other string) bool { return strings.HasPrefix(other, path+".") })
	}
}

// Whatever fields are wrong at once, those are named and no others. A group that is wrong hides its members.
func TestEveryWrongFieldIsNamedAndNoOther(t *testing.T) {
	t.Parallel()
	all := slices.Sorted(maps.Keys(wrongValues))
	members := slices.DeleteFunc(slices.Clone(all), groupOf(all))
	rapid.Check(t, func(t *rapid.T) {
		paths := rapid.SliceOfNDistinct(rapid.SampledFrom(members), 1, 6, rapid.ID[string]).Draw(t, "fields")
		// Lengths with a unit of their own are wrong beside that of the set, which says nothing while it is wrong itself.
		if slices.Contains(paths, "unit") {
			paths = slices.DeleteFunc(paths, func(path string) bool { return path == "speed.from" || path == "measure.minimum" })
		}
		values := make(map[string]string)
		for _, path := range paths {
			values[path] = rapid.SampledFrom(wrongValues[path]).Draw(t, path)
		}
		document := wrong(t, values)
		var named []string
		for _, fault := range doc.RuleFaults(document) {
			named = append(named, fault.Field)
			require.Positive(t, fault.Line)
			begins := string([]rune(string(document))[fault.Column-1:])
			require.True(t, strings.HasPrefix(begins, `"`+fault.Field[strings.LastIndexByte(fault.Field, '.')+1:]+`"`), begins)
		}
		require.ElementsMatch(t, paths, named, "%s", document)
	})
}

// There are faults exactly when the reader refuses the document.
func FuzzRuleFaults(f *testing.F) {
	for _, name := range doc.ReadyMade() {
		document, err := doc.CommentRuleSet(set(f, name))
		require.NoError(f, err)
		f.Add(document)
		f.Add(commentLine.ReplaceAll(document, nil))
	}
	for path, values := range wrongValues {
		for _, value := range values {
			f.Add(wrong(f, map[string]string{path: value}))
		}
	}
	for _, odd := range []string{"", "{", "nul", `{"a":`, `{"pull_off": null, "test_puller": {"options": null}}`, `{"LINE": 1, "line": {}, "Line": []}`} {
		f.Add([]byte(odd))
	}
	f.Fuzz(func(t *testing.T, document []byte) {
		_, err := doc.ParseRuleSet(document)
		faults := doc.RuleFaults(document)
		require.Equal(t, err == nil, len(faults) == 0, "%v %v", err, faults)
	})
}
