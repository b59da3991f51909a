package api

import (
	"bytes"
	"encoding/json"
	"fmt"
	"path"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"
)

// description is what the reference needs of an OpenAPI document. Maps are read as nodes where their order matters.
// Only what the page shows is read: the document is held against its own standard by a test, and not here.
type description struct {
	Info struct {
		Title, Summary, Version, Description string
	}
	Tags []struct {
		Name, Description string
	}
	Paths      yaml.Node
	Components struct {
		Parameters map[string]parameter
		Responses  map[string]response
		Schemas    yaml.Node
	}
}

// operation is one thing that can be asked. Pass is whether it needs one; Answers are what it is made for, Refusals the
// problems that many operations share.
type operation struct {
	ID, Method, Path, Summary, Description string
	Pass                                   bool
	Parameters                             []parameter
	Body                                   *content
	Answers, Refusals                      []response
}

// parameter is something in the address, the query or a header. An operation has a reference, and the components have
// the parameter itself.
type parameter struct {
	Ref                   string `yaml:"$ref"`
	Name, In, Description string
	Required              bool
}

// response is an answer; content is read from the first of its media types. Shape names its schema; Example is one as
// it goes over the wire.
type response struct {
	Ref         string `yaml:"$ref"`
	Status      string `yaml:"-"`
	Description string
	Content     map[string]media
	Shape       string `yaml:"-"`
	Example     string `yaml:"-"`
}

// media is a media type of a body: the schema by reference, and an example.
type media struct {
	Schema struct {
		Ref string `yaml:"$ref"`
	}
	Example yaml.Node
}

// content is a body: the name of its shape, and an example.
type content struct {
	Shape, Example string
}

// shape is a schema with a name.
type shape struct {
	Name, Description string
	Fields            []field
}

// field is a field of a shape as a line of the reference: "trip.figures", its type in words, and the shape that the
// type leads to, "" for none.
type field struct {
	Name, Type, Shape, Description string
	Required                       bool
}

// schema is what the reference says of a schema.
type schema struct {
	Ref         string `yaml:"$ref"`
	Type        typeWords
	Description string
	Format      string
	Enum        []string
	Required    []string
	Properties  yaml.Node
	Items       *schema
	AllOf       []schema `yaml:"allOf"`
	OneOf       []schema `yaml:"oneOf"`
}

// typeWords is the type of a schema in words: JSON Schema has one, or a list of those that a value may have.
//
//	integer               "integer"
//	[integer, 'null']     "integer or null"
type typeWords string

// UnmarshalYAML reads one type or a list.
func (w *typeWords) UnmarshalYAML(n *yaml.Node) error {
	var list []string
	if n.Kind == yaml.ScalarNode {
		list = []string{n.Value}
	} else if err := n.Decode(&list); err != nil {
		return err
	}
	*w = typeWords(strings.Join(list, " or "))
	return nil
}

// readDescription reads the description that is built into the program. It fails only when that is no YAML, which a
// test would have found.
func readDescription() (d description, err error) {
	err = yaml.Unmarshal(OpenAPI, &d)
	return d, err
}

// pairs calls each with the names and values of a map, in the order of the document, and ends at the first error.
// YAML's own decoding into a map of Go would lose the order, and the reference is to be read in the order that was
// written.
func pairs(n *yaml.Node, each func(name string, value *yaml.Node) error) error {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if err := each(n.Content[i].Value, n.Content[i+1]); err != nil {
			return err
		}
	}
	return nil
}

// operations lists the operations with a tag, in the order of the document. References are followed by the last part of
// their path, "#/components/parameters/Event" to Event, which is enough for a document that refers to itself alone.
func (d *description) operations(tag string) (list []operation, err error) {
	err = pairs(&d.Paths, func(address string, item *yaml.Node) error {
		return pairs(item, func(method string, node *yaml.Node) error {
			var raw struct {
				OperationID string `yaml:"operationId"`
				Tags        []string
				Summary     string
				Description string
				Security    []map[string][]string
				Parameters  []parameter
				RequestBody struct{ Content map[string]media } `yaml:"requestBody"`
				Responses   yaml.Node
			}
			if err := node.Decode(&raw); err != nil || !slices.Contains(raw.Tags, tag) {
				return err
			}
			o := operation{
				ID: raw.OperationID, Method: strings.ToUpper(method), Path: address, Summary: raw.Summary, Description: raw.Description, Pass: len(raw.Security) > 0,
			}
			for _, p := range raw.Parameters {
				if p.Ref != "" {
					p = d.Components.Parameters[path.Base(p.Ref)]
				}
				o.Parameters = append(o.Parameters, p)
			}
			for _, m := range raw.RequestBody.Content {
				if m.Schema.Ref == "" {
					continue // a picture has no shape; the words say what it is
				}
				example, err := m.show()
				if err != nil {
					return err
				}
				o.Body = &content{Shape: path.Base(m.Schema.Ref), Example: example}
			}
			err := d.answers(&o, &raw.Responses)
			list = append(list, o)
			return err
		})
	})
	return list, err
}

// answers sorts the answers of an operation into those that it is made for and the others. What is written out at the
// operation is what it is made for; what is a reference is one of the problems that any operation may answer with.
func (d *description) answers(o *operation, responses *yaml.Node) error {
	return pairs(responses, func(status string, node *yaml.Node) error {
		var r response
		if err := node.Decode(&r); err != nil {
			return err
		}
		if r.Ref != "" {
			r = d.Components.Responses[path.Base(r.Ref)]
			r.Status = status
			o.Refusals = append(o.Refusals, r)
			return nil
		}
		r.Status = status
		for _, m := range r.Content {
			var err error
			if r.Example, err = m.show(); err != nil {
				return err
			}
			if m.Schema.Ref != "" {
				r.Shape = path.Base(m.Schema.Ref)
			}
		}
		o.Answers = append(o.Answers, r)
		return nil
	})
}

// show writes an example as it goes over the wire, indented. An example that is a text, such as a stream, is shown as
// it is.
func (m media) show() (string, error) {
	if m.Example.Kind == yaml.ScalarNode {
		return m.Example.Value, nil
	}
	var out bytes.Buffer
	if err := writeJSON(&out, &m.Example, ""); err != nil {
		return "", err
	}
	return out.String(), nil
}

// writeJSON writes a node as JSON in the order of the document, which a map of Go would lose. What fits stands in a line.
func writeJSON(out *bytes.Buffer, n *yaml.Node, indent string) error {
	const width = 90
	var value any
	if err := n.Decode(&value); err != nil {
		return err
	}
	line, err := json.Marshal(value)
	if err != nil {
		return err
	}
	deeper := indent + "  "
	switch {
	case n.Kind == yaml.MappingNode && (len(line) > width || indent == ""):
		out.WriteString("{\n")
		for i := 0; i+1 < len(n.Content); i += 2 {
			out.WriteString(deeper + `"` + n.Content[i].Value + `": `)
			if err := writeJSON(out, n.Content[i+1], deeper); err != nil {
				return err
			}
			out.WriteString(map[bool]string{true: ",\n", false: "\n"}[i+2 < len(n.Content)])
		}
		out.WriteString(indent + "}")
	case n.Kind == yaml.SequenceNode && len(line) > width:
		out.WriteString("[\n")
		for i, item := range n.Content {
			out.WriteString(deeper)
			if err := writeJSON(out, item, deeper); err != nil {
				return err
			}
			out.WriteString(map[bool]string{true: ",\n", false: "\n"}[i+1 < len(n.Content)])
		}
		out.WriteString(indent + "]")
	default:
		out.Write(line)
	}
	return nil
}

// shapes lists the schemas in the order of the document.
func (d *description) shapes() (list []shape, err error) {
	err = pairs(&d.Components.Schemas, func(name string, node *yaml.Node) error {
		var s schema
		if err := node.Decode(&s); err != nil {
			return fmt.Errorf("schema %s: %w", name, err)
		}
		fields, err := s.fields("")
		list = append(list, shape{Name: name, Description: s.Description, Fields: fields})
		return err
	})
	return list, err
}

// fields lists the fields of a schema, those of objects without a name of their own behind them. A card with its slabs
// gives card, card.slabs, card.slabs.left.
func (s schema) fields(prefix string) (list []field, err error) {
	err = pairs(&s.Properties, func(name string, node *yaml.Node) error {
		var p schema
		if err := node.Decode(&p); err != nil {
			return fmt.Errorf("field %s: %w", prefix+name, err)
		}
		f := field{Name: prefix + name, Description: p.Description, Required: slices.Contains(s.Required, name)}
		f.Type, f.Shape = p.kind()
		inner, err := p.fields(f.Name + ".")
		list = append(append(list, f), inner...)
		return err
	})
	return list, err
}

// kind names a type: its words, and the shape that it is or that its items have, "" for none. The page makes a link of
// the shape.
//
//	{type: array, items: {$ref: "#/components/schemas/Entry"}}     "list of ", "Entry"
//	{enum: [keep, drop]}                                           "keep, drop", ""
//	{type: string, format: uuid}                                   "uuid", ""
func (s schema) kind() (words, name string) {
	switch {
	case s.Ref != "":
		return "", path.Base(s.Ref)
	case len(s.AllOf) == 1:
		return s.AllOf[0].kind()
	case len(s.OneOf) == 2:
		first, _ := s.OneOf[0].kind()
		_, second := s.OneOf[1].kind()
		return first + " or ", second
	case s.Items != nil:
		words, name = s.Items.kind()
		return strings.TrimSpace("list of "+words) + " ", name
	case len(s.Enum) > 0:
		return strings.Join(s.Enum, ", "), ""
	case s.Format != "":
		return s.Format, ""
	default:
		return string(s.Type), ""
	}
}
