package templates

import (
	"strings"

	"github.com/a-h/templ"

	"clayline/webui/static"
)

// programName stands where there is no event.
const programName = "Clayline"

// follows are the attributes of a page that changes while it is looked at, and of one whose scripts speak another language.
func (f Frame) follows() templ.Attributes {
	list := templ.Attributes{}
	if f.Words != "" {
		list["data-words"] = f.Words
	}
	if f.Stream == "" {
		return list
	}
	list["data-stream"] = f.Stream
	if f.Parts != "" {
		list["data-parts"] = f.Parts
	}
	if len(f.Copy) > 0 {
		list["data-module"], list["data-glue"] = static.Href("booth.wasm.gz"), static.Href("wasm_exec.js")
	}
	return list
}

// data is the element with what the page tells search engines. It is a data block and no script: a browser runs nothing of
// it, and no policy need allow it.
func (f Frame) data() string { return `<script type="application/ld+json">` + f.Data + `</script>` }

// name is what the top line calls the page's event.
func (f Frame) name() string {
	if f.Event == "" {
		return programName
	}
	return f.Event
}

// home is where the mark leads.
func (f Frame) home() string {
	if f.EventHref == "" {
		return "/"
	}
	return f.EventHref
}

// title is the document's title.
func (f Frame) title(page string) string {
	if page == "" || page == f.name() {
		return f.name()
	}
	return page + " · " + f.name()
}

// class is the style of the outcome.
func (o Outcome) class() string {
	switch o.Kind {
	case FullPull:
		return "full"
	case Disqualified:
		return "dq"
	case Absent:
		return "absent"
	case Waiting:
		return "waiting"
	default:
		return "measured"
	}
}

// comma is the puller's name and vehicle in words.
func (p Puller) comma() string { return join(", ", p.Name, p.Vehicle) }

// join puts the parts that say something together; empty ones leave no trace.
func join(between string, parts ...string) string {
	var said []string
	for _, p := range parts {
		if p != "" {
			said = append(said, p)
		}
	}
	return strings.Join(said, between)
}

// lowerFirst is s as it stands inside a sentence. It is for titles of the program's own, which begin with a
// plain letter.
func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
