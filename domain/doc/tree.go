package doc

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	"clayline/domain"
)

// node is a value of a JSON document with the path by which people find it: "setup.gear", "results[2].id". The value is
// a json.Number, string, bool, nil, []node or members.
type node struct {
	path  string
	value any
}

// members are what an object holds, by name.
type members map[string]node

// manuals are the pages that explain each kind of document.
var manuals = map[string]string{"job": "docs/sled.md", "description": "docs/sled.md", "programme": "docs/programme.md"}

// maxDepth is how deep lists and objects may stand in each other. No document of ours goes deeper than half of it.
const maxDepth = 10

// readTree reads a JSON document into a tree and refuses what package json lets pass: a name that stands twice in an
// object, and anything behind the document. Names are taken as they are written. What is wrong is said with the path it
// stands at; the kind of document is named where there is none.
func readTree(document []byte, kind string) (node, error) {
	if len(bytes.TrimSpace(document)) == 0 {
		return node{}, treeError("", "the "+kind+" is empty", "write it as "+manuals[kind]+" has it")
	}
	t := treeReader{kind: kind, decoder: json.NewDecoder(bytes.NewReader(document))}
	t.decoder.UseNumber()
	root, err := t.value("", 0)
	if err != nil {
		return node{}, err
	}
	if _, err := t.decoder.Token(); !errors.Is(err, io.EOF) {
		return node{}, treeError("", fmt.Sprintf("something stands behind the %s", kind), "keep one document in the file")
	}
	return root, nil
}

// readRoot reads a document of so many bytes at most, whose outermost value is an object. One that is larger is refused
// with what to do about it. A byte order mark, which editors put in front of UTF-8, is passed over.
func readRoot(r io.Reader, most int64, kind, tooLarge string) (members, error) {
	document, err := io.ReadAll(io.LimitReader(r, most+1))
	if err != nil {
		return nil, fmt.Errorf("read the %s: %w", kind, err)
	}
	if int64(len(document)) > most {
		return nil, treeError("", fmt.Sprintf("the %s is larger than %d MiB", kind, most>>20), tooLarge)
	}
	root, err := readTree(bytes.TrimPrefix(document, []byte("\ufeff")), kind)
	if err != nil {
		return nil, err
	}
	found, ok := root.value.(members)
	if !ok {
		return nil, treeError("", fmt.Sprintf("the %s is not an object", kind), "write its fields between braces")
	}
	return found, nil
}

// treeReader walks a document for [readTree].
type treeReader struct {
	kind    string
	decoder *json.Decoder
}

// value reads one value, whose path is known.
func (t treeReader) value(path string, depth int) (node, error) {
	token, err := t.decoder.Token()
	switch {
	case err != nil:
		return node{}, t.broken(path, err)
	case depth > maxDepth:
		return node{}, treeError(path, path+" is nested too deep", "write it as "+manuals[t.kind]+" has it")
	case token == json.Delim('{'):
		return t.object(path, depth)
	case token == json.Delim('['):
		return t.list(path, depth)
	default:
		return node{path, token}, nil
	}
}

// object reads what stands between braces.
func (t treeReader) object(path string, depth int) (node, error) {
	found := members{}
	for t.decoder.More() {
		token, err := t.decoder.Token()
		name, _ := token.(string)
		if err != nil {
			return node{}, t.broken(path, err)
		}
		inner := strings.TrimPrefix(path+"."+name, ".")
		if _, twice := found[name]; twice {
			return node{}, treeError(inner, inner+" stands twice", "keep one of them")
		}
		if found[name], err = t.value(inner, depth+1); err != nil {
			return node{}, err
		}
	}
	_, err := t.decoder.Token()
	if err != nil {
		return node{}, t.broken(path, err)
	}
	return node{path, found}, nil
}

// list reads what stands between brackets.
func (t treeReader) list(path string, depth int) (node, error) {
	found := []node{}
	for t.decoder.More() {
		n, err := t.value(fmt.Sprintf("%s[%d]", path, len(found)), depth+1)
		if err != nil {
			return node{}, err
		}
		found = append(found, n)
	}
	_, err := t.decoder.Token()
	if err != nil {
		return node{}, t.broken(path, err)
	}
	return node{path, found}, nil
}

// broken says where a document stops being JSON. NaN and Infinity, which some programs write, end here too.
func (t treeReader) broken(path string, err error) error {
	where := "the " + t.kind
	if path != "" {
		where = path
	}
	why := err.Error()
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		why = "the document ends too early"
	}
	return treeError(path, fmt.Sprintf("%s is not JSON: %s", where, why), "look for a comma, a quote or a brace too many or too few, and for a value that is no number")
}

// treeError refuses a place of a document. The message names it too, so that it can stand alone.
func treeError(path, message, fix string) error {
	return &domain.Error{Kind: domain.Invalid, Field: path, Message: message, Fix: fix}
}

// fields reads the members of objects into values. It keeps the first thing that is wrong and reads on with zeros, so
// that its callers can be a list of fields; whoever began asks for the error at the end.
type fields struct {
	path    string
	members members
	err     *error // shared by all groups of a document
}

// span is what a number may be, and how that is said.
type span struct {
	least, most float64
}

// Spans of the numbers in documents. The outer limits are there so that nothing overflows; no sled comes near them.
var (
	positive = span{least: 1e-6, most: 1e9}
	amount   = span{least: 0, most: 1e9}
	anywhere = span{least: -1e9, most: 1e9}
	fraction = span{least: 0, most: 1}
)

// String names the span in a sentence: "a number from 0 to 1".
func (s span) String() string {
	switch s {
	case positive:
		return "a number above 0"
	case amount:
		return "a number from 0 up"
	case anywhere:
		return "a number"
	default:
		return fmt.Sprintf("a number from %v to %v", s.least, s.most)
	}
}

// refuse keeps what is wrong with a member, unless something was wrong before.
func (f fields) refuse(name, message, fix string) {
	if *f.err == nil {
		path := f.at(name)
		*f.err = treeError(path, path+" "+message, fix)
	}
}

// at returns the path of a member.
func (f fields) at(name string) string { return strings.TrimPrefix(f.path+"."+name, ".") }

// has tells whether a member is there. One that is null is not: that is how some programs write what they leave out.
func (f fields) has(name string) bool { return f.members[name].value != nil }

// only refuses members that are not known. A field that is misspelled must not be ignored: something would be computed
// with a default that nobody chose.
func (f fields) only(known ...string) {
	for _, name := range slices.Sorted(maps.Keys(f.members)) {
		if !slices.Contains(known, name) {
			f.refuse(name, "is not known here", "write one of "+strings.Join(known, ", "))
		}
	}
}

// number reads a number that must be there.
func (f fields) number(name string, s span) float64 {
	if !f.has(name) {
		f.refuse(name, "is missing", "write "+s.String())
		return 0
	}
	return f.figure(name, s)
}

// numberOr reads a number that may be left out.
func (f fields) numberOr(name string, s span, byDefault float64) float64 {
	if !f.has(name) {
		return byDefault
	}
	return f.figure(name, s)
}

// figure reads a number that is there.
func (f fields) figure(name string, s span) float64 {
	written, ok := f.members[name].value.(json.Number)
	if !ok {
		f.refuse(name, "is not a number", "write "+s.String()+", without quotes")
		return 0
	}
	x, err := strconv.ParseFloat(written.String(), 64)
	if err != nil || x < s.least || x > s.most {
		f.refuse(name, fmt.Sprintf("cannot be %.30s", written), "write "+s.String())
		return 0
	}
	return x
}

// whole reads a whole number that may be left out, and is 0 then.
func (f fields) whole(name string, s span) int {
	x := f.numberOr(name, s, 0)
	if x != float64(int(x)) {
		f.refuse(name, fmt.Sprintf("cannot be %v", x), "write a whole number")
	}
	return int(x)
}

// text reads a word or a name of up to 100 bytes that may be left out.
func (f fields) text(name, byDefault string) string {
	if !f.has(name) {
		return byDefault
	}
	s, ok := f.members[name].value.(string)
	if !ok {
		f.refuse(name, "is not a text", "write it in quotes")
	}
	if len(s) > 100 {
		f.refuse(name, "is too long", "write 100 letters at most")
	}
	return s
}

// flag reads true or false that may be left out.
func (f fields) flag(name string, byDefault bool) bool {
	if !f.has(name) {
		return byDefault
	}
	b, ok := f.members[name].value.(bool)
	if !ok {
		f.refuse(name, "is neither true nor false", "write true or false, without quotes")
	}
	return b
}

// group reads an object that must be there.
func (f fields) group(name string) fields {
	if !f.has(name) {
		f.refuse(name, "is missing", "write it as docs/sled.md has it")
	}
	return f.object(f.members[name])
}

// object reads a value as an object.
func (f fields) object(n node) fields {
	found, ok := n.value.(members)
	if n.value != nil && !ok && *f.err == nil {
		*f.err = treeError(n.path, n.path+" is not an object", "write its fields between braces")
	}
	return fields{path: n.path, members: found, err: f.err}
}

// list reads a list of up to that many values; nothing when it is left out.
func (f fields) list(name string, most int) []node {
	if !f.has(name) {
		return nil
	}
	found, ok := f.members[name].value.([]node)
	if !ok {
		f.refuse(name, "is not a list", "write its values between brackets")
	}
	if len(found) > most {
		f.refuse(name, fmt.Sprintf("has %d values", len(found)), fmt.Sprintf("write %d at most", most))
		return nil
	}
	return found
}

// numbers reads a list of numbers.
func (f fields) numbers(name string, most int, s span) []float64 {
	var list []float64
	for i, n := range f.list(name, most) {
		item := fields{path: f.path, members: members{f.itemName(name, i): n}, err: f.err}
		list = append(list, item.number(f.itemName(name, i), s))
	}
	return list
}

// itemName is the name of a value in a list.
func (fields) itemName(name string, i int) string { return fmt.Sprintf("%s[%d]", name, i) }
