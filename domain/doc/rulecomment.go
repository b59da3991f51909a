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

// ruleField is what people and programs are told of one field of a rule set file. The comments of
// [CommentRuleSet], the schema and the advice of [RuleFaults] are all made of it, so that they cannot disagree.
type ruleField struct {
	path      string            // the name of the field, after that of its group and a full stop
	says      string            // what it is for, one sentence
	write     string            // what may stand there, to be read after "write"
	meanings  map[string]string // what each word means, where the values are words
	byDefault any               // what is meant when the field is left out; nil where nothing is, or it must not be
	needed    bool              // the field has no default and must be written
	shape     schema            // what the schema says beside the type
}

// ruleFields lists the fields in the order of the document, a group before its members. Which fields there are
// is decided by the document's types; a test holds that each has a row here.
var ruleFields = slices.Concat([]ruleField{
	{path: "name", needed: true, shape: schema{MinLength: 1},
		says: "The short name by which the set is called up; results say it.", write: "a short name such as my-club-300ft"},
	{path: "title", byDefault: "",
		says: "One sentence for people.", write: "any text"},
	{path: "unit", needed: true, shape: schema{Enum: []string{"ft", "in", "m"}},
		says: "The unit of line and restart, and of every figure that is typed without one.", write: `"ft", "in" or "m"`},
	{path: "line", needed: true, shape: schema{ExclusiveMinimum: new(0)},
		says: "The full-pull line.", write: "figures with up to three decimals, such as 300"},
	{path: "cap", needed: true, meanings: map[string]string{
		"true":  "at or past the line all full pulls are equal; two or more bring a pull-off",
		"false": "floating finish: the figure counts wherever the sled stops, and there is no pull-off"},
		says: "Whether class pulls end at the line.", write: "true or false"},
	{path: "rounds", needed: true, shape: schema{Minimum: new(1), Maximum: new(9)},
		says: "The number of class rounds.", write: "a whole number from 1 to 9"},
	{path: "counts", byDefault: "best", shape: words(countWords), meanings: map[string]string{
		"best": "the best round counts",
		"sum":  "the rounds are added"},
		says: "How the class rounds become one figure.", write: `"best" or "sum"`},
	{path: "restart", shape: schema{ExclusiveMinimum: new(0)},
		says:  "The restart line: an attempt that stops short of it may be repeated once, at once. Without it there is no second attempt.",
		write: "figures such as 75, less than line"},
	{path: "test_puller",
		says:  "What the first puller against a setting may choose after the hook. Without it the hook counts like any other.",
		write: "a group in braces"},
	{path: "test_puller.options", shape: schema{Items: &schema{Type: "string", Pattern: optionPattern}}, meanings: map[string]string{
		"keep": "the result stands; always among them, written or not",
		"last": "hooks again at the end",
		"now":  "hooks again at once",
		"3":    `hooks again as the third from now; any place from "2" to "127"`},
		says: "The choices.", write: `a list of "keep", "last", "now" or a place such as "3"`},
	{path: "test_puller.until", byDefault: "",
		says:  "When the choice must be made, in the words of the rule book; the booth reads it out.",
		write: "any text, such as before unhooking"},
	{path: "test_puller.after_dq", byDefault: false,
		says: "Whether a disqualified test puller still has the choice.", write: "true or false"},
	{path: "pull_off",
		says:  "How full pullers are brought back; only where cap is true. Without it every field of the group is as if it were left out.",
		write: "a group in braces"},
	{path: "pull_off.measured", byDefault: "past_line", shape: words(finishWords), meanings: map[string]string{
		"past_line": "the figure counts past the line too",
		"to_line":   "it ends at the line again; whoever is still equal pulls again"},
		says: "How a pull-off ends.", write: `"past_line" or "to_line"`},
	{path: "pull_off.absent", byDefault: "last_of_pull_off", shape: words(absentWords), meanings: map[string]string{
		"last_of_pull_off": "after those who hooked in it, before all who were not in it",
		"withdrawn":        "no place; the others move up"},
		says:  "What a full puller gets who is in the pull-off and does not hook in it.",
		write: `"last_of_pull_off" or "withdrawn"`},
	{path: "pull_off.added", byDefault: false,
		says: "Whether the pull-off is added to the printed total; it changes no place.", write: "true or false"},
	{path: "pull_off.second_attempt", byDefault: false,
		says: "Whether the restart line holds in pull-offs too.", write: "true or false"},
	{path: "rehook_drop", byDefault: 0, shape: schema{Minimum: new(0)},
		says:  "How many places, at most, an entry may drop to cool down after a re-hook that the sled or an official caused.",
		write: "a whole number; 0 means at once"},
	{path: "drop_places", byDefault: 0, shape: schema{Minimum: new(0)},
		says:  "How many places, at most, a puller who was called may drop for mechanical trouble.",
		write: "a whole number; 0 means to the last place"},
	{path: "reset", byDefault: "restart", shape: words(resetWords), meanings: map[string]string{
		"restart": "every earlier hook of the round is void and the line-up starts again",
		"keep":    "earlier hooks stand, and every page says that the round was pulled on two settings"},
		says: "What a reset of the sled does to the hooks that the round already has.", write: `"restart" or "keep"`},
}, pointsFields, purseFields)

// optionPattern is the spelling of an option: the words, and the places that [domain.ParseOption] takes.
const optionPattern = "^(keep|last|now|[2-9]|[1-9][0-9]|1[01][0-9]|12[0-7])$"

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
