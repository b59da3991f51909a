package doc_test

import (
	"encoding/json"
	"maps"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain/doc"
)

// tabled is a row of a table of docs/exports.md: the path or column, and the example, "" where none is given.
type tabled struct{ name, example string }

// exportTables reads the tables of a chapter of docs/exports.md. The path in a heading stands before the names below it.
func exportTables(t testing.TB, chapter string) (rows []tabled) {
	_, text, found := strings.Cut(manual(t, "exports.md"), "\n## "+chapter+"\n")
	require.True(t, found)
	text, _, _ = strings.Cut(text, "\n## ")
	heading, row := regexp.MustCompile("^### [^`]*`(.+)`$"), regexp.MustCompile("^\\| `([a-z_$]+)` \\|.*\\| (?:`([^`]*)` )?\\|$")
	path := ""
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		if m := heading.FindStringSubmatch(line); m != nil {
			path = m[1] + "."
		} else if m := row.FindStringSubmatch(line); m != nil {
			rows = append(rows, tabled{path + m[1], m[2]})
		} else {
			require.NotRegexp(t, "^\\| `", line, "a row that is not understood")
		}
	}
	return rows
}

func names(rows []tabled) []string {
	list := make([]string, len(rows))
	for i, r := range rows {
		list[i] = r.name
	}
	return list
}

// Columns of the manual are those of the file, in their order, and each example stands in the golden file.
func TestTheManualNamesEveryColumn(t *testing.T) {
	t.Parallel()
	rows := exportTables(t, "The CSV file")
	read := append(records(t, csvOf(t, wholeClass(t).told())), records(t, csvOf(t, rainedOff(t).told()))[1:]...)
	read = append(read, records(t, csvOf(t, withPoints(t).told()))[1:]...)
	require.Equal(t, read[0], names(rows))
	column := columnsOf(read)
	for _, r := range rows {
		require.NotEmpty(t, r.example, r.name)
		assert.True(t, slices.ContainsFunc(read[1:], func(record []string) bool { return record[column[r.name]] == r.example }),
			"%s is %s somewhere", r.name, r.example)
	}
}

// Columns that the manual says are of a hook, and no others, are empty for an entry that never hooked.
func TestTheManualSaysWhichColumnsAreOfAHook(t *testing.T) {
	t.Parallel()
	read := records(t, csvOf(t, wholeClass(t).told()))
	scratched := read[len(read)-1]
	for _, m := range regexp.MustCompile("(?m)^\\| `([a-z_]+)` \\| (yes )?\\|").FindAllStringSubmatch(manual(t, "exports.md"), -1) {
		if i, column := columnsOf(read)[m[1]]; column && m[2] != "" {
			assert.Empty(t, scratched[i], m[1])
		} else if column && !slices.Contains([]string{"home", "class_place", "class_total", "class_total_unit", "line_was", "stopped_at", "stopped_reason", "protests",
			"points", "points_place", "for_place", "for_show_up", "for_hook", "for_registration", "points_why", "weighed", "weighed_when", "weighed_at"}, m[1]) {
			assert.NotEmpty(t, scratched[i], m[1])
		}
	}
}

// Members of the manual are those of the document and those of the schema, and each example stands in the golden file.
func TestTheManualNamesEveryMember(t *testing.T) {
	t.Parallel()
	rows := exportTables(t, "The JSON document")
	assert.ElementsMatch(t, members(reflect.TypeFor[doc.Result](), ""), names(rows), "of the document")
	var schema map[string]any
	require.NoError(t, json.Unmarshal([]byte(doc.ResultSchema()), &schema))
	assert.ElementsMatch(t, described(schema, schema, ""), names(rows), "of the schema")

	values := make(map[string][]any)
	for _, s := range []*tale{wholeClass(t), withPoints(t)} {
		var document any
		require.NoError(t, json.Unmarshal(exported(t, s.told()), &document))
		collect(document, "", values)
	}
	for _, r := range rows {
		if r.example == "" {
			continue
		}
		var example any
		require.NoError(t, json.Unmarshal([]byte(r.example), &example), r.name)
		assert.Contains(t, values[r.name], example, "%s is %s somewhere", r.name, r.example)
	}
}

// members lists the members of a type of the document, with their paths.
func members(of reflect.Type, path string) (list []string) {
	for i := range of.NumField() {
		field := of.Field(i)
		name, kind := path+field.Tag.Get("json"), field.Type
		list = append(list, name)
		for kind.Kind() == reflect.Pointer || kind.Kind() == reflect.Slice {
			if kind.Kind() == reflect.Slice {
				name += "[]"
			}
			kind = kind.Elem()
		}
		if kind.Kind() == reflect.Struct && kind != reflect.TypeFor[time.Time]() && kind != reflect.TypeFor[doc.Measure]() {
			list = append(list, members(kind, name+".")...)
		}
	}
	return list
}

// described lists the members that an object of the schema has, with their paths.
func described(root, object map[string]any, path string) (list []string) {
	properties, _ := object["properties"].(map[string]any)
	for _, name := range slices.Sorted(maps.Keys(properties)) {
		list = append(list, path+name)
		property, _ := properties[name].(map[string]any)
		below := path + name
		if property["type"] == "array" {
			property, _ = property["items"].(map[string]any)
			below += "[]"
		}
		if either, ok := property["anyOf"].([]any); ok {
			property, _ = either[0].(map[string]any)
		}
		target, _ := property["$ref"].(string)
		target = strings.TrimPrefix(target, "#/$defs/")
		if target != "" && !slices.Contains([]string{"distance", "weight", "speed"}, target) {
			defs, _ := root["$defs"].(map[string]any)
			definition, _ := defs[target].(map[string]any)
			list = append(list, described(root, definition, below+".")...)
		}
	}
	return list
}

// collect gathers the values of a decoded document by their paths.
func collect(v any, path string, values map[string][]any) {
	switch v := v.(type) {
	case map[string]any:
		for name, value := range v {
			at := strings.TrimPrefix(path+"."+name, ".")
			values[at] = append(values[at], value)
			collect(value, at, values)
		}
	case []any:
		for _, each := range v {
			collect(each, path+"[]", values)
		}
	}
}
