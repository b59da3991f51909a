package doc

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
)

// schema is the part of JSON Schema that a rule set needs. Default and Const are left out when they are nil, so
// that false and 0 can be said.
type schema struct {
	Dialect          string             `json:"$schema,omitempty"`
	Title            string             `json:"title,omitempty"`
	Description      string             `json:"description,omitempty"`
	Type             string             `json:"type,omitempty"`
	Const            any                `json:"const,omitempty"`
	Default          any                `json:"default,omitempty"`
	Enum             []string           `json:"enum,omitempty"`
	Pattern          string             `json:"pattern,omitempty"`
	MinLength        int                `json:"minLength,omitempty"`
	Minimum          *int               `json:"minimum,omitempty"`
	Maximum          *int               `json:"maximum,omitempty"`
	ExclusiveMinimum *int               `json:"exclusiveMinimum,omitempty"`
	Items            *schema            `json:"items,omitempty"`
	MinItems         int                `json:"minItems,omitempty"`
	MaxItems         int                `json:"maxItems,omitempty"`
	Closed           *bool              `json:"additionalProperties,omitempty"`
	Required         []string           `json:"required,omitempty"`
	Properties       map[string]*schema `json:"properties,omitempty"`
	If               *schema            `json:"if,omitempty"`
	Then             *schema            `json:"then,omitempty"`
	Not              *schema            `json:"not,omitempty"`
}

// words returns the shape of a field whose values are the keys of a table.
func words[T any](table map[string]T) schema { return schema{Enum: slices.Sorted(maps.Keys(table))} }

// RuleSetSchema returns the JSON Schema (draft 2020-12) of a rule set file; domain/doc/schema/rules.json is a copy for
// editors, and a test holds that it is not stale. What the schema accepts is read, unless it has more decimals than a
// tape, a share of more than the whole, or two fields that contradict each other; what it refuses for its spelling alone, such as a figure between quotes, may
// be read all the same.
//
// It is derived from the types that read a rule set and from what is told of each field. A general generator knows
// neither the words nor the defaults, and would have to be told both in tags beside the words' tables.
func RuleSetSchema() ([]byte, error) {
	s := groupSchema(reflect.TypeFor[ruleSet](), "")
	s.Dialect = "https://json-schema.org/draft/2020-12/schema"
	s.Title = "A rule set: a rule book of truck and tractor pulling as data"
	s.Description = "The fields are explained in docs/rules.md, with the published sources of their values."
	// A floating set has no pull-off.
	s.If = &schema{Required: []string{"cap"}, Properties: map[string]*schema{"cap": {Const: false}}}
	s.Then = &schema{Not: &schema{Required: []string{"pull_off"}}}
	document, err := indented(s)
	if err != nil {
		return nil, fmt.Errorf("writing the schema of rule sets: %w", err)
	}
	return document, nil
}

// indented writes a schema as people read it.
func indented(s *schema) ([]byte, error) {
	var out bytes.Buffer
	err := writeJSON(&out, s)
	return out.Bytes(), err
}

// groupSchema describes a type of the document and everything in it. A field that is not known is refused, as
// [ReadRuleSet] does.
func groupSchema(group reflect.Type, path string) *schema {
	s := &schema{Type: "object", Closed: new(false), Properties: make(map[string]*schema)}
	for i := range group.NumField() {
		name, _ := jsonName(group.Field(i))
		field := fieldAt(path + name)
		s.Properties[name] = field.schema(group.Field(i).Type)
		if field.needed {
			s.Required = append(s.Required, name)
		}
	}
	return s
}

// schema describes a field of the given type.
func (f ruleField) schema(of reflect.Type) *schema {
	if of.Kind() == reflect.Pointer {
		of = of.Elem()
	}
	s := new(f.shape)
	if of.Kind() == reflect.Struct {
		s = groupSchema(of, f.path+".")
	} else {
		s.Type = schemaType(of)
	}
	s.Description, s.Default = f.says, f.byDefault
	return s
}

// schemaType returns the word of JSON Schema for a type that is no group. Figures are numbers, though their
// type is text that keeps the digits.
func schemaType(of reflect.Type) string {
	switch {
	case of == reflect.TypeFor[json.Number]():
		return "number"
	case of.Kind() == reflect.Bool:
		return "boolean"
	case of.Kind() == reflect.Int:
		return "integer"
	case of.Kind() == reflect.Slice:
		return "array"
	default:
		return "string"
	}
}
