package doc_test

import (
	"bytes"
	"encoding/json"
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

	"clayline/domain/doc"
)

// understoodSchema is the schema of rule sets: as a document, and as a validator that holds it against draft 2020-12 first.
type understoodSchema struct {
	document  map[string]any
	validator *jsonschema.Schema
}

func ruleSetSchema(t require.TestingT) understoodSchema {
	generated, err := doc.RuleSetSchema()
	require.NoError(t, err)
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(generated))
	require.NoError(t, err)
	compiler := jsonschema.NewCompiler()
	require.NoError(t, compiler.AddResource("https://clayline.test/schema/rules.json", document))
	validator, err := compiler.Compile("https://clayline.test/schema/rules.json")
	require.NoError(t, err)
	return understoodSchema{document.(map[string]any), validator}
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
	file := filepath.Join("schema", "rules.json")
	if *update {
		require.NoError(t, os.WriteFile(file, generated, 0o644))
	}
	committed, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(committed), string(generated), "go test ./domain/doc -update writes it anew")
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

// wrongValues holds for each field of the document values that cannot stand there.
var wrongValues = map[string][]string{
	"name": {`""`, `3`}, "title": {`3`}, "unit": {`"yd"`, `1`}, "line": {`0`, `-60`, `"far"`}, "cap": {`"yes"`}, "rounds": {`0`, `10`, `1.5`},
	"counts": {`"mean"`, `1`}, "restart": {`0`, `-1`, `"near"`}, "rehook_drop": {`-1`, `"4"`}, "drop_places": {`-1`, `1.5`}, "reset": {`"maybe"`},
	"test_puller": {`"last"`, `[]`}, "test_puller.options": {`["first"]`, `["1"]`, `["128"]`, `[3]`, `"last"`}, "test_puller.until": {`3`}, "test_puller.after_dq": {`"no"`},
	"pull_off": {`true`}, "pull_off.measured": {`"no"`, `false`}, "pull_off.absent": {`"gone"`}, "pull_off.added": {`1`}, "pull_off.second_attempt": {`"once"`},
	"points": {`5`, `[10, 9]`}, "points.to": {`"puller"`, `1`}, "points.places": {`10`, `[-1]`, `[10000]`, `["10"]`, `[1.5]`}, "points.step": {`-1`, `"1"`, `10000`},
	"points.floor": {`-1`, `0.5`}, "points.outside": {`"half"`, `25`}, "points.show_up": {`-1`, `true`}, "points.hook": {`-1`, `"5"`}, "points.hook_for": {`"coming"`},
	"points.registration": {`-5`, `1.5`}, "points.dq": {`"gone"`, `0`, `"-1"`, `"10000"`}, "points.dq_causes": {`"conduct: nothing"`, `["conduct"]`, `["rain: nothing"]`, `["conduct: half"]`},
	"points.pull_off_dq": {`"dq"`}, "points.broke": {`"some"`}, "points.broke_before": {`"first_place"`}, "points.not_hooked": {`false`}, "points.late": {`"1.5"`},
	"points.ties": {`"coin"`}, "points.guests": {`"paid"`}, "points.stopped": {`"equal"`}, "points.not_run": {`"rain"`}, "points.minimum": {`-3`, `"3"`}, "points.below": {`"less"`},
	"purse": {`500`}, "purse.guests": {`"members"`, `true`}, "purse.prizes": {`150`, `[-1]`, `["much"]`, `[10000001]`}, "purse.share": {`-1`, `101`, `12.5`}, "purse.of_each": {`-1`, `"ten"`},
	"purse.added": {`-5`, `10000001`}, "purse.added_to": {`"guests"`}, "purse.split": {`[0]`, `[101]`, `50`, `[12.5]`}, "purse.minimum": {`-1`}, "purse.reduced": {`101`, `-1`},
	"purse.stopped": {`"rain"`},
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

// The schema and the reader refuse the same values, and what may be left out may be left out for both.
func TestTheSchemaAndTheReaderAgree(t *testing.T) {
	t.Parallel()
	schema := ruleSetSchema(t)
	agree := func(document []byte) bool {
		decoded, err := jsonschema.UnmarshalJSON(bytes.NewReader(document))
		require.NoError(t, err)
		_, refused := doc.ParseRuleSet(document)
		assert.Equal(t, refused == nil, schema.validator.Validate(decoded) == nil, "%s: %v", document, refused)
		return refused == nil
	}
	paths := pathsOf(schema.document, "")
	require.ElementsMatch(t, paths, slices.Collect(maps.Keys(wrongValues)))
	var needed []string
	for _, path := range paths {
		for _, value := range wrongValues[path] {
			assert.False(t, agree(wrong(t, map[string]string{path: value})), "%s %s", path, value)
		}
		if !agree(wrong(t, map[string]string{path: ""})) {
			needed = append(needed, path)
		}
	}
	assert.Equal(t, []string{"cap", "line", "name", "rounds", "unit"}, needed)
	for _, path := range []string{"lime", "test_puller.lime", "pull_off.lime", "points.lime", "purse.lime"} {
		assert.False(t, agree(wrong(t, map[string]string{path: "1"})), path)
	}
	assert.False(t, agree(wrong(t, map[string]string{"cap": "false"})), "a floating set has no pull-off")
	assert.True(t, agree(wrong(t, map[string]string{"cap": "false", "pull_off": ""})))
	assert.True(t, agree(wrong(t, map[string]string{"test_puller.options": `["keep", "last", "now", "2", "19", "127"]`})))
}

// Every field says what it is for, and a default that the schema names is what is meant when the field is left out.
func TestTheSchemaSaysWhatEachFieldIsFor(t *testing.T) {
	t.Parallel()
	properties := ruleSetSchema(t).document["properties"].(map[string]any)
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
		text, err := json.Marshal(byDefault)
		require.NoError(t, err)
		written, err := doc.ParseRuleSet(wrong(t, map[string]string{path: string(text)}))
		require.NoError(t, err)
		silent, err := doc.ParseRuleSet(wrong(t, map[string]string{path: ""}))
		require.NoError(t, err)
		assert.Equal(t, silent, written, path)
	}
}
