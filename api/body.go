package api

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"unicode/utf8"

	"github.com/labstack/echo/v4"

	"clayline/domain"
)

// Bounds of a body: its bytes, and how deep objects and lists may lie in each other. The longest bodies are a club's
// own rule set and the plan of an event, of a few KiB. The depth keeps a body of nothing but brackets from deepening
// the stack.
const (
	maxBody  = 64 << 10
	maxDepth = 8
)

// jsonType is the media type of bodies and answers. RFC 8259 gives it no charset: JSON between programs is always
// UTF-8.
const jsonType = "application/json"

// readBody reads the JSON object of a request. A request without a body has the empty object, and need not name a type.
// Refused are a body that is too large (413), one that is not said to be JSON (415), and what is not one JSON object in
// UTF-8 (400).
//
// Names that stand twice, bytes that are no text and anything after the object are refused too: RFC 8259, section 4,
// leaves open what a reader makes of a name that stands twice, and what two readers could read differently is not read.
//
//	{"gear": 2, "gear": 3}     "the name gear stands twice", at gear
func readBody(c echo.Context) (map[string]any, error) {
	raw, err := readRaw(c, maxBody)
	if err != nil || len(raw) == 0 {
		return map[string]any{}, err
	}
	return parseBody(raw)
}

// readRaw reads the bytes of a body of at most that many, and refuses what is not said to be JSON, or is no UTF-8. A
// request without a body need not say so.
func readRaw(c echo.Context, most int64) ([]byte, error) {
	raw, err := readBytes(c, most)
	if err != nil || len(raw) == 0 {
		return nil, err
	}
	if kind, _, err := mime.ParseMediaType(c.Request().Header.Get("Content-Type")); err != nil || kind != jsonType {
		return nil, wrongMedia()
	}
	if !utf8.Valid(raw) {
		return nil, malformed("the body is not UTF-8", "")
	}
	return raw, nil
}

// readBytes reads the bytes of a body of at most that many, whatever they are.
func readBytes(c echo.Context, most int64) ([]byte, error) {
	raw, err := io.ReadAll(http.MaxBytesReader(c.Response().Writer, c.Request().Body, most))
	if _, tooLong := errors.AsType[*http.MaxBytesError](err); tooLong {
		return nil, tooLarge(most)
	}
	if err != nil {
		return nil, malformed("the body did not arrive: "+err.Error(), "")
	}
	return raw, nil
}

// parseBody parses one JSON object and nothing else. Numbers stay the digits they were written with, since a float
// would change some of them.
func parseBody(raw []byte) (map[string]any, error) {
	decoder := json.NewDecoder(bytes.NewReader(raw))
	decoder.UseNumber()
	value, err := parseValue(decoder, "", 0)
	if err != nil {
		return nil, err
	}
	if _, err := decoder.Token(); !errors.Is(err, io.EOF) {
		return nil, malformed("something follows the JSON object", "")
	}
	fields, ok := value.(map[string]any)
	if !ok {
		return nil, malformed("the body is "+nameOf(value)+" and not a JSON object", "")
	}
	return fields, nil
}

// parseValue parses a value into nil, bool, json.Number, string, []any or map[string]any; path is where it stands. It
// reads token by token, because decoding into a map keeps the last of two equal names and forgets the first.
func parseValue(decoder *json.Decoder, path string, depth int) (any, error) {
	token, err := decoder.Token()
	if err != nil {
		return nil, malformed("the body is not JSON: "+jsonFault(err), path)
	}
	delimiter, nested := token.(json.Delim)
	switch {
	case !nested:
		return token, nil
	case depth == maxDepth:
		return nil, malformed(fmt.Sprintf("more than %d objects and lists lie in each other", maxDepth), path)
	case delimiter == '[':
		return parseList(decoder, path, depth)
	default:
		return parseObject(decoder, path, depth)
	}
}

// parseList parses the items of a list up to its closing bracket, which it reads too. The bracket that opens it has
// been read. Items stand at tracks[0], tracks[1] and so on.
func parseList(decoder *json.Decoder, path string, depth int) (any, error) {
	list := []any{}
	for decoder.More() {
		value, err := parseValue(decoder, fmt.Sprintf("%s[%d]", path, len(list)), depth+1)
		if err != nil {
			return nil, err
		}
		list = append(list, value)
	}
	_, err := decoder.Token()
	return list, closing(err, path)
}

// parseObject parses the fields of an object up to its closing brace, which it reads too. The brace that opens it has
// been read. A name that stands twice is refused at the place of its second.
func parseObject(decoder *json.Decoder, path string, depth int) (any, error) {
	fields := map[string]any{}
	for decoder.More() {
		token, err := decoder.Token()
		if err != nil {
			return nil, malformed("the body is not JSON: "+jsonFault(err), path)
		}
		name, _ := token.(string) // a name of an object is always a string
		at := join(path, name)
		if _, twice := fields[name]; twice {
			return nil, malformed("the name "+name+" stands twice", at)
		}
		if fields[name], err = parseValue(decoder, at, depth+1); err != nil {
			return nil, err
		}
	}
	_, err := decoder.Token()
	return fields, closing(err, path)
}

// closing is the refusal of a list or an object at path that does not end, nil when it ends.
func closing(err error, path string) error {
	if err != nil {
		return malformed("the body is not JSON: "+jsonFault(err), path)
	}
	return nil
}

// jsonFault says in words why JSON cannot be read, with the byte where the reader knows it. An end that comes too early
// has two errors, depending on whether it came inside a value.
func jsonFault(err error) string {
	if syntax, ok := errors.AsType[*json.SyntaxError](err); ok {
		return fmt.Sprintf("%v, at byte %d", syntax, syntax.Offset)
	}
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return "it ends too early"
	}
	return err.Error()
}

// join writes the place of a field: "trip", "trip.figures", "tracks[1].name". An empty path is the top of the body.
func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// nameOf names the sort of a parsed value as refusals do: "a number cannot stand here".
func nameOf(value any) string {
	switch value.(type) {
	case nil:
		return "null"
	case bool:
		return "true or false"
	case json.Number:
		return "a number"
	case string:
		return "a text"
	case []any:
		return "a list"
	default:
		return "an object"
	}
}

// invalid refuses a field as the domain would: what is wrong with it, and what to do now.
func invalid(field, message, fix string) error {
	return &domain.Error{Kind: domain.Invalid, Field: field, Message: message, Fix: fix}
}
