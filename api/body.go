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

// Bounds of a body: its bytes, and how deep objects and lists may lie in each other.
const (
	maxBody  = 64 << 10
	maxDepth = 8
)

// jsonType is the media type of bodies and answers.
const jsonType = "application/json"

// readBody reads the JSON object of a request. A request without a body has the empty object. Names that stand twice,
// bytes that are no text and anything after the object are refused: what two readers could read differently is not read.
func readBody(c echo.Context) (map[string]any, error) {
	raw, err := io.ReadAll(http.MaxBytesReader(c.Response().Writer, c.Request().Body, maxBody))
	if _, tooLong := errors.AsType[*http.MaxBytesError](err); tooLong {
		return nil, tooLarge()
	}
	if err != nil {
		return nil, malformed("the body did not arrive: "+err.Error(), "")
	}
	if len(raw) == 0 {
		return map[string]any{}, nil
	}
	if kind, _, err := mime.ParseMediaType(c.Request().Header.Get("Content-Type")); err != nil || kind != jsonType {
		return nil, wrongMedia()
	}
	if !utf8.Valid(raw) {
		return nil, malformed("the body is not UTF-8", "")
	}
	return parseBody(raw)
}

// parseBody parses one JSON object and nothing else.
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

// parseValue parses a value into nil, bool, json.Number, string, []any or map[string]any; path is where it stands.
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

func closing(err error, path string) error {
	if err != nil {
		return malformed("the body is not JSON: "+jsonFault(err), path)
	}
	return nil
}

// jsonFault says where JSON cannot be read.
func jsonFault(err error) string {
	if syntax, ok := errors.AsType[*json.SyntaxError](err); ok {
		return fmt.Sprintf("%v, at byte %d", syntax, syntax.Offset)
	}
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return "it ends too early"
	}
	return err.Error()
}

// join writes the place of a field: "trip", "trip.figures", "tracks[1].name".
func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// nameOf names what stands somewhere.
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

// invalid refuses a field.
func invalid(field, message, fix string) error {
	return &domain.Error{Kind: domain.Invalid, Field: field, Message: message, Fix: fix}
}
