package doc

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"

	"clayline/domain"
)

// fieldAt returns the row of a field, and one with nothing but the path for a path that is none. The rows are few, and
// a table by name would lose their order.
func fieldAt(path string) ruleField {
	if i := slices.IndexFunc(ruleFields, func(f ruleField) bool { return f.path == path }); i >= 0 {
		return ruleFields[i]
	}
	return ruleField{path: path}
}

// CommentRuleSet returns the rule set as a document with a comment above each field: what it is for and what
// else could stand there. A field that is left out has its comment too. [ReadRuleSet] does not take comments,
// because JSON has none; without the lines that begin with // it reads the same set back.
func CommentRuleSet(r domain.RuleSet) ([]byte, error) {
	// The written document decides what is said and what is left out; there is no second way from a set to JSON.
	plain, err := WriteRuleSet(r)
	if err != nil {
		return nil, err
	}
	var d ruleSet
	if err := json.Unmarshal(plain, &d); err != nil {
		return nil, fmt.Errorf("reading back a rule set: %w", err)
	}
	var out bytes.Buffer
	out.WriteString("// A rule set with comments, for reading. For a file that can be used leave the comments out.\n")
	err = commentGroup(&out, reflect.ValueOf(d), "", "")
	out.WriteString("\n")
	return out.Bytes(), err
}

// commentGroup writes the fields of a document type between braces. The path leads to the group and ends in a
// full stop, unless it is the whole set.
func commentGroup(out *bytes.Buffer, group reflect.Value, path, indent string) error {
	out.WriteString("{\n")
	inner := indent + "  "
	last := lastWritten(group)
	for i := range group.NumField() {
		name, _ := jsonName(group.Type().Field(i))
		field := fieldAt(path + name)
		// A comment can stand anywhere, so that what is left out has its place in the order of the manual.
		if leftOut(group, i) {
			fmt.Fprintf(out, "%s// Left out: %q%s. %s\n", inner, name, field.silence(), field.says)
			continue
		}
		field.comment(out, inner)
		fmt.Fprintf(out, "%s%q: ", inner, name)
		if err := commentValue(out, group.Field(i), path+name, inner); err != nil {
			return err
		}
		out.WriteString(map[bool]string{true: "\n", false: ",\n"}[i == last])
	}
	out.WriteString(indent + "}")
	return nil
}

// commentValue writes a value: a group with comments of its own, anything else as JSON on one line. Titles keep their
// ampersands and angle brackets, as in [WriteRuleSet].
func commentValue(out *bytes.Buffer, value reflect.Value, path, indent string) error {
	if value.Kind() == reflect.Pointer {
		value = value.Elem()
	}
	if value.Kind() == reflect.Struct {
		return commentGroup(out, value, path+".", indent)
	}
	var text bytes.Buffer
	encoder := json.NewEncoder(&text)
	encoder.SetEscapeHTML(false)
	err := encoder.Encode(value.Interface())
	out.Write(bytes.TrimSpace(text.Bytes()))
	return err
}

// comment writes what is said of the field, and below it each word with its meaning, or what may stand there where
// the values are no words.
func (f ruleField) comment(out *bytes.Buffer, indent string) {
	fmt.Fprintf(out, "%s// %s\n", indent, f.says)
	if len(f.meanings) == 0 && !f.group() {
		fmt.Fprintf(out, "%s//   Write %s.\n", indent, f.write)
	}
	for _, word := range slices.Sorted(maps.Keys(f.meanings)) {
		shown := fmt.Sprintf("%q", word)
		if f.path == "cap" {
			shown = word // true and false stand without quotes
		}
		fmt.Fprintf(out, "%s//   %s: %s\n", indent, shown, f.meanings[word])
	}
}

// group reports whether other fields belong to this one.
func (f ruleField) group() bool {
	return slices.ContainsFunc(ruleFields, func(other ruleField) bool { return strings.HasPrefix(other.path, f.path+".") })
}

// silence says what leaving the field out means, where that is a value; else the field's own sentence says it.
func (f ruleField) silence() string {
	if f.byDefault == nil || f.byDefault == "" {
		return ""
	}
	return fmt.Sprintf(", which means %v", f.byDefault)
}

// lastWritten returns the index of the last field of a group that is not left out: it has no comma behind it.
func lastWritten(group reflect.Value) int {
	last := 0
	for i := range group.NumField() {
		if !leftOut(group, i) {
			last = i
		}
	}
	return last
}

// leftOut reports whether a field of a group is left out of the document, as package json decides it: by the tag and
// the zero value. That an empty group would be written is right here too, because groups are pointers.
func leftOut(group reflect.Value, i int) bool {
	_, optional := jsonName(group.Type().Field(i))
	return optional && group.Field(i).IsZero()
}

// jsonName returns the name of a field in the document, and whether it is left out when it has its zero value.
func jsonName(field reflect.StructField) (name string, optional bool) {
	name, options, _ := strings.Cut(field.Tag.Get("json"), ",")
	return cmp.Or(name, field.Name), options == "omitempty"
}
