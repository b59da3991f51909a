package doc_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/doc"
)

// understoodSchema is a schema: as a document, and as a validator that holds it against draft 2020-12 first.
type understoodSchema struct {
	document  map[string]any
	validator *jsonschema.Schema
}

func ruleSetSchema(t require.TestingT) understoodSchema {
	generated, err := doc.RuleSetSchema()
	require.NoError(t, err)
	return understood(t, generated)
}

// understood compiles a schema.
func understood(t require.TestingT, generated []byte) understoodSchema {
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(generated))
	require.NoError(t, err)
	compiler := jsonschema.NewCompiler()
	require.NoError(t, compiler.AddResource("https://clayline.test/schema.json", document))
	validator, err := compiler.Compile("https://clayline.test/schema.json")
	require.NoError(t, err)
	return understoodSchema{document.(map[string]any), validator}
}

// notStale holds that the copy of a schema in the folder of schemas is what is generated, or writes it anew.
func notStale(t *testing.T, name string, generated []byte) {
	t.Helper()
	file := filepath.Join("schema", name)
	if *update {
		rewrite(t, file, generated)
	}
	committed, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(committed), string(generated), "go test ./domain/doc -update writes it anew")
}

// pathsOf lists the fields of a schema, those of its groups behind the group's name.
func pathsOf(schema map[string]any, path string) []string {
	properties, _ := schema["properties"].(map[string]any)
	var paths []string
	for _, name := range slices.Sorted(maps.Keys(properties)) {
		paths = append(append(paths, path+name), pathsOf(properties[name].(map[string]any), path+name+".")...)
	}
	return paths
}

func TestTheSchemaOfRuleSetsIsNotStale(t *testing.T) {
	t.Parallel()
	generated, err := doc.RuleSetSchema()
	require.NoError(t, err)
	notStale(t, "rules.json", generated)
}

// The description of the interface has the same schema: JSON is YAML, so that it stands there as it is.
func TestTheInterfaceHasTheSchemaOfRuleSets(t *testing.T) {
	t.Parallel()
	const begins, ends = "writes it.\n    RuleSet:", "    # The end of the schema of rule sets.\n"
	generated := ruleSetSchema(t).document
	delete(generated, "$schema")
	block, err := json.MarshalIndent(generated, "      ", "  ")
	require.NoError(t, err)
	file := filepath.Join("..", "..", "api", "openapi.yaml")
	page, err := os.ReadFile(file)
	require.NoError(t, err)
	before, rest, found := strings.Cut(string(page), begins)
	require.True(t, found)
	written, after, found := strings.Cut(rest, ends)
	require.True(t, found)
	if *update {
		written = "\n      " + string(block) + "\n"
		rewrite(t, file, []byte(before+begins+written+ends+after))
	}
	assert.Equal(t, "\n      "+string(block)+"\n", written, "go test ./domain/doc -update writes it anew")
}

func TestEveryRuleSetFitsTheSchema(t *testing.T) {
	t.Parallel()
	schema := ruleSetSchema(t)
	files, err := filepath.Glob(filepath.Join("..", "testdata", "*rules.json"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	own, err := filepath.Glob(filepath.Join("rulesets", "*.json"))
	require.NoError(t, err)
	require.Len(t, own, len(doc.ReadyMade()))
	for _, file := range slices.Concat(files, own) {
		document, err := os.ReadFile(file)
		require.NoError(t, err)
		fits(t, schema.validator, document)
	}
	for _, block := range fenced(manual(t, "rules.md"), "json") {
		fits(t, schema.validator, []byte(block))
	}
	rapid.Check(t, func(t *rapid.T) {
		document, err := doc.WriteRuleSet(ruleSets().Draw(t, "rules"))
		require.NoError(t, err)
		fits(t, schema.validator, document)
	})
}

// wrongValues holds for each field of the document values that cannot stand there, whatever stands beside them.
var wrongValues = withCauses(map[string][]string{
	"name": {`""`, `3`}, "title": {`3`}, "unit": {`"yd"`, `1`}, "line": {`0`, `-60`, `"far"`},
	"moving_line": {`320`, `[320]`}, "moving_line.choices": {`[]`, `320`, `["far"]`}, "moving_line.by": {`0`, `10`, `"1"`},
	"measure": {`"pan"`}, "measure.from": {`1`}, "measure.decimals": {`4`, `-1`, `"2"`}, "measure.minimum": {`1`, `"an inch"`, `"0 in"`},
	"cap": {`"yes"`}, "rounds": {`0`, `10`, `1.5`}, "counts": {`"mean"`, `1`},
	"entries": {`3`}, "entries.vehicle_twice": {`"maybe"`, `true`}, "entries.least": {`-1`, `101`, `"3"`}, "entries.below": {`3`},
	"order": {`"draw"`}, "order.by": {`"lot"`, `1`}, "order.late": {`"first"`, `false`},
	"call": {`3`}, "call.minutes": {`-1`, `61`, `"3"`}, "call.from": {`3`}, "call.not_ready": {`"shot"`, `0`}, "call.drop_once": {`1`},
	"restart": {`0`, `-1`, `"near"`}, "restarts": {`2`}, "restarts.share": {`0.5`, `"half"`, `"0/3"`, `"1/101"`},
	"restarts.kinds": {`"truck 100"`, `["truck"]`, `["truck 0"]`, `[" 100"]`, `["truck far"]`}, "restarts.attempts": {`1`, `-1`, `10`, `"3"`},
	"restarts.judged_by": {`"eye"`, `true`}, "restarts.options": {`["keep"]`, `["original"]`, `["1"]`, `[7]`, `"now"`, `[""]`},
	"test_puller": {`"last"`, `[]`}, "test_puller.who": {`"anybody"`, `1`}, "test_puller.options": {`["first"]`, `["1"]`, `["128"]`, `[3]`, `"last"`},
	"test_puller.must": {`"yes"`}, "test_puller.until": {`3`}, "test_puller.silence": {`"soon"`, `3`, `"1"`},
	"test_puller.before_distance": {`1`}, "test_puller.after_dq": {`"no"`}, "test_puller.no_restart": {`"no"`}, "test_puller.lost_part_free": {`"no"`},
	"rehook_drop": {`-1`, `101`, `"4"`}, "rehook_minutes": {`-1`, `61`, `"5"`}, "drop_places": {`-1`, `101`, `1.5`}, "reset": {`"maybe"`, `1`},
	"reset_when": {`325`}, "reset_when.past": {`0`, `-1`, `"325 ft"`}, "reset_when.full_pulls": {`-1`, `101`, `"2"`},
	"reasons": {`"measured"`}, "side_lines_to": {`-1`, `"far"`},
	"speed": {`"4 mph"`}, "speed.limit": {`4`, `"4"`, `"fast"`}, "speed.from": {`75`, `"0"`, `"half"`, `"75 m"`}, "speed.warnings": {`-1`, `10`, `"1"`},
	"speed.device": {`1`}, "speed.own_device": {`"no"`}, "ready": {`"lights"`, `[3]`, `[" "]`, `["` + strings.Repeat(`a", "`, 30) + `a"]`}, "stopped": {`"all"`, `1`},
	"pull_off": {`true`}, "pull_off.who": {`"all"`, `2`}, "pull_off.top": {`"3"`}, "pull_off.fill_to": {`1`, `-1`, `101`, `"3"`},
	"pull_off.measured": {`"no"`, `false`}, "pull_off.line": {`-1`, `"far"`}, "pull_off.order": {`"odd"`, `true`}, "pull_off.absent": {`"gone"`},
	"pull_off.disqualified": {`"gone"`}, "pull_off.added": {`1`}, "pull_off.second_attempt": {`"once"`}, "pull_off.same_driver": {`"yes"`}, "pull_off.before": {`1`},
	"ties": {`"shared"`}, "ties.are": {`"stand"`, `1`}, "ties.places": {`-1`, `"3"`},
	"points": {`5`, `[10, 9]`}, "points.to": {`"puller"`, `1`}, "points.places": {`10`, `[-1]`, `[10000]`, `["10"]`, `[1.5]`}, "points.step": {`-1`, `"1"`, `10000`},
	"points.floor": {`-1`, `0.5`}, "points.outside": {`"half"`, `25`}, "points.show_up": {`-1`, `true`}, "points.hook": {`-1`, `"5"`}, "points.hook_for": {`"coming"`},
	"points.registration": {`-5`, `1.5`}, "points.dq": {`"gone"`, `0`, `"-1"`, `"10000"`}, "points.dq_causes": {`"conduct: nothing"`, `["conduct"]`, `["rain: nothing"]`, `["conduct: half"]`},
	"points.pull_off_dq": {`"dq"`}, "points.broke": {`"some"`}, "points.broke_before": {`"first_place"`}, "points.not_hooked": {`false`}, "points.late": {`"1.5"`},
	"points.ties": {`"coin"`}, "points.guests": {`"paid"`}, "points.stopped": {`"equal"`}, "points.not_run": {`"rain"`}, "points.minimum": {`-3`, `"3"`}, "points.below": {`"less"`},
	"purse": {`500`}, "purse.guests": {`"members"`, `true`}, "purse.prizes": {`150`, `[-1]`, `["much"]`, `[10000001]`}, "purse.share": {`-1`, `101`, `12.5`}, "purse.of_each": {`-1`, `"ten"`},
	"purse.added": {`-5`, `10000001`}, "purse.added_to": {`"guests"`}, "purse.split": {`[0]`, `[101]`, `50`, `[12.5]`}, "purse.minimum": {`-1`}, "purse.reduced": {`101`, `-1`},
	"purse.stopped": {`"rain"`},
	"protest":       {`10`, `[]`}, "protest.minutes": {`-1`, `1441`, `"10"`}, "protest.fee": {`50`}, "protest.until": {`3`}, "protest.decides": {`true`},
	"weight": {`8500`, `[]`}, "weight.limit": {`8500`, `"8500"`, `"heavy"`, `"8500 st"`}, "weight.tolerance": {`10`, `"10"`, `"1,0 lb"`}, "weight.least": {`10`, `"10"`, `"light"`}, "weight.when": {`"later"`, `1`},
	"weight.tries": {`-1`, `10`, `"2"`}, "weight.over": {`"gone"`, `true`}, "weight.with_driver": {`"yes"`},
})

// withCauses adds a row for each cause, all of which have the same words.
func withCauses(values map[string][]string) map[string][]string {
	for _, cause := range domain.Causes() {
		values["reasons."+strings.ReplaceAll(string(cause), " ", "_")] = []string{`"guilty"`, `true`}
	}
	return values
}

// wrong returns the manual's complete file with another value at a field; the empty value takes the field out.
func wrong(t require.TestingT, values map[string]string) []byte {
	page, err := os.ReadFile(filepath.Join("..", "..", "docs", "rules.md"))
	require.NoError(t, err)
	var document map[string]any
	require.NoError(t, json.Unmarshal([]byte(fenced(string(page), "json")[0]), &document))
	for path, value := range values {
		holder, name := document, path
		if group, member, nested := strings.Cut(path, "."); nested {
			holder, name = document[group].(map[string]any), member
		}
		if holder[name] = json.RawMessage(value); value == "" {
			delete(holder, name)
		}
	}
	text, err := json.Marshal(document)
	require.NoError(t, err)
	return text
}

// contradicts reports whether a refusal is of two fields that are right alone: a schema cannot say those.
func contradicts(err error) bool {
	refusal, ok := errors.AsType[*domain.Error](err)
	return ok && refusal.Also != ""
}

// The schema and the reader refuse the same values, and what may be left out may be left out for both. Members that a
// group needs are needed only where the group is there.
func TestTheSchemaAndTheReaderAgree(t *testing.T) {
	t.Parallel()
	schema := ruleSetSchema(t)
	agree := func(document []byte) bool {
		decoded, err := jsonschema.UnmarshalJSON(bytes.NewReader(document))
		require.NoError(t, err)
		_, refused := doc.ParseRuleSet(document)
		if !contradicts(refused) {
			assert.Equal(t, refused == nil, schema.validator.Validate(decoded) == nil, "%s: %v", document, refused)
		}
		return refused == nil || contradicts(refused)
	}
	paths := pathsOf(schema.document, "")
	require.Greater(t, len(paths), 80)
	require.ElementsMatch(t, paths, slices.Collect(maps.Keys(wrongValues)))
	var needed []string
	for _, path := range paths {
		for _, value := range wrongValues[path] {
			document := wrong(t, map[string]string{path: value})
			decoded, err := jsonschema.UnmarshalJSON(bytes.NewReader(document))
			require.NoError(t, err)
			_, refused := doc.ParseRuleSet(document)
			assert.Error(t, refused, "%s %s", path, value)
			assert.Error(t, schema.validator.Validate(decoded), "%s %s", path, value)
		}
		if !agree(wrong(t, map[string]string{path: ""})) {
			needed = append(needed, path)
		}
	}
	assert.Equal(t, []string{"cap", "line", "moving_line.by", "moving_line.choices", "name", "rounds", "speed.limit", "unit", "weight.limit"}, needed)
	for _, path := range paths {
		if group, _, nested := strings.Cut(path, "."); !nested || slices.Contains(needed, path) {
			continue
		} else if !assert.False(t, agree(wrong(t, map[string]string{group + ".lime": "1"})), group) {
			break
		}
	}
	assert.False(t, agree(wrong(t, map[string]string{"lime": "1"})))
	assert.True(t, agree(wrong(t, map[string]string{"cap": "false", "pull_off": "", "reset_when": ""})))
	assert.True(t, agree(wrong(t, map[string]string{"test_puller.options": `["keep", "last", "now", "2", "19", "127"]`})))
	assert.True(t, agree(wrong(t, map[string]string{"speed": "", "moving_line": ""})))
	for _, top := range []string{"1", "101", "-1"} {
		assert.False(t, agree(wrong(t, map[string]string{"pull_off.who": `"top"`, "pull_off.fill_to": "", "pull_off.top": top})), top)
	}
	assert.True(t, agree(wrong(t, map[string]string{"pull_off.who": `"top"`, "pull_off.fill_to": "", "pull_off.top": "2"})))
	// What is refused for the line that it lies before, the schema refuses for lying at the start.
	for _, path := range []string{"side_lines_to", "pull_off.line"} {
		document := wrong(t, map[string]string{path: "0"})
		_, refused := doc.ParseRuleSet(document)
		assert.True(t, contradicts(refused), path)
		decoded, err := jsonschema.UnmarshalJSON(bytes.NewReader(document))
		require.NoError(t, err)
		assert.Error(t, schema.validator.Validate(decoded), path)
	}
	// That a floating set has no pull-off is the one contradiction that the schema says.
	floating, err := jsonschema.UnmarshalJSON(bytes.NewReader(wrong(t, map[string]string{"cap": "false", "reset_when": ""})))
	require.NoError(t, err)
	assert.Error(t, schema.validator.Validate(floating))
}

// Every field says what it is for, and a default that the schema names is what is meant when the field is left out.
func TestTheSchemaSaysWhatEachFieldIsFor(t *testing.T) {
	t.Parallel()
	// hanging are the fields that say nothing under the default of another.
	hanging := map[string]string{"ties.are": "ties.places", "test_puller.who": "test_puller.options"}
	properties := ruleSetSchema(t).document["properties"].(map[string]any)
	defaults := 0
	for _, path := range pathsOf(ruleSetSchema(t).document, "") {
		group, member, nested := strings.Cut(path, ".")
		field := properties[group].(map[string]any)
		if nested {
			field = field["properties"].(map[string]any)[member].(map[string]any)
		}
		assert.NotEmpty(t, field["description"], path)
		byDefault, ok := field["default"]
		if !ok {
			continue
		}
		defaults++
		text, err := json.Marshal(byDefault)
		require.NoError(t, err)
		written, silent := map[string]string{path: string(text)}, map[string]string{path: ""}
		if other, ok := hanging[path]; ok {
			written[other], silent[other] = "", ""
		}
		with, err := doc.ParseRuleSet(wrong(t, written))
		require.NoError(t, err, path)
		without, err := doc.ParseRuleSet(wrong(t, silent))
		require.NoError(t, err, path)
		assert.Equal(t, without, with, path)
	}
	assert.Greater(t, defaults, 45)
}
