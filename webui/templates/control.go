package templates

import "github.com/a-h/templ"

// control is one field of a form as it is drawn. The prefix keeps ids apart
// where several forms of a page send a field of the same name.
type control struct {
	form     Form
	prefix   string
	name     string
	label    string
	hint     string
	unit     string
	size     string // "short", "long" or empty
	mode     string // inputmode: "decimal", "numeric"
	list     string // id of a datalist
	required bool
}

// id is the id of the field.
func (c control) id() string { return c.prefix + "-" + c.name }

// checked tells whether the i-th answer is the one given; the first stands until another is given, since a
// browser shows radio buttons with none chosen as a question that can be skipped.
func (c control) checked(i int, o Option) bool {
	if given, ok := c.form.Values[c.name]; ok {
		return given == o.Value
	}
	return i == 0
}

// attributes are those that only some fields have; an empty one is left out, because a browser takes some of
// them by their presence.
func (c control) attributes() templ.Attributes {
	a := templ.Attributes{}
	for name, value := range map[string]string{
		"inputmode":        c.mode,
		"list":             c.list,
		"aria-describedby": c.describedBy(),
	} {
		if value != "" {
			a[name] = value
		}
	}
	if c.required {
		a["required"] = true
	}
	if c.form.Error(c.name) != "" {
		a["aria-invalid"] = "true"
	}
	return a
}

// describedBy names the hint and the error of the field, which a screen reader reads with it; "" when it has
// neither.
func (c control) describedBy() string {
	var by string
	if c.hint != "" {
		by = c.id() + "-hint"
	}
	if c.form.Error(c.name) == "" {
		return by
	}
	if by != "" {
		by += " "
	}
	return by + c.id() + "-wrong"
}
