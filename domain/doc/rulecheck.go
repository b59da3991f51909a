package doc

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"unicode/utf8"

	"clayline/domain"
)

// RuleFault is one thing that is wrong in a rule set file: where it stands, what it is and what to do. Line and Column count from 1, in characters; both
// are 0 for a field that is missing. Field is empty where the file as a whole cannot be read.
type RuleFault struct {
	Line, Column int
	Field        string
	Message, Fix string
}

// String writes the fault behind the name of its file: ":6:3: field counts: "mean" is not known; write best or
// sum".
func (f RuleFault) String() string {
	text := ": " + f.Message + "; " + f.Fix
	if f.Field != "" {
		text = ": field " + f.Field + text
	}
	if f.Line > 0 {
		text = fmt.Sprintf(":%d:%d%s", f.Line, f.Column, text)
	}
	return text
}

// RuleFaults returns everything that is wrong in a rule set file, first what is missing, then in the order of the
// file; nothing when [ParseRuleSet] reads it. [ReadRuleSet] stops at the first fault, which would make a club mend
// its file one run a fault. So what is wrong is taken out of a copy, which is read again until nothing is left. A
// fault that needs two fields shows only when both can be understood. What is not JSON is one fault: behind it
// nothing is certain.
func RuleFaults(document []byte) []RuleFault {
	_, err := ParseRuleSet(document)
	if err == nil {
		return nil
	}
	var tree map[string]any
	if broken := json.Unmarshal(document, &tree); broken != nil {
		return []RuleFault{syntaxFault(document, broken)}
	}
	// What is not known goes first and what is of the wrong kind next, because either would stop the reader before
	// it looks at the words and at what contradicts.
	c := ruleCheck{document: document, at: keyOffsets(document), mended: make(map[string]bool)}
	for _, fault := range misnamed(document, reflect.TypeFor[ruleSet]()) {
		c.add("", fault)
	}
	c.tree = c.known(copyOf(document), "")
	c.types()
	c.read()
	// Whatever the reader refuses and the check does not understand is said in the reader's own words: a file that
	// cannot be used must never pass.
	if len(c.faults) == 0 {
		c.add("", err)
	}
	slices.SortStableFunc(c.faults, func(a, b RuleFault) int { return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column)) })
	return c.faults
}

// ruleCheck collects the faults of a document. The tree is a copy of it without the faults found so far.
type ruleCheck struct {
	// document is the file as it is, for the places of faults.
	document []byte
	at       map[string]int64 // where each field begins
	tree     map[string]any
	faults   []RuleFault
	// mended are the fields that were wrong: what contradicts only their absence, or what stands in for them, is no
	// further fault.
	mended map[string]bool
}

// soundValues stand in for needed fields that were wrong, so that the others can be looked at. The lines are farther than
// any restart line.
var soundValues = map[string]any{"name": "x", "unit": "m", "line": 99_999, "cap": true, "rounds": 1,
	"moving_line.choices": []any{99_999}, "moving_line.by": 1, "speed.limit": "1 mph",
	"protest.minutes": 1, "protest.until": "x",
	"weight.limit": "99999 lb", "weight.tolerance": "1 lb"}

// add notes a fault. The path names the field where the error does not.
func (c *ruleCheck) add(path string, err error) {
	fault := RuleFault{Field: path, Message: err.Error(), Fix: "compare it with docs/rules.md"}
	if refusal, ok := errors.AsType[*domain.Error](err); ok {
		fault.Field, fault.Message, fault.Fix = cmp.Or(refusal.Field, path), refusal.Message, refusal.Fix
	}
	if refusal, ok := errors.AsType[*domain.Error](err); ok && refusal.Also != "" {
		if offset, written := c.at[refusal.Also]; written {
			line, column := position(c.document, offset)
			fault.Message += fmt.Sprintf(", which stands at %d:%d", line, column)
		}
	}
	if offset, ok := c.at[fault.Field]; ok {
		fault.Line, fault.Column = position(c.document, offset)
	}
	c.faults = append(c.faults, fault)
}

// mend takes what is wrong out of the tree, or puts something sound there where nothing must not be. It reports
// whether there is something to mend, so that nobody mends the same field for ever.
func (c *ruleCheck) mend(path string) bool {
	c.mended[path] = true
	holder, name := c.holder(path)
	if sound, needed := soundValues[path]; needed && holder != nil {
		was := holder[name]
		holder[name] = sound
		return !reflect.DeepEqual(was, sound)
	}
	return c.drop(path)
}

// holder returns the part of the tree that holds a field, and the field's name there; nil where the group is not
// written, or is none.
func (c *ruleCheck) holder(path string) (map[string]any, string) {
	group, member, nested := strings.Cut(path, ".")
	if !nested {
		return c.tree, path
	}
	holder, _ := c.tree[group].(map[string]any)
	return holder, member
}

// known returns the fields of a group that a rule set can have and notes the others. Capital letters make no
// difference, as package json has it.
func (c *ruleCheck) known(group map[string]any, path string) map[string]any {
	kept := make(map[string]any)
	for name, value := range group {
		field := fieldAt(path + strings.ToLower(name))
		// A full stop in a name would be taken for that between a group and its member.
		if field.says == "" || strings.Contains(name, ".") {
			c.add(path+strings.ToLower(name), ruleError("", "there is no such field", "write one of "+strings.Join(membersOf(path), ", ")))
			continue
		}
		if members, ok := value.(map[string]any); ok && field.group() {
			value = c.known(members, field.path+".")
		}
		kept[strings.ToLower(name)] = value
	}
	return kept
}

// types notes every field that is missing and has no default, and every one whose value is of the wrong kind, by
// reading it alone. A group is looked at by its members.
func (c *ruleCheck) types() {
	for _, field := range ruleFields {
		holder, name := c.holder(field.path)
		value, there := holder[name]
		_, members := value.(map[string]any)
		switch {
		case !there && field.needed && holder != nil:
			c.add(field.path, ruleError(field.path, "it is missing", "write "+field.write))
		case !there || members && field.group():
			continue
		default:
			err := readAlone(field.path, value)
			if err == nil {
				continue
			}
			c.add(field.path, ruleError(field.path, wrongKind(err), "write "+field.write))
		}
		c.mend(field.path)
	}
}

// wrongKind says why a value cannot be read, in the reader's words where it names the field.
func wrongKind(err error) string {
	if refusal, ok := errors.AsType[*domain.Error](jsonError(err)); ok && refusal.Field != "" {
		return strings.NewReplacer("a array ", "an array ", "a object ", "an object ").Replace(refusal.Message)
	}
	return "this cannot stand here"
}

// readAlone reads a document with one field. The types alone decide then: nothing asks for the fields that are
// needed, and nothing can contradict.
func readAlone(path string, value any) error {
	group, member, nested := strings.Cut(path, ".")
	if nested {
		value = map[string]any{member: value}
	}
	document, err := json.Marshal(map[string]any{group: value})
	if err != nil {
		return err
	}
	return json.Unmarshal(document, new(ruleSet))
}

// read reads the tree as often as there is something to mend. Each turn takes one field out or makes it sound, so
// that it ends; it ends early at a fault that belongs to no field.
func (c *ruleCheck) read() {
	for {
		document, err := json.Marshal(c.tree)
		if err == nil {
			_, err = ParseRuleSet(document)
		}
		if err == nil {
			return
		}
		if path, consequence := c.consequence(err); consequence {
			if !c.drop(path) {
				return
			}
			continue
		}
		c.add("", err)
		if !c.mend(c.faults[len(c.faults)-1].Field) {
			return
		}
	}
}

// consequence reports whether two fields contradict each other only because one of them was wrong and was mended, and
// returns the other. The unit is that of the line.
func (c *ruleCheck) consequence(err error) (string, bool) {
	refusal, ok := errors.AsType[*domain.Error](err)
	if !ok || refusal.Also == "" {
		return "", false
	}
	mended := func(path string) bool { return c.mended[path] || path == "line" && c.mended["unit"] }
	switch {
	case mended(refusal.Also):
		return refusal.Field, true
	case mended(refusal.Field):
		return refusal.Also, true
	default:
		return "", false
	}
}

// drop takes a field out of the tree, with its group where that needs it; false where it is not there, or the set needs it.
func (c *ruleCheck) drop(path string) bool {
	if group, _, nested := strings.Cut(path, "."); nested && fieldAt(path).needed {
		path = group
	}
	if fieldAt(path).needed {
		return false
	}
	holder, name := c.holder(path)
	_, there := holder[name]
	delete(holder, name)
	return there
}

// membersOf lists the names that may stand in a group, in the order of docs/rules.md. The path ends in a full stop,
// or is empty for the whole set.
func membersOf(path string) []string {
	var names []string
	for _, field := range ruleFields {
		if name, ok := strings.CutPrefix(field.path, path); ok && !strings.Contains(name, ".") {
			names = append(names, name)
		}
	}
	return names
}

// copyOf reads a document that was found to be an object into a tree, with the digits of its figures.
func copyOf(document []byte) map[string]any {
	tree := make(map[string]any)
	decoder := json.NewDecoder(bytes.NewReader(document))
	decoder.UseNumber()
	if err := decoder.Decode(&tree); err != nil {
		return nil // cannot happen: it was read before
	}
	return tree
}

// syntaxFault says where a document stops being JSON, or that it is something else than an object. Comments get
// a word of their own, because a set can be shown with them.
func syntaxFault(document []byte, err error) RuleFault {
	fault := RuleFault{Line: 1, Column: 1, Message: "the file holds no rule set", Fix: "write the fields between braces, as docs/rules.md has it"}
	broken, ok := errors.AsType[*json.SyntaxError](err)
	if !ok || len(bytes.TrimSpace(document)) == 0 {
		return fault
	}
	// The offset counts what was read, the byte at fault included, unless the file ended too early.
	at := max(broken.Offset-1, 0)
	fault.Message, fault.Fix = fmt.Sprintf("this is not JSON: %v", broken), "look for a comma, a quote or a brace too many or too few"
	switch {
	case strings.Contains(broken.Error(), "unexpected end"):
		fault.Message, at = "the file ends in the middle of the rule set", int64(len(document))
	case document[at] == '/':
		fault.Message, fault.Fix = "a rule set file cannot have comments", "take them out; clayline rules show --plain writes a set without"
	case bytes.HasPrefix(document, []byte("\ufeff")):
		fault.Message, fault.Fix = "the file begins with a byte order mark", "save it as UTF-8 without one"
	}
	fault.Line, fault.Column = position(document, at)
	return fault
}

// position returns the line and the column, from 1, of a byte. Columns are characters, as editors count them, so
// that a title in another language does not move the place.
func position(document []byte, offset int64) (line, column int) {
	before := document[:min(offset, int64(len(document)))]
	start := bytes.LastIndexByte(before, '\n') + 1
	return bytes.Count(before, []byte("\n")) + 1, utf8.RuneCount(before[start:]) + 1
}

// keyOffsets returns where each field of a document begins, in bytes. Fields of groups stand behind the name of
// the group and a full stop; capital letters make no difference.
func keyOffsets(document []byte) map[string]int64 {
	k := keys{document: document, decoder: json.NewDecoder(bytes.NewReader(document)), at: make(map[string]int64)}
	k.value("")
	return k.at
}

// keys walks a document for [keyOffsets].
type keys struct {
	document []byte
	decoder  *json.Decoder
	at       map[string]int64
}

// value walks one value. The path stands before the names in it. What lists hold is walked too, because an object in
// a list has names; they get a path that no field has.
func (k keys) value(path string) {
	token, _ := k.decoder.Token() // the document was read before
	if token != json.Delim('{') && token != json.Delim('[') {
		return
	}
	for k.decoder.More() {
		inner := path
		if token == json.Delim('{') {
			begins := k.next()
			name, _ := k.decoder.Token() // a key, because it stands in an object
			inner = path + strings.ToLower(fmt.Sprint(name))
			k.at[inner] = begins
		}
		k.value(inner + ".")
	}
	_, _ = k.decoder.Token() // the bracket that More has seen
}

// next returns where the next token begins: behind the last one, the spaces and the comma.
func (k keys) next() int64 {
	offset := k.decoder.InputOffset()
	rest := k.document[offset:]
	return offset + int64(len(rest)-len(bytes.TrimLeft(rest, " \t\r\n,")))
}
